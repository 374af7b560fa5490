//! The balances of a room as rates of linear systems.

use super::linear::{Rates, STATES};
use super::model::{AIR_J_KG_K, Back, Flows, House, Model, ShowerSource, Sorption};

// Inputs of the humidity system.
/// Humidity ratio outdoors.
pub(super) const OUTDOORS: usize = 0;
/// Humidity ratio of the dwelling where it is held; where it is a zone, vapour put into it, kg/s.
pub(super) const HOUSE: usize = 1;
/// One.
pub(super) const ONE: usize = 2;
/// Vapour put into the room's air, kg/s.
pub(super) const SUPPLY: usize = 3;
// Inputs of the heat system; outdoors and house as above.
const WATER: usize = 2;
const ONE_HEAT: usize = 3;
// Integrals of the humidity system, as rows of its maps.
/// What left the zones with air.
pub(super) const OUT: usize = 0;
/// What the fan drew off.
pub(super) const EXHAUSTED: usize = 1;
/// Humidity ratio of the room.
pub(super) const ROOM_W: usize = 2;
/// Humidity ratio of the dwelling.
pub(super) const HOUSE_W: usize = 3;
// Integrals of the heat system.
/// Heat that came in.
pub(super) const NET_HEAT: usize = 0;
/// Temperature of the room.
pub(super) const ROOM_C: usize = 1;

/// The humidity balance of room and dwelling as rates.
///
/// `wet_kg_s` is the transfer of the wet surfaces that are taken along: they draw off that much of the room's humidity,
/// and input [`SUPPLY`] brings what stands at their faces.
pub(super) fn humidity_rates(model: &Model, f: &Flows, shower: bool, wet_kg_s: f64) -> Rates {
    let layers = model.sorption.layers();
    let house = 1 + layers;
    let (states, zone) = match &model.house {
        House::Held => (house, None),
        House::Zone { dry_air_kg, sorption, vapour_kg_s, .. } => {
            let fits = sorption.layers().min(STATES - house - 1);
            (house + 1 + fits, Some((*dry_air_kg, *sorption, *vapour_kg_s, fits)))
        }
    };
    let mut rates = Rates::new(states, 4);
    let m = model.dry_air_kg;
    // Room air: what comes in ...
    let coming_in = f.house_to_room + f.outdoors_to_room;
    if zone.is_some() {
        rates.state(0, house, f.house_to_room / m);
    } else {
        rates.input(0, HOUSE, f.house_to_room / m);
    }
    rates.input(0, OUTDOORS, f.outdoors_to_room / m);
    // ... what goes out at the room's own humidity ...
    rates.state(0, 0, -(f.room_to_house + f.room_to_outdoors) / m);
    rates.integral_of_state(OUT, 0, f.room_to_outdoors);
    // ... and what the fan draws off, richer or leaner than the room where the air is not well mixed.
    let (from_room, from_in) = if coming_in > 0.0 {
        (model.mixing * f.exhaust, (1.0 - model.mixing) * f.exhaust / coming_in)
    } else {
        (f.exhaust, 0.0)
    };
    rates.state(0, 0, -from_room / m);
    for integral in [OUT, EXHAUSTED] {
        rates.integral_of_state(integral, 0, from_room);
    }
    let leaner = [(HOUSE, f.house_to_room * from_in), (OUTDOORS, f.outdoors_to_room * from_in)];
    for (input, flow) in leaner {
        if input == HOUSE && zone.is_some() {
            rates.state(0, house, -flow / m);
            rates.integral_of_state(OUT, house, flow);
            rates.integral_of_state(EXHAUSTED, house, flow);
        } else {
            rates.input(0, input, -flow / m);
            rates.integral_of_input(OUT, input, flow);
            rates.integral_of_input(EXHAUSTED, input, flow);
        }
    }
    // Into a dwelling that is held the air is lost.
    if zone.is_none() {
        rates.integral_of_state(OUT, 0, f.room_to_house);
    }
    let source = if shower { model.shower } else { ShowerSource::default() };
    rates.input(0, ONE, (model.vapour_kg_s + source.vapour_kg_s) / m);
    rates.state(0, 0, -source.less_kg_s / m);
    rates.integral_of_state(ROOM_W, 0, 1.0);
    rates.input(0, SUPPLY, 1.0 / m);
    rates.state(0, 0, -wet_kg_s / m);
    chain(&mut rates, 0, m, 1, &model.sorption, layers);
    if let Some((mass, sorption, vapour_kg_s, fits)) = zone {
        rates.state(house, 0, f.room_to_house / mass);
        rates.input(house, OUTDOORS, f.outdoors_to_house / mass);
        rates.state(house, house, -(f.house_to_room + f.house_to_outdoors) / mass);
        rates.integral_of_state(OUT, house, f.house_to_outdoors);
        rates.input(house, ONE, vapour_kg_s / mass);
        rates.input(house, HOUSE, 1.0 / mass);
        rates.integral_of_state(HOUSE_W, house, 1.0);
        chain(&mut rates, house, mass, house + 1, &sorption, fits);
    }
    rates
}

/// Sorbing layers behind the air of a zone.
fn chain(rates: &mut Rates, air: usize, mass: f64, first: usize, s: &Sorption, layers: usize) {
    let mut before = (air, mass);
    for layer in 0..layers {
        let here = (first + layer, s.holds_kg[layer]);
        let g = s.exchange_kg_s[layer];
        for ((a, mass), (b, _)) in [(before, here), (here, before)] {
            rates.state(a, a, -g / mass);
            rates.state(a, b, g / mass);
        }
        before = here;
    }
}

/// The heat balance of the room's air and surfaces as rates.
pub(super) fn heat_rates(model: &Model, f: &Flows, shower: bool, heats: bool) -> Rates {
    let n = model.surfaces.len();
    let mut rates = Rates::new(n + 1, 4);
    let air = model.dry_air_kg * AIR_J_KG_K;
    let warmed = model.tempered * f.outdoors_to_room;
    let taken = [(HOUSE, f.house_to_room + warmed), (OUTDOORS, f.outdoors_to_room - warmed)];
    for (input, flow) in taken {
        let g = flow * AIR_J_KG_K;
        rates.input(0, input, g / air);
        rates.state(0, 0, -g / air);
        rates.integral_of_input(NET_HEAT, input, g);
        rates.integral_of_state(NET_HEAT, 0, -g);
    }
    let heat = model.heat_w + if shower { model.shower.heat_w } else { 0.0 };
    rates.input(0, ONE_HEAT, heat / air);
    rates.integral_of_input(NET_HEAT, ONE_HEAT, heat);
    rates.integral_of_state(ROOM_C, 0, 1.0);
    for (j, s) in model.surfaces.iter().enumerate() {
        let place = j + 1;
        rates.state(0, 0, -s.air_w_k / air);
        rates.state(0, place, s.air_w_k / air);
        rates.state(place, 0, s.air_w_k / s.heat_j_k);
        rates.state(place, place, -(s.air_w_k + s.back_w_k) / s.heat_j_k);
        let back = match s.back {
            Back::House => HOUSE,
            Back::Outdoors => OUTDOORS,
            Back::Water => WATER,
        };
        rates.input(place, back, s.back_w_k / s.heat_j_k);
        rates.integral_of_input(NET_HEAT, back, s.back_w_k);
        rates.integral_of_state(NET_HEAT, place, -s.back_w_k);
        if heats {
            rates.input(place, ONE_HEAT, s.heated_w / s.heat_j_k);
            rates.integral_of_input(NET_HEAT, ONE_HEAT, s.heated_w);
        }
    }
    rates
}
