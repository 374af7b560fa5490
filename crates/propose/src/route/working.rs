//! How the loss and the work of a way outdoors are made up.

use dewpath_layout::route::{Exit, Route};
use dewpath_report::say::What;
use dewpath_report::{Figure, Provenance, Source, Step, Triple, WorkingInput};

use super::ducts::Choice;

/// What a way is made up of, as the search counts it.
struct Parts {
    straight_m: f64,
    /// Loss of straight duct, elbows and terminal, Pa.
    losses: [f64; 3],
    /// Work on straight duct, elbows, bores and the way through the wall or roof, h.
    hours: [f64; 4],
}

fn parts(route: &Route, choice: &Choice, exit: &Exit) -> Parts {
    let duct = &choice.duct;
    let arcs: f64 = route.bends.iter().map(|bend| bend.radius_m * bend.turn_deg.to_radians()).sum();
    let straight_m = route.length_m - arcs;
    let bends = || {
        let known = |id: &String| duct.bends.iter().find(|bend| bend.id == *id);
        route.bends.iter().filter_map(move |bend| known(&bend.bend))
    };
    Parts {
        straight_m,
        losses: [
            straight_m * duct.straight_pa_per_m,
            bends().map(|bend| bend.pressure_pa).sum(),
            exit.pressure_pa,
        ],
        hours: [
            straight_m * duct.straight_h_per_m,
            bends().map(|bend| bend.labour_h).sum(),
            route.crossings.len() as f64 * duct.bore_h,
            exit.labour_h,
        ],
    }
}

/// Working of the loss at the required flow, then of the work.
pub(super) fn working(route: &Route, choice: &Choice, exit: &Exit) -> Vec<Step> {
    let Parts { straight_m, losses, hours } = parts(route, choice, exit);
    let pressure = |pa: f64| Figure::PressurePa(Triple::exact(pa));
    let time = |h: f64| Figure::TimeH(Triple::exact(h));
    let count = |n: usize| Figure::Count(Triple::exact(n as f64));
    let input = |(symbol, what, figure): (&str, What, Figure)| {
        WorkingInput::new(symbol, what, figure, Provenance::Computed)
    };
    let taken = |(symbol, what, figure): (&str, What, Figure)| {
        WorkingInput::new(symbol, what, figure, Provenance::Default)
    };
    let made_of = [
        ("L", What::RouteStraight, Figure::LengthM(Triple::exact(straight_m))),
        ("n", What::RouteElbows, count(route.bends.len())),
    ];
    let lost = [
        ("dp_straight", What::RouteLossStraight, pressure(losses[0])),
        ("dp_elbows", What::RouteLossElbows, pressure(losses[1])),
        ("dp_terminal", What::RouteLossTerminal, pressure(losses[2])),
    ];
    let work = [
        ("h_straight", What::RouteWorkStraight, time(hours[0])),
        ("h_elbows", What::RouteWorkElbows, time(hours[1])),
        ("h_bores", What::RouteWorkBores, time(hours[2])),
        ("h_exit", What::RouteWorkExit, time(hours[3])),
    ];
    vec![
        Step {
            equation: "dp = dp_straight + dp_elbows + dp_terminal, at the required flow".into(),
            inputs: made_of.into_iter().chain(lost).map(input).collect(),
            result: Some(pressure(route.pressure_pa)),
            source: Source::confirmed(
                "Darcy-Weisbach, Colebrook-White",
                "roughness and coefficients of fittings: docs/physics.md",
            ),
        },
        Step {
            equation: "h = h_straight + h_elbows + h_bores + h_exit".into(),
            inputs: work.into_iter().map(taken).collect(),
            result: Some(time(route.labour_h)),
            source: Source::judgement(
                "hours for a metre, an elbow, a bore and a wall, after published guides",
            ),
        },
    ]
}
