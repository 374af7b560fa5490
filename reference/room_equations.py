"""The balances of a room and its dwelling, written again in plain Python.

The equations are those at the head of the module `room` of the crate dewpath-moisture; nothing of its way of stepping is
in here. `rates` says how fast everything changes, for scipy's integration (`test_room.py`) and, compiled by numba, for the
side-by-side timing (`speed/room_year.py`); therefore it uses tuples and plain loops only.

What is followed stands in one list: the humidity ratio of the room, of its sorbing layers, of the dwelling, of its
layers; the temperature of the room and of each surface; the water on each surface; and sums: vapour drawn off by the fan,
water taken out of the dwelling by its air conditioner, water run off.
"""

import math
from collections import namedtuple

MASS_RATIO = 0.621945
LATENT_J_KG = 2.4536e6
AIR_J_KG_K = 1006.0 + 1860.0 * 0.008

# The far sides of a surface.
HOUSE, OUTDOORS, WATER = 0, 1, 2

Room = namedtuple(
    "Room",
    "pressure_pa dry_air_kg is_held held_c mixing vapour_kg_s heat_w tempered shower_vapour_kg_s shower_less_kg_s shower_heat_w "
    "layers holds_kg exchange_kg_s has_house house_air_kg house_vapour_kg_s coil_w house_layers house_holds_kg "
    "house_exchange_kg_s surfaces heat_j_k air_w_k transfer_kg_s back_w_k back most_kg wetted_kg heated_w factor",
)
Flows = namedtuple(
    "Flows",
    "house_to_room outdoors_to_room room_to_house room_to_outdoors exhaust outdoors_to_house house_to_outdoors",
)
Boundary = namedtuple("Boundary", "outdoor_c outdoor_w house_c house_w water_c cooled_kg_s")


def saturation_pressure(t_c):
    """Over ice below the triple point, over water above (Hyland and Wexler 1983; ASHRAE Fundamentals 2017, ch. 1)."""
    t = t_c + 273.15
    if t_c < 0.01:
        return math.exp(
            -5.6745359e3 / t + 6.3925247 - 9.677843e-3 * t + 6.2215701e-7 * t**2 + 2.0747825e-9 * t**3
            - 9.484024e-13 * t**4 + 4.1635019 * math.log(t)
        )
    return math.exp(
        -5.8002206e3 / t + 1.3914993 - 4.8640239e-2 * t + 4.1764768e-5 * t**2 - 1.4452093e-8 * t**3
        + 6.5459673 * math.log(t)
    )


def saturated_ratio(t_c, pressure_pa):
    vapour = saturation_pressure(t_c)
    return MASS_RATIO * vapour / (pressure_pa - vapour)


def relative_humidity(w, t_c, pressure_pa):
    return pressure_pa * w / (MASS_RATIO + w) / saturation_pressure(t_c)


def length_of(m):
    """How many numbers `rates` works on."""
    return 2 + m.layers + (1 + m.house_layers if m.has_house else 0) + 2 * m.surfaces + 3


def place_of_house(m):
    return 1 + m.layers


def place_of_warmth(m):
    return 1 + m.layers + (1 + m.house_layers if m.has_house else 0)


def place_of_water(m):
    return place_of_warmth(m) + 1 + m.surfaces


def place_of_sums(m):
    return place_of_water(m) + m.surfaces


def chain(y, dy, air, air_kg, layers, holds_kg, exchange_kg_s):
    """Sorbing layers behind the air at place `air`, each exchanging with the one before it."""
    before_kg = air_kg
    for layer in range(layers):
        place, before = air + 1 + layer, air + layer
        flow = exchange_kg_s[layer] * (y[before] - y[place])
        dy[before] -= flow / before_kg
        dy[place] += flow / holds_kg[layer]
        before_kg = holds_kg[layer]


def rates(y, dy, m, f, b, showers, heats, is_wet, settling_per_s):
    """Writes into `dy` how fast each number of `y` changes, per second.

    `is_wet` says of each surface whether it exchanges water with the air. What the air or a surface cannot hold leaves it
    at the rate `settling_per_s`; in truth at once.
    """
    for i in range(len(y)):
        dy[i] = 0.0
    house, warmth, water, sums = place_of_house(m), place_of_warmth(m), place_of_water(m), place_of_sums(m)
    w, t = y[0], y[warmth]
    w_house = y[house] if m.has_house else b.house_w

    # Air in and out, sources, sorption.
    coming = f.house_to_room + f.outdoors_to_room
    brought = f.house_to_room * w_house + f.outdoors_to_room * b.outdoor_w
    drawn_w = w
    if coming > 0.0:
        drawn_w = brought / coming + m.mixing * (w - brought / coming)
    gain = brought - (f.room_to_house + f.room_to_outdoors) * w - f.exhaust * drawn_w + m.vapour_kg_s
    heat = m.heat_w
    if showers:
        gain += m.shower_vapour_kg_s - m.shower_less_kg_s * w
        heat += m.shower_heat_w
    dy[0] += gain / m.dry_air_kg
    dy[sums] = f.exhaust * drawn_w
    chain(y, dy, 0, m.dry_air_kg, m.layers, m.holds_kg, m.exchange_kg_s)

    if m.has_house:
        gain = (
            f.room_to_house * w + f.outdoors_to_house * b.outdoor_w - (f.house_to_room + f.house_to_outdoors) * w_house
            + m.house_vapour_kg_s
        )
        dried = b.cooled_kg_s * max(w_house - m.coil_w, 0.0)
        dy[house] += (gain - dried) / m.house_air_kg
        dy[sums + 1] = dried
        chain(y, dy, house, m.house_air_kg, m.house_layers, m.house_holds_kg, m.house_exchange_kg_s)

    # Heat of the air, heat and water of the surfaces.
    air_j_k = m.dry_air_kg * AIR_J_KG_K
    if not m.is_held:
        # Heating makes up a share of what air from outdoors lacks against the dwelling.
        leaked_c = b.outdoor_c + m.tempered * (b.house_c - b.outdoor_c)
        heat += AIR_J_KG_K * (f.house_to_room * (b.house_c - t) + f.outdoors_to_room * (leaked_c - t))
    for j in range(m.surfaces):
        t_surface = y[warmth + 1 + j]
        if m.is_held:
            t_surface = m.factor[j] * m.held_c + (1.0 - m.factor[j]) * b.outdoor_c
        condenses = 0.0
        if is_wet[j]:
            condenses = m.transfer_kg_s[j] * (w - saturated_ratio(t_surface, m.pressure_pa))
        dy[0] -= condenses / m.dry_air_kg
        dy[water + j] += condenses
        if not m.is_held:
            far_c = b.water_c
            if m.back[j] == HOUSE:
                far_c = b.house_c
            elif m.back[j] == OUTDOORS:
                far_c = b.outdoor_c
            given = m.air_w_k[j] * (t - t_surface)
            taken = m.back_w_k[j] * (far_c - t_surface) + LATENT_J_KG * condenses
            if heats:
                taken += m.heated_w[j]
            heat -= given
            dy[warmth + 1 + j] = (given + taken) / m.heat_j_k[j]
        over = y[water + j] - max(m.most_kg[j], m.wetted_kg[j])
        if over > 0.0:
            dy[water + j] -= settling_per_s * over
            dy[sums + 2] += settling_per_s * over

    fog = w - saturated_ratio(t, m.pressure_pa)
    if fog > 0.0:
        dy[0] -= settling_per_s * fog
        dy[water] += settling_per_s * fog * m.dry_air_kg
        heat += settling_per_s * fog * m.dry_air_kg * LATENT_J_KG
    if not m.is_held:
        dy[warmth] = heat / air_j_k


def surface_temperature(y, m, b, j):
    if m.is_held:
        return m.factor[j] * m.held_c + (1.0 - m.factor[j]) * b.outdoor_c
    return y[place_of_warmth(m) + 1 + j]
