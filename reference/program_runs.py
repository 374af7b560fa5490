"""Jobs put to the program, and its figures set against those of a model.

The program judges each job once, at the likely values (`--draws 0`): what a job writes counts as it is written, and what it
cannot write is taken from the assumptions that the report lists.
"""

import json
import subprocess
import tempfile
from collections import namedtuple
from functools import cache
from pathlib import Path

from conftest import dewpath

# A figure of one job: of the program, of the model, and the job's number.
Pair = namedtuple("Pair", "ours theirs job")


@cache
def report(text: str) -> dict:
    """The report of `dewpath check` on a job."""
    with tempfile.TemporaryDirectory() as folder:
        job = Path(folder) / "job.toml"
        job.write_text(text, encoding="utf-8")
        done = subprocess.run(
            [dewpath(), "check", job, "--draws", "0", "--json"], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
        )
    # 0, 1 and 3 are verdicts, 2 is a job that cannot be read.
    assert done.returncode in (0, 1, 3), done.stderr + text
    return json.loads(done.stdout)


def likely(figure: dict) -> float:
    """Likely value of a triple, or of a figure that holds one under its unit."""
    return figure["likely"] if "likely" in figure else likely(next(iter(figure.values())))


def assumed(found: dict, at: str) -> float:
    """Likely value of an assumption that the report lists, in the unit that it gives."""
    (assumption,) = (a for a in found["assumptions"] if a["at"] == at)
    return likely(assumption["figure"])


def finding(found: dict, name: str) -> dict:
    (one,) = (f for f in found["findings"] if f["id"] == name)
    return one


def away(pairs: list[Pair], share: float = 0.0, least: float = 0.0) -> list[Pair]:
    """The pairs that differ by more than a share of the model's figure, and by more than `least`; the worst first."""
    def over(pair):
        return abs(pair.ours - pair.theirs) - max(share * abs(pair.theirs), least)

    # A NaN is above nothing and would pass for agreement.
    return sorted((pair for pair in pairs if not over(pair) <= 0.0), key=over, reverse=True)
