//! Fan curves against general-purpose references and algebra.

#![allow(clippy::float_cmp, reason = "knots and zeros are exact")]

use dewpath_air::curve::{CurveError, MonotoneCubic, SampledCurve};
use dewpath_air::fan::{
    CurveBand, CurveZone, FanCurve, FanType, LoudnessBound, PowerCurve, SoundRating,
};
use dewpath_checkvalues::Tolerance::Relative;
use dewpath_checkvalues::{check, checks};
use dewpath_units::{Airflow, Area, Density, Loudness, Power, Pressure};
use proptest::prelude::*;

/// The curve of all the checks of fans: flow m3/s, pressure Pa.
pub(crate) fn fan() -> FanCurve {
    let curve = check("FAN-02");
    let points: Vec<(f64, f64)> =
        curve.inputs("Q_nodes").into_iter().zip(curve.inputs("P_nodes")).collect();
    FanCurve::from_si_points(&points, 1.2).unwrap()
}

fn at(q_m3_s: f64, p_pa: f64) -> (Airflow, Pressure) {
    (Airflow::from_m3_s(q_m3_s), Pressure::from_pa(p_pa))
}

fn square(k: f64) -> impl Fn(f64) -> (f64, f64) {
    move |q| (k * q * q.abs(), 2.0 * k * q.abs())
}

#[track_caller]
fn close(value: f64, expected: f64, relative: f64) {
    assert!(
        (value - expected).abs() <= relative * expected.abs(),
        "{value} against {expected}, off by {:e}",
        value / expected - 1.0
    );
}

#[test]
fn monotone_cubic_agrees_with_the_reference_library() {
    let (value, slope) = fan().rise(check("FAN-02").input("Q"));
    check("FAN-02").holds(value);
    check("FAN-03").holds(slope);
}

#[test]
fn monotone_cubic_end_and_turning_slopes() {
    // The limited three-point rule by hand: points (0,0) (1,1) (2,4) have secants 1 and 3 over equal widths; left end
    // (3*1 - 3)/2 = 0, right end (3*3 - 1)/2 = 4, middle harmonic mean 2*1*3/(1+3) = 1.5.
    let curve = MonotoneCubic::new(&[(0.0, 0.0), (1.0, 1.0), (2.0, 4.0)]).unwrap();
    assert_eq!(curve.value_slope(0.0).1, 0.0);
    close(curve.value_slope(1.0).1, 1.5, 1e-15);
    close(curve.value_slope(2.0).1, 4.0, 1e-15);
    // At a turning point the slope is zero; past the ends the curve is straight.
    let hump = MonotoneCubic::new(&[(0.0, 1.0), (1.0, 2.0), (2.0, 0.5)]).unwrap();
    assert_eq!(hump.value_slope(1.0), (2.0, 0.0));
    let (end, end_slope) = hump.value_slope(2.0);
    close(hump.value_slope(3.0).0, end + end_slope, 1e-15);
    assert!(!hump.never_rises());
    // The same curve moved away from zero: straight on before its first point too.
    let moved = MonotoneCubic::new(&[(1.0, 1.0), (2.0, 2.0), (3.0, 0.5)]).unwrap();
    let (first, first_slope) = moved.value_slope(1.0);
    close(moved.value_slope(0.5).0, first - 0.5 * first_slope, 1e-15);
    assert_eq!(moved.value_slope(2.5), hump.value_slope(1.5));
}

#[test]
fn operating_points_on_a_square_system() {
    for check in checks("FAN-04", "FAN-06") {
        let point = fan().operating_point(square(check.input("k"))).unwrap();
        check.all_hold(&[point.q_m3_s, point.p_pa]);
        assert!(point.stable);
    }
}

#[test]
fn altitude_leaves_the_flow_of_a_dynamic_system() {
    let ratio = check("FAN-07").input("ratio");
    let thin = fan().at_density(Density::from_kg_m3(1.2 * ratio)).unwrap();
    let k = ratio * 62.3 / (0.03 * 0.03);
    let point = thin.operating_point(square(k)).unwrap();
    check("FAN-07").holds(point.q_m3_s);
    let wind = check("FAN-08").input("Pwind");
    let against_wind = |q: f64| {
        let (need, slope) = square(k)(q);
        (need + wind, slope)
    };
    let point = thin.operating_point(against_wind).unwrap();
    check("FAN-08").holds(point.q_m3_s);
}

#[test]
fn speed_follows_the_fan_laws() {
    let law = check("FAN-09");
    let slow = fan().at_speed(law.input("s")).unwrap();
    law.part(1).holds(slow.rise(law.values[0]).0);
    close(slow.last_flow_m3_s(), 0.8 * 0.05, 1e-15);
}

/// Friction by Colebrook and White with a constant sum of fitting losses, as FAN-10 and FAN-11 were computed:
/// the reference solves the same equation, here it is iterated to rest.
fn colebrook_system(roughness: f64) -> impl Fn(f64) -> (f64, f64) {
    let loss = move |q: f64| {
        let (d, length, k, rho, mu) = (0.1016, 8.0, 3.54, 1.2, 1.82e-5);
        let area = std::f64::consts::PI * d * d / 4.0;
        let velocity = q / area;
        let reynolds = rho * velocity * d / mu;
        let mut x = 7.0;
        for _ in 0..100 {
            x = -2.0 * libm::log10(roughness / (3.7 * d) + 2.51 * x / reynolds);
        }
        (length / (x * x * d) + k) * rho * velocity * velocity / 2.0
    };
    move |q| {
        if q < 1e-3 {
            // Below the turbulent flows of these checks: any rising law will do.
            let at = loss(1e-3) / 1e-3;
            return (at * q, at);
        }
        (loss(q), (loss(q * 1.000001) - loss(q * 0.999999)) / (2e-6 * q))
    }
}

#[test]
fn operating_points_with_friction() {
    let smooth = fan().operating_point(colebrook_system(9e-5)).unwrap();
    check("FAN-10").all_hold(&[smooth.q_m3_s, smooth.p_pa]);
    let rough = fan().operating_point(colebrook_system(3e-3)).unwrap();
    check("FAN-11").all_hold(&[rough.q_m3_s, rough.p_pa]);
}

#[test]
fn a_tabulated_system_gives_the_same_operating_point() {
    let system = colebrook_system(9e-5);
    let table = SampledCurve::new(0.0, 0.08, 48, &system).unwrap();
    let exact = fan().operating_point(&system).unwrap();
    for near in [1e-3, 0.03, 0.2] {
        let quick = fan().operating_point_near(|q| table.value_slope(q), near).unwrap();
        close(quick.q_m3_s, exact.q_m3_s, 1e-7);
        assert!(quick.stable);
        let direct = fan().operating_point_near(&system, near).unwrap();
        close(direct.q_m3_s, exact.q_m3_s, 1e-10);
    }
    // A cubic is its own table (closed form), also straight on at both ends.
    let cubic = |x: f64| (1.0 + x * x * x, 3.0 * x * x);
    let table = SampledCurve::new(-1.0, 2.0, 3, cubic).unwrap();
    for x in [-1.0, -0.3, 0.0, 0.99, 1.7, 2.0] {
        assert!((table.value_slope(x).0 - cubic(x).0).abs() < 1e-14);
        assert!((table.value_slope(x).1 - cubic(x).1).abs() < 1e-13);
    }
    assert_eq!(table.value_slope(3.0), (21.0, 12.0));
    assert_eq!(table.value_slope(-2.0), (-3.0, 3.0));
    // Just below its end, where rounding makes the place that of one piece more.
    let table = SampledCurve::new(0.0, 0.7, 3, cubic).unwrap();
    assert!((table.value_slope(0.7_f64.next_down()).0 - cubic(0.7).0).abs() < 1e-14);
    assert!(SampledCurve::new(0.0, 1.0, 0, cubic).is_err());
    assert!(SampledCurve::new(1.0, 1.0, 4, cubic).is_err());
    assert!(table.value_slope(f64::NAN).0.is_nan());
}

#[test]
fn a_hood_on_the_grille_lowers_the_flow() {
    let hood = check("MEAS-18");
    let k = 62.3 / (0.03 * 0.03);
    let bare = fan().operating_point(square(k)).unwrap().q_m3_s;
    let hooded = fan()
        .operating_point(|q| {
            let (need, slope) = square(k)(q);
            (need + hood.input("dP_hood"), slope)
        })
        .unwrap()
        .q_m3_s;
    hood.part(0).holds(bare);
    hood.part(1).holds(hooded);
    hood.part(2)
        .within(Relative(1e-6), "a small difference of two flows that are each good to 1e-8")
        .holds(100.0 * (hooded / bare - 1.0));
}

#[test]
fn a_stall_hump_gives_three_crossings() {
    // Invented axial curve with a dip; a nearly level system (wind) meets it three times.
    let stalling = FanCurve::from_si_points(
        &[(0.0, 80.0), (0.01, 55.0), (0.02, 62.0), (0.03, 40.0), (0.04, 0.0)],
        1.2,
    )
    .unwrap();
    assert!(stalling.has_hump());
    let level = |_: f64| (59.0, 0.0);
    let crossings = stalling.crossings(level);
    let stable: Vec<bool> = crossings.iter().map(|crossing| crossing.stable).collect();
    assert_eq!(stable, [true, false, true]);
    for crossing in &crossings {
        assert!((crossing.p_pa - 59.0).abs() < 1e-9);
    }
    let chosen = stalling.operating_point(level).unwrap();
    assert_eq!(chosen, crossings[2]);
    assert!(chosen.q_m3_s > 0.02 && chosen.q_m3_s < 0.03);
    assert!(!fan().has_hump());
}

#[test]
fn zones_name_what_is_no_data() {
    let partial =
        FanCurve::from_si_points(&[(0.01, 112.0), (0.03, 78.0), (0.05, 0.0)], 1.2).unwrap();
    assert_eq!(partial.zone(-0.01), CurveZone::Backflow);
    assert_eq!(partial.zone(0.005), CurveZone::BelowData);
    assert_eq!(partial.zone(0.02), CurveZone::Data);
    assert_eq!(partial.zone(0.051), CurveZone::BeyondData);
    // Straight beyond the data, steep below zero, in one piece at both seams.
    let (end, slope) = fan().rise(0.05);
    close(fan().rise(0.06).0, end + 0.01 * slope, 1e-12);
    assert!(fan().rise(-0.02).0 > fan().rise(-0.01).0);
    assert!((fan().rise(-1e-12).0 - fan().rise(0.0).0).abs() < 1e-6);
}

#[test]
fn a_set_flow_is_held_up_to_the_limit() {
    let held = fan().with_set_flow(Airflow::from_m3_s(0.024)).unwrap();
    // Anywhere well below the limit curve the flow stays within the control band.
    for need in [10.0, 30.0, 60.0] {
        let q = held.operating_point(|_| (need, 0.0)).unwrap().q_m3_s;
        assert!((q / 0.024 - 1.0).abs() < 0.01, "{q} at {need} Pa");
    }
    // Against more than the limit curve has at the set flow, the limit curve rules.
    let q = held.operating_point(|_| (108.0, 0.0)).unwrap().q_m3_s;
    let at_limit = fan().operating_point(|_| (108.0, 0.0)).unwrap().q_m3_s;
    assert!((q / at_limit - 1.0).abs() < 0.02);
    // Wind that blows through doesn't meet a wall.
    let blown = held.operating_point(|q| (square(2e4)(q).0 - 100.0, square(2e4)(q).1)).unwrap();
    assert!(blown.q_m3_s > 0.026, "{}", blown.q_m3_s);
}

#[test]
fn the_outlet_velocity_is_counted_once() {
    let area = 0.0081;
    let total = fan().with_outlet(Area::from_m2(area)).unwrap();
    let q = 0.03;
    let velocity = q / area;
    close(total.rise(q).0 - fan().rise(q).0, 0.6 * velocity * velocity, 1e-12);
    // The fan blowing straight out: all of the added pressure is the exit's C = 1, and free air stays free air.
    let exit = 0.5 * 1.2 / (area * area);
    close(total.operating_point(square(exit)).unwrap().q_m3_s, 0.05, 1e-9);
}

#[test]
fn few_points_give_a_band_through_them() {
    let (one, low, high) = ((0.0378, 62.3), (0.0378, 24.9), (0.033, 62.3));
    for kind in [FanType::Axial, FanType::Centrifugal, FanType::Inline, FanType::Unknown] {
        let by_one =
            CurveBand::from_point(Airflow::from_m3_s(one.0), Pressure::from_pa(one.1), kind)
                .unwrap();
        let by_two = CurveBand::from_points(at(high.0, high.1), at(low.0, low.1), kind).unwrap();
        for step in 0..=10 {
            let shape = f64::from(step) / 10.0;
            assert_eq!(by_one.member(shape).unwrap().rise(one.0).0, one.1);
            let member = by_two.member(shape).unwrap();
            assert_eq!(member.rise(low.0).0, low.1);
            assert_eq!(member.rise(high.0).0, high.1);
            assert!(!member.has_hump());
        }
    }
    let box_number =
        CurveBand::from_box_number(Airflow::from_m3_s(0.0378), FanType::Unknown).unwrap();
    assert_eq!(box_number.member(0.0).unwrap().rise(0.0378).0, 0.0);
    assert_eq!(box_number.member(1.0).unwrap().rise(0.0378).0, 24.9);
}

#[test]
fn a_stronger_shape_never_delivers_less_against_pressure() {
    let bands = [
        CurveBand::from_point(
            Airflow::from_m3_s(0.0378),
            Pressure::from_pa(24.9),
            FanType::Centrifugal,
        )
        .unwrap(),
        CurveBand::from_points(at(0.0378, 24.9), at(0.033, 62.3), FanType::Axial).unwrap(),
        CurveBand::from_box_number(Airflow::from_m3_s(0.0378), FanType::Unknown).unwrap(),
    ];
    for band in bands {
        let mut last = 0.0;
        for step in 0..=10 {
            let member = band.member(f64::from(step) / 10.0).unwrap();
            let q =
                member.operating_point(|q| (69000.0 * q * q.abs(), 138000.0 * q.abs())).unwrap();
            assert!(q.q_m3_s >= last - 1e-12);
            last = q.q_m3_s;
        }
    }
}

#[test]
fn sound_and_power_say_where_they_stop() {
    let loudness = Loudness::from_sone(0.8);
    let rated = SoundRating { loudness, pressure: Pressure::from_pa(24.9) };
    let bound = |pa| rated.at_pressure(Pressure::from_pa(pa));
    assert_eq!(bound(25.5), Some(LoudnessBound::AsRated(loudness)));
    assert_eq!(bound(60.0), Some(LoudnessBound::AtLeast(loudness)));
    assert_eq!(bound(5.0), Some(LoudnessBound::AtMost(loudness)));
    assert_eq!(bound(f64::NAN), None);
    let points =
        [(0.0, 12.0), (0.04, 18.0)].map(|(q, w)| (Airflow::from_m3_s(q), Power::from_w(w)));
    let standard = Density::from_kg_m3(1.2);
    let curve = PowerCurve::from_points(&points, standard).unwrap();
    let full = curve.power(Airflow::from_m3_s(0.02), 1.0, standard).unwrap();
    close(full.power.w(), 15.0, 1e-12);
    assert!(full.in_data);
    // Half speed, an eighth of the power (ANSI/AMCA 211: P ~ N^3).
    let half = curve.power(Airflow::from_m3_s(0.01), 0.5, standard).unwrap();
    close(half.power.w(), 15.0 / 8.0, 1e-12);
    assert!(!curve.power(Airflow::from_m3_s(0.05), 1.0, standard).unwrap().in_data);
}

#[test]
fn bad_points_are_named() {
    let error = |points: &[(f64, f64)]| FanCurve::from_si_points(points, 1.2).unwrap_err();
    assert_eq!(error(&[(0.0, 1.0)]), CurveError::TooFewPoints { count: 1 });
    assert_eq!(error(&[(0.0, 1.0), (f64::NAN, 0.0)]), CurveError::NotFinite { index: 1 });
    assert_eq!(
        error(&[(0.0, 1.0), (0.02, 0.5), (0.02, 0.4)]),
        CurveError::SameAbscissa { at: 0.02 }
    );
    assert_eq!(
        error(&[(0.0, 1.0), (-0.02, 0.5)]),
        CurveError::NegativeFlow { index: 1, value: -0.02 }
    );
    assert_eq!(error(&[(0.0, 0.0), (0.02, -5.0)]), CurveError::NoDuty);
    assert!(matches!(fan().at_speed(0.0), Err(CurveError::NotPositive { .. })));
    assert!(matches!(
        fan().at_density(Density::from_kg_m3(f64::INFINITY)),
        Err(CurveError::NotPositive { .. })
    ));
    let same_flow = CurveBand::from_points(at(0.03, 25.0), at(0.03, 60.0), FanType::Unknown);
    assert!(matches!(same_flow, Err(CurveError::NotFalling { .. })));
}

proptest! {
    /// Falling data give a falling curve that stays between its points (Fritsch and Carlson 1980).
    #[test]
    fn falling_data_never_rise(drops in proptest::collection::vec((1e-4..0.02f64, 0.0..60.0f64), 2..12)) {
        let mut points = vec![(0.0, 1.0)];
        for (width, drop) in &drops {
            let (q, p) = points[points.len() - 1];
            points.push((q + width, p - drop));
        }
        let curve = MonotoneCubic::new(&points).unwrap();
        prop_assert!(curve.never_rises());
        for pair in points.windows(2) {
            for step in 0..=20 {
                let q = pair[0].0 + (pair[1].0 - pair[0].0) * f64::from(step) / 20.0;
                let (value, slope) = curve.value_slope(q);
                let slack = 1e-9 * pair[0].1.abs().max(1.0);
                prop_assert!(value <= pair[0].1 + slack && value >= pair[1].1 - slack);
                prop_assert!(slope <= 1e-6 * (drops.len() as f64) * 1e5);
            }
        }
    }

    /// Whatever the points, the curve and its slope are finite everywhere and the slope is the curve's.
    #[test]
    fn any_curve_is_defined_everywhere(
        points in proptest::collection::vec((1e-3..0.1f64, 1.0..300.0f64), 2..8),
        set in proptest::option::of(5e-3..0.08f64),
        q in -0.2..0.4f64,
    ) {
        let Ok(fan) = FanCurve::from_si_points(&points, 1.2) else { return Ok(()) };
        let fan = match set { Some(set) => fan.with_set_flow(Airflow::from_m3_s(set)).unwrap(), None => fan };
        let (value, slope) = fan.rise(q);
        prop_assert!(value.is_finite() && slope.is_finite());
        let h = 1e-9;
        let difference = (fan.rise(q + h).0 - fan.rise(q - h).0) / (2.0 * h);
        prop_assert!(
            (difference - slope).abs() <= 1e-2 * slope.abs() + 50.0,
            "slope {} against {}", slope, difference
        );
    }
}
