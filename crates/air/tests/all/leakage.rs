//! Envelope leakage and door gaps against closed forms, numpy and scipy.

use dewpath_air::leakage::{
    DEFAULT_EXPONENT, Envelope, Gap, Leak, SHARP_EDGE, Shelter, Storeys, balance,
    basic_infiltration, exchange_by_half_fan, exchange_by_quadrature, infiltration_credit, make_up,
    undercut_height,
};
use dewpath_checkvalues::{absolute, check, checks, relative};
use dewpath_units::{
    AirChange50, Airflow, Area, Density, Leakage50, Length, Pressure, Temperature, Velocity, Volume,
};
use proptest::prelude::*;

const AIR: Density = Density::from_kg_m3(1.2);

fn house(leakage50_m3_s: f64) -> Envelope {
    Envelope::from_leakage50(Leakage50::from_m3_s(leakage50_m3_s), DEFAULT_EXPONENT).unwrap()
}

/// Q = C·Δp^n and the definitions built on it (ASHRAE Fundamentals ch. 16, ISO 9972, CAN/CGSB-149.10).
#[test]
fn leakage_in_all_its_measures() {
    let house = house(0.5);
    check("INF-01").holds(house.coefficient());
    check("INF-02").holds(house.effective_leakage_area(AIR).unwrap().m2());
    check("INF-03").holds(house.equivalent_leakage_area(AIR).unwrap().m2());
    let rate = house.air_change50(Volume::from_m3(check("INF-04").input("V"))).unwrap();
    check("INF-04").holds(rate.per_h());
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
    for (leakage, checks) in [(0.5, checks("INF-05", "INF-08")), (0.15, checks("INF-09", "INF-11"))]
    {
        for check in checks {
            let exhaust = Airflow::from_m3_s(-check.input("Qf"));
            check.holds(-house(leakage).pressure(exhaust).pa());
        }
    }
    check("INF-12").holds(house(0.15).flow(Pressure::from_pa(5.0)).m3_s());
}

/// numpy 2.4.6, `polyfit(ln dP, ln Q, 1)`.
#[test]
fn pressurisation_test_is_fitted_in_logarithms() {
    let test = check("INF-13");
    let readings: Vec<_> = test
        .inputs("dP")
        .into_iter()
        .zip(test.inputs("Q"))
        .map(|(p, q)| (Pressure::from_pa(p), Airflow::from_m3_s(q)))
        .collect();
    let fit = Envelope::fit(&readings).unwrap();
    test.all_hold(&[fit.coefficient(), fit.exponent()]);
    assert_eq!(Envelope::fit(&readings[..1]).unwrap_err().quantity, "number of test readings");
    assert!(
        Envelope::fit(&[readings[0], readings[0]]).unwrap_err().to_string().contains("all alike")
    );
    assert!(Envelope::fit(&[(Pressure::ZERO, readings[0].1), readings[1]]).is_err());
}

/// Basic model of ASHRAE Fundamentals ch. 16 (coefficients from memory), two storeys, shelter class 4.
#[test]
fn natural_infiltration() {
    let natural = check("INF-14");
    let flow = basic_infiltration(
        Area::from_cm2(natural.input("AL_cm2")),
        Storeys::Two,
        Shelter::Heavy,
        Temperature::from_k(natural.input("dT")),
        Velocity::from_m_s(natural.input("U")),
    );
    natural.holds(flow.unwrap().l_s());
}

/// Palmiter & Bond 1991; ASHRAE 62.2-2016, Hurel, Sherman & Walker 2016.
#[test]
fn fan_and_infiltration_together() {
    let [natural, fan] = ["Qn", "Qf"].map(|name| Airflow::from_m3_s(check("INF-15").input(name)));
    check("INF-15").holds(exchange_by_quadrature(natural, fan).m3_s());
    check("INF-16").holds(exchange_by_half_fan(natural, fan).m3_s());
    check("INF-17").holds(infiltration_credit(natural, fan).m3_s());
    assert_eq!(infiltration_credit(Airflow::ZERO, Airflow::ZERO), Airflow::ZERO);
}

/// scipy 1.17.1, `brentq` on the flow balance of two leaks at 0.3 and 5 m.
#[test]
fn stack_and_fan_are_added_as_flows() {
    let both = check("INF-18");
    let (coefficient, exponent) = (both.input("C"), both.input("n"));
    let half = Envelope::new(coefficient / 2.0, exponent).unwrap();
    let leaks = [0.3, 5.0].map(|height| Leak {
        envelope: half,
        height: Length::from_m(height),
        wind: Pressure::ZERO,
    });
    let (inside, outside) = (AIR, AIR + Density::from_kg_m3(both.input("drho")));
    let at = |fan: f64| balance(&leaks, inside, outside, Airflow::from_m3_s(fan)).unwrap().pa();
    both.all_hold(&[at(0.0), at(0.05)]);
    let whole = Envelope::new(coefficient, exponent).unwrap();
    let alone = whole.pressure(Airflow::from_m3_s(-0.05)).pa();
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
    for (check, height_mm, flow_l_s) in [
        (check("DOOR-01"), 10.0, 25.0),
        (check("DOOR-02"), 19.0, 25.0),
        (check("DOOR-03"), 19.0, 37.8),
        (check("DOOR-04"), 6.0, 37.8),
    ] {
        let area = Length::from_mm(height_mm) * Length::from_mm(762.0);
        let gap = Gap::new(area, SHARP_EDGE).unwrap();
        let flow = Airflow::from_l_s(flow_l_s);
        let pressure = gap.pressure(flow, AIR).unwrap();
        check.holds(pressure.pa());
        relative("back", gap.flow(pressure, AIR).l_s(), flow_l_s, 1e-12);
    }
    let gap = Gap::new(Length::from_mm(10.0) * Length::from_mm(762.0), SHARP_EDGE).unwrap();
    absolute("speed", gap.speed(Airflow::from_l_s(25.0)).unwrap().m_s(), 3.28, 0.005);
    let height = undercut_height(
        Airflow::from_l_s(37.8),
        Length::from_mm(762.0),
        Pressure::from_pa(3.0),
        SHARP_EDGE,
        AIR,
    );
    check("DOOR-05").holds(height.unwrap().m());
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
    check("DOOR-06").holds(result.suction.pa());
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
