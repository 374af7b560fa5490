//! What a duct does from minute to minute: warms up, condenses, dries, freezes, drains.
//!
//! A [`DuctLine`] is a row of [`Piece`]s cut into cells. Each cell has the temperature of its wall, the water on it
//! and the frost. [`DuctLine::step`] takes the air that enters over the next seconds and returns what leaves.
//!
//! # How a step is made
//! - Air passes a cell as an exponential towards its wall (T and W alike, by the Lewis relation), at the mean
//!   temperature the wall has over the step.
//! - The wall of a cell follows its linear equation exactly over the step, whatever its length; saturation is taken as
//!   its tangent at that mean temperature. A dry cell under constant air is exact; cells in a row hand on
//!   the mean of a step, which is second order in it. Nothing grows, however long the step.
//!   A cold duct at the start of a shower moves fast: steps of 5 s are within 0.3 % of its water there, of 10 s within 0.5 %, of a
//!   minute within 6 %; later a minute is within 0.1 %.
//! - No more evaporates than is there. Water freezes and frost melts with the heat of fusion, during which the wall stays
//!   at 0 °C.
//! - What a wall cannot carry runs: out, back, or into a sag.
//!
//! # What is left out
//! The heat that water and frost themselves hold, that vapour brings by its temperature (one heat capacity and one
//! heat of evaporation for all, so that balances close to rounding), frost that makes the wall rougher or better
//! insulated, and fog: air that holds more than its saturation carries the surplus on as if it were vapour.
//!
//! ```
//! use dewpath_moisture::duct::line::{Around, DuctLine, Inlet, Piece, STEEL_J_M2_K, Slope};
//! use dewpath_units::{Length, Pressure, ThermalResistance};
//!
//! // 6 m of 4 in steel in 25 mm of wrap, in an attic at −5 °C, falling to the outside.
//! let piece = Piece {
//!     length: Length::from_m(6.0),
//!     diameter: Length::from_mm(101.6),
//!     roughness: Length::from_mm(0.09),
//!     wall_j_m2_k: STEEL_J_M2_K,
//!     outward: ThermalResistance::from_rsi(0.64),
//!     outside_film: ThermalResistance::from_rsi(0.07),
//!     slope: Slope::DrainsOut,
//!     cells: 6,
//! };
//! let attic = Around { t_c: -5.0, w: 0.002 };
//! let mut line = DuctLine::new(&[piece], &[attic], Pressure::from_pa(101_325.0))?;
//!
//! let before = line.snapshot();
//! for _ in 0..60 {
//!     // A shower of ten minutes: 25 L/s of 24 °C and 80 %.
//!     line.step(10.0, Inlet { dry_air_kg_s: 0.029, t_c: 24.0, w: 0.0150 })?;
//! }
//! for _ in 0..120 {
//!     // Twenty minutes of run-on, the room nearly dry again.
//!     line.step(10.0, Inlet { dry_air_kg_s: 0.029, t_c: 21.0, w: 0.0080 })?;
//! }
//! let story = line.story_since(&before);
//! // 25 g settle, most of them while the metal is cold; the run-on dries them all.
//! assert!((0.024..0.026).contains(&story.condensed_kg));
//! assert!(line.water_total_kg() == 0.0);
//! assert!(line.residual().water.abs() < 1e-9);
//! # Ok::<(), dewpath_air::domain::OutOfDomain>(())
//! ```

use core::f64::consts::PI;

use dewpath_air::domain::{Domain, OutOfDomain};
use dewpath_air::law::Law;
use dewpath_units::{Length, Pressure, ThermalResistance};

use super::pocket::Pocket;
use super::{
    AIR_C, DIAMETER_M, EVAPORATION_HEAT_J_KG, FROST_DENSITY_KG_M3, FUSION_HEAT_J_KG,
    HUMIDITY_RATIO, LENGTH_M, LEWIS_TWO_THIRDS, PRESSURE_PA, RESISTANCE, RUNNING_FILM_KG_M2,
    free_area_share,
};
use crate::heat::nusselt_any_flow;
use crate::saturation::{Saturation, vapour_pressure_pa};

/// Heat that a square metre of 0.55 mm steel takes per kelvin, J/(m²·K): 7850 kg/m³ · 460 J/(kg·K) (from memory).
pub const STEEL_J_M2_K: f64 = 2000.0;

/// The same of 3 mm rigid plastic: 1400 kg/m³ · 1000 J/(kg·K) (from memory).
pub const RIGID_PLASTIC_J_M2_K: f64 = 4200.0;

/// The same of the liner of a flexible duct, wrinkled film with its wire (judgement, no source).
pub const FLEXIBLE_J_M2_K: f64 = 400.0;

/// Heat capacity of the air in all balances of a duct, J/(K·kg dry air): 1006 + 1860·W at W = 0.013, that of a shower.
pub const AIR_J_KG_K: f64 = 1030.0;

/// Viscosity of air at 10 °C, Pa·s, and its conductivity, W/(m·K): what films inside are computed with.
const VISCOSITY: f64 = 1.768e-5;
const CONDUCTIVITY: f64 = 0.02511;
const PRANDTL: f64 = 0.71;

/// Distance from where the saturation's tangent is laid to the answer that is close enough, K: the curve departs from it
/// by 1.1e-6 kg/kg there at 20 °C, less in the cold. A year's water differs by 2e-5 of itself from that with 0.05 K.
const CLOSE_K: f64 = 0.2;

/// Turns of the tangent at most.
const TURNS: usize = 8;

/// Flows and lengths of step whose coefficients are kept.
const KEPT: usize = 6;

const STEP: Domain = Domain {
    quantity: "step",
    unit: "s",
    low: 1e-3,
    high: 1e7,
    reason: "a step is nothing, or a millisecond to some months",
};

const FLOW: Domain = Domain {
    quantity: "flow of dry air",
    unit: "kg/s",
    low: -100.0,
    high: 100.0,
    reason: "a fan of a dwelling moves about 0.01 to 0.5 kg/s; negative flows back",
};

const WALL: Domain = Domain {
    quantity: "heat capacity of the wall",
    unit: "J/(m2 K)",
    low: 1.0,
    high: 1e7,
    reason: "a liner takes some hundred J/(m2 K), steel two thousand",
};

const ROUGHNESS: Domain = Domain {
    quantity: "roughness over diameter",
    unit: "-",
    low: 0.0,
    high: 0.1,
    reason: "roughness is at most a tenth of the diameter",
};

const CELLS: Domain = Domain {
    quantity: "number of cells in a piece",
    unit: "-",
    low: 1.0,
    high: 10_000.0,
    reason: "a piece is cut into at least one cell",
};

/// Where the water of a piece runs to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Slope {
    /// It falls along the air: to the next piece and out at the terminal.
    DrainsOut,
    /// It falls against the air: to the piece before and back to the fan.
    DrainsBack,
    /// It lies level: the water stands where it is.
    Level,
    /// It hangs through: the water collects in the middle. What it cannot hold is pushed on with the air.
    Sag(Pocket),
}

/// A piece of duct.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Piece {
    /// Length along the air.
    pub length: Length,
    /// Inner diameter.
    pub diameter: Length,
    /// Roughness of the wall.
    pub roughness: Length,
    /// Heat that the wall takes per area and kelvin, J/(m²·K), such as [`STEEL_J_M2_K`].
    pub wall_j_m2_k: f64,
    /// From the inner wall to the surroundings with the outside film, per inner area: [`crate::heat::Wall::outward`].
    pub outward: ThermalResistance,
    /// Part of it that is the outside film: [`crate::heat::Wall::film`].
    pub outside_film: ThermalResistance,
    /// Where water runs to.
    pub slope: Slope,
    /// Number of cells the piece is cut into.
    pub cells: usize,
}

/// Air around a piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Around {
    /// Temperature, °C.
    pub t_c: f64,
    /// kg vapour per kg dry air; for sweating on the outside.
    pub w: f64,
}

/// Air that enters the duct during a step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Inlet {
    /// Dry air, kg/s: positive from the room (by the fan, or drifting up when it is idle), negative from outdoors past
    /// the flap into the room, zero when nothing moves.
    pub dry_air_kg_s: f64,
    /// Temperature of the air that enters, °C.
    pub t_c: f64,
    /// kg vapour per kg dry air of the air that enters.
    pub w: f64,
}

/// Air that leaves the duct at its other end, mean of the step; as it entered when nothing moves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outlet {
    /// Temperature, °C.
    pub t_c: f64,
    /// kg vapour (and fog, if any) per kg dry air.
    pub w: f64,
}

/// Sums since the start.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Totals {
    /// Time, s.
    pub seconds: f64,
    /// Vapour that entered with the air from either end, kg.
    pub vapour_in_kg: f64,
    /// Vapour that left with the air at either end, kg.
    pub vapour_out_kg: f64,
    /// Vapour that settled on walls as water or frost, kg.
    pub condensed_kg: f64,
    /// Water and frost that went back into the air, kg.
    pub evaporated_kg: f64,
    /// Water that ran out at the terminal, kg.
    pub drained_out_kg: f64,
    /// Water that ran back to the fan, kg.
    pub drained_back_kg: f64,
    /// Heat of air and vapour that entered, J (zero at dry air and liquid water of 0 °C).
    pub heat_in_j: f64,
    /// Heat of air and vapour that left, J.
    pub heat_out_j: f64,
    /// Heat that went through the wall to the surroundings, J.
    pub heat_lost_j: f64,
    /// All heat that was moved, each part as a size, J: what the residual is compared with.
    pub heat_moved_j: f64,
}

/// What does not add up, as a part of what was moved: rounding.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Residual {
    /// Water on the walls against what settled, dried and ran.
    pub water: f64,
    /// Vapour in the air against what settled and dried.
    pub vapour: f64,
    /// Heat in walls and water against what came and went; as a part of what was moved and what is stored.
    pub heat: f64,
}

/// A moment to compare with: [`DuctLine::snapshot`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Snapshot {
    totals: Totals,
    film_kg: f64,
    frost_kg: f64,
}

/// Where the water went between two moments; all in kg.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Story {
    /// Settled on the walls.
    pub condensed_kg: f64,
    /// Dried into the air again.
    pub evaporated_kg: f64,
    /// Ran out at the terminal.
    pub drained_out_kg: f64,
    /// Ran back to the fan: the drip in the room.
    pub drained_back_kg: f64,
    /// More (or less) water on the walls and in sags than before.
    pub water_more_kg: f64,
    /// More (or less) frost than before.
    pub frost_more_kg: f64,
    /// Between the two moments, s.
    pub seconds: f64,
}

impl Story {
    /// What stays in the duct per day: gains of water and frost, kg/day; zero when no time has passed.
    pub fn net_kg_day(&self) -> f64 {
        if self.seconds > 0.0 {
            (self.water_more_kg + self.frost_more_kg) * 86_400.0 / self.seconds
        } else {
            0.0
        }
    }
}

/// Whether the outside of a piece sweats.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sweating {
    /// Coldest outer surface of the piece, °C.
    pub surface_c: f64,
    /// Dew point of the air around it, °C.
    pub dew_point_c: f64,
}

impl Sweating {
    /// Whether water settles on the outside.
    pub fn sweats(&self) -> bool {
        self.surface_c < self.dew_point_c
    }
}

#[derive(Debug, Clone, Copy)]
struct Cell {
    wall_c: f64,
    film_kg: f64,
    frost_kg: f64,
    /// How far the mean of the last step lay from its start, K: where the next one is looked for.
    drift_c: f64,
}

/// What is the same in all cells of a piece.
#[derive(Debug, Clone, Copy)]
struct Row {
    first: usize,
    end: usize,
    length_m: f64,
    diameter_m: f64,
    relative_roughness: f64,
    area_m2: f64,
    /// J/K.
    capacity: f64,
    /// To the surroundings, W/K.
    conductance: f64,
    /// Share of the outside film in the whole resistance.
    film_share: f64,
    carries_kg: f64,
    slope: Slope,
    around: Around,
}

impl Row {
    fn middle(&self) -> usize {
        self.first.midpoint(self.end)
    }

    fn cell_length_m(&self) -> f64 {
        self.length_m / (self.end - self.first) as f64
    }

    /// Water a cell keeps before some of it runs, kg.
    fn keeps_kg(&self, cell: usize) -> f64 {
        match self.slope {
            Slope::Level => f64::INFINITY,
            Slope::Sag(pocket) if cell == self.middle() => pocket.holds_kg.max(self.carries_kg),
            _ => self.carries_kg,
        }
    }
}

/// Exchange of one cell of a row at one flow over one length of step.
#[derive(Debug, Clone, Copy, Default)]
struct Exchange {
    /// 1 − exp(−NTU) for heat: what the air comes closer to the wall.
    approach: f64,
    /// Air to wall, W/K.
    heat: f64,
    /// Air to wall, kg/s per kg/kg.
    vapour: f64,
    /// Dry air that passes in a step, inverse, 1/kg.
    per_air_kg: f64,
    /// heat + conductance, W/K.
    dry: f64,
    /// Its inverse, K/W.
    per_dry: f64,
    /// Step over capacity, s·K/J, and its inverse, W/K.
    step_over_capacity: f64,
    capacity_over_step: f64,
    /// Share of the way to where a dry wall settles that it goes in a step: 1 − exp(−dry·step/capacity).
    way: f64,
    /// The same on the mean of the step.
    way_mean: f64,
}

/// Coefficients of all rows for one flow and one length of step.
#[derive(Debug, Clone)]
struct Regime {
    flow_bits: u64,
    step_bits: u64,
    rows: Vec<Exchange>,
}

/// Water and heat along a duct, as a working shows it.
pub const ALONG_A_DUCT: Law = Law::confirmed(
    "m dW/dx = -h_m pi D (W - W_s(T_w)), C dT_w/dt = h (T - T_w) + h_m (W - W_s) h_fg - (T_w - T_around) / R",
    "heat and mass transfer along a duct",
    "docs/physics.md, a duct through time; Incropera ch. 6 and 8, ASHRAE Fundamentals ch. 6",
);

/// A duct through time; see the [module](self).
#[derive(Debug, Clone)]
pub struct DuctLine {
    rows: Vec<Row>,
    cells: Vec<Cell>,
    regimes: Vec<Regime>,
    regimes_used: usize,
    regime_last: usize,
    totals: Totals,
    water_at_start_kg: f64,
    heat_at_start_j: f64,
    p_pa: f64,
    total_length_m: f64,
    saturation: &'static Saturation,
}

impl DuctLine {
    /// A dry duct at the temperature around it: pieces in the order of the air from the fan, what surrounds each, and the
    /// absolute pressure.
    ///
    /// # Errors
    /// [`OutOfDomain`] for no piece at all, fewer or more surroundings than pieces, or naming what lies outside its range.
    pub fn new(
        pieces: &[Piece],
        around: &[Around],
        pressure: Pressure,
    ) -> Result<Self, OutOfDomain> {
        Domain {
            quantity: "number of pieces",
            unit: "-",
            low: 1.0,
            high: 1000.0,
            reason: "a duct has at least one piece",
        }
        .check(pieces.len() as f64)?;
        let count = pieces.len() as f64;
        Domain {
            quantity: "number of surroundings",
            unit: "-",
            low: count,
            high: count,
            reason: "each piece has its surroundings",
        }
        .check(around.len() as f64)?;
        let p_pa = PRESSURE_PA.check(pressure.pa())?;
        let mut rows = Vec::with_capacity(pieces.len());
        let mut cells = Vec::new();
        for (piece, &around) in pieces.iter().zip(around) {
            let row = Row::new(piece, around, cells.len())?;
            let cell = Cell { wall_c: around.t_c, film_kg: 0.0, frost_kg: 0.0, drift_c: 0.0 };
            cells.resize(row.end, cell);
            rows.push(row);
        }
        let total_length_m = rows.iter().map(|row: &Row| row.length_m).sum();
        let regime =
            Regime { flow_bits: 0, step_bits: 0, rows: vec![Exchange::default(); rows.len()] };
        let mut line = Self {
            rows,
            cells,
            regimes: vec![regime; KEPT],
            regimes_used: 0,
            regime_last: 0,
            totals: Totals::default(),
            water_at_start_kg: 0.0,
            heat_at_start_j: 0.0,
            p_pa,
            total_length_m,
            saturation: Saturation::shared(),
        };
        line.heat_at_start_j = line.heat_j();
        Ok(line)
    }

    /// Changes what surrounds a piece, from now on.
    ///
    /// # Errors
    /// [`OutOfDomain`] for a piece that is not there, a temperature outside −60 to 100 °C or a humidity ratio outside 0 to 1.
    pub fn set_around(&mut self, piece: usize, around: Around) -> Result<(), OutOfDomain> {
        let around = checked(around)?;
        let row = self.row_index(piece)?;
        self.rows[row].around = around;
        Ok(())
    }

    /// Goes on for `dt_s` seconds with constant air at the inlet and returns the air that leaves.
    ///
    /// Nothing changes when an input is refused.
    ///
    /// # Errors
    /// [`OutOfDomain`] for a step other than 0 or 1 ms to 1e7 s, a flow outside ±100 kg/s, a temperature outside −60 to 100 °C or a
    /// humidity ratio outside 0 to 1.
    pub fn step(&mut self, dt_s: f64, inlet: Inlet) -> Result<Outlet, OutOfDomain> {
        let dt = if dt_s == 0.0 { 0.0 } else { STEP.check(dt_s)? };
        let flow = FLOW.check(inlet.dry_air_kg_s)?;
        let entering = Outlet { t_c: AIR_C.check(inlet.t_c)?, w: HUMIDITY_RATIO.check(inlet.w)? };
        if dt == 0.0 {
            return Ok(entering);
        }
        let regime = self.regime(flow.abs(), dt);
        let leaving = self.pass(regime, dt, flow, entering);
        self.count(dt, flow.abs(), entering, leaving);
        Ok(leaving)
    }

    /// Moves the air over all cells in its direction.
    fn pass(&mut self, regime: usize, dt: f64, flow: f64, entering: Outlet) -> Outlet {
        let Self { rows, cells, regimes, totals, saturation, p_pa, .. } = self;
        let exchanges = &regimes[regime].rows;
        let mut stream = Stream {
            air: entering,
            vapour_pa: vapour_pressure_pa(entering.w, *p_pa),
            vapour_of: entering.w,
            dt,
            per_s: 1.0 / dt,
            p_pa: *p_pa,
            saturation,
            condensed: 0.0,
            evaporated: 0.0,
            lost: 0.0,
            lost_size: 0.0,
        };
        let mut runs = false;
        let mut over = |row: &Row, exchange: &Exchange, index: usize, cell: &mut Cell| {
            stream.over(row, exchange, cell);
            runs |= cell.film_kg > row.carries_kg && cell.film_kg > row.keeps_kg(index);
        };
        if flow >= 0.0 {
            for (row, exchange) in rows.iter().zip(exchanges) {
                for (index, cell) in cells.iter_mut().enumerate().take(row.end).skip(row.first) {
                    over(row, exchange, index, cell);
                }
            }
        } else {
            for (row, exchange) in rows.iter().zip(exchanges).rev() {
                for (index, cell) in
                    cells.iter_mut().enumerate().take(row.end).skip(row.first).rev()
                {
                    over(row, exchange, index, cell);
                }
            }
        }
        totals.condensed_kg += stream.condensed;
        totals.evaporated_kg += stream.evaporated;
        totals.heat_lost_j += stream.lost * dt;
        totals.heat_moved_j += stream.lost_size * dt;
        let leaving = stream.air;
        if runs {
            self.run_off(flow >= 0.0);
        }
        leaving
    }

    fn count(&mut self, dt: f64, flow: f64, entering: Outlet, leaving: Outlet) {
        let heat = |air: Outlet| AIR_J_KG_K * air.t_c + EVAPORATION_HEAT_J_KG * air.w;
        let passed = flow * dt;
        let totals = &mut self.totals;
        totals.seconds += dt;
        totals.vapour_in_kg += passed * entering.w;
        totals.vapour_out_kg += passed * leaving.w;
        totals.heat_in_j += passed * heat(entering);
        totals.heat_out_j += passed * heat(leaving);
        totals.heat_moved_j += passed * (heat(entering).abs() + heat(leaving).abs());
    }

    /// The kept coefficients for a flow and a step, computed if they are not there yet.
    fn regime(&mut self, flow: f64, dt: f64) -> usize {
        let (flow_bits, step_bits) = (flow.to_bits(), dt.to_bits());
        let same = |regime: &Regime| regime.flow_bits == flow_bits && regime.step_bits == step_bits;
        if self.regimes_used > 0 && same(&self.regimes[self.regime_last]) {
            return self.regime_last;
        }
        if let Some(found) = self.regimes.iter().take(self.regimes_used).position(same) {
            self.regime_last = found;
            return found;
        }
        // The one after the last that was made gives way.
        let place = if self.regimes_used < KEPT {
            self.regimes_used += 1;
            self.regimes_used - 1
        } else {
            (self.regime_last + 1) % KEPT
        };
        let regime = &mut self.regimes[place];
        regime.flow_bits = flow_bits;
        regime.step_bits = step_bits;
        for (exchange, row) in regime.rows.iter_mut().zip(&self.rows) {
            *exchange = row.exchange(flow, dt, self.total_length_m);
        }
        self.regime_last = place;
        place
    }

    /// Lets the water run that walls and sags cannot carry.
    fn run_off(&mut self, forward: bool) {
        let Self { rows, cells, totals, .. } = self;
        // Sags first: all their cells feed the middle one. What it cannot hold goes on with the air.
        let mut carried = 0.0;
        for place in 0..rows.len() {
            let row = rows[place];
            match row.slope {
                Slope::DrainsOut => carried += take_surplus(&row, cells),
                Slope::Sag(_) => {
                    carried = lead_to_middle(&row, cells, carried);
                    if !forward && carried > 0.0 {
                        // Pushed back: to the piece before, or to the fan.
                        put_back(rows, cells, totals, place, carried);
                        carried = 0.0;
                    }
                }
                // It meets a piece that does not carry it on: it stands where they meet.
                Slope::Level | Slope::DrainsBack => {
                    cells[row.first.saturating_sub(1)].film_kg += carried;
                    carried = 0.0;
                }
            }
        }
        totals.drained_out_kg += carried;
        for place in (0..rows.len()).rev() {
            let row = rows[place];
            if row.slope == Slope::DrainsBack {
                let surplus = take_surplus(&row, cells);
                put_back(rows, cells, totals, place, surplus);
            }
        }
    }

    fn row_index(&self, piece: usize) -> Result<usize, OutOfDomain> {
        Domain {
            quantity: "number of the piece",
            unit: "-",
            low: 0.0,
            high: self.rows.len() as f64 - 1.0,
            reason: "pieces are counted from 0 at the fan",
        }
        .check(piece as f64)?;
        Ok(piece)
    }

    /// Sums since the start.
    pub fn totals(&self) -> &Totals {
        &self.totals
    }

    /// Number of cells, counted from the fan.
    pub fn cell_count(&self) -> usize {
        self.cells.len()
    }

    /// Temperature of a cell's inner wall, °C; `None` past the last cell.
    pub fn wall_c(&self, cell: usize) -> Option<f64> {
        self.cells.get(cell).map(|cell| cell.wall_c)
    }

    /// Water on a cell's wall or standing in it, kg; `None` past the last cell.
    pub fn film_kg(&self, cell: usize) -> Option<f64> {
        self.cells.get(cell).map(|cell| cell.film_kg)
    }

    /// Frost in a cell, kg; `None` past the last cell.
    pub fn frost_kg(&self, cell: usize) -> Option<f64> {
        self.cells.get(cell).map(|cell| cell.frost_kg)
    }

    /// Water in the duct, without frost, kg.
    pub fn water_total_kg(&self) -> f64 {
        self.cells.iter().map(|cell| cell.film_kg).sum()
    }

    /// Frost in the duct, kg.
    pub fn frost_total_kg(&self) -> f64 {
        self.cells.iter().map(|cell| cell.frost_kg).sum()
    }

    /// Share of the duct's area that frost leaves free where it is narrowest, of 1.
    pub fn free_area_share(&self) -> f64 {
        let mut least = 1.0_f64;
        for row in &self.rows {
            for cell in &self.cells[row.first..row.end] {
                let length = row.cell_length_m();
                let free =
                    free_area_share(cell.frost_kg, FROST_DENSITY_KG_M3, length, row.diameter_m);
                least = least.min(free);
            }
        }
        least
    }

    /// Whether a sag stands full of water up to the top of the duct, so that no air passes.
    pub fn closed_by_water(&self) -> bool {
        self.rows.iter().any(|row| match row.slope {
            Slope::Sag(pocket) if pocket.closes => {
                self.cells[row.middle()].film_kg >= pocket.holds_kg * (1.0 - 1e-9)
            }
            _ => false,
        })
    }

    /// The outer surface of a piece against the dew point around it.
    ///
    /// # Errors
    /// [`OutOfDomain`] for a piece that is not there.
    pub fn sweating(&self, piece: usize) -> Result<Sweating, OutOfDomain> {
        let row = &self.rows[self.row_index(piece)?];
        let walls = self.cells[row.first..row.end].iter().map(|cell| cell.wall_c);
        let coldest = walls.fold(f64::INFINITY, f64::min);
        let surface_c = row.around.t_c + (coldest - row.around.t_c) * row.film_share;
        let dew_point_c = self.saturation.dew_point_c(row.around.w, self.p_pa);
        Ok(Sweating { surface_c, dew_point_c })
    }

    /// This moment, to compare with later.
    pub fn snapshot(&self) -> Snapshot {
        Snapshot {
            totals: self.totals,
            film_kg: self.water_total_kg(),
            frost_kg: self.frost_total_kg(),
        }
    }

    /// Where the water went since a moment of this duct.
    pub fn story_since(&self, then: &Snapshot) -> Story {
        let now = self.snapshot();
        let (a, b) = (&then.totals, &now.totals);
        Story {
            condensed_kg: b.condensed_kg - a.condensed_kg,
            evaporated_kg: b.evaporated_kg - a.evaporated_kg,
            drained_out_kg: b.drained_out_kg - a.drained_out_kg,
            drained_back_kg: b.drained_back_kg - a.drained_back_kg,
            water_more_kg: now.film_kg - then.film_kg,
            frost_more_kg: now.frost_kg - then.frost_kg,
            seconds: b.seconds - a.seconds,
        }
    }

    /// What does not add up since the start.
    pub fn residual(&self) -> Residual {
        let t = &self.totals;
        let settled = t.condensed_kg - t.evaporated_kg;
        let stored = self.water_total_kg() + self.frost_total_kg() - self.water_at_start_kg;
        let water = settled - t.drained_out_kg - t.drained_back_kg - stored;
        let vapour = t.vapour_in_kg - t.vapour_out_kg - settled;
        let heat =
            t.heat_in_j - t.heat_out_j - t.heat_lost_j - (self.heat_j() - self.heat_at_start_j);
        let part = |left: f64, of: f64| if of > 0.0 { left / of } else { left };
        Residual {
            water: part(water, t.condensed_kg + t.evaporated_kg),
            vapour: part(vapour, t.vapour_in_kg + t.vapour_out_kg),
            heat: part(heat, t.heat_moved_j + self.heat_at_start_j.abs() + self.heat_j().abs()),
        }
    }

    /// Heat in walls and water, J, zero at liquid water of 0 °C.
    fn heat_j(&self) -> f64 {
        let mut sum = 0.0;
        for row in &self.rows {
            for cell in &self.cells[row.first..row.end] {
                sum += row.capacity * cell.wall_c - FUSION_HEAT_J_KG * cell.frost_kg;
            }
        }
        sum
    }
}

fn checked(around: Around) -> Result<Around, OutOfDomain> {
    Ok(Around { t_c: AIR_C.check(around.t_c)?, w: HUMIDITY_RATIO.check(around.w)? })
}

/// Takes from the cells of a row what they cannot carry, kg.
fn take_surplus(row: &Row, cells: &mut [Cell]) -> f64 {
    let mut taken = 0.0;
    for cell in &mut cells[row.first..row.end] {
        let surplus = (cell.film_kg - row.carries_kg).max(0.0);
        cell.film_kg -= surplus;
        taken += surplus;
    }
    taken
}

/// Leads what the cells of a sag cannot carry, and what runs in, to its middle; returns what does not fit, kg.
fn lead_to_middle(row: &Row, cells: &mut [Cell], runs_in_kg: f64) -> f64 {
    let middle = row.middle();
    let standing = core::mem::take(&mut cells[middle].film_kg);
    let all = standing + take_surplus(row, cells) + runs_in_kg;
    let stays = all.min(row.keeps_kg(middle));
    cells[middle].film_kg = stays;
    all - stays
}

/// Water that leaves a row against the air: to the piece before, or to the fan.
fn put_back(rows: &[Row], cells: &mut [Cell], totals: &mut Totals, place: usize, kg: f64) {
    // It passes the pieces that fall the same way.
    for row in rows[..place].iter().rev() {
        match row.slope {
            Slope::DrainsBack => {}
            Slope::Sag(_) => {
                cells[row.middle()].film_kg += kg;
                return;
            }
            Slope::Level | Slope::DrainsOut => {
                cells[row.end - 1].film_kg += kg;
                return;
            }
        }
    }
    totals.drained_back_kg += kg;
}

impl Row {
    fn new(piece: &Piece, around: Around, first: usize) -> Result<Self, OutOfDomain> {
        let length_m = LENGTH_M.check(piece.length.m())?;
        let diameter_m = DIAMETER_M.check(piece.diameter.m())?;
        let outward = RESISTANCE.check(piece.outward.rsi())?;
        let film = Domain {
            quantity: "resistance of the outside film",
            high: outward,
            low: 0.0,
            reason: "the film is a part of the resistance to the surroundings",
            ..RESISTANCE
        }
        .check(piece.outside_film.rsi())?;
        CELLS.check(piece.cells as f64)?;
        if let Slope::Sag(pocket) = piece.slope {
            Domain {
                quantity: "water that a sag holds",
                unit: "kg",
                low: 0.0,
                high: 1e4,
                reason: "a sag holds some kilograms",
            }
            .check(pocket.holds_kg)?;
        }
        let area_m2 = PI * diameter_m * length_m / piece.cells as f64;
        Ok(Self {
            first,
            end: first + piece.cells,
            length_m,
            diameter_m,
            relative_roughness: ROUGHNESS.check(piece.roughness.m() / diameter_m)?,
            area_m2,
            capacity: area_m2 * WALL.check(piece.wall_j_m2_k)?,
            conductance: area_m2 / outward,
            film_share: film / outward,
            carries_kg: area_m2 * RUNNING_FILM_KG_M2,
            slope: piece.slope,
            around: checked(around)?,
        })
    }

    fn exchange(&self, flow: f64, dt: f64, total_length_m: f64) -> Exchange {
        let mut exchange = Exchange {
            step_over_capacity: dt / self.capacity,
            capacity_over_step: self.capacity / dt,
            ..Exchange::default()
        };
        if flow > 0.0 {
            let re = 4.0 * flow / (PI * self.diameter_m * VISCOSITY);
            let stubby = self.diameter_m / total_length_m;
            let nusselt = nusselt_any_flow(re, PRANDTL, self.relative_roughness, stubby);
            let film = nusselt * CONDUCTIVITY / self.diameter_m;
            let units = film * self.area_m2 / (flow * AIR_J_KG_K);
            exchange.approach = -libm::expm1(-units);
            exchange.heat = flow * AIR_J_KG_K * exchange.approach;
            exchange.vapour = flow * -libm::expm1(-units / LEWIS_TWO_THIRDS);
            exchange.per_air_kg = 1.0 / (flow * dt);
        }
        exchange.dry = exchange.heat + self.conductance;
        exchange.per_dry = 1.0 / exchange.dry;
        let steps = exchange.dry * exchange.step_over_capacity;
        exchange.way = -libm::expm1(-steps);
        exchange.way_mean = way_on_mean(exchange.way, steps, 1.0 / steps);
        exchange
    }
}

/// Mean over a step of the way gone, `steps` time constants long (`per_step` is 1/steps), with `way` at its end.
#[inline]
fn way_on_mean(way: f64, steps: f64, per_step: f64) -> f64 {
    if steps > 1e-9 { 1.0 - way * per_step } else { 0.5 * steps }
}

/// 1 − exp(−x) for x from 0 on, without an exponential: from 0 to 1, rising, and within 0.01 up to 1.5. Only how fast a
/// wet wall settles hangs on it, never a balance nor where it settles.
#[inline]
fn way_of(x: f64) -> f64 {
    let grown = x * (1.0 + x * (0.5 + x * (1.0 / 6.0 + x * (1.0 / 24.0))));
    if grown < 1e15 { grown / (1.0 + grown) } else { 1.0 }
}

/// Which of its forms the water on a wall has while a step is solved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Form {
    Liquid,
    Ice,
}

/// A wall over a step: at its end, on the mean, and what it took, kg.
#[derive(Debug, Clone, Copy)]
struct Solved {
    end_c: f64,
    mean_c: f64,
    taken_kg: f64,
}

/// Air on its way, and what it has left so far.
struct Stream<'a> {
    air: Outlet,
    /// Vapour pressure of the air, Pa, and the humidity ratio it was computed for.
    vapour_pa: f64,
    vapour_of: f64,
    dt: f64,
    per_s: f64,
    p_pa: f64,
    saturation: &'a Saturation,
    condensed: f64,
    evaporated: f64,
    /// W, to the surroundings.
    lost: f64,
    lost_size: f64,
}

impl Stream<'_> {
    /// Passes one cell.
    #[inline]
    fn over(&mut self, row: &Row, x: &Exchange, cell: &mut Cell) {
        let around_c = row.around.t_c;
        // What drives the wall without any water, W.
        let drive = x.heat * self.air.t_c + row.conductance * around_c;
        let wet = cell.film_kg + cell.frost_kg > 0.0;
        let solved = if wet {
            self.over_wet(row, x, cell, drive, self.guess_c(cell, around_c))
        } else {
            let settled = drive * x.per_dry;
            let mean_c = cell.wall_c + (settled - cell.wall_c) * x.way_mean;
            if self.stays_dry(mean_c) {
                let end_c = cell.wall_c + (settled - cell.wall_c) * x.way;
                Solved { end_c, mean_c, taken_kg: 0.0 }
            } else {
                self.over_wet(row, x, cell, drive, mean_c)
            }
        };
        cell.drift_c = solved.mean_c - cell.wall_c;
        cell.wall_c = solved.end_c;
        self.air.t_c -= x.approach * (self.air.t_c - solved.mean_c);
        let lost = row.conductance * (solved.mean_c - around_c);
        self.lost += lost;
        self.lost_size += lost.abs();
        self.condensed += solved.taken_kg.max(0.0);
        self.evaporated += (-solved.taken_kg).max(0.0);
        self.air.w = (self.air.w - solved.taken_kg * x.per_air_kg).max(0.0);
    }

    /// Where the mean of a wet wall is looked for: as far on as it went in the step before, but never beyond what it lies between.
    #[inline]
    fn guess_c(&self, cell: &Cell, around_c: f64) -> f64 {
        let (a, b, c) = (cell.wall_c, self.air.t_c, around_c);
        (cell.wall_c + cell.drift_c).max(a.min(b).min(c)).min(a.max(b).max(c))
    }

    /// Whether air lets no water fall on a bare wall of a temperature.
    #[inline]
    fn stays_dry(&mut self, wall_c: f64) -> bool {
        if self.vapour_of.to_bits() != self.air.w.to_bits() {
            self.vapour_of = self.air.w;
            self.vapour_pa = vapour_pressure_pa(self.air.w, self.p_pa);
        }
        self.vapour_pa <= self.saturation.pressure_pa(wall_c)
    }

    /// A wall that is wet or frosty, or becomes so (its mean is near `near_c`): tried in the form its water has, then in the other, and if
    /// neither holds the wall stays at 0 °C and part of the water changes.
    fn over_wet(
        &self,
        row: &Row,
        x: &Exchange,
        cell: &mut Cell,
        drive: f64,
        near_c: f64,
    ) -> Solved {
        let ice_first = if cell.frost_kg > 0.0 { cell.film_kg == 0.0 } else { cell.wall_c < 0.0 };
        let order = if ice_first { [Form::Ice, Form::Liquid] } else { [Form::Liquid, Form::Ice] };
        for form in order {
            let solved = self.solve(x, cell, drive, near_c, form);
            let holds = match form {
                Form::Liquid => solved.end_c >= 0.0,
                Form::Ice => solved.end_c <= 0.0,
            };
            if holds {
                let water = (cell.film_kg + cell.frost_kg + solved.taken_kg).max(0.0);
                (cell.film_kg, cell.frost_kg) = match form {
                    Form::Liquid => (water, 0.0),
                    Form::Ice => (0.0, water),
                };
                return solved;
            }
        }
        self.thaw_or_freeze(row, x, cell, drive)
    }

    /// The wall over the step if all its water is in one form from now on; the change of form costs or gives its heat
    /// evenly over the step.
    #[inline]
    fn solve(&self, x: &Exchange, cell: &Cell, drive: f64, near_c: f64, form: Form) -> Solved {
        let start_c = cell.wall_c;
        let (latent, change_kg) = match form {
            Form::Liquid => (EVAPORATION_HEAT_J_KG, -cell.frost_kg),
            Form::Ice => (EVAPORATION_HEAT_J_KG + FUSION_HEAT_J_KG, cell.film_kg),
        };
        let drive = drive + FUSION_HEAT_J_KG * change_kg * self.per_s;
        let water = cell.film_kg + cell.frost_kg;
        let latent_film = x.vapour * latent;
        // Condensation cannot warm the wall beyond the warmest there is; a tangent laid far off could.
        let highest = start_c.max(self.air.t_c).max(near_c) + 1.0;
        let mut at = near_c;
        let mut solved = Solved { end_c: start_c, mean_c: start_c, taken_kg: 0.0 };
        for _ in 0..TURNS {
            let (saturated, slope) = self.saturation.humidity_ratio_and_slope(at, self.p_pa);
            let extra = latent_film * slope;
            let all = x.dry + extra;
            let per_all = 1.0 / all;
            let faster = way_of(extra * x.step_over_capacity);
            let way = x.way + faster - x.way * faster;
            let way_mean =
                way_on_mean(way, all * x.step_over_capacity, per_all * x.capacity_over_step);
            let settled = (drive + latent_film * (self.air.w - saturated + slope * at)) * per_all;
            solved.mean_c = start_c + (settled - start_c) * way_mean;
            solved.end_c = start_c + (settled - start_c) * way;
            let surface = saturated + slope * (solved.mean_c - at);
            solved.taken_kg = x.vapour * (self.air.w - surface) * self.dt;
            if (solved.mean_c - at).abs() < CLOSE_K {
                break;
            }
            at = solved.mean_c.min(highest);
        }
        // No more than there is, on the wall or in the air.
        let most = x.vapour * self.air.w * self.dt;
        if solved.taken_kg > most || solved.taken_kg < -water {
            let taken = if solved.taken_kg > most { most } else { -water };
            let settled = (drive + latent * taken * self.per_s) * x.per_dry;
            solved.mean_c = start_c + (settled - start_c) * x.way_mean;
            solved.end_c = start_c + (settled - start_c) * x.way;
            solved.taken_kg = taken;
        }
        solved
    }

    /// The wall ends the step at 0 °C with part of its water frozen.
    fn thaw_or_freeze(&self, row: &Row, x: &Exchange, cell: &mut Cell, drive: f64) -> Solved {
        let water = cell.film_kg + cell.frost_kg;
        let saturated = self.saturation.humidity_ratio(0.0, self.p_pa);
        let taken = (x.vapour * (self.air.w - saturated) * self.dt).max(-water);
        let after = water + taken;
        // Heat of wall and water at the end if the wall stays at 0 °C, J.
        let heat = row.capacity * cell.wall_c - FUSION_HEAT_J_KG * cell.frost_kg
            + drive * self.dt
            + EVAPORATION_HEAT_J_KG * taken;
        let frost = (-heat / FUSION_HEAT_J_KG).clamp(0.0, after);
        // What is left over, when all has melted or frozen, moves the wall (backward Euler).
        let spare = heat + FUSION_HEAT_J_KG * frost;
        let end_c = if frost > 0.0 && frost < after {
            0.0
        } else {
            spare / (row.capacity + x.dry * self.dt)
        };
        cell.frost_kg = frost;
        cell.film_kg = after - frost;
        Solved { end_c, mean_c: end_c, taken_kg: taken }
    }
}
