//! Fittings and terminals against numbers from outside the project.
//!
//! Sources: ASHRAE Fundamentals 2009 (SI) ch. 21 and 2005 (SI) p. 35.52 as printed, fluids 1.3.1 (Rennels, Ito, Miller,
//! Crane TP-410 2009, Idelchik), SMACNA and other handbook values from memory where said.

use dewpath_air::fittings::{
    Coefficient, ElbowMake, Entry, JunctionLaw, Leg, LossKernel, ReynoldsCurve, Split, Transition,
    angle_factor, backdraft_damper, butterfly, entry, exit, grille, reynolds_factor, screen,
    system_effect,
};
use dewpath_air::terminal::{TerminalKernel, TerminalKind};
use dewpath_checkvalues::Tolerance::Relative;
use dewpath_checkvalues::{check, checks, relative};
use dewpath_units::{Angle, Area, Length, Ratio};
use proptest::prelude::*;

const RHO: f64 = 1.2;
const MU: f64 = 1.82e-5;

fn mm(d: f64) -> Length {
    Length::from_mm(d)
}

fn degrees(a: f64) -> Angle {
    Angle::from_deg(a)
}

fn circle(d_m: f64) -> Area {
    Area::from_m2(core::f64::consts::PI / 4.0 * d_m * d_m)
}

fn elbow(make: ElbowMake, d_mm: f64, angle_deg: f64) -> Coefficient {
    make.coefficient(mm(d_mm), degrees(angle_deg)).unwrap()
}

/// ASHRAE Fundamentals 2009 (SI) ch. 21, printed fitting tables.
#[test]
fn elbows_give_the_printed_values_at_the_nodes() {
    let three = ElbowMake::ThreeGores { r_over_d: 1.5 };
    for (check, make, angle) in [
        (check("FIT-01"), ElbowMake::Stamped, 90.0),
        (check("FIT-02"), ElbowMake::Stamped, 45.0),
        (check("FIT-03"), ElbowMake::Pleated, 90.0),
        (check("FIT-04"), ElbowMake::Pleated, 45.0),
        (check("FIT-05"), ElbowMake::FiveGores, 90.0),
        (check("FIT-06"), ElbowMake::SevenGores, 90.0),
        (check("FIT-08"), three, 60.0),
        (check("FIT-09"), three, 45.0),
    ] {
        let found: Vec<Coefficient> =
            check.inputs("D_mm").into_iter().map(|d| elbow(make, d, angle)).collect();
        check.all_hold(&found.iter().map(|found| found.likely).collect::<Vec<_>>());
        assert!(found.iter().all(|found| !found.extrapolated), "{}", check.id);
    }
    let by_radius = check("FIT-07")
        .inputs("r_over_D")
        .into_iter()
        .map(|r_over_d| elbow(ElbowMake::ThreeGores { r_over_d }, 150.0, 90.0).likely);
    check("FIT-07").all_hold(&by_radius.collect::<Vec<_>>());
    let r_over_w = check("FIT-10").input("r_over_W");
    let by_shape = check("FIT-10")
        .inputs("H_over_W")
        .into_iter()
        .map(|h_over_w| elbow(ElbowMake::Rectangular { r_over_w, h_over_w }, 100.0, 90.0).likely);
    check("FIT-10").all_hold(&by_shape.collect::<Vec<_>>());
}

/// ASHRAE Fundamentals 2005 (SI) p. 35.52.
#[test]
fn angle_factor_is_as_printed() {
    let angles = check("FIT-11").inputs("angle_deg");
    check("FIT-11").all_hold(&angles.into_iter().map(angle_factor).collect::<Vec<_>>());
}

/// Two tables from the same handbook must agree: the 45° column is the 90° one times K(45°), within its printed digits.
#[test]
fn own_45_degree_columns_agree_with_the_angle_factor() {
    for make in [ElbowMake::Stamped, ElbowMake::Pleated] {
        for d in [100.0, 150.0, 200.0, 250.0] {
            let by_column = elbow(make, d, 45.0).likely;
            let by_factor = elbow(make, d, 90.0).likely * 0.6;
            assert!((by_column - by_factor).abs() <= 0.006, "{make:?} {d}");
        }
    }
}

/// Pipe correlations for a smooth 100 mm bend (fluids 1.3.1 `bend_rounded`; ε 0.09 mm) against the duct tables with the
/// low-Reynolds factor: r/D 1 from the SMACNA column (from memory), r/D 1.5 from the stamped elbow. They differ by up to
/// ±20 % among themselves; ours is within 25 % of each.
#[test]
fn smooth_elbows_agree_with_pipe_correlations_at_low_reynolds() {
    let tight = elbow(ElbowMake::Smooth { r_over_d: 1.0 }, 100.0, 90.0);
    let stamped = elbow(ElbowMake::Stamped, 100.0, 90.0);
    for check in checks("FIT-12", "FIT-23") {
        let is_tight = (check.input("rc_m") / check.input("D_m") - 1.0).abs() < 1e-9;
        let found = if is_tight { tight } else { stamped };
        let ours = found.likely * reynolds_factor(found.reynolds.unwrap(), check.input("Re")).0;
        check
            .within(
                Relative(0.25),
                "a duct table; the correlations differ by ±20 % among themselves",
            )
            .holds(ours);
    }
}

/// fluids 1.3.1 `bend_miter(method='Rennels')`; SMACNA gives 1.2 (from memory).
#[test]
fn mitre_is_as_published() {
    check("FIT-24").holds(elbow(ElbowMake::Mitred, 100.0, 90.0).likely);
    assert!(elbow(ElbowMake::MitredWithVanes, 100.0, 90.0).high < 0.5);
}

/// fluids 1.3.1: Rennels sharp entrance 0.57 (handbook 0.50: both ends of our band), Idelchik rounded entrance.
#[test]
fn entries_and_exit_are_as_published() {
    let flush = entry(Entry::Flush).unwrap();
    check("FIT-25").holds(flush.high);
    relative("flush", flush.likely, 0.50, 1e-12);
    let rounded = check("FIT-26");
    let bell = entry(Entry::Bellmouth { r_over_d: rounded.input("rc") / rounded.input("Di") });
    rounded
        .within(Relative(0.06), "the handbook's table (from memory) gives 0.12, Idelchik's 0.113")
        .holds(bell.unwrap().likely);
    check("FIT-27").holds(exit().likely);
}

/// fluids 1.3.1 `diffuser_sharp`, `contraction_sharp`, `diffuser_conical` (Rennels); the last also near Idelchik's 0.1202,
/// 0.2070, 0.3619.
#[test]
fn changes_of_size_are_as_published() {
    let (small, large) = (circle(0.1), circle(0.15));
    let out = Transition::abrupt(small, large).unwrap();
    check("FIT-28").holds(out.coefficient().likely);
    let back = Transition::abrupt(large, small).unwrap();
    check("FIT-29").holds(back.coefficient().likely);
    assert!((back.area().m2() - small.m2()).abs() < 1e-15);
    for (check, idelchik) in
        [(check("FIT-30"), 0.1202), (check("FIT-31"), 0.2070), (check("FIT-32"), 0.3619)]
    {
        let angle = degrees(check.input("angle"));
        let cone = Transition::new(small, large, angle, check.input("fd")).unwrap();
        check.holds(cone.coefficient().likely);
        relative("Idelchik", cone.coefficient().likely, idelchik, 0.25);
    }
}

fn law(leg: Leg, split: Split, branch_m: f64, run_m: f64, angle: f64) -> JunctionLaw {
    JunctionLaw::new(leg, split, circle(branch_m), circle(run_m), degrees(angle)).unwrap()
}

/// fluids 1.3.1, Crane TP-410 (2009): 150 mm run, 100 mm branch; share is the branch's part of the whole flow.
#[test]
fn converging_junctions_are_as_published() {
    for (leg, check) in [
        (Leg::Branch, check("FIT-33")),
        (Leg::Run, check("FIT-34")),
        (Leg::Branch, check("FIT-35")),
        (Leg::Run, check("FIT-36")),
        (Leg::Branch, check("FIT-37")),
        (Leg::Run, check("FIT-38")),
    ] {
        let share = check.input(if leg == Leg::Branch { "Q_branch" } else { "Q_run" });
        let angle = check.input("angle");
        check.holds(law(leg, Split::Converging, 0.1, 0.15, angle).coefficient(share).0);
    }
}

/// fluids 1.3.1 `K_branch_diverging_Crane` and `K_run_diverging_Crane`, called for these sizes (their printed digits).
#[test]
fn diverging_junctions_agree_with_the_library() {
    for (leg, branch, run, angle, share, want) in DIVERGING {
        let own = if leg == Leg::Branch { share } else { 1.0 - share };
        let found = law(leg, Split::Diverging, branch, run, angle).coefficient(own).0;
        assert!((found - want).abs() < 1e-9, "{leg:?} {angle} {share}: {found} for {want}");
    }
}

/// Air drags air along: a branch with little flow is helped by the run (K below zero), as published.
#[test]
fn a_weak_branch_is_drawn_along() {
    assert!(law(Leg::Branch, Split::Converging, 0.1, 0.15, 45.0).coefficient(0.1).0 < 0.0);
}

/// The published branch factor jumps at a share of 0.4 and at an area ratio of 0.35; ours has no jump.
#[test]
fn junction_laws_have_no_jump() {
    for split in [Split::Converging, Split::Diverging] {
        for leg in [Leg::Branch, Leg::Run] {
            for angle in [30.0, 45.0, 60.0, 74.0, 90.0] {
                for branch in [0.075, 0.0885, 0.0888, 0.1, 0.125, 0.15] {
                    let law = law(leg, split, branch, 0.15, angle);
                    for i in 1..1000 {
                        let share = f64::from(i) / 1000.0;
                        let h = 1e-6;
                        let (k, slope) = law.coefficient(share);
                        let (up, down) = (law.coefficient(share + h), law.coefficient(share - h));
                        let difference = (up.0 - down.0) / (2.0 * h);
                        assert!(k.is_finite() && (up.0 - k).abs() < 1e-4);
                        assert!(
                            (difference - slope).abs() < 1e-3,
                            "{split:?} {leg:?} {angle} {branch} {share}: {difference} {slope}"
                        );
                    }
                }
            }
        }
    }
    // A hair's breadth of area around the published jump: no jump either.
    let k = |ratio: f64| {
        let (branch, run) = (Area::from_m2(0.01 * ratio), Area::from_m2(0.01));
        JunctionLaw::new(Leg::Branch, Split::Converging, branch, run, degrees(45.0))
            .unwrap()
            .coefficient(0.6)
            .0
    };
    assert!((k(0.35 + 1e-9) - k(0.35 - 1e-9)).abs() < 1e-6);
}

/// Nodes of the SMACNA note (from memory); held below 1e4 and 1 from 2e5.
#[test]
fn reynolds_factor_passes_its_nodes() {
    let (easy, tight) = (ReynoldsCurve::for_radius(1.5), ReynoldsCurve::for_radius(0.5));
    for (re, want, want_tight) in [
        (1e3, 2.0, 1.4),
        (1e4, 2.0, 1.4),
        (2e4, 1.77, 1.26),
        (3e4, 1.64, 1.19),
        (4e4, 1.56, 1.14),
        (6e4, 1.46, 1.09),
        (8e4, 1.38, 1.06),
        (1e5, 1.30, 1.04),
        (1.4e5, 1.15, 1.0),
        (2e5, 1.0, 1.0),
        (1e6, 1.0, 1.0),
    ] {
        relative("easy", reynolds_factor(easy, re).0, want, 1e-12);
        relative("tight", reynolds_factor(tight, re).0, want_tight, 1e-12);
    }
    let between = reynolds_factor(ReynoldsCurve::for_radius(0.625), 2e4).0;
    relative("between", between, 0.5 * (1.77 + 1.26), 1e-12);
}

/// Re = 4ρQ/(πDμ) = 1e4 in 100 mm at 11.9 L/s: below it the factor is flagged, and never for a constant coefficient.
#[test]
fn a_held_reynolds_factor_is_flagged() {
    let area = circle(0.1).m2();
    let kernel = elbow(ElbowMake::Stamped, 100.0, 90.0).kernel(0.5, 0.1, area, RHO, MU);
    assert!(kernel.is_held(-0.0118) && !kernel.is_held(0.0120));
    assert!(!LossKernel::new(0.21, area, RHO).is_held(0.001));
    let want = 0.21 * 2.0 * 0.5 * RHO * (0.0118 / area) * (0.0118 / area);
    relative("held at 2", kernel.loss(0.0118).0, want, 1e-12);
}

/// Butterfly table from memory; Idelchik's screen form from memory, a worked value by hand: σ 0.5 gives 0.65 + 1.
#[test]
fn dampers_and_screens_follow_their_tables() {
    for (angle, want) in [
        (0.0, 0.2),
        (10.0, 0.5),
        (20.0, 1.5),
        (30.0, 4.5),
        (40.0, 11.0),
        (50.0, 29.0),
        (60.0, 108.0),
    ] {
        relative("blade", butterfly(degrees(angle)).unwrap().likely, want, 1e-12);
    }
    let clean = screen(Ratio::from_ratio(0.5), Ratio::from_ratio(0.0)).unwrap().likely;
    relative("screen", clean, 1.65, 1e-12);
    let half = screen(Ratio::from_ratio(0.5), Ratio::from_ratio(0.5)).unwrap().likely;
    relative("lint", half, 1.3 * 0.75 + 9.0, 1e-12);
    assert!(grille().low >= 2.0 && grille().high <= 4.0);
}

/// AMCA 201 in spirit (judgement): full below 2 diameters, none from 3; an unknown length spans both.
#[test]
fn system_effect_fades_with_straight_duct() {
    let d = mm(100.0);
    let at = |straight| system_effect(Some(mm(straight)), d).unwrap();
    assert_eq!((at(0.0).low, at(0.0).high), (0.5, 1.0));
    relative("2.5 diameters", at(250.0).high, 0.5, 1e-12);
    assert!(at(300.0).high < 1e-12 && at(500.0).high == 0.0);
    let unknown = system_effect(None, d).unwrap();
    assert_eq!((unknown.low, unknown.high), (0.0, 1.0));
}

#[test]
fn outside_the_tables_is_flagged_or_refused() {
    assert!(elbow(ElbowMake::Stamped, 60.0, 90.0).extrapolated);
    assert!(elbow(ElbowMake::Pleated, 80.0, 90.0).extrapolated);
    assert!(!elbow(ElbowMake::Adjustable, 100.0, 90.0).extrapolated);
    assert!(ElbowMake::Stamped.coefficient(mm(0.0), degrees(90.0)).is_err());
    assert!(ElbowMake::Stamped.coefficient(mm(100.0), degrees(200.0)).is_err());
    assert!(
        ElbowMake::Smooth { r_over_d: f64::NAN }.coefficient(mm(100.0), degrees(90.0)).is_err()
    );
    assert!(butterfly(degrees(75.0)).is_err());
    assert!(screen(Ratio::from_ratio(0.5), Ratio::from_ratio(1.0)).is_err());
    assert!(Transition::abrupt(Area::from_m2(0.0), circle(0.1)).is_err());
    assert!(entry(Entry::Bellmouth { r_over_d: -0.1 }).is_err());
    assert!(
        JunctionLaw::new(Leg::Run, Split::Diverging, circle(0.1), circle(0.0), degrees(90.0))
            .is_err()
    );
}

/// An adjustable elbow stands between the two makes it is like (judgement), set angles by the angle factor.
#[test]
fn adjustable_elbow_lies_between_gored_and_pleated() {
    let found = elbow(ElbowMake::Adjustable, 100.0, 90.0);
    let five = elbow(ElbowMake::FiveGores, 100.0, 90.0).likely;
    let pleated = elbow(ElbowMake::Pleated, 100.0, 90.0).likely;
    assert!(five <= found.likely && found.likely <= pleated);
    relative("45°", elbow(ElbowMake::Adjustable, 100.0, 45.0).likely, 0.6 * found.likely, 1e-12);
}

/// A point measured at the cap replaces the band: every set passes through it.
#[test]
fn a_measured_point_replaces_the_band() {
    let area = circle(0.1).m2();
    for kind in
        [TerminalKind::WallCap, TerminalKind::RoofCap, TerminalKind::Soffit, TerminalKind::Open]
    {
        let band = kind.band().through(0.03, 22.0, area, RHO).unwrap();
        for u in [0.0, 0.2, 0.5, 0.9, 1.0] {
            let kernel = TerminalKernel::new(band.at(u), band.flap, area, RHO);
            relative("point", kernel.loss(0.03).0, 22.0, 1e-9);
        }
    }
    assert!(TerminalKind::WallCap.band().through(0.0, 22.0, area, RHO).is_err());
    assert!(TerminalKind::WallCap.band().through(0.03, -1.0, area, RHO).is_err());
}

/// Closed form: an open end loses one velocity pressure; a closed flap lets next to nothing back.
#[test]
fn terminals_at_their_limits() {
    let area = circle(0.1).m2();
    let open = TerminalKind::Open.band();
    let kernel = TerminalKernel::new(open.likely, open.flap, area, RHO);
    relative("open", kernel.loss(0.02).0, 0.6 * (0.02 / area) * (0.02 / area), 1e-12);
    let cap = TerminalKind::WallCap.band();
    let kernel = TerminalKernel::new(cap.likely, cap.flap, area, RHO);
    let back = kernel.loss(-0.001).0;
    assert!(back < -30.0, "1 L/s back through a shut flap takes {back} Pa");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    /// Strictly increasing with a true slope, both ways, constant and Reynolds-corrected.
    #[test]
    fn fitting_loss_increases_strictly(
        c in 0.03_f64..100.0,
        d in 0.05_f64..0.4,
        r_over_d in 0.3_f64..3.0,
        ln_q in -14.0_f64..0.5,
        back in any::<bool>(),
        corrected in any::<bool>(),
    ) {
        let area = circle(d).m2();
        let kernel = if corrected {
            LossKernel::corrected(c, ReynoldsCurve::for_radius(r_over_d), d, area, RHO, MU)
        } else {
            LossKernel::two_way(c, 0.5 * c, area, RHO)
        };
        let q = libm::exp(ln_q) * if back { -1.0 } else { 1.0 };
        rises(|q| kernel.loss(q), q)?;
    }

    /// The same for terminals and backdraft dampers.
    #[test]
    fn terminal_loss_increases_strictly(
        kind in 0_usize..6,
        u in 0.0_f64..1.0,
        d in 0.08_f64..0.25,
        ln_q in -14.0_f64..-1.0,
        back in any::<bool>(),
    ) {
        let kinds = [TerminalKind::WallCap, TerminalKind::RoofCap, TerminalKind::Soffit, TerminalKind::Open, TerminalKind::Unknown];
        let band = kinds.get(kind).map_or(backdraft_damper(), |kind| kind.band());
        let kernel = TerminalKernel::new(band.at(u), band.flap, circle(d).m2(), RHO);
        let q = libm::exp(ln_q) * if back { -1.0 } else { 1.0 };
        rises(|q| kernel.loss(q), q)?;
    }
}

fn rises(loss: impl Fn(f64) -> (f64, f64), q: f64) -> Result<(), TestCaseError> {
    let h = 1e-6 * q.abs();
    let ((below, _), (here, slope), (above, _)) = (loss(q - h), loss(q), loss(q + h));
    prop_assert!(below < here && here < above && slope > 0.0, "{below} {here} {above} {slope}");
    let difference = (above - below) / (2.0 * h);
    prop_assert!((difference - slope).abs() < 1e-4 * slope, "{difference} and {slope}");
    prop_assert!(here * q > 0.0, "loss has the sign of flow");
    Ok(())
}

/// Called from fluids 1.3.1: leg, branch and run diameter (m), angle, branch share, K on the common velocity. The run is taken
/// a rounding error larger there, so that 100 on 150 mm is two thirds and not the next number above.
const DIVERGING: [(Leg, f64, f64, f64, f64, f64); 48] = [
    (Leg::Branch, 0.1, 0.15, 45.0, 0.2, 0.4981714293002538),
    (Leg::Branch, 0.1, 0.15, 45.0, 0.7, 0.7519431835574283),
    (Leg::Branch, 0.1, 0.15, 45.0, 0.9, 1.3421055217166964),
    (Leg::Branch, 0.1, 0.15, 60.0, 0.2, 0.6621999999999998),
    (Leg::Branch, 0.1, 0.15, 60.0, 0.7, 1.1433750000000036),
    (Leg::Branch, 0.1, 0.15, 60.0, 0.9, 1.8453750000000078),
    (Leg::Branch, 0.1, 0.15, 90.0, 0.2, 1.2025000000000008),
    (Leg::Branch, 0.1, 0.15, 90.0, 0.7, 3.4806250000000096),
    (Leg::Branch, 0.1, 0.15, 90.0, 0.9, 5.100625000000018),
    (Leg::Branch, 0.075, 0.15, 45.0, 0.2, 0.48828398409746315),
    (Leg::Branch, 0.075, 0.15, 45.0, 0.7, 4.148171721552055),
    (Leg::Branch, 0.075, 0.15, 45.0, 0.9, 7.538506499138369),
    (Leg::Branch, 0.075, 0.15, 60.0, 0.2, 0.8064000000000008),
    (Leg::Branch, 0.075, 0.15, 60.0, 0.7, 5.134000000000023),
    (Leg::Branch, 0.075, 0.15, 60.0, 0.9, 8.806000000000042),
    (Leg::Branch, 0.075, 0.15, 90.0, 0.2, 1.6400000000000028),
    (Leg::Branch, 0.075, 0.15, 90.0, 0.7, 8.840000000000034),
    (Leg::Branch, 0.075, 0.15, 90.0, 0.9, 13.960000000000058),
    (Leg::Branch, 0.1, 0.1, 45.0, 0.2, 0.666298413022335),
    (Leg::Branch, 0.1, 0.1, 45.0, 0.7, 0.3000303038033),
    (Leg::Branch, 0.1, 0.1, 45.0, 0.9, 0.322324676318529),
    (Leg::Branch, 0.1, 0.1, 60.0, 0.2, 0.89056),
    (Leg::Branch, 0.1, 0.1, 60.0, 0.7, 0.6882000000000004),
    (Leg::Branch, 0.1, 0.1, 60.0, 0.9, 0.7458000000000006),
    (Leg::Branch, 0.1, 0.1, 90.0, 0.2, 1.024144),
    (Leg::Branch, 0.1, 0.1, 90.0, 0.7, 1.315609000000001),
    (Leg::Branch, 0.1, 0.1, 90.0, 0.9, 1.5450490000000014),
    (Leg::Branch, 0.125, 0.15, 45.0, 0.2, 0.5945724347521623),
    (Leg::Branch, 0.125, 0.15, 45.0, 0.7, 0.3543220374767528),
    (Leg::Branch, 0.125, 0.15, 45.0, 0.9, 0.5080771338986833),
    (Leg::Branch, 0.125, 0.15, 60.0, 0.2, 0.9018972160000001),
    (Leg::Branch, 0.125, 0.15, 60.0, 0.7, 0.7828915200000007),
    (Leg::Branch, 0.125, 0.15, 60.0, 0.9, 0.9023308800000012),
    (Leg::Branch, 0.125, 0.15, 90.0, 0.2, 1.0371817984),
    (Leg::Branch, 0.125, 0.15, 90.0, 0.7, 1.4966276224000015),
    (Leg::Branch, 0.125, 0.15, 90.0, 0.9, 1.8693288064000027),
    (Leg::Run, 0.1, 0.15, 90.0, 0.2, -0.048),
    (Leg::Run, 0.1, 0.15, 90.0, 0.7, 0.05879999999999998),
    (Leg::Run, 0.1, 0.15, 90.0, 0.9, 0.1944),
    (Leg::Run, 0.075, 0.15, 90.0, 0.2, 0.016000000000000004),
    (Leg::Run, 0.075, 0.15, 90.0, 0.7, 0.19599999999999998),
    (Leg::Run, 0.075, 0.15, 90.0, 0.9, 0.32400000000000007),
    (Leg::Run, 0.1, 0.1, 90.0, 0.2, -0.048),
    (Leg::Run, 0.1, 0.1, 90.0, 0.7, 0.05879999999999998),
    (Leg::Run, 0.1, 0.1, 90.0, 0.9, 0.1944),
    (Leg::Run, 0.125, 0.15, 90.0, 0.2, -0.048),
    (Leg::Run, 0.125, 0.15, 90.0, 0.7, 0.05879999999999998),
    (Leg::Run, 0.125, 0.15, 90.0, 0.9, 0.1944),
];
