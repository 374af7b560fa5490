//! Holes through walls and roofs: sizes by hand, order of the steps, course lines.

use dewpath_layout::bore::ROUND_OFF_M;
use dewpath_layout::penetration::{
    Action, CentreOn, Courses, CoverAfter, Crossing, Laps, Layer, Material, ScrewFault, Separation,
    Sheet, Tool, judge_screws, masonry_screw, on_courses, roof_hole, smallest_bit_m, timber_screw,
    wall_sheet,
};
use proptest::prelude::*;

const INCH: f64 = 0.0254;

fn layer(material: Material, inches: f64) -> Layer {
    Layer { material, thickness_m: Some(inches * INCH) }
}

fn crossing() -> Crossing {
    Crossing {
        outside_m: 4.0 * INCH,
        clearance_m: 0.125 * INCH,
        fall_ratio: 1.0 / 48.0,
        past_m: [INCH, 0.5 * INCH],
        fill_ratio: 1.0,
        separation: Some(Separation::None),
    }
}

/// Board, studs with batts, sheathing, sheet, air space, brick.
fn brick_wall() -> Vec<Layer> {
    vec![
        layer(Material::Lining, 0.5),
        layer(Material::SoftInsulation, 3.5),
        layer(Material::Timber, 0.5),
        layer(Material::Membrane, 0.0),
        layer(Material::Cavity, 1.0),
        layer(Material::Masonry, 3.625),
    ]
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9
}

fn at(sheet: &Sheet, action: Action) -> usize {
    sheet.steps.iter().position(|s| s.action == action).unwrap_or(usize::MAX)
}

/// Hole for a 4 in sleeve in board 4-1/4 in (trade practice); fall of 1/4 in per ft over 9-1/8 in of wall; the gap is a ring
/// between 4 and 4-1/4 in.
#[test]
fn sizes_by_hand() {
    let sheet = wall_sheet("wall", &brick_wall(), &crossing()).unwrap();
    assert!(near(sheet.hole_m / INCH, 4.25));
    assert!(near(sheet.thickness_m.unwrap() / INCH, 9.125));
    assert!(near(sheet.fall_m.unwrap() / INCH, 9.125 / 48.0));
    let slant = (1.0 + 1.0 / (48.0 * 48.0_f64)).sqrt();
    assert!(near(sheet.sleeve_m.unwrap() / INCH, 9.125 * slant + 1.5));
    let ring_in2 = core::f64::consts::PI * (2.125 * 2.125 - 4.0);
    assert!(near(sheet.foam_m3.unwrap() / (INCH * INCH * INCH), ring_in2 * 9.125 * slant));
    // Drilled level, the hole must be higher by what the duct falls within the wall.
    assert!(near(sheet.level_hole_m.unwrap() / INCH, 4.0 * slant + 9.125 / 48.0 + 0.25));
    let half =
        wall_sheet("wall", &brick_wall(), &Crossing { fill_ratio: 0.5, ..crossing() }).unwrap();
    assert!(near(2.0 * half.foam_m3.unwrap(), sheet.foam_m3.unwrap()));
    let mut unseen = brick_wall();
    unseen[1].thickness_m = None;
    let unseen = wall_sheet("wall", &unseen, &crossing()).unwrap();
    assert_eq!((unseen.thickness_m, unseen.foam_m3, unseen.fall_m), (None, None, None));
    assert!(near(unseen.hole_m / INCH, 4.25));
}

/// The least level hole, against points on the surface of the falling cylinder.
#[test]
fn level_hole_against_points() {
    let steep = Crossing { fall_ratio: 0.3, clearance_m: 0.0, ..crossing() };
    let sheet = wall_sheet("wall", &[layer(Material::Masonry, 8.0)], &steep).unwrap();
    let (thickness, radius) = (8.0 * INCH, 2.0 * INCH);
    let slant = (1.0 + 0.09_f64).sqrt();
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for i in 0..=1000 {
        for side in [-1.0, 1.0] {
            // In the upright plane of the axis: a point on the upper or lower line of the cylinder.
            let along = (f64::from(i) / 1000.0) * (thickness + 1.0) - 0.5;
            let (x, z) = (
                along / slant + side * radius * 0.3 / slant,
                -0.3 * along / slant + side * radius / slant,
            );
            if (0.0..=thickness).contains(&x) {
                low = low.min(z);
                high = high.max(z);
            }
        }
    }
    let level = sheet.level_hole_m.unwrap();
    assert!(
        high - low <= level + 1e-12 && high - low > level - 2e-3,
        "{} against {level}",
        high - low
    );
}

#[test]
fn steps_come_in_order() {
    let sheet = wall_sheet("wall", &brick_wall(), &crossing()).unwrap();
    let order = [
        Action::FindServices,
        Action::MarkCentre,
        Action::PilotFromInside,
        Action::CheckPilot,
        Action::ControlDust,
        Action::CoreFromOutside,
        Action::BridgeCavity,
        Action::OpenMembrane,
        Action::CutFromOutside,
        Action::PartInsulation,
        Action::CutFromInside,
        Action::SetSleeve,
        Action::Flash,
        Action::FastenTerminal,
        Action::SealGap,
        Action::SealInside,
        Action::Photograph,
    ];
    assert_eq!(sheet.steps.iter().map(|s| s.action).collect::<Vec<_>>(), order);
    let core = sheet.steps[at(&sheet, Action::CoreFromOutside)];
    // 3-5/8 in in passes of no more than 2 in.
    assert_eq!((core.passes, core.tool, core.layer), (Some(2), Some(Tool::CoreDrill), Some(5)));
    assert!(near(core.diameter_m.unwrap(), sheet.hole_m));
    let timber = sheet.steps[at(&sheet, Action::CutFromOutside)];
    assert_eq!((timber.tool, timber.layer, timber.passes), (Some(Tool::HoleSaw), Some(2), None));
    assert_eq!(
        sheet.cover_after,
        [CoverAfter::FoamCut, CoverAfter::FlowSeen, CoverAfter::Photographed, CoverAfter::Seen]
    );
}

#[test]
fn fire_rim_and_unknown_layers_come_first() {
    let rim = [
        layer(Material::SoftInsulation, 3.5),
        layer(Material::Rim, 1.25),
        layer(Material::Siding, 0.5),
    ];
    let sheet = wall_sheet("rim", &rim, &crossing()).unwrap();
    assert!(at(&sheet, Action::AskRim) < at(&sheet, Action::PilotFromInside));
    assert_eq!(at(&sheet, Action::ControlDust), usize::MAX, "no dust of masonry");
    for separation in [None, Some(Separation::Garage), Some(Separation::Rated)] {
        let sheet = wall_sheet("rim", &rim, &Crossing { separation, ..crossing() }).unwrap();
        assert_eq!(sheet.steps[0].action, Action::StopForFire);
        assert_eq!(sheet.cover_after[0], CoverAfter::FirePapers);
    }
    let unseen = Layer { material: Material::Unknown, thickness_m: None };
    let sheet = wall_sheet("wall", &[unseen], &crossing()).unwrap();
    assert_eq!(sheet.steps[0].action, Action::LookAtLayer);
}

/// Bits in the trade for a 4 in sleeve: 4-1/4, 4-3/8, 4-5/8 in.
#[test]
fn the_smallest_bit_that_is_enough() {
    let bits = [4.625 * INCH, 4.25 * INCH, 4.375 * INCH, f64::NAN];
    assert_eq!(smallest_bit_m(4.25 * INCH, &bits), Some(4.25 * INCH));
    assert_eq!(smallest_bit_m(4.26 * INCH, &bits), Some(4.375 * INCH));
    assert_eq!(smallest_bit_m(4.7 * INCH, &bits), None);
    assert_eq!(smallest_bit_m(0.1, &[]), None);
}

/// Modular brick 2-1/4 in high, 3 courses 8 in (2-2/3 each); engineer 5 courses 16 in; utility and closure brick 4 in each:
/// Brick Industry Association, Technical Notes 10 (number of the note from memory).
#[test]
fn course_lines_by_hand() {
    let modular = Courses::of_rise("brick", 2.25 * INCH, 3, 8.0 * INCH).unwrap();
    assert!(near(modular.rise_m() / INCH, 8.0 / 3.0));
    assert!(near(
        Courses::of_rise("brick", 2.8 * INCH, 5, 16.0 * INCH).unwrap().rise_m() / INCH,
        3.2
    ));
    assert!(near(
        Courses::of_rise("brick", 3.625 * INCH, 1, 4.0 * INCH).unwrap().joint_m / INCH,
        0.375
    ));
    // 16 in are six courses; the middle of the joint below lies half a joint (5/24 in) lower.
    let [first, second] = on_courses("brick", &modular, 16.0 * INCH, 4.25 * INCH).unwrap();
    assert_eq!((first.on, first.full_courses), (CentreOn::BedJoint, 6));
    assert!(
        near(first.centre_m / INCH, 16.0 - 5.0 / 24.0) && near(first.offset_m / INCH, -5.0 / 24.0)
    );
    assert_eq!(second.on, CentreOn::MidCourse);
    assert!(near(second.centre_m / INCH, 16.0 + 1.125) && second.full_courses == 6);
    // 4-1/4 in about a joint cuts the two courses beside it: their bricks reach 2.458 in from its middle.
    assert_eq!((first.courses_cut, second.courses_cut), (2, 3));
    let [first, _] = on_courses("brick", &modular, -2.0 * INCH, INCH).unwrap();
    assert_eq!((first.on, first.full_courses, first.courses_cut), (CentreOn::MidCourse, -1, 1));
}

#[test]
fn bad_masonry_says_what_is_wrong() {
    assert_eq!(Courses::of_rise("brick", 3.0 * INCH, 3, 8.0 * INCH).unwrap_err().what, "bed joint");
    assert_eq!(Courses::of_rise("brick", 0.05, 0, 0.2).unwrap_err().what, "number of courses");
    let flat = Courses { brick_m: 0.0, joint_m: 0.01 };
    assert_eq!(on_courses("brick", &flat, 1.0, 0.1).unwrap_err().what, "height of a brick");
    let brick = Courses { brick_m: 0.057, joint_m: 0.01 };
    assert_eq!(on_courses("brick", &brick, f64::NAN, 0.1).unwrap_err().what, "wanted height");
    assert_eq!(wall_sheet("wall", &[], &crossing()).unwrap_err().what, "number of layers");
    let bad = |change: &dyn Fn(&mut Crossing)| {
        let mut crossing = crossing();
        change(&mut crossing);
        wall_sheet("wall", &brick_wall(), &crossing).unwrap_err().what
    };
    assert_eq!(bad(&|c| c.fall_ratio = -0.1), "fall");
    assert_eq!(bad(&|c| c.fall_ratio = f64::NAN), "fall");
    assert_eq!(bad(&|c| c.fill_ratio = 1.1), "filled share of the gap");
    assert_eq!(bad(&|c| c.outside_m = 0.0), "outside diameter of the duct");
    assert_eq!(bad(&|c| c.clearance_m = f64::INFINITY), "clearance round the duct");
}

/// Masonry screws: 1/4 in with a 3/16 in bit, 3/16 with 5/32; 1 to 1-3/4 in deep; edge 5 and spacing 10 diameters.
#[test]
fn screws_of_a_terminal() {
    let quarter = masonry_screw(0.25 * INCH).unwrap();
    assert!(near(quarter.pilot_m / INCH, 0.1875) && near(quarter.edge_m.unwrap() / INCH, 1.25));
    assert!(near(quarter.apart_m.unwrap() / INCH, 2.5));
    assert!(near(masonry_screw(0.1875 * INCH).unwrap().pilot_m / INCH, 5.0 / 32.0));
    assert!(masonry_screw(0.3 * INCH).is_none() && masonry_screw(f64::NAN).is_none());
    assert!(timber_screw(0.004).unwrap().pilot_m < 0.004 && timber_screw(0.1).is_none());
    // Four screws on a ring of 7 in round 4-1/4 in: 1.375 in to the hole, 4.95 in to the next.
    assert_eq!(judge_screws("cap", 4.25 * INCH, 7.0 * INCH, 4, &quarter).unwrap(), []);
    let near_hole = judge_screws("cap", 4.25 * INCH, 6.25 * INCH, 4, &quarter).unwrap();
    assert!(matches!(near_hole[..], [ScrewFault::NearHole { by_m }] if near(by_m / INCH, 0.25)));
    // Nine on the same ring stand 2 x 3.5 sin 20 = 2.394 in apart.
    let close = judge_screws("cap", 4.25 * INCH, 7.0 * INCH, 9, &quarter).unwrap();
    assert!(
        matches!(close[..], [ScrewFault::NearEachOther { by_m }] if (by_m / INCH - 0.1058).abs() < 1e-4)
    );
    assert!(judge_screws("cap", 0.1, 0.2, 0, &quarter).is_err());
}

/// 6 in 12: sqrt(1 + 1/4) = 1.118; 12 in 12: 1.414. A square cut through 5/8 in of deck at 12 in 12 is 5/8 in longer.
#[test]
fn roof_holes_by_hand() {
    let roof = [
        layer(Material::SoftInsulation, 10.0),
        layer(Material::Timber, 0.625),
        layer(Material::Membrane, 0.0),
        layer(Material::RoofCover, 0.25),
    ];
    let laps = Laps { side_m: 4.0 * INCH, up_m: 8.0 * INCH, down_m: 4.0 * INCH };
    let hole = roof_hole("roof", &roof, &crossing(), 0.5, &laps).unwrap();
    assert!(near(hole.across_m / INCH, 4.25) && near(hole.along_m / INCH, 4.25 * 1.25_f64.sqrt()));
    let hole = roof_hole("roof", &roof, &crossing(), 1.0, &laps).unwrap();
    let along = 4.25 * 2.0_f64.sqrt();
    assert!(near(hole.square_cut_m.unwrap() / INCH, along + 0.625));
    assert!(
        near(hole.flashing_m[0] / INCH, 12.25) && near(hole.flashing_m[1] / INCH, along + 12.0)
    );
    let guard = hole.steps.iter().position(|s| s.action == Action::GuardRoof).unwrap();
    let lift = hole.steps.iter().position(|s| s.action == Action::LiftRoofCover).unwrap();
    let saw = hole.steps.iter().position(|s| s.action == Action::CutFromOutside).unwrap();
    assert!(guard < lift && lift < saw);
    let flat = roof_hole("roof", &roof, &crossing(), 0.0, &laps).unwrap();
    assert!(near(flat.along_m, flat.across_m));
    let unseen = [Layer { material: Material::Timber, thickness_m: None }];
    assert_eq!(roof_hole("roof", &unseen, &crossing(), 0.5, &laps).unwrap().square_cut_m, None);
    assert_eq!(roof_hole("roof", &roof, &crossing(), 2.5, &laps).unwrap_err().what, "pitch");
}

proptest! {
    /// The nearer centre is within a quarter course of any height, near enough; both lie on their lines.
    #[test]
    fn a_course_line_is_never_far(brick in 0.04..0.2f64, joint in 0.0..0.02f64, wanted in -3.0..6.0f64, hole in 0.02..0.3f64) {
        let courses = Courses { brick_m: brick, joint_m: joint };
        let both = on_courses("brick", &courses, wanted, hole).unwrap();
        let rise = courses.rise_m();
        prop_assert!(both[0].offset_m.abs() <= both[1].offset_m.abs());
        prop_assert!(both[0].offset_m.abs() <= 0.25 * rise + 1e-9);
        for on in both {
            prop_assert!(on.offset_m.abs() <= 0.5 * rise + 1e-9);
            let line = match on.on { CentreOn::BedJoint => -0.5 * joint, CentreOn::MidCourse => 0.5 * brick };
            prop_assert!((on.centre_m - line - rise * f64::from(on.full_courses)).abs() < 1e-9);
            // Bricks counted one by one.
            let cut = (-200..400).filter(|k| {
                let low = f64::from(*k) * rise;
                low < on.centre_m + 0.5 * hole - ROUND_OFF_M && low + brick > on.centre_m - 0.5 * hole + ROUND_OFF_M
            }).count();
            prop_assert_eq!(on.courses_cut as usize, cut);
        }
    }

    /// Every layer is dealt with once, the pilot comes from inside before any large cut, masonry never without dust control.
    #[test]
    fn any_wall_keeps_the_order(kinds in proptest::collection::vec(0..12usize, 1..9), thick in 0.001..0.3f64) {
        let all = [
            Material::Lining, Material::Tile, Material::Timber, Material::Rim, Material::SoftInsulation,
            Material::RigidInsulation, Material::Membrane, Material::Cavity, Material::Siding, Material::Masonry,
            Material::Render, Material::Metal,
        ];
        let layers: Vec<Layer> = kinds.iter().map(|k| Layer { material: all[*k], thickness_m: Some(thick) }).collect();
        let sheet = wall_sheet("wall", &layers, &crossing()).unwrap();
        let pilot = at(&sheet, Action::CheckPilot);
        let mut touched: Vec<usize> = sheet.steps[pilot..].iter().filter_map(|s| s.layer).collect();
        touched.sort_unstable();
        prop_assert_eq!(touched, (0..layers.len()).collect::<Vec<_>>());
        prop_assert!(at(&sheet, Action::PilotFromInside) < pilot);
        let core = at(&sheet, Action::CoreFromOutside);
        prop_assert!(core == usize::MAX || at(&sheet, Action::ControlDust) < core);
        for step in sheet.steps.iter().filter(|s| s.action == Action::CoreFromOutside) {
            let pass = step.depth_m.unwrap() / f64::from(step.passes.unwrap());
            prop_assert!(pass <= 2.0 * INCH + 1e-4);
        }
    }
}
