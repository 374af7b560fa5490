//! Ducts and fittings that a search may use, with what they lose at the required flow.

use dewpath_air::fittings::ElbowMake;
use dewpath_air::friction::Duct as Friction;
use dewpath_air::terminal::{TerminalKernel, TerminalKind};
use dewpath_case::Case;
use dewpath_case::given;
use dewpath_job::model::{DuctKind, Run, Section, Show};
use dewpath_layout::route::{Bend, Duct, ExitKind};
use dewpath_units::{Airflow, Angle, Density, Length, Quantity as _};

use crate::edit::style;

pub(super) use crate::clearance::first_duct;

/// Air at which the search compares ways: 1.2 kg/m³, 1.81e-5 Pa s. The ways that it keeps are judged with the air of the job.
const DENSITY_KG_M3: f64 = 1.2;
const VISCOSITY_PA_S: f64 = 1.81e-5;
/// Wall of a duct, m: sheet metal and its seam, common practice, no source.
const WALL_M: f64 = 0.001;
/// A hole is so much wider than what goes through it, m: 1/4 in., common practice, no source.
const HOLE_PLAY_M: f64 = 0.00635;
/// Straight lengths, m: after the collar, between fittings (so that both ends can be joined), before the way out. Judgement.
const FIRST_M: f64 = 0.15;
const BETWEEN_M: f64 = 0.05;
const LAST_M: f64 = 0.10;
/// Work, h. Judgement, so that a run of 4 m with two elbows through a rim takes the 3 h that a published guide to such a
/// run tells of.
const STRAIGHT_H_PER_M: f64 = 0.15;
const BEND_H: f64 = 0.25;
const BORE_H: f64 = 0.5;
/// Most ducts that are tried.
const MOST: usize = 4;

/// A duct that may be used.
#[derive(Debug, Clone)]
pub(super) struct Choice {
    /// As the search takes it.
    pub duct: Duct,
    /// Inside diameter, m.
    pub inside_m: f64,
    /// Kind.
    pub kind: DuctKind,
    /// Whether its size is the one that is written for the run.
    pub is_written: bool,
}

/// The duct that is written for a run first, then those of the library in sizes that the trade of the job's units sells, each size
/// and kind once.
pub(super) fn choices(case: &Case<'_>, run: &Run, flow_m3_s: f64, jacket_m: f64) -> Vec<Choice> {
    let show = case.job.show;
    let written = first_duct(run).into_iter().map(|duct| (None, duct));
    let library = case.world.products.ducts.iter().map(|d| (Some(d.id.clone()), &d.duct));
    let mut found: Vec<Choice> = Vec::new();
    for (model, duct) in written.chain(library) {
        let Some(Section::Round(size)) = given::member(&duct.size) else { continue };
        if model.is_some() && !is_trade_size(size, show) {
            continue;
        }
        // What is not smooth is not proposed: it is drawn where it must be, by hand.
        let kind = match given::member(&duct.kind) {
            Some(kind @ (DuctKind::SmoothMetal | DuctKind::SpiralMetal | DuctKind::Plastic)) => {
                kind
            }
            None => DuctKind::SmoothMetal,
            Some(_) if model.is_none() => DuctKind::SmoothMetal,
            Some(_) => continue,
        };
        let known = |c: &Choice| c.kind == kind && (c.inside_m - size.m()).abs() < 1e-4;
        if found.len() < MOST && !found.iter().any(known) {
            let is_written = model.is_none();
            let name = model.unwrap_or_else(|| size_name(size, show));
            let made = choice(name, kind, size.m(), flow_m3_s, jacket_m);
            found.extend(made.map(|made| Choice { is_written, ..made }));
        }
    }
    found
}

/// A size as the trade of the job's units says it. One that only the other trade knows keeps its name from there.
pub(super) fn size_name(size: Length, show: Show) -> String {
    let other = match show {
        Show::Us => Show::Metric,
        Show::Metric => Show::Us,
    };
    let is_foreign = !is_trade_size(size, show) && is_trade_size(size, other);
    size.print(&style(if is_foreign { other } else { show }).inches_only())
}

/// Whether round duct of such a size is sold by the inch, or by the millimetre in steps of five.
fn is_trade_size(size: Length, show: Show) -> bool {
    let step_m = match show {
        Show::Us => Length::from_inches(1.0).m(),
        Show::Metric => 0.005,
    };
    let steps = size.m() / step_m;
    (steps - steps.round()).abs() < 1e-3
}

/// Sizes of round duct of a bath, of the trade of the job's units.
pub(super) fn bath_sizes(show: Show) -> [Length; 4] {
    match show {
        Show::Us => [3.0, 4.0, 5.0, 6.0].map(Length::from_inches),
        Show::Metric => [80.0, 100.0, 125.0, 150.0].map(Length::from_mm),
    }
}

/// A round duct of a kind and size; none where it has no published roughness or elbow.
pub(super) fn choice(
    name: String,
    kind: DuctKind,
    inside_m: f64,
    flow_m3_s: f64,
    jacket_m: f64,
) -> Option<Choice> {
    let size = Length::from_m(inside_m);
    let roughness = dewpath_case::system::roughness_m(kind, 0.5);
    let metre = Friction::round(size, Length::from_m(1.0), Length::from_m(roughness));
    let flow = Airflow::from_m3_s(flow_m3_s);
    let straight = metre.loss(flow, Density::from_kg_m3(DENSITY_KG_M3), VISCOSITY_PA_S).ok()?.pa();
    let makes = [("stamped", ElbowMake::Stamped, 1.5), ("adjustable", ElbowMake::Adjustable, 1.0)];
    let mut bends = Vec::new();
    for (id, make, radius) in makes {
        for turn_deg in [90.0, 45.0] {
            let angle = Angle::from_deg(turn_deg);
            let coefficient = make.coefficient(size, angle).ok()?.likely;
            bends.push(Bend {
                id: format!("{id} {turn_deg:.0}"),
                turn_deg,
                radius_m: radius * inside_m,
                pressure_pa: coefficient * velocity_pressure_pa(flow_m3_s, inside_m),
                labour_h: BEND_H,
            });
        }
    }
    let bare = inside_m + 2.0 * WALL_M;
    Some(Choice {
        duct: Duct {
            id: name,
            bare_m: bare,
            outside_m: bare + 2.0 * jacket_m,
            height_m: None,
            hole_m: bare + 2.0 * jacket_m + HOLE_PLAY_M,
            straight_pa_per_m: straight,
            straight_h_per_m: STRAIGHT_H_PER_M,
            bends,
            first_straight_m: FIRST_M,
            min_straight_m: BETWEEN_M,
            last_straight_m: LAST_M,
            bore_h: BORE_H,
        },
        inside_m,
        kind,
        is_written: false,
    })
}

fn area_m2(diameter_m: f64) -> f64 {
    std::f64::consts::FRAC_PI_4 * diameter_m * diameter_m
}

fn velocity_pressure_pa(flow_m3_s: f64, diameter_m: f64) -> f64 {
    let v = flow_m3_s / area_m2(diameter_m);
    0.5 * DENSITY_KG_M3 * v * v
}

/// Loss of a usual terminal on such a way out, Pa.
pub(super) fn terminal_pa(kind: ExitKind, flow_m3_s: f64, diameter_m: f64) -> f64 {
    let kind = match kind {
        ExitKind::Roof => TerminalKind::RoofCap,
        ExitKind::Soffit => TerminalKind::Soffit,
        ExitKind::Wall | ExitKind::Rim | ExitKind::Gable => TerminalKind::WallCap,
    };
    let band = kind.band().of_width(Length::from_m(diameter_m));
    TerminalKernel::new(band.at(0.5), band.flap, area_m2(diameter_m), DENSITY_KG_M3)
        .loss(flow_m3_s)
        .0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_size_is_called_as_its_trade_calls_it() {
        let named = |size: Length| [Show::Us, Show::Metric].map(|show| size_name(size, show));
        assert_eq!(named(Length::from_inches(4.0)), ["4 in", "4 in"]);
        assert_eq!(named(Length::from_inches(14.0)), ["14 in", "14 in"]);
        assert_eq!(named(Length::from_mm(125.0)), ["125 mm", "125 mm"]);
        // What neither trade sells is told in the job's units.
        assert_eq!(named(Length::from_mm(116.0)), ["4-9/16 in", "116 mm"]);
    }
}
