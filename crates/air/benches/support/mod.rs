//! The cases both benches measure.

use dewpath_air::element::Element;
use dewpath_air::fan::FanCurve;
use dewpath_air::fittings::LossKernel;
use dewpath_air::friction::DuctKernel;
use dewpath_air::network::{Network, NetworkBuilder};

const RHO: f64 = 1.2;
const MU: f64 = 1.82e-5;
const D: f64 = 0.1016;
const AREA: f64 = 0.00810732;

/// An invented ceiling fan of seven points.
pub(crate) fn fan() -> FanCurve {
    let points = [
        (0.0, 120.0),
        (0.01, 112.0),
        (0.02, 98.0),
        (0.03, 78.0),
        (0.0378, 62.3),
        (0.045, 25.0),
        (0.05, 0.0),
    ];
    FanCurve::from_si_points(&points, RHO).expect("points are sound")
}

/// A straight piece of 4 in. duct, `length` m, exact Colebrook.
pub(crate) fn duct(length: f64, roughness: f64) -> DuctKernel {
    DuctKernel::new(D, AREA, length, roughness, 1.0, RHO, MU)
}

fn fitting(c: f64) -> Element {
    Element::Loss(LossKernel::new(c, AREA, RHO))
}

/// Five pieces and four fittings.
fn pieces() -> Vec<Element> {
    let lengths = [1.2, 2.4, 0.6, 3.0, 0.8];
    let ducts = lengths.map(|length| Element::Duct(duct(length, 9e-5)));
    let fittings = [0.5, 0.57, 0.57, 1.9].map(fitting);
    ducts.into_iter().chain(fittings).collect()
}

/// One fan on one run of five pieces and four fittings.
pub(crate) fn single_run() -> Network {
    let mut builder = NetworkBuilder::new();
    let (room, outdoors) = (builder.fixed_node(-1.0), builder.fixed_node(0.0));
    builder.edge(room, outdoors, [Element::Fan(fan())].into_iter().chain(pieces()));
    builder.build().expect("one run hangs together")
}

/// Three grilles, each on its own duct, on one fan and one run to outdoors.
pub(crate) fn three_grilles() -> Network {
    let mut builder = NetworkBuilder::new();
    let rooms = [-1.0, -2.0, 0.5].map(|pressure| builder.fixed_node(pressure));
    let outdoors = builder.fixed_node(3.0);
    let (first, second) = (builder.free_node(), builder.free_node());
    let ends = [(rooms[0], first), (rooms[1], first), (rooms[2], second)];
    for ((room, junction), length) in ends.into_iter().zip([2.0, 3.5, 1.0]) {
        let branch = [fitting(2.5), Element::Duct(duct(length, 9e-5)), fitting(0.57)];
        builder.edge(room, junction, branch);
    }
    builder.edge(first, second, [Element::Duct(duct(1.5, 9e-5)), fitting(0.3)]);
    let trunk = [Element::Fan(fan()), Element::Duct(duct(4.0, 9e-5)), fitting(2.0)];
    builder.edge(second, outdoors, trunk);
    builder.build().expect("the network hangs together")
}
