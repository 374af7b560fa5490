//! Decay fits against scipy and psychrolib on listed data, closed forms, and properties that any record must have.

use dewpath_moisture::decay::{
    Background, DecayError, EventRule, Point, Reading, Trace, airflow, exponential,
    exponential_above_unknown, fast_and_slow, log_linear, log_linear_weighted, shower_peaks,
};
use dewpath_units::{Duration, Humidity, Pressure, Temperature, Volume};
use proptest::prelude::*;

const TIMES_H: [f64; 31] = [
    0.0,
    0.03333333333,
    0.06666666667,
    0.1,
    0.1333333333,
    0.1666666667,
    0.2,
    0.2333333333,
    0.2666666667,
    0.3,
    0.3333333333,
    0.3666666667,
    0.4,
    0.4333333333,
    0.4666666667,
    0.5,
    0.5333333333,
    0.5666666667,
    0.6,
    0.6333333333,
    0.6666666667,
    0.7,
    0.7333333333,
    0.7666666667,
    0.8,
    0.8333333333,
    0.8666666667,
    0.9,
    0.9333333333,
    0.9666666667,
    1.0,
];
const EXACT: [f64; 31] = [
    0.016,
    0.014459211,
    0.01319772,
    0.012164899,
    0.011319296,
    0.010626975,
    0.010060151,
    0.009596074,
    0.00921612,
    0.008905041,
    0.00865035,
    0.008441827,
    0.008271103,
    0.008131325,
    0.008016886,
    0.00792319,
    0.007846479,
    0.007783673,
    0.007732252,
    0.007690152,
    0.007655683,
    0.007627462,
    0.007604357,
    0.007585441,
    0.007569953,
    0.007557273,
    0.007546891,
    0.007538391,
    0.007531432,
    0.007525734,
    0.007521069,
];
const NOISY: [f64; 31] = [
    0.0161334, 0.0144181, 0.013173, 0.0120907, 0.0114152, 0.0106506, 0.0100374, 0.0095137,
    0.0092511, 0.0089749, 0.0086456, 0.008376, 0.0082358, 0.0082205, 0.0080311, 0.0079011,
    0.0077487, 0.0078665, 0.0077509, 0.0077311, 0.007518, 0.007689, 0.0076032, 0.0076939,
    0.0074217, 0.0075981, 0.0075012, 0.0077014, 0.0073983, 0.0075613, 0.0074156,
];
const MARCH_T5: [f64; 13] = [
    19.6667, 19.8, 19.4633, 19.39, 19.26, 19.1333, 19.0667, 19.0, 18.89, 18.89, 18.8567, 18.8567,
    18.79,
];
const MARCH_RH5: [f64; 13] = [
    83.9667, 82.6333, 80.63, 79.6967, 77.8667, 75.7267, 73.06, 70.9333, 68.66, 67.1333, 65.2267,
    63.7667, 62.36,
];
const MARCH_P_PA: [f64; 13] = [
    101771.3, 101773.6, 101775.8, 101778.0, 101782.5, 101786.9, 101791.3, 101795.8, 101800.2,
    101804.7, 101804.7, 101804.7, 101804.7,
];
const MARCH_W_HOUSE: [f64; 13] = [
    0.0052682, 0.0052485, 0.0052728, 0.005291, 0.0052778, 0.0052752, 0.0052481, 0.0052493,
    0.0052424, 0.0052321, 0.005232, 0.0052342, 0.0052411,
];
const MAY_T5: [f64; 13] =
    [23.4633, 23.39, 23.26, 23.2, 23.2, 23.2, 23.1, 23.1, 23.0667, 23.0667, 23.0, 23.0, 23.0];
const MAY_RH5: [f64; 13] = [
    68.5967, 66.4567, 61.6333, 58.6933, 56.7333, 56.0667, 54.5, 52.6267, 50.6933, 49.4333, 48.0933,
    47.2933, 46.34,
];
const MAY_P_PA: [f64; 13] = [
    101478.0, 101484.7, 101491.4, 101498.0, 101504.7, 101511.4, 101513.6, 101515.8, 101518.0,
    101520.3, 101522.5, 101524.7, 101524.7,
];
const MAY_W_HOUSE: [f64; 13] = [
    0.0066108, 0.0066089, 0.00661, 0.006614, 0.0066291, 0.0066324, 0.0066299, 0.0066197, 0.0066102,
    0.006613, 0.006619, 0.0066374, 0.00662,
];

const BACKGROUND: f64 = 0.0075;

fn relative(id: &str, got: f64, want: f64, tolerance: f64) {
    assert!((got - want).abs() <= tolerance * want.abs(), "{id}: got {got}, want {want}");
}

fn trace(humidity: &[f64]) -> Trace {
    let points = TIMES_H.iter().zip(humidity);
    let points = points.map(|(h, w)| Point { time_s: 3600.0 * h, humidity_ratio: *w });
    Trace::new(points.collect()).unwrap()
}

/// DEC-01, by construction: 0.0075 + 0.0085·e^(−6t), printed to 1e-9.
#[test]
fn an_exact_decay_gives_its_rate() {
    let known = Background::Constant(BACKGROUND);
    let exact = trace(&EXACT);
    relative("DEC-01", log_linear(&exact, known, 0.0).unwrap().rate_per_h, 6.0, 1e-5);
    relative("DEC-01", log_linear_weighted(&exact, known, 0.0).unwrap().rate_per_h, 6.0, 1e-5);
    relative("DEC-01", exponential(&exact, known).unwrap().rate_per_h, 6.0, 1e-5);
    let free = exponential_above_unknown(&exact).unwrap();
    relative("DEC-01", free.rate_per_h, 6.0, 1e-5);
    relative("DEC-01", free.background, BACKGROUND, 1e-5);
}

/// DEC-02, scipy 1.17.1 `stats.linregress` with Student's t; DEC-03, weighted least squares in closed form.
#[test]
fn lines_through_the_logarithm_agree_with_scipy() {
    let known = Background::Constant(BACKGROUND);
    let plain = log_linear(&trace(&NOISY), known, 0.0008).unwrap();
    assert_eq!(plain.points, 12);
    relative("DEC-02", plain.rate_per_h, 6.064215216, 1e-6);
    relative("DEC-02", plain.half_width_independent_per_h, 0.1783647393, 1e-6);
    relative("DEC-02 intercept", libm::log(plain.excess), -4.758859, 1e-6);
    let weighted = log_linear_weighted(&trace(&NOISY), known, 0.0008).unwrap();
    relative("DEC-03", weighted.rate_per_h, 6.049982824, 1e-9);
}

/// DEC-04..DEC-06, scipy 1.17.1 `curve_fit`.
#[test]
fn exponentials_agree_with_scipy() {
    let noisy = trace(&NOISY);
    let two = exponential(&noisy, Background::Constant(BACKGROUND)).unwrap();
    relative("DEC-04", two.rate_per_h, 6.042791057, 1e-6);
    relative("DEC-04", two.half_width_independent_per_h, 0.1369556271, 1e-6);
    relative("DEC-04", two.excess, 0.008550917436, 1e-6);
    let three = exponential_above_unknown(&noisy).unwrap();
    relative("DEC-05", three.rate_per_h, 6.04002381, 1e-5);
    relative("DEC-05", three.half_width_independent_per_h, 0.1878679268, 1e-5);
    relative("DEC-05", three.background, 0.007498908677, 1e-5);
    let short = exponential_above_unknown(&noisy.part(0, Duration::from_min(12.0))).unwrap();
    assert_eq!(short.points, 7);
    relative("DEC-06", short.rate_per_h, 6.633889168, 0.01);
    relative("DEC-06", short.half_width_independent_per_h, 1.478297766, 0.01);
    relative("DEC-06", short.background, 0.007928971011, 0.01);
}

fn two_decays() -> Trace {
    let sum = |t: &f64| BACKGROUND + 0.0060 * libm::exp(-7.0 * t) + 0.0015 * libm::exp(-0.5 * t);
    trace(&TIMES_H.map(|t| sum(&t)))
}

/// DEC-07 and DEC-08, scipy 1.17.1 `linregress`: what a single slope makes of a fast and a slow decay.
#[test]
fn one_slope_through_two_decays_is_far_too_slow() {
    let known = Background::Constant(BACKGROUND);
    let hour = log_linear(&two_decays(), known, 0.0).unwrap();
    relative("DEC-07", hour.rate_per_h, 1.876486197, 1e-6);
    let start = two_decays().part(0, Duration::from_min(12.0));
    relative("DEC-08", log_linear(&start, known, 0.0).unwrap().rate_per_h, 4.868560989, 1e-6);
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
    match fast_and_slow(&trace(&NOISY), Background::Constant(BACKGROUND)) {
        Ok(both) => assert!(!both.has_tail(), "{both:?}"),
        Err(why) => assert!(matches!(why, DecayError::Undetermined { .. }), "{why}"),
    }
}

fn record(t: &[f64; 13], rh: &[f64; 13], p: &[f64; 13]) -> Trace {
    let readings: Vec<Reading> = (0..13)
        .map(|index| Reading {
            time: Duration::from_min(10.0 * index as f64),
            temperature: Temperature::from_c(t[index]),
            humidity: Humidity::from_percent(rh[index]),
            pressure: Pressure::from_pa(p[index]),
        })
        .collect();
    Trace::from_readings(&readings).unwrap()
}

/// DEC-12 and DEC-13: two events of a public record of a bathroom (L. Candanedo, V. Feldheim, D. Deramaix, Energy and Buildings 140
/// (2017) 81-97; readings as listed in the register of check values); scipy 1.17.1 and psychrolib 2.5.0.
#[test]
fn measured_decays_agree_with_scipy() {
    let march = record(&MARCH_T5, &MARCH_RH5, &MARCH_P_PA);
    let fit = log_linear(&march, Background::Measured(&MARCH_W_HOUSE), 0.0).unwrap();
    relative("DEC-12", fit.rate_per_h, 0.4000137889, 1e-4);
    relative("DEC-12", fit.half_width_independent_per_h, 0.02014088435, 1e-4);
    relative("DEC-12 r2", fit.r_squared_ratio, 0.9943, 1e-4);
    relative("DEC-12 peak", march.points()[0].humidity_ratio, 0.01198, 1e-3);
    let may = record(&MAY_T5, &MAY_RH5, &MAY_P_PA);
    let fit = log_linear(&may, Background::Measured(&MAY_W_HOUSE), 0.0).unwrap();
    relative("DEC-13", fit.rate_per_h, 0.6827307495, 1e-4);
    relative("DEC-13", fit.half_width_independent_per_h, 0.03506932346, 1e-4);
    relative("DEC-13 r2", fit.r_squared_ratio, 0.9940, 1e-4);
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
    let flat = trace(&[BACKGROUND; 31]);
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
    let series = Background::Measured(&[0.0; 30]);
    assert!(matches!(exponential(&trace(&EXACT), series), Err(DecayError::LengthsDiffer { .. })));
    let lost = Background::Constant(f64::NAN);
    assert!(matches!(exponential(&trace(&EXACT), lost), Err(DecayError::NotANumber { index: 0 })));
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
        let one = exponential(&trace(&NOISY), known).unwrap();
        let points = TIMES_H.iter().zip(&NOISY).map(|(h, w)| Point {
            time_s: 3600.0 * h * stretch,
            humidity_ratio: BACKGROUND + size * (w - BACKGROUND),
        });
        let other = exponential(&Trace::new(points.collect()).unwrap(), known).unwrap();
        prop_assert!((other.rate_per_h * stretch / one.rate_per_h - 1.0).abs() < 1e-8);
        prop_assert!((other.excess / size / one.excess - 1.0).abs() < 1e-8);
    }
}
