//! Decay fits against scipy and psychrolib on listed data, closed forms, and properties that any record must have.

use dewpath_checkvalues::{Check, check, relative};
use dewpath_moisture::decay::{
    Background, DecayError, EventRule, Fit, Point, Reading, Trace, airflow, exponential,
    exponential_above_unknown, fast_and_slow, log_linear, log_linear_weighted, shower_peaks,
};
use dewpath_units::{Duration, Humidity, Pressure, Temperature, Volume};
use proptest::prelude::*;

const BACKGROUND: f64 = 0.0075;

/// The humidity ratios that a check was computed from, at its times.
fn trace_of(check: &Check) -> Trace {
    trace(&check.inputs("t_h"), &check.inputs("W"))
}

fn trace(hours: &[f64], humidity: &[f64]) -> Trace {
    let points = hours.iter().zip(humidity);
    let points = points.map(|(h, w)| Point { time_s: 3600.0 * h, humidity_ratio: *w });
    Trace::new(points.collect()).unwrap()
}

/// By construction: 0.0075 + 0.0085·e^(−6t), printed to 1e-9.
#[test]
fn an_exact_decay_gives_its_rate() {
    let known = Background::Constant(BACKGROUND);
    let rate = check("DEC-01");
    let exact = trace_of(&rate);
    rate.holds(log_linear(&exact, known, 0.0).unwrap().rate_per_h);
    rate.holds(log_linear_weighted(&exact, known, 0.0).unwrap().rate_per_h);
    rate.holds(exponential(&exact, known).unwrap().rate_per_h);
    let free = exponential_above_unknown(&exact).unwrap();
    rate.holds(free.rate_per_h);
    relative("background", free.background, rate.input("Wm"), 1e-5);
}

/// scipy 1.17.1 `stats.linregress` with Student's t; weighted least squares in closed form.
#[test]
fn lines_through_the_logarithm_agree_with_scipy() {
    let known = Background::Constant(BACKGROUND);
    let noisy = trace_of(&check("DEC-02"));
    let plain = log_linear(&noisy, known, 0.0008).unwrap();
    assert_eq!(plain.points, 12);
    check("DEC-02").all_hold(&[plain.rate_per_h, plain.half_width_independent_per_h]);
    relative("intercept", libm::log(plain.excess), -4.758859, 1e-6);
    let weighted = log_linear_weighted(&noisy, known, 0.0008).unwrap();
    check("DEC-03").holds(weighted.rate_per_h);
}

/// scipy 1.17.1 `curve_fit`.
#[test]
fn exponentials_agree_with_scipy() {
    let noisy = trace_of(&check("DEC-02"));
    let two = exponential(&noisy, Background::Constant(BACKGROUND)).unwrap();
    check("DEC-04").all_hold(&[two.rate_per_h, two.half_width_independent_per_h, two.excess]);
    let three = exponential_above_unknown(&noisy).unwrap();
    let of = |fit: &Fit| [fit.rate_per_h, fit.half_width_independent_per_h, fit.background];
    check("DEC-05").all_hold(&of(&three));
    let short = exponential_above_unknown(&noisy.part(0, Duration::from_min(12.0))).unwrap();
    assert_eq!(short.points, 7);
    check("DEC-06").all_hold(&of(&short));
}

fn two_decays() -> Trace {
    let hours = check("DEC-07").inputs("t_h");
    let sum = |t: &f64| BACKGROUND + 0.0060 * libm::exp(-7.0 * t) + 0.0015 * libm::exp(-0.5 * t);
    trace(&hours, &hours.iter().map(sum).collect::<Vec<_>>())
}

/// scipy 1.17.1 `linregress`: what a single slope makes of a fast and a slow decay.
#[test]
fn one_slope_through_two_decays_is_far_too_slow() {
    let known = Background::Constant(BACKGROUND);
    let hour = log_linear(&two_decays(), known, 0.0).unwrap();
    check("DEC-07").holds(hour.rate_per_h);
    let start = two_decays().part(0, Duration::from_min(12.0));
    check("DEC-08").holds(log_linear(&start, known, 0.0).unwrap().rate_per_h);
}

/// By construction.
#[test]
fn two_decays_are_told_apart() {
    let both = fast_and_slow(&two_decays(), Background::Constant(BACKGROUND)).unwrap();
    relative("fast", both.fast_per_h, 7.0, 1e-6);
    relative("slow", both.slow_per_h, 0.5, 1e-6);
    relative("share of the tail", both.tail_ratio, 0.0015 / 0.0075, 1e-6);
    assert!(both.has_tail());
    // Neither the whole hour nor the first time constant gives the fast rate; the latter comes closer.
    let first = both.first_time_constant.unwrap().rate_per_h;
    assert!(both.single.rate_per_h < first && first < 7.0);
}

#[test]
fn a_single_decay_has_no_tail() {
    // Either no second part is found at all, or it is not worth its parameters.
    match fast_and_slow(&trace_of(&check("DEC-02")), Background::Constant(BACKGROUND)) {
        Ok(both) => assert!(!both.has_tail(), "{both:?}"),
        Err(why) => assert!(matches!(why, DecayError::Undetermined { .. }), "{why}"),
    }
}

fn record(check: &Check) -> Trace {
    let [t, rh, p] = ["T5", "RH5", "P_Pa"].map(|name| check.inputs(name));
    let readings: Vec<Reading> = (0..t.len())
        .map(|index| Reading {
            time: Duration::from_min(check.input("dt_min") * index as f64),
            temperature: Temperature::from_c(t[index]),
            humidity: Humidity::from_percent(rh[index]),
            pressure: Pressure::from_pa(p[index]),
        })
        .collect();
    Trace::from_readings(&readings).unwrap()
}

/// Two events of a public record of a bathroom (L. Candanedo, V. Feldheim, D. Deramaix, Energy and Buildings 140
/// (2017) 81-97; readings as listed in the register of check values); scipy 1.17.1 and psychrolib 2.5.0.
#[test]
fn measured_decays_agree_with_scipy() {
    let fitted = |check: &Check| {
        let house = check.inputs("W_house");
        log_linear(&record(check), Background::Measured(&house), 0.0).unwrap()
    };
    let march = fitted(&check("DEC-12"));
    check("DEC-12").all_hold(&[march.rate_per_h, march.half_width_independent_per_h]);
    relative("March r2", march.r_squared_ratio, 0.9943, 1e-4);
    let peak = record(&check("DEC-12")).points()[0].humidity_ratio;
    relative("March peak", peak, 0.01198, 1e-3);
    let fit = fitted(&check("DEC-13"));
    check("DEC-13").all_hold(&[fit.rate_per_h, fit.half_width_independent_per_h]);
    relative("May r2", fit.r_squared_ratio, 0.9940, 1e-4);
    // The residuals of real decays follow each other: the interval that is reported is wider.
    assert!(fit.autocorrelation_ratio > 0.1);
    assert!(fit.half_width_per_h > fit.half_width_independent_per_h);
}

/// A first-order sensor follows a decay of rate n with lag τ as a sum of two exponentials (closed form); taking the lag out
/// gives the decay back.
#[test]
fn the_lag_of_a_sensor_is_taken_out() {
    let (n, lag_h, excess) = (6.0, 3.0 / 60.0, 0.008);
    let points: Vec<Point> = (0..120)
        .map(|step| {
            let t = f64::from(step) / 360.0;
            let follow =
                (libm::exp(-n * t) - n * lag_h * libm::exp(-t / lag_h)) / (1.0 - n * lag_h);
            Point { time_s: 3600.0 * t, humidity_ratio: BACKGROUND + excess * follow }
        })
        .collect();
    let slow = Trace::new(points).unwrap();
    let known = Background::Constant(BACKGROUND);
    let early = Duration::from_min(10.0);
    let as_read = exponential(&slow.part(0, early), known).unwrap();
    assert!(as_read.rate_per_h < 0.9 * n, "{as_read:?}");
    let quick = slow.without_lag(Duration::from_h(lag_h)).unwrap();
    relative("rate", exponential(&quick.part(0, early), known).unwrap().rate_per_h, n, 2e-3);
    // Three lags later the reading falls at the true rate within 5 %.
    let late = slow.part(54, Duration::from_min(10.0));
    relative("late rate", exponential(&late, known).unwrap().rate_per_h, n, 0.05);
    assert_eq!(slow.without_lag(Duration::from_s(0.0)).unwrap(), slow);
}

/// Hand calculation: 6 per hour of 12 m³ is 72 m³/h, 20 L/s.
#[test]
fn a_flow_needs_a_rate_and_a_volume() {
    let flow = airflow(6.0, Volume::from_m3(12.0)).unwrap();
    relative("flow", flow.m3_s(), 0.02, 1e-12);
    assert!(airflow(-0.1, Volume::from_m3(12.0)).is_err());
    assert!(airflow(6.0, Volume::from_m3(0.0)).is_err());
    assert!(airflow(f64::NAN, Volume::from_m3(12.0)).is_err());
}

#[test]
fn showers_are_found_where_they_are() {
    // Every two minutes; rises of 30 % within ten minutes at 60, 180 and 700 min, one of 10 % at 500 min.
    let times: Vec<Duration> =
        (0..600).map(|step| Duration::from_min(2.0 * f64::from(step))).collect();
    let pulse = |t: f64, at: f64, size: f64| {
        if t <= at - 10.0 {
            0.0
        } else if t <= at {
            size * (t - at + 10.0) / 10.0
        } else {
            size * libm::exp(-(t - at) / 30.0)
        }
    };
    let reading = |time: &Duration| {
        let t = time.min();
        50.0 + pulse(t, 60.0, 30.0)
            + pulse(t, 180.0, 30.0)
            + pulse(t, 500.0, 10.0)
            + pulse(t, 700.0, 30.0)
    };
    let humidity: Vec<Humidity> =
        times.iter().map(|t| Humidity::from_percent(reading(t))).collect();
    let at = |rule: &EventRule| -> Vec<f64> {
        let peaks = shower_peaks(&times, &humidity, rule).unwrap();
        peaks.into_iter().map(|index| times[index].min()).collect()
    };
    // The second is within five hours of the first; the third is too small.
    assert_eq!(at(&EventRule::default()), [60.0, 700.0]);
    let close = EventRule { apart: Duration::from_min(90.0), ..EventRule::default() };
    assert_eq!(at(&close), [60.0, 180.0, 700.0]);
    let small = EventRule { rise: Humidity::from_percent(8.0), ..close };
    assert_eq!(at(&small), [60.0, 180.0, 500.0, 700.0]);
}

#[test]
fn a_hole_in_the_record_is_no_rise() {
    let times = [0.0, 10.0, 500.0, 510.0].map(Duration::from_min);
    let humidity = [40.0, 40.0, 80.0, 79.0].map(Humidity::from_percent);
    assert_eq!(shower_peaks(&times, &humidity, &EventRule::default()), Ok(vec![]));
}

#[test]
fn what_cannot_be_fitted_is_told() {
    let known = Background::Constant(BACKGROUND);
    let flat = trace(&[0.0, 0.25, 0.5, 0.75, 1.0], &[BACKGROUND; 5]);
    assert!(matches!(
        log_linear(&flat, known, 0.0),
        Err(DecayError::TooFewPoints { found: 0, .. })
    ));
    assert!(matches!(exponential(&flat, known), Err(DecayError::Undetermined { .. })));
    assert!(matches!(exponential_above_unknown(&flat), Err(DecayError::Undetermined { .. })));
    let empty = Trace::new(vec![]).unwrap();
    assert!(matches!(exponential(&empty, known), Err(DecayError::TooFewPoints { found: 0, .. })));
    assert!(matches!(
        empty.without_lag(Duration::from_s(9.0)),
        Err(DecayError::TooFewPoints { .. })
    ));
    assert_eq!(empty.part(3, Duration::from_h(1.0)), empty);
    let exact = trace_of(&check("DEC-01"));
    let series = Background::Measured(&[0.0; 30]);
    assert!(matches!(exponential(&exact, series), Err(DecayError::LengthsDiffer { .. })));
    let lost = Background::Constant(f64::NAN);
    assert!(matches!(exponential(&exact, lost), Err(DecayError::NotANumber { index: 0 })));
    let point = |time_s, humidity_ratio| Point { time_s, humidity_ratio };
    assert_eq!(
        Trace::new(vec![point(0.0, 0.01), point(0.0, 0.01)]),
        Err(DecayError::TimeNotRising { index: 1 })
    );
    for bad in [f64::NAN, f64::INFINITY, -0.001] {
        assert_eq!(Trace::new(vec![point(0.0, bad)]), Err(DecayError::NotANumber { index: 0 }));
    }
}

fn finite(value: f64) -> bool {
    value.is_finite()
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever the record holds: an answer in numbers or an error, never NaN.
    #[test]
    fn any_record(
        steps in prop::collection::vec((1e-3f64..1e5, 0.0f64..0.05), 0..40),
        known in -0.01f64..0.05,
        lag in 0.0f64..1e4,
    ) {
        let mut time_s = -1e6;
        let points = steps.iter().map(|(step, humidity_ratio)| {
            time_s += step;
            Point { time_s, humidity_ratio: *humidity_ratio }
        });
        let trace = Trace::new(points.collect()).unwrap();
        let known = Background::Constant(known);
        let fits = [
            log_linear(&trace, known, 0.0),
            log_linear_weighted(&trace, known, 0.0),
            exponential(&trace, known),
            exponential_above_unknown(&trace),
        ];
        for fit in fits.into_iter().flatten() {
            let values = [
                fit.rate_per_h, fit.half_width_per_h, fit.half_width_independent_per_h,
                fit.autocorrelation_ratio, fit.excess, fit.background, fit.r_squared_ratio,
            ];
            prop_assert!(values.into_iter().all(finite), "{:?}", fit);
            prop_assert!(fit.half_width_per_h >= fit.half_width_independent_per_h);
        }
        if let Ok(both) = fast_and_slow(&trace, known) {
            prop_assert!(both.fast_per_h >= both.slow_per_h);
            prop_assert!((0.0..=1.0).contains(&both.tail_ratio));
            prop_assert!(finite(both.fast_half_width_per_h) && finite(both.aicc_double - both.aicc_single));
        }
        if let Ok(quick) = trace.without_lag(Duration::from_s(lag)) {
            prop_assert_eq!(quick.points().len(), trace.points().len());
        }
    }

    /// The rate scales with the inverse of time, not with the size of the excess.
    #[test]
    fn the_rate_belongs_to_time_alone(stretch in 0.1f64..10.0, size in 0.1f64..2.0) {
        let known = Background::Constant(BACKGROUND);
        let noisy = trace_of(&check("DEC-02"));
        let one = exponential(&noisy, known).unwrap();
        let points = noisy.points().iter().map(|point| Point {
            time_s: point.time_s * stretch,
            humidity_ratio: BACKGROUND + size * (point.humidity_ratio - BACKGROUND),
        });
        let other = exponential(&Trace::new(points.collect()).unwrap(), known).unwrap();
        prop_assert!((other.rate_per_h * stretch / one.rate_per_h - 1.0).abs() < 1e-8);
        prop_assert!((other.excess / size / one.excess - 1.0).abs() < 1e-8);
    }
}
