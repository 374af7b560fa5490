//! How much water a wall takes from a steady stream of moist air.
//!
//! ```
//! use dewpath_moisture::duct::steady::{Stretch, march};
//! use dewpath_air::moist_air::MoistAir;
//! use dewpath_units::{Airflow, Humidity, Length, Pressure, Temperature, ThermalResistance};
//!
//! // 25 L/s of 24 °C and 80 % through 8 m of bare 4 in duct in an attic at −10 °C: 441 g of water an hour.
//! let air = MoistAir::from_relative_humidity(
//!     Temperature::from_c(24.0), Humidity::from_percent(80.0), Pressure::from_pa(101_325.0))?;
//! let bare = Stretch {
//!     length: Length::from_m(8.0),
//!     diameter: Length::from_mm(101.6),
//!     film_inside_w_m2_k: 14.4705,
//!     outward: ThermalResistance::from_rsi(0.11111),
//!     surroundings: Temperature::from_c(-10.0),
//! };
//! let end = march(&air, Airflow::from_l_s(25.0), &[bare], 100)?;
//! assert!((end.condensate_kg_s * 3.6e6 - 441.0).abs() < 3.0);
//! # Ok::<(), dewpath_air::domain::OutOfDomain>(())
//! ```

use core::f64::consts::PI;

use dewpath_air::domain::{Domain, OutOfDomain};
use dewpath_air::moist_air::{MoistAir, heat_capacity_j_kg_k};
use dewpath_units::{Airflow, Length, Temperature, ThermalResistance};

use super::{
    AIR_C, DIAMETER_M, EVAPORATION_HEAT_J_KG, FUSION_HEAT_J_KG, LENGTH_M, LEWIS_TWO_THIRDS,
    RESISTANCE,
};
use crate::saturation::Saturation;

/// A stretch of duct with the same wall and the same surroundings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    /// Length along the air.
    pub length: Length,
    /// Inner diameter.
    pub diameter: Length,
    /// Heat transfer coefficient of the air inside, W/(m²·K): [`crate::heat::film_inside_w_m2_k`].
    pub film_inside_w_m2_k: f64,
    /// From the inner wall to the surroundings, per inner area: [`crate::heat::Wall::outward`].
    pub outward: ThermalResistance,
    /// Temperature around the stretch.
    pub surroundings: Temperature,
}

/// What leaves a duct, and what stayed in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Passage {
    /// Air at the end, °C.
    pub t_c: f64,
    /// Air at the end, kg vapour per kg dry air.
    pub w: f64,
    /// Water or frost that the wall takes, kg/s.
    pub condensate_kg_s: f64,
    /// Inner wall where the air enters, °C.
    pub wall_first_c: f64,
    /// Inner wall where the air leaves, °C.
    pub wall_last_c: f64,
    /// Coldest inner wall, °C.
    pub wall_coldest_c: f64,
    /// Where the wall is first wet, m from the inlet.
    pub wet_from_m: Option<f64>,
    /// Dry air that passes, kg/s.
    pub dry_air_kg_s: f64,
}

const FLOW: Domain = Domain {
    quantity: "airflow",
    unit: "m3/s",
    low: 1e-7,
    high: 100.0,
    reason: "still air does not march along a duct; follow it through time instead",
};

const FILM: Domain = Domain {
    quantity: "heat transfer coefficient",
    unit: "W/(m2 K)",
    low: 1e-3,
    high: 1e4,
    reason: "air in a duct gives about 2 to 50 W/(m2 K)",
};

const CELLS: Domain = Domain {
    quantity: "number of cells",
    unit: "-",
    low: 1.0,
    high: 1e6,
    reason: "each stretch is cut into at least one cell; 100 are plenty",
};

/// Marches along a duct whose wall is wet wherever the air lets water fall on it.
///
/// ṁ·cp·dT/dx = −h·πD·(T − Tw), ṁ·dW/dx = −h_m·πD·(W − Ws(Tw)) with h_m = h/(cp·Le^⅔), and at each place
/// h·(T − Tw) + h_m·(W − Ws(Tw))·h_fg = (Tw − Ta)/R. The wall is taken as one temperature over a cell, the air along it as the
/// exponentials that follow; second order in the size of a cell. Below 0 °C the wall takes frost and the heat of
/// sublimation. Air that would be fog is carried on as it is. `air` is the state at the inlet, `flow` its volume flow.
///
/// Source: heat and mass transfer by the Lewis relation (Incropera ch. 6 and 8; ASHRAE Fundamentals ch. 6). Checked
/// against the same equations by scipy `solve_ivp` (checks COND-01 to COND-05) within 0.5 %.
///
/// # Errors
/// [`OutOfDomain`] naming what lies outside its range: air −60 to 100 °C, flow 1e-7 to 100 m³/s, films 0.001 to 1e4
/// W/(m²·K), resistance 1e-4 to 1000 m²·K/W, diameter 0.01 to 3 m, length 1 mm to 1 km, cells 1 to 1e6.
pub fn march(
    air: &MoistAir,
    flow: Airflow,
    stretches: &[Stretch],
    cells: usize,
) -> Result<Passage, OutOfDomain> {
    let mass_flow = FLOW.check(flow.m3_s())? * air.dry_air_density().kg_m3();
    let t_c = AIR_C.check(air.temperature().c())?;
    CELLS.check(cells as f64)?;
    let stream = Stream { mass_flow, p_pa: air.pressure().pa(), saturation: Saturation::shared() };
    let inlet = air.humidity_ratio();
    let mut passage = Passage {
        t_c,
        w: inlet,
        condensate_kg_s: 0.0,
        wall_first_c: t_c,
        wall_last_c: t_c,
        wall_coldest_c: f64::INFINITY,
        wet_from_m: None,
        dry_air_kg_s: mass_flow,
    };
    let mut place_m = 0.0;
    for (index, stretch) in stretches.iter().enumerate() {
        let length = LENGTH_M.check(stretch.length.m())?;
        let wall = WallCell::new(stretch, length / cells as f64, &stream)?;
        if index == 0 {
            passage.wall_first_c = wall.local_temperature(&stream, t_c, inlet);
            passage.wall_coldest_c = passage.wall_first_c;
        }
        for cell in 0..cells {
            let after = wall.pass(&stream, passage.t_c, passage.w);
            if after.w < passage.w && passage.wet_from_m.is_none() {
                passage.wet_from_m = Some(place_m + length * cell as f64 / cells as f64);
            }
            passage.t_c = after.t_c;
            passage.w = after.w;
            passage.wall_coldest_c = passage.wall_coldest_c.min(after.wall_c);
        }
        passage.wall_last_c = wall.local_temperature(&stream, passage.t_c, passage.w);
        passage.wall_coldest_c = passage.wall_coldest_c.min(passage.wall_last_c);
        place_m += length;
    }
    if stretches.is_empty() {
        passage.wall_coldest_c = t_c;
    }
    passage.condensate_kg_s = mass_flow * (inlet - passage.w);
    Ok(passage)
}

struct Stream {
    mass_flow: f64,
    p_pa: f64,
    saturation: &'static Saturation,
}

struct After {
    t_c: f64,
    w: f64,
    wall_c: f64,
}

/// A cell of a stretch.
struct WallCell {
    /// Film inside, W/(m²·K).
    heat: f64,
    outward: f64,
    around_c: f64,
    /// Area of the wall over the dry air's mass flow, m²·s/kg.
    area_per_flow: f64,
}

/// Film inside for vapour, kg/(m²·s), by the Lewis relation.
fn vapour_film(heat: f64, w: f64) -> f64 {
    heat / (heat_capacity_j_kg_k(w) * LEWIS_TWO_THIRDS)
}

impl WallCell {
    fn new(stretch: &Stretch, length_m: f64, stream: &Stream) -> Result<Self, OutOfDomain> {
        let d = DIAMETER_M.check(stretch.diameter.m())?;
        let heat = FILM.check(stretch.film_inside_w_m2_k)?;
        let outward = RESISTANCE.check(stretch.outward.rsi())?;
        let around_c = AIR_C.check(stretch.surroundings.c())?;
        let area_per_flow = PI * d * length_m / stream.mass_flow;
        Ok(Self { heat, outward, around_c, area_per_flow })
    }

    /// Air after the cell, with the heat capacity it has in the middle of it.
    fn pass(&self, stream: &Stream, t_c: f64, w: f64) -> After {
        let after = self.pass_at(stream, t_c, w, w);
        if after.w < w { self.pass_at(stream, t_c, w, 0.5 * (w + after.w)) } else { after }
    }

    /// Air after the cell, with the heat capacity of air that holds `middle_w`.
    fn pass_at(&self, stream: &Stream, t_c: f64, w: f64, middle_w: f64) -> After {
        let heat_units = self.heat * self.area_per_flow / heat_capacity_j_kg_k(middle_w);
        let vapour_units = vapour_film(self.heat, middle_w) * self.area_per_flow;
        let heat = self.heat * mean_of_decay(heat_units);
        let vapour = vapour_film(self.heat, middle_w) * mean_of_decay(vapour_units);
        let wall_c = self.temperature(stream, t_c, w, heat, vapour);
        let saturated = stream.saturation.humidity_ratio(wall_c, stream.p_pa);
        if w <= saturated {
            // Dry: wall and surroundings in a row, exact.
            let units = heat_units / (1.0 + self.heat * self.outward);
            let t_c = self.around_c + (t_c - self.around_c) * libm::exp(-units);
            return After { t_c, w, wall_c };
        }
        After {
            t_c: wall_c + (t_c - wall_c) * libm::exp(-heat_units),
            w: saturated + (w - saturated) * libm::exp(-vapour_units),
            wall_c,
        }
    }

    /// Temperature of the wall where the air of the film has not changed yet.
    fn local_temperature(&self, stream: &Stream, t_c: f64, w: f64) -> f64 {
        self.temperature(stream, t_c, w, self.heat, vapour_film(self.heat, w))
    }

    /// Temperature at which what the wall takes from the air leaves to the surroundings, for films of `heat`
    /// W/(m²·K) and `vapour` kg/(m²·s): Newton inside a bracket.
    fn temperature(&self, stream: &Stream, t_c: f64, w: f64, heat: f64, vapour: f64) -> f64 {
        let out = 1.0 / self.outward;
        let dry = (heat * t_c + out * self.around_c) / (heat + out);
        if w <= stream.saturation.humidity_ratio(dry, stream.p_pa) {
            return dry;
        }
        // Water on the wall warms it, at most up to the dew point.
        let (mut low, mut high) = (dry, stream.saturation.dew_point_c(w, stream.p_pa).max(dry));
        let mut wall = low;
        for _ in 0..60 {
            let (saturated, slope) = stream.saturation.humidity_ratio_and_slope(wall, stream.p_pa);
            let latent = if wall < 0.0 {
                EVAPORATION_HEAT_J_KG + FUSION_HEAT_J_KG
            } else {
                EVAPORATION_HEAT_J_KG
            };
            let latent_film = vapour * latent;
            let gain =
                heat * (t_c - wall) + latent_film * (w - saturated) - out * (wall - self.around_c);
            if gain > 0.0 {
                low = wall;
            } else {
                high = wall;
            }
            let newton = wall + gain / (heat + out + latent_film * slope);
            let next = if newton >= low && newton <= high { newton } else { 0.5 * (low + high) };
            if (next - wall).abs() < 1e-11 {
                return next;
            }
            wall = next;
        }
        wall
    }
}

/// Mean of exp(−x) from 0 to `units`.
fn mean_of_decay(units: f64) -> f64 {
    if units < 1e-8 { 1.0 - 0.5 * units } else { -libm::expm1(-units) / units }
}
