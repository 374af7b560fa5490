"""Where the points come from that the libraries are asked about."""

import csv
import json
import os
import subprocess
from functools import cache
from pathlib import Path

REPOSITORY = Path(__file__).resolve().parent.parent


@cache
def register() -> dict[str, dict]:
    """The check values by id."""
    checks = json.loads((REPOSITORY / "reference" / "checkvalues.json").read_text(encoding="utf-8"))["checks"]
    return {check["id"]: check for check in checks}


def check(check_id: str) -> dict:
    """The check value with this id: its inputs, value and tolerance are written nowhere else."""
    return register()[check_id]


@cache
def points(name: str) -> list[dict[str, float]]:
    """The rows that the example program `name` of one of the crates prints, two thousand at least."""
    rows = every(name)
    assert len(rows) >= 2000, f"{name} printed only {len(rows)} points"
    return rows


@cache
def every(name: str) -> list[dict[str, float]]:
    """The rows that the example program `name` of one of the crates prints, as numbers by column.

    Reads `name`.csv from the folder in the environment variable DEWPATH_POINTS if that is set; runs the program
    otherwise.
    """
    folder = os.environ.get("DEWPATH_POINTS")
    if folder:
        text = (Path(folder) / f"{name}.csv").read_text(encoding="utf-8")
    else:
        text = subprocess.run([examples() / name], check=True, stdout=subprocess.PIPE, text=True).stdout
    return [
        {column: number(value) for column, value in row.items()}
        for row in csv.DictReader(text.splitlines())
    ]


@cache
def examples() -> Path:
    """The folder of the example programs: DEWPATH_EXAMPLES, or where they are built now, as the tests build them."""
    folder = os.environ.get("DEWPATH_EXAMPLES")
    return Path(folder) if folder else built("--workspace", "--exclude", "xtask-bindgen", "--examples") / "examples"


@cache
def dewpath() -> Path:
    """The program: DEWPATH_PROGRAM, or built now."""
    program = os.environ.get("DEWPATH_PROGRAM")
    return Path(program) if program else built("--package", "dewpath-cli") / "dewpath"


def built(*what: str) -> Path:
    """Builds and gives the folder of what was built."""
    subprocess.run(["cargo", "build", "--quiet", "--locked", *what], cwd=REPOSITORY, check=True)
    metadata = subprocess.run(
        ["cargo", "metadata", "--no-deps", "--format-version", "1"],
        cwd=REPOSITORY, check=True, stdout=subprocess.PIPE, text=True,
    )
    return Path(json.loads(metadata.stdout)["target_directory"]) / "debug"


def cases(count: int) -> int:
    """How many cases are generated: ten times as many when DEWPATH_FULL is set."""
    return 10 * count if os.environ.get("DEWPATH_FULL") else count


def number(text: str):
    """A number where the text is one, the text itself otherwise (names of materials and shapes)."""
    try:
        return float(text)
    except ValueError:
        return text


def worst(rows, ours, theirs, relative: bool):
    """Largest difference between two functions of a row, with the row where it is met."""
    def difference(row):
        a, b = ours(row), theirs(row)
        size = abs(a - b) / abs(b) if relative else abs(a - b)
        # A NaN compares as smaller than everything and would pass for agreement.
        return size if size == size else float("inf")

    row = max(rows, key=difference)
    return difference(row), row
