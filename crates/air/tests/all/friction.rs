//! Duct friction, cross-sections, flexible duct and duct leakage against numbers from outside the project.
//!
//! Sources: fluids 1.3.1 (exact Colebrook and explicit formulas; SI), Hagen–Poiseuille, Huebscher 1948, and for the
//! compression factor ASHRAE Fundamentals ch. 21 (2009 on) from memory.

use dewpath_air::duct_leakage::{Tightness, fraction_lost, leakage};
use dewpath_air::flex::{Pull, bend, compression_factor, crushed, flattened_area, sag};
use dewpath_air::friction::{
    Duct, DuctKernel, ROUGHNESS, colebrook, friction_factor, roughness_of,
};
use dewpath_air::shape::Shape;
use dewpath_checkvalues::Tolerance::Relative;
use dewpath_checkvalues::{Check, check, checks, relative};
use dewpath_units::{Airflow, Angle, Area, Density, Length, Pressure, Ratio};
use proptest::prelude::*;

use crate::explicit;

const RHO: f64 = 1.2;
const MU: f64 = 1.82e-5;

/// Reynolds number and relative roughness that a check was computed for.
fn at(check: &Check) -> (f64, f64) {
    (check.input("Re"), check.input("eps_over_D"))
}

/// fluids 1.3.1 `friction.Clamond`, exact solution.
#[test]
fn friction_factor_solves_colebrook() {
    for check in checks("FRI-01", "FRI-10") {
        let (re, roughness) = at(&check);
        check.holds(friction_factor(re, roughness).factor);
    }
}

/// fluids 1.3.1, the named function; and how far each is from our exact one.
#[test]
fn explicit_formulas_err_as_published() {
    for (check, formula, farthest) in [
        (check("FRI-11"), explicit::haaland as fn(f64, f64) -> f64, 0.014),
        (check("FRI-12"), explicit::swamee_jain, 0.033),
        (check("FRI-13"), explicit::serghides, 3e-5),
        (check("FRI-14"), explicit::churchill, 0.030),
        (check("FRI-15"), explicit::zigrang_sylvester, 0.0011),
        (check("FRI-16"), explicit::sonnad_goudar, 0.010),
        (check("FRI-17"), explicit::altshul_tsal, 0.20),
    ] {
        let (re, roughness) = at(&check);
        let value = formula(re, roughness);
        check.holds(value);
        relative(&check.id, value, friction_factor(re, roughness).factor, farthest);
    }
}

/// Hagen–Poiseuille, 64/Re.
#[test]
fn laminar_is_hagen_poiseuille() {
    check("FRI-18").holds(friction_factor(check("FRI-18").input("Re"), 0.001).factor);
}

/// fluids 1.3.1 `Churchill_1977`, the other usual way through the transition. At its laminar end ours is the same
/// within 1 %. At Re 3000 it has jumped to turbulent flow already (0.0436), ours is on its way there from 64/Re: up to
/// 25 % apart, and no value between the two is the true one.
#[test]
fn transition_lies_between_laminar_and_churchill() {
    for check in [check("FRI-19"), check("FRI-20")] {
        let (re, roughness) = at(&check);
        check.holds(explicit::churchill(re, roughness));
    }
    let (re, roughness) = at(&check("FRI-19"));
    check("FRI-19")
        .within(Relative(0.01), "another way through the transition, which starts here")
        .holds(friction_factor(re, roughness).factor);
    let (re, roughness) = at(&check("FRI-20"));
    let ours = friction_factor(re, roughness).factor;
    assert!(ours > 64.0 / re && ours < check("FRI-20").value(), "{ours}");
}

/// fluids 1.3.1: f = Clamond(4ρQ/(πDμ), ε/D), ΔP = f L/D ρV²/2, over 10 m.
#[test]
fn straight_ducts_lose_what_the_library_gives() {
    for check in checks("FRI-21", "FRI-32").into_iter().chain([check("FRI-47")]) {
        let [diameter, length, roughness] =
            ["D_m", "L_m", "eps_m"].map(|name| Length::from_m(check.input(name)));
        let duct = Duct::round(diameter, length, roughness);
        let (q, rho) = (check.input("Q_m3s"), Density::from_kg_m3(check.input("rho")));
        check.holds(duct.loss(Airflow::from_m3_s(q), rho, check.input("mu")).unwrap().pa());
    }
}

/// 1 + 0.58 r exp(−0.00496 D): ASHRAE Fundamentals ch. 21 from memory; Abushakra et al. 2004.
#[test]
fn compressed_flexible_duct_costs_the_published_factor() {
    for check in checks("FRI-33", "FRI-44") {
        let d_mm = check.input("D_mm");
        let compression = Ratio::from_percent(check.input("compression_pct"));
        let band = compression_factor(compression, Length::from_mm(d_mm)).unwrap();
        check.holds(band.likely);
        assert!(band.low < band.likely && band.likely < band.high, "{}: {band:?}", check.id);
        assert_eq!(band.extrapolated, d_mm < 150.0, "{}: tested from 150 mm", check.id);
    }
}

/// Huebscher 1948 and 4A/P, closed forms.
#[test]
fn rectangular_duct_has_its_two_diameters() {
    let [width, height] = ["a_m", "b_m"].map(|name| Length::from_m(check("FRI-45").input(name)));
    let stack = Shape::Rectangular { width, height };
    check("FRI-45").holds(stack.equal_friction_diameter().m());
    check("FRI-46").holds(stack.hydraulic_diameter().m());
    // Both ways must lose about the same at the same flow: that is what the first one is for.
    let q = Airflow::from_l_s(40.0);
    let loss = |duct: Duct| duct.loss(q, Density::from_kg_m3(RHO), MU).unwrap().pa();
    let (length, eps) = (Length::from_m(10.0), Length::from_mm(0.09));
    let true_way = loss(stack.duct(length, eps));
    let round = loss(Duct::round(stack.equal_friction_diameter(), length, eps));
    relative("two ways", round, true_way, 0.05);
}

/// Limits of the closed forms: an oval that is a circle, and one that is nearly a slot.
#[test]
fn flat_oval_goes_over_into_round() {
    let d = Length::from_mm(150.0);
    let (round, oval) = (Shape::Round { diameter: d }, Shape::FlatOval { major: d, minor: d });
    relative("area", oval.area().m2(), round.area().m2(), 1e-12);
    relative("hydraulic", oval.hydraulic_diameter().m(), d.m(), 1e-12);
    // 1.55 (π/4)^0.625/π^0.25 is 1.001, the rounding of the published constant.
    relative("equal friction", oval.equal_friction_diameter().m(), d.m(), 2e-3);
    let wide = Shape::FlatOval { major: Length::from_mm(400.0), minor: d };
    let loss = |duct: Duct| {
        duct.loss(Airflow::from_l_s(120.0), Density::from_kg_m3(RHO), MU).unwrap().pa()
    };
    let (length, eps) = (Length::from_m(10.0), Length::from_mm(0.09));
    let by_round = loss(Duct::round(wide.equal_friction_diameter(), length, eps));
    relative("oval two ways", by_round, loss(wide.duct(length, eps)), 0.05);
}

/// Common practice, no source for the percentages; the order of the three is the point.
#[test]
fn slack_costs_more_than_tight() {
    let d = Length::from_inches(6.0);
    let factors = [Pull::Tight, Pull::Normal, Pull::Slack]
        .map(|pull| compression_factor(pull.compression(), d).unwrap().likely);
    // "Factor of four" at moderate and "close to ten" at heavy compression, as Abushakra et al. 2004 report.
    assert!(factors[0] < 2.2 && (3.5..6.0).contains(&factors[1]));
    assert!((8.0..10.5).contains(&factors[2]));
}

#[test]
fn crushing_and_sag_follow_their_closed_forms() {
    // Half height: area 0.75; Borda–Carnot on it (0.25/0.75)² = 1/9, with the sharp narrowing 0.125/0.5625 more.
    let half = Ratio::from_ratio(0.5);
    relative("area", flattened_area(half).unwrap().ratio(), 0.75, 1e-12);
    let band = crushed(half).unwrap();
    relative("widening", band.low, 1.0 / 9.0, 1e-12);
    relative("both", band.high, 1.0 / 9.0 + 0.125 / 0.5625, 1e-12);
    let open = crushed(Ratio::from_ratio(1.0)).unwrap();
    assert!(open.high.abs() < 1e-15, "a round duct isn't crushed");
    // 1.2 m span, 60 mm sag: 1 + 8/3·0.0025.
    let hanging = sag(Length::from_m(1.2), Length::from_mm(60.0)).unwrap();
    relative("length", hanging.length_factor, 1.0066666666666666, 1e-12);
    // Four times atan(0.2) of turning in each span.
    let turned = bend(Angle::from_rad(4.0 * 0.19739555984988078)).unwrap();
    relative("turns", hanging.coefficient_per_span.likely, turned.likely, 1e-12);
}

/// EN 12237 class limits and the US class unit (from memory): 1 cfm/100 ft² at 1 in. of water is 0.0508 L/(s m²) at
/// 249.1 Pa by conversion alone.
#[test]
fn duct_leakage_meets_its_class_at_one_pressure() {
    let one = Area::from_m2(1.0);
    let at = |class, pa: f64| {
        leakage(class, one, Pressure::from_pa(pa), Pressure::from_pa(pa)).unwrap().l_s()
    };
    relative("A at 1 Pa", at(Tightness::ClassA, 1.0), 0.027, 1e-12);
    relative("D at 1 Pa", at(Tightness::ClassD, 1.0), 0.001, 1e-12);
    // EN 12237 prints 0.54 L/(s m²) for class A at 100 Pa (from memory).
    relative("A at 100 Pa", at(Tightness::ClassA, 100.0), 0.54, 5e-3);
    relative("US class 1", at(Tightness::UsClass(1.0), 249.08891), 0.47194745 / 9.290304, 1e-6);
}

#[test]
fn leakage_along_a_run_is_the_integral() {
    let class = Tightness::UsClass(30.0);
    let (p1, p2) = (45.0, 5.0);
    let steps = 100_000;
    let sum: f64 = (0..steps)
        .map(|i| p1 + (p2 - p1) * (f64::from(i) + 0.5) / f64::from(steps))
        .map(|p| libm::pow(p, 0.65))
        .sum();
    let want = class.coefficient() * 2.0 * sum / f64::from(steps);
    let area = Area::from_m2(2.0);
    let (start, end) = (Pressure::from_pa(p1), Pressure::from_pa(p2));
    let lost = leakage(class, area, start, end).unwrap();
    relative("integral", lost.m3_s(), want, 1e-7);
    let share = fraction_lost(class, area, start, end, Airflow::from_l_s(20.0)).unwrap();
    relative("share", share.unwrap(), lost.l_s() / 20.0, 1e-12);
    assert_eq!(fraction_lost(class, area, start, end, Airflow::ZERO).unwrap(), None);
}

#[test]
fn what_cannot_be_is_named() {
    let good = Duct::round(Length::from_m(0.1), Length::from_m(5.0), Length::from_mm(0.09));
    for (bad, word) in [
        (Duct { hydraulic_diameter: Length::from_m(0.0), ..good }, "diameter"),
        (Duct { hydraulic_diameter: Length::from_m(f64::NAN), ..good }, "diameter"),
        (Duct { area: Area::from_m2(f64::INFINITY), ..good }, "area"),
        (Duct { length: Length::from_m(-1.0), ..good }, "length"),
        (Duct { roughness: Length::from_mm(20.0), ..good }, "roughness"),
        (Duct { multiplier: f64::NAN, ..good }, "multiplier"),
    ] {
        let error = bad.kernel(RHO, MU).unwrap_err();
        assert!(error.to_string().contains(word), "{error}");
    }
    assert!(good.kernel(0.0, MU).is_err() && good.kernel(RHO, -1.0).is_err());
    assert!(compression_factor(Ratio::from_ratio(1.5), Length::from_m(0.1)).is_err());
    assert!(sag(Length::from_m(1.0), Length::from_m(0.8)).is_err());
    assert!(crushed(Ratio::from_ratio(0.0)).is_err());
    assert!(bend(Angle::from_deg(200.0)).is_err());
    let bad = Shape::FlatOval { major: Length::from_m(0.2), minor: Length::from_m(-0.1) };
    assert!(bad.checked().is_err());
}

#[test]
fn roughness_rows_are_sound() {
    for row in ROUGHNESS {
        assert!(0.0 < row.low_mm && row.low_mm <= row.likely_mm && row.likely_mm <= row.high_mm);
        assert!(!row.source.is_empty());
        assert_eq!(roughness_of(row.material), Some(row));
    }
    assert_eq!(roughness_of("medium smooth"), None);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    /// Colebrook's own equation holds at the solution, and the slope is that of the curve.
    #[test]
    fn solution_satisfies_the_equation(ln_re in 8.294_f64..18.0, roughness in 0.0_f64..0.1) {
        let re = libm::exp(ln_re).max(4000.0);
        let found = colebrook(re, roughness);
        let x = 1.0 / found.factor.sqrt();
        let residual = x + 2.0 * libm::log10(roughness / 3.7 + 2.51 / re * x);
        prop_assert!(residual.abs() < 1e-13 * x, "{residual:e}");
        let h = 1e-5;
        let difference = (colebrook(re * (1.0 + h), roughness).factor
            - colebrook(re * (1.0 - h), roughness).factor) / (2.0 * h);
        prop_assert!((difference - found.slope_by_ln_re).abs() < 1e-6 * found.factor);
    }

    /// Strictly increasing, odd, and the slope is the derivative, over laminar, transition and turbulent flow.
    #[test]
    fn duct_loss_increases_strictly(
        d in 0.05_f64..0.4,
        relative_roughness in 0.0_f64..0.1,
        multiplier in 1.0_f64..15.0,
        ln_re in 0.0_f64..13.0,
    ) {
        let area = core::f64::consts::PI / 4.0 * d * d;
        let kernel = DuctKernel::new(d, area, 7.0, relative_roughness * d, multiplier, RHO, MU);
        let q = libm::exp(ln_re) * MU * area / (RHO * d);
        let h = 1e-6 * q;
        let (loss, slope) = kernel.loss(q);
        let (above, below) = (kernel.loss(q + h).0, kernel.loss(q - h).0);
        prop_assert!(slope > 0.0 && below < loss && loss < above);
        let difference = (above - below) / (2.0 * h);
        // The slope bends at the two ends of the transition: there the difference is right to first order only.
        prop_assert!((difference - slope).abs() < 2e-5 * slope, "{difference} and {slope}");
        let (back, back_slope) = kernel.loss(-q);
        prop_assert_eq!((back, back_slope), (-loss, slope));
    }
}

/// No jump in loss or slope at the two ends of the transition, on any wall.
#[test]
fn transition_meets_both_sides_in_value_and_slope() {
    for roughness in [0.0, 1e-5, 1e-3, 1e-2, 0.1] {
        for re in [2300.0, 4000.0] {
            let (below, above) = (
                friction_factor(re * (1.0 - 1e-9), roughness),
                friction_factor(re * (1.0 + 1e-9), roughness),
            );
            relative("value", above.factor, below.factor, 1e-8);
            assert!((above.slope_by_ln_re - below.slope_by_ln_re).abs() < 1e-7);
        }
    }
}

/// A fine walk through the whole transition: every next flow loses more.
#[test]
fn loss_rises_at_every_step_through_the_transition() {
    for roughness in [0.0, 1e-4, 9e-4, 9e-3, 3e-2, 0.1] {
        let kernel = DuctKernel::new(0.1, 0.007854, 5.0, roughness * 0.1, 1.0, RHO, MU);
        let per_re = MU * 0.007854 / (RHO * 0.1);
        let mut last = kernel.loss(2200.0 * per_re).0;
        for step in 1..=20_000 {
            let (loss, slope) = kernel.loss((2200.0 + 0.1 * f64::from(step)) * per_re);
            assert!(loss > last && slope > 0.0, "roughness {roughness}, step {step}");
            last = loss;
        }
    }
}
