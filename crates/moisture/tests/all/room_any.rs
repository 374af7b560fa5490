//! Rooms as nobody would build them, in weather as nobody has it: balances close, nothing is negative, nothing is no number.

use crate::common::{bathroom, flows, humidistat, one_shower, winter};
use dewpath_moisture::room::{
    Boundary, Care, Control, House, Level, Model, Simulation, Sorption, Step, Thermal,
};
use dewpath_moisture::saturation::Saturation;
use proptest::prelude::*;

fn room() -> impl Strategy<Value = Model> {
    let sizes = (1.0..200.0_f64, 1e-3..30.0_f64, 0.0..20.0_f64, 0.0..0.5_f64);
    let air = (0.0..0.2_f64, 0.0..3.0_f64, 0.2..3.0_f64, 0.0..5e-3_f64);
    let kinds = (any::<bool>(), any::<bool>(), any::<bool>(), 0..=4_usize);
    (sizes, air, kinds).prop_map(|(sizes, air, (is_held, has_house, sorbs, surfaces))| {
        let (dry_air_kg, times_heat, times_transfer, wetted_kg) = sizes;
        let (fan, changes, mixing, vapour_kg_s) = air;
        let mut model = bathroom();
        model.dry_air_kg = dry_air_kg;
        model.mixing = mixing;
        model.flows = vec![flows(fan, changes)];
        model.shower.vapour_kg_s = vapour_kg_s;
        model.shower.less_kg_s = vapour_kg_s / 0.0464;
        model.surfaces.truncate(surfaces);
        for s in &mut model.surfaces {
            s.heat_j_k *= times_heat;
            s.vapour_kg_s *= times_transfer;
            s.wetted_kg = wetted_kg;
        }
        if is_held {
            model.thermal = Thermal::Held(20.0);
        }
        if !has_house {
            model.house = House::Held;
        }
        if !sorbs {
            model.sorption = Sorption::default();
        }
        model.between_uses = if sorbs { Level::Off } else { Level::Low };
        model
    })
}

fn weather() -> impl Strategy<Value = Boundary> {
    (-40.0..45.0_f64, 0.0..=1.0_f64, 5.0..35.0_f64, 0.0..=1.0_f64, 0.0..1.0_f64).prop_map(
        |(outdoor_c, outdoors, house_c, house, cooled_kg_s)| {
            let table = Saturation::shared();
            Boundary {
                outdoor_c,
                outdoor_w: outdoors * table.humidity_ratio(outdoor_c, 101_325.0),
                house_c,
                house_w: house * table.humidity_ratio(house_c, 101_325.0),
                cooled_kg_s,
                ..winter()
            }
        },
    )
}

fn care() -> impl Strategy<Value = Care> {
    prop_oneof![Just(Care::default()), Just(Care::year())]
}

proptest! {
    #[test]
    fn balances_close_in_any_room(
        model in room(),
        hours in prop::collection::vec(weather(), 4),
        care in care(),
        by_humidity in any::<bool>(),
    ) {
        let control = if by_humidity { humidistat() } else { Control::Switch { run_on_s: 600 } };
        let events = one_shower(10);
        let mut sim = Simulation::new(&model, control, &events, hours[0], care).expect("it is possible");
        let mut worst = f64::INFINITY;
        let mut is_number = true;
        for hour in hours.iter().cycle().take(16) {
            sim.set_boundary(*hour);
            sim.run(3600, &mut |step: &Step<'_>| {
                let s = step.after;
                worst = worst.min(s.room_w()).min(step.house_w);
                for j in 0..model.surfaces.len() {
                    worst = worst.min(s.water_kg(j));
                    is_number &= (-60.0..1e4).contains(&s.surface_c(j));
                    is_number &= (-1e2..1e4).contains(&step.mean_surface_c(j));
                }
                is_number &= (-60.0..1e4).contains(&s.room_c()) && s.room_w() < 1.0;
                is_number &= !by_humidity || (0.0..=1.0).contains(&s.reading());
            });
            let humidity = sim.room_humidity();
            prop_assert!(model.surfaces.is_empty() || humidity <= 1.0 + 1e-9, "fog: {humidity}");
        }
        prop_assert!(is_number);
        prop_assert!(worst >= -1e-12, "{worst}");
        prop_assert!(sim.water_residual() < 1e-9, "water {}", sim.water_residual());
        prop_assert!(sim.energy_residual() < 1e-9, "energy {}", sim.energy_residual());
    }
}
