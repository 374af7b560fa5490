//! A duct through time against closed forms, the steady march and its own balances.
//!
//! Sources: Newton's law of cooling; heat of fusion 333.6 kJ/kg (ASHRAE Fundamentals ch. 1, from memory); thermodynamic
//! wet bulb (ASHRAE Fundamentals 2017 ch. 1); volumes of geometry.

use core::f64::consts::PI;

use dewpath_air::domain::OutOfDomain;
use dewpath_air::moist_air::MoistAir;
use dewpath_moisture::duct::choice::least_insulation;
use dewpath_moisture::duct::line::{
    AIR_J_KG_K, Around, DuctLine, FLEXIBLE_J_M2_K, Inlet, Piece, STEEL_J_M2_K, Slope, Story,
};
use dewpath_moisture::duct::pocket::Pocket;
use dewpath_moisture::duct::steady::{Stretch, march};
use dewpath_moisture::duct::{FUSION_HEAT_J_KG, RUNNING_FILM_KG_M2};
use dewpath_moisture::heat::nusselt_inside;
use dewpath_units::{Airflow, Humidity, Length, Pressure, Temperature, ThermalResistance};
use proptest::prelude::*;

const ATTIC: Around = Around { t_c: -10.0, w: 0.0015 };
const SHOWER: Inlet = Inlet { dry_air_kg_s: 0.029, t_c: 24.0, w: 0.0150 };
const RUN_ON: Inlet = Inlet { dry_air_kg_s: 0.029, t_c: 21.0, w: 0.0060 };
const STILL: Inlet = Inlet { dry_air_kg_s: 0.0, t_c: 20.0, w: 0.0060 };

fn pressure() -> Pressure {
    Pressure::from_pa(101_325.0)
}

fn piece(outward: f64, slope: Slope, cells: usize) -> Piece {
    Piece {
        length: Length::from_m(6.0),
        diameter: Length::from_mm(101.6),
        roughness: Length::from_mm(0.09),
        wall_j_m2_k: STEEL_J_M2_K,
        outward: ThermalResistance::from_rsi(outward),
        outside_film: ThermalResistance::from_rsi(0.04),
        slope,
        cells,
    }
}

fn line(pieces: &[Piece], around: Around) -> DuctLine {
    DuctLine::new(pieces, &vec![around; pieces.len()], pressure()).unwrap()
}

fn follow(line: &mut DuctLine, seconds: f64, dt: f64, inlet: Inlet) -> Story {
    let before = line.snapshot();
    for _ in 0..(seconds / dt).round() as usize {
        line.step(dt, inlet).unwrap();
    }
    line.story_since(&before)
}

/// Newton's law of cooling: an idle duct takes its surroundings' temperature as exp(−t/(C·R)).
#[test]
fn an_idle_duct_cools_as_newton_has_it() {
    let mut duct = line(&[piece(0.5, Slope::Level, 3)], Around { t_c: 20.0, w: 0.005 });
    duct.set_around(0, ATTIC).unwrap();
    duct.step(700.0, STILL).unwrap();
    let want = -10.0 + 30.0 * libm::exp(-700.0 / (2000.0 * 0.5));
    for cell in 0..3 {
        assert!((duct.wall_c(cell).unwrap() - want).abs() < 1e-12);
    }
}

/// Without water one cell under constant air follows its exponential exactly: a step of ten minutes is six hundred
/// of a second. Cells in a row differ by what the mean of a step hides.
#[test]
fn a_dry_duct_does_not_see_its_steps() {
    let wall = |cells, dt| {
        let mut duct = line(&[piece(0.3, Slope::Level, cells)], ATTIC);
        follow(&mut duct, 600.0, dt, Inlet { w: 0.0005, ..SHOWER });
        duct.wall_c(cells - 1).unwrap()
    };
    assert!((wall(1, 600.0) - wall(1, 1.0)).abs() < 1e-9);
    assert!((wall(6, 60.0) - wall(6, 1.0)).abs() < 0.05);
    assert!((wall(6, 30.0) - wall(6, 1.0)).abs() < 0.35 * (wall(6, 60.0) - wall(6, 1.0)).abs());
}

/// Long after the start the duct takes the water of the steady march, whose numbers are checked against scipy.
#[test]
fn settles_where_the_steady_march_is() {
    for (outward, around_c) in [(0.11111, -10.0), (0.639, -10.0), (0.11111, 5.0), (1.0, -25.0)] {
        let around = Around { t_c: around_c, w: 0.001 };
        let mut duct = line(&[piece(outward, Slope::Level, 40)], around);
        follow(&mut duct, 4.0 * 3600.0, 60.0, SHOWER);
        let story = follow(&mut duct, 3600.0, 60.0, SHOWER);
        let air =
            MoistAir::from_humidity_ratio(Temperature::from_c(SHOWER.t_c), SHOWER.w, pressure())
                .unwrap();
        // The film that the line uses: properties of 10 °C.
        let re = 4.0 * SHOWER.dry_air_kg_s / (PI * 0.1016 * 1.768e-5);
        let nu = nusselt_inside(re, 0.71, 0.09 / 101.6, 0.1016 / 6.0).unwrap();
        let stretch = Stretch {
            length: Length::from_m(6.0),
            diameter: Length::from_mm(101.6),
            film_inside_w_m2_k: nu * 0.02511 / 0.1016,
            outward: ThermalResistance::from_rsi(outward),
            surroundings: Temperature::from_c(around_c),
        };
        let flow = Airflow::from_m3_s(SHOWER.dry_air_kg_s / air.dry_air_density().kg_m3());
        let steady = march(&air, flow, &[stretch], 200).unwrap();
        let (got, want) = (story.condensed_kg, steady.condensate_kg_s * 3600.0);
        // The heat capacity of the air differs by 0.4 %, which counts most where little settles.
        assert!((got - want).abs() < 0.025 * want, "{outward} {around_c}: {got} {want}");
    }
}

/// A wet wall that loses no heat outwards takes the wet bulb of the air that passes (ASHRAE Fundamentals 2017 ch. 1;
/// 0.5 K, for Le is not 1).
#[test]
fn a_drying_wall_takes_the_wet_bulb() {
    // Five centimetres, so that the air hardly changes; wetted by steam-laden air while it warms from deep cold.
    let short = Piece { length: Length::from_m(0.05), ..piece(900.0, Slope::Level, 1) };
    let mut duct = line(&[short], Around { t_c: -55.0, w: 0.0 });
    duct.set_around(0, Around { t_c: 20.0, w: 0.005 }).unwrap();
    follow(&mut duct, 600.0, 10.0, Inlet { dry_air_kg_s: 0.1, t_c: 40.0, w: 0.045 });
    let wetted = duct.water_total_kg();
    assert!(wetted > 2e-4);
    follow(&mut duct, 40.0, 1.0, Inlet { dry_air_kg_s: 0.1, t_c: 26.0, w: 0.008 });
    let left = duct.water_total_kg() / wetted;
    assert!(left > 0.05 && left < 0.9, "{left}");
    let air = MoistAir::from_humidity_ratio(Temperature::from_c(26.0), 0.008, pressure()).unwrap();
    let wall = duct.wall_c(0).unwrap();
    assert!((wall - air.wet_bulb().c()).abs() < 0.5, "{wall} {}", air.wet_bulb().c());
}

/// Frost in an idle duct melts in the time its heat of fusion (333.6 kJ/kg) takes through the wall, whatever the step.
#[test]
fn frost_melts_by_its_heat_of_fusion() {
    for dt in [1.0, 60.0, 900.0] {
        let mut duct = line(&[piece(0.5, Slope::Level, 1)], Around { t_c: -15.0, w: 0.001 });
        follow(&mut duct, 1200.0, 10.0, Inlet { dry_air_kg_s: 0.004, t_c: 5.0, w: 0.0054 });
        let frost = duct.frost_total_kg();
        assert!(frost > 0.001 && duct.water_total_kg() == 0.0);
        // Up to 0 °C first.
        duct.set_around(0, Around { t_c: 0.0, w: 0.001 }).unwrap();
        follow(&mut duct, 86_400.0, 900.0, STILL);
        duct.set_around(0, Around { t_c: 4.0, w: 0.001 }).unwrap();
        let area = PI * 0.1016 * 6.0;
        let all = frost * FUSION_HEAT_J_KG / (area / 0.5 * 4.0);
        let half = 0.5 * all;
        // Whole steps, then what is left of half the time.
        follow(&mut duct, (half / dt).floor() * dt, dt, STILL);
        let rest = half - (half / dt).floor() * dt;
        if rest > 1e-3 {
            duct.step(rest, STILL).unwrap();
        }
        assert!((duct.frost_total_kg() / frost - 0.5).abs() < 1e-6, "{dt}");
        assert!((duct.wall_c(0).unwrap() - 0.0).abs() < 1e-6);
        follow(&mut duct, 3.0 * all.max(dt), dt, STILL);
        assert!(duct.frost_total_kg() == 0.0 && (duct.water_total_kg() - frost).abs() < 1e-12);
        assert!(duct.wall_c(0).unwrap() > 0.0);
    }
}

/// Half the step, a quarter of the error or less: second order; and 60 s are within 1 % of a second.
#[test]
fn halving_the_step_converges() {
    let water = |dt| {
        let mut duct = line(&[piece(0.6, Slope::Level, 6)], ATTIC);
        let shower = follow(&mut duct, 600.0, dt, SHOWER);
        let dry = follow(&mut duct, 600.0, dt, RUN_ON);
        (shower.condensed_kg, dry.evaporated_kg)
    };
    let exact = water(0.25);
    let error = |dt: f64| {
        let got = water(dt);
        ((got.0 / exact.0 - 1.0).abs(), (got.1 / exact.1 - 1.0).abs())
    };
    let (fine, coarse) = (error(10.0), error(60.0));
    assert!(coarse.0 < 0.01 && coarse.1 < 0.03, "{coarse:?}");
    assert!(
        fine.0 < 0.2 * coarse.0.max(1e-4) && fine.1 < 0.2 * coarse.1.max(1e-4),
        "{fine:?} {coarse:?}"
    );
}

/// A cold steel duct condenses at first even where a warm one would stay dry: its heat capacity has to be warmed, 2 kJ
/// per m² and kelvin.
#[test]
fn cold_metal_condenses_at_the_start() {
    let at_start = |wall_j_m2_k| {
        let piece = Piece { wall_j_m2_k, ..piece(1.0, Slope::DrainsOut, 8) };
        let mut duct = line(&[piece], ATTIC);
        let inlet = Inlet { w: 0.0110, ..SHOWER };
        let first = follow(&mut duct, 600.0, 5.0, inlet);
        let later = follow(&mut duct, 3600.0, 5.0, inlet);
        assert!(first.condensed_kg > 0.0 && later.condensed_kg < 1e-9, "{later:?}");
        first.condensed_kg
    };
    assert!(at_start(STEEL_J_M2_K) > 2.0 * at_start(FLEXIBLE_J_M2_K));
}

#[test]
fn water_runs_where_the_slope_leads() {
    let run = |slopes: &[Slope]| {
        let pieces: Vec<_> = slopes
            .iter()
            .map(|&slope| Piece { length: Length::from_m(2.0), ..piece(0.1, slope, 3) })
            .collect();
        let mut duct = line(&pieces, ATTIC);
        follow(&mut duct, 4.0 * 3600.0, 30.0, SHOWER);
        let t = *duct.totals();
        let left = duct.water_total_kg() + duct.frost_total_kg();
        let settled = t.condensed_kg - t.evaporated_kg;
        assert!((settled - t.drained_out_kg - t.drained_back_kg - left).abs() < 1e-12);
        assert!(settled > 0.7, "{settled}");
        (t.drained_out_kg, t.drained_back_kg, left)
    };
    let on_walls = PI * 0.1016 * 6.0 * RUNNING_FILM_KG_M2;
    let (out, back, left) = run(&[Slope::DrainsOut; 3]);
    assert!(out > 0.5 && back == 0.0 && left <= on_walls * (1.0 + 1e-9));
    let (out, back, _) = run(&[Slope::DrainsBack; 3]);
    assert!(out == 0.0 && back > 0.5);
    let (out, back, left) = run(&[Slope::Level; 3]);
    assert!(out == 0.0 && back == 0.0 && left > 0.5);
    // Over a hump: both ends drip.
    let (out, back, left) = run(&[Slope::DrainsBack, Slope::DrainsOut]);
    assert!(out > 0.1 && back > 0.1 && left <= on_walls);
    // Into a valley: nothing leaves.
    let (out, back, _) = run(&[Slope::DrainsOut, Slope::DrainsBack]);
    assert!(out == 0.0 && back == 0.0);
    // A sag holds its water and passes the rest on.
    let sag = Slope::Sag(Pocket { holds_kg: 0.3, closes: false });
    let (out, back, left) = run(&[Slope::DrainsOut, sag, Slope::DrainsOut]);
    assert!(out > 0.1 && back == 0.0 && left > 0.3);
}

#[test]
fn a_deep_sag_closes_the_duct() {
    let d = Length::from_mm(101.6);
    let pocket = Pocket::from_sag(d, Length::from_m(1.0), Length::from_mm(120.0)).unwrap();
    assert!(pocket.closes);
    let piece = piece(0.1, Slope::Sag(pocket), 3);
    let mut duct = line(&[piece], ATTIC);
    follow(&mut duct, 3600.0, 30.0, SHOWER);
    assert!(!duct.closed_by_water());
    follow(&mut duct, 48.0 * 3600.0, 30.0, SHOWER);
    assert!(duct.closed_by_water());
    assert!(duct.totals().drained_out_kg > 0.0);
}

/// A parabola's share of a rectangle is two thirds: water in a shallow trough of a wide duct. And a full pipe.
#[test]
fn a_pocket_holds_what_geometry_gives() {
    let (d, span) = (0.2_f64, 1.0_f64);
    // Deep and closed: area at level d is a full circle at the lowest place only; less than the full pipe.
    let full = PI * d * d / 4.0 * span * 1000.0;
    let pocket = |depth| {
        Pocket::from_sag(Length::from_m(d), Length::from_m(span), Length::from_m(depth)).unwrap()
    };
    assert!((pocket(0.0).holds_kg - 0.0).abs() < 1e-12 && !pocket(0.0).closes);
    assert!(pocket(0.2).holds_kg < full && pocket(0.2).holds_kg > 0.5 * full);
    // A thin segment has the area (2/3)·chord·height, chord √(8·r·height): with height s(1 − x²) the mean over x
    // of (1 − x²)^1.5 is 3π/16.
    let s = 1e-4_f64;
    let want = 2.0 / 3.0 * (8.0 * 0.1 * s).sqrt() * s * 3.0 * PI / 16.0 * span * 1000.0;
    assert!((pocket(s).holds_kg / want - 1.0).abs() < 1e-3);
}

/// Outdoor air that comes back past the flap: in summer it wets a cold duct from its outer end, and the duct sweats
/// outside in a humid attic.
#[test]
fn warm_air_comes_back_into_a_cold_duct() {
    let cold = Around { t_c: 16.0, w: 0.008 };
    let thin = Piece {
        outside_film: ThermalResistance::from_rsi(0.1),
        ..piece(0.3, Slope::DrainsBack, 6)
    };
    let mut duct = line(&[thin], cold);
    let back = Inlet { dry_air_kg_s: -0.003, t_c: 32.0, w: 0.0220 };
    let before = duct.snapshot();
    let mut leaving = duct.step(10.0, back).unwrap();
    for _ in 0..360 {
        leaving = duct.step(10.0, back).unwrap();
    }
    assert!(duct.story_since(&before).condensed_kg > 0.005);
    assert!(duct.film_kg(5).unwrap() > duct.film_kg(0).unwrap());
    assert!(leaving.w < 0.0220 && leaving.t_c < 32.0);
    // The same duct with conditioned air inside and a humid attic around.
    duct.set_around(0, Around { t_c: 30.0, w: 0.0230 }).unwrap();
    follow(&mut duct, 3600.0, 10.0, Inlet { dry_air_kg_s: 0.02, t_c: 16.0, w: 0.0080 });
    let bare = duct.sweating(0).unwrap();
    assert!(bare.sweats() && bare.surface_c < bare.dew_point_c);
    assert!((bare.dew_point_c - 27.2).abs() < 0.3);
    assert!(duct.sweating(1).is_err());
}

#[test]
fn frost_narrows_the_duct() {
    let mut duct = line(&[piece(0.1, Slope::Level, 4)], Around { t_c: -30.0, w: 0.0002 });
    assert!((duct.free_area_share() - 1.0).abs() < 1e-15);
    follow(&mut duct, 72.0 * 3600.0, 60.0, Inlet { dry_air_kg_s: 0.002, t_c: 20.0, w: 0.0070 });
    assert!(duct.frost_total_kg() > 0.5);
    assert!(duct.free_area_share() < 0.95 && duct.free_area_share() > 0.0);
    // Slow air leaves its vapour where it enters.
    assert!(duct.frost_kg(0).unwrap() > duct.frost_kg(3).unwrap());
    assert_eq!(duct.frost_kg(4), None);
}

/// A day: a shower, a run-on, then vapour drifting up the idle duct. The least insulation that keeps less than 2 g a day.
#[test]
fn least_insulation_by_following_days() {
    let net = |outward: ThermalResistance| {
        let mut duct = line(&[piece(outward.rsi(), Slope::Level, 6)], ATTIC);
        let before = duct.snapshot();
        for _ in 0..5 {
            follow(&mut duct, 600.0, 10.0, SHOWER);
            follow(&mut duct, 1800.0, 10.0, RUN_ON);
            let drift = Inlet { dry_air_kg_s: 0.0001, t_c: 20.0, w: 0.0070 };
            follow(&mut duct, 84_000.0, 600.0, drift);
        }
        Ok::<_, OutOfDomain>(duct.story_since(&before).net_kg_day())
    };
    let offers = [0.1, 0.5, 0.8, 1.1].map(ThermalResistance::from_rsi);
    let waters: Vec<f64> = offers.iter().map(|&r| net(r).unwrap()).collect();
    assert!(waters[0] > 0.04 && waters.windows(2).all(|pair| pair[1] <= pair[0]), "{waters:?}");
    let between = 0.5 * (waters[1] + waters[2]);
    assert_eq!(least_insulation(&offers, between, net).unwrap(), Some(2));
    assert_eq!(least_insulation(&offers, 0.0, |_| Ok::<_, OutOfDomain>(1.0)).unwrap(), None);
    assert!(least_insulation(&offers, f64::NAN, net).is_err());
}

#[test]
fn refused_input_changes_nothing() {
    let mut duct = line(&[piece(0.3, Slope::Level, 2)], ATTIC);
    follow(&mut duct, 60.0, 10.0, SHOWER);
    let before = duct.snapshot();
    for (dt, inlet, what) in [
        (-1.0, SHOWER, "step"),
        (f64::NAN, SHOWER, "step"),
        (1.0, Inlet { dry_air_kg_s: f64::NAN, ..SHOWER }, "flow of dry air"),
        (1.0, Inlet { t_c: f64::INFINITY, ..SHOWER }, "air temperature"),
        (1.0, Inlet { w: -0.1, ..SHOWER }, "humidity ratio"),
    ] {
        assert_eq!(duct.step(dt, inlet).unwrap_err().quantity, what);
    }
    assert_eq!(duct.snapshot(), before);
    assert!(duct.set_around(1, ATTIC).is_err());
    assert!(DuctLine::new(&[], &[], pressure()).is_err());
    assert!(DuctLine::new(&[piece(0.3, Slope::Level, 0)], &[ATTIC], pressure()).is_err());
    assert!(DuctLine::new(&[piece(0.3, Slope::Level, 2)], &[], pressure()).is_err());
}

fn slopes() -> impl Strategy<Value = Slope> {
    prop_oneof![
        Just(Slope::DrainsOut),
        Just(Slope::DrainsBack),
        Just(Slope::Level),
        (0.0..0.5_f64, any::<bool>())
            .prop_map(|(holds_kg, closes)| Slope::Sag(Pocket { holds_kg, closes })),
    ]
}

/// A stretch of time: step, number, flow, inlet temperature and relative humidity, temperature around.
fn spells() -> impl Strategy<Value = Vec<(f64, usize, f64, f64, f64, f64)>> {
    let flow = prop_oneof![Just(0.0), -0.05..0.05_f64, 1e-6..1e-4_f64];
    let spell =
        (0.1..4000.0_f64, 1..20_usize, flow, -40.0..40.0_f64, 0.0..1.0_f64, -40.0..40.0_f64);
    proptest::collection::vec(spell, 1..12)
}

proptest! {
    #[test]
    fn water_and_heat_add_up_through_any_weather(
        slopes in proptest::collection::vec(slopes(), 1..4), spells in spells(),
        outward in 0.05..2.0_f64, wall in 100.0..5000.0_f64,
    ) {
        let pieces: Vec<_> = slopes
            .iter()
            .map(|&slope| Piece { wall_j_m2_k: wall, ..piece(outward, slope, 3) })
            .collect();
        let mut duct = line(&pieces, ATTIC);
        let (mut coldest, mut warmest) = (-10.0_f64, -10.0_f64);
        for &(dt, count, dry_air_kg_s, t_c, humidity, around_c) in &spells {
            let air = MoistAir::from_relative_humidity(
                Temperature::from_c(t_c), Humidity::from_ratio(humidity), pressure()).unwrap();
            for index in 0..pieces.len() {
                duct.set_around(index, Around { t_c: around_c, w: 0.001 }).unwrap();
            }
            coldest = coldest.min(t_c).min(around_c);
            warmest = warmest.max(t_c).max(around_c);
            for _ in 0..count {
                let inlet = Inlet { dry_air_kg_s, t_c, w: air.humidity_ratio() };
                let leaving = duct.step(dt, inlet).unwrap();
                prop_assert!(leaving.t_c.is_finite() && leaving.w.is_finite() && leaving.w >= 0.0);
                for cell in 0..duct.cell_count() {
                    let (wall, film, frost) = (
                        duct.wall_c(cell).unwrap(), duct.film_kg(cell).unwrap(), duct.frost_kg(cell).unwrap());
                    prop_assert!(film >= 0.0 && frost >= 0.0 && film.is_finite());
                    // Ice below, water above 0 °C, where no water has just run in.
                    if slopes.iter().all(|&slope| slope == Slope::Level) {
                        prop_assert!(film == 0.0 || wall >= -1e-9, "water at {wall}");
                        prop_assert!(frost == 0.0 || wall <= 1e-9, "frost at {wall}");
                    }
                    // Drying cools below the coldest air, but not far; only one long step from deep cold into
                    // hot damp air warms a little beyond the warmest.
                    prop_assert!(wall > coldest - 15.0 && wall < warmest + 6.0, "{wall} outside {coldest} to {warmest}");
                }
            }
        }
        let left = duct.residual();
        prop_assert!(left.water.abs() < 1e-9, "{left:?}");
        prop_assert!(left.vapour.abs() < 1e-9, "{left:?}");
        prop_assert!(left.heat.abs() < 1e-9, "{left:?}");
        prop_assert!((0.0..=1.0).contains(&duct.free_area_share()));
    }

    /// In the cold, under constant air, from a duct at the temperature around it, less water stays behind more
    /// insulation. (What settles may be more: some of it has dried from a warmer wall upstream.)
    #[test]
    fn more_insulation_never_more_water(
        outward in 0.08..1.5_f64, more in 0.0..2.0_f64, around_c in -30.0..10.0_f64, w in 0.008..0.018_f64,
        flow in 0.003..0.06_f64, minutes in 1..90_usize,
    ) {
        let left = |outward| {
            let mut duct = line(&[piece(outward, Slope::Level, 5)], Around { t_c: around_c, w: 0.001 });
            let inlet = Inlet { dry_air_kg_s: flow, t_c: 24.0, w };
            let story = follow(&mut duct, 60.0 * minutes as f64, 5.0, inlet);
            story.water_more_kg + story.frost_more_kg
        };
        // Room for what a step of 5 s errs while frost melts.
        prop_assert!(left(outward + more) <= left(outward) * (1.0 + 2e-3) + 1e-9);
    }

    /// The ends of all ranges, physically nonsense or not: numbers, and balances.
    #[test]
    fn accepted_extremes_stay_numbers(
        steps in proptest::collection::vec(
            (-3.0..7.0_f64, -100.0..100.0_f64, -9.0..2.0_f64, -60.0..100.0_f64, 0.0..1.0_f64, -60.0..100.0_f64), 1..20),
        outward in -4.0..3.0_f64, wall in 0.0..7.0_f64, slope in slopes(),
    ) {
        let ten = |x: f64| libm::pow(10.0, x);
        let thin = Piece {
            wall_j_m2_k: ten(wall),
            outside_film: ThermalResistance::from_rsi(0.0),
            ..piece(ten(outward), slope, 3)
        };
        let mut duct = line(&[thin, thin], ATTIC);
        for (dt, sign, flow, t_c, w, around_c) in steps {
            duct.set_around(1, Around { t_c: around_c, w }).unwrap();
            let dry_air_kg_s = ten(flow).copysign(sign);
            let leaving = duct.step(ten(dt), Inlet { dry_air_kg_s, t_c, w }).unwrap();
            prop_assert!(leaving.t_c.is_finite() && leaving.w.is_finite() && leaving.w >= 0.0);
            for cell in 0..duct.cell_count() {
                prop_assert!(duct.wall_c(cell).unwrap().is_finite());
                prop_assert!(duct.film_kg(cell).unwrap() >= 0.0 && duct.frost_kg(cell).unwrap() >= 0.0);
            }
        }
        let left = duct.residual();
        prop_assert!(left.water.abs() < 1e-9 && left.vapour.abs() < 1e-9, "{left:?}");
        // A wall that conducts a thousand times better than any hides its heat in the last digit of a temperature.
        prop_assert!(left.heat.abs() < 1e-5, "{left:?}");
        prop_assert!(duct.sweating(0).unwrap().surface_c.is_finite());
    }

    #[test]
    fn anything_typed_gives_numbers_or_an_error(
        numbers in proptest::array::uniform8(any::<f64>()), plausible in proptest::array::uniform8(-1.0..40.0_f64),
        from in any::<u8>(),
    ) {
        // Some of the numbers are plausible, so that not all are refused at the first.
        let n: Vec<f64> = (0..8).map(|i| if from >> i & 1 == 0 { numbers[i] } else { plausible[i] }).collect();
        let piece = Piece {
            length: Length::from_m(n[0]),
            wall_j_m2_k: n[1],
            outside_film: ThermalResistance::from_rsi(n[2]),
            ..piece(n[3], Slope::Sag(Pocket { holds_kg: n[4], closes: true }), 2)
        };
        if let Ok(mut duct) = DuctLine::new(&[piece], &[Around { t_c: n[5], w: 0.001 }], pressure()) {
            for _ in 0..3 {
                if let Ok(leaving) = duct.step(n[6].abs(), Inlet { dry_air_kg_s: n[7], t_c: n[5], w: n[2] }) {
                    prop_assert!(leaving.t_c.is_finite() && leaving.w.is_finite());
                    prop_assert!(duct.wall_c(0).unwrap().is_finite());
                }
            }
            prop_assert!(duct.residual().heat.is_finite());
        }
    }
}

/// Air that leaves a settled dry duct lost what the surroundings got: ISO 12241's exponential, within the second order
/// of sixty cells.
#[test]
fn air_leaves_a_settled_dry_duct_by_the_exponential() {
    let mut duct = line(&[piece(0.5, Slope::Level, 60)], ATTIC);
    let inlet = Inlet { w: 0.0005, ..SHOWER };
    follow(&mut duct, 6.0 * 3600.0, 60.0, inlet);
    let leaving = duct.step(60.0, inlet).unwrap();
    let re = 4.0 * SHOWER.dry_air_kg_s / (PI * 0.1016 * 1.768e-5);
    let film = nusselt_inside(re, 0.71, 0.09 / 101.6, 0.1016 / 6.0).unwrap() * 0.02511 / 0.1016;
    let u = 1.0 / (1.0 / film + 0.5);
    let units = u * PI * 0.1016 * 6.0 / (SHOWER.dry_air_kg_s * AIR_J_KG_K);
    let want = -10.0 + 34.0 * libm::exp(-units);
    assert!((leaving.t_c - want).abs() < 1e-3, "{} {want}", leaving.t_c);
}
