"""Water in a duct on a cold day, against a model of its own: a shower's air, its run-on, and the slow drift at rest.

The room is that of `wet_room.py`. Along the duct air goes through cells, in each of which it comes nearer to the wall by
1 - exp(-NTU), heat and vapour alike; walls, water and frost are stepped in time, all jobs at once. The same day comes
up to four times, until two leave the same (`docs/physics.md`).

Sources: Gnielinski (friction by fluids, Clamond) with 1 + (D/L)^(2/3), and Hausen in laminar flow, by ht (Incropera, ch. 8);
Churchill & Chu for a lying cylinder by ht, radiation at an emissivity of 0.9; layers around a cylinder: ISO 12241, a label's
resistance being that of a flat blanket of 0.036 W/(m K); Lewis relation as in the room. Steel stores 7850 kg/m³ times 460
J/(kg K); heat of evaporation and of fusion: ASHRAE Fundamentals 2017, ch. 1. A wall carries 0.07 kg/m² before water
runs (judgement, 0.05 to 0.1).

The dwelling is written so large that neither a shower nor the fan moves its humidity, which is held here. Drift at rest, the
space around the duct and air through the door cannot be written: they come from what the report lists.
"""

import math
import random

import numpy
import pytest
from conftest import cases
from fluids.friction import Clamond
from ht.conv_free_immersed import Nu_horizontal_cylinder_Churchill_Chu
from ht.conv_internal import laminar_entry_thermal_Hausen, turbulent_Gnielinski
from program_runs import Pair, assumed, away, likely, report
from wet_room import BOARD, GLASS, LEWIS_FACTOR, TABLE_C, TABLE_STEP_K, TILE, Happening, Room, Surface, heat_capacity, saturated

SEED = 1350
JOBS = cases(14)
SHOWER_S = 7 * 3600.0
DAY_S = 86_400.0
ALTITUDE_M = 200.0
EVAPORATION_J_KG, FUSION_J_KG = 2.501e6, 3.336e5
STEEL_J_M3_K = 7850.0 * 460.0
LABEL_W_M_K = 0.036
# Less than this is the drift of a fan at rest.
DRIFTS_KG_S = 0.005
# Two days are alike that leave the same within a share or so many grams.
ALIKE, ALIKE_G = 0.005, 0.02
RUNS_KG_M2 = 0.07
# One h ft2 F/Btu in m2 K/W.
R_LABEL = 0.1761101838


def generated(index):
    rng = random.Random(SEED + index)
    return {
        "indoor": rng.uniform(20, 23),
        "outdoor": rng.uniform(-20, 3),
        "humidity": rng.uniform(0.22, 0.50),
        "vapour": rng.uniform(1.5, 3.0) / 3600.0,
        "minutes": rng.randint(6, 14),
        "run_on": rng.randint(5, 45),
        "door_after": rng.randint(4, 12),
        "flow": rng.uniform(0.015, 0.040),
        "d": rng.choice([0.100, 0.125, 0.150]),
        "length": rng.uniform(1.5, 9.0),
        "label": rng.choice([2.1, 4.2, 6.0, 8.0]),
        "wall": rng.uniform(0.0004, 0.0007),
        "leak_cm2": rng.uniform(2.0, 12.0),
        "fall": rng.choice(["to outdoors", "to outdoors", "to the fan", "level"]),
    }


def written(job):
    flow = 1000 * job["flow"]
    return f"""format = 1
show = "metric"
rule_book = "us-irc-2021"
site = {{ altitude = "{ALTITUDE_M} m", indoor = "{job["indoor"]!r} C", outdoor = "{job["outdoor"]!r} C" }}
dwelling = {{ volume = "20000 m3", leakage = "600 cfm50", heating = "{job["indoor"]!r} C", burns_fuel = false, storeys = 1, humidity = "{100 * job["humidity"]!r} %" }}
[room]
kind = "bathroom"
length = "2.6 m"
width = "2 m"
height = "2.4 m"
temperature = "{job["indoor"]!r} C"
operation = "intermittent"
mixing = 1.0
finish = "tile"
finish_area = "22 m2"
textiles = "0 kg"
door = {{ width = "760 mm", gap = "25 mm", joints = "150 cm2", coefficient = 0.62 }}
[room.use]
showers = 1
at = ["07:00"]
minutes = "{job["minutes"]} min"
vapour = "{3600 * job["vapour"]!r} kg/h"
water = "9 L/min"
water_temperature = "40 C"
baths = 0
people = 1
door = "opened after"
door_after = "{job["door_after"]} min"
fan = "during and after"
leave_on = "{job["run_on"]} min"
[[room.surface]]
id = "tiles"
kind = "tile"
area = "4 m2"
insulation = "0.45 m2K/W"
other_side = "heated"
[[room.surface]]
id = "mirror"
kind = "mirror"
area = "0.6 m2"
insulation = "0.45 m2K/W"
other_side = "heated"
[fan]
control = "switch"
damper = false
curve = ["0 L/s at 900 Pa", "{1.5 * flow!r} L/s at 800 Pa", "{2 * flow!r} L/s at 0 Pa"]
holds_flow = "{flow!r} L/s"
[run]
duct = "smooth metal"
size = "{1000 * job["d"]!r} mm"
wall = "{1000 * job["wall"]!r} mm"
roughness = "0.09 mm"
length = "{job["length"]!r} m"
elbows = 0
place = "attic"
insulation = "R-{job["label"]}"
jacket = "plain"
compressed = 0.0
slope = "{job["fall"]}"
sealed = true
[terminal]
kind = "wall cap"
flap = true
flap_opens = true
screen = "none"
leak = "{job["leak_cm2"]!r} cm2"
"""


def room_of(job, found):
    # What surfaces radiate goes to the air, as the program has it: `test_shower_model.py` says what that does.
    return Room(
        ALTITUDE_M, 2.6 * 2.0 * 2.4, job["indoor"], job["humidity"], job["vapour"], 40.0,
        [
            Surface(22.0, [BOARD], assumed(found, "room.room.lining.insulation")),
            Surface(4.0, [TILE, BOARD], 0.45, is_wetted=True),
            Surface(0.6, [GLASS], 0.45),
        ],
        radiation_to_air=True,
    )


class Air:
    """What comes into the duct of one job through the day."""

    def __init__(self, job, found):
        self.job, self.room = job, room_of(job, found)
        self.drift = assumed(found, "dwelling.idle_duct") / 1000
        shut, is_open = (assumed(found, f"dwelling.{door}_door") / 1000 for door in ("idle", "open"))
        end = SHOWER_S + 60.0 * job["minutes"]
        opens, self.stops = end + 60.0 * job["door_after"], end + 60.0 * job["run_on"]

        def happening(start, until):
            runs = SHOWER_S <= start < self.stops
            # A fan that draws through a shut door lets nothing back.
            swap = is_open if start < SHOWER_S - 60.0 or start >= opens else 0.0 if runs else shut
            return Happening(
                start, until, job["flow"] if runs else self.drift, swap, shower=SHOWER_S <= start < end, wets=start == end
            )

        times = sorted({0.0, SHOWER_S - 60.0, SHOWER_S, end, opens, self.stops, DAY_S})
        self.course = self.room.course([happening(*span) for span in zip(times, times[1:])])

    def at(self, time):
        """Flow of dry air (kg/s), temperature and humidity ratio."""
        runs = SHOWER_S <= time < self.stops
        return (
            self.room.density * (self.job["flow"] if runs else self.drift),
            numpy.interp(time, self.course.time_s, self.course.temperature_c),
            numpy.interp(time, self.course.time_s, self.course.ratio),
        )


def inside(job, dry_kg_s):
    """Coefficient of convection inside, W/(m² K), of air at 10 °C."""
    viscosity, conductivity, prandtl = 1.77e-5, 0.0251, 0.71
    d, length = job["d"], job["length"]
    reynolds = 4.0 * dry_kg_s * 1.01 / (numpy.pi * d * viscosity)
    if reynolds < 2300.0:
        nusselt = laminar_entry_thermal_Hausen(reynolds, prandtl, length, d)
    else:
        friction = Clamond(reynolds, 9e-5 / d)
        nusselt = turbulent_Gnielinski(reynolds, prandtl, friction) * (1.0 + (d / length) ** (2.0 / 3.0))
    return nusselt * conductivity / d


def outside_rsi(job, around_c):
    """From the wall to the air around, m² K/W of the inner face, with the duct halfway to the room."""
    d = job["d"]
    outer = d + 2.0 * LABEL_W_M_K * job["label"] * R_LABEL
    layer = d * numpy.log(outer / d) / (2.0 * LABEL_W_M_K)
    wall_c = 0.5 * (job["indoor"] + around_c)
    film = 0.1
    for _ in range(20):
        jacket_c = around_c + (wall_c - around_c) * film / (layer + film)
        kelvin = 273.15 + 0.5 * (jacket_c + around_c)
        grashof = 9.81 / kelvin * abs(jacket_c - around_c) * outer**3 / 1.36e-5**2
        convection = Nu_horizontal_cylinder_Churchill_Chu(0.71, grashof) * 0.0245 / outer
        film = d / (outer * (convection + 4.0 * 0.9 * 5.67e-8 * kelvin**3))
    return layer + film


def steps():
    """Times of the day: seconds while fans run, then longer."""
    return numpy.concatenate([
        numpy.arange(0.0, SHOWER_S, 180.0), SHOWER_S + numpy.arange(0.0, 3600.0, 10.0),
        SHOWER_S + 3600.0 + numpy.arange(0.0, 3600.0, 40.0), numpy.arange(SHOWER_S + 7200.0, DAY_S + 1.0, 180.0),
    ])


class Ducts:
    """The ducts of all jobs, cell by cell: temperature of the wall, water and ice on it (kg/m²)."""

    def __init__(self, airs, reports, cells):
        self.jobs = [air.job for air in airs]
        self.ratios = saturated(TABLE_C, airs[0].room.pressure_pa)
        self.slopes = numpy.diff(self.ratios) / TABLE_STEP_K
        share = numpy.array([assumed(found, "site.surroundings.attic") for found in reports])
        self.around_c = self.column("indoor") * (1.0 - share) + self.column("outdoor") * share
        self.behind = 1.0 / numpy.array([outside_rsi(job, around) for job, around in zip(self.jobs, self.around_c)])
        self.area = numpy.pi * self.column("d") * self.column("length") / cells
        self.stores = STEEL_J_M3_K * self.column("wall")
        self.falls = numpy.array([job["fall"] != "level" for job in self.jobs])
        self.capacity = heat_capacity(0.008)
        self.exchanges = {}
        self.cells = [[self.around_c.copy(), numpy.zeros(len(airs)), numpy.zeros(len(airs))] for _ in range(cells)]

    def column(self, key):
        return numpy.array([job[key] for job in self.jobs])

    def exchange(self, dry):
        """What a cell takes up for each kelvin and each kg/kg between its wall and the air that comes in."""
        key = tuple(dry)
        if key not in self.exchanges:
            h = numpy.array([inside(job, m) for job, m in zip(self.jobs, dry)])
            units = h * self.area / (dry * self.capacity)
            heat, vapour = -numpy.expm1(-units), -numpy.expm1(-units / LEWIS_FACTOR)
            self.exchanges[key] = dry * self.capacity * heat / self.area, dry * vapour / self.area
        return self.exchanges[key]

    def step(self, dt, dry, t, w):
        """Leads air through the ducts for a time; what settles in all cells less what dries, kg, and what only settles."""
        heat, vapour = self.exchange(dry)
        net, gross = numpy.zeros(len(dry)), numpy.zeros(len(dry))
        for cell in self.cells:
            new, settles = self.wall_after(dt, t, w, heat, vapour, *cell)
            t = t - heat * (t - new) * self.area / (dry * self.capacity)
            w = w - settles * self.area / dry
            cell[:] = self.thawed(dt, new, settles, *cell[1:])
            net += settles * self.area * dt
            gross += numpy.maximum(settles, 0.0) * self.area * dt
        return net, gross

    def wall_after(self, dt, t, w, heat, vapour, wall, water, ice):
        """Temperature of a wall at the end of a step, with the saturation at its face along the tangent, and kg/(m² s)."""
        place = ((wall - TABLE_C[0]) / TABLE_STEP_K).astype(int)
        slope = self.slopes[place]
        over = self.ratios[place] + slope * (wall - TABLE_C[place])
        stock = water + ice
        wet = (stock > 1e-9) | (w > over)
        latent = numpy.where(wet, vapour * (EVAPORATION_J_KG + numpy.where(wall < 0.0, FUSION_J_KG, 0.0)), 0.0)
        gained = heat * t + latent * (w - over + slope * wall) + self.behind * self.around_c
        taken = heat + latent * slope + self.behind
        new = (self.stores / dt * wall + gained) / (self.stores / dt + taken)
        settles = numpy.where(wet, vapour * (w - over - slope * (new - wall)), 0.0)
        return new, numpy.maximum(settles, -stock / dt)

    def thawed(self, dt, wall, settles, water, ice):
        """A cell after its step: frost grows below 0 °C, water dries before ice, melting and freezing hold the wall at 0 °C."""
        stock = numpy.maximum(water + ice + settles * dt, 0.0)
        ice = numpy.minimum(ice + numpy.where(wall < 0.0, numpy.maximum(settles, 0.0) * dt, 0.0), stock)
        water = stock - ice
        melts = numpy.clip(self.stores * wall / FUSION_J_KG, -water, ice)
        water, ice, wall = water + melts, ice - melts, wall - melts * FUSION_J_KG / self.stores
        # What a wall cannot carry runs out of a duct that falls.
        return [wall, numpy.where(self.falls, numpy.minimum(water, RUNS_KG_M2), water), ice]

    def frost_kg(self):
        return sum(ice * self.area for _, _, ice in self.cells)


def follow(airs, reports, cells, most_days):
    """Of each job grams that a day leaves, grams that settle while its fan runs, and of frost at its end.

    The day is the first that leaves as much as the one before, or the last.
    """
    ducts = Ducts(airs, reports, cells)
    times = steps()
    inlets = [[numpy.array(values) for values in zip(*(air.at(0.5 * (a + b)) for air in airs))] for a, b in zip(times, times[1:])]
    settled, found = numpy.zeros(len(airs), bool), numpy.full((3, len(airs)), numpy.nan)
    for _ in range(most_days):
        day, shower = numpy.zeros(len(airs)), numpy.zeros(len(airs))
        for dt, (dry, t, w) in zip(numpy.diff(times), inlets):
            net, gross = ducts.step(dt, dry, t, w)
            day += net
            shower += numpy.where(dry > DRIFTS_KG_S, gross, 0.0)
        now = 1000.0 * numpy.array([day, shower, ducts.frost_kg()])
        alike = abs(now[0] - found[0]) <= numpy.maximum(ALIKE * abs(found[0]), ALIKE_G)
        found = numpy.where(settled, found, now)
        settled |= alike
    return found


GENERATED = [generated(index) for index in range(JOBS)]


@pytest.fixture(scope="module")
def reports():
    return [report(written(job)) for job in GENERATED]


@pytest.fixture(scope="module")
def airs(reports):
    return [Air(job, found) for job, found in zip(GENERATED, reports)]


@pytest.fixture(scope="module")
def by_model(reports, airs):
    """Water once days are alike; frost of the first, which wants short cells, for one is frozen or is not."""
    net, shower, _ = follow(airs, reports, cells=10, most_days=4)
    _, _, frost = follow(airs, reports, cells=20, most_days=1)
    return {"net_winter_g": net, "per_shower_g": shower, "frost_g": frost}


def water(found, name):
    return likely(found["runs"][0]["condensate"][name])


def figures(reports, by_model, name):
    return [Pair(water(found, name), by_model[name][i], i) for i, found in enumerate(reports)]


def test_jobs_are_of_all_kinds(by_model):
    assert min(by_model["net_winter_g"]) < 5.0 and max(by_model["net_winter_g"]) > 100.0
    assert min(by_model["frost_g"]) < 1.0 and max(by_model["frost_g"]) > 50.0
    assert {job["fall"] for job in GENERATED} == {"to outdoors", "to the fan", "level"}


def test_drift_at_rest_is_what_half_a_pascal_to_two_drive_through_the_gap(reports):
    for job, found in zip(GENERATED, reports):
        density = room_of(job, found).density
        low, high = (0.6 * job["leak_cm2"] * 1e-4 * (2.0 * p / density) ** 0.5 for p in (0.5, 2.0))
        assert low < assumed(found, "dwelling.idle_duct") / 1000 < high


def test_water_of_a_winter_day(reports, by_model):
    # 5 %, or 2 g: cells of a tenth of the duct, steps of 10 s to 3 min, outside films that stay as they are.
    assert not away(figures(reports, by_model, "net_winter_g"), share=0.05, least=2.0)


def test_water_of_a_shower(reports, by_model):
    # 10 %, or 2 g: most of it settles in the first minutes, while the metal is cold.
    assert not away(figures(reports, by_model, "per_shower_g"), share=0.10, least=2.0)


def test_frost_of_the_first_day(reports, by_model):
    # A third, or 10 g: near 0 °C frost goes by whole cells, and those of the program are long; the next test says that this is
    # all.
    assert not away(figures(reports, by_model, "frost_g"), share=0.33, least=10.0)


def test_frost_of_the_first_day_in_cells_as_long(reports, airs):
    # 10 %, or 3 g, with the program's cells of 0.8 m, four at least. A cell at the very edge may freeze
    # in one model alone: that is let pass in one job of twenty.
    wrong = []
    for count in range(4, 13):
        here = [i for i, job in enumerate(GENERATED) if max(4, math.ceil(job["length"] / 0.8)) == count]
        if here:
            _, _, frost = follow([airs[i] for i in here], [reports[i] for i in here], count, 1)
            wrong += away([Pair(water(reports[i], "frost_g"), g, i) for i, g in zip(here, frost)], share=0.10, least=3.0)
    assert len(wrong) <= math.ceil(JOBS / 20), wrong


def test_water_goes_the_way_the_duct_falls(reports):
    for job, found in zip(GENERATED, reports):
        net, back, out = (water(found, name) for name in ("net_winter_g", "back_to_fan_g", "out_at_terminal_g"))
        assert back == pytest.approx(net if job["fall"] == "to the fan" else 0.0, abs=1e-6)
        assert out == pytest.approx(net if job["fall"] == "to outdoors" else 0.0, abs=1e-6)
