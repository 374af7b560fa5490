//! Saturation of air, tabulated for the steps of a simulation: no exponential, no logarithm, no allocation.
//!
//! [`Saturation`] holds the saturation pressure over ice below the triple point (0.01 °C) and over water
//! above it, the equations of Hyland & Wexler 1983 as in [`dewpath_air::moist_air::saturation_pressure`],
//! as cubics that meet value and slope of the equation at nodes 1/8 K apart. The triple point is a node, so
//! that no cubic spans the two equations.
//!
//! # How far it can be off
//! A cubic through value and slope at both ends of a step h leaves at most h⁴/384 · max|p⁗| (the usual
//! remainder of Hermite interpolation). With p = exp(g), p⁗/p = g′⁴ + 6g′²g″ + 3g″² + 4g′g‴ + g⁗. From
//! −60 to 100 °C g″ and g⁗ are negative, 0 < g′ ≤ 0.137 per K, |g″| ≤ 1.3e-3 and 0 < g‴ ≤ 2e-5, so that
//! |p⁗|/p ≤ 3.7e-4, and p grows by less than 2 % over a step: the error is below
//! (1/8)⁴/384 · 3.7e-4 · 1.02 = 2.4e-10 of p. Rounding adds less than 1e-12. The bound kept here is
//! [`RELATIVE_ERROR`]; the tests look at a quarter of a million points.
//!
//! All functions are total, for use inside steps whose inputs were checked before: a temperature beyond
//! the table is taken at its end, and what is not a number at the low end. They never panic.
//!
//! ```
//! use dewpath_moisture::saturation::Saturation;
//! let saturation = Saturation::shared();
//! assert!((saturation.pressure_pa(20.0) - 2338.8037).abs() < 1e-4);
//! assert!((saturation.humidity_ratio(20.0, 101_325.0) - 0.014695).abs() < 1e-6);
//! ```

use std::sync::LazyLock;

pub use dewpath_air::moist_air::MASS_RATIO;
use dewpath_air::moist_air::{FREEZING_K, saturation_over_ice, saturation_over_water};

/// What a tabulated pressure may be off, as a part of itself; the proof stands at the head of the module.
pub const RELATIVE_ERROR: f64 = 3e-10;

/// Where ice and water are told apart, °C: the triple point.
pub const TRIPLE_POINT_C: f64 = 0.01;

/// Low end of the table, °C.
pub const LOW_C: f64 = TRIPLE_POINT_C - STEPS_BELOW as f64 / STEPS_PER_K;

/// High end of the table, °C.
pub const HIGH_C: f64 = TRIPLE_POINT_C + STEPS_ABOVE as f64 / STEPS_PER_K;

/// Vapour is at most this share of the total pressure: closer to boiling a humidity ratio has no use.
const MOST_VAPOUR: f64 = 0.99;

/// Total pressures beyond these are taken as these, Pa, so that a division stays a number.
const LEAST_PRESSURE_PA: f64 = 1.0;
const MOST_PRESSURE_PA: f64 = 1e9;

/// Humidity ratio at [`MOST_VAPOUR`]: what is given where water would boil.
const MOST_HUMIDITY_RATIO: f64 = MASS_RATIO * MOST_VAPOUR / (1.0 - MOST_VAPOUR);

const STEPS_PER_K: f64 = 8.0;
const STEPS_BELOW: usize = 481;
const STEPS_ABOVE: usize = 800;
const STEPS: usize = STEPS_BELOW + STEPS_ABOVE;

/// The polynomial of one step: p = c0 + x·(c1 + x·(c2 + x·c3)), x from 0 to 1 over the step.
type Cubic = [f64; 4];

/// Saturation pressure as a table of cubics; see the [module](self).
#[derive(Debug, Clone)]
pub struct Saturation {
    /// One for each step, from [`LOW_C`] up.
    cubics: Vec<Cubic>,
}

static SHARED: LazyLock<Saturation> = LazyLock::new(Saturation::new);

impl Default for Saturation {
    fn default() -> Self {
        Self::new()
    }
}

impl Saturation {
    /// Computes the table; some tens of microseconds. [`Self::shared`] does it once for all.
    pub fn new() -> Self {
        let node = |i: usize| TRIPLE_POINT_C + (i as f64 - STEPS_BELOW as f64) / STEPS_PER_K;
        let cubics = (0..STEPS)
            .map(|i| {
                let over_ice = i < STEPS_BELOW;
                let (p0, s0) = equation(node(i), over_ice);
                let (p1, s1) = equation(node(i + 1), over_ice);
                let (s0, s1) = (s0 / STEPS_PER_K, s1 / STEPS_PER_K);
                [p0, s0, 3.0 * (p1 - p0) - 2.0 * s0 - s1, 2.0 * (p0 - p1) + s0 + s1]
            })
            .collect();
        Self { cubics }
    }

    /// The table that everyone in the program may share.
    #[inline]
    pub fn shared() -> &'static Self {
        &SHARED
    }

    /// The cubic at `t_c` and the place in it, 0 to 1.
    #[inline]
    fn at(&self, t_c: f64) -> (&Cubic, f64) {
        let place = within((t_c - LOW_C) * STEPS_PER_K, 0.0, STEPS as f64);
        let step = (place as usize).min(STEPS - 1);
        (&self.cubics[step], place - step as f64)
    }

    /// Saturation pressure, Pa, at `t_c` °C.
    #[inline]
    pub fn pressure_pa(&self, t_c: f64) -> f64 {
        let ([c0, c1, c2, c3], x) = self.at(t_c);
        c0 + x * (c1 + x * (c2 + x * c3))
    }

    /// Saturation pressure, Pa, and its slope, Pa/K; beyond the table the slope of its end. The slope is within
    /// 1e-7 of itself.
    #[inline]
    pub fn pressure_and_slope(&self, t_c: f64) -> (f64, f64) {
        let ([c0, c1, c2, c3], x) = self.at(t_c);
        let pressure = c0 + x * (c1 + x * (c2 + x * c3));
        let slope = (c1 + x * (2.0 * c2 + x * 3.0 * c3)) * STEPS_PER_K;
        (pressure, slope)
    }

    /// kg vapour per kg dry air of saturated air at `t_c` °C and `p_pa` Pa in total: 0.621945·p_ws/(p − p_ws).
    ///
    /// Where the water would boil (p_ws above 0.99 p) the ratio stays at that of 0.99 p, 61.6 kg/kg.
    #[inline]
    pub fn humidity_ratio(&self, t_c: f64, p_pa: f64) -> f64 {
        let p = total_pressure(p_pa);
        let vapour = self.pressure_pa(t_c).min(MOST_VAPOUR * p);
        (MASS_RATIO * vapour / (p - vapour)).min(MOST_HUMIDITY_RATIO)
    }

    /// [`Self::humidity_ratio`] and its slope, 1/K: 0.621945·p·p_ws′/(p − p_ws)²; 0 where the ratio is held.
    #[inline]
    pub fn humidity_ratio_and_slope(&self, t_c: f64, p_pa: f64) -> (f64, f64) {
        let p = total_pressure(p_pa);
        let (vapour, slope) = self.pressure_and_slope(t_c);
        if vapour >= MOST_VAPOUR * p {
            return (MOST_HUMIDITY_RATIO, 0.0);
        }
        let dry = 1.0 / (p - vapour);
        let ratio = MASS_RATIO * vapour * dry;
        // (0.621945 + W)/(p − p_ws) is 0.621945·p/(p − p_ws)², without a product that could overflow.
        (ratio, (MASS_RATIO + ratio) * dry * slope)
    }

    /// Vapour pressure over saturation pressure of air at `t_c` °C holding `w` kg per kg dry air; above 1 is
    /// fog.
    #[inline]
    pub fn relative_humidity(&self, w: f64, t_c: f64, p_pa: f64) -> f64 {
        let w = within(w, 0.0, MOST_HUMIDITY_RATIO);
        // One division for both quotients.
        total_pressure(p_pa) * w / ((MASS_RATIO + w) * self.pressure_pa(t_c))
    }

    /// Dew point in °C (frost point below 0.01 °C) of air holding `w` kg per kg dry air: the temperature at
    /// which [`Self::pressure_pa`] is the vapour pressure, to 1e-9 K. Air drier than the low end of the
    /// table has the dew point of that end here, air that holds no vapour included.
    pub fn dew_point_c(&self, w: f64, p_pa: f64) -> f64 {
        let vapour = vapour_pressure_pa(w, p_pa);
        // The first step that starts above, less one.
        let above = self.cubics.partition_point(|cubic| cubic[0] <= vapour);
        let Some(step) = above.checked_sub(1) else { return LOW_C };
        let [c0, c1, c2, c3] = self.cubics[step];
        let mut x = ((vapour - c0) / c1).clamp(0.0, 1.0);
        // The cubic is within 1 % of a straight line: each turn squares the distance.
        for _ in 0..4 {
            let off = c0 + x * (c1 + x * (c2 + x * c3)) - vapour;
            x = (x - off / (c1 + x * (2.0 * c2 + x * 3.0 * c3))).clamp(0.0, 1.0);
        }
        LOW_C + (step as f64 + x) / STEPS_PER_K
    }
}

/// Vapour pressure, Pa, of air holding `w` kg per kg dry air at `p_pa` in total: p·W/(0.621945 + W); none for
/// a `w` below zero or not a number.
#[inline]
pub fn vapour_pressure_pa(w: f64, p_pa: f64) -> f64 {
    let w = within(w, 0.0, MOST_HUMIDITY_RATIO);
    total_pressure(p_pa) * (w / (MASS_RATIO + w))
}

/// A total pressure that can be divided by; what is not a number becomes the least.
#[inline]
fn total_pressure(p_pa: f64) -> f64 {
    within(p_pa, LEAST_PRESSURE_PA, MOST_PRESSURE_PA)
}

/// `value` between two limits; unlike `clamp`, the low one for what is not a number.
#[inline]
fn within(value: f64, low: f64, high: f64) -> f64 {
    if value > low { value.min(high) } else { low }
}

/// Pressure and slope of the equation over ice or over water at `t_c` °C, Pa and Pa/K.
fn equation(t_c: f64, over_ice: bool) -> (f64, f64) {
    let t_k = t_c + FREEZING_K;
    if over_ice { saturation_over_ice(t_k) } else { saturation_over_water(t_k) }
}
