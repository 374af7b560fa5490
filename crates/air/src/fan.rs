//! Fan curves: from many points or few, at another speed, density or motor, and where they meet a system.
//!
//! A curve is the pressure a running fan adds at a flow. It is kept at the density of its rating and scaled:
//! at another air density the flow stays and the pressure follows the density; at another speed flow follows
//! the speed and pressure its square (fan laws, ANSI/AMCA 211; ratings by ANSI/AMCA 210 = ASHRAE 51, standard
//! air 1.2 kg/m3).
//!
//! # Static and total pressure
//!
//! Room exhaust fans are rated by static pressure: what the fan adds less the velocity pressure in its own
//! outlet. A network here sums *total* pressure losses, and the last element (terminal or open end) counts
//! the exit velocity pressure once, as C = 1. [`FanCurve::with_outlet`] turns a static rating into the total
//! rise by adding the outlet's velocity pressure. Without it the answer is too low by up to one velocity
//! pressure of the outlet: on the safe side, and what tables made for a static rating pressure imply.
//! Never take the exit loss out of the terminal *and* use `with_outlet`.
//!
//! # Outside the data
//!
//! The solver needs a value at every flow. Past the last point the curve goes on straight with its end slope
//! (bent down where that slope is not falling), below zero flow the pressure rises steeply, as a fan blown
//! through backwards resists. Between zero and a first point at higher flow a shut-off pressure is assumed.
//! [`FanCurve::zone`] says which part a flow lies in, so that nobody takes these parts for data.

use std::sync::Arc;

use dewpath_units::{Airflow, Area, Density, Loudness, Power, Pressure};

use crate::curve::{CurveError, MonotoneCubic};
use crate::law::Law;
use crate::root::{Tolerance, find_root, root_between};

/// Density of standard air for fan ratings, kg/m3 (ANSI/AMCA 210).
pub const RATING_DENSITY_KG_M3: f64 = 1.2;

/// Steepness of the curve below zero flow, as a multiple of top pressure over top flow squared.
/// Judgement, no source: a running fan resists backflow more than it loses pressure forwards.
const BACKFLOW_STEEPNESS: f64 = 2.0;

/// Width of a constant-flow motor's control band, as a share of its set flow. Judgement, no source.
const CONTROL_BAND: f64 = 0.01;

/// Rounding of the corner between set flow and limit curve, as a share of the shut-off pressure.
const CORNER: f64 = 0.02;

/// Which part of a curve a flow lies in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CurveZone {
    /// Air is pushed backwards through the running fan: a steep continuation, no data.
    Backflow,
    /// Below the first rated point: joined to an assumed shut-off pressure, no data.
    BelowData,
    /// Between rated points.
    Data,
    /// Past the last rated point: straight extrapolation.
    BeyondData,
}

/// The points of a curve at rating density and full speed, with their continuation on both sides.
#[derive(Debug, PartialEq)]
struct RatedCurve {
    cubic: MonotoneCubic,
    first_data_flow: f64,
    shut_off: f64,
    slope_at_zero: f64,
    backflow: f64,
    last_flow: f64,
    /// Extra downward bend past the last point; zero where the end slope already falls.
    fall: f64,
    rises: bool,
}

impl RatedCurve {
    fn new(points: &[(f64, f64)]) -> Result<Self, CurveError> {
        if let Some(index) = points.iter().position(|point| point.0 < 0.0) {
            return Err(CurveError::NegativeFlow { index, value: points[index].0 });
        }
        let cubic = MonotoneCubic::new(points)?;
        let first_data_flow = cubic.span().0;
        let cubic = if first_data_flow > 0.0 {
            MonotoneCubic::new(&with_shut_off(points, &cubic))?
        } else {
            cubic
        };
        let top_flow = cubic.span().1;
        let top_pressure = points.iter().map(|point| point.1).fold(0.0, f64::max);
        if top_pressure <= 0.0 {
            return Err(CurveError::NoDuty);
        }
        let (shut_off, slope_at_zero) = cubic.value_slope(0.0);
        let slope_last = cubic.value_slope(top_flow).1;
        let unit = top_pressure / (top_flow * top_flow);
        let falls_at_end = slope_last < -0.05 * top_pressure / top_flow;
        Ok(Self {
            rises: !cubic.never_rises(),
            first_data_flow,
            shut_off,
            slope_at_zero,
            backflow: BACKFLOW_STEEPNESS * unit,
            last_flow: top_flow,
            fall: if falls_at_end { 0.0 } else { unit },
            cubic,
        })
    }

    #[inline]
    fn rise(&self, q: f64) -> (f64, f64) {
        if q < 0.0 {
            let slope = self.slope_at_zero + 2.0 * self.backflow * q;
            return (self.shut_off + q * (self.slope_at_zero + self.backflow * q), slope);
        }
        let (value, slope) = self.cubic.value_slope(q);
        let past = (q - self.last_flow).max(0.0);
        (value - self.fall * past * past, slope - 2.0 * self.fall * past)
    }
}

/// Adds the assumed shut-off point: the first secant carried on to zero flow where it falls, level otherwise.
fn with_shut_off(points: &[(f64, f64)], cubic: &MonotoneCubic) -> Vec<(f64, f64)> {
    let (first, second) = (cubic.knots()[0], cubic.knots()[1]);
    let (at_first, at_second) = (cubic.value_slope(first).0, cubic.value_slope(second).0);
    let fall = ((at_first - at_second) / (second - first)).max(0.0);
    let mut all = points.to_vec();
    all.push((0.0, at_first + fall * first));
    all
}

/// [`FanCurve`] through given points, as a working shows it.
pub const CURVE: Law = Law::confirmed(
    "p_fan = curve(q / s) s^2 rho / 1.2",
    "fan curve of the job or library",
    "monotone cubic, Fritsch & Carlson 1980; AMCA 211 fan laws",
);

/// A running fan: the pressure it adds, at one speed and one air density.
///
/// Cheap to clone: the points are shared.
///
/// # Examples
/// ```
/// use dewpath_air::fan::FanCurve;
/// use dewpath_units::Density;
/// let fan = FanCurve::from_si_points(&[(0.0, 120.0), (0.03, 78.0), (0.05, 0.0)], 1.2)?;
/// let (rise_pa, slope) = fan.rise(0.03);
/// assert_eq!(rise_pa, 78.0);
/// assert!(slope < 0.0);
/// // Thin mountain air: the same flow, less pressure.
/// assert!((fan.at_density(Density::from_kg_m3(0.99))?.rise(0.03).0 - 78.0 * 0.99 / 1.2).abs() < 1e-12);
/// # Ok::<(), dewpath_air::curve::CurveError>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct FanCurve {
    rated: Arc<RatedCurve>,
    rating_density: f64,
    density: f64,
    speed: f64,
    pressure_scale: f64,
    set_flow: Option<f64>,
    outlet_area: Option<f64>,
    /// Velocity pressure of the outlet over flow squared, Pa s2/m6; zero for a static curve.
    outlet_dynamic: f64,
}

impl FanCurve {
    /// A curve through points of flow (m3/s) and static pressure (Pa) at the density of the rating (kg/m3).
    ///
    /// The order of the points does not matter. A stall hump in the data is kept.
    ///
    /// # Errors
    /// Fewer than two points, a negative flow, two pressures at one flow, no point with a pressure above
    /// zero, or numbers that aren't finite.
    pub fn from_si_points(
        points: &[(f64, f64)],
        rating_density_kg_m3: f64,
    ) -> Result<Self, CurveError> {
        positive("the density of the rating", rating_density_kg_m3)?;
        Ok(Self {
            rated: Arc::new(RatedCurve::new(points)?),
            rating_density: rating_density_kg_m3,
            density: rating_density_kg_m3,
            speed: 1.0,
            pressure_scale: 1.0,
            set_flow: None,
            outlet_area: None,
            outlet_dynamic: 0.0,
        })
    }

    /// A curve through points of flow and static pressure at the density of the rating.
    ///
    /// # Errors
    /// As [`FanCurve::from_si_points`].
    pub fn from_points(
        points: &[(Airflow, Pressure)],
        rating_density: Density,
    ) -> Result<Self, CurveError> {
        let si: Vec<(f64, f64)> = points.iter().map(|(q, p)| (q.m3_s(), p.pa())).collect();
        Self::from_si_points(&si, rating_density.kg_m3())
    }

    /// The same fan at a share of its rated speed: flow follows the speed, pressure its square.
    ///
    /// Fan laws, ANSI/AMCA 211. Small motors that slip under load follow them only roughly: prefer the maker's
    /// points for each speed.
    ///
    /// # Errors
    /// [`CurveError::NotPositive`] for a speed that isn't above zero; a fan at rest is an idle fan.
    pub fn at_speed(&self, speed_ratio: f64) -> Result<Self, CurveError> {
        positive("the speed ratio", speed_ratio)?;
        Ok(Self { speed: speed_ratio, ..self.clone() }.rescaled())
    }

    /// The same fan in air of another density: the flow stays, the pressure follows the density.
    ///
    /// # Errors
    /// [`CurveError::NotPositive`] for a density that isn't above zero.
    pub fn at_density(&self, density: Density) -> Result<Self, CurveError> {
        let density = positive("the air density", density.kg_m3())?;
        Ok(Self { density, ..self.clone() }.rescaled())
    }

    /// A motor that holds a set flow as long as its limit, the curve given, allows.
    ///
    /// The curve becomes near-vertical: over the whole pressure range the flow changes by 1 % of the set flow
    /// (judgement, no source), with a smooth corner where the limit takes over. The motor doesn't brake a flow
    /// that wind drives: beyond the set flow it falls to the resistance of an idle fan.
    ///
    /// # Errors
    /// [`CurveError::NotPositive`] for a set flow that isn't above zero.
    pub fn with_set_flow(&self, set_flow: Airflow) -> Result<Self, CurveError> {
        let set_flow = positive("the set flow", set_flow.m3_s())?;
        Ok(Self { set_flow: Some(set_flow), ..self.clone() })
    }

    /// Turns a static rating into the total pressure rise by the velocity pressure in the fan's outlet.
    ///
    /// Total = static + rho/2 (Q/A)^2 (ANSI/AMCA 210, definitions). See the module about counting it once.
    ///
    /// # Errors
    /// [`CurveError::NotPositive`] for an area that isn't above zero.
    pub fn with_outlet(&self, outlet: Area) -> Result<Self, CurveError> {
        let area = positive("the outlet area", outlet.m2())?;
        Ok(Self { outlet_area: Some(area), ..self.clone() }.rescaled())
    }

    fn rescaled(mut self) -> Self {
        self.pressure_scale = self.speed * self.speed * self.density / self.rating_density;
        self.outlet_dynamic =
            self.outlet_area.map_or(0.0, |area| 0.5 * self.density / (area * area));
        self
    }

    /// Pressure added at a flow (m3/s), Pa, and its slope, Pa s/m3. Defined for every flow.
    #[inline]
    pub fn rise(&self, q: f64) -> (f64, f64) {
        let (p, slope) = self.limit(q);
        let (p, slope) = match self.set_flow {
            None => (p, slope),
            Some(set) => self.held(q, set, p, slope),
        };
        (p + self.outlet_dynamic * q * q.abs(), slope + 2.0 * self.outlet_dynamic * q.abs())
    }

    /// The curve at full drive.
    #[inline]
    fn limit(&self, q: f64) -> (f64, f64) {
        let (p, slope) = self.rated.rise(q / self.speed);
        (p * self.pressure_scale, slope * self.pressure_scale / self.speed)
    }

    /// Smooth lesser of the limit curve and the set flow, never below what the fan resists when idle.
    fn held(&self, q: f64, set: f64, limit: f64, limit_slope: f64) -> (f64, f64) {
        let top = self.limit(0.0).0.abs().max(f64::MIN_POSITIVE);
        let steep = top / (CONTROL_BAND * set);
        let held =
            smooth_min((limit, limit_slope), (0.5 * top + steep * (set - q), -steep), CORNER * top);
        let k = self.idle_resistance();
        let idle = (-k * q * q.abs(), -2.0 * k * q.abs());
        negated(smooth_min(negated(held), negated(idle), CORNER * top))
    }

    /// Resistance of this fan at rest, Pa s2/m6: its shut-off pressure at its free-air flow.
    ///
    /// Judgement, no source: for want of a measured value.
    pub fn idle_resistance(&self) -> f64 {
        let free = self.rated.last_flow * self.speed;
        let shut_off = self.limit(0.0).0.abs().max(f64::MIN_POSITIVE);
        shut_off / (free * free)
    }

    /// Which part of the curve a flow (m3/s) lies in.
    pub fn zone(&self, q: f64) -> CurveZone {
        let at_rating = q / self.speed;
        if at_rating < 0.0 {
            CurveZone::Backflow
        } else if at_rating < self.rated.first_data_flow {
            CurveZone::BelowData
        } else if at_rating <= self.rated.last_flow {
            CurveZone::Data
        } else {
            CurveZone::BeyondData
        }
    }

    /// Whether the pressure rises with flow anywhere in the data (a stall hump), so that a system may meet the
    /// curve more than once.
    pub fn has_hump(&self) -> bool {
        self.rated.rises
    }

    /// Flow of the last point at the present speed, m3/s.
    pub fn last_flow_m3_s(&self) -> f64 {
        self.rated.last_flow * self.speed
    }

    /// Pressure at zero flow, Pa.
    pub fn shut_off_pa(&self) -> f64 {
        self.rise(0.0).0
    }

    /// Flows at which the curve changes its piece, at the present speed, rising, m3/s.
    pub fn knots_m3_s(&self) -> impl Iterator<Item = f64> + '_ {
        self.rated.cubic.knots().iter().map(move |knot| knot * self.speed)
    }

    /// Every flow at which this curve meets a system, from the lowest up.
    ///
    /// `system` gives the pressure the system needs at a flow and its slope; it may have a part that doesn't
    /// depend on flow (wind). A point is stable where the system rises faster than the fan: a little more flow
    /// then needs more pressure than the fan has. Where curves touch without crossing nothing is reported.
    pub fn crossings(&self, system: impl Fn(f64) -> (f64, f64)) -> Vec<Crossing> {
        let excess = |q: f64| {
            let (need, need_slope) = system(q);
            let (has, has_slope) = self.rise(q);
            (need - has, need_slope - has_slope)
        };
        let grid = self.scan_flows();
        let mut found = Vec::new();
        for pair in grid.windows(2) {
            let (low, high) = (excess(pair[0]).0, excess(pair[1]).0);
            if (low < 0.0) == (high < 0.0) || !low.is_finite() || !high.is_finite() {
                continue;
            }
            let q = root_between(&excess, pair[0], pair[1]);
            found.push(Crossing { q_m3_s: q, p_pa: self.rise(q).0, stable: low < 0.0 });
        }
        found
    }

    /// The stable crossing with the highest flow, where a fan that starts up ends; `None` if there is none.
    pub fn operating_point(&self, system: impl Fn(f64) -> (f64, f64)) -> Option<Crossing> {
        self.crossings(system).into_iter().rev().find(|crossing| crossing.stable)
    }

    /// The operating point on a system whose need rises with flow, from a flow near it (m3/s): the quick way when
    /// many fans are tried on one system.
    ///
    /// A curve with a stall hump is searched as in [`FanCurve::operating_point`]. `None` if there is no point or
    /// the system isn't finite.
    pub fn operating_point_near(
        &self,
        system: impl Fn(f64) -> (f64, f64),
        near_m3_s: f64,
    ) -> Option<Crossing> {
        if self.has_hump() {
            return self.operating_point(system);
        }
        let excess = |q: f64| {
            let (need, need_slope) = system(q);
            let (has, has_slope) = self.rise(q);
            (need - has, need_slope - has_slope)
        };
        let root = find_root(&excess, near_m3_s, &Tolerance::default()).ok()?;
        Some(Crossing { q_m3_s: root.q, p_pa: self.rise(root.q).0, stable: root.slope >= 0.0 })
    }

    /// Flows close enough together to separate crossings: every piece in eight, and far out on both sides.
    pub(crate) fn scan_flows(&self) -> Vec<f64> {
        let top = self.last_flow_m3_s();
        let knots: Vec<f64> = self.knots_m3_s().collect();
        let mut flows: Vec<f64> =
            [-64.0, -16.0, -4.0, -2.0, -1.0, -0.5, -0.2, -0.1].iter().map(|s| s * top).collect();
        for pair in knots.windows(2) {
            flows.extend((0..8).map(|k| pair[0] + (pair[1] - pair[0]) * f64::from(k) / 8.0));
        }
        flows.extend([1.0, 1.05, 1.1, 1.2, 1.5, 2.0, 4.0, 16.0, 64.0].iter().map(|s| s * top));
        flows
    }
}

/// A flow at which fan and system need the same pressure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// Flow, m3/s.
    pub q_m3_s: f64,
    /// Pressure the fan adds there, Pa.
    pub p_pa: f64,
    /// Whether the fan returns here after a small disturbance.
    pub stable: bool,
}

impl Crossing {
    /// Flow of the crossing.
    pub fn flow(&self) -> Airflow {
        Airflow::from_m3_s(self.q_m3_s)
    }

    /// Pressure the fan adds there.
    pub fn pressure(&self) -> Pressure {
        Pressure::from_pa(self.p_pa)
    }
}

fn negated(pair: (f64, f64)) -> (f64, f64) {
    (-pair.0, -pair.1)
}

/// The lesser of two values with their slopes, its corner rounded over `width`.
fn smooth_min(a: (f64, f64), b: (f64, f64), width: f64) -> (f64, f64) {
    let gap = a.0 - b.0;
    let root = (gap * gap + width * width).sqrt();
    let tilt = gap / root;
    let slope = 0.5 * (a.1 * (1.0 - tilt) + b.1 * (1.0 + tilt));
    // Written without the difference of two large numbers, which would lose the small one.
    let value = a.0.min(b.0) - 0.5 * width * width / (root + gap.abs());
    (value, slope)
}

fn positive(what: &'static str, value: f64) -> Result<f64, CurveError> {
    if value.is_finite() && value > 0.0 {
        Ok(value)
    } else {
        Err(CurveError::NotPositive { what, value })
    }
}

/// How a fan moves air, which limits the shapes its curve can have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FanType {
    /// A propeller in the housing: much flow, little pressure.
    Axial,
    /// A squirrel-cage wheel, the usual ceiling fan.
    Centrifugal,
    /// A duct fan away from the room (mixed-flow or centrifugal).
    Inline,
    /// Not known.
    Unknown,
}

/// Typical shapes of a fan type.
///
/// All numbers are judgement, no source: wide enough to hold the catalogue curves one meets, to be replaced by
/// a maker's curve or a measurement wherever there is one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShapeLimits {
    /// Lowest and highest usual pressure at zero flow, Pa.
    pub shut_off_pa: (f64, f64),
    /// Exponent m of P = P0 (1 - (Q/Qfree)^m) when only one point is known.
    pub exponent: f64,
    /// Lowest and highest exponent when two points are known.
    pub exponents: (f64, f64),
}

impl FanType {
    /// The limits of [`ShapeLimits`] for this type (judgement, no source).
    pub const fn shape_limits(self) -> ShapeLimits {
        match self {
            Self::Axial => {
                ShapeLimits { shut_off_pa: (35.0, 90.0), exponent: 1.6, exponents: (1.0, 3.0) }
            }
            Self::Centrifugal => {
                ShapeLimits { shut_off_pa: (75.0, 220.0), exponent: 2.0, exponents: (1.3, 4.0) }
            }
            Self::Inline => {
                ShapeLimits { shut_off_pa: (150.0, 450.0), exponent: 1.8, exponents: (1.2, 3.5) }
            }
            Self::Unknown => {
                ShapeLimits { shut_off_pa: (40.0, 300.0), exponent: 2.0, exponents: (1.0, 4.0) }
            }
        }
    }
}

/// What little is known of a curve.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Known {
    One { q: f64, p: f64 },
    Two { at_low: (f64, f64), at_high: (f64, f64) },
    BoxNumber { q: f64 },
}

/// [`CurveBand`], as a working shows it.
pub const BAND: Law = Law::judgement(
    "p_fan = curve(q / s) s^2 rho / 1.2",
    "band of curves through what the label says; AMCA 211 fan laws",
);

/// All curves a fan may have when only one or two rated points, or the number on the box, are known.
///
/// One shape parameter from 0 to 1 runs through the family P = P0 (1 - (Q/Qfree)^m): 0 is the weakest fan
/// against more pressure than rated, 1 the strongest. Every member goes exactly through the known points.
///
/// # Examples
/// ```
/// use dewpath_air::fan::{CurveBand, FanType};
/// use dewpath_units::{Airflow, Pressure};
/// let (flow, pressure) = (Airflow::from_l_s(23.6), Pressure::from_pa(25.0));
/// let band = CurveBand::from_point(flow, pressure, FanType::Centrifugal)?;
/// let (weak, strong) = (band.member(0.0)?, band.member(1.0)?);
/// assert_eq!(weak.rise(flow.m3_s()).0, 25.0);
/// assert_eq!(strong.rise(flow.m3_s()).0, 25.0);
/// assert!(weak.rise(0.015).0 < strong.rise(0.015).0);
/// # Ok::<(), dewpath_air::curve::CurveError>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CurveBand {
    known: Known,
    limits: ShapeLimits,
}

/// Highest pressure at which a bare box number may have been rated, Pa: 0.1 in. of water, a common sound and
/// flow rating pressure. Common practice, no source.
pub const BOX_NUMBER_PRESSURE_PA: f64 = 24.9;

impl CurveBand {
    /// From one rated point: flow at a static pressure, zero for free air.
    ///
    /// The shut-off pressure runs over the usual range of the type, widened where the rating pressure asks for
    /// it (1.25 to 2.5 times the rating pressure at least; judgement, no source).
    ///
    /// # Errors
    /// [`CurveError::NotPositive`] for a flow that isn't above zero or a pressure below zero.
    pub fn from_point(flow: Airflow, pressure: Pressure, fan: FanType) -> Result<Self, CurveError> {
        let (q, p) = rated_point(flow, pressure)?;
        Ok(Self { known: Known::One { q, p }, limits: fan.shape_limits() })
    }

    /// From two rated points of flow and static pressure, such as those at 0.1 and 0.25 in. of water, in any order.
    ///
    /// # Errors
    /// [`CurveError::NotPositive`] as for one point; [`CurveError::NotFalling`] if the flow doesn't fall from
    /// the lower to the higher pressure (a motor that holds its flow: use [`FanCurve::with_set_flow`]).
    pub fn from_points(
        a: (Airflow, Pressure),
        b: (Airflow, Pressure),
        fan: FanType,
    ) -> Result<Self, CurveError> {
        let (a, b) = (rated_point(a.0, a.1)?, rated_point(b.0, b.1)?);
        let (at_low, at_high) = if a.1 <= b.1 { (a, b) } else { (b, a) };
        if at_low.1 >= at_high.1 || at_low.0 <= at_high.0 {
            return Err(CurveError::NotFalling { low_pa: at_low.1, high_pa: at_high.1 });
        }
        Ok(Self { known: Known::Two { at_low, at_high }, limits: fan.shape_limits() })
    }

    /// From the flow on the box alone, its pressure unstated: anywhere from free air to 0.1 in. of water.
    ///
    /// The pressure runs with the shape, from free air for the weakest fan to [`BOX_NUMBER_PRESSURE_PA`].
    ///
    /// # Errors
    /// [`CurveError::NotPositive`] for a flow that isn't above zero.
    pub fn from_box_number(flow: Airflow, fan: FanType) -> Result<Self, CurveError> {
        let q = positive("the flow on the box", flow.m3_s())?;
        Ok(Self { known: Known::BoxNumber { q }, limits: fan.shape_limits() })
    }

    /// One curve of the family; `shape` is kept within 0 (weakest) and 1 (strongest).
    ///
    /// # Errors
    /// [`CurveError::NotFinite`] for a shape that isn't a number.
    pub fn member(&self, shape: f64) -> Result<FanCurve, CurveError> {
        if shape.is_nan() {
            return Err(CurveError::NotFinite { index: 0 });
        }
        let shape = shape.clamp(0.0, 1.0);
        match self.known {
            Known::One { q, p } => self.through_one(q, p, shape),
            Known::BoxNumber { q } => self.through_one(q, shape * BOX_NUMBER_PRESSURE_PA, shape),
            Known::Two { at_low, at_high } => self.through_two(at_low, at_high, shape),
        }
    }

    fn through_one(&self, q: f64, p: f64, shape: f64) -> Result<FanCurve, CurveError> {
        let low = self.limits.shut_off_pa.0.max(1.25 * p);
        let high = self.limits.shut_off_pa.1.max(2.5 * p);
        let shut_off = low * libm::pow(high / low, shape);
        let exponent = self.limits.exponent;
        let free = q / libm::pow(1.0 - p / shut_off, 1.0 / exponent);
        sampled(shut_off, free, exponent, &[(q, p)])
    }

    fn through_two(
        &self,
        low: (f64, f64),
        high: (f64, f64),
        shape: f64,
    ) -> Result<FanCurve, CurveError> {
        // The larger exponent has the lower shut-off pressure: the weaker fan.
        let (least, most) = self.limits.exponents;
        let exponent = most + (least - most) * shape;
        let ratio = libm::pow(high.0 / low.0, exponent);
        let shut_off = low.1 + (high.1 - low.1) / (1.0 - ratio);
        let free = low.0 / libm::pow(1.0 - low.1 / shut_off, 1.0 / exponent);
        sampled(shut_off, free, exponent, &[low, high])
    }
}

/// A rated point in SI, checked.
fn rated_point(flow: Airflow, pressure: Pressure) -> Result<(f64, f64), CurveError> {
    let q = positive("the rated flow", flow.m3_s())?;
    let p = pressure.pa();
    if p.is_finite() && p >= 0.0 {
        Ok((q, p))
    } else {
        Err(CurveError::NotPositive { what: "the rating pressure", value: p })
    }
}

/// Points of P0 (1 - (Q/Qfree)^m) with the known points among them.
fn sampled(
    shut_off: f64,
    free: f64,
    exponent: f64,
    known: &[(f64, f64)],
) -> Result<FanCurve, CurveError> {
    const SHARES: [f64; 10] = [0.0, 0.2, 0.4, 0.55, 0.7, 0.8, 0.87, 0.93, 0.97, 1.0];
    let mut points = known.to_vec();
    for share in SHARES {
        // A sample beside a known point would only make a needlessly short piece.
        if known.iter().all(|point| (point.0 / free - share).abs() > 0.015) {
            points.push((share * free, shut_off * (1.0 - libm::pow(share, exponent))));
        }
    }
    FanCurve::from_si_points(&points, RATING_DENSITY_KG_M3)
}

/// What can be said of a fan's loudness at a pressure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LoudnessBound {
    /// At the rating pressure: the rated loudness.
    AsRated(Loudness),
    /// Above the rating pressure: at least the rated loudness.
    AtLeast(Loudness),
    /// Below the rating pressure: at most the rated loudness.
    AtMost(Loudness),
}

/// A rated loudness with the pressure it was rated at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SoundRating {
    /// Loudness as rated.
    pub loudness: Loudness,
    /// Static pressure of the rating.
    pub pressure: Pressure,
}

/// Distance from the rating pressure within which the rating itself holds, Pa. Judgement, no source.
const SAME_PRESSURE_PA: f64 = 2.0;

impl SoundRating {
    /// Where the one-sided bounds come from.
    pub const SOURCE: &'static str =
        "no source: a fan is louder against more pressure, how much isn't rated";

    /// What the rating says at another static pressure: a bound on one side, away from the rating.
    ///
    /// Within 2 Pa of the rating pressure the rating itself holds (judgement, no source). `None` if the pressure
    /// isn't a number.
    pub fn at_pressure(&self, pressure: Pressure) -> Option<LoudnessBound> {
        let above = pressure.pa() - self.pressure.pa();
        if above.is_nan() {
            None
        } else if above.abs() <= SAME_PRESSURE_PA {
            Some(LoudnessBound::AsRated(self.loudness))
        } else if above > 0.0 {
            Some(LoudnessBound::AtLeast(self.loudness))
        } else {
            Some(LoudnessBound::AtMost(self.loudness))
        }
    }
}

/// Electrical power over flow, from a maker's points.
#[derive(Clone, Debug, PartialEq)]
pub struct PowerCurve {
    cubic: MonotoneCubic,
    rating_density: f64,
}

/// Power at a flow, and whether it lies within the maker's points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PowerAt {
    /// Electrical power.
    pub power: Power,
    /// Whether the flow lies between the first and the last point; outside them the nearest one's power is held.
    pub in_data: bool,
}

impl PowerCurve {
    /// Through points of flow and power at the density of the rating.
    ///
    /// # Errors
    /// As [`MonotoneCubic::new`], and [`CurveError::NotPositive`] for the density.
    pub fn from_points(
        points: &[(Airflow, Power)],
        rating_density: Density,
    ) -> Result<Self, CurveError> {
        let rating_density = positive("the density of the rating", rating_density.kg_m3())?;
        let si: Vec<(f64, f64)> = points.iter().map(|(q, power)| (q.m3_s(), power.w())).collect();
        Ok(Self { cubic: MonotoneCubic::new(&si)?, rating_density })
    }

    /// Power at a flow, a share of the rated speed, and an air density.
    ///
    /// Power follows the cube of the speed and the density (fan laws, ANSI/AMCA 211).
    ///
    /// # Errors
    /// [`CurveError::NotPositive`] for a speed or density that isn't above zero, [`CurveError::NotFinite`] for a
    /// flow that isn't finite.
    pub fn power(
        &self,
        flow: Airflow,
        speed_ratio: f64,
        density: Density,
    ) -> Result<PowerAt, CurveError> {
        let speed = positive("the speed ratio", speed_ratio)?;
        let density = positive("the air density", density.kg_m3())?;
        if !flow.m3_s().is_finite() {
            return Err(CurveError::NotFinite { index: 0 });
        }
        let (first, last) = self.cubic.span();
        let at_rating = flow.m3_s() / speed;
        let rated = self.cubic.value_slope(at_rating.clamp(first, last)).0;
        Ok(PowerAt {
            power: Power::from_w(rated * speed * speed * speed * density / self.rating_density),
            in_data: at_rating >= first && at_rating <= last,
        })
    }
}
