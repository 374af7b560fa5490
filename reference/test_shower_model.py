"""A room through a shower with moist air, fog, heat and the film on a mirror, against a model of its own (`wet_room.py`).

Jobs are generated; size, flow, shower, surfaces, humidity and habits are written in each, so that no default counts but the
resistance of an inside wall and the air through a door, which the report lists. All walls are inside, and the dwelling is so
large that neither a shower nor the fan moves its humidity and that the room's share of its leaks is nothing. The fan holds
its flow through a short smooth duct. Sources of the equations stand in `wet_room.py`.

Clear is a mirror with less than 0.2 g/m² on it, dry a room within 10 points of the humidity before or below 60 %: both are
judgement, and what `docs/physics.md` says is judged.
"""

import random

import numpy
import psychrolib
import pytest
from conftest import cases
from program_runs import Pair, assumed, away, likely, report
from wet_room import BOARD, GLASS, TILE, Happening, Room, Surface, from_when_below

SEED = 1300
JOBS = cases(16)
CLEAR_KG_M2 = 2e-4
# A door that is shut for a shower is shut a minute before and opened again three hours after it.
SHUT_BEFORE_S, SHUT_AFTER_S = 60.0, 3 * 3600.0
OUTDOOR_C = 12.0


def generated(index):
    rng = random.Random(SEED + index)
    length, width, height = rng.uniform(1.8, 3.2), rng.uniform(1.6, 2.4), rng.uniform(2.3, 2.6)
    # A quarter of the jobs has little vapour, so that their air is never saturated.
    vapour = rng.uniform(0.5, 1.1) if index % 4 == 0 else rng.uniform(1.8, 3.2)
    return {
        "altitude": rng.uniform(0, 1500),
        "indoor": rng.uniform(19, 25),
        "humidity": rng.uniform(0.30, 0.55),
        "sides": (length, width, height),
        "lining": rng.uniform(0.8, 1.0) * (2 * height * (length + width) + length * width - 4.0),
        "tile": 4.0,
        "tile_rsi": rng.uniform(0.3, 0.6),
        "mirror": rng.uniform(0.3, 1.2),
        "mirror_rsi": rng.uniform(0.2, 1.0),
        "finish": rng.choice(["tile", "latex paint"]),
        "vapour": vapour / 3600.0,
        "water_c": rng.uniform(37, 43),
        "minutes": rng.randint(4, 16),
        "flow": rng.uniform(0.014, 0.040),
    }


def written(job):
    length, width, height = job["sides"]
    flow = 1000 * job["flow"]
    return f"""format = 1
show = "metric"
rule_book = "us-irc-2021"
site = {{ altitude = "{job["altitude"]!r} m", indoor = "{job["indoor"]!r} C", outdoor = "{OUTDOOR_C} C" }}
dwelling = {{ volume = "20000 m3", leakage = "600 cfm50", heating = "{job["indoor"]!r} C", burns_fuel = false, storeys = 1, humidity = "{100 * job["humidity"]!r} %" }}
[room]
kind = "bathroom"
length = "{length!r} m"
width = "{width!r} m"
height = "{height!r} m"
temperature = "{job["indoor"]!r} C"
operation = "intermittent"
mixing = 1.0
finish = "{job["finish"]}"
finish_area = "{job["lining"]!r} m2"
textiles = "0 kg"
door = {{ width = "760 mm", gap = "25 mm", joints = "150 cm2", coefficient = 0.62 }}
at = ["0 m", "0 m"]
wall = [{", ".join(f"{{ corner = {i}, outside = false }}" for i in range(1, 5))}]
[room.use]
showers = 1
minutes = "{job["minutes"]} min"
vapour = "{3600 * job["vapour"]!r} kg/h"
water = "9 L/min"
water_temperature = "{job["water_c"]!r} C"
baths = 0
people = 1
door = "shut"
fan = "during and after"
leave_on = "180 min"
[[room.surface]]
id = "tiles"
kind = "tile"
area = "{job["tile"]!r} m2"
insulation = "{job["tile_rsi"]!r} m2K/W"
other_side = "heated"
[[room.surface]]
id = "mirror"
kind = "mirror"
area = "{job["mirror"]!r} m2"
insulation = "{job["mirror_rsi"]!r} m2K/W"
other_side = "heated"
[fan]
control = "switch"
damper = true
curve = ["0 L/s at 900 Pa", "{1.5 * flow!r} L/s at 800 Pa", "{2 * flow!r} L/s at 0 Pa"]
holds_flow = "{flow!r} L/s"
[run]
duct = "smooth metal"
size = "125 mm"
roughness = "0.09 mm"
length = "1 m"
elbows = 0
place = "heated"
sealed = true
[terminal]
kind = "open end"
screen = "none"
"""


def course(job, found, radiation_to_air):
    length, width, height = job["sides"]
    lining_rsi = assumed(found, "room.room.lining.insulation")
    surfaces = [
        Surface(job["lining"], [BOARD], lining_rsi),
        Surface(job["tile"], [TILE, BOARD], job["tile_rsi"], is_wetted=True),
        Surface(job["mirror"], [GLASS], job["mirror_rsi"]),
    ]
    room = Room(
        job["altitude"], length * width * height, job["indoor"], job["humidity"], job["vapour"], job["water_c"],
        surfaces, job["finish"] == "latex paint", radiation_to_air,
    )
    end = 60.0 * job["minutes"]
    opens = end + SHUT_AFTER_S
    return room.course([
        Happening(-SHUT_BEFORE_S, 0.0, 0.0, assumed(found, "dwelling.idle_door") / 1000),
        Happening(0.0, end, job["flow"], 0.0, shower=True),
        Happening(end, opens, job["flow"], 0.0, wets=True),
        Happening(opens, opens + 1800.0, 0.0, assumed(found, "dwelling.open_door") / 1000),
    ])


GENERATED = [generated(index) for index in range(JOBS)]


@pytest.fixture(scope="module")
def reports():
    return [report(written(job)) for job in GENERATED]


@pytest.fixture(scope="module")
def courses(reports):
    return [course(job, found, False) for job, found in zip(GENERATED, reports)]


@pytest.fixture(scope="module")
def courses_with_radiation_to_the_air(reports):
    return [course(job, found, True) for job, found in zip(GENERATED, reports)]


def figures(reports, name, by_model):
    """What the reports say and what the model says, job by job."""
    return [
        Pair(likely(found["rooms"][0]["clearing"][name]), by_model(job, index), index)
        for index, (job, found) in enumerate(zip(GENERATED, reports))
    ]


def peaks(reports, courses):
    """The highest humidity until five minutes after the shower: so long every room is followed."""
    def by_model(job, i):
        c = courses[i]
        return min(c.humidity[c.time_s <= 60.0 * job["minutes"] + 300.0].max(), 1.0)

    return figures(reports, "peak_humidity_ratio", by_model)


def mirrors(reports, courses):
    """Seconds after the shower until the mirror is clear."""
    def by_model(job, i):
        return from_when_below(courses[i].time_s, courses[i].mirror, CLEAR_KG_M2, 60.0 * job["minutes"])

    return figures(reports, "mirror_time_s", by_model)


def test_flow_is_the_one_that_the_fan_holds(reports):
    # A motor holds its flow to 1 %.
    held = [Pair(likely(found["rooms"][0]["delivered"]["airflow_l_s"]), 1000 * job["flow"], i)
            for i, (job, found) in enumerate(zip(GENERATED, reports))]
    assert not away(held, share=0.01)


def test_jobs_are_of_all_kinds(reports, courses):
    found = [pair.theirs for pair in peaks(reports, courses)]
    assert min(found) < 0.7 and max(found) > 0.99
    assert JOBS / 4 < sum(pair.theirs > 0.0 for pair in mirrors(reports, courses)) < JOBS


# The program hands what surfaces radiate to the air (ISO 6946, 7.7 W/(m² K)). Where they radiate to one another, air is 0.5 to
# 1 K warmer in the shower, and drier by 6 points for each kelvin; a mirror sees walls that are cooler than the air, and takes up
# to a third longer. Each figure is compared both ways, so that what explains a difference is tested as well.


def test_peak_humidity(reports, courses):
    assert not away(peaks(reports, courses), least=0.08)


def test_peak_humidity_with_radiation_to_the_air(reports, courses_with_radiation_to_the_air):
    # 2.5 points: the program takes the heat that a shower gives the air for air at 60 %, here it follows the humidity; walls and
    # paint here are layers.
    assert not away(peaks(reports, courses_with_radiation_to_the_air), least=0.025)


def test_mirror_clears(reports, courses):
    # A third, or two minutes of a mirror that hardly fogs.
    assert not away(mirrors(reports, courses), share=0.33, least=120.0)


def test_mirror_clears_with_radiation_to_the_air(reports, courses_with_radiation_to_the_air):
    # 15 %, or a minute: the heat of the shower as above, glass and its backing as layers.
    assert not away(mirrors(reports, courses_with_radiation_to_the_air), share=0.15, least=60.0)


def dry_ratio(job):
    """Vapour of a room that counts as dry: as it was and 10 points more, or 60 %, at the temperature it had then."""
    humidity = max(job["humidity"] + 0.10, 0.60)
    pressure = psychrolib.GetStandardAtmPressure(job["altitude"])
    return psychrolib.GetHumRatioFromRelHum(job["indoor"], humidity, pressure)


def test_room_is_dry(reports, courses):
    # 15 % or half a minute; or, where wet tiles hold the humidity nearly level and a hair's breadth decides when it crosses, 2 %
    # of the vapour that counts as dry.
    def by_model(job, i):
        return from_when_below(courses[i].time_s, courses[i].ratio, dry_ratio(job), 60.0 * job["minutes"])

    times = figures(reports, "back_to_normal_time_s", by_model)
    wrong = []
    for pair in away(times, share=0.15, least=30.0):
        job, c = GENERATED[pair.job], courses[pair.job]
        there = numpy.interp(60.0 * job["minutes"] + pair.ours, c.time_s, c.ratio)
        if not abs(there / dry_ratio(job) - 1.0) < 0.02:
            wrong.append((pair, there / dry_ratio(job)))
    assert not wrong
