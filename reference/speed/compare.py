"""How much faster than the general-purpose way of the same work: both sides in one run, agreeing in their results.

    .venv/bin/python speed/compare.py            (from the folder `reference`; builds our side first)

Prints the best time of several rounds of each side, taken in turn, and their ratio. Stops with an error if the two
sides do not agree; a ratio below its target is marked and ends with exit code 1. `--built FOLDER` takes programs that
are already there, `--rounds N` sets the rounds, `--years` leaves out all but the years of rooms.
"""

import argparse
import importlib.metadata
import json
import math
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from fluids.friction import Clamond
from scipy.interpolate import PchipInterpolator
from scipy.optimize import brentq

HERE = Path(__file__).resolve().parent
REPOSITORY = HERE.parent.parent
DRAWS = 1024

# The cases of operating_point.rs.
RHO, MU, DIAMETER = 1.2, 1.82e-5, 0.1016
LENGTHS = [1.2, 2.4, 0.6, 3.0, 0.8]
ROUGHNESS = [9e-5, 1.5e-4, 9e-5, 9e-4, 1.5e-4]
COEFFICIENTS = [0.5, 0.57, 0.57, 1.9]
FAN = PchipInterpolator([0.0, 0.01, 0.02, 0.03, 0.0378, 0.045, 0.05], [120.0, 112.0, 98.0, 78.0, 62.3, 25.0, 0.0])
AREA = math.pi / 4.0 * DIAMETER**2
REYNOLDS_PER_FLOW = RHO * DIAMETER / (MU * AREA)
LEAST_TURBULENT = 4000.0 / REYNOLDS_PER_FLOW


def each_piece(scale):
    """Operating point, m3/s, with a friction factor for each of the five pieces."""
    pieces = [(scale * length / DIAMETER, wall / DIAMETER) for length, wall in zip(LENGTHS, ROUGHNESS)]
    fittings = sum(COEFFICIENTS)

    def excess(q):
        reynolds = REYNOLDS_PER_FLOW * q
        loss = fittings + sum(Clamond(reynolds, wall) * length for length, wall in pieces)
        return float(FAN(q)) - loss * 0.5 * RHO * (q / AREA) ** 2

    return brentq(excess, LEAST_TURBULENT, 0.05, xtol=1e-10)


def one_wall(scale):
    """The same when every piece is of one duct, written to spare work: one friction factor for all five."""
    length, wall = scale * sum(LENGTHS) / DIAMETER, ROUGHNESS[0] / DIAMETER
    fittings = sum(COEFFICIENTS)

    def excess(q):
        loss = fittings + Clamond(REYNOLDS_PER_FLOW * q, wall) * length
        return float(FAN(q)) - loss * 0.5 * RHO * (q / AREA) ** 2

    return brentq(excess, LEAST_TURBULENT, 0.05, xtol=1e-10)


def environment():
    """Ours, without settings of a linear-algebra library that some machines carry; nothing here uses it."""
    return {key: value for key, value in os.environ.items() if not key.startswith("OPENBLAS_")}


def run(command):
    """What a command prints; our program tells its verdict by exit codes 0, 1 and 3."""
    try:
        done = subprocess.run(command, env=environment(), stdout=subprocess.PIPE, text=True)
    except OSError as error:
        sys.exit(f"{command[0]} does not start ({error.strerror}); leave out --built to have it built")
    if done.returncode not in (0, 1, 3) or not done.stdout:
        sys.exit(f"{' '.join(map(str, command))} ended with {done.returncode}")
    return done.stdout


def timed(work):
    start = time.perf_counter()
    result = work()
    return time.perf_counter() - start, result


def operating_points(program, argument, theirs, rounds):
    """Best seconds per operating point of both sides."""
    ours_best = theirs_best = math.inf
    for _ in range(rounds):
        printed = [float(line) for line in run([program, argument]).split()]
        ours_best, ours = min(ours_best, printed[0]), printed[1:]
        count = len(ours)
        seconds, flows = timed(lambda: [theirs(0.8 + 0.4 * case / count) for case in range(count)])
        theirs_best = min(theirs_best, seconds / count)
    agree(f"operating point, {argument}", ours, flows, 1e-6)
    return ours_best, theirs_best


def commands(program, job, draws, rounds):
    """Best seconds of both sides as whole processes, from the job file to the printed answer."""
    ours = [program, "check", HERE / job, "--draws", str(draws)]
    theirs = [sys.executable, HERE / "general_purpose.py", HERE / job, str(draws)]
    best = [math.inf, math.inf]
    for _ in range(rounds):
        for side, command in enumerate((ours, theirs)):
            best[side] = min(best[side], timed(lambda command=command: run(command))[0])
    # Draws are not the same numbers on both sides: their percentiles agree as well as 1,024 draws can tell.
    asked = delivered(run([*ours, "--json"]))
    agree(job, asked, [float(text) for text in run(theirs).split()], 1e-3 if draws else 1e-6)
    return best


def delivered(report):
    airflow = json.loads(report)["rooms"][0]["delivered"]["airflow_l_s"]
    return [airflow[key] for key in ("low", "likely", "high")]


def weather_file():
    """A typical year, by hour, out of the package that requirements-data.txt names; the package is not imported."""
    files = importlib.metadata.files("pvlib") or []
    found = [file.locate() for file in files if file.name == "723170TYA.CSV"]
    return found[0] if found else sys.exit("the weather file is missing: pip install --no-deps -r requirements-data.txt")


def compiled_python():
    python = HERE.parent / ".venv-speed" / "bin" / "python"
    if not python.exists():
        make = "python3 -m venv .venv-speed && .venv-speed/bin/pip install -r speed/requirements.txt"
        sys.exit(f"the room's year is timed against numba; from the folder reference: {make}")
    return python


def sums_of(printed):
    """What our program prints of a year: the rows `result.…`."""
    rows = [line.split(",") for line in printed.splitlines() if ",result." in line]
    return {what.removeprefix("result."): float(value) for _, what, _, _, value in rows}


def distance(sums, exact):
    """The worst of the yearly sums against those of one-second steps."""
    return max(abs(sums[key] / exact[key] - 1.0) for key in ("exhausted_kg", "fan_s", "dried_kg") if exact[key])


def years(program, problem, rounds):
    """Best seconds of a room's year: ours, and in the longest fixed step whose sums are as near as ours."""
    def compiled(step, count):
        return json.loads(run([compiled_python(), HERE / "room_year.py", problem, rows.name, str(step), str(count)]))

    with tempfile.NamedTemporaryFile("w", suffix=".csv") as rows:
        printed = run([program, problem, weather_file(), str(rounds)])
        rows.write(printed)
        rows.flush()
        ours, exact = sums_of(printed), compiled(1, 1)
        off = distance(ours, exact)
        if not off <= 0.02:
            sys.exit(f"{problem}: the two sides differ by {off:.1%}; they do not follow the same room")
        for step in (60, 30, 20, 10, 5, 2):
            theirs = compiled(step, rounds)
            if distance(theirs, exact) <= off:
                break
        print(f"  {problem}: our sums are off by {off:.2%}, those of steps of {step} s by {distance(theirs, exact):.2%}")
    return ours["seconds"], theirs["seconds"]


def agree(what, ours, theirs, tolerance):
    assert ours and len(ours) == len(theirs), f"{what}: {len(ours)} results against {len(theirs)}"
    worst = max(abs(a - b) / abs(b) for a, b in zip(ours, theirs))
    if not worst <= tolerance:
        sys.exit(f"{what}: the two sides differ by {worst:.1e}, asked for {tolerance:.0e}")
    print(f"  {what}: the two sides agree within {worst:.1e}")


def build():
    cargo = ["cargo", "build", "--release", "--locked", "--quiet"]
    for what in (["-p", "dewpath-cli"], ["-p", "dewpath-engine", "--example", "speed_operating_point"],
                 ["-p", "dewpath-moisture", "--example", "speed_room"]):
        subprocess.run([*cargo, *what], cwd=REPOSITORY, check=True)
    return REPOSITORY / "target" / "release"


def main():
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    arguments.add_argument("--built", type=Path, help="folder of the programs, instead of building them")
    arguments.add_argument("--rounds", type=int, default=7)
    arguments.add_argument("--years", action="store_true", help="only the years of rooms")
    options = arguments.parse_args()
    folder = (options.built or build()).resolve()
    points, program = folder / "examples" / "speed_operating_point", folder / "dewpath"
    rows = [] if options.years else [
        ("operating point, five walls", *operating_points(points, "five-walls", each_piece, options.rounds), 25),
        ("operating point, one wall", *operating_points(points, "one-wall", one_wall, options.rounds), 25),
        ("whole command, nominal", *commands(program, "exact.toml", 0, options.rounds), 7),
        (f"whole command, {DRAWS} draws", *commands(program, "ranges.toml", DRAWS, options.rounds), 14),
    ]
    room = folder / "examples" / "speed_room"
    rows += [
        ("year of one zone", *years(room, "one-zone", options.rounds), 3),
        ("year of room and dwelling", *years(room, "dwelling", options.rounds), 4),
    ]
    print(f"\n{'work':30} {'ours':>12} {'general':>12} {'ratio':>8} {'target':>7}")
    missed = False
    for what, ours, theirs, target in rows:
        ratio = theirs / ours
        missed |= ratio < target
        mark = "  missed" if ratio < target else ""
        print(f"{what:30} {1e6 * ours:9.1f} us {1e6 * theirs:9.1f} us {ratio:8.1f} {target:7}{mark}")
    sys.exit(int(missed))


if __name__ == "__main__":
    main()
