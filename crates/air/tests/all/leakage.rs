//! Envelope leakage and door gaps against closed forms, numpy and scipy.

use dewpath_air::leakage::{
    DEFAULT_EXPONENT, Envelope, Gap, Leak, SHARP_EDGE, Shelter, Storeys, balance,
    basic_infiltration, exchange_by_half_fan, exchange_by_quadrature, infiltration_credit, make_up,
    undercut_height,
};
use dewpath_units::{
    AirChange50, Airflow, Area, Density, Leakage50, Length, Pressure, Temperature, Velocity, Volume,
};
use proptest::prelude::*;

fn absolute(id: &str, got: f64, want: f64, tolerance: f64) {
    assert!((got - want).abs() <= tolerance, "{id}: got {got}, want {want} ± {tolerance}");
}

fn relative(id: &str, got: f64, want: f64, tolerance: f64) {
    absolute(id, got, want, tolerance * want.abs());
}

const AIR: Density = Density::from_kg_m3(1.2);

fn house(leakage50_m3_s: f64) -> Envelope {
    Envelope::from_leakage50(Leakage50::from_m3_s(leakage50_m3_s), DEFAULT_EXPONENT).unwrap()
}

/// Q = C·Δp^n and the definitions built on it (ASHRAE Fundamentals ch. 16, ISO 9972, CAN/CGSB-149.10).
#[test]
fn leakage_in_all_its_measures() {
    let house = house(0.5);
    relative("INF-01", house.coefficient(), 0.03932235336, 1e-9);
    relative("INF-02", house.effective_leakage_area(AIR).unwrap().m2(), 0.03749938329, 1e-9);
    relative("INF-03", house.equivalent_leakage_area(AIR).unwrap().m2(), 0.07041641593, 1e-9);
    let rate = house.air_change50(Volume::from_m3(400.0)).unwrap();
    relative("INF-04", rate.per_h(), 4.5, 1e-12);
}

#[test]
fn every_measure_leads_back_to_the_same_envelope() {
    let house = house(0.5);
    let n = DEFAULT_EXPONENT;
    let volume = Volume::from_m3(400.0);
    let ela = house.effective_leakage_area(AIR).unwrap();
    let eqla = house.equivalent_leakage_area(AIR).unwrap();
    for back in [
        Envelope::from_effective_leakage_area(ela, n, AIR).unwrap(),
        Envelope::from_equivalent_leakage_area(eqla, n, AIR).unwrap(),
        Envelope::from_air_change50(AirChange50::from_per_h(4.5), volume, n).unwrap(),
        Envelope::from_leakage50(house.leakage50(), n).unwrap(),
    ] {
        relative("back", back.coefficient(), house.coefficient(), 1e-12);
    }
}

/// Inverse power law, evaluated outside the project.
#[test]
fn fan_alone_lowers_the_pressure() {
    for (id, leakage, exhaust, want) in [
        ("INF-05", 0.5, 0.025, 0.498178976),
        ("INF-06", 0.5, 0.050, 1.447133062),
        ("INF-07", 0.5, 0.150, 7.844064668),
        ("INF-08", 0.5, 0.300, 22.78579762),
        ("INF-09", 0.15, 0.025, 3.175515482),
        ("INF-10", 0.15, 0.050, 9.224382533),
        ("INF-11", 0.15, 0.150, 50.0),
    ] {
        relative(id, house(leakage).pressure(Airflow::from_m3_s(-exhaust)).pa(), -want, 1e-9);
    }
    relative("INF-12", house(0.15).flow(Pressure::from_pa(5.0)).m3_s(), 0.03358081708, 1e-9);
}

/// numpy 2.4.6, `polyfit(ln dP, ln Q, 1)`.
#[test]
fn pressurisation_test_is_fitted_in_logarithms() {
    let readings: Vec<_> = [10.0, 20.0, 30.0, 40.0, 50.0, 60.0]
        .into_iter()
        .zip([0.178, 0.279, 0.364, 0.440, 0.508, 0.573])
        .map(|(p, q)| (Pressure::from_pa(p), Airflow::from_m3_s(q)))
        .collect();
    let fit = Envelope::fit(&readings).unwrap();
    relative("INF-13", fit.coefficient(), 0.03955386629, 1e-9);
    relative("INF-13", fit.exponent(), 0.6527318418, 1e-9);
    assert_eq!(Envelope::fit(&readings[..1]).unwrap_err().quantity, "number of test readings");
    assert!(
        Envelope::fit(&[readings[0], readings[0]]).unwrap_err().to_string().contains("all alike")
    );
    assert!(Envelope::fit(&[(Pressure::ZERO, readings[0].1), readings[1]]).is_err());
}

/// Basic model of ASHRAE Fundamentals ch. 16 (coefficients from memory), two storeys, shelter class 4.
#[test]
fn natural_infiltration() {
    let flow = basic_infiltration(
        Area::from_cm2(374.9938329),
        Storeys::Two,
        Shelter::Heavy,
        Temperature::from_k(20.0),
        Velocity::from_m_s(4.0),
    );
    relative("INF-14", flow.unwrap().l_s(), 33.52369363, 1e-6);
}

/// Palmiter & Bond 1991; ASHRAE 62.2-2016, Hurel, Sherman & Walker 2016.
#[test]
fn fan_and_infiltration_together() {
    let (natural, fan) = (Airflow::from_m3_s(0.04), Airflow::from_m3_s(0.03));
    relative("INF-15", exchange_by_quadrature(natural, fan).m3_s(), 0.05, 1e-12);
    relative("INF-16", exchange_by_half_fan(natural, fan).m3_s(), 0.055, 1e-12);
    // The file prints 10 digits; 0.04² / 0.07 by hand beside it.
    relative("INF-17", infiltration_credit(natural, fan).m3_s(), 0.02285714286, 1e-9);
    relative("INF-17", infiltration_credit(natural, fan).m3_s(), 0.0016 / 0.07, 1e-12);
    assert_eq!(infiltration_credit(Airflow::ZERO, Airflow::ZERO), Airflow::ZERO);
}

/// scipy 1.17.1, `brentq` on the flow balance of two leaks at 0.3 and 5 m.
#[test]
fn stack_and_fan_are_added_as_flows() {
    let half = Envelope::new(0.03932235336 / 2.0, 0.65).unwrap();
    let leaks = [0.3, 5.0].map(|height| Leak {
        envelope: half,
        height: Length::from_m(height),
        wind: Pressure::ZERO,
    });
    let (inside, outside) = (Density::from_kg_m3(1.2), Density::from_kg_m3(1.2 + 0.1163531621));
    let at = |fan: f64| balance(&leaks, inside, outside, Airflow::from_m3_s(fan)).unwrap().pa();
    relative("INF-18", at(0.0), -3.023742053, 1e-8);
    relative("INF-18", at(0.05), -5.497051344, 1e-8);
    let alone =
        Envelope::new(0.03932235336, 0.65).unwrap().pressure(Airflow::from_m3_s(-0.05)).pa();
    assert!(at(0.05) - at(0.0) < alone, "the stack makes the fan pull harder");
    assert!(balance(&[], inside, outside, Airflow::ZERO).is_err());
}

/// ISO 9972: no change in the same air; at n = 0.5 only density counts, at n = 1 only viscosity.
#[test]
fn other_air_leaks_differently() {
    let thin = (Density::from_kg_m3(1.0), 1.7e-5);
    let normal = (Density::from_kg_m3(1.2), 1.8e-5);
    for (n, want) in [(0.5, (1.2_f64 / 1.0).sqrt()), (1.0, 1.8 / 1.7)] {
        let envelope = Envelope::new(0.03, n).unwrap();
        let same = envelope.with_air(normal, normal).unwrap();
        relative("same air", same.coefficient(), 0.03, 1e-14);
        let other = envelope.with_air(normal, thin).unwrap();
        relative("other air", other.coefficient(), 0.03 * want, 1e-12);
    }
}

/// Sharp-orifice equation, evaluated outside the project.
#[test]
fn door_undercuts() {
    for (id, height_mm, flow_l_s, want) in [
        ("DOOR-01", 10.0, 25.0, 17.93985069),
        ("DOOR-02", 19.0, 25.0, 4.969487727),
        ("DOOR-03", 19.0, 37.8, 11.36096455),
        ("DOOR-04", 6.0, 37.8, 113.9252279),
    ] {
        let area = Length::from_mm(height_mm) * Length::from_mm(762.0);
        let gap = Gap::new(area, SHARP_EDGE).unwrap();
        let flow = Airflow::from_l_s(flow_l_s);
        let pressure = gap.pressure(flow, AIR).unwrap();
        relative(id, pressure.pa(), want, 1e-9);
        relative("back", gap.flow(pressure, AIR).l_s(), flow_l_s, 1e-12);
    }
    let gap = Gap::new(Length::from_mm(10.0) * Length::from_mm(762.0), SHARP_EDGE).unwrap();
    absolute("DOOR-01 speed", gap.speed(Airflow::from_l_s(25.0)).unwrap().m_s(), 3.28, 0.005);
    let height = undercut_height(
        Airflow::from_l_s(37.8),
        Length::from_mm(762.0),
        Pressure::from_pa(3.0),
        SHARP_EDGE,
        AIR,
    );
    relative("DOOR-05", height.unwrap().m(), 0.03697435238, 1e-9);
    let shut = Gap::new(Area::ZERO, SHARP_EDGE).unwrap();
    assert!(shut.pressure(Airflow::from_l_s(1.0), AIR).is_err());
}

/// scipy 1.17.1, `brentq`: door crack and outside leaks of the room side by side.
#[test]
fn closed_room_draws_from_house_and_outdoors() {
    let door = Gap::new(Area::from_m2(0.004), SHARP_EDGE).unwrap();
    let leaks = Envelope::new(0.002, 0.65).unwrap();
    let exhaust = Airflow::from_l_s(37.8);
    let result = make_up(exhaust, door, leaks, AIR).unwrap();
    relative("DOOR-06", result.suction.pa(), 33.90903878, 1e-8);
    relative("sum", (result.from_house + result.from_outdoors).l_s(), 37.8, 1e-12);
    // A door that seals leaves the room's own leaks alone; no exhaust makes no suction.
    let sealed = make_up(exhaust, Gap::new(Area::ZERO, SHARP_EDGE).unwrap(), leaks, AIR).unwrap();
    relative("sealed", sealed.suction.pa(), leaks.pressure(exhaust).pa(), 1e-9);
    absolute("idle", make_up(Airflow::ZERO, door, leaks, AIR).unwrap().suction.pa(), 0.0, 1e-12);
}

#[test]
fn impossible_input_is_refused() {
    assert_eq!(Envelope::new(0.0, 0.65).unwrap_err().quantity, "leakage coefficient");
    assert_eq!(Envelope::new(0.1, 0.4).unwrap_err().quantity, "flow exponent");
    assert!(Envelope::new(f64::NAN, 0.65).is_err());
    assert!(Gap::new(Area::from_m2(-1.0), 0.6).is_err());
    assert!(Gap::new(Area::from_m2(1.0), 6.0).is_err());
    assert!(house(0.5).air_change50(Volume::ZERO).is_err());
}

proptest! {
    /// Flow and pressure are each other's inverse, for flow in and flow out.
    #[test]
    fn flow_and_pressure_are_inverse(c in 1e-4..0.5_f64, n in 0.5..1.0_f64, p in -80.0..80.0_f64) {
        let envelope = Envelope::new(c, n).unwrap();
        let back = envelope.pressure(envelope.flow(Pressure::from_pa(p))).pa();
        prop_assert!((back - p).abs() <= 1e-11 * (1.0 + p.abs()));
    }

    /// The balance balances, with leaks at any height, wind on them and a fan either way.
    #[test]
    fn balance_balances(
        leaks in proptest::collection::vec((1e-4..0.1_f64, 0.5..1.0_f64, 0.0..9.0_f64, -30.0..30.0_f64), 1..6),
        outside in 1.0..1.5_f64,
        fan in -0.3..0.3_f64,
    ) {
        let leaks: Vec<Leak> = leaks.iter().map(|&(c, n, height, wind)| Leak {
            envelope: Envelope::new(c, n).unwrap(),
            height: Length::from_m(height),
            wind: Pressure::from_pa(wind),
        }).collect();
        let (inside, outside) = (Density::from_kg_m3(1.2), Density::from_kg_m3(outside));
        let floor = balance(&leaks, inside, outside, Airflow::from_m3_s(fan)).unwrap();
        let weight = (outside - inside).kg_m3() * 9.80665;
        let net: f64 = leaks.iter().map(|leak| {
            let across = floor.pa() + weight * leak.height.m() - leak.wind.pa();
            leak.envelope.flow(Pressure::from_pa(across)).m3_s()
        }).sum();
        prop_assert!((net + fan).abs() < 1e-7, "{net} {fan}");
    }

    /// No input makes the functions panic.
    #[test]
    fn nothing_panics(a in any::<f64>(), b in any::<f64>(), c in prop_oneof![any::<f64>(), 0.0..2.0_f64]) {
        let (flow, rho) = (Airflow::from_m3_s(a), Density::from_kg_m3(b));
        let pressure = Pressure::from_pa(b);
        let _ = Envelope::fit(&[(pressure, flow), (Pressure::from_pa(c), flow)]);
        let _ = undercut_height(flow, Length::from_m(c), pressure, c, rho);
        let _ = Envelope::from_effective_leakage_area(Area::from_m2(a), c, rho);
        let gap = Gap::new(Area::from_m2(c.abs()), SHARP_EDGE);
        for envelope in [Envelope::new(a, c), Envelope::new(c, 0.65)].into_iter().flatten() {
            let _ = (envelope.flow(pressure), envelope.pressure(flow));
            let leak = Leak { envelope, height: Length::from_m(b), wind: pressure };
            let _ = balance(&[leak, leak], rho, rho, flow);
            if let Ok(gap) = gap {
                let _ = (make_up(flow, gap, envelope, rho), gap.pressure(flow, rho));
            }
        }
    }
}
