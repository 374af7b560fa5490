//! A duct through time against another way to solve its equations: Runge–Kutta of the fourth order in steps of a quarter
//! second, with the saturation curve itself (Hyland & Wexler 1983, `dewpath_air`, checked against psychrolib) in place
//! of the table and its tangents.

use core::f64::consts::PI;

use dewpath_air::moist_air::saturation_pressure;
use dewpath_moisture::duct::line::{AIR_J_KG_K, Around, DuctLine, Inlet, Piece, Slope};
use dewpath_moisture::duct::{EVAPORATION_HEAT_J_KG, LEWIS_TWO_THIRDS};
use dewpath_moisture::heat::nusselt_inside;
use dewpath_units::{Length, Pressure, Temperature, ThermalResistance};

const CELLS: usize = 6;
const LENGTH_M: f64 = 7.0;
const DIAMETER_M: f64 = 0.127;
const P: f64 = 96_000.0;

/// Temperature of the walls, then water on them.
type Walls = [f64; 2 * CELLS];

struct Duct {
    outward: f64,
    wall_j_m2_k: f64,
    around_c: f64,
}

fn saturated(t_c: f64) -> f64 {
    let p = saturation_pressure(Temperature::from_c(t_c)).unwrap().pa();
    0.621945 * p / (P - p)
}

impl Duct {
    /// dT/dt and dm/dt, with the water that settles and dries, kg/s.
    fn slope(&self, walls: &Walls, inlet: Inlet) -> (Walls, f64, f64) {
        let area = PI * DIAMETER_M * LENGTH_M / CELLS as f64;
        let flow = inlet.dry_air_kg_s;
        let re = 4.0 * flow / (PI * DIAMETER_M * 1.768e-5);
        let nu = nusselt_inside(re, 0.71, 0.0009, DIAMETER_M / LENGTH_M).unwrap();
        let units = nu * 0.02511 / DIAMETER_M * area / (flow * AIR_J_KG_K);
        let (mut t, mut w) = (inlet.t_c, inlet.w);
        let mut slope = [0.0; 2 * CELLS];
        let (mut settles, mut dries) = (0.0, 0.0);
        for cell in 0..CELLS {
            let (wall, water) = (walls[cell], walls[CELLS + cell]);
            let heat = flow * AIR_J_KG_K * (1.0 - libm::exp(-units)) * (t - wall);
            let mut vapour =
                flow * (1.0 - libm::exp(-units / LEWIS_TWO_THIRDS)) * (w - saturated(wall));
            if water <= 0.0 {
                vapour = vapour.max(0.0);
            }
            let lost = area / self.outward * (wall - self.around_c);
            slope[cell] =
                (heat + EVAPORATION_HEAT_J_KG * vapour - lost) / (area * self.wall_j_m2_k);
            slope[CELLS + cell] = vapour;
            settles += vapour.max(0.0);
            dries += (-vapour).max(0.0);
            t -= heat / (flow * AIR_J_KG_K);
            w -= vapour / flow;
        }
        (slope, settles, dries)
    }

    fn follow(&self, walls: &mut Walls, seconds: f64, inlet: Inlet) -> (f64, f64) {
        let dt = 0.25;
        let (mut settled, mut dried) = (0.0, 0.0);
        let moved = |walls: &Walls, slope: &Walls, h: f64| {
            let mut next = *walls;
            for (value, rate) in next.iter_mut().zip(slope) {
                *value += h * rate;
            }
            next
        };
        for _ in 0..(seconds / dt) as usize {
            let k1 = self.slope(walls, inlet);
            let k2 = self.slope(&moved(walls, &k1.0, 0.5 * dt), inlet);
            let k3 = self.slope(&moved(walls, &k2.0, 0.5 * dt), inlet);
            let k4 = self.slope(&moved(walls, &k3.0, dt), inlet);
            let stages = k1.0.iter().zip(&k2.0).zip(&k3.0).zip(&k4.0);
            for (value, (((k1, k2), k3), k4)) in walls.iter_mut().zip(stages) {
                *value += dt / 6.0 * (k1 + 2.0 * (k2 + k3) + k4);
            }
            for water in &mut walls[CELLS..] {
                *water = water.max(0.0);
            }
            settled += dt / 6.0 * (k1.1 + 2.0 * (k2.1 + k3.1) + k4.1);
            dried += dt / 6.0 * (k1.2 + 2.0 * (k2.2 + k3.2) + k4.2);
        }
        (settled, dried)
    }
}

/// Above freezing, so that the other way needs no frost: a shower of ten minutes, its run-on, an hour of drift; steps of
/// 5 s within 0.3 % of the water, of 10 s within 0.5 %, of a minute within 6 % (most of it in the first minute of a cold duct).
#[test]
fn a_shower_and_its_run_on() {
    for (outward, wall_j_m2_k) in [(0.12, 2000.0), (0.9, 2000.0), (0.6, 400.0)] {
        let duct = Duct { outward, wall_j_m2_k, around_c: 1.0 };
        let parts = [
            (600.0, Inlet { dry_air_kg_s: 0.04, t_c: 25.0, w: 0.0165 }),
            (900.0, Inlet { dry_air_kg_s: 0.04, t_c: 21.5, w: 0.0090 }),
            (3600.0, Inlet { dry_air_kg_s: 0.0004, t_c: 20.0, w: 0.0070 }),
        ];
        let mut walls = [0.0; 2 * CELLS];
        walls[..CELLS].fill(duct.around_c);
        let want: Vec<_> =
            parts.iter().map(|&(s, inlet)| duct.follow(&mut walls, s, inlet)).collect();
        let wetted = want[0].0;
        assert!(wetted > 0.005);
        for (dt, within) in [(5.0, 0.003), (10.0, 0.005), (60.0, 0.06)] {
            let piece = Piece {
                length: Length::from_m(LENGTH_M),
                diameter: Length::from_m(DIAMETER_M),
                roughness: Length::from_m(0.0009 * DIAMETER_M),
                wall_j_m2_k,
                outward: ThermalResistance::from_rsi(outward),
                outside_film: ThermalResistance::from_rsi(0.1),
                slope: Slope::Level,
                cells: CELLS,
            };
            let around = Around { t_c: duct.around_c, w: 0.003 };
            let mut line = DuctLine::new(&[piece], &[around], Pressure::from_pa(P)).unwrap();
            for (&(seconds, inlet), &(settled, dried)) in parts.iter().zip(&want) {
                let before = line.snapshot();
                for _ in 0..(seconds / dt) as usize {
                    line.step(dt, inlet).unwrap();
                }
                let story = line.story_since(&before);
                let off =
                    (story.condensed_kg - settled).abs() + (story.evaporated_kg - dried).abs();
                assert!(off < within * wetted, "{outward} {dt} s: {story:?}, {settled} {dried}");
            }
            for (cell, &wall) in walls[..CELLS].iter().enumerate() {
                assert!((line.wall_c(cell).unwrap() - wall).abs() < 0.1, "{outward} {dt} {cell}");
                let left = line.film_kg(cell).unwrap() - walls[CELLS + cell];
                assert!(left.abs() < within * wetted);
            }
        }
    }
}
