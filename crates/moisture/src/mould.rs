//! The mould index: how far mould may have grown on a surface, from 0 (none) to 6 (all covered).
//!
//! | index | what is seen |
//! | --- | --- |
//! | 0 | nothing |
//! | 1 | first growth, under the microscope |
//! | 2 | moderate growth, under the microscope |
//! | 3 | visible, below a tenth of the area |
//! | 4 | a tenth to half of the area |
//! | 5 | more than half |
//! | 6 | nearly all |
//!
//! Sources: Hukka & Viitanen 1999, Wood Science and Technology 33:475 (pine and spruce); Ojanen, Viitanen,
//! Peuhkuri, Lähdesmäki, Vinha & Salminen 2010 (sensitivity classes and slower decline). While a surface is
//! warm and damp enough,
//!
//! dM/dt = k1·k2 / (7·exp(−0.68·ln T − 13.9·ln RH + 0.14·W − 0.33·SQ + 66.02)) per day, T in °C, RH in per
//! cent,
//!
//! with k1 by material and by whether M has reached 1, and k2 = max(1 − exp(2.3·(M − M_max)), 0). Else M falls
//! by 0.032 a day for six hours, stays for the next eighteen, then falls by 0.016 a day; all times a factor of
//! the material.
//!
//! Each step here is the *exact* solution for constant conditions, so that one step of a day equals a thousand
//! that make it up. The source steps hourly or daily in Euler's way; the two differ by less than 0.01.
//!
//! **What it is not**: a promise. It was fitted to constant or slowly changing humidity on wood; minutes of
//! liquid film after a shower lie outside that, the transfer to other materials has been called unreliable in
//! print (Berger, Le Meur, Dutykh, Nguyen & Grillet 2018), and the class of the material decides the result.
//! Show it with the results of the neighbouring classes.

use dewpath_air::domain::{Domain, OutOfDomain};
use dewpath_air::law::Law;
use dewpath_units::{Duration, Humidity, Temperature};

/// The exponent's factor in k2, 1 per index.
const RETARDATION: f64 = 2.3;

/// Growth is fitted up to this temperature, °C; warmer surfaces are taken as this warm.
const WARMEST_C: f64 = 40.0;

/// Hours of the quick decline after growth has stopped.
const QUICK_DECLINE_END_H: f64 = 6.0;
/// Hours until the slow decline sets in.
const SLOW_DECLINE_START_H: f64 = 24.0;
const QUICK_DECLINE_PER_H: f64 = 0.032 / 24.0;
const SLOW_DECLINE_PER_H: f64 = 0.016 / 24.0;

const HOURS_PER_WEEK: f64 = 168.0;

/// A step is at most this long (a thousand years), so that sums of hours stay finite.
const LONGEST_STEP_H: f64 = 8.766e6;

/// How readily mould grows on a material (Ojanen, Viitanen et al. 2010).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SensitivityClass {
    /// Sapwood of pine, untreated.
    VerySensitive,
    /// Glued wood boards, paper-faced products such as gypsum board, spruce.
    Sensitive,
    /// Concrete, aerated concrete, mineral wool, polyester.
    MediumResistant,
    /// Polished polyurethane, treated or protected surfaces.
    Resistant,
}

/// The numbers of one sensitivity class.
#[derive(Debug, Clone, Copy, PartialEq)]
struct ClassNumbers {
    /// k1 while the index is below 1.
    below_one: f64,
    /// k1 from index 1 on.
    from_one: f64,
    /// A, B and C of M_max = A + B·x − C·x².
    most: [f64; 3],
    /// Lowest relative humidity at which mould grows, per cent.
    least_rh: f64,
}

impl SensitivityClass {
    /// All classes, the most sensitive first.
    pub const ALL: [Self; 4] =
        [Self::VerySensitive, Self::Sensitive, Self::MediumResistant, Self::Resistant];

    /// The next more and the next less sensitive class, or the class itself at the ends: the band in which an index is
    /// to be shown, since the class of a material is a judgement.
    pub const fn band(self) -> [Self; 2] {
        match self {
            Self::VerySensitive => [Self::VerySensitive, Self::Sensitive],
            Self::Sensitive => [Self::VerySensitive, Self::MediumResistant],
            Self::MediumResistant => [Self::Sensitive, Self::Resistant],
            Self::Resistant => [Self::MediumResistant, Self::Resistant],
        }
    }

    /// Table of Ojanen, Viitanen et al. 2010.
    const fn numbers(self) -> ClassNumbers {
        let (below_one, from_one, most, least_rh) = match self {
            Self::VerySensitive => (1.0, 2.0, [1.0, 7.0, 2.0], 80.0),
            Self::Sensitive => (0.578, 0.386, [0.3, 6.0, 1.0], 80.0),
            Self::MediumResistant => (0.072, 0.097, [0.0, 5.0, 1.5], 85.0),
            Self::Resistant => (0.033, 0.014, [0.0, 3.0, 1.0], 85.0),
        };
        ClassNumbers { below_one, from_one, most, least_rh }
    }
}

/// How fast the index falls in dry times, against pine (Ojanen, Viitanen et al. 2010).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum DeclineClass {
    /// As on pine: 1.
    Full,
    /// 0.5.
    Significant,
    /// 0.25.
    RelativelyLow,
    /// 0.1.
    AlmostNone,
}

impl DeclineClass {
    /// What the decline of pine is multiplied with.
    pub const fn factor(self) -> f64 {
        match self {
            Self::Full => 1.0,
            Self::Significant => 0.5,
            Self::RelativelyLow => 0.25,
            Self::AlmostNone => 0.1,
        }
    }
}

/// Wood of the original regressions (Hukka & Viitanen 1999).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Wood {
    /// Spruce (W = 1), not pine (W = 0).
    pub is_spruce: bool,
    /// The original surface of kiln-dried timber (SQ = 1), not a resawn one (SQ = 0).
    pub is_kiln_dried_surface: bool,
}

impl Wood {
    /// Resawn pine sapwood, for which the regressions are quoted.
    pub const PINE: Self = Self { is_spruce: false, is_kiln_dried_surface: false };

    fn spruce(self) -> f64 {
        f64::from(u8::from(self.is_spruce))
    }

    fn kiln_dried(self) -> f64 {
        f64::from(u8::from(self.is_kiln_dried_surface))
    }
}

/// What the mould grows on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Substrate {
    /// A material by its classes.
    Class(SensitivityClass, DeclineClass),
    /// Pine or spruce in the original form of 1999, with full decline.
    Wood(Wood),
}

/// How the index grows in conditions that do not change.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Growth {
    /// k1/t_m below index 1, per hour.
    below_one_per_h: f64,
    /// The same from index 1 on.
    from_one_per_h: f64,
    /// Index that is approached in the end.
    most: f64,
}

/// Weeks to index 1 at `t_c` °C and `rh` per cent.
fn weeks_to_start(t_c: f64, rh: f64, wood: Wood) -> f64 {
    libm::exp(
        -0.68 * libm::log(t_c) - 13.9 * libm::log(rh) + 0.14 * wood.spruce()
            - 0.33 * wood.kiln_dried()
            + 66.02,
    )
}

/// Weeks to index 3 at `t_c` °C and `rh` per cent.
fn weeks_to_visible(t_c: f64, rh: f64, wood: Wood) -> f64 {
    libm::exp(-0.74 * libm::log(t_c) - 12.72 * libm::log(rh) + 0.06 * wood.spruce() + 61.50)
}

/// k1 of the original form from index 1 on: 2/(t_v/t_m − 1).
fn original_speed(t_c: f64, rh: f64, wood: Wood) -> f64 {
    2.0 / (weeks_to_visible(t_c, rh, wood) / weeks_to_start(t_c, rh, wood) - 1.0)
}

/// Relative humidity above which mould grows at `t_c` °C, per cent; none grows at or below freezing.
fn critical_rh(t_c: f64, least_rh: f64) -> Option<f64> {
    if t_c > 20.0 {
        Some(least_rh)
    } else if t_c > 0.0 {
        let cubic = 100.0 + t_c * (-3.13 + t_c * (0.160 + t_c * -0.00267));
        Some(cubic.max(least_rh))
    } else {
        None
    }
}

impl Substrate {
    fn least_rh(self) -> f64 {
        match self {
            Self::Class(class, _) => class.numbers().least_rh,
            Self::Wood(_) => 80.0,
        }
    }

    fn decline_factor(self) -> f64 {
        match self {
            Self::Class(_, decline) => decline.factor(),
            Self::Wood(_) => 1.0,
        }
    }

    /// Growth at `t_c` °C and `rh` per cent; `None` in conditions in which the index falls.
    fn growth(self, t_c: f64, rh: f64) -> Option<Growth> {
        if rh <= self.least_rh() {
            return None;
        }
        let rh = rh.min(100.0);
        let critical = critical_rh(t_c, self.least_rh()).filter(|critical| rh > *critical)?;
        let t_c = t_c.min(WARMEST_C);
        let x = (critical - rh) / (critical - 100.0);
        let most = |[a, b, c]: [f64; 3]| a + b * x - c * x * x;
        Some(match self {
            Self::Class(class, _) => {
                let numbers = class.numbers();
                let hours = HOURS_PER_WEEK * weeks_to_start(t_c, rh, Wood::PINE);
                Growth {
                    below_one_per_h: numbers.below_one / hours,
                    from_one_per_h: numbers.from_one / hours,
                    most: most(numbers.most),
                }
            }
            Self::Wood(wood) => {
                let hours = HOURS_PER_WEEK * weeks_to_start(t_c, rh, wood);
                Growth {
                    below_one_per_h: 1.0 / hours,
                    from_one_per_h: original_speed(t_c, rh, wood) / hours,
                    most: most([1.0, 7.0, 2.0]),
                }
            }
        })
    }

    /// Relative humidity above which mould grows on this at a temperature; `None` at or below 0 °C, where
    /// none grows, and for what is not a number.
    ///
    /// RH_c = −0.00267·T³ + 0.160·T² − 3.13·T + 100 up to 20 °C, at least 80 % (85 % for the two resistant
    /// classes), which alone counts above 20 °C.
    ///
    /// Source: Hukka & Viitanen 1999; least humidities Ojanen, Viitanen et al. 2010.
    pub fn critical_humidity(self, temperature: Temperature) -> Option<Humidity> {
        critical_rh(temperature.c(), self.least_rh()).map(Humidity::from_percent)
    }

    /// Index that growth would reach in the end in constant conditions: A + B·x − C·x² with
    /// x = (RH_c − RH)/(RH_c − 100), not below 0; `None` where nothing grows.
    pub fn greatest_index(self, temperature: Temperature, humidity: Humidity) -> Option<f64> {
        let growth = self.growth(temperature.c(), humidity.percent())?;
        Some(growth.most.max(0.0))
    }

    /// k1/t_m: index gained per hour while the index is far below its greatest, first below index 1, then
    /// from 1 on; `None` where nothing grows.
    pub fn growth_per_h(self, temperature: Temperature, humidity: Humidity) -> Option<[f64; 2]> {
        let growth = self.growth(temperature.c(), humidity.percent())?;
        Some([growth.below_one_per_h, growth.from_one_per_h])
    }

    /// Hours a day that a surface may be this warm and damp, dry for the rest of the day, before mould builds
    /// up from day to day; from an index near 0, where the gain is fastest. `None` where nothing grows.
    ///
    /// The dry rest of a day takes away 0.032/24 an hour for at most six hours, so x hours gain as much as is
    /// lost when x = 0.008·C/(k1/t_m). Above 18 hours the dry rest is shorter than six hours and
    /// x·k1/t_m = 0.032/24·C·(24 − x).
    ///
    /// Source: follows from the model (closed form). Valid: one damp spell and one dry spell a day.
    pub fn break_even_wet_hours_per_day(
        self,
        temperature: Temperature,
        humidity: Humidity,
    ) -> Option<f64> {
        let gain = self.growth(temperature.c(), humidity.percent())?.below_one_per_h;
        let loss = self.decline_factor() * QUICK_DECLINE_PER_H;
        let wet = loss * QUICK_DECLINE_END_H / gain;
        let with_short_gap = 24.0 * loss / (gain + loss);
        Some(if wet <= 24.0 - QUICK_DECLINE_END_H { wet } else { with_short_gap })
    }
}

const REGRESSION_TEMPERATURE: Domain = Domain {
    quantity: "surface temperature",
    unit: "°C",
    low: 0.1,
    high: WARMEST_C,
    reason: "the times to growth were fitted from 0.1 to 40 °C",
};

const REGRESSION_HUMIDITY: Domain = Domain {
    quantity: "relative humidity",
    unit: "%",
    low: 79.999,
    high: 100.001,
    reason: "mould grows between 80 and 100 %",
};

/// A temperature in °C and a humidity in per cent, as typed, within the regressions.
fn in_regressions(temperature: Temperature, humidity: Humidity) -> Result<(f64, f64), OutOfDomain> {
    // To a billionth, since what was typed comes back with a rounding.
    let t_c = libm::round(temperature.c() * 1e9) / 1e9;
    Ok((REGRESSION_TEMPERATURE.check(t_c)?, REGRESSION_HUMIDITY.check(humidity.percent())?))
}

/// Time to the first growth (index 1) on wood in constant conditions:
/// exp(−0.68·ln T − 13.9·ln RH + 0.14·W − 0.33·SQ + 66.02) weeks.
///
/// Source: Hukka & Viitanen 1999, regression of the response times.
/// Valid: 0.1 to 40 °C and humidity above [`Substrate::critical_humidity`]; below it there is no growth and
/// the time has no meaning.
///
/// # Errors
/// [`OutOfDomain`] outside 0.1 to 40 °C and 80 to 100 %.
///
/// # Examples
/// ```
/// use dewpath_moisture::mould::{Wood, time_to_start};
/// use dewpath_units::{Humidity, Temperature};
/// let time = time_to_start(Temperature::from_c(20.0), Humidity::from_percent(97.0), Wood::PINE)?;
/// assert!((time.h() / 168.0 - 1.4835).abs() < 1e-4); // weeks
/// # Ok::<(), dewpath_air::domain::OutOfDomain>(())
/// ```
pub fn time_to_start(
    temperature: Temperature,
    humidity: Humidity,
    wood: Wood,
) -> Result<Duration, OutOfDomain> {
    let (t_c, rh) = in_regressions(temperature, humidity)?;
    Ok(Duration::from_h(HOURS_PER_WEEK * weeks_to_start(t_c, rh, wood)))
}

/// Time to visible growth (index 3) on wood in constant conditions:
/// exp(−0.74·ln T − 12.72·ln RH + 0.06·W + 61.50) weeks.
///
/// Source and validity: as [`time_to_start`].
///
/// # Errors
/// As [`time_to_start`].
pub fn time_to_visible(
    temperature: Temperature,
    humidity: Humidity,
    wood: Wood,
) -> Result<Duration, OutOfDomain> {
    let (t_c, rh) = in_regressions(temperature, humidity)?;
    Ok(Duration::from_h(HOURS_PER_WEEK * weeks_to_visible(t_c, rh, wood)))
}

const INDEX: Domain = Domain {
    quantity: "mould index",
    unit: "(of 6)",
    low: 0.0,
    high: 6.0,
    reason: "the index runs from 0, none, to 6, all covered",
};

/// The mould index of one surface as time passes.
///
/// ```
/// use dewpath_moisture::mould::{DeclineClass, MouldIndex, SensitivityClass, Substrate};
/// let paper = Substrate::Class(SensitivityClass::Sensitive, DeclineClass::Significant);
/// let mut mould = MouldIndex::new(paper);
/// for _day in 0..90 {
///     mould.advance(22.0, 97.0, 12.0); // °C, per cent, hours
///     mould.advance(22.0, 60.0, 12.0);
/// }
/// assert!((mould.index() - 1.81).abs() < 0.01);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MouldIndex {
    substrate: Substrate,
    index: f64,
    peak: f64,
    dry_h: f64,
    unknown_h: f64,
}

impl MouldIndex {
    /// A surface without mould.
    pub const fn new(substrate: Substrate) -> Self {
        Self { substrate, index: 0.0, peak: 0.0, dry_h: 0.0, unknown_h: 0.0 }
    }

    /// A surface that has mould already, and was damp until now.
    ///
    /// # Errors
    /// [`OutOfDomain`] when `index` is not between 0 and 6.
    pub fn starting_at(substrate: Substrate, index: f64) -> Result<Self, OutOfDomain> {
        let index = INDEX.check(index)?;
        Ok(Self { index, peak: index, ..Self::new(substrate) })
    }

    /// Lets `hours` pass with the surface at `t_c` °C and `rh_percent` relative humidity *at the surface*.
    ///
    /// Humidity above 100 counts as 100, temperatures above 40 °C as 40 °C (the source's regression ends
    /// there). At or below 0 °C nothing grows. No time passes for `hours` not above zero. Where temperature or
    /// humidity is not a number the index stands still and the time counts as [`Self::unknown_h`].
    pub fn advance(&mut self, t_c: f64, rh_percent: f64, hours: f64) {
        if hours.is_nan() || hours <= 0.0 {
            return;
        }
        let hours = hours.min(LONGEST_STEP_H);
        if t_c.is_nan() || rh_percent.is_nan() {
            self.unknown_h += hours;
        } else if let Some(growth) = self.substrate.growth(t_c, rh_percent) {
            self.dry_h = 0.0;
            self.index = grown(self.index, &growth, hours);
            self.peak = self.peak.max(self.index);
        } else {
            let loss = decline(self.dry_h, hours) * self.substrate.decline_factor();
            self.index = (self.index - loss).max(0.0);
            self.dry_h += hours;
        }
    }

    /// The index now, 0 to 6.
    pub const fn index(&self) -> f64 {
        self.index
    }

    /// The greatest index so far.
    pub const fn peak(&self) -> f64 {
        self.peak
    }

    /// Hours since conditions last allowed growth; 0 while they do.
    pub const fn dry_h(&self) -> f64 {
        self.dry_h
    }

    /// Hours passed in conditions that were not numbers, in which the index stood still.
    pub const fn unknown_h(&self) -> f64 {
        self.unknown_h
    }

    /// What the mould grows on.
    pub const fn substrate(&self) -> Substrate {
        self.substrate
    }
}

/// What pine loses from hour `from` to hour `from + hours` of a dry time.
fn decline(from: f64, hours: f64) -> f64 {
    let to = from + hours;
    let quick = to.min(QUICK_DECLINE_END_H) - from.min(QUICK_DECLINE_END_H);
    let slow = to.max(SLOW_DECLINE_START_H) - from.max(SLOW_DECLINE_START_H);
    QUICK_DECLINE_PER_H * quick + SLOW_DECLINE_PER_H * slow
}

/// The index after `hours` of constant growth from `start`, with the change of speed at index 1 met exactly.
fn grown(start: f64, growth: &Growth, hours: f64) -> f64 {
    let Growth { below_one_per_h, from_one_per_h, most } = *growth;
    if start >= most {
        return start; // grown in better conditions: it neither grows nor falls in these
    }
    if start >= 1.0 {
        return approach(start, most, from_one_per_h * hours);
    }
    if most <= 1.0 {
        return approach(start, most, below_one_per_h * hours);
    }
    let to_one_h = effort(start, 1.0, most) / below_one_per_h;
    if hours < to_one_h {
        approach(start, most, below_one_per_h * hours)
    } else {
        approach(1.0, most, from_one_per_h * (hours - to_one_h))
    }
}

/// M after the effort k·t: m − ln(1 + (e^{2.3(m−M0)} − 1)·e^{−2.3·k·t})/2.3, the solution of
/// dM/dt = k·(1 − e^{2.3(M−m)}). Never below the start nor above the most, whatever the rounding.
fn approach(start: f64, most: f64, effort: f64) -> f64 {
    let left = libm::expm1(RETARDATION * (most - start)) * libm::exp(-RETARDATION * effort);
    (most - libm::log1p(left) / RETARDATION).max(start).min(most)
}

/// The effort k·t that takes M from `start` to `end`: the inverse of [`approach`].
fn effort(start: f64, end: f64, most: f64) -> f64 {
    let (before, after) =
        (libm::expm1(RETARDATION * (most - start)), libm::expm1(RETARDATION * (most - end)));
    libm::log(before / after) / RETARDATION
}

/// Hours of the running mean.
const MEAN_H: usize = 720;

/// Limit of the running mean, per cent.
const MEAN_LIMIT_PERCENT: f64 = 80.0;

/// [`RunningMean`], as a working shows it.
pub const RUNNING_MEAN: Law = Law::memory(
    "highest mean over 720 hours of p_v / p_ws(T_surface)",
    "ASHRAE 160",
    "text of 2009: 30-day running mean",
);

/// The humidity criterion: the 30-day running mean of the humidity at a surface stays below 80 % while the
/// 30-day running mean of its temperature lies between 5 and 40 °C.
///
/// Source: ASHRAE 160, text of 2009 (from memory; later texts use the mould index).
///
/// Fed in steps of any length; kept as the sums of whole hours, of which the last 720 make the mean. Nothing is
/// said before 30 days have passed.
#[derive(Debug, Clone)]
pub struct RunningMean {
    /// The last [`MEAN_H`] whole hours as (°C, per cent), oldest at `next`.
    hours: Vec<(f64, f64)>,
    next: usize,
    filled: usize,
    sum: (f64, f64),
    /// The hour that is not full yet: length in h, °C·h, %·h.
    open: (f64, f64, f64),
    peak_percent: Option<f64>,
    above_h: f64,
    unknown_h: f64,
}

impl Default for RunningMean {
    fn default() -> Self {
        Self::new()
    }
}

impl RunningMean {
    /// Nothing seen yet. The one allocation is made here.
    pub fn new() -> Self {
        Self {
            hours: vec![(0.0, 0.0); MEAN_H],
            next: 0,
            filled: 0,
            sum: (0.0, 0.0),
            open: (0.0, 0.0, 0.0),
            peak_percent: None,
            above_h: 0.0,
            unknown_h: 0.0,
        }
    }

    /// Lets `hours` pass with the surface at `t_c` °C and `rh_percent`. Humidity counts between 0 and 100 %.
    /// Time with values that are not finite numbers is left out of the mean and counts as [`Self::unknown_h`].
    pub fn advance(&mut self, t_c: f64, rh_percent: f64, hours: f64) {
        if hours.is_nan() || hours <= 0.0 {
            return;
        }
        let mut left = hours.min(LONGEST_STEP_H);
        if !t_c.is_finite() || !rh_percent.is_finite() {
            self.unknown_h += left;
            return;
        }
        let (t_c, rh) = (t_c.clamp(-273.15, 1000.0), rh_percent.clamp(0.0, 100.0));
        // After two windows of the same weather the mean stands still: the rest is counted, not walked.
        let walked = 2.0 * MEAN_H as f64;
        let skipped = (left - walked).max(0.0).floor();
        left -= skipped;
        while left > 0.0 {
            let part = left.min(1.0 - self.open.0);
            self.open.0 += part;
            self.open.1 += t_c * part;
            self.open.2 += rh * part;
            left -= part;
            if self.open.0 >= 1.0 - 1e-12 {
                let (length, t_h, rh_h) = std::mem::take(&mut self.open);
                self.close_hour(t_h / length, rh_h / length);
            }
            if part < 1e-12 {
                break;
            }
        }
        if self.is_above() {
            self.above_h += skipped;
        }
    }

    fn close_hour(&mut self, t_c: f64, rh: f64) {
        let Some(oldest) = self.hours.get_mut(self.next) else { return };
        let (old_t, old_rh) = std::mem::replace(oldest, (t_c, rh));
        self.sum.0 += t_c - old_t;
        self.sum.1 += rh - old_rh;
        self.next += 1;
        self.filled = (self.filled + 1).min(MEAN_H);
        if self.next == MEAN_H {
            self.next = 0;
            // Once a window, so that rounding does not add up over years.
            self.sum =
                self.hours.iter().fold((0.0, 0.0), |sum, hour| (sum.0 + hour.0, sum.1 + hour.1));
        }
        if let Some(rh) = self.counted_percent() {
            self.peak_percent = Some(self.peak_percent.map_or(rh, |peak| peak.max(rh)));
        }
        if self.is_above() {
            self.above_h += 1.0;
        }
    }

    /// Mean temperature in °C and humidity in per cent of the last 30 days; `None` before they have passed.
    pub fn mean(&self) -> Option<(f64, f64)> {
        let count = MEAN_H as f64;
        (self.filled == MEAN_H).then(|| (self.sum.0 / count, self.sum.1 / count))
    }

    /// The mean humidity while the mean temperature counts.
    fn counted_percent(&self) -> Option<f64> {
        self.mean().filter(|(t_c, _)| (5.0..=40.0).contains(t_c)).map(|(_, rh)| rh)
    }

    fn is_above(&self) -> bool {
        // A rounding of the running sum is not a failure.
        self.counted_percent().is_some_and(|rh| rh >= MEAN_LIMIT_PERCENT - 1e-9)
    }

    /// Greatest running mean, per cent, among those whose temperature counts; `None` when there was none.
    pub const fn peak_percent(&self) -> Option<f64> {
        self.peak_percent
    }

    /// Hours at whose end the criterion was not met.
    pub const fn above_h(&self) -> f64 {
        self.above_h
    }

    /// Hours left out because temperature or humidity was not a number.
    pub const fn unknown_h(&self) -> f64 {
        self.unknown_h
    }
}
