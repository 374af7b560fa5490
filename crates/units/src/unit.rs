//! The units people write, as a table, and how one is recognised in running text.

use crate::factor;
use crate::kind::Kind;

/// How a number in a unit becomes a number in the stored unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Scale {
    /// Multiply.
    By(f64),
    /// Multiply, then add: the thermometer scales.
    Shifted { by: f64, plus: f64 },
    /// American wire gauge: fewer is thicker.
    Gauge,
}

/// One unit of one kind.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Unit {
    pub(crate) kind: Kind,
    /// As it is printed.
    pub(crate) symbol: &'static str,
    /// As it may be written, folded: lower case, no blanks, dots or carets, plain digits and quotes.
    pub(crate) names: &'static [&'static str],
    pub(crate) scale: Scale,
    /// Whether it may stand before the number, as in `R-8`.
    pub(crate) leads: bool,
    /// The smaller unit that may follow in the same quantity, and how many of it make one of these.
    pub(crate) then: Option<(&'static str, f64)>,
}

const fn unit(
    kind: Kind,
    symbol: &'static str,
    names: &'static [&'static str],
    factor: f64,
) -> Unit {
    Unit { kind, symbol, names, scale: Scale::By(factor), leads: false, then: None }
}

const fn followed(unit: Unit, by: &'static str, count: f64) -> Unit {
    Unit { then: Some((by, count)), ..unit }
}

const fn leading(unit: Unit) -> Unit {
    Unit { leads: true, ..unit }
}

const fn scaled(unit: Unit, scale: Scale) -> Unit {
    Unit { scale, ..unit }
}

/// Every unit that is read. Within a kind the longest name that fits wins.
pub(crate) static UNITS: &[Unit] = &[
    unit(Kind::Length, "in", &["in", "inch", "inches", "ins", "\"", "''"], factor::INCH),
    followed(unit(Kind::Length, "ft", &["ft", "foot", "feet", "'"], factor::FOOT), "in", 12.0),
    unit(
        Kind::Length,
        "mm",
        &["mm", "millimeter", "millimeters", "millimetre", "millimetres"],
        factor::MILLIMETRE,
    ),
    unit(
        Kind::Length,
        "cm",
        &["cm", "centimeter", "centimeters", "centimetre", "centimetres"],
        factor::CENTIMETRE,
    ),
    unit(Kind::Length, "m", &["m", "meter", "meters", "metre", "metres"], 1.0),
    unit(Kind::Length, "yd", &["yd", "yds", "yard", "yards"], factor::YARD),
    unit(
        Kind::Area,
        "ft2",
        &["ft2", "sqft", "sf", "squarefoot", "squarefeet", "sqfeet"],
        factor::SQUARE_FOOT,
    ),
    unit(
        Kind::Area,
        "in2",
        &["in2", "sqin", "squareinch", "squareinches", "sqinches"],
        factor::SQUARE_INCH,
    ),
    unit(
        Kind::Area,
        "m2",
        &["m2", "sqm", "squaremeter", "squaremeters", "squaremetre", "squaremetres"],
        1.0,
    ),
    unit(Kind::Area, "cm2", &["cm2", "sqcm"], 1e-4),
    unit(Kind::Area, "mm2", &["mm2", "sqmm"], 1e-6),
    unit(Kind::Volume, "ft3", &["ft3", "cuft", "cf", "cubicfoot", "cubicfeet"], factor::CUBIC_FOOT),
    unit(Kind::Volume, "in3", &["in3", "cuin", "cubicinch", "cubicinches"], factor::CUBIC_INCH),
    unit(
        Kind::Volume,
        "m3",
        &["m3", "cum", "cubicmeter", "cubicmeters", "cubicmetre", "cubicmetres"],
        1.0,
    ),
    unit(Kind::Volume, "L", &["l", "liter", "liters", "litre", "litres"], factor::LITRE),
    unit(
        Kind::Volume,
        "mL",
        &["ml", "milliliter", "milliliters", "millilitre", "millilitres"],
        1e-6,
    ),
    unit(Kind::Volume, "gal", &["gal", "gallon", "gallons", "usgal"], factor::US_GALLON),
    unit(
        Kind::Airflow,
        "cfm",
        &["cfm", "ft3/min", "cuft/min", "cubicfeetperminute", "cubicfootperminute"],
        factor::CFM,
    ),
    unit(
        Kind::Airflow,
        "L/s",
        &["l/s", "lps", "l/sec", "literspersecond", "litrespersecond"],
        factor::LITRE,
    ),
    unit(
        Kind::Airflow,
        "m3/h",
        &["m3/h", "m3/hr", "cmh", "m3h", "cubicmetersperhour", "cubicmetresperhour"],
        factor::PER_HOUR,
    ),
    unit(Kind::Airflow, "L/min", &["l/min", "lpm"], factor::LITRE / 60.0),
    unit(Kind::Airflow, "m3/min", &["m3/min"], factor::PER_MINUTE),
    unit(
        Kind::Airflow,
        "m3/s",
        &["m3/s", "m3/sec", "cubicmeterspersecond", "cubicmetrespersecond"],
        1.0,
    ),
    unit(
        Kind::Pressure,
        "inWC",
        &[
            "inwc",
            "inwg",
            "inh2o",
            "inchwc",
            "inchwg",
            "incheswc",
            "incheswg",
            "\"wc",
            "\"wg",
            "\"h2o",
            "inofwater",
            "inchofwater",
            "inchesofwater",
            "inwatercolumn",
            "incheswatercolumn",
            "inw",
            "\"w",
            "iwc",
            "iwg",
        ],
        factor::INCH_OF_WATER,
    ),
    unit(Kind::Pressure, "Pa", &["pa", "pascal", "pascals"], 1.0),
    unit(Kind::Pressure, "hPa", &["hpa", "mbar", "millibar", "millibars"], 100.0),
    unit(Kind::Pressure, "kPa", &["kpa", "kilopascal", "kilopascals"], 1000.0),
    unit(Kind::Pressure, "mmH2O", &["mmh2o", "mmwc", "mmwg"], factor::MILLIMETRE_OF_WATER),
    unit(Kind::Pressure, "inHg", &["inhg", "\"hg", "inchesofmercury"], factor::INCH_OF_MERCURY),
    unit(Kind::Pressure, "psi", &["psi"], factor::PSI),
    unit(Kind::Velocity, "fpm", &["fpm", "ft/min", "feetperminute"], factor::FPM),
    unit(Kind::Velocity, "ft/s", &["ft/s", "ft/sec", "fps"], factor::FOOT),
    unit(Kind::Velocity, "mph", &["mph", "milesperhour", "mi/h"], factor::MPH),
    unit(Kind::Velocity, "m/s", &["m/s", "m/sec", "meterspersecond", "metrespersecond"], 1.0),
    unit(Kind::Velocity, "km/h", &["km/h", "kmh", "km/hr", "kph"], factor::KM_H),
    unit(Kind::Velocity, "kn", &["kn", "kt", "kts", "knot", "knots"], factor::KNOT),
    scaled(
        unit(
            Kind::Temperature,
            "°F",
            &["°f", "f", "degf", "degreesf", "fahrenheit", "°fahrenheit", "℉"],
            1.0,
        ),
        Scale::Shifted {
            by: factor::FAHRENHEIT_DEGREE,
            plus: factor::CELSIUS_ZERO - 32.0 * factor::FAHRENHEIT_DEGREE,
        },
    ),
    scaled(
        unit(
            Kind::Temperature,
            "°C",
            &["°c", "c", "degc", "degreesc", "celsius", "°celsius", "℃"],
            1.0,
        ),
        Scale::Shifted { by: 1.0, plus: factor::CELSIUS_ZERO },
    ),
    unit(Kind::Temperature, "K", &["k", "kelvin", "kelvins"], 1.0),
    unit(Kind::Ratio, "%", &["%", "percent", "pct"], factor::PERCENT),
    unit(
        Kind::Ratio,
        "in/ft",
        &[
            "in/ft",
            "inperft",
            "inperfoot",
            "inchperfoot",
            "inchesperfoot",
            "\"/ft",
            "\"perft",
            "\"perfoot",
            "\"/'",
        ],
        1.0 / 12.0,
    ),
    unit(Kind::Ratio, "mm/m", &["mm/m", "mmperm"], 0.001),
    unit(
        Kind::Humidity,
        "%",
        &["%", "%rh", "percent", "percentrh", "pct", "%relativehumidity"],
        factor::PERCENT,
    ),
    unit(Kind::Angle, "°", &["°", "deg", "degs", "degree", "degrees"], factor::DEGREE),
    unit(Kind::Angle, "rad", &["rad", "radian", "radians"], 1.0),
    unit(Kind::Duration, "s", &["s", "sec", "secs", "second", "seconds"], 1.0),
    followed(unit(Kind::Duration, "min", &["min", "mins", "minute", "minutes"], 60.0), "s", 60.0),
    followed(unit(Kind::Duration, "h", &["h", "hr", "hrs", "hour", "hours"], 3600.0), "min", 60.0),
    followed(unit(Kind::Duration, "days", &["d", "day", "days"], 86400.0), "h", 24.0),
    unit(Kind::Density, "lb/ft3", &["lb/ft3", "lb/cuft", "pcf"], factor::LB_FT3),
    unit(Kind::Density, "kg/m3", &["kg/m3"], 1.0),
    unit(Kind::Density, "g/m3", &["g/m3"], 0.001),
    unit(Kind::Power, "W", &["w", "watt", "watts"], 1.0),
    unit(Kind::Power, "kW", &["kw", "kilowatt", "kilowatts"], 1000.0),
    unit(Kind::Power, "Btu/h", &["btu/h", "btuh", "btu/hr"], factor::BTU_H),
    leading(unit(
        Kind::ThermalResistance,
        "R",
        &["r", "hft2°f/btu", "ft2°fh/btu", "ft2hf/btu", "hft2f/btu"],
        factor::R_IP,
    )),
    leading(unit(Kind::ThermalResistance, "RSI", &["rsi", "m2k/w", "m2°c/w", "km2/w"], 1.0)),
    unit(Kind::Leakage50, "cfm50", &["cfm50", "cfm@50pa"], factor::CFM),
    unit(Kind::Leakage50, "L/s50", &["l/s50", "l/s@50pa"], factor::LITRE),
    unit(Kind::Leakage50, "m3/h50", &["m3/h50", "m3/h@50pa"], factor::PER_HOUR),
    unit(Kind::AirChange50, "ACH50", &["ach50", "ach@50pa", "1/h@50pa", "/h@50pa"], 1.0),
    leading(scaled(unit(Kind::Conductor, "AWG", &["awg"], 1.0), Scale::Gauge)),
    unit(Kind::Conductor, "mm2", &["mm2", "sqmm"], 1.0),
    unit(Kind::Loudness, "sones", &["sone", "sones"], 1.0),
    unit(Kind::SoundLevel, "dB", &["db", "dba", "db(a)", "decibel", "decibels"], 1.0),
    followed(unit(Kind::Mass, "lb", &["lb", "lbs", "pound", "pounds"], factor::POUND), "oz", 16.0),
    unit(Kind::Mass, "oz", &["oz", "ounce", "ounces"], factor::OUNCE),
    unit(Kind::Mass, "kg", &["kg", "kilogram", "kilograms"], 1.0),
    unit(Kind::Mass, "g", &["g", "gram", "grams"], 0.001),
    unit(Kind::Mass, "gr", &["gr", "grain", "grains"], factor::GRAIN),
    unit(Kind::MassFlow, "lb/h", &["lb/h", "lb/hr", "lbs/hr", "pph"], factor::POUND / 3600.0),
    unit(Kind::MassFlow, "kg/h", &["kg/h", "kg/hr"], factor::PER_HOUR),
    unit(Kind::MassFlow, "g/s", &["g/s"], 0.001),
    unit(Kind::MassFlow, "kg/s", &["kg/s"], 1.0),
    unit(
        Kind::WaterFlow,
        "gpm",
        &["gpm", "usgpm", "gal/min", "gallonsperminute", "gallonperminute"],
        factor::US_GALLON / 60.0,
    ),
    unit(
        Kind::WaterFlow,
        "L/min",
        &["l/min", "lpm", "litersperminute", "litresperminute"],
        factor::LITRE / 60.0,
    ),
    unit(Kind::WaterFlow, "L/s", &["l/s", "lps", "l/sec"], factor::LITRE),
    unit(
        Kind::TemperatureDifference,
        "°F",
        &["°f", "f", "degf", "degreesf", "fahrenheit", "°fahrenheit", "℉"],
        factor::FAHRENHEIT_DEGREE,
    ),
    unit(
        Kind::TemperatureDifference,
        "°C",
        &["°c", "c", "degc", "degreesc", "celsius", "°celsius", "℃"],
        1.0,
    ),
    unit(Kind::TemperatureDifference, "K", &["k", "kelvin", "kelvins"], 1.0),
];

/// The units of one kind, in the order of the table.
pub(crate) fn of(kind: Kind) -> impl Iterator<Item = &'static Unit> {
    UNITS.iter().filter(move |unit| unit.kind == kind)
}

/// The unit of a kind that is printed with this symbol.
pub(crate) fn symbol(kind: Kind, symbol: &str) -> Option<&'static Unit> {
    of(kind).find(|unit| unit.symbol == symbol)
}

/// The symbols of a kind in one line, for hints.
pub(crate) fn symbols(kind: Kind) -> String {
    of(kind).map(|unit| unit.symbol).collect::<Vec<_>>().join(", ")
}

/// Finds the unit of `kind` that begins exactly at byte `at` of `text`; gives it with the byte after it.
pub(crate) fn starting_at(text: &str, at: usize, kind: Kind) -> Option<(&'static Unit, usize)> {
    let mut best: Option<(&'static Unit, usize)> = None;
    for unit in of(kind) {
        for name in unit.names {
            let Some(end) = name_at(text, at, name) else { continue };
            let end = dot_after(text, end);
            let closed = ends_word(text, end, name, unit);
            if closed && best.is_none_or(|(_, best_end)| end > best_end) {
                best = Some((unit, end));
            }
        }
    }
    best
}

/// Matches one folded name against the text as written; gives the byte after it.
fn name_at(text: &str, at: usize, name: &str) -> Option<usize> {
    let mut rest = text.get(at..)?.chars();
    let mut previous = None;
    for wanted in name.chars() {
        loop {
            let written = rest.next()?;
            if fold(written) == wanted {
                break;
            }
            // Blanks and dots may stand inside "in. w.g." and "cfm @ 50 Pa", but "ft 2" is not "ft2".
            let may_skip = !wanted.is_ascii_digit() || previous == Some('@');
            if previous.is_none() || !(written == '^' || (may_skip && is_filler(written))) {
                return None;
            }
        }
        previous = Some(wanted);
    }
    Some(text.len() - rest.as_str().len())
}

/// Takes the full stop of an abbreviation ("4 in.") but not the first dot of a range or a decimal.
fn dot_after(text: &str, at: usize) -> usize {
    let mut rest = text[at..].chars();
    let is_stop =
        rest.next() == Some('.') && !rest.next().is_some_and(|c| c == '.' || c.is_ascii_digit());
    if is_stop { at + 1 } else { at }
}

/// Whether the text after a name cannot belong to a longer unit word.
fn ends_word(text: &str, end: usize, name: &str, unit: &Unit) -> bool {
    let Some(next) = text[end..].chars().next() else { return true };
    let next_folded = fold(next);
    if next.is_ascii_digit() {
        return unit.leads || unit.then.is_some();
    }
    let name_is_word = name.ends_with(|c: char| c.is_alphanumeric());
    let runs_on = next.is_alphabetic() && (name_is_word || name == "%" || name == "°");
    !runs_on && !matches!(next_folded, '2' | '3' | '/' | '^')
}

fn is_filler(c: char) -> bool {
    c.is_whitespace() || matches!(c, '.' | '·' | '⋅' | '*')
}

/// Makes the many ways of typing one sign equal.
pub(crate) fn fold(c: char) -> char {
    match c {
        '′' | '’' | '‘' | 'ʹ' => '\'',
        '″' | '”' | '“' | 'ʺ' => '"',
        '²' => '2',
        '³' => '3',
        'º' | '˚' => '°',
        '⁄' | '∕' => '/',
        'K' => 'k',
        _ => c.to_ascii_lowercase(),
    }
}
