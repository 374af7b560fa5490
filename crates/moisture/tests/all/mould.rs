//! The mould index against published response times, reference integrations and its own laws.
//!
//! Sources: Hukka & Viitanen 1999, Wood Science and Technology 33:475 (response times, decline); Ojanen,
//! Viitanen et al. 2010 (sensitivity classes); the constants were compared in two public research scripts.
//! Values after weeks are the closed form, compared with scipy `solve_ivp`; those of daily cycles are an hourly
//! Euler reference.
#![allow(
    clippy::disallowed_methods,
    reason = "expected values need not be the same to the last bit"
)]

use dewpath_checkvalues::Tolerance::Absolute;
use dewpath_checkvalues::{Check, absolute, check, checks};
use dewpath_moisture::mould::{
    DeclineClass, MouldIndex, RunningMean, SensitivityClass, Substrate, Wood, time_to_start,
    time_to_visible,
};
use dewpath_units::{Humidity, Temperature};
use proptest::prelude::*;

const VERY: Substrate = of(SensitivityClass::VerySensitive, DeclineClass::Full);
const SENSITIVE: Substrate = of(SensitivityClass::Sensitive, DeclineClass::Full);
const MEDIUM: Substrate = of(SensitivityClass::MediumResistant, DeclineClass::Full);
const RESISTANT: Substrate = of(SensitivityClass::Resistant, DeclineClass::Full);
const PINE: Substrate = Substrate::Wood(Wood::PINE);

const fn of(class: SensitivityClass, decline: DeclineClass) -> Substrate {
    Substrate::Class(class, decline)
}

fn celsius(t: f64) -> Temperature {
    Temperature::from_c(t)
}

fn percent(rh: f64) -> Humidity {
    Humidity::from_percent(rh)
}

/// Temperature and humidity that a check was computed for.
fn conditions(check: &Check) -> (Temperature, Humidity) {
    (celsius(check.input("T_C")), percent(check.input("RH_pct")))
}

/// Hukka & Viitanen 1999; the floor of 85 % for the resistant classes Ojanen et al. 2010.
#[test]
fn critical_humidity_is_the_published_cubic() {
    let critical = |substrate: Substrate, check: &Check| {
        substrate.critical_humidity(celsius(check.input("T_C"))).unwrap().percent()
    };
    for check in checks("MOU-01", "MOU-05") {
        check.holds(critical(VERY, &check));
    }
    check("MOU-06").holds(critical(MEDIUM, &check("MOU-06")));
    for t in [0.0, -10.0, f64::NAN] {
        assert!(VERY.critical_humidity(celsius(t)).is_none());
    }
}

/// Regression of the response times of pine sapwood, in weeks.
#[test]
fn times_to_growth_are_the_published_regressions() {
    let start = |check: &Check, wood| {
        let (t, rh) = conditions(check);
        time_to_start(t, rh, wood).unwrap().h() / 168.0
    };
    for check in checks("MOU-07", "MOU-18") {
        check.holds(start(&check, Wood::PINE));
    }
    let spruce = Wood { is_spruce: true, is_kiln_dried_surface: true };
    check("MOU-25").holds(start(&check("MOU-25"), spruce));
    for pair in checks("MOU-19", "MOU-24").chunks(2) {
        let (t, rh) = conditions(&pair[0]);
        pair[0].holds(time_to_visible(t, rh, Wood::PINE).unwrap().h() / 168.0);
        let [below, from] = PINE.growth_per_h(t, rh).unwrap();
        pair[1].holds(from / below);
    }
}

#[test]
fn times_outside_the_regressions_are_refused() {
    for (t, rh) in [(0.0, 90.0), (41.0, 90.0), (20.0, 75.0), (20.0, 101.0), (f64::NAN, 90.0)] {
        assert!(time_to_start(celsius(t), percent(rh), Wood::PINE).is_err(), "{t} {rh}");
    }
    let error = time_to_start(celsius(20.0), percent(50.0), Wood::PINE).unwrap_err();
    assert!(error.to_string().starts_with("relative humidity of 50 % is outside"), "{error}");
}

/// A + B·x − C·x² of Ojanen et al. 2010.
#[test]
fn greatest_index_is_that_of_the_class() {
    for (check, substrate) in [
        (check("MOU-26"), VERY),
        (check("MOU-27"), SENSITIVE),
        (check("MOU-28"), MEDIUM),
        (check("MOU-29"), RESISTANT),
    ] {
        let (t, rh) = conditions(&check);
        check.holds(substrate.greatest_index(t, rh).unwrap());
    }
}

/// The exact solution of the growth equation, itself compared with scipy `solve_ivp` to 1e-9.
#[test]
fn index_after_weeks_of_the_same_conditions() {
    for (check, substrate) in [
        (check("MOU-30"), VERY),
        (check("MOU-31"), VERY),
        (check("MOU-32"), VERY),
        (check("MOU-33"), VERY),
        (check("MOU-34"), SENSITIVE),
        (check("MOU-35"), SENSITIVE),
        (check("MOU-36"), SENSITIVE),
        (check("MOU-37"), MEDIUM),
        (check("MOU-38"), MEDIUM),
        (check("MOU-39"), RESISTANT),
        (check("MOU-40"), VERY),
        (check("MOU-41"), SENSITIVE),
    ] {
        let [t, rh, weeks] = ["T_C", "RH_pct", "weeks"].map(|name| check.input(name));
        let hours = 168.0 * weeks;
        let mut at_once = MouldIndex::new(substrate);
        at_once.advance(t, rh, hours);
        check.holds(at_once.index());
        let mut hourly = MouldIndex::new(substrate);
        for _ in 0..hours as u32 {
            hourly.advance(t, rh, 1.0);
        }
        check.holds(hourly.index());
    }
}

/// The original form meets its own response times: index 1 at t_m and about 3 at t_v (the retardation
/// of growth near its end sets in before; where the end is far, it is small).
#[test]
fn the_original_form_reaches_its_response_times() {
    let (t, rh) = (20.0, 99.0);
    let hours = |time: dewpath_units::Duration| time.h();
    let mut pine = MouldIndex::new(PINE);
    pine.advance(t, rh, hours(time_to_start(celsius(t), percent(rh), Wood::PINE).unwrap()));
    absolute("start", pine.index(), 1.0, 1e-3);
    let mut pine = MouldIndex::new(PINE);
    pine.advance(t, rh, hours(time_to_visible(celsius(t), percent(rh), Wood::PINE).unwrap()));
    absolute("visible", pine.index(), 3.0, 0.01);
}

/// Hukka & Viitanen 1999: 0.032 a day for six hours, nothing to 24 h, then 0.016 a day.
#[test]
fn index_falls_as_published() {
    for (check, class) in [
        (check("MOU-42"), DeclineClass::Full),
        (check("MOU-43"), DeclineClass::Full),
        (check("MOU-44"), DeclineClass::Full),
        (check("MOU-45"), DeclineClass::Significant),
        (check("MOU-46"), DeclineClass::RelativelyLow),
    ] {
        let substrate = of(SensitivityClass::VerySensitive, class);
        let mut mould = MouldIndex::starting_at(substrate, check.input("M0")).unwrap();
        mould.advance(20.0, 50.0, check.input("hours"));
        check.holds(mould.index());
    }
}

fn daily(substrate: Substrate, days: u32, wet_h: f64) -> f64 {
    let mut mould = MouldIndex::new(substrate);
    for _ in 0..days {
        mould.advance(22.0, 97.0, wet_h);
        mould.advance(22.0, 60.0, 24.0 - wet_h);
    }
    mould.index()
}

/// Hourly Euler reference of the published algorithm; the exact step differs by less than 0.01.
#[test]
fn daily_wetting_builds_up_as_in_the_hourly_reference() {
    let very_slow = of(SensitivityClass::VerySensitive, DeclineClass::AlmostNone);
    let paper = of(SensitivityClass::Sensitive, DeclineClass::Significant);
    for (check, index) in [
        (check("MOU-47"), daily(paper, 90, 12.0)),
        (check("MOU-48"), daily(VERY, 365, 3.0)),
        (check("MOU-49"), daily(very_slow, 365, 3.0)),
    ] {
        check.within(Absolute(0.01), "the reference steps by hours, ours is exact").holds(index);
    }
}

/// 0.008·C·168·t_m/k1. The last value of the register, above 18 h, leaves out that the dry gap is then shorter
/// than the six hours of quick decline; what it says of the rate of growth is checked instead.
#[test]
fn break_even_hours_follow_from_decline_and_growth() {
    for (check, substrate) in
        [(check("MOU-50"), VERY), (check("MOU-51"), VERY), (check("MOU-52"), SENSITIVE)]
    {
        let (t, rh) = conditions(&check);
        check.holds(substrate.break_even_wet_hours_per_day(t, rh).unwrap());
    }
    let [gain, _] = MEDIUM.growth_per_h(celsius(20.0), percent(97.0)).unwrap();
    check("MOU-53").holds(0.008 / gain);
    let got = MEDIUM.break_even_wet_hours_per_day(celsius(20.0), percent(97.0)).unwrap();
    absolute("with the short gap", gain * got, 0.032 / 24.0 * (24.0 - got), 1e-12);
    assert!(got > 18.0 && got < 24.0, "{got}");
    assert!(VERY.break_even_wet_hours_per_day(celsius(20.0), percent(70.0)).is_none());
}

/// Below the break-even hours a year of showers leaves hardly anything, above them it builds up.
#[test]
fn break_even_hours_part_what_dries_from_what_builds_up() {
    let hours = VERY.break_even_wet_hours_per_day(celsius(22.0), percent(97.0)).unwrap();
    assert!(daily(VERY, 365, 0.95 * hours) < 0.02);
    assert!(daily(VERY, 365, 1.2 * hours) > 0.3);
}

/// The neighbours of a class lie on both sides of it in every condition.
#[test]
fn an_index_lies_in_its_class_band() {
    for class in SensitivityClass::ALL {
        let after = |class| {
            let mut mould = MouldIndex::new(of(class, DeclineClass::Full));
            mould.advance(21.0, 93.0, 2000.0);
            mould.index()
        };
        let [more, less] = class.band();
        assert!(after(more) >= after(class) && after(class) >= after(less), "{class:?}");
        assert!(after(more) > after(less), "{class:?}");
    }
}

#[test]
fn what_is_not_known_is_counted_and_changes_nothing() {
    let mut mould = MouldIndex::starting_at(VERY, 2.0).unwrap();
    mould.advance(20.0, 50.0, 3.0);
    let before = mould.index();
    mould.advance(f64::NAN, 97.0, 5.0);
    mould.advance(20.0, f64::NAN, 4.0);
    mould.advance(20.0, 97.0, f64::NAN);
    mould.advance(20.0, 97.0, -1.0);
    assert_eq!(mould.index().to_bits(), before.to_bits());
    absolute("unknown", mould.unknown_h(), 9.0, 1e-12);
    absolute("dry", mould.dry_h(), 3.0, 1e-12);
    assert!(MouldIndex::starting_at(VERY, 6.5).is_err());
    assert!(MouldIndex::starting_at(VERY, f64::NAN).is_err());
}

#[test]
fn nothing_grows_in_frost_and_100_is_the_most() {
    let mut frozen = MouldIndex::new(VERY);
    frozen.advance(0.0, 100.0, 10_000.0);
    absolute("frozen", frozen.index(), 0.0, 0.0);
    let index = |t, rh| {
        let mut mould = MouldIndex::new(VERY);
        mould.advance(t, rh, 24.0);
        mould.index()
    };
    absolute("above 100 %", index(20.0, 130.0), index(20.0, 100.0), 0.0);
    absolute("above 40 °C", index(60.0, 97.0), index(40.0, 97.0), 0.0);
}

/// ASHRAE 160, text of 2009 (from memory): 30-day running mean at the surface below 80 % while 5 to 40 °C.
#[test]
fn running_mean_of_humidity() {
    let mut mean = RunningMean::new();
    mean.advance(20.0, 90.0, 719.0);
    assert!(mean.mean().is_none() && mean.peak_percent().is_none());
    mean.advance(20.0, 90.0, 1.0);
    absolute("first", mean.peak_percent().unwrap(), 90.0, 1e-9);
    absolute("first hour", mean.above_h(), 1.0, 1e-12);
    // Dry now: the mean falls by 1/18 % an hour (90 to 50 over 720 h) and meets 80 % after 180 h.
    mean.advance(20.0, 50.0, 720.0);
    absolute("hours above", mean.above_h(), 1.0 + 180.0, 1e-9);
    absolute("mean", mean.mean().unwrap().1, 50.0, 1e-9);
    // Too cold for mould: the mean is not counted.
    mean.advance(2.0, 95.0, 5000.0);
    let counted = mean.above_h();
    mean.advance(2.0, 95.0, 1000.0);
    absolute("cold", mean.above_h(), counted, 0.0);
    // A long time in one step.
    mean.advance(20.0, 85.0, 10_000.0);
    mean.advance(20.0, 85.0, 100.0);
    assert!(mean.above_h() > counted + 10_000.0 - 720.0);
}

fn substrates() -> impl Strategy<Value = Substrate> {
    let class = (0..4_usize, 0..4_usize).prop_map(|(class, decline)| {
        let declines = [
            DeclineClass::Full,
            DeclineClass::Significant,
            DeclineClass::RelativelyLow,
            DeclineClass::AlmostNone,
        ];
        of(SensitivityClass::ALL[class], declines[decline])
    });
    let wood = (any::<bool>(), any::<bool>()).prop_map(|(is_spruce, is_kiln_dried_surface)| {
        Substrate::Wood(Wood { is_spruce, is_kiln_dried_surface })
    });
    prop_oneof![class, wood]
}

proptest! {
    /// In constant conditions a damper surface never ends with less mould. (Over changing ones the published
    /// model is not monotone: an hour that just allows growth starts the quick decline anew.)
    #[test]
    fn damper_never_means_less(
        substrate in substrates(), start in 0.0..6.0_f64, t in -5.0..45.0_f64,
        rh in 60.0..100.0_f64, more in 0.0..20.0_f64, hours in 0.1..5000.0_f64,
    ) {
        let after = |rh| {
            let mut mould = MouldIndex::starting_at(substrate, start).unwrap();
            mould.advance(t, rh, hours);
            mould.index()
        };
        prop_assert!(after(rh + more) >= after(rh) - 1e-9);
    }

    /// One step is the same as the many that make it up.
    #[test]
    fn splitting_a_step_changes_nothing(
        substrate in substrates(), start in 0.0..6.0_f64, t in -5.0..45.0_f64,
        rh in 60.0..102.0_f64, dry_first in 0.0..40.0_f64, hours in 0.1..2000.0_f64,
        parts in 2..60_u32,
    ) {
        let mut whole = MouldIndex::starting_at(substrate, start).unwrap();
        whole.advance(20.0, 40.0, dry_first);
        let mut split = whole;
        whole.advance(t, rh, hours);
        for _ in 0..parts {
            split.advance(t, rh, hours / f64::from(parts));
        }
        prop_assert!((whole.index() - split.index()).abs() < 1e-9,
            "{} {}", whole.index(), split.index());
        prop_assert!((whole.dry_h() - split.dry_h()).abs() < 1e-9);
    }

    /// A running mean does not depend on how time is cut, to the hour.
    #[test]
    fn splitting_a_running_mean_changes_nothing(rh in 0.0..100.0_f64, parts in 1..50_u32) {
        let (mut whole, mut split) = (RunningMean::new(), RunningMean::new());
        for mean in [&mut whole, &mut split] {
            mean.advance(20.0, 90.0, 800.0);
        }
        whole.advance(18.0, rh, 400.0);
        for _ in 0..parts {
            split.advance(18.0, rh, 400.0 / f64::from(parts));
        }
        let (a, b) = (whole.mean().unwrap(), split.mean().unwrap());
        // One hour of 720 may still be open after rounding.
        prop_assert!((a.1 - b.1).abs() < 0.15 && (a.0 - b.0).abs() < 0.01);
    }

    #[test]
    fn any_number_gives_an_index(
        substrate in substrates(),
        steps in prop::collection::vec(
            (prop::num::f64::ANY, prop::num::f64::ANY, prop::num::f64::ANY), 1..8),
        likely in prop::collection::vec((-40.0..60.0_f64, 0.0..110.0_f64, 0.0..50.0_f64), 0..8),
    ) {
        let mut mould = MouldIndex::new(substrate);
        let mut mean = RunningMean::new();
        for (t, rh, hours) in steps.into_iter().chain(likely) {
            mould.advance(t, rh, hours);
            mean.advance(t, rh, hours);
            prop_assert!((0.0..=6.0).contains(&mould.index()), "{}", mould.index());
            prop_assert!(mould.peak() >= mould.index() && mould.dry_h().is_finite());
            prop_assert!(mean.above_h().is_finite() && mean.unknown_h().is_finite());
            if let Some((t, rh)) = mean.mean() {
                prop_assert!(t.is_finite() && (-1e-6..=100.000001).contains(&rh));
            }
        }
    }
}
