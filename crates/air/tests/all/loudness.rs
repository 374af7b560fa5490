//! Loudness against ISO 532-1, a textbook example and closed forms.

use dewpath_air::loudness::{
    BandWidth, a_weighted_level, add_levels, combine, duct_flow_noise, level_change_by_speed,
    loudness_at_speed, loudness_level, loudness_of_level, total_loudness,
};
use dewpath_checkvalues::{absolute, check, checks};
use dewpath_units::{Area, Loudness, SoundLevel, Velocity};
use proptest::prelude::*;

fn sone(n: f64) -> Loudness {
    Loudness::from_sone(n)
}

fn db(level: f64) -> SoundLevel {
    SoundLevel::from_db(level)
}

/// ISO 532-1:2017 conversion, as documented in a public technical-computing reference page.
#[test]
fn loudness_level_follows_iso_532_1() {
    for check in checks("SND-01", "SND-07") {
        check.holds(loudness_level(sone(check.input("sone"))).unwrap().db());
    }
    for check in checks("SND-08", "SND-11") {
        check.holds(loudness_of_level(db(check.input("phon"))).unwrap().sone());
    }
}

/// ISO 532-2, table 5, first rows: a different model of hearing, which gives more loudness at the threshold.
/// What is carried here follows ISO 532-1; both call these levels inaudible, less than 0.01 sone apart, and the
/// difference has the sign that is documented.
#[test]
fn near_the_threshold_the_other_model_of_hearing_is_louder() {
    let other = check("SND-12");
    for (phon, want) in other.inputs("phon").into_iter().zip(other.values) {
        let got = loudness_of_level(db(phon)).unwrap().sone();
        assert!(got < want && want - got < 0.01, "{phon} phon, {got} and {want} sone");
    }
}

/// Incoherent sum of energies, by hand.
#[test]
fn levels_add_as_energy() {
    check("SND-13").holds(add_levels(&[db(38.0), db(41.0)]).unwrap().db());
    check("SND-14").holds(add_levels(&[db(30.0), db(30.0)]).unwrap().db() - 30.0);
    assert!(add_levels(&[]).is_err());
    assert!(add_levels(&[db(f64::INFINITY)]).is_err());
}

/// Stevens 1961 / ANSI S3.4-1980; textbook example 4.3 on factory noise (Arenas & Crocker): 59 sone, 99 phon.
#[test]
fn band_indices_make_total_loudness() {
    let small = check("SND-15").inputs("S_i");
    check("SND-15").holds(total_loudness(&small, BandWidth::Octave).unwrap().sone());
    let factory = check("SND-16").inputs("S_i");
    let total = total_loudness(&factory, BandWidth::Octave).unwrap();
    check("SND-16").all_hold(&[total.sone(), loudness_level(total).unwrap().db()]);
    assert!(
        total_loudness(&factory, BandWidth::ThirdOctave).unwrap()
            < total_loudness(&factory, BandWidth::HalfOctave).unwrap()
    );
    assert!(total_loudness(&[], BandWidth::Octave).is_err());
    assert!(total_loudness(&[1.0, -1.0], BandWidth::Octave).is_err());
}

/// Stevens' power law: two equal fans are 1.23 times as loud as one.
#[test]
fn two_equal_fans_are_not_twice_as_loud() {
    let both = combine(&[sone(1.0), sone(1.0)]).unwrap();
    check("SND-17").holds(both.same_spectrum.sone());
    absolute("apart", both.apart.sone(), 2.0, 1e-15);
    assert!(combine(&[]).is_err());
    assert_eq!(combine(&[Loudness::ZERO]).unwrap().same_spectrum, Loudness::ZERO);
}

/// Handbook form with constant 10; published example: 200 mm, 10 m/s, 45 dB.
#[test]
fn air_in_a_duct_makes_noise() {
    for check in checks("SND-18", "SND-20") {
        let (speed, diameter) = (Velocity::from_m_s(check.input("v")), check.input("D"));
        let area = Area::from_m2(std::f64::consts::FRAC_PI_4 * diameter * diameter);
        check.holds(duct_flow_noise(speed, area).unwrap().db());
    }
    let area = Area::from_m2(0.01);
    let at = |v: f64| duct_flow_noise(Velocity::from_m_s(v), area).unwrap().db();
    check("SND-21").holds(at(6.0) - at(3.0));
    assert!(duct_flow_noise(Velocity::ZERO, area).is_err());
}

/// 50 lg: a fan at half speed is 15 dB quieter; 4 sone (60 phon) become 45 phon, 1.41 sone.
#[test]
fn slower_fans_are_quieter() {
    absolute("speed law", level_change_by_speed(0.5).unwrap().db(), -15.05, 0.01);
    absolute("at half speed", loudness_at_speed(sone(4.0), 0.5).unwrap().sone(), 1.409, 0.001);
    absolute("rated", loudness_at_speed(sone(0.8), 1.0).unwrap().sone(), 0.8, 1e-12);
    assert!(level_change_by_speed(0.0).is_err());
}

/// Old rule of the trade (from memory): 1 sone about 28 dB(A).
#[test]
fn sones_as_a_weighted_level() {
    let [low, likely, high] = a_weighted_level(sone(1.0)).unwrap().map(SoundLevel::db);
    absolute("one sone", likely, 28.0, 1e-12);
    absolute("band", high - low, 6.0, 1e-12);
    assert!(a_weighted_level(sone(0.1)).is_err());
}

proptest! {
    /// Sone to phon and back.
    #[test]
    fn sone_and_phon_are_inverse(n in 0.0..100.0_f64) {
        let back = loudness_of_level(loudness_level(sone(n)).unwrap()).unwrap().sone();
        prop_assert!((back - n).abs() <= 1e-12 * (1.0 + n));
    }

    /// Fans together are at least as loud as the loudest and at most as loud as their sum.
    #[test]
    fn together_lies_between(fans in proptest::collection::vec(0.0..8.0_f64, 1..6)) {
        let both = combine(&fans.iter().map(|&n| sone(n)).collect::<Vec<_>>()).unwrap();
        let most = fans.iter().copied().fold(0.0, f64::max);
        prop_assert!(both.same_spectrum.sone() >= most * (1.0 - 1e-12));
        prop_assert!(both.apart >= both.same_spectrum);
    }
}
