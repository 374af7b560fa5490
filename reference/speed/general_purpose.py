"""One job, nominal or with draws, by general-purpose libraries: scipy's monotone cubic and root finder, the friction
factor of the library fluids, tomllib for the file. The same equations as the program uses for such a job.

    general_purpose.py JOB.toml [DRAWS]

Prints the delivered air in L/s: low, likely, high (5th, 50th and 95th percentile of the draws; 0 draws: one value).
"""

import math
import random
import re
import sys
import tomllib

from fluids.friction import Clamond
from scipy.interpolate import PchipInterpolator
from scipy.optimize import brentq

SI = {
    "m": 1.0, "cm": 0.01, "mm": 0.001, "in": 0.0254, "m2": 1.0, "cm2": 1e-4, "m3/h50": 1.0 / 3600.0,
    "L/s": 0.001, "Pa": 1.0, "%": 0.01,
}
RATING_DENSITY = 1.2
# What the program takes where nobody can write a value: the joints of a shut door (m2).
JOINTS = (0.002, 0.004)


def quantity(written):
    """Low and high end of `"8..10 m"` or `"9 m"` in SI units; plain numbers as they are."""
    if not isinstance(written, str):
        return float(written), float(written)
    low, high, unit = re.fullmatch(r"([\d.]+?)(?:\.\.([\d.]+))? (\S+)", written).groups()
    if unit == "C":
        return float(low) + 273.15, float(high or low) + 273.15
    return float(low) * SI[unit], float(high or low) * SI[unit]


def point(written):
    """Flow and pressure of `"40 L/s at 12 Pa"`."""
    flow, pressure = written.split(" at ")
    return quantity(flow)[0], quantity(pressure)[0]


def air(altitude, kelvin, humidity):
    """Density and viscosity of moist air (Hyland and Wexler 1983 over water; ASHRAE Fundamentals 2017, ch. 1; Sutherland)."""
    t = kelvin
    pressure = 101325.0 * (1.0 - 2.25577e-5 * altitude) ** 5.2559
    saturation = math.exp(
        -5.8002206e3 / t + 1.3914993 - 4.8640239e-2 * t + 4.1764768e-5 * t**2 - 1.4452093e-8 * t**3
        + 6.5459673 * math.log(t)
    )
    vapour = humidity * saturation
    w = 0.621945 * vapour / (pressure - vapour)
    density = (1.0 + w) * pressure / (287.042 * t * (1.0 + 1.607858 * w))
    x = t / 273.15
    return density, 1.716e-5 * x**1.5 * 383.55 / (t + 110.4)


class Run:
    """Everything of the job that the flow depends on, with what is uncertain as (low, high)."""

    def __init__(self, job):
        site, room, fan, run = job["site"], job["room"][0], job["fan"][0], job["run"][0]
        door, parts = room["door"], run["part"]
        self.air = air(*(quantity(site[key])[0] for key in ("altitude", "indoor", "humidity")))
        self.diameter = quantity(run["size"])[0]
        self.fittings = [point(part["other"]["point"]) for part in parts if "other" in part]
        self.coefficient = door["coefficient"]
        self.transfer = quantity(door["transfer"])[0]
        self.width = quantity(door["width"])[0]
        flows, pressures = zip(*(point(written) for written in fan["curve"]))
        self.fan = PchipInterpolator(flows, pressures)
        self.last_flow = flows[-1]
        self.uncertain = [
            quantity(job["dwelling"]["leakage"]), quantity(door["gap"]), JOINTS, quantity(run["roughness"]),
        ] + [quantity(part["piece"]["length"]) for part in parts if "piece" in part]

    def flow(self, values):
        """Delivered air, m3/s, at one set of the uncertain values."""
        leakage, gap, joints, roughness, *lengths = values
        density, viscosity = self.air
        d = self.diameter
        area = math.pi / 4.0 * d * d
        leak = leakage / 50.0**0.65
        opening = self.coefficient * (self.width * gap + joints + self.transfer)
        # The open end loses its velocity pressure once.
        squares = 0.5 * density * (1.0 / opening**2 + 1.0 / area**2)
        squares += sum(pressure / flow**2 for flow, pressure in self.fittings)
        reynolds_per_flow = density * d / (viscosity * area)
        per_length = 0.5 * density / (d * area * area)
        scale = density / RATING_DENSITY

        def excess(q):
            lost = squares * q * q + (q / leak) ** (1.0 / 0.65)
            for length in lengths:
                lost += Clamond(reynolds_per_flow * q, roughness / d) * length * per_length * q * q
            return scale * float(self.fan(q)) - lost

        # From the least turbulent flow to the end of the curve.
        return brentq(excess, 4000.0 / reynolds_per_flow, self.last_flow, xtol=1e-10)


def strata(low, high, count, source):
    """One value in each of `count` equal slices, in shuffled order."""
    order = list(range(count))
    source.shuffle(order)
    return [low + (high - low) * (slice_ + source.random()) / count for slice_ in order]


def main():
    with open(sys.argv[1], "rb") as file:
        run = Run(tomllib.load(file))
    draws = int(sys.argv[2]) if len(sys.argv) > 2 else 0
    likely = [0.5 * (low + high) for low, high in run.uncertain]
    flows = [run.flow(likely)]
    if draws:
        source = random.Random(1)
        columns = [strata(low, high, draws, source) for low, high in run.uncertain]
        flows = sorted(run.flow(values) for values in zip(*columns))
    at = [flows[round(share * (len(flows) - 1))] for share in (0.05, 0.5, 0.95)]
    print(*(1000.0 * flow for flow in at))


if __name__ == "__main__":
    main()
