"""Writes the monthly figures of the built-in climates from the open typical-year files that pvlib ships.

    python derive_climates.py > ../crates/moisture/src/weather/climates/table.rs

Three are derived from the files; places in the United States stand beside them in `climates_us.csv`, derived in the same way from TMY3 files
(NREL, 2008, data of the US government in the public domain) that the package does not ship: there the figures are carried over as they are.

Only the data files are read, none of the library's code. Relative humidity in the files is over liquid water (WMO Guide No. 8); vapour
pressure is capped at saturation over ice below freezing, as the reader of weather files does.
"""

import csv
import importlib.metadata
import math
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import psychrolib

psychrolib.SetUnitSystem(psychrolib.SI)

MONTH_DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]
CLIMATES = [
    ("cool coastal", "703165TY.csv", "TMY3 file 703165"),
    ("mixed humid", "723170TYA.CSV", "TMY3 file 723170"),
    ("hot humid", "12839.tm2", "TMY2 file 12839"),
]


PLACES = Path(__file__).parent / "climates_us.csv"


@dataclass
class Year:
    """A file's place and its 8760 hours: °C, % (as reported), Pa, m/s."""

    latitude: float
    longitude: float
    altitude: float
    time_zone: float
    t: np.ndarray
    rh: np.ndarray
    p: np.ndarray
    wind: np.ndarray


def data_file(name: str) -> Path:
    """A data file of the installed package, without importing the package."""
    for file in importlib.metadata.files("pvlib") or []:
        if file.name == name:
            return Path(str(file.locate()))
    raise FileNotFoundError(f"{name} is not among the files of pvlib: pip install --no-deps pvlib==0.16.1")


def read_tmy3(path: Path) -> Year:
    """Users Manual for TMY3 Data Sets, NREL/TP-581-43156, 2008."""
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file))
    zone, latitude, longitude, altitude = (float(text) for text in rows[0][3:7])
    names = rows[1]

    def column(name, factor=1.0):
        index = names.index(name)
        return np.array([factor * float(row[index]) for row in rows[2:]])

    return Year(
        latitude, longitude, altitude, zone,
        column("Dry-bulb (C)"), column("RHum (%)"), column("Pressure (mbar)", 100.0), column("Wspd (m/s)"),
    )


def read_tmy2(path: Path) -> Year:
    """User's Manual for TMY2s, NREL/SP-463-7668, 1995, table 3-2: fixed columns, tenths of °C and m/s."""
    lines = path.read_text(encoding="ascii").splitlines()
    head, hours = lines[0], lines[1:]
    zone = float(head[33:36])
    north = 1 if head[37] == "N" else -1
    east = 1 if head[45] == "E" else -1
    latitude = north * (float(head[39:41]) + float(head[42:44]) / 60)
    longitude = east * (float(head[47:50]) + float(head[51:53]) / 60)

    def column(first, last, factor=1.0):
        # First and last character as the manual counts them, from 1.
        return np.array([factor * float(line[first - 1:last]) for line in hours])

    return Year(
        latitude, longitude, float(head[53:]), zone,
        column(68, 71, 0.1), column(80, 82), column(85, 88, 100.0), column(96, 98, 0.1),
    )


def read(name: str) -> Year:
    path = data_file(name)
    return read_tmy2(path) if path.suffix == ".tm2" else read_tmy3(path)


def water_pressure(t: float) -> float:
    """Saturation pressure over liquid water, Pa, also below freezing (Hyland & Wexler 1983)."""
    k = t + 273.15
    return math.exp(
        -5.8002206e3 / k + 1.3914993 - 4.8640239e-2 * k + 4.1764768e-5 * k**2 - 1.4452093e-8 * k**3
        + 6.5459673 * math.log(k)
    )


def vapour_pressure(t: float, rh: float) -> float:
    """Pa; `rh` in %, over liquid water, at most saturated."""
    return min(rh / 100 * water_pressure(t), psychrolib.GetSatVapPres(t))


def months(year: Year) -> list[list[float]]:
    """Mean temperature, mean daily range, mean vapour pressure and mean wind speed of each month."""
    vapour = np.array([vapour_pressure(t, rh) for t, rh in zip(year.t, year.rh)])
    figures, start = [], 0
    for days in MONTH_DAYS:
        part = slice(start, start + 24 * days)
        daily = year.t[part].reshape(days, 24)
        swing = (daily.max(axis=1) - daily.min(axis=1)).mean()
        figures.append([year.t[part].mean(), swing, vapour[part].mean(), year.wind[part].mean()])
        start += 24 * days
    return figures


def write(name, source, place, quantiles, figures):
    """One climate: latitude, longitude, altitude, time zone and mean pressure of its place, its cold and hot hours, its months."""
    latitude, longitude, altitude, time_zone, pressure = place
    cold, hot = quantiles
    print("    Climate {")
    print(f'        id: "{name}",')
    print(f'        source: "{source}",')
    print(f"        latitude_deg: {latitude:.2f},")
    print(f"        longitude_deg: {longitude:.2f},")
    print(f"        altitude_m: {altitude:.1f},")
    print(f"        time_zone_h: {time_zone:.1f},")
    print(f"        p_pa: {pressure:.1f},")
    print(f"        cold_c: {cold:.2f},")
    print(f"        hot_c: {hot:.2f},")
    print("        months: [")
    for mean, swing, vapour, wind in figures:
        print(f"            [{mean:.2f}, {swing:.2f}, {vapour:.1f}, {wind:.3f}],")
    print("        ],")
    print("    },")


def carried() -> list[tuple]:
    """The places of the table beside this file, as `write` takes them."""
    kinds = ("t", "swing", "e_pa", "wind")
    with PLACES.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    places = ("latitude", "longitude", "altitude_m", "time_zone_h", "mean_pressure_pa")
    return [
        (
            row["place"], f"TMY3, zone {row['zone']}",
            [float(row[key]) for key in places],
            [float(row["cold_1pct_c"]), float(row["hot_99pct_c"])],
            [[float(row[f"{kind}_{month:02}"]) for kind in kinds] for month in range(1, 13)],
        )
        for row in rows
    ]


def main():
    print("//! Written by `reference/derive_climates.py`; edit that instead.\n")
    print('#![allow(clippy::approx_constant, reason = "a mean wind speed may happen to look like π")]\n')
    print("use super::Climate;\n")
    print("/// The built-in climates.")
    places = carried()
    print(f"pub static CLIMATES: [Climate; {len(CLIMATES) + len(places)}] = [")
    for name, file, source in CLIMATES:
        year = read(file)
        place = (year.latitude, year.longitude, year.altitude, year.time_zone, year.p.mean())
        write(name, source, place, np.quantile(year.t, [0.01, 0.99]), months(year))
    for place in places:
        write(*place)
    print("];")


if __name__ == "__main__":
    main()
