//! Figures in the reader's unit system.

use dewpath_report::{Figure, Triple};
use dewpath_units::{
    Airflow, Area, Length, Mass, Pressure, Quantity as _, Style, System, Temperature,
    ThermalResistance, Velocity, Volume, WaterFlow,
};

use crate::Speaker;

/// Chances from draws are never certain: beyond these they are named as a bound.
const NEARLY_NEVER: f64 = 0.01;
const NEARLY_ALWAYS: f64 = 0.99;

/// From here on lengths are told in whole feet.
const LONG_FEET: f64 = 100.0;

/// Below this a thickness is told in thousandths of an inch, not on the tape.
const THIN_MM: f64 = 3.0;

/// Grams in an avoirdupois ounce.
const GRAMS_PER_OUNCE: f64 = 28.349523125;

/// Less than this is told as such: nobody weighs hundredths of an ounce, and what is there never reads as nothing.
const FINEST_OUNCES: f64 = 0.1;

/// Small amounts of water are told in tenths of an ounce.
fn mass_decimals(grams: f64) -> usize {
    match grams / GRAMS_PER_OUNCE {
        0.0 => 0,
        ..10.0 => 1,
        _ => 0,
    }
}

/// A number and the key of its unit; the key is empty where the number stands alone or holds its units.
struct Told {
    number: String,
    unit: &'static str,
}

/// How a kind of figure is told: every value of one triple in the same unit with the same digits.
enum Manner {
    /// A value in this unit, with so many decimals.
    Decimal { convert: fn(f64) -> f64, unit: &'static str, decimals: usize },
    /// A length on a tape, from a value in `unit`, to the nearest `step` (or the style's fraction).
    Tape { unit: Length, step: Option<Length>, style: Style },
    /// An R-value or RSI.
    Insulation(Style),
}

impl Speaker {
    /// A figure: `78 cfm`, or `70 cfm (64 to 81)` where it has a spread.
    pub fn figure(&self, figure: Figure) -> String {
        if let Some(bound) = bound(figure) {
            return self.text(bound).to_owned();
        }
        if let Some(drops) = self.drops(figure) {
            return drops;
        }
        let manner = self.manner(figure);
        let Triple { low, likely, high } = figure.triple();
        let [low, likely, high] = [low, likely, high].map(|value| self.tell(&manner, value));
        let alone = self.with_unit(&likely);
        match self.between(&low, &high, low.unit != likely.unit) {
            Some(range) => {
                let spread = self.text("figure.spread");
                spread.replace("{likely}", &alone).replace("{range}", &range)
            }
            None => alone,
        }
    }

    /// The likely value alone.
    pub fn likely(&self, figure: Figure) -> String {
        let bound = bound(figure).map(|bound| self.text(bound).to_owned());
        match bound.or_else(|| self.drops(figure)) {
            Some(told) => told,
            None => self.with_unit(&self.tell(&self.manner(figure), figure.triple().likely)),
        }
    }

    /// A likely weight of water that is too small to be told in ounces: the range, or that it is less.
    fn drops(&self, figure: Figure) -> Option<String> {
        let Figure::MassG(grams) = figure else { return None };
        let ounces = grams.map(|g| g / GRAMS_PER_OUNCE);
        let is_little = ounces.likely > 0.0 && ounces.likely < 0.5 * FINEST_OUNCES;
        if self.system == System::Metric || !is_little {
            return None;
        }
        if ounces.high >= FINEST_OUNCES {
            return Some(self.range(figure));
        }
        let bound = self.in_unit(&self.number(FINEST_OUNCES, 1), "unit.oz");
        Some(self.text("figure.under").replace("{bound}", &bound))
    }

    /// The range alone: `64 to 81 cfm`, or one value where there is no spread.
    pub fn range(&self, figure: Figure) -> String {
        if let Some(bound) = bound(figure) {
            return self.text(bound).to_owned();
        }
        let manner = self.manner(figure);
        let Triple { low, high, .. } = figure.triple();
        let [low, high] = [low, high].map(|value| self.tell(&manner, value));
        self.between(&low, &high, true).unwrap_or_else(|| self.with_unit(&low))
    }

    /// A decimal number as this language writes it; "-0" and "-0.0" read like a mistake.
    pub(crate) fn number(&self, value: f64, decimals: usize) -> String {
        let text = format!("{value:.decimals$}");
        let is_nothing = text.trim_start_matches(['-', '0', '.']).is_empty();
        self.written(if is_nothing { text.trim_start_matches('-') } else { &text })
    }

    /// A number with a point before its decimals, as this language writes it.
    fn written(&self, number: &str) -> String {
        let (whole, decimals) = number.split_once('.').unwrap_or((number, ""));
        let digits = whole.trim_start_matches('-').len();
        let from = self.text("number.group-from").parse().unwrap_or(usize::MAX);
        let group = if digits < from { "" } else { self.text("number.group") };
        let mut text = String::with_capacity(number.len() + 4);
        for (place, digit) in whole.chars().enumerate() {
            let left = whole.len() - place;
            if left % 3 == 0 && left < digits {
                text.push_str(group);
            }
            text.push(digit);
        }
        if !decimals.is_empty() {
            text.push_str(self.text("number.decimal"));
            text.push_str(decimals);
        }
        text
    }

    /// The name of a unit, without a number.
    pub fn unit(&self, key: &str) -> String {
        self.text(key).replace('#', "").trim().to_owned()
    }

    fn manner(&self, figure: Figure) -> Manner {
        let us = self.system == System::Us;
        let t = figure.triple();
        let size = t.low.abs().max(t.high.abs()).max(t.likely.abs());
        match figure {
            Figure::AirflowLS(_) if us => decimal(|v| Airflow::from_l_s(v).cfm(), "unit.cfm", 0),
            Figure::AirflowLS(_) => decimal(same, "unit.l-s", 1),
            Figure::PressurePa(_) if us => {
                decimal(|v| Pressure::from_pa(v).in_wc(), "unit.in-wc", 3)
            }
            Figure::PressurePa(_) => decimal(same, "unit.pa", usize::from(size < 99.95)),
            Figure::LengthM(_) => self.length(t, size),
            Figure::DiameterMm(_) | Figure::GapMm(_) => self.small_length(t, size),
            Figure::AreaM2(_) => area(size, us),
            Figure::VolumeM3(_) => volume(t, size, us),
            Figure::VelocityMS(_) if us => {
                decimal(|v| (Velocity::from_m_s(v).fpm() / 10.0).round() * 10.0, "unit.ft-min", 0)
            }
            Figure::VelocityMS(_) => decimal(same, "unit.m-s", 1),
            Figure::TemperatureC(_) if us => decimal(|v| Temperature::from_c(v).f(), "unit.f", 0),
            Figure::TemperatureC(_) => decimal(same, "unit.c", 0),
            Figure::AngleDeg(_) => decimal(same, "unit.degree", 0),
            Figure::FactorRatio(_) => decimal(same, "", 2),
            Figure::ShareRatio(_) => decimal(percent, "unit.percent", usize::from(size < 0.0095)),
            Figure::ChanceRatio(_) => decimal(percent, "unit.percent", 0),
            Figure::Count(_) => decimal(same, "", 0),
            Figure::LoudnessSone(_) => decimal(same, "unit.sone", 1),
            Figure::PowerW(_) => decimal(same, "unit.w", usize::from(size < 9.95)),
            Figure::InsulationRsi(_) => Manner::Insulation(self.style()),
            Figure::AirChangesPerH(_) => decimal(same, "unit.air-changes", 1),
            Figure::TimeH(_) if size < 2.0 || (t.likely < 1.0 && size < 10.0) => {
                decimal(|v| v * 60.0, "unit.min", 0)
            }
            Figure::TimeH(_) => decimal(same, "unit.h", usize::from(size < 99.95)),
            Figure::WaterLS(_) if us => {
                decimal(|v| WaterFlow::from_m3_s(v / 1000.0).gpm(), "unit.gpm", 1)
            }
            Figure::WaterLS(_) => decimal(|v| v * 60.0, "unit.l-min", 1),
            Figure::HumidityRatio(_) => decimal(percent, "unit.humidity", 0),
            Figure::MassG(_) if us => {
                decimal(|v| v / GRAMS_PER_OUNCE, "unit.oz", mass_decimals(size))
            }
            Figure::MassG(_) => decimal(same, "unit.g", usize::from(size < 9.95)),
            Figure::MassKg(_) if us => decimal(|v| Mass::from_kg(v).lb(), "unit.lb", 1),
            Figure::MassKg(_) => decimal(same, "unit.kg", 1),
            Figure::MassKgS(_) if us => decimal(|v| Mass::from_kg(v * 3600.0).lb(), "unit.lb-h", 2),
            Figure::MassKgS(_) => decimal(|v| v * 3.6e6, "unit.g-h", 0),
            Figure::EnergyKwh(_) => decimal(same, "unit.kwh", if size < 9.95 { 2 } else { 0 }),
            Figure::MouldRatio(_) => decimal(same, "", 1),
            Figure::DifferenceK(_) if us => decimal(|v| v * 1.8, "unit.f", 0),
            Figure::DifferenceK(_) => decimal(same, "unit.k", 1),
        }
    }

    fn style(&self) -> Style {
        match self.system {
            System::Us => Style::US,
            System::Metric => Style::METRIC,
        }
    }

    /// Known lengths to a sixteenth; those with a spread to the inch or 0.1 m; long ones to the foot.
    fn length(&self, t: Triple, size: f64) -> Manner {
        let long = Length::from_m(size).feet() >= LONG_FEET;
        let tape = |step| Manner::Tape { unit: Length::from_m(1.0), step, style: Style::US };
        match self.system {
            System::Us if long => tape(Some(Length::from_feet(1.0))),
            System::Us if t.is_exact() => tape(None),
            System::Us => tape(Some(Length::from_inches(1.0))),
            System::Metric if long => decimal(same, "unit.m", 0),
            System::Metric if t.is_exact() => decimal(same, "unit.m", 2),
            System::Metric => decimal(same, "unit.m", 1),
        }
    }

    fn small_length(&self, t: Triple, size: f64) -> Manner {
        let thin = size < THIN_MM;
        let style = Style::US.inches_only();
        match self.system {
            System::Us if thin => decimal(|v| Length::from_mm(v).inches(), "unit.in", 3),
            System::Us => Manner::Tape { unit: Length::from_mm(1.0), step: None, style },
            System::Metric if thin => decimal(same, "unit.mm", if t.is_exact() { 2 } else { 1 }),
            System::Metric => decimal(same, "unit.mm", 0),
        }
    }

    fn tell(&self, manner: &Manner, value: f64) -> Told {
        match manner {
            Manner::Decimal { convert, unit, decimals } => {
                Told { number: self.number(convert(value), *decimals), unit }
            }
            Manner::Tape { unit, step, style } => {
                let length = *unit * value;
                let rounded = match step {
                    Some(step) => *step * (length.m() / step.m()).round(),
                    None => length,
                };
                self.on_tape(&rounded.print(style))
            }
            Manner::Insulation(style) => {
                let number = ThermalResistance::from_rsi(value).print(style);
                Told { number: number.replace('.', self.text("number.decimal")), unit: "" }
            }
        }
    }

    /// Feet and inches as the tape has them, with the names that they have in this language.
    fn on_tape(&self, text: &str) -> Told {
        Told::of_tape(text).unwrap_or_else(|| {
            let parts = text.split(' ').map(|part| match part {
                "ft" => self.unit("unit.ft"),
                "in" => self.unit("unit.in"),
                number => number.to_owned(),
            });
            Told { number: parts.collect::<Vec<_>>().join(" "), unit: "" }
        })
    }

    fn with_unit(&self, told: &Told) -> String {
        self.in_unit(&told.number, told.unit)
    }

    fn in_unit(&self, number: &str, unit: &str) -> String {
        match unit {
            "" => number.to_owned(),
            unit => self.text(unit).replace('#', number),
        }
    }

    /// `64 to 81`, with the unit where it is asked for or the two differ; nothing when both read alike.
    fn between(&self, low: &Told, high: &Told, with_unit: bool) -> Option<String> {
        let both = |low: &str, high: &str| {
            self.text("figure.range").replace("{low}", low).replace("{high}", high)
        };
        let (from, to) = (self.with_unit(low), self.with_unit(high));
        if from == to {
            None
        } else if low.unit != high.unit {
            Some(both(&from, &to))
        } else {
            let numbers = both(&low.number, &high.number);
            Some(if with_unit { self.in_unit(&numbers, low.unit) } else { numbers })
        }
    }
}

impl Told {
    /// Feet alone and inches alone can share their unit in a range; both together cannot.
    fn of_tape(text: &str) -> Option<Self> {
        let alone = |name: &str, unit| {
            let number = text.strip_suffix(name)?.strip_suffix(' ')?;
            (!number.contains(' ')).then(|| Self { number: number.to_owned(), unit })
        };
        alone("in", "unit.in").or_else(|| alone("ft", "unit.ft"))
    }
}

fn same(value: f64) -> f64 {
    value
}

fn percent(share: f64) -> f64 {
    share * 100.0
}

fn decimal(convert: fn(f64) -> f64, unit: &'static str, decimals: usize) -> Manner {
    Manner::Decimal { convert, unit, decimals }
}

/// Three figures at most, and no decimal from 10 up.
fn by_size(convert: fn(f64) -> f64, unit: &'static str, size: f64) -> Manner {
    decimal(convert, unit, usize::from(size < 9.95))
}

fn area(m2: f64, us: bool) -> Manner {
    let size = Area::from_m2(m2);
    if us && size.ft2() < 1.0 {
        by_size(|v| Area::from_m2(v).in2(), "unit.in2", size.in2())
    } else if us {
        by_size(|v| Area::from_m2(v).ft2(), "unit.ft2", size.ft2())
    } else if m2 < 0.1 {
        by_size(|v| v * 1e4, "unit.cm2", m2 * 1e4)
    } else {
        by_size(same, "unit.m2", m2)
    }
}

fn volume(t: Triple, m3: f64, us: bool) -> Manner {
    let feet = Volume::from_m3(m3).ft3();
    match (us, t.is_exact()) {
        (true, true) => by_size(|v| Volume::from_m3(v).ft3(), "unit.ft3", feet),
        (true, false) => by_size(|v| three_figures(Volume::from_m3(v).ft3()), "unit.ft3", feet),
        (false, _) => by_size(same, "unit.m3", m3),
    }
}

/// Hundreds and thousands to three figures.
fn three_figures(value: f64) -> f64 {
    let steps = [(10_000.0, 100.0), (1_000.0, 10.0)];
    let step = steps.iter().find(|(from, _)| value.abs() >= *from).map_or(1.0, |(_, step)| *step);
    if step > 1.0 { (value / step).round() * step } else { value }
}

/// The key of what is said of a chance that draws cannot tell from certainty.
fn bound(figure: Figure) -> Option<&'static str> {
    let Figure::ChanceRatio(chance) = figure else { return None };
    if chance.likely > NEARLY_ALWAYS {
        Some("figure.nearly-always")
    } else if chance.likely < NEARLY_NEVER {
        Some("figure.nearly-never")
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn exact(value: f64) -> Triple {
        Triple::exact(value)
    }

    fn spread(low: f64, likely: f64, high: f64) -> Triple {
        Triple { low, likely, high }
    }

    #[test]
    fn us_figures_read_as_on_a_label_or_a_tape() {
        let us = Speaker::us();
        assert_eq!(us.figure(Figure::AirflowLS(exact(37.755_8))), "80 cfm");
        assert_eq!(us.figure(Figure::PressurePa(exact(62.27))), "0.250 in. w.c.");
        assert_eq!(us.figure(Figure::LengthM(exact(2.8575))), "9 ft 4-1/2 in");
        assert_eq!(us.figure(Figure::DiameterMm(exact(101.6))), "4 in");
        assert_eq!(us.figure(Figure::ShareRatio(exact(0.5))), "50 %");
        assert_eq!(us.figure(Figure::ShareRatio(exact(0.003))), "0.3 %");
        assert_eq!(us.figure(Figure::AngleDeg(exact(90.0))), "90°");
        assert_eq!(us.figure(Figure::FactorRatio(exact(0.611))), "0.61");
        assert_eq!(us.figure(Figure::InsulationRsi(exact(1.408_9))), "R-8");
        assert_eq!(us.figure(Figure::TimeH(exact(1.0 / 12.0))), "5 min");
    }

    #[test]
    fn metric_figures_read_as_on_a_drawing() {
        let metric = Speaker::metric();
        assert_eq!(metric.figure(Figure::LengthM(exact(2.857))), "2.86 m");
        assert_eq!(metric.figure(Figure::DiameterMm(exact(100.0))), "100 mm");
        assert_eq!(metric.figure(Figure::GapMm(exact(0.4))), "0.40 mm");
        assert_eq!(metric.figure(Figure::PressurePa(exact(125.4))), "125 Pa");
    }

    #[test]
    fn spreads_show_likely_then_range() {
        let flow = Figure::AirflowLS(spread(20.0, 25.0, 30.0));
        assert_eq!(Speaker::metric().figure(flow), "25.0 L/s (20.0 to 30.0)");
        assert_eq!(Speaker::metric().range(flow), "20.0 to 30.0 L/s");
        assert_eq!(Speaker::metric().likely(flow), "25.0 L/s");
    }

    #[test]
    fn a_length_that_is_not_known_is_not_told_in_sixteenths() {
        let run = Figure::LengthM(spread(4.907, 5.18, 5.456));
        assert_eq!(Speaker::us().figure(run), "17 ft (16 ft 1 in to 17 ft 11 in)");
        assert_eq!(Speaker::metric().figure(run), "5.2 m (4.9 to 5.5)");
        let whole = Figure::LengthM(spread(8.0 * 0.3048, 2.7, 10.0 * 0.3048));
        assert_eq!(Speaker::us().range(whole), "8 to 10 ft");
        assert_eq!(Speaker::us().figure(whole), "8 ft 10 in (8 to 10 ft)");
        let gap = Figure::GapMm(spread(12.7, 15.875, 19.05));
        assert_eq!(Speaker::us().figure(gap), "5/8 in (1/2 to 3/4)");
    }

    #[test]
    fn long_lengths_are_told_in_whole_feet() {
        assert_eq!(Speaker::us().figure(Figure::LengthM(exact(1609.4))), "5280 ft");
    }

    #[test]
    fn small_areas_keep_their_figures() {
        let joints = Figure::AreaM2(exact(0.0012));
        assert_eq!(Speaker::us().figure(joints), "1.9 in²");
        assert_eq!(Speaker::metric().figure(joints), "12 cm²");
        assert_eq!(Speaker::us().figure(Figure::AreaM2(exact(5.0))), "54 ft²");
        assert_eq!(Speaker::metric().figure(Figure::AreaM2(exact(5.0))), "5.0 m²");
    }

    #[test]
    fn draws_are_never_certain() {
        let chance = |value| Speaker::us().figure(Figure::ChanceRatio(exact(value)));
        assert_eq!(chance(1.0), "over 99 %");
        assert_eq!(chance(0.995), "over 99 %");
        assert_eq!(chance(0.99), "99 %");
        assert_eq!(chance(0.33), "33 %");
        assert_eq!(chance(0.004), "under 1 %");
        assert_eq!(chance(0.0), "under 1 %");
    }

    #[test]
    fn a_small_negative_is_not_minus_nothing() {
        assert_eq!(Speaker::metric().figure(Figure::PressurePa(exact(-0.001))), "0.0 Pa");
    }
}
