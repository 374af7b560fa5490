//! What people write, read one by one. Expected values follow from the legal definitions of the units
//! (NIST SP 811, Appendix B; SI Brochure, 9th edition) and are worked out here by hand.

use dewpath_units::{
    AirChange50, Airflow, Angle, Area, Category, Choice, Conductor, Density, Duration, ErrorKind,
    Fraction, Humidity, Leakage50, Length, Loudness, Mass, MassFlow, Origin, ParseError, Power,
    Pressure, Quantity, Ratio, ShopLength, SoundLevel, Stated, Style, Temperature,
    TemperatureDifference, ThermalResistance, Uncertain, Velocity, Volume, WaterFlow, YesNo,
};

fn reads<T: Quantity>(text: &str, expected_si: f64) {
    match T::parse(text) {
        Ok(value) => {
            let error = (value.si() - expected_si).abs();
            assert!(
                error <= 1e-9 * expected_si.abs().max(1e-6),
                "{text}: {} ≠ {expected_si}",
                value.si()
            );
        }
        Err(error) => panic!("{text}: {error}"),
    }
}

fn refuses<T: Quantity>(text: &str, kind: ErrorKind, marked: &str) -> ParseError {
    let error = T::parse(text).expect_err(text);
    assert_eq!(error.kind, kind, "{text}: {error}");
    assert_eq!(&text[error.span.clone()], marked, "{text}: {error}");
    assert!(!error.message.is_empty() && !error.hint.is_empty());
    error
}

#[test]
fn lengths() {
    for text in [
        "9 ft 4-1/2 in",
        "9' 4 1/2\"",
        "9'-4 1/2\"",
        "9' - 4-1/2\"",
        "9'4.5\"",
        "9ft4½in",
        "9 ft, 4 ½ in.",
        "9′ 4½″",
        "9’ 4 1/2”",
        "9 FT 4 1⁄2 IN",
        "9 feet 4 1/2 inches",
        "112.5in",
        "112 1/2\"",
        "112-1/2''",
        "2857.5 mm",
        "285.75 cm",
        "2.8575 m",
        "2\u{a0}857.5mm".replace('\u{a0}', "").as_str(),
        "+112.5 in",
        "  112.5 in  ",
        "1.125e2 in",
    ] {
        reads::<Length>(text, 2.8575);
    }
    reads::<Length>("3/8 in", 0.009525);
    reads::<Length>("½\"", 0.0127);
    reads::<Length>(".5 in", 0.0127);
    for text in ["4 in", "4\"", "4 in.", "4in", "4″", "4 inches"] {
        reads::<Length>(text, 0.1016);
    }
    reads::<Length>("102 mm", 0.102);
    reads::<Length>("2.4 m", 2.4);
    reads::<Length>("640 ft", 195.072);
    reads::<Length>("1,250 ft", 381.0);
    reads::<Length>("0 ft", 0.0);
}

#[test]
fn flows_and_pressures() {
    reads::<Airflow>("80 cfm", 80.0 * 0.3048 * 0.3048 * 0.3048 / 60.0);
    reads::<Airflow>("80CFM", 0.037755795456);
    for text in ["38 L/s", "38 l/s", "38 lps", "38 litres per second", "38 l / s"] {
        reads::<Airflow>(text, 0.038);
    }
    for text in ["135 m3/h", "135 m³/h", "135 m^3/h", "135 m3/hr", "135 cmh"] {
        reads::<Airflow>(text, 0.0375);
    }
    for text in [
        "0.25 inWC",
        "0.25 in. w.g.",
        "0.25 in wc",
        "0.25 in. w.c.",
        "0.25\" wg",
        "0.25″ w.g.",
        "1/4 in. H2O",
        "0.25 inches of water",
        "0.25 iwc",
    ] {
        reads::<Pressure>(text, 62.2722275);
    }
    reads::<Pressure>("62 Pa", 62.0);
    reads::<Pressure>("-5 Pa", -5.0);
    reads::<Pressure>("−0.1 inWC", -24.908891);
    reads::<Pressure>("101.325 kPa", 101325.0);
    reads::<Airflow>("30 L/min", 0.0005);
    reads::<Velocity>("200 fpm", 1.016);
    reads::<Velocity>("10 mph", 4.4704);
    reads::<Velocity>("3 m/s", 3.0);
    reads::<Velocity>("36 km/h", 10.0);
    reads::<Leakage50>("1200 cfm50", 0.56633693184);
    reads::<Leakage50>("1200 cfm @ 50 Pa", 0.56633693184);
    reads::<Leakage50>("360 m3/h50", 0.1);
    reads::<AirChange50>("5 ACH50", 5.0);
    reads::<MassFlow>("0.03 kg/s", 0.03);
    reads::<MassFlow>("30 g/s", 0.03);
    // 1 US gallon = 3.785 412 E-03 m3 (NIST SP 811, B.8).
    for text in ["2 gpm", "2 GPM", "2 gal/min", "2 gallons per minute"] {
        let value = WaterFlow::parse(text).expect(text).m3_s();
        assert!((value - 2.0 * 3.785_412e-3 / 60.0).abs() < 1e-10, "{text}: {value}");
    }
    reads::<WaterFlow>("7.5 l/min", 0.000125);
}

#[test]
fn the_rest() {
    for text in ["1,250 ft2", "1250 sq ft", "1250 sqft", "1250 sq. ft.", "1250 ft²", "1250 SF"] {
        reads::<Area>(text, 116.1288);
    }
    reads::<Area>("116 m2", 116.0);
    reads::<Area>("29 sq in", 0.01870964);
    for text in ["440 cu ft", "440 ft3", "440 cu. ft.", "440 ft³", "440 cubic feet"] {
        reads::<Volume>(text, 12.45941250048);
    }
    reads::<Volume>("20 L", 0.02);
    reads::<Volume>("18 cu in", 0.000294967152);
    reads::<Temperature>("68 F", 293.15);
    reads::<Temperature>("68 °F", 293.15);
    reads::<Temperature>("68F", 293.15);
    reads::<Temperature>("-40 F", 233.15);
    reads::<Temperature>("-40 C", 233.15);
    reads::<Temperature>("20 C", 293.15);
    reads::<Temperature>("20 ℃", 293.15);
    reads::<Temperature>("293.15 K", 293.15);
    // A difference has no zero of its own: 18 °F are 10 K (NIST SP 811, B.8: 5/9).
    reads::<TemperatureDifference>("18 F", 10.0);
    reads::<TemperatureDifference>("-9 °F", -5.0);
    reads::<TemperatureDifference>("10 C", 10.0);
    reads::<TemperatureDifference>("10 K", 10.0);
    let noon = Temperature::from_c(20.0) + TemperatureDifference::from_f(18.0);
    assert!((noon.c() - 30.0).abs() < 1e-9);
    assert!(((noon - TemperatureDifference::from_k(10.0)).c() - 20.0).abs() < 1e-9);
    for text in ["45 %", "45%", "45 %RH", "45 % RH", "45 percent"] {
        reads::<Humidity>(text, 0.45);
    }
    reads::<Ratio>("0.6", 0.6);
    reads::<Ratio>("60 %", 0.6);
    reads::<Ratio>("-0.4", -0.4);
    reads::<Ratio>("1/4 in/ft", 0.25 / 12.0);
    reads::<Ratio>("1/4 in. per ft", 0.25 / 12.0);
    for text in ["R-8", "R8", "R 8", "r-8", "8 h·ft²·°F/Btu"] {
        // 1 h·ft²·°F/Btu = 0.1761102 m²·K/W (NIST SP 811, B.8)
        let expected = 8.0 * 0.1761102;
        let value = ThermalResistance::parse(text).expect(text).rsi();
        assert!((value - expected).abs() < 5e-7, "{text}: {value}");
    }
    for text in ["RSI 1.4", "RSI-1.4", "RSI1.4", "1.4 m2K/W", "1.4 m²·K/W"] {
        reads::<ThermalResistance>(text, 1.4);
    }
    reads::<Angle>("90 deg", std::f64::consts::FRAC_PI_2);
    reads::<Angle>("45°", std::f64::consts::FRAC_PI_4);
    reads::<Duration>("20 min", 1200.0);
    reads::<Duration>("1 h 20 min", 4800.0);
    reads::<Duration>("1h20min30s", 4830.0);
    reads::<Density>("1.2 kg/m3", 1.2);
    reads::<Power>("24 W", 24.0);
    reads::<Loudness>("0.8 sones", 0.8);
    reads::<Loudness>("1 sone", 1.0);
    reads::<SoundLevel>("52 dB", 52.0);
    reads::<SoundLevel>("52 dB(A)", 52.0);
    reads::<Mass>("2 lb 8 oz", 1.133980925);
}

/// American wire gauge against the sizes of ASTM B258 as the general-purpose Python library fluids holds
/// them (14 AWG 2.081965 mm², 12 AWG 3.308111 mm²): diameters there are rounded to 0.0001 in, which is
/// up to 0.16 % of the area. 4/0 AWG 107.2 mm² is from memory of handbook tables.
#[test]
fn wire_gauges() {
    for (text, expected, tolerance) in [
        ("14 AWG", 2.081964757, 0.0033),
        ("AWG 14", 2.081964757, 0.0033),
        ("12awg", 3.308110716, 0.0041),
        ("4/0 AWG", 107.2, 0.05),
    ] {
        let found = Conductor::parse(text).expect(text).mm2();
        assert!((found - expected).abs() < tolerance, "{text}: {found}");
    }
    reads::<Conductor>("2.5 mm2", 2.5);
    reads::<Conductor>("2.5 mm²", 2.5);
    assert_eq!(Conductor::parse("1/0 AWG").unwrap().awg(), Some(0));
    assert_eq!(Conductor::parse("0 AWG").unwrap().awg(), Some(0));
    assert_eq!(Conductor::from_mm2(2.5).awg(), None);
    // The tables' 14 AWG is one, the next metric size is not, and neither is 2 % less than 4/0.
    assert_eq!(Conductor::from_mm2(2.081964757).awg(), Some(14));
    assert_eq!(Conductor::from_mm2(105.0).print(&Style::US), "105 mm2");
    assert_eq!(Conductor::from_awg(41), None);
    for text in ["41 AWG", "12.5 AWG", "-14 AWG", "5/0 AWG", "1e30 AWG"] {
        assert_eq!(Conductor::parse(text).unwrap_err().kind, ErrorKind::OutOfRange, "{text}");
    }
}

#[test]
fn another_kind_is_named() {
    let error = refuses::<Length>("80 cfm", ErrorKind::WrongKind, "80 cfm");
    assert_eq!(error.message, "`80 cfm` is an airflow, but a length is expected here");
    assert_eq!(error.hint, "write a length such as `9 ft 4-1/2 in`");
    refuses::<Airflow>(" 4 in ", ErrorKind::WrongKind, "4 in");
    refuses::<Length>("R-8", ErrorKind::WrongKind, "R-8");
    refuses::<Length>("54 ft2", ErrorKind::WrongKind, "54 ft2");
    refuses::<Length>("0.25\" wg", ErrorKind::WrongKind, "0.25\" wg");
    refuses::<Area>("9 ft 2 in", ErrorKind::WrongKind, "9 ft 2 in");
    refuses::<Airflow>("1200 cfm50", ErrorKind::WrongKind, "1200 cfm50");
    refuses::<Leakage50>("1200 cfm", ErrorKind::WrongKind, "1200 cfm");
    refuses::<Airflow>("2 gpm", ErrorKind::WrongKind, "2 gpm");
    refuses::<WaterFlow>("80 cfm", ErrorKind::WrongKind, "80 cfm");
    let error = refuses::<Length>("68 F", ErrorKind::WrongKind, "68 F");
    assert_eq!(error.message, "`68 F` is a temperature, but a length is expected here");
    refuses::<Temperature>("68°", ErrorKind::WrongKind, "68°");
    refuses::<Ratio>("4 in", ErrorKind::WrongKind, "4 in");
}

/// As one says it, last of all: the smaller unit may go without being named.
#[test]
fn inches_behind_feet_need_no_unit() {
    let same = |short: &str, long: &str| {
        let [short, long] = [short, long].map(|text| Uncertain::<Length>::parse(text).unwrap());
        assert_eq!(short.bounds(), long.bounds());
    };
    same("9 ft 4", "9 ft 4 in");
    same("9' 4-1/2", "9 ft 4-1/2 in");
    same("9'4", "9 ft 4 in");
    same("7 ft 8 to 8 ft", "7 ft 8 in..8 ft");
    same("7 ft 8..7 ft 10", "7 ft 8 in..7 ft 10 in");
    refuses::<Length>("54 ft2", ErrorKind::WrongKind, "54 ft2");
    refuses::<Length>("54 ft 2 3", ErrorKind::UnknownUnit, "3");
}

#[test]
fn a_bare_number_gets_an_example() {
    let error = refuses::<Airflow>("80", ErrorKind::MissingUnit, "80");
    assert_eq!(error.hint, "write an airflow with its unit, such as `80 cfm`");
    refuses::<Length>("9'-4", ErrorKind::MissingUnit, "4");
    refuses::<Length>("9 ft, 4", ErrorKind::MissingUnit, "4");
    refuses::<Humidity>("45", ErrorKind::MissingUnit, "45");
}

#[test]
fn what_cannot_be_is_refused() {
    refuses::<Length>("-4 in", ErrorKind::OutOfRange, "-4 in");
    refuses::<Airflow>("-80 cfm", ErrorKind::OutOfRange, "-80 cfm");
    refuses::<Humidity>("120 %", ErrorKind::OutOfRange, "120 %");
    refuses::<Temperature>("-500 F", ErrorKind::OutOfRange, "-500 F");
    refuses::<ThermalResistance>("R--8", ErrorKind::NoNumber, "R--8");
    refuses::<Airflow>("cfm 80", ErrorKind::NoNumber, "cfm");
    for text in ["NaN ft", "inf ft", "-inf ft", "nan", "ft", "?", "½½ ft"] {
        Length::parse(text).expect_err(text);
    }
    refuses::<Length>("1e400 ft", ErrorKind::TooLarge, "1e400");
    refuses::<Length>("1e300 ft", ErrorKind::TooLarge, "1e300 ft");
    refuses::<Length>("", ErrorKind::Empty, "");
    refuses::<Length>("  \u{a0} ", ErrorKind::Empty, "  \u{a0} ");
    let endless = "9".repeat(1_000_000);
    assert_eq!(Length::parse(&endless).unwrap_err().kind, ErrorKind::TooLong);
    refuses::<Length>(
        &format!("{} ft", "9".repeat(190)),
        ErrorKind::TooLarge,
        &format!("{} ft", "9".repeat(190)),
    );
}

#[test]
fn slips_of_the_pen_are_marked() {
    let error = refuses::<Length>("2,4 m", ErrorKind::DecimalComma, "2,4");
    assert!(error.hint.contains("`2.4`"), "{}", error.hint);
    refuses::<Length>("0,250 m", ErrorKind::DecimalComma, "0,250");
    refuses::<Length>("1250,500 m", ErrorKind::DecimalComma, "1250,500");
    refuses::<Length>("1,25,000 m", ErrorKind::BadNumber, "1,25,000");
    refuses::<Length>("3/0 in", ErrorKind::BadNumber, "3/0");
    refuses::<Length>("4 9/8 in", ErrorKind::BadNumber, "4 9/8");
    refuses::<Length>("4 1/0 in", ErrorKind::BadNumber, "4 1/0");
    refuses::<Length>("9 ft 14 in", ErrorKind::BadCompound, "14 in");
    refuses::<Length>("9 ft 12 in", ErrorKind::BadCompound, "12 in");
    refuses::<Length>("4 ft-2", ErrorKind::MissingUnit, "2");
    refuses::<Length>("4 ft 12", ErrorKind::BadCompound, "12");
    refuses::<Length>("4 ft 2 3", ErrorKind::UnknownUnit, "3");
    refuses::<Area>("4 ft 2", ErrorKind::WrongKind, "4 ft 2");
    let error = refuses::<Length>("8 ft - 10 ft", ErrorKind::BadCompound, "10 ft");
    assert!(error.hint.contains("two dots"), "{}", error.hint);
    refuses::<Length>("9.5 ft 4 in", ErrorKind::BadCompound, "9.5");
    refuses::<Length>("9 ft 4 mm", ErrorKind::BadCompound, "4 mm");
    refuses::<Length>("4 in 2 ft", ErrorKind::Trailing, "2 ft");
    refuses::<Length>("9 parsnips", ErrorKind::UnknownUnit, "parsnips");
    refuses::<Length>("9 ftx", ErrorKind::UnknownUnit, "ftx");
    let error = refuses::<Length>("8-10 ft", ErrorKind::UnknownUnit, "-10");
    assert!(error.hint.contains("8..10 ft"), "{}", error.hint);
    refuses::<Length>("9 ft ééé", ErrorKind::Trailing, "ééé");
    refuses::<Length>("9 日本", ErrorKind::UnknownUnit, "日本");
}

#[test]
fn shop_lengths_are_exact() {
    let nm = |text: &str| ShopLength::parse(text).map(ShopLength::nm);
    assert_eq!(nm("1/64 in"), Ok(396_875));
    assert_eq!(nm("9 ft 4-1/2 in"), Ok(2_857_500_000));
    assert_eq!(nm("0.015625 in"), Ok(396_875));
    assert_eq!(nm("0.1 mm"), Ok(100_000));
    assert_eq!(nm("2.8575 m"), Ok(2_857_500_000));
    assert_eq!(nm("1e-9 m"), Ok(1));
    assert_eq!(nm("1/3 in").unwrap_err().kind, ErrorKind::NotExact);
    assert_eq!(nm("1e-10 m").unwrap_err().kind, ErrorKind::NotExact);
    assert_eq!(nm("1e11 m").unwrap_err().kind, ErrorKind::NotExact);
    assert_eq!(nm("-4 in").unwrap_err().kind, ErrorKind::OutOfRange);
    assert_eq!(nm("80 cfm").unwrap_err().kind, ErrorKind::WrongKind);
    assert_eq!(nm("4").unwrap_err().kind, ErrorKind::MissingUnit);

    // Sixteen cuts of 14-7/16 in with a 1/8 in kerf: a binary fraction of an inch adds up exactly.
    let piece = ShopLength::parse("14-7/16 in").unwrap();
    let kerf = ShopLength::parse("1/8 in").unwrap();
    let used = ShopLength::total((0..16).map(|_| piece.plus(kerf).unwrap())).unwrap();
    assert_eq!(used, ShopLength::parse("233 in").unwrap());
    assert_eq!(piece.plus(kerf).unwrap().pieces_from(used), Some(16));
    assert_eq!(ShopLength::ZERO.pieces_from(used), None);

    let most = ShopLength::from_nm(i64::MAX);
    assert_eq!(most.plus(ShopLength::INCH), None);
    assert_eq!(ShopLength::from_nm(i64::MIN).minus(ShopLength::INCH), None);
    assert_eq!(most.times(2), None);
    assert_eq!(ShopLength::nearest(Length::from_m(f64::NAN)), None);
    assert_eq!(ShopLength::nearest(Length::from_m(1e10)), None);
    assert_eq!(
        ShopLength::nearest(Length::from_inches(4.5)),
        Some(ShopLength::from_nm(114_300_000))
    );
    assert_eq!(ShopLength::from_sixty_fourths(64), Some(ShopLength::INCH));
    assert!(!most.print(&Style::US).is_empty());
    assert!(!ShopLength::from_nm(i64::MIN).print(&Style::METRIC).is_empty());
}

#[test]
fn printing() {
    let us = &Style::US;
    let metric = &Style::METRIC;
    let length = Length::from_inches(112.5);
    assert_eq!(length.print(us), "9 ft 4-1/2 in");
    assert_eq!(length.print(&us.inches_only()), "112-1/2 in");
    assert_eq!(length.print(metric), "2.858 m");
    let odd = Length::from_inches(4.0 + 5.0 / 32.0);
    assert_eq!(odd.print(&us.rounded_to(Fraction::Eighth)), "4-1/8 in");
    assert_eq!(odd.print(us), "4-3/16 in");
    assert_eq!(odd.print(&us.rounded_to(Fraction::ThirtySecond)), "4-5/32 in");
    assert_eq!(Length::from_inches(11.99).print(us), "1 ft");
    assert_eq!(Length::from_feet(640.0).print(us), "640 ft");
    assert_eq!(Length::ZERO.print(us), "0 in");
    assert_eq!(Length::from_mm(0.09).print(us), "0.00354 in");
    assert_eq!(Length::from_mm(102.0).print(metric), "102 mm");
    assert_eq!(Length::from_mm(0.09).print(metric), "0.09 mm");
    assert_eq!(Length::from_mm(999.9).print(metric), "1 m");
    assert_eq!(ShopLength::parse("2.4 m").unwrap().print(metric), "2.4 m");
    assert_eq!(ShopLength::parse("102.5 mm").unwrap().print(metric), "102.5 mm");
    assert_eq!(ShopLength::from_nm(-114_300_000).print(us), "-4-1/2 in");
    assert_eq!(Airflow::from_cfm(78.2).print(us), "78 cfm");
    assert_eq!(Airflow::from_cfm(78.0).print(metric), "36.8 L/s");
    assert_eq!(Airflow::from_cfm(-0.0).print(us), "0 cfm");
    assert_eq!(Pressure::from_in_wc(0.25).print(us), "0.25 inWC");
    assert_eq!(Pressure::from_in_wc(0.25).print(metric), "62 Pa");
    assert_eq!(Temperature::from_c(20.0).print(us), "68 °F");
    assert_eq!(Temperature::from_f(68.0).print(metric), "20 °C");
    assert_eq!(Temperature::from_c(-0.01).print(metric), "0 °C");
    assert_eq!(ThermalResistance::from_r_ip(8.0).print(us), "R-8");
    assert_eq!(ThermalResistance::from_rsi(1.4).print(metric), "RSI 1.4");
    assert_eq!(Humidity::from_percent(45.0).print(us), "45 %");
    assert_eq!(AirChange50::from_per_h(5.0).print(us), "5 ACH50");
    assert_eq!(Leakage50::from_cfm50(1200.0).print(us), "1200 cfm50");
    assert_eq!(Conductor::from_awg(14).unwrap().print(us), "14 AWG");
    assert_eq!(Conductor::from_awg(-1).unwrap().print(us), "2/0 AWG");
    assert_eq!(Conductor::from_mm2(2.5).print(us), "2.5 mm2");
    assert_eq!(Conductor::from_awg(14).unwrap().print(metric), "2.08 mm2");
    assert_eq!(Loudness::from_sone(0.8).print(us), "0.8 sones");
    assert_eq!(Loudness::from_sone(1.0).print(us), "1 sone");
    assert_eq!(SoundLevel::from_db(52.0).print(us), "52 dB");
    assert_eq!(Angle::from_deg(45.0).print(us), "45°");
    assert_eq!(Duration::from_min(20.0).print(us), "20 min");
    assert_eq!(Area::from_in2(29.0).print(us), "29 in2");
    assert_eq!(Area::from_ft2(1250.0).print(metric), "116.1 m2");
    assert_eq!(Volume::from_ft3(440.0).print(us), "440 ft3");
    assert_eq!(Velocity::from_fpm(200.0).print(us), "200 fpm");
    assert_eq!(Ratio::from_ratio(0.6).print(us), "0.6");
    // Whatever a computation went wrong with prints, and does not panic.
    assert_eq!(Airflow::from_m3_s(f64::NAN).print(us), "NaN cfm");
    for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, f64::MAX, f64::MIN_POSITIVE] {
        assert!(!Length::from_m(value).print(us).is_empty());
        assert!(!Length::from_m(value).print(metric).is_empty());
        assert!(!Conductor::from_mm2(value).print(us).is_empty());
    }
}

#[test]
fn products_of_quantities() {
    let near = |a: f64, b: f64| assert!((a - b).abs() <= 1e-12 * b.abs(), "{a} {b}");
    near((Velocity::from_m_s(2.0) * Area::from_m2(0.5)).m3_s(), 1.0);
    near((Airflow::from_m3_s(1.0) / Area::from_m2(0.5)).m_s(), 2.0);
    near((Length::from_feet(3.0) * Length::from_feet(4.0)).ft2(), 12.0);
    near((Area::from_m2(3.0) * Length::from_m(2.0)).m3(), 6.0);
    near((Density::from_kg_m3(1.2) * Airflow::from_l_s(25.0)).g_s(), 30.0);
    near((Airflow::from_m3_h(60.0) * Duration::from_min(30.0)).m3(), 30.0);
    near(AirChange50::from_per_h(5.0).leakage(Volume::from_m3(360.0)).m3_s(), 0.5);
    near(Leakage50::from_m3_s(0.5).air_change(Volume::from_m3(360.0)).per_h(), 5.0);
    near(Length::from_feet(9.0) / Length::from_inches(36.0), 3.0);
    let sum: Length = [1.0, 2.0].map(Length::from_m).into_iter().sum();
    near(sum.m(), 3.0);
}

#[test]
fn ranges_share_a_unit() {
    let range = |text: &str| Uncertain::<Length>::parse(text).map(|u| u.bounds().unwrap());
    let feet = |low: f64, high: f64| Ok((Length::from_feet(low), Length::from_feet(high)));
    for text in [
        "8..10 ft",
        "8 ft..10 ft",
        "8 ft to 10 ft",
        "8 to 10 ft",
        "8 … 10 ft",
        "8 ft. to 10 ft.",
        "8' TO 10'",
        "8...10 ft",
    ] {
        assert_eq!(range(text), feet(8.0, 10.0), "{text}");
    }
    assert_eq!(range("3/8..1/2 in"), Ok((Length::from_inches(0.375), Length::from_inches(0.5))));
    assert_eq!(range("8 ft..2.9 m"), Ok((Length::from_feet(8.0), Length::from_m(2.9))));
    assert_eq!(range("4..4 in"), Ok((Length::from_inches(4.0), Length::from_inches(4.0))));
    let (low, high) = Uncertain::<ThermalResistance>::parse("R-4..8").unwrap().bounds().unwrap();
    assert!((low.r_ip() - 4.0).abs() < 1e-12 && (high.r_ip() - 8.0).abs() < 1e-12);
    let (low, _) = Uncertain::<Pressure>::parse("-5..5 Pa").unwrap().bounds().unwrap();
    assert_eq!(low, Pressure::from_pa(-5.0));

    let refused = |text: &str| {
        let error = Uncertain::<Length>::parse(text).expect_err(text);
        (error.kind, text[error.span.clone()].to_owned())
    };
    assert_eq!(refused("10..8 ft"), (ErrorKind::ReversedRange, "10..8 ft".to_owned()));
    let turned = |text: &str| Uncertain::<Length>::parse(text).unwrap_err().hint;
    assert_eq!(turned("10..8 ft"), "write the smaller value first: `8..10 ft`");
    assert_eq!(turned("10 ft..8 ft"), "write the smaller value first: `8 ft..10 ft`");
    assert_eq!(turned("3 m to 9' 2\""), "write the smaller value first: `9' 2\"..3 m`");
    let turned = Uncertain::<ThermalResistance>::parse("R-8..4").unwrap_err().hint;
    assert_eq!(turned, "write the smaller value first: `4..R-8`");
    let error = Uncertain::<Length>::parse("dunno yet").unwrap_err();
    assert_eq!((error.kind, error.span), (ErrorKind::NoNumber, 0..5));
    assert!(error.hint.ends_with("or `unknown`"), "{}", error.hint);
    let (thin, thick) = Uncertain::<Conductor>::parse("12..14 AWG").unwrap().bounds().unwrap();
    assert_eq!((thin.awg(), thick.awg()), (Some(14), Some(12)));
    assert_eq!(refused("8 ft..10"), (ErrorKind::MissingUnit, "10".to_owned()));
    assert_eq!(refused("8..10"), (ErrorKind::MissingUnit, "8..10".to_owned()));
    assert_eq!(refused("8..10 ft 6 in"), (ErrorKind::MissingUnit, "8".to_owned()));
    assert_eq!(refused("8..10 cfm"), (ErrorKind::WrongKind, "10 cfm".to_owned()));
    assert_eq!(refused("..10 ft"), (ErrorKind::NoNumber, String::new()));
    assert_eq!(refused("8 ft.."), (ErrorKind::NoNumber, String::new()));
    assert_eq!(refused(".."), (ErrorKind::NoNumber, String::new()));
    assert_eq!(refused("8 ft..9 ft..10 ft").0, ErrorKind::Trailing);
}

#[test]
fn estimates() {
    let parts = |text: &str| match Uncertain::<Length>::parse(text) {
        Ok(Uncertain::About { likely, spread }) => (likely.feet(), spread.feet()),
        other => panic!("{text}: {other:?}"),
    };
    let near =
        |(a, b): (f64, f64), (c, d): (f64, f64)| (a - c).abs() < 1e-12 && (b - d).abs() < 1e-12;
    assert!(near(parts("about 9 ft"), (9.0, 1.35)));
    assert!(near(parts("~9 ft"), (9.0, 1.35)));
    assert!(near(parts("About 9 ft +- 1 ft"), (9.0, 1.0)));
    assert!(near(parts("about 9 +- 1 ft"), (9.0, 1.0)));
    assert!(near(parts("about 9 ft ± 6 in"), (9.0, 0.5)));
    assert!(near(parts("about 9 ft +/- 10 %"), (9.0, 0.9)));

    let Ok(Uncertain::About { likely, spread }) =
        Uncertain::<Temperature>::parse("about 68 F +- 9 F")
    else {
        panic!("an estimate was written")
    };
    assert!((likely.c() - 20.0).abs() < 1e-9 && (spread.k() - 5.0).abs() < 1e-9);
    assert_eq!(Uncertain::About { likely, spread }.print(&Style::US), "about 68 °F +- 9 °F");
    assert_eq!(
        Uncertain::<Temperature>::parse("about 68 F").unwrap_err().kind,
        ErrorKind::BadCompound
    );
    assert_eq!(
        Uncertain::<Length>::parse("about 9 ft +- -1 ft").unwrap_err().kind,
        ErrorKind::OutOfRange
    );
    assert_eq!(
        Uncertain::<Length>::parse("9 ft +- 1 ft").unwrap_err().hint,
        "write `about 9 ft +- 1 ft`"
    );
    for text in [
        "about 8..10 ft",
        "about",
        "about ",
        "~",
        "about +- 1 ft",
        "about 9 ft +-",
        "about unknown",
        "aboutx 9 ft",
    ] {
        Uncertain::<Length>::parse(text).expect_err(text);
    }
}

#[test]
fn draws_follow_the_statement() {
    let range = Uncertain::<Length>::parse("8..10 ft").unwrap();
    assert!((range.quantile(0.25).unwrap().feet() - 8.5).abs() < 1e-12);
    let about = Uncertain::<Length>::parse("about 9 ft +- 1 ft").unwrap();
    for (u, feet) in [(0.05, 8.0), (0.5, 9.0), (0.95, 10.0)] {
        assert!((about.quantile(u).unwrap().feet() - feet).abs() < 1e-9, "{u}");
    }
    assert_eq!(
        about.bounds().map(|(l, h)| (l.feet().round(), h.feet().round())),
        Some((8.0, 10.0))
    );
    let loose = Uncertain::<Length>::parse("about 1 in +- 3 in").unwrap();
    assert_eq!(loose.quantile(0.01), Some(Length::ZERO));
    assert_eq!(loose.bounds().unwrap().0, Length::ZERO);
    let damp = Uncertain::<Humidity>::parse("about 95 % +- 20 %").unwrap();
    assert_eq!(damp.quantile(0.99), Some(Humidity::from_ratio(1.0)));
    assert_eq!(Uncertain::<Length>::Unknown.quantile(0.5), None);
    assert_eq!(range.quantile(f64::NAN), None);
    assert_eq!(range.quantile(7.0), range.quantile(1.0));
    assert_eq!(range.map(|l| l * 2.0).likely().map(|l| l.feet().round()), Some(18.0));
    assert_eq!(Uncertain::Unknown.or(range), range);
}

#[test]
fn counts() {
    assert_eq!("2".parse(), Ok(Uncertain::Exact(2_u32)));
    assert_eq!("1..3".parse(), Ok(Uncertain::Range { low: 1_u32, high: 3 }));
    assert_eq!("1 to 3".parse(), Ok(Uncertain::Range { low: 1_u32, high: 3 }));
    assert_eq!("unknown".parse(), Ok(Uncertain::<u32>::Unknown));
    for text in ["", "1.5", "-1", "3..1", "two", "1/2", "1..", "2 ft", "9999999999", "1e99"] {
        Uncertain::<u32>::parse(text).expect_err(text);
    }
    let range = Uncertain::Range { low: 1_u32, high: 3 };
    let draws: Vec<_> =
        [0.0, 0.3, 0.34, 0.66, 0.67, 1.0].iter().map(|&u| range.quantile(u)).collect();
    assert_eq!(draws, [1, 1, 2, 2, 3, 3].map(Some));
    assert_eq!(range.likely(), Some(2));
    assert_eq!(range.print(), "1 to 3");
    assert_eq!(Uncertain::Range { low: 0, high: u32::MAX }.quantile(1.0), Some(u32::MAX));
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Material {
    Steel,
    SemiRigid,
    Foil,
}

impl Category for Material {
    const NAME: &'static str = "duct material";
    const ALL: &'static [Self] = &[Self::Steel, Self::SemiRigid, Self::Foil];
    fn word(self) -> &'static str {
        match self {
            Self::Steel => "steel",
            Self::SemiRigid => "semi-rigid",
            Self::Foil => "foil",
        }
    }
    fn also(self) -> &'static [&'static str] {
        match self {
            Self::Steel => &["galvanized"],
            _ => &[],
        }
    }
}

/// A category that is read by its printed words alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Only;

impl Category for Only {
    const NAME: &'static str = "only one";
    const ALL: &'static [Self] = &[Self];
    fn word(self) -> &'static str {
        "only"
    }
}

#[test]
fn a_category_has_no_further_words_unasked() {
    assert_eq!(Only::parse_word("Only"), Ok(Only));
    for text in ["-", "xyzzy"] {
        assert_eq!(Only::parse_word(text).unwrap_err().kind, ErrorKind::UnknownWord);
    }
}

#[test]
fn choices() {
    use Material::{Foil, SemiRigid, Steel};
    assert_eq!("Steel".parse(), Ok(Choice::Known(Steel)));
    assert_eq!("semi rigid".parse(), Ok(Choice::Known(SemiRigid)));
    assert_eq!("galvanized or foil".parse(), Ok(Choice::OneOf(vec![Steel, Foil])));
    assert_eq!("steel or galvanized".parse(), Ok(Choice::Known(Steel)));
    assert_eq!("UNKNOWN".parse(), Ok(Choice::<Material>::Unknown));
    let text = "steel or fóil";
    let error = Choice::<Material>::parse(text).unwrap_err();
    assert_eq!(&text[error.span.clone()], "fóil");
    assert_eq!(error.message, "`fóil` is no duct material");
    assert_eq!(error.hint, "write `steel`, `semi-rigid`, `foil` or `unknown`");
    for text in ["", " or ", "steel or", "or steel", "steel or  or foil"] {
        Choice::<Material>::parse(text).expect_err(text);
    }
    let choice = Choice::OneOf(vec![Steel, Foil]);
    assert_eq!(choice.to_string(), "steel or foil");
    assert!(!choice.is_unknown());
    let open = Choice::<Material>::Unknown;
    assert!(open.is_unknown());
    assert_eq!(open.to_string(), "unknown");
    assert_eq!((open.known(), choice.clone().known()), (None, None));
    assert_eq!(Choice::from(Foil), Choice::Known(Foil));
    assert_eq!(Choice::from(Foil).known(), Some(Foil));
    assert_eq!(
        [0.0, 0.49, 0.5, 1.0].map(|u| choice.quantile(u)),
        [Steel, Steel, Foil, Foil].map(Some)
    );
    assert_eq!(Choice::<Material>::Unknown.quantile(0.5), None);
    assert_eq!(choice.quantile(f64::NAN), None);

    assert_eq!("yes".parse(), Ok(YesNo::Yes));
    assert_eq!("False".parse(), Ok(YesNo::No));
    assert_eq!(YesNo::parse("unknown").unwrap().known(), None);
    assert_eq!(YesNo::parse("maybe").unwrap_err().kind, ErrorKind::UnknownWord);
}

#[test]
fn origins() {
    for origin in Origin::ALL {
        assert_eq!(origin.word().parse(), Ok(*origin));
    }
    assert_eq!("rule-book".parse(), Ok(Origin::RuleBook));
    Origin::parse_word("guessed").unwrap_err();
    let seen = Stated::new(Length::from_inches(4.0), Origin::Measured).map(|d| d * 2.0);
    assert_eq!(seen.origin, Origin::Measured);
    assert_eq!(seen.value.print(&Style::US), "8 in");
}
