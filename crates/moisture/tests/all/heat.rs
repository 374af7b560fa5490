//! Heat through duct walls against numbers from outside the project.
//!
//! Sources: ht 1.2.0 (correlations of heat transfer); Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, ch. 8
//! and 9 (worked examples, from memory); ISO 12241 and ASTM C680 (radial conduction, axial temperature drop); scipy
//! brentq on the same series resistances.

use core::f64::consts::PI;

use dewpath_checkvalues::Tolerance::Relative;
use dewpath_checkvalues::{check, checks, relative};
use dewpath_moisture::heat::{
    Burial, Direction, FOIL_EMISSIVITY, Insulation, PLAIN_EMISSIVITY, Squeeze, Surroundings, Wall,
    entrance_factor, film_outside_w_m2_k, nusselt_cross_flow, nusselt_dittus_boelter,
    nusselt_gnielinski, nusselt_horizontal_cylinder, nusselt_inside, nusselt_vertical_plate,
    radiation_w_m2_k, temperature_after, thickness_against_inner_dew, thickness_against_sweating,
};
use dewpath_units::{Length, Pressure, Ratio, Temperature, ThermalResistance, Velocity};
use proptest::prelude::*;

fn c(t: f64) -> Temperature {
    Temperature::from_c(t)
}

const FOUR_INCH: Length = Length::from_m(0.1016);

/// Incropera & DeWitt ch. 8, hot air in a bare sheet-metal duct (from memory); Dittus–Boelter from ht 1.2.0.
#[test]
fn warm_air_in_sheet_metal() {
    let (mass_flow, d) = (0.05_f64, 0.15_f64);
    let capacity_flow = mass_flow * 1011.0;
    check("HEAT-01").holds(capacity_flow * (103.0 - 77.0));
    // The transmittance that loses so much over the 5 m brings our exponential back to the 77 °C.
    let u = libm::log(103.0 / 77.0) * capacity_flow / 5.0;
    let out = temperature_after(c(103.0), c(0.0), Length::from_m(5.0), u, capacity_flow).unwrap();
    check("HEAT-01").holds(capacity_flow * (103.0 - out.c()));
    let re = 4.0 * mass_flow / (PI * d * check("HEAT-02").input("mu"));
    check("HEAT-02").holds(re);
    let nu = nusselt_dittus_boelter(re, 0.70, Direction::Cooling).unwrap();
    check("HEAT-03").holds(nu);
    assert!(nusselt_dittus_boelter(re, 0.70, Direction::Heating).unwrap() < nu);
    // Flux and wall temperature where the air leaves, for a film of 6 W/(m²·K) outside at 0 °C.
    let film_inside = nu * 0.03 / d;
    let bare = Wall::new(Length::from_m(d), &Insulation::none(), Squeeze::NONE, None, 6.0).unwrap();
    let wall = bare.inner_temperature(c(77.0), c(0.0), film_inside).unwrap();
    check("HEAT-04").all_hold(&[6.0 * wall.c(), wall.c()]);
}

/// ht 1.2.0 `conv_internal.turbulent_Gnielinski` with the exact Colebrook factor.
#[test]
fn gnielinski_of_developed_turbulent_flow() {
    for check in checks("HEAT-05", "HEAT-07") {
        let [re, prandtl, friction] = ["Re", "Pr", "fd"].map(|name| check.input(name));
        check.holds(nusselt_gnielinski(re, prandtl, friction).unwrap());
    }
    // The flow of all kinds meets it from Re 4000 on in a long duct.
    check("HEAT-05")
        .within(
            Relative(1e-8),
            "the friction factor is solved here, where the check has ten digits of it",
        )
        .holds(nusselt_inside(20000.0, 0.71, 0.0009, 0.0).unwrap());
}

/// ht 1.2.0 `conv_free_immersed.Nu_horizontal_cylinder_Churchill_Chu`.
#[test]
fn free_convection_around_a_cylinder() {
    for check in checks("HEAT-08", "HEAT-10") {
        let [grashof, prandtl] = ["Gr", "Pr"].map(|name| check.input(name));
        check.holds(nusselt_horizontal_cylinder(grashof * prandtl, prandtl).unwrap());
    }
    // Steam line of Incropera ch. 9, which prints about 23.3 (from memory).
    let [rayleigh, prandtl] = ["Ra", "Pr"].map(|name| check("HEAT-11").input(name));
    let nu = nusselt_horizontal_cylinder(rayleigh, prandtl).unwrap();
    check("HEAT-11").holds(nu);
    relative("as printed", nu, 23.3, 0.01);
}

/// ht 1.2.0 `conv_external.Nu_cylinder_Churchill_Bernstein` and `Nu_vertical_plate_Churchill`.
#[test]
fn cross_flow_and_vertical_plate() {
    check("HEAT-12").holds(nusselt_cross_flow(2e4, 0.71).unwrap());
    check("HEAT-13").holds(nusselt_vertical_plate(1e9 * 0.71, 0.71).unwrap());
}

/// Stefan–Boltzmann law, closed form.
#[test]
fn radiation_between_two_temperatures() {
    let h = radiation_w_m2_k(Ratio::from_ratio(0.9), c(20.0), c(0.0)).unwrap();
    check("HEAT-14").holds(h);
}

fn wrap_32_mm() -> Insulation {
    Insulation::new(Length::from_mm(32.0), 0.036).unwrap()
}

/// ISO 12241 / ASTM C680 radial conduction and series resistances, closed forms.
#[test]
fn insulation_around_a_four_inch_duct() {
    let wrap = wrap_32_mm();
    check("HEAT-15").holds(wrap.per_metre_m_k_w(FOUR_INCH).unwrap());
    assert!((wrap.on_inner_area(FOUR_INCH).unwrap().rsi() - 0.6894).abs() < 1e-4);
    let wall = Wall::new(FOUR_INCH, &wrap, Squeeze::NONE, None, 9.0).unwrap();
    let u = wall.linear_transmittance_w_m_k(FOUR_INCH, 8.0).unwrap();
    check("HEAT-16").holds(u);
    // Air of 25 L/s at 1.18 kg/m³ and 1020 J/(kg·K), from 24 °C, −10 °C around.
    let capacity_flow = 1.18 * 0.025 * 1020.0;
    for check in [check("HEAT-17"), check("HEAT-18")] {
        let length = Length::from_m(check.input("L"));
        check.holds(temperature_after(c(24.0), c(-10.0), length, u, capacity_flow).unwrap().c());
    }
    let inner = wall.inner_temperature(c(24.0), c(-10.0), 8.0).unwrap();
    check("HEAT-19").holds(inner.c());
    let bare = Wall::new(FOUR_INCH, &Insulation::none(), Squeeze::NONE, None, 9.0).unwrap();
    // 24 − 34·9/17.
    check("HEAT-20").holds(bare.inner_temperature(c(24.0), c(-10.0), 8.0).unwrap().c());
}

/// scipy brentq on series resistances.
#[test]
fn thickness_that_keeps_a_wall_above_the_dew_point() {
    for check in checks("HEAT-21", "HEAT-23") {
        let dew = c(check.input("Td"));
        let t = thickness_against_inner_dew(FOUR_INCH, 0.036, c(24.0), dew, c(-10.0), 8.0, 9.0);
        check.holds(t.unwrap().unwrap().m());
    }
    let sweating = check("HEAT-24");
    let (six_inch, dew) = (Length::from_m(sweating.input("D1")), c(sweating.input("Td")));
    let t = thickness_against_sweating(six_inch, 0.036, c(16.0), c(30.0), dew, 8.0, 6.0);
    sweating.holds(t.unwrap().unwrap().m());
}

#[test]
fn no_thickness_helps_saturated_air_and_none_is_needed_where_it_is_warm() {
    let needed = |dew, around| {
        thickness_against_inner_dew(FOUR_INCH, 0.036, c(24.0), c(dew), c(around), 8.0, 9.0).unwrap()
    };
    assert_eq!(needed(24.0, -10.0), None);
    assert_eq!(needed(15.0, 22.0), Some(Length::from_m(0.0)));
    // Foil with its lower film needs more against sweating than a plain jacket.
    let sweat = |film| {
        thickness_against_sweating(FOUR_INCH, 0.036, c(16.0), c(30.0), c(27.2), 8.0, film)
            .unwrap()
            .unwrap()
    };
    assert!(sweat(4.5) > sweat(9.0));
}

/// A label's flat value stands for more than the cylinder gives: and R-8 (IP) are 0.74, 1.06 and
/// 1.41 m²·K/W (exact unit conversion).
#[test]
fn a_label_is_flat() {
    for (label, rsi) in [(4.2, 0.74), (6.0, 1.06), (8.0, 1.41)] {
        let resistance = ThermalResistance::from_r_ip(label);
        relative("label", resistance.rsi(), rsi, 0.005);
        let around = Insulation::from_label(resistance).unwrap().on_inner_area(FOUR_INCH).unwrap();
        assert!(around.rsi() < 0.85 * resistance.rsi() && around.rsi() > 0.5 * resistance.rsi());
    }
}

/// Typical totals in still air, 8–10 W/(m²·K) on a plain jacket of a cold duct and less than 6 under foil (common practice, no source).
#[test]
fn film_outside_of_plain_and_foil() {
    let film = |emissivity, speed| {
        let attic = Surroundings {
            temperature: c(-10.0),
            air_speed: Velocity::from_m_s(speed),
            emissivity: Ratio::from_ratio(emissivity),
            pressure: Pressure::from_pa(101_325.0),
        };
        film_outside_w_m2_k(c(5.0), &attic, FOUR_INCH).unwrap()
    };
    assert!((8.0..10.0).contains(&film(PLAIN_EMISSIVITY, 0.0)));
    assert!((4.0..6.0).contains(&film(FOIL_EMISSIVITY, 0.0)));
    assert!(film(PLAIN_EMISSIVITY, 2.0) > film(PLAIN_EMISSIVITY, 0.5));
    assert!(film(PLAIN_EMISSIVITY, 0.5) > film(PLAIN_EMISSIVITY, 0.0));
}

/// Halving the thickness over half of the length against the closed form of two conductors side by side.
#[test]
fn squeezed_places_conduct_side_by_side() {
    let wrap = wrap_32_mm();
    let half =
        Squeeze { share_of_length: Ratio::from_ratio(0.5), thickness_left: Ratio::from_ratio(0.5) };
    let got = Wall::new(FOUR_INCH, &wrap, half, None, 9.0).unwrap().outward().rsi();
    let d = 0.1016_f64;
    let r = |t: f64| {
        let outer = d + 2.0 * t;
        d * libm::log(outer / d) / (2.0 * 0.036) + d / (outer * 9.0)
    };
    relative("squeeze", got, 2.0 / (1.0 / r(0.032) + 1.0 / r(0.016)), 1e-12);
}

/// The round layer of a buried duct has the shape factor 2π/arcosh(z/r) of a cylinder under a plane.
#[test]
fn fill_over_a_duct_counts_as_a_round_layer() {
    let fill = Burial { cover: Length::from_mm(100.0), conductivity_w_m_k: 0.045 };
    let bare = Insulation::none();
    let film = 1e5;
    let wall = Wall::new(FOUR_INCH, &bare, Squeeze::NONE, Some(fill), film).unwrap();
    let (r, z) = (0.0508_f64, 0.1508_f64);
    let per_metre = libm::acosh(z / r) / (2.0 * PI * 0.045);
    relative("burial", wall.layers.rsi() / (PI * 0.1016), per_metre, 1e-12);
    let out = Burial { cover: Length::from_mm(-20.0), ..fill };
    let sticking_out = Wall::new(FOUR_INCH, &bare, Squeeze::NONE, Some(out), 9.0).unwrap();
    assert_eq!(sticking_out, Wall::new(FOUR_INCH, &bare, Squeeze::NONE, None, 9.0).unwrap());
}

/// The heat that reaches the outer surface is what its film gives to the surroundings (first law).
#[test]
fn the_outside_film_settles_with_its_surface() {
    for (emissivity, speed, cover) in [(0.9, 0.0, None), (0.07, 0.0, None), (0.9, 1.5, Some(0.1))] {
        let around = Surroundings {
            temperature: c(-12.0),
            air_speed: Velocity::from_m_s(speed),
            emissivity: Ratio::from_ratio(emissivity),
            pressure: Pressure::from_pa(95_000.0),
        };
        let burial = cover.map(|m| Burial { cover: Length::from_m(m), conductivity_w_m_k: 0.045 });
        let wrap = wrap_32_mm();
        let wall =
            Wall::settled(FOUR_INCH, &wrap, Squeeze::NONE, burial, c(22.0), 14.0, &around).unwrap();
        let surface = wall.outer_temperature(c(22.0), c(-12.0), 14.0).unwrap();
        let mut outer = wrap.outer_diameter(FOUR_INCH);
        if let Some(fill) = burial {
            outer = Length::from_m(outer.m() + 2.0 * fill.round_thickness(outer).unwrap().m());
        }
        let film = film_outside_w_m2_k(surface, &around, outer).unwrap();
        let given = film * (surface.c() + 12.0) * outer.m() / 0.1016;
        let reaches = 34.0 / (1.0 / 14.0 + wall.outward().rsi());
        relative("film", given, reaches, 1e-8);
    }
}

#[test]
fn entrance_is_counted_up_to_a_stub() {
    let factor = |l| entrance_factor(FOUR_INCH, Length::from_m(l)).unwrap();
    relative("eight diameters", factor(0.8128), 1.25, 1e-12);
    relative("stub", factor(0.01), 2.0, 1e-12);
    assert!(entrance_factor(FOUR_INCH, Length::from_m(0.0)).is_err());
}

proptest! {
    #[test]
    fn heat_transfer_never_falls_with_flow(
        re in 0.0..1e5_f64, step in 1e-3..2000.0_f64, stubby in 0.0..2.0_f64, rough in 0.0..0.05_f64,
    ) {
        let nu = |re| nusselt_inside(re, 0.71, rough, stubby).unwrap();
        prop_assert!(nu(re + step) >= nu(re) * (1.0 - 1e-12));
    }

    #[test]
    fn heat_transfer_has_no_jump(stubby in 0.0..2.0_f64, rough in 0.0..0.05_f64) {
        for re in [2300.0, 4000.0] {
            let nu = |re| nusselt_inside(re, 0.71, rough, stubby).unwrap();
            prop_assert!((nu(re + 1e-6) - nu(re - 1e-6)).abs() < 1e-6 * nu(re));
        }
    }

    #[test]
    fn anything_typed_gives_a_number_or_an_error(
        numbers in proptest::array::uniform7(any::<f64>()), share in any::<f64>(),
    ) {
        let [a, b, d, e, f, g, h] = numbers;
        let finite = |x: Result<f64, _>| x.is_err() || x.is_ok_and(f64::is_finite);
        prop_assert!(finite(nusselt_inside(a, b, d, e)));
        prop_assert!(finite(nusselt_gnielinski(a, b, d)));
        prop_assert!(finite(nusselt_cross_flow(a, b)));
        prop_assert!(finite(nusselt_vertical_plate(a, b)));
        let around = Surroundings {
            temperature: c(a),
            air_speed: Velocity::from_m_s(b),
            emissivity: Ratio::from_ratio(share),
            pressure: Pressure::from_pa(e),
        };
        prop_assert!(finite(film_outside_w_m2_k(c(d), &around, Length::from_m(f))));
        let inner =
            thickness_against_inner_dew(Length::from_m(a), b, c(d), c(e), c(f), g, h);
        prop_assert!(inner.is_err() || inner.is_ok_and(|t| t.is_none_or(|t| t.m().is_finite())));
        let after = temperature_after(c(a), c(b), Length::from_m(d), e, f);
        prop_assert!(finite(after.map(Temperature::c)));
        let squeeze = Squeeze {
            share_of_length: Ratio::from_ratio(share),
            thickness_left: Ratio::from_ratio(g),
        };
        let burial = Burial { cover: Length::from_m(h), conductivity_w_m_k: e };
        if let Ok(layer) = Insulation::new(Length::from_m(a), b) {
            let wall = Wall::new(Length::from_m(d), &layer, squeeze, Some(burial), f);
            prop_assert!(finite(wall.map(|wall| wall.outward().rsi())));
        }
    }
}
