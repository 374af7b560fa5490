//! Our side of the comparison in `compare.py`: many operating points, timed, with their flows.
//!
//! Prints the seconds per operating point (best of the rounds), then one flow a line, m3/s. Case `i` of `n` has the
//! lengths of [`LENGTHS_M`] times 0.8 + 0.4 i/n. With the argument `one-wall` every piece has the roughness of the first,
//! which lets the other side ask for one friction factor instead of five; here nothing is shared. Each case is put together anew (a duct kernel per piece, a loss per
//! fitting) and solved from the solver's own start, as the other side does it.

#![allow(clippy::print_stdout, reason = "what it prints is what it is for")]

use std::error::Error;
use std::hint::black_box;
use std::time::Instant;

use dewpath_air::element::Element;
use dewpath_air::fan::FanCurve;
use dewpath_air::friction::DuctKernel;
use dewpath_air::network::{EdgeId, Network, NetworkBuilder, Solver};

const CASES: usize = 500;
const ROUNDS: usize = 40;
const RHO: f64 = 1.2;
const MU: f64 = 1.82e-5;
const DIAMETER_M: f64 = 0.1016;
const LENGTHS_M: [f64; 5] = [1.2, 2.4, 0.6, 3.0, 0.8];
const ROUGHNESS_M: [f64; 5] = [9e-5, 1.5e-4, 9e-5, 9e-4, 1.5e-4];
const COEFFICIENTS: [f64; 4] = [0.5, 0.57, 0.57, 1.9];
const FAN: [(f64, f64); 7] = [
    (0.0, 120.0),
    (0.01, 112.0),
    (0.02, 98.0),
    (0.03, 78.0),
    (0.0378, 62.3),
    (0.045, 25.0),
    (0.05, 0.0),
];

type Walls = [f64; 5];

fn pieces_and_fittings(case: usize, walls: &Walls) -> impl Iterator<Item = Element> {
    let scale = 0.8 + 0.4 * case as f64 / CASES as f64;
    let area = std::f64::consts::FRAC_PI_4 * DIAMETER_M * DIAMETER_M;
    let pieces = LENGTHS_M.into_iter().zip(*walls).map(move |(length, roughness)| {
        let length = length * scale;
        Element::Duct(DuctKernel::new(DIAMETER_M, area, length, roughness, 1.0, RHO, MU))
    });
    let fittings = COEFFICIENTS.into_iter().map(move |c| Element::coefficient(c, area, RHO));
    pieces.chain(fittings)
}

fn network(walls: &Walls) -> Result<(Network, EdgeId), Box<dyn Error>> {
    let mut builder = NetworkBuilder::new();
    let (room, outdoors) = (builder.fixed_node(0.0), builder.fixed_node(0.0));
    let fan = Element::Fan(FanCurve::from_si_points(&FAN, RHO)?);
    let run =
        builder.edge(room, outdoors, std::iter::once(fan).chain(pieces_and_fittings(0, walls)));
    Ok((builder.build()?, run))
}

fn main() -> Result<(), Box<dyn Error>> {
    let one_wall = std::env::args().nth(1).is_some_and(|argument| argument == "one-wall");
    let walls = if one_wall { [ROUGHNESS_M[0]; 5] } else { ROUGHNESS_M };
    let (mut network, run) = network(&walls)?;
    let mut solver = Solver::new();
    let mut flows = vec![0.0; CASES];
    let mut best = f64::INFINITY;
    for _ in 0..ROUNDS {
        let start = Instant::now();
        for (case, flow) in flows.iter_mut().enumerate() {
            let slots = &mut network.elements_mut(run)[1..];
            for (slot, element) in
                slots.iter_mut().zip(pieces_and_fittings(black_box(case), &walls))
            {
                *slot = element;
            }
            *flow = solver.solve(&network, None)?.flow_m3_s(run);
        }
        best = best.min(start.elapsed().as_secs_f64() / CASES as f64);
    }
    println!("{best:e}");
    for flow in flows {
        println!("{flow:.15e}");
    }
    Ok(())
}
