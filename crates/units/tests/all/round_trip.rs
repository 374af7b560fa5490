//! What is printed can be read back, and comes back within the step that was printed.

use dewpath_units::{
    AirChange50, Airflow, Angle, Area, Choice, Conductor, Density, Duration, Fraction, Humidity,
    Kind, Leakage50, Length, Loudness, Mass, MassFlow, Origin, Power, Pressure, Quantity, Ratio,
    ShopLength, SoundLevel, Style, System, Temperature, TemperatureDifference, ThermalResistance,
    Uncertain, Velocity, Volume, WaterFlow,
};
use proptest::prelude::*;

fn style() -> impl Strategy<Value = Style> {
    let fraction = prop_oneof![
        Just(Fraction::Eighth),
        Just(Fraction::Sixteenth),
        Just(Fraction::ThirtySecond)
    ];
    let system = prop_oneof![Just(System::Us), Just(System::Metric)];
    (system, fraction, any::<bool>()).prop_map(|(system, fraction, feet_inches)| Style {
        system,
        fraction,
        feet_inches,
    })
}

/// Prints, reads, and compares within half of what is printed: `share` of the value or `least`.
fn returns<T: Quantity>(value: T, style: Style, share: f64, least: f64) {
    let text = value.print(&style);
    let back = T::parse(&text).unwrap_or_else(|error| panic!("{text}: {error}"));
    let allowed = (share * value.si().abs()).max(least);
    let error = (back.si() - value.si()).abs();
    assert!(error <= allowed * (1.0 + 1e-9), "{value:?} → {text} → {back:?}: {error} > {allowed}");
    // Nothing more is lost the second time.
    assert_eq!(T::parse(&back.print(&style)).unwrap().print(&style), back.print(&style), "{text}");
}

/// Magnitudes from a thousandth to ten thousand, evenly by order.
fn size() -> impl Strategy<Value = f64> {
    (-3.0..4.0_f64, 1.0..10.0_f64).prop_map(|(order, digits)| {
        let mut scale = 1.0;
        for _ in 0..(order.abs() as u32) {
            scale *= 10.0;
        }
        if order < 0.0 { digits / scale } else { digits * scale }
    })
}

proptest! {
    #[test]
    fn lengths_return_within_half_a_step(metres in 0.001..2000.0_f64, style in style()) {
        let half_step = match style.system {
            System::Us => 0.0254 / f64::from(style.fraction.parts()) / 2.0,
            System::Metric => 0.0005,
        };
        returns(Length::from_m(metres), style, 0.0, half_step);
    }

    #[test]
    fn small_lengths_keep_their_figures(millimetres in 1e-4..0.3_f64, style in style()) {
        returns(Length::from_mm(millimetres), style, 0.006, 0.0);
    }

    #[test]
    fn quantities_return_within_three_figures(value in size(), style in style()) {
        // Between 1 and 10 most quantities keep one decimal: 5 % at worst, at 1.0.
        returns(Area::from_m2(value), style, 0.006, 0.0);
        returns(Volume::from_m3(value), style, 0.006, 0.0);
        returns(Airflow::from_l_s(value), style, 0.05, 0.0);
        returns(Pressure::from_pa(value), style, 0.05, 0.0);
        returns(Pressure::from_pa(-value), style, 0.05, 0.0);
        returns(Velocity::from_m_s(value), style, 0.006, 0.0026);
        returns(Angle::from_deg(value), style, 0.006, 0.0);
        returns(Duration::from_s(value), style, 0.05, 0.0);
        returns(Density::from_kg_m3(value), style, 0.006, 0.0);
        returns(Power::from_w(value), style, 0.006, 0.0);
        returns(ThermalResistance::from_rsi(value), style, 0.05, 0.0);
        returns(Leakage50::from_l_s(value), style, 0.05, 0.0);
        returns(AirChange50::from_per_h(value), style, 0.006, 0.0);
        returns(Loudness::from_sone(value), style, 0.006, 0.0);
        returns(SoundLevel::from_db(value), style, 0.05, 0.0);
        returns(Mass::from_kg(value), style, 0.006, 0.0);
        returns(MassFlow::from_kg_s(value), style, 0.006, 0.0);
        returns(WaterFlow::from_l_min(value), style, 0.006, 0.0);
        returns(TemperatureDifference::from_k(value), style, 0.006, 0.0);
        returns(TemperatureDifference::from_k(-value), style, 0.006, 0.0);
        returns(Ratio::from_ratio(value), style, 0.006, 0.0);
        returns(Ratio::from_ratio(-value), style, 0.006, 0.0);
    }

    /// What a person wrote comes back the same; what was worked out at most one step beside, where no unit gives it.
    #[test]
    fn what_is_written_exactly_comes_back_the_same(value in size(), tenths in 0..100_000_u32) {
        fn back<T: Quantity>(value: T, system: System) -> f64 {
            let text = value.print_exact(system);
            T::parse(&text).unwrap_or_else(|error| panic!("{text}: {error}")).si() - value.si()
        }
        fn all<T: Quantity>(value: f64) {
            for system in [System::Metric, System::Us] {
                let step = back(T::from_si(value), system);
                assert!(step.abs() <= f64::EPSILON * value.abs(), "{}: {value}", T::KIND.name());
                for style in [Style::METRIC, Style::US] {
                    let text = T::from_si(value).print(&style);
                    let step = back(T::parse(&text).unwrap(), system);
                    assert!(step.total_cmp(&0.0).is_eq(), "{text}");
                }
            }
        }
        all::<Length>(value);
        all::<Area>(value);
        all::<Volume>(value);
        all::<Airflow>(value);
        all::<Pressure>(value);
        all::<Pressure>(-value);
        all::<Velocity>(value);
        all::<Temperature>(200.0 + value / 50.0);
        all::<Humidity>((value / 1e5).min(1.0));
        all::<Ratio>(value);
        all::<Angle>(value);
        all::<Duration>(value);
        all::<Density>(value);
        all::<Power>(value);
        all::<ThermalResistance>(value);
        all::<Leakage50>(value);
        all::<AirChange50>(value);
        prop_assert!(back(Conductor::from_mm2(value), System::Us).total_cmp(&0.0).is_eq());
        all::<Loudness>(value);
        all::<SoundLevel>(value);
        all::<Mass>(value);
        all::<MassFlow>(value);
        all::<WaterFlow>(value);
        all::<TemperatureDifference>(value);
        let mark = Length::from_mm(f64::from(tenths) / 10.0);
        prop_assert_eq!(mark.print_exact(System::Metric), format!("{} mm", f64::from(tenths) / 10.0));
        // A tape in inches: what it prints is what is written.
        let mark = mark.print(&Style::US);
        prop_assert_eq!(Length::parse(&mark).unwrap().print_exact(System::Us), mark);
        let about = Uncertain::About { likely: Temperature::from_si(200.0 + value), spread: Temperature::from_si(3.0) };
        for system in [System::Metric, System::Us] {
            prop_assert_eq!(about.print_exact(system).parse::<Uncertain<Temperature>>().unwrap(), about);
        }
    }

    #[test]
    fn temperatures_return_within_a_twentieth_of_a_degree(celsius in -60.0..200.0_f64, style in style()) {
        returns(Temperature::from_c(celsius), style, 0.0, 0.05);
    }

    #[test]
    fn humidities_return_within_half_a_per_cent(ratio in 0.0..=1.0_f64, style in style()) {
        returns(Humidity::from_ratio(ratio), style, 0.0, 0.005);
    }

    #[test]
    fn conductors_return(mm2 in 0.01..120.0_f64, gauge in -3..=40_i32, style in style()) {
        returns(Conductor::from_mm2(mm2), style, 0.006, 0.0);
        let size = Conductor::from_awg(gauge).unwrap();
        prop_assert_eq!(size.awg(), Some(gauge));
        returns(size, Style::US, 0.0, 0.0);
    }

    #[test]
    fn shop_lengths_return_exactly_at_their_fraction(steps in 0..1_000_000_i64, style in style()) {
        let nanometres = match style.system {
            System::Us => steps * (25_400_000 / i64::from(style.fraction.parts())),
            System::Metric => steps * 100_000,
        };
        let length = ShopLength::from_nm(nanometres);
        let text = length.print(&style);
        prop_assert_eq!(ShopLength::parse(&text), Ok(length), "{}", text);
        // The float reading of the same text is the nearest to the exact one.
        let float = Length::parse(&text).unwrap();
        prop_assert_eq!(ShopLength::nearest(float), Some(length));
    }

    #[test]
    fn shop_lengths_round_to_the_nearest(nanometres in 0..100_000_000_000_i64, style in style()) {
        let step = match style.system {
            System::Us => 25_400_000 / i64::from(style.fraction.parts()),
            System::Metric => 100_000,
        };
        let back = ShopLength::parse(&ShopLength::from_nm(nanometres).print(&style)).unwrap();
        prop_assert!((back.nm() - nanometres).abs() * 2 <= step);
    }

    #[test]
    fn ranges_and_estimates_return(low in 0.5..50.0_f64, more in 0.0..50.0_f64, style in style()) {
        let half_step = 0.0254 / 16.0;
        let range = Uncertain::Range { low: Length::from_m(low), high: Length::from_m(low + more) };
        let (back_low, back_high) = Uncertain::<Length>::parse(&range.print(&style)).unwrap().bounds().unwrap();
        prop_assert!((back_low.m() - low).abs() <= half_step + 1e-9);
        prop_assert!((back_high.m() - low - more).abs() <= half_step + 1e-9);

        let about = Uncertain::About { likely: Temperature::from_k(273.15 + low), spread: Temperature::from_k(more) };
        let Ok(Uncertain::About { likely, spread }) = Uncertain::<Temperature>::parse(&about.print(&style)) else {
            panic!("{about:?}")
        };
        prop_assert!((likely.k() - 273.15 - low).abs() <= 0.0501);
        prop_assert!((spread.k() - more).abs() <= 0.0501);
    }

    #[test]
    fn quantiles_rise_and_stay_within_the_possible(
        likely in 0.0..10.0_f64, spread in 0.0..20.0_f64, u in 0.0..1.0_f64, v in 0.0..1.0_f64,
    ) {
        let (u, v) = if u <= v { (u, v) } else { (v, u) };
        let about = Uncertain::About { likely: Length::from_m(likely), spread: Length::from_m(spread) };
        let range = Uncertain::Range { low: Length::from_m(likely), high: Length::from_m(likely + spread) };
        for value in [about, range] {
            let (low, high) = (value.quantile(u).unwrap(), value.quantile(v).unwrap());
            prop_assert!(Length::ZERO <= low && low <= high);
        }
    }

    #[test]
    fn counts_return(low in any::<u32>(), high in any::<u32>(), u in 0.0..=1.0_f64) {
        let range = Uncertain::Range { low: low.min(high), high: low.max(high) };
        prop_assert_eq!(range.print().parse(), Ok(range));
        let (least, most) = range.bounds().unwrap();
        let drawn = range.quantile(u).unwrap();
        prop_assert!(least <= drawn && drawn <= most);
    }

    /// Texts made of the characters of quantities: whatever comes out points into the text.
    #[test]
    fn plausible_nonsense_is_marked_well(text in "[-+~0-9./,½⅞'\"′″ °%µ²³…±a-zA-Z]{0,24}") {
        spans_are_good::<Length>(&text);
        spans_are_good::<Pressure>(&text);
        spans_are_good::<ThermalResistance>(&text);
        spans_are_good::<Conductor>(&text);
    }

    /// A number before a known unit, in any spacing, is read or refused, never lost.
    #[test]
    fn numbers_are_read_as_rust_reads_them(whole in 0..1_000_000_u32, decimals in 0..1000_u32, gap in " {0,2}") {
        let number = format!("{whole}.{decimals:03}");
        let expected: f64 = number.parse().unwrap();
        let read = Length::parse(&format!("{number}{gap}m")).unwrap();
        prop_assert!((read.m() - expected).abs() <= 0.0, "{} {}", read.m(), expected);
    }
}

fn spans_are_good<T: Quantity>(text: &str) {
    if let Err(error) = T::parse(text) {
        assert!(text.get(error.span.clone()).is_some(), "{text:?} {error:?}");
    }
    if let Err(error) = Uncertain::<T>::parse(text) {
        assert!(text.get(error.span.clone()).is_some(), "{text:?} {error:?}");
    }
}

#[test]
fn unknowns_and_words_return() {
    assert_eq!(Uncertain::<Length>::Unknown.print(&Style::US), "unknown");
    let origins = Choice::OneOf(vec![Origin::Measured, Origin::RuleBook]);
    assert_eq!(Choice::parse(&origins.print()), Ok(origins));
}

/// The example that hints propose must itself be right, for every kind.
#[test]
fn every_example_can_be_read() {
    fn reads<T: Quantity>() -> Kind {
        T::parse(T::KIND.example()).unwrap_or_else(|error| panic!("{}: {error}", T::KIND));
        T::KIND
    }
    let mut kinds = vec![
        reads::<Length>(),
        reads::<Area>(),
        reads::<Volume>(),
        reads::<Airflow>(),
        reads::<Pressure>(),
        reads::<Velocity>(),
        reads::<Temperature>(),
        reads::<Ratio>(),
        reads::<Humidity>(),
        reads::<Angle>(),
        reads::<Duration>(),
        reads::<Density>(),
        reads::<Power>(),
        reads::<ThermalResistance>(),
        reads::<Leakage50>(),
        reads::<AirChange50>(),
        reads::<Conductor>(),
        reads::<Loudness>(),
        reads::<SoundLevel>(),
        reads::<Mass>(),
        reads::<MassFlow>(),
        reads::<WaterFlow>(),
        reads::<TemperatureDifference>(),
    ];
    kinds.sort_unstable();
    let mut all = Kind::ALL;
    all.sort_unstable();
    assert_eq!(kinds, all);
}
