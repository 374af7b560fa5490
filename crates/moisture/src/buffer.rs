//! Sorption of moisture in gypsum, behind paint, and in textiles.
//!
//! Materials take vapour up when the room is damp and give it back for hours. A swing of period τ reaches the
//! effective penetration depth d = √(δ·p_ws·τ/(π·ρ·ξ)) into a material of vapour permeability δ, density ρ and
//! sorption slope ξ = du/dφ. A shower is over in minutes, bathing repeats daily and the weather weekly:
//! [`BufferChain`] cuts a board at the depths of an hour, a day and a week, never beyond the board, and passes
//! vapour from one layer to the next.
//!
//! Sources: effective penetration depth, Kerestecioglu 1990 and Cunningham 1992/2003; with a deep layer, Woods,
//! Winkler & Christensen 2013, NREL/TP-5500-57441; moisture buffer value, Rode et al. 2005 (NORDTEST). The
//! slope ξ is taken as constant: true from about 30 to 80 %; above 85 % real materials take up more.
//!
//! ```
//! use dewpath_moisture::buffer::{BufferChain, Coating, Material};
//! use dewpath_units::Temperature;
//! let room = Temperature::from_c(20.0);
//! let bare = BufferChain::new(&Material::gypsum_board(), Coating::Bare, room)?;
//! let painted = BufferChain::new(&Material::gypsum_board(), Coating::Latex, room)?;
//! // Grams for each square metre and per cent of humidity in a day, 8 h damp and 16 h dry.
//! assert!((0.6..0.9).contains(&bare.practical_buffer_value_g(room)?));
//! assert!((0.1..0.45).contains(&painted.practical_buffer_value_g(room)?));
//! # Ok::<(), dewpath_air::domain::OutOfDomain>(())
//! ```

use std::f64::consts::PI;

use dewpath_air::domain::{Domain, OutOfDomain, positive};
use dewpath_air::flex::Band;
use dewpath_units::{Duration, Length, Temperature};

use crate::saturation::Saturation;
use crate::source::PLACE;

/// Periods that a chain follows: a shower and its aftermath, a day, a week.
pub const PERIODS: [Duration; 3] =
    [Duration::from_h(1.0), Duration::from_h(24.0), Duration::from_h(168.0)];

/// A material that takes up vapour, reached from one face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Material {
    /// Dry density, kg/m³.
    pub density_kg_m3: f64,
    /// Slope ξ of the sorption curve: kg water per kg dry material and unit of relative humidity (0 to 1).
    pub sorption_slope: f64,
    /// Vapour permeability δ, kg/(m·s·Pa).
    pub permeability_kg_m_s_pa: f64,
    /// Thickness that can be reached from the face.
    pub thickness: Length,
}

impl Material {
    /// Gypsum board of 12.7 mm (1/2 in.), bare; its back lies on insulation or a cavity and takes no part.
    ///
    /// Source: representative, not a standard: density 640 kg/m³ (ASHRAE Fundamentals table), permeability from
    /// the published permeance 2.86e-9 kg/(m²·s·Pa) of 9.5 mm (Çengel & Ghajar, ch. 14), ξ 0.0075 (0.005–0.010
    /// mid-range, from memory). Laboratories scatter widely on coated board (Roels et al. 2010).
    pub const fn gypsum_board() -> Self {
        Self {
            density_kg_m3: 640.0,
            sorption_slope: 0.0075,
            permeability_kg_m_s_pa: 2.717e-11,
            thickness: Length::from_m(0.0127),
        }
    }

    /// Terry towel or cotton mat, for each m² of *each* face: 0.5 kg/m² in all, 4 mm thick, hung free.
    ///
    /// Source: ξ 0.12 from the moisture regain of cotton, about 8 % at 65 % humidity (from memory);
    /// permeability half that of still air (judgement).
    pub const fn towel() -> Self {
        Self {
            density_kg_m3: 125.0,
            sorption_slope: 0.12,
            permeability_kg_m_s_pa: 1.0e-10,
            thickness: Length::from_m(0.002),
        }
    }

    fn check(&self) -> Result<(), OutOfDomain> {
        DENSITY.check(self.density_kg_m3)?;
        SLOPE.check(self.sorption_slope)?;
        PERMEABILITY.check(self.permeability_kg_m_s_pa)?;
        THICKNESS.check(self.thickness.m())?;
        Ok(())
    }

    /// Water in kg for each m³ and unit of relative humidity.
    fn capacity_kg_m3(&self) -> f64 {
        self.density_kg_m3 * self.sorption_slope
    }

    /// Effective penetration depth of a swing of humidity at the face: √(δ·p_ws·τ/(π·ρ·ξ)), as if the material
    /// were thick.
    ///
    /// # Errors
    /// [`OutOfDomain`] for a material whose numbers are not positive or beyond any material, a temperature
    /// outside −40 to 60 °C, or a period outside 1 s to 10 years.
    pub fn penetration_depth(
        &self,
        temperature: Temperature,
        period: Duration,
    ) -> Result<Length, OutOfDomain> {
        self.check()?;
        let p_ws = saturation_pa(temperature)?;
        let tau = PERIOD.check(period.s())?;
        Ok(Length::from_m(self.depth_m(p_ws, tau)))
    }

    fn depth_m(&self, p_ws: f64, tau_s: f64) -> f64 {
        (self.permeability_kg_m_s_pa * p_ws * tau_s / (PI * self.capacity_kg_m3())).sqrt()
    }

    /// Moisture effusivity b_m = √(δ·ρ·ξ/p_ws), kg/(m²·Pa·√s).
    ///
    /// Source: Rode et al. 2005.
    ///
    /// # Errors
    /// As [`Self::penetration_depth`].
    pub fn effusivity(&self, temperature: Temperature) -> Result<f64, OutOfDomain> {
        self.check()?;
        let p_ws = saturation_pa(temperature)?;
        Ok((self.permeability_kg_m_s_pa * self.capacity_kg_m3() / p_ws).sqrt())
    }

    /// Ideal moisture buffer value, 0.00568·p_ws·b_m·√t_p, in g/(m²·%) for a period t_p of which a third is
    /// damp: thick material, no resistance at its face.
    ///
    /// Source: Rode et al. 2005.
    ///
    /// # Errors
    /// As [`Self::penetration_depth`].
    pub fn ideal_buffer_value_g(
        &self,
        temperature: Temperature,
        period: Duration,
    ) -> Result<f64, OutOfDomain> {
        let effusivity = self.effusivity(temperature)?;
        let tau = PERIOD.check(period.s())?;
        Ok(0.00568 * saturation_pa(temperature)? * effusivity * tau.sqrt() * 1000.0)
    }
}

const DENSITY: Domain = Domain {
    quantity: "density of a material",
    unit: "kg/m³",
    low: 1.0,
    high: 10_000.0,
    reason: "building materials weigh 10 to 8000 kg/m³",
};

const SLOPE: Domain = Domain {
    quantity: "sorption slope",
    unit: "kg/kg",
    low: 1e-6,
    high: 10.0,
    reason: "kg water per kg dry material from dry to saturated air, about 0.001 to 0.3",
};

const PERMEABILITY: Domain = Domain {
    quantity: "vapour permeability",
    unit: "kg/(m·s·Pa)",
    low: 1e-16,
    high: 1e-9,
    reason: "still air has 2e-10, all materials less",
};

const THICKNESS: Domain = Domain {
    quantity: "thickness of a material",
    unit: "m",
    low: 1e-5,
    high: 10.0,
    reason: "a layer has a thickness",
};

const PERIOD: Domain = Domain {
    quantity: "period of a swing",
    unit: "s",
    low: 1.0,
    high: 3.2e8,
    reason: "swings from seconds to ten years are meant",
};

const MATERIAL_TEMPERATURE: Domain = Domain {
    quantity: "temperature of a material",
    unit: "°C",
    low: -40.0,
    high: 60.0,
    reason: "inside surfaces of a dwelling are meant",
};

const PERMEANCE: Domain =
    positive("permeance of a coating", "kg/(m²·s·Pa)", "for none at all use `Coating::Tile`");

fn saturation_pa(temperature: Temperature) -> Result<f64, OutOfDomain> {
    let t_c = MATERIAL_TEMPERATURE.check(temperature.c())?;
    Ok(Saturation::shared().pressure_pa(t_c))
}

/// What lies on the face of a material.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Coating {
    /// Nothing that hinders vapour.
    Bare,
    /// Two coats of latex paint.
    Latex,
    /// Semi-gloss or oil paint.
    Gloss,
    /// Tile, glass, a bathtub: no vapour passes (grout left aside).
    Tile,
    /// A coating of known permeance, kg/(m²·s·Pa).
    Permeance(f64),
}

impl Coating {
    /// Permeance, kg/(m²·s·Pa); `None` where nothing hinders the vapour.
    ///
    /// Source: two coats of latex 2–6e-10, semi-gloss and oil below 1e-10 (published ranges, from memory);
    /// likely values in the middle (judgement).
    pub const fn permeance_kg_m2_s_pa(self) -> Option<Band> {
        match self {
            Self::Bare => None,
            Self::Latex => Some(band(2e-10, 4e-10, 6e-10)),
            Self::Gloss => Some(band(2e-11, 5e-11, 1e-10)),
            Self::Tile => Some(band(0.0, 0.0, 0.0)),
            Self::Permeance(known) => Some(band(known, known, known)),
        }
    }
}

const fn band(low: f64, likely: f64, high: f64) -> Band {
    Band { low, likely, high, extrapolated: false }
}

/// A material as a single layer for one period, in the classical form: what its capacity is, and how far vapour
/// has to go.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BufferLayer {
    /// Water in kg for each m² and unit of relative humidity.
    pub capacity_kg_m2: f64,
    /// Resistance from the face to its middle, m²·s·Pa/kg.
    pub resistance_m2_s_pa_kg: f64,
}

impl BufferLayer {
    /// Layer of the penetration depth d of one period, at most the thickness: capacity ρ·ξ·d, resistance
    /// d/(2δ).
    ///
    /// # Errors
    /// As [`Material::penetration_depth`].
    pub fn new(
        material: &Material,
        temperature: Temperature,
        period: Duration,
    ) -> Result<Self, OutOfDomain> {
        let depth = material.penetration_depth(temperature, period)?.lesser(material.thickness);
        Ok(Self::of_thickness(material, depth.m()))
    }

    fn of_thickness(material: &Material, d: f64) -> Self {
        Self {
            capacity_kg_m2: material.capacity_kg_m3() * d,
            resistance_m2_s_pa_kg: d / (2.0 * material.permeability_kg_m_s_pa),
        }
    }
}

/// One m² of a material as three layers, one behind the other, each with a relative humidity of its own.
///
/// The layers end at the penetration depths of an hour, a day and a week. Where a depth lies beyond the board,
/// the board ends the chain and the layers before it share what is left, so that all of the board and no more
/// takes part and no layer is empty.
///
/// Vapour flows between places at relative humidities φ, in isothermal material, as `conductance`·p_ws·(φ_a −
/// φ_b); from the room through the film of air β_p as well ([`Self::from_air_kg_m2_s_pa`]).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BufferChain {
    /// Water in each layer, kg for each m² and unit of relative humidity, the face first.
    pub capacity_kg_rh: [f64; 3],
    /// kg/(m²·s·Pa): from the face, coating included, to the middle of the first layer; from the first to the
    /// second; from the second to the third. 0 behind an impermeable coating.
    pub conductance: [f64; 3],
}

impl BufferChain {
    /// For a material and its coating (likely permeance) at a temperature.
    ///
    /// # Errors
    /// As [`Material::penetration_depth`]; also for a permeance that is not above zero.
    pub fn new(
        material: &Material,
        coating: Coating,
        temperature: Temperature,
    ) -> Result<Self, OutOfDomain> {
        Self::at_place_in_band(material, coating, temperature, 0.5)
    }

    /// As [`Self::new`] with the coating at place `u` of its band: 0 low, 0.5 likely, 1 high.
    ///
    /// # Errors
    /// As [`Self::new`]; `u` must lie between 0 and 1.
    pub fn at_place_in_band(
        material: &Material,
        coating: Coating,
        temperature: Temperature,
        u: f64,
    ) -> Result<Self, OutOfDomain> {
        material.check()?;
        let u = PLACE.check(u)?;
        if let Coating::Permeance(known) = coating {
            PERMEANCE.check(known)?;
        }
        let p_ws = saturation_pa(temperature)?;
        let thicknesses = thicknesses(material, p_ws);
        let layers = thicknesses.map(|d| BufferLayer::of_thickness(material, d));
        let [first, second, third] = layers.map(|layer| layer.resistance_m2_s_pa_kg);
        let to_first = match coating.permeance_kg_m2_s_pa() {
            None => 1.0 / first,
            Some(band) => in_series(band.at(u), 1.0 / first),
        };
        Ok(Self {
            capacity_kg_rh: layers.map(|layer| layer.capacity_kg_m2),
            conductance: [to_first, 1.0 / (first + second), 1.0 / (second + third)],
        })
    }

    /// Conductance from the air of the room to the middle of the first layer through a film of β_p
    /// kg/(m²·s·Pa).
    #[inline]
    pub fn from_air_kg_m2_s_pa(&self, beta_p: f64) -> f64 {
        in_series(beta_p, self.conductance[0])
    }

    /// All water in the chain, kg/m², at the humidities `rh` of its layers.
    #[inline]
    pub fn water_kg_m2(&self, rh: &[f64; 3]) -> f64 {
        let [a, b, c] = self.capacity_kg_rh;
        a * rh[0] + b * rh[1] + c * rh[2]
    }

    /// One implicit (backward Euler) step of `seconds` beside air of vapour pressure `air_pa`; gives what the
    /// chain took from the air, kg/m². Stable at any length, exact as the step goes to nothing, and water is
    /// kept to rounding.
    ///
    /// `p_ws` is the saturation pressure at the temperature of the material, Pa. Nothing moves when an argument
    /// is not a finite number or too large to reckon with, or a coefficient is negative.
    pub fn step(
        &self,
        rh: &mut [f64; 3],
        air_pa: f64,
        beta_p: f64,
        p_ws: f64,
        seconds: f64,
    ) -> f64 {
        let arguments = [air_pa, beta_p, p_ws, seconds, rh[0], rh[1], rh[2]];
        let is_usable = arguments.iter().all(|x| x.is_finite())
            && [beta_p, p_ws, seconds].iter().all(|x| *x >= 0.0);
        if !is_usable {
            return 0.0;
        }
        let c = self.capacity_kg_rh;
        let from_air = self.from_air_kg_m2_s_pa(beta_p) * seconds;
        let [ab, bc] = [self.conductance[1], self.conductance[2]].map(|g| g * p_ws * seconds);
        // Elimination from the back of the board to its face.
        let third = c[2] + bc;
        let second = c[1] + ab + bc - bc * bc / third;
        let second_right = c[1] * rh[1] + bc * c[2] * rh[2] / third;
        let first = c[0] + from_air * p_ws + ab - ab * ab / second;
        let first_right = c[0] * rh[0] + from_air * air_pa + ab * second_right / second;
        let face = first_right / first;
        let middle = (second_right + ab * face) / second;
        let back = (c[2] * rh[2] + bc * middle) / third;
        // From what is stored, so that the balance closes to rounding also where face and air are all but
        // equal.
        let taken = c[0] * (face - rh[0]) + c[1] * (middle - rh[1]) + c[2] * (back - rh[2]);
        if ![face, middle, back, taken].iter().all(|x| x.is_finite()) {
            return 0.0;
        }
        *rh = [face, middle, back];
        taken
    }

    /// Practical moisture buffer value, g/(m²·%): what a m² takes up in 8 h at 75 % and gives back in 16 h at
    /// 33 %, once the cycle repeats, over the 42 % between. The film of air has 5e7 m²·s·Pa/kg.
    ///
    /// Source: Rode et al. 2005 (cycle; film from memory).
    ///
    /// # Errors
    /// [`OutOfDomain`] for a temperature outside −40 to 60 °C.
    pub fn practical_buffer_value_g(&self, temperature: Temperature) -> Result<f64, OutOfDomain> {
        let p_ws = saturation_pa(temperature)?;
        let mut rh = [0.47; 3]; // mean of the cycle, where its repetition begins soonest
        let mut taken = 0.0;
        for _ in 0..MOST_CYCLES {
            let before = taken;
            taken = self.expose(&mut rh, 0.75 * p_ws, p_ws, 8.0);
            self.expose(&mut rh, 0.33 * p_ws, p_ws, 16.0);
            if (taken - before).abs() <= 1e-6 * taken.abs() {
                break;
            }
        }
        Ok(taken * 1000.0 / 42.0)
    }

    /// Minute steps of the cycle; what was taken up, kg/m².
    fn expose(&self, rh: &mut [f64; 3], air_pa: f64, p_ws: f64, hours: f64) -> f64 {
        let steps = (hours * 60.0) as u32;
        (0..steps).map(|_| self.step(rh, air_pa, CYCLE_FILM, p_ws, 60.0)).sum()
    }
}

/// Cycles after which a material that is still drifting is left as it is.
const MOST_CYCLES: usize = 200;

/// β_p of the film of air in the cycle of the practical buffer value: 1/5e7.
const CYCLE_FILM: f64 = 2e-8;

/// Two conductances one behind the other; none when either is none.
#[inline]
fn in_series(a: f64, b: f64) -> f64 {
    if a > 0.0 && b > 0.0 { a * b / (a + b) } else { 0.0 }
}

/// Thickness of each layer, m, the face first.
fn thicknesses(material: &Material, p_ws: f64) -> [f64; 3] {
    let [hour, day, week] = PERIODS.map(|period| material.depth_m(p_ws, period.s()));
    let end = week.min(material.thickness.m());
    let first = hour.min(end / 3.0);
    let second = day.min(f64::midpoint(first, end));
    [first, second - first, end - second]
}

/// Class of a moisture buffer value (Rode et al. 2005).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum BufferClass {
    /// Below 0.2 g/(m²·%).
    Negligible,
    /// 0.2 to 0.5.
    Limited,
    /// 0.5 to 1.
    Moderate,
    /// 1 to 2.
    Good,
    /// From 2 up.
    Excellent,
}

impl BufferClass {
    /// All classes, the least first.
    pub const ALL: [Self; 5] =
        [Self::Negligible, Self::Limited, Self::Moderate, Self::Good, Self::Excellent];

    /// Lower limit, g/(m²·%).
    ///
    /// Source: Rode et al. 2005 (from memory; "moderate" for gypsum board confirmed in print, Materials 2023,
    /// 16(8), 3284).
    pub const fn from_g(self) -> f64 {
        match self {
            Self::Negligible => 0.0,
            Self::Limited => 0.2,
            Self::Moderate => 0.5,
            Self::Good => 1.0,
            Self::Excellent => 2.0,
        }
    }

    /// The class of a buffer value in g/(m²·%); `None` for one that is negative or not a number.
    pub fn of(buffer_value_g: f64) -> Option<Self> {
        Self::ALL.into_iter().rev().find(|class| buffer_value_g >= class.from_g())
    }
}
