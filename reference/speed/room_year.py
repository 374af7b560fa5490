"""The other side of the room's year: the same equations in fixed steps, compiled by numba.

    room_year.py one-zone|dwelling ROWS.csv STEP_S ROUNDS

takes the rows that our example program `speed_room` prints (what is followed, hour by hour) and prints its own sums and
best time as JSON. Compiling is not timed. It needs the environment of `requirements.txt` beside this file.

- `one-zone` is written out for this one problem: one cold wall, one sorbing layer, a fan with hysteresis; each step is
  linear and implicit in the humidity of the air, and what depends on the hour alone is worked out once an hour.
- `dwelling` takes the balances of `room_equations.py` as they are, in steps of Heun's method, and puts right after each
  step what a step of that length leaves wrong: water below nothing, fog, drops that cannot stay.
"""

import csv
import json
import math
import sys
import time
from collections import defaultdict, namedtuple
from pathlib import Path

import numba
import numpy

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))
import room_equations as equations  # noqa: E402

njit = numba.njit(cache=False, fastmath=False)
for name in (
    "saturation_pressure", "saturated_ratio", "relative_humidity", "length_of", "place_of_house", "place_of_warmth",
    "place_of_water", "place_of_sums", "chain", "surface_temperature", "rates",
):
    setattr(equations, name, njit(getattr(equations, name)))

Control = namedtuple("Control", "on_at off_at sampling_s lag_s")


def read(path):
    values = defaultdict(dict)
    with open(path, encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            values[row["what"]][int(row["time_s"]), int(row["place"])] = float(row["value"])
    return dict(values)


class Problem:
    """What is followed, as arrays and tuples that numba takes."""

    def __init__(self, values):
        def one(what, otherwise=None):
            return values.get(what, {}).get((0, 0), otherwise)

        def many(what):
            found = values.get(what, {})
            return tuple(found[key] for key in sorted(found)) or (0.0,)

        held = one("model.held_c")
        self.room = equations.Room(
            one("model.pressure_pa"), one("model.dry_air_kg"), held is not None, held or 0.0, one("model.mixing"),
            one("model.vapour_kg_s"), one("model.heat_w"), one("shower.vapour_kg_s"), one("shower.less_kg_s"),
            one("shower.heat_w"), int(one("sorption.layers")), many("sorption.holds_kg"), many("sorption.exchange_kg_s"),
            "house.dry_air_kg" in values, one("house.dry_air_kg", 1.0), one("house.vapour_kg_s", 0.0),
            one("house.coil_w", 0.0), int(one("house.layers", 0)), many("house.holds_kg"), many("house.exchange_kg_s"),
            len(many("surface.area_m2")), many("surface.heat_j_k"), many("surface.air_w_k"), many("surface.vapour_kg_s"),
            many("surface.back_w_k"), tuple(int(back) for back in many("surface.back")), many("surface.holds_kg"),
            many("surface.wetted_kg"), many("surface.heated_w"), many("surface.factor"),
        )
        self.control = Control(
            one("control.on_at"), one("control.off_at"), int(one("control.sampling_s")), one("control.lag_on_s")
        )
        self.start_w = one("start.w")
        self.flows = numpy.array(many("flows")).reshape(-1, 3, 2, 7)
        names = [*equations.Boundary._fields, "class"]
        hours = sorted(time for time, _ in values["boundary.class"])
        self.hours = numpy.array([[values[f"boundary.{name}"][time, 0] for name in names] for time in hours])
        # Happenings of a day as (second, what), what being 0 shower on, 1 shower off, 2 door shut, 3 door open.
        kinds = ("shower_on", "shower_off", "door_shut", "door_open")
        events = [(time, kind) for kind, name in enumerate(kinds) for time, _ in values.get(f"event.{name}", {})]
        self.events = numpy.array(sorted(events))


@njit
def one_zone_year(m, control, flows, hours, events, start_w, step_s):
    """Vapour drawn off, kg, and seconds of the fan."""
    w, layer_w, film_kg, reading = start_w, start_w, 0.0, 0.0
    exhausted = fan_s = 0.0
    is_on = False
    air_kg, transfer, holds, exchange = m.dry_air_kg, m.transfer_kg_s[0], m.holds_kg[0], m.exchange_kg_s[0]
    saturation = equations.saturation_pressure(m.held_c)
    reading = m.pressure_pa * w / (equations.MASS_RATIO + w) / saturation
    saturated_w = equations.saturated_ratio(m.held_c, m.pressure_pa)
    follows = 1.0 - math.exp(-step_s / control.lag_s)
    layer_follows = step_s * exchange / holds / (1.0 + step_s * exchange / holds)
    shower, next_event, second = False, 0, 0
    for hour in range(hours.shape[0]):
        outdoor_c, outdoor_w, house_w = hours[hour, 0], hours[hour, 1], hours[hour, 3]
        wall_c = m.factor[0] * m.held_c + (1.0 - m.factor[0]) * outdoor_c
        wall_w = equations.saturated_ratio(wall_c, m.pressure_pa)
        for _ in range(3600 // step_s):
            day_s = second % 86400
            if day_s == 0:
                next_event = 0
            while next_event < events.shape[0] and events[next_event, 0] <= day_s:
                if events[next_event, 1] < 2:
                    shower = events[next_event, 1] == 0
                next_event += 1
            f = flows[0, 2 if is_on else 0, 0]
            source = m.vapour_kg_s + (m.shower_vapour_kg_s if shower else 0.0)
            brought = f[0] * house_w + f[1] * outdoor_w
            # Implicit in the air, with the layer taken along; the wall takes part when it is wet or about to be.
            gives = exchange * (1.0 - layer_follows)
            loss = f[4] + gives
            gain = source + brought + gives * layer_w
            before = w
            w = (air_kg * w + step_s * (gain + transfer * wall_w)) / (air_kg + step_s * (loss + transfer))
            moved = step_s * transfer * (w - wall_w)
            if moved < -film_kg:
                moved = -film_kg
                w = (air_kg * before + step_s * gain - moved) / (air_kg + step_s * loss)
            film_kg += moved
            if w > saturated_w:
                film_kg += air_kg * (w - saturated_w)
                w = saturated_w
            layer_w += layer_follows * (w - layer_w)
            exhausted += step_s * f[4] * w
            if is_on:
                fan_s += step_s
            seen = min(m.pressure_pa * w / (equations.MASS_RATIO + w) / saturation, 1.0)
            reading += follows * (seen - reading)
            second += step_s
            if second % control.sampling_s == 0:
                is_on = reading > (control.off_at if is_on else control.on_at)
    return exhausted, 0.0, fan_s


@njit
def put_right(y, m, b, house, warmth, water, sums):
    """Water below nothing comes back out of the air; fog and drops that cannot stay leave."""
    for j in range(m.surfaces):
        missing = -y[water + j]
        if missing > 0.0:
            y[water + j] = 0.0
            y[0] -= missing / m.dry_air_kg
            y[warmth + 1 + j] += equations.LATENT_J_KG * missing / m.heat_j_k[j]
        over = y[water + j] - max(m.most_kg[j], m.wetted_kg[j])
        if over > 0.0:
            y[water + j] -= over
            y[sums + 2] += over
    saturated = equations.saturated_ratio(y[warmth], m.pressure_pa)
    if y[0] > saturated:
        slope = saturated * 17.27 * 237.3 / (237.3 + y[warmth]) ** 2
        fog = (y[0] - saturated) / (1.0 + slope * equations.LATENT_J_KG / equations.AIR_J_KG_K)
        y[0] -= fog
        y[water] += fog * m.dry_air_kg
        y[warmth] += fog * equations.LATENT_J_KG / equations.AIR_J_KG_K


@njit
def dwelling_year(m, control, flows, hours, events, start_w, step_s):
    """Vapour drawn off and taken out by the coil, kg, and seconds of the fan."""
    house, warmth = equations.place_of_house(m), equations.place_of_warmth(m)
    water, sums = equations.place_of_water(m), equations.place_of_sums(m)
    size = equations.length_of(m)
    y, first, second_rate, ahead = numpy.zeros(size), numpy.zeros(size), numpy.zeros(size), numpy.zeros(size)
    is_wet = numpy.zeros(m.surfaces, dtype=numpy.bool_)
    y[:warmth] = start_w
    y[warmth:water] = hours[0, 2]
    reading = equations.relative_humidity(y[0], y[warmth], m.pressure_pa)
    follows = 1.0 - math.exp(-step_s / control.lag_s)
    shower, door, is_on, fan_s = False, 1, False, 0.0
    next_event, second = 0, 0
    for hour in range(hours.shape[0]):
        h = hours[hour]
        b = equations.Boundary(h[0], h[1], h[2], h[3], h[4], h[5])
        weather_class = int(h[6])
        for _ in range(3600 // step_s):
            day_s = second % 86400
            if day_s == 0:
                next_event = 0
            while next_event < events.shape[0] and events[next_event, 0] <= day_s:
                what = events[next_event, 1]
                if what < 2:
                    shower = what == 0
                    if what == 1:
                        for j in range(m.surfaces):
                            y[water + j] = max(y[water + j], m.wetted_kg[j])
                else:
                    door = 1 if what == 3 else 0
                next_event += 1
            q = flows[weather_class, 2 if is_on else 0, door]
            f = equations.Flows(q[0], q[1], q[2], q[3], q[4], q[5], q[6])
            for j in range(m.surfaces):
                is_wet[j] = y[water + j] > 0.0 or y[0] > equations.saturated_ratio(y[warmth + 1 + j], m.pressure_pa)
            equations.rates(y, first, m, f, b, shower, shower or is_on, is_wet, 0.0)
            for i in range(size):
                ahead[i] = y[i] + step_s * first[i]
            equations.rates(ahead, second_rate, m, f, b, shower, shower or is_on, is_wet, 0.0)
            for i in range(size):
                y[i] += 0.5 * step_s * (first[i] + second_rate[i])
            put_right(y, m, b, house, warmth, water, sums)
            if is_on:
                fan_s += step_s
            seen = min(equations.relative_humidity(y[0], y[warmth], m.pressure_pa), 1.0)
            reading += follows * (seen - reading)
            second += step_s
            if second % control.sampling_s == 0:
                is_on = reading > (control.off_at if is_on else control.on_at)
    return y[sums], y[sums + 1], fan_s


YEARS = {"one-zone": one_zone_year, "dwelling": dwelling_year}


def main():
    name, path, step_s, rounds = sys.argv[1], sys.argv[2], int(sys.argv[3]), int(sys.argv[4])
    problem = Problem(read(path))
    year = YEARS[name]

    def run(hours):
        return year(
            problem.room, problem.control, problem.flows, hours, problem.events, problem.start_w, step_s
        )

    run(problem.hours[:24])  # compiles
    best, sums = math.inf, None
    for _ in range(rounds):
        start = time.perf_counter()
        sums = run(problem.hours)
        best = min(best, time.perf_counter() - start)
    print(json.dumps({"seconds": best, "exhausted_kg": sums[0], "dried_kg": sums[1], "fan_s": sums[2]}))


if __name__ == "__main__":
    main()
