//! Surface temperatures against ISO 13788:2012 and a national rule.
//!
//! Sources: ISO 13788:2012 (equations from memory), DIN 4108-2 (12.6 °C and 0.70 for 20 °C, 50 % and −5 °C).

use dewpath_checkvalues::Tolerance::Absolute;
use dewpath_checkvalues::{absolute, check, checks};
use dewpath_moisture::surface::{
    ColdPlace, MOULD_LIMIT, SurfaceKind, factor, iso_saturation_pressure, least_factor,
    least_surface_temperature, plane_factor, surface_humidity, surface_temperature,
};
use dewpath_units::{Humidity, Ratio, Temperature, ThermalResistance};
use proptest::prelude::*;

fn celsius(t: f64) -> Temperature {
    Temperature::from_c(t)
}

fn percent(rh: f64) -> Humidity {
    Humidity::from_percent(rh)
}

/// ISO 13788:2012, annex E.
#[test]
fn the_short_equation_of_the_standard() {
    for check in checks("SURF-01", "SURF-03") {
        check.holds(iso_saturation_pressure(celsius(check.input("T"))).unwrap().pa());
    }
    assert!(iso_saturation_pressure(celsius(-61.0)).is_err());
}

/// DIN 4108-2 prints 12.6 °C and 0.70; the register carries the digits before rounding.
#[test]
fn coldest_surface_before_mould_is_feared() {
    let (room, humidity) = (celsius(20.0), percent(50.0));
    let coldest = least_surface_temperature(room, humidity, MOULD_LIMIT).unwrap();
    check("SURF-04").holds(coldest.c());
    let least = least_factor(room, humidity, MOULD_LIMIT, celsius(-5.0)).unwrap();
    check("SURF-05").holds(least.ratio());
    let back = factor(coldest, room, celsius(-5.0)).unwrap();
    absolute("the same", back.ratio(), least.ratio(), 1e-9);
}

/// ISO 13788 and ISO 6946: U 0.35 W/(m²·K), R_si 0.25 m²·K/W, 20 °C and 60 % inside, −5 °C outside.
#[test]
fn surface_of_a_plane_wall() {
    let f = plane_factor(0.35, SurfaceKind::Opaque.resistance()).unwrap();
    let surface = surface_temperature(f, celsius(20.0), celsius(-5.0)).unwrap();
    check("SURF-06").holds(surface.c());
    let short = |t| iso_saturation_pressure(t).unwrap().pa();
    let by_short = 0.6 * short(celsius(20.0)) / short(surface);
    check("SURF-07").holds(by_short);
    let humidity = surface_humidity(celsius(20.0), percent(60.0), surface).unwrap();
    check("SURF-07")
        .within(Absolute(1e-4), "the saturation used here lies 0.01 % from that of the standard")
        .holds(humidity.ratio());
}

#[test]
fn what_cannot_be_is_refused() {
    assert!(factor(celsius(15.0), celsius(20.0), celsius(20.0)).is_err());
    assert!(factor(celsius(25.0), celsius(20.0), celsius(0.0)).is_err());
    assert!(plane_factor(5.8, ThermalResistance::from_rsi(0.25)).is_err());
    assert!(plane_factor(f64::NAN, ThermalResistance::from_rsi(0.25)).is_err());
    assert!(surface_temperature(Ratio::from_ratio(1.2), celsius(20.0), celsius(0.0)).is_err());
    let summer = least_factor(celsius(20.0), percent(50.0), MOULD_LIMIT, celsius(25.0));
    let text = summer.unwrap_err().to_string();
    assert!(text.contains("outdoors to be colder"), "{text}");
}

/// The examples (from memory) stand in the order of what is known to be colder.
#[test]
fn bands_are_bands_and_single_glass_is_coldest() {
    use ColdPlace::{DoubleGlazing, InsulatedWall, MetalFrame, SingleGlazing, StudOrCorner};
    let order = [SingleGlazing, MetalFrame, DoubleGlazing, StudOrCorner, InsulatedWall];
    for pair in order.windows(2) {
        assert!(pair[0].factor().likely < pair[1].factor().likely, "{pair:?}");
    }
    for place in order {
        let band = place.factor();
        assert!(band.low <= band.likely && band.likely <= band.high && band.high <= 1.0);
    }
}

proptest! {
    /// At the least temperature the humidity at the surface is the limit.
    #[test]
    fn least_temperature_is_at_the_limit(
        t in 5.0..35.0_f64, rh in 5.0..100.0_f64, limit in 0.5..1.0_f64,
    ) {
        let limit = Humidity::from_ratio(limit);
        let coldest = least_surface_temperature(celsius(t), percent(rh), limit).unwrap();
        let there = surface_humidity(celsius(t), percent(rh), coldest).unwrap();
        // At the triple point the equations over ice and water differ by 0.01 Pa.
        prop_assert!((there.ratio() - limit.ratio()).abs() < 2e-5);
    }

    #[test]
    fn any_number_gives_an_answer_or_an_error(
        a in prop::num::f64::ANY, b in prop::num::f64::ANY, c in prop::num::f64::ANY,
        h in prop::num::f64::ANY,
    ) {
        let (ta, tb, tc) = (celsius(a), celsius(b), celsius(c));
        let answers = [
            factor(ta, tb, tc).map(Ratio::ratio),
            surface_temperature(Ratio::from_ratio(a), tb, tc).map(Temperature::c),
            surface_humidity(ta, Humidity::from_ratio(h), tb).map(Ratio::ratio),
            least_surface_temperature(ta, Humidity::from_ratio(h), Humidity::from_ratio(b))
                .map(Temperature::c),
            least_factor(ta, Humidity::from_ratio(h), MOULD_LIMIT, tb).map(Ratio::ratio),
            plane_factor(a, ThermalResistance::from_rsi(b)).map(Ratio::ratio),
        ];
        for answer in answers.into_iter().flatten() {
            prop_assert!(answer.is_finite());
        }
    }
}
