//! Condensation and evaporation against the Lewis relation worked outside the project, and laws of the film.
#![allow(
    clippy::disallowed_methods,
    reason = "expected values need not be the same to the last bit"
)]

use dewpath_air::moist_air::MoistAir;
use dewpath_checkvalues::{check, relative};
use dewpath_moisture::film::{
    CLEAR_FILM_KG_M2, LEWIS_FACTOR, LEWIS_NUMBER, RUNNING_FILM_KG_M2, VapourTransfer,
    drop_film_kg_m2, pressure_coefficient_kg_m2_s_pa, step_film, still_air_convection_w_m2_k,
};
use dewpath_moisture::saturation::Saturation;
use dewpath_units::{Humidity, Length, Pressure, Temperature, TemperatureDifference};
use proptest::prelude::*;

const SEA_LEVEL_PA: f64 = 101_325.0;

fn air(t: f64, rh: f64) -> MoistAir {
    MoistAir::from_relative_humidity(
        Temperature::from_c(t),
        Humidity::from_ratio(rh),
        Pressure::from_pa(SEA_LEVEL_PA),
    )
    .unwrap()
}

/// Lewis relation with the humidity ratio as driving force, worked with psychrolib 2.5.0; g/(m²·h).
#[test]
fn fluxes_follow_the_lewis_relation() {
    let onto = |t_air, rh, t_surface| {
        let w = air(t_air, rh).humidity_ratio();
        let surface = VapourTransfer::new(4.0, w, Pressure::from_pa(SEA_LEVEL_PA)).unwrap();
        let w_surface = Saturation::shared().humidity_ratio(t_surface, SEA_LEVEL_PA);
        surface.flux_kg_m2_s(w, w_surface) * 3.6e6
    };
    for check in [check("COND-06"), check("COND-07")] {
        check.holds(onto(24.0, 0.85, check.input("Ts")));
    }
    check("COND-08").holds(-onto(22.0, 0.50, 20.0));
    relative("factor", LEWIS_FACTOR, LEWIS_NUMBER.powf(2.0 / 3.0), 1e-14);
}

/// ISO 13788 form (Lewis factor 1, dry heat capacity); the register rounds the ratio of molar masses to 0.622.
#[test]
fn coefficient_for_vapour_pressure() {
    let got = pressure_coefficient_kg_m2_s_pa(4.0, 1006.0, SEA_LEVEL_PA, 1.0);
    check("COND-09").holds(got * (0.622 / 0.621945));
    // Both coefficients say the same of thin vapour.
    let p = Pressure::from_pa(SEA_LEVEL_PA);
    let transfer = VapourTransfer::new(4.0, 0.001, p).unwrap();
    let by_pressure = transfer.pressure_kg_m2_s_pa() * 100.0;
    let by_ratio = transfer.mass_kg_m2_s() * (0.621945 * 100.0 / (SEA_LEVEL_PA - 100.0));
    relative("thin", by_pressure, by_ratio, 2e-3);
}

/// Schirmer 1938 as used in ISO 12572; other published forms 2.4 to 2.6e-5 m²/s.
#[test]
fn diffusivity_of_vapour() {
    check("COND-10").holds(air(20.0, 0.0).vapour_diffusivity_m2_s());
}

/// Indoor natural convection at a wall is published as 1.5 to 4 W/(m²·K) (Churchill & Chu, textbook range).
#[test]
fn still_air_convection_is_in_the_published_range() {
    for k in [0.0, 0.5, -3.0, 5.0, 12.0, 25.0] {
        let h = still_air_convection_w_m2_k(TemperatureDifference::from_k(k)).unwrap();
        assert!((1.5..=4.0).contains(&h), "{k} K gives {h}");
    }
    let at = |k| still_air_convection_w_m2_k(TemperatureDifference::from_k(k)).unwrap();
    relative("8 K", at(8.0), 2.62, 1e-12);
    assert!(still_air_convection_w_m2_k(TemperatureDifference::from_k(f64::NAN)).is_err());
}

/// The band of the clear film is that of its radii, and lies far below what runs.
#[test]
fn clear_film_follows_from_its_drops() {
    let film = |um: f64| drop_film_kg_m2(Length::from_m(um * 1e-6)).unwrap();
    let band = CLEAR_FILM_KG_M2;
    for (um, want) in [(0.273, band.low), (0.546, band.likely), (1.364, band.high)] {
        relative("film", want, film(um), 2e-3);
    }
    assert!(band.high < RUNNING_FILM_KG_M2.low / 5.0);
    assert!(drop_film_kg_m2(Length::from_m(0.01)).is_err());
}

/// What the documentation of the clear film says: evaporation at 100 g/(m²·h) takes it in less than half a minute.
#[test]
fn the_choice_of_the_clear_film_hardly_moves_clearing() {
    let minutes = |film: f64| film / (check("COND-08").value() * 1e-3 / 60.0);
    assert!((minutes(CLEAR_FILM_KG_M2.high) - 0.3).abs() < 0.05);
}

#[test]
fn what_cannot_be_is_refused() {
    let p = Pressure::from_pa(SEA_LEVEL_PA);
    assert!(VapourTransfer::new(-1.0, 0.01, p).is_err());
    assert!(VapourTransfer::new(f64::NAN, 0.01, p).is_err());
    assert!(VapourTransfer::new(4.0, -0.01, p).is_err());
    assert!(VapourTransfer::new(4.0, 0.01, Pressure::from_pa(50.0)).is_err());
}

proptest! {
    #[test]
    fn a_film_keeps_its_mass(
        film in 0.0..0.3_f64, flux in -1e-3..1e-3_f64, seconds in 0.0..3600.0_f64,
        running in 0.0..0.2_f64,
    ) {
        let after = step_film(film, flux, seconds, running);
        prop_assert!(after.film >= 0.0 && after.film <= running && after.ran_off >= 0.0);
        let balance = film + after.from_air - after.film - after.ran_off;
        prop_assert!(balance.abs() < 1e-15 + 1e-15 * film.max(after.from_air.abs()));
    }

    #[test]
    fn any_number_gives_a_film(
        film in prop::num::f64::ANY, flux in prop::num::f64::ANY, seconds in prop::num::f64::ANY,
        running in prop::num::f64::ANY,
    ) {
        let after = step_film(film, flux, seconds, running);
        prop_assert!(!after.film.is_nan() && !after.from_air.is_nan() && !after.ran_off.is_nan());
    }
}
