//! Moisture buffering against the theory of effective penetration depth, the buffer value of NORDTEST, and a
//! board cut into a hundred cells.
//!
//! Sources: Kerestecioglu 1990, Cunningham 1992/2003; Rode et al. 2005 (NORDTEST); Çengel & Ghajar, Heat and
//! Mass Transfer, ch. 14. The numbers of the material are representative, not a standard.
#![allow(
    clippy::disallowed_methods,
    reason = "expected values need not be the same to the last bit"
)]

use dewpath_checkvalues::{check, checks, relative};
use dewpath_moisture::buffer::{BufferChain, BufferClass, BufferLayer, Coating, Material, PERIODS};
use dewpath_moisture::saturation::Saturation;
use dewpath_units::{Duration, Length, Temperature};
use proptest::prelude::*;

const FILM: f64 = 2.6e-8;

fn room() -> Temperature {
    Temperature::from_c(20.0)
}

fn p_ws() -> f64 {
    Saturation::shared().pressure_pa(20.0)
}

/// √(δ·p_ws·τ/(π·ρ·ξ)).
#[test]
fn penetration_depths() {
    for check in checks("BUF-01", "BUF-03") {
        let period = Duration::from_s(check.input("tau"));
        check.holds(Material::gypsum_board().penetration_depth(room(), period).unwrap().m());
    }
}

/// Rode et al. 2005: effusivity and ideal buffer value, class "moderate" (0.5 to 1).
#[test]
fn effusivity_and_ideal_buffer_value() {
    let board = Material::gypsum_board();
    check("BUF-04").holds(board.effusivity(room()).unwrap());
    let day = Duration::from_s(check("BUF-05").input("tp"));
    let value = board.ideal_buffer_value_g(room(), day).unwrap();
    check("BUF-05").holds(value);
    assert_eq!(BufferClass::of(value), Some(BufferClass::Moderate));
}

/// Rode et al. 2005 (from memory).
#[test]
fn classes_of_buffer_values() {
    check("BUF-06").all_hold(&BufferClass::ALL.map(BufferClass::from_g));
    assert_eq!(BufferClass::of(0.19), Some(BufferClass::Negligible));
    assert_eq!(BufferClass::of(7.0), Some(BufferClass::Excellent));
    assert_eq!(BufferClass::of(-0.1), None);
    assert_eq!(BufferClass::of(f64::NAN), None);
}

/// Çengel & Ghajar, ch. 14: vapour through 24 m² of 9.5 mm gypsum board in a day, from 20 °C, 60 % to dry air.
#[test]
fn vapour_through_a_board() {
    let board = Material { thickness: Length::from_m(0.0095), ..Material::gypsum_board() };
    // A period so long that the layer is the whole board; its middle is half the way.
    let layer = BufferLayer::new(&board, room(), Duration::from_h(168.0)).unwrap();
    let permeance = 1.0 / (2.0 * layer.resistance_m2_s_pa_kg);
    relative("permeance", permeance, 2.86e-9, 1e-9);
    check("BUF-07").holds(permeance * 24.0 * 0.6 * p_ws() * 86_400.0);
}

/// Published (from memory): bare gypsum board 0.6 to 0.9, painted 0.1 to 0.4 g/(m²·%), an impermeable face
/// none. A fifth of slack above, since paint scatters threefold.
#[test]
fn practical_buffer_values_lie_where_published() {
    let value = |coating| {
        let chain = BufferChain::new(&Material::gypsum_board(), coating, room()).unwrap();
        chain.practical_buffer_value_g(room()).unwrap()
    };
    let (bare, latex, gloss) = (value(Coating::Bare), value(Coating::Latex), value(Coating::Gloss));
    assert!((0.6..0.9).contains(&bare), "{bare}");
    assert!((0.1..0.4).contains(&latex), "{latex}");
    assert!((0.02..0.2).contains(&gloss), "{gloss}");
    relative("tile", value(Coating::Tile), 0.0, 0.0);
    let same = value(Coating::Permeance(4e-10));
    relative("by permeance", same, latex, 1e-12);
}

/// The whole board and no more takes part, whatever the depths.
#[test]
fn the_chain_is_the_board() {
    for (mm, period_deeper) in [(12.7, true), (2.0, true), (40.0, true), (500.0, false)] {
        let board = Material { thickness: Length::from_m(mm * 1e-3), ..Material::gypsum_board() };
        let chain = BufferChain::new(&board, Coating::Bare, room()).unwrap();
        let week = board.penetration_depth(room(), PERIODS[2]).unwrap().m();
        let depth = if period_deeper { mm * 1e-3 } else { week };
        let whole: f64 = chain.capacity_kg_rh.iter().sum();
        relative("capacity", whole, 640.0 * 0.0075 * depth, 1e-12);
        assert!(chain.capacity_kg_rh.iter().all(|capacity| *capacity > 0.0));
        let through: f64 = chain.conductance.iter().map(|g| 1.0 / g).sum();
        // From the face to the middle of the last layer.
        let last = chain.capacity_kg_rh[2] / (640.0 * 0.0075);
        relative("resistance", through, (depth - last / 2.0) / 2.717e-11, 1e-9);
    }
    // Thick material: the layers end at the depths themselves.
    let thick = Material { thickness: Length::from_m(1.0), ..Material::gypsum_board() };
    let chain = BufferChain::new(&thick, Coating::Bare, room()).unwrap();
    check("BUF-03").holds(chain.capacity_kg_rh[0] / (640.0 * 0.0075));
    let day: f64 = chain.capacity_kg_rh[..2].iter().sum();
    check("BUF-01").holds(day / (640.0 * 0.0075));
}

/// A board of a hundred equal cells under the same air, explicit steps of 0.1 s; water taken up, kg/m².
fn fine_board(coating: Option<f64>, air: impl Fn(f64) -> f64, hours: f64) -> Vec<f64> {
    const CELLS: usize = 100;
    let board = Material::gypsum_board();
    let d = board.thickness.m() / CELLS as f64;
    let capacity = 640.0 * 0.0075 * d;
    let between = 2.717e-11 / d;
    let mut resistance = 1.0 / FILM + 0.5 / between;
    if let Some(permeance) = coating {
        resistance += 1.0 / permeance;
    }
    let dt = 0.1;
    let mut rh = [0.5; CELLS];
    let mut taken = 0.0;
    let mut hourly = Vec::new();
    for i in 0..(hours * 36_000.0) as usize {
        let t_h = i as f64 * dt / 3600.0;
        let mut into = (air(t_h) - rh[0] * p_ws()) / resistance;
        taken += into * dt;
        for cell in 0..CELLS {
            let out =
                if cell + 1 < CELLS { between * p_ws() * (rh[cell] - rh[cell + 1]) } else { 0.0 };
            rh[cell] += (into - out) * dt / capacity;
            into = out;
        }
        if (i + 1) % 9000 == 0 {
            hourly.push(taken); // each quarter of an hour
        }
    }
    hourly
}

/// Uptake of a shower pulse (20 min at saturation) and what comes back in two hours, against the hundred cells.
#[test]
fn the_chain_follows_a_shower_as_a_fine_board_does() {
    let air = |t_h: f64| if t_h < 1.0 / 3.0 { p_ws() } else { 0.5 * p_ws() };
    for (coating, tolerance) in [(None, 0.15), (Some(4e-10), 0.03)] {
        let fine = fine_board(coating, air, 2.0);
        let kind = coating.map_or(Coating::Bare, Coating::Permeance);
        let chain = BufferChain::new(&Material::gypsum_board(), kind, room()).unwrap();
        let mut rh = [0.5; 3];
        let mut taken = 0.0;
        let mut coarse = Vec::new();
        for i in 0..7200_u32 {
            taken += chain.step(&mut rh, air(f64::from(i) / 3600.0), FILM, p_ws(), 1.0);
            if (i + 1) % 900 == 0 {
                coarse.push(taken);
            }
        }
        let peak = fine.iter().copied().fold(0.0, f64::max);
        for (fine, coarse) in fine.iter().zip(&coarse) {
            assert!((fine - coarse).abs() < tolerance * peak, "{fine} {coarse} of {peak}");
        }
    }
}

#[test]
fn what_cannot_be_is_refused() {
    let board = Material::gypsum_board();
    for wrong in [
        Material { density_kg_m3: 0.0, ..board },
        Material { sorption_slope: f64::NAN, ..board },
        Material { permeability_kg_m_s_pa: -1e-11, ..board },
        Material { thickness: Length::from_m(0.0), ..board },
    ] {
        assert!(BufferChain::new(&wrong, Coating::Bare, room()).is_err(), "{wrong:?}");
    }
    for permeance in [0.0, -1e-10, f64::NAN, f64::INFINITY] {
        let coated = BufferChain::new(&board, Coating::Permeance(permeance), room());
        assert!(coated.is_err(), "{permeance}");
    }
    assert!(BufferChain::new(&board, Coating::Bare, Temperature::from_c(90.0)).is_err());
    assert!(BufferChain::at_place_in_band(&board, Coating::Latex, room(), 1.5).is_err());
    assert!(board.penetration_depth(room(), Duration::from_s(0.0)).is_err());
}

fn materials() -> impl Strategy<Value = Material> {
    (50.0..2000.0_f64, 0.001..0.2_f64, 1e-12..1.5e-10_f64, 0.001..0.05_f64).prop_map(
        |(density_kg_m3, sorption_slope, permeability_kg_m_s_pa, m)| Material {
            density_kg_m3,
            sorption_slope,
            permeability_kg_m_s_pa,
            thickness: Length::from_m(m),
        },
    )
}

proptest! {
    /// Water is kept, and no layer leaves the range between its neighbours, whatever the step.
    #[test]
    fn a_step_keeps_its_water(
        material in materials(), permeance in 1e-12..1e-8_f64, start in prop::array::uniform3(0.0..1.0_f64),
        air in 0.0..1.2_f64, seconds in 0.0..1e7_f64,
    ) {
        let chain = BufferChain::new(&material, Coating::Permeance(permeance), room()).unwrap();
        let mut rh = start;
        let taken = chain.step(&mut rh, air * p_ws(), FILM, p_ws(), seconds);
        let before = chain.water_kg_m2(&start);
        let after = chain.water_kg_m2(&rh);
        prop_assert!((after - before - taken).abs() <= 1e-12 * (before + after + taken.abs()));
        let low = start.iter().copied().fold(air, f64::min) - 1e-12;
        let high = start.iter().copied().fold(air, f64::max) + 1e-12;
        prop_assert!(rh.iter().all(|rh| (low..=high).contains(rh)), "{:?} {:?}", start, rh);
    }

    /// A tighter coating never takes up more.
    #[test]
    fn tighter_paint_buffers_less(a in 1e-11..1e-8_f64, more in 1.0..10.0_f64) {
        let value = |permeance| {
            let board = Material::gypsum_board();
            let chain = BufferChain::new(&board, Coating::Permeance(permeance), room()).unwrap();
            chain.practical_buffer_value_g(room()).unwrap()
        };
        prop_assert!(value(a) <= value(a * more) * (1.0 + 1e-5));
    }

    #[test]
    fn any_number_leaves_numbers(
        values in prop::array::uniform4(prop::num::f64::ANY), start in prop::array::uniform3(-2.0..2.0_f64),
    ) {
        let chain =
            BufferChain::new(&Material::gypsum_board(), Coating::Latex, room()).unwrap();
        let mut rh = start;
        let [air, film, p_ws, seconds] = values;
        let taken = chain.step(&mut rh, air, film, p_ws, seconds);
        prop_assert!(taken.is_finite() && rh.iter().all(|rh| rh.is_finite()));
        let material = Material {
            density_kg_m3: air, sorption_slope: film, permeability_kg_m_s_pa: p_ws,
            thickness: Length::from_m(seconds),
        };
        if let Ok(chain) = BufferChain::new(&material, Coating::Bare, room()) {
            prop_assert!(chain.conductance.iter().all(|g| g.is_finite()));
        }
    }
}
