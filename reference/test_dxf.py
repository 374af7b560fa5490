"""The DXF of every sheet of some example jobs, read and audited by ezdxf 1.4.5."""

import os
import subprocess
from pathlib import Path

import ezdxf
import pytest

from conftest import REPOSITORY, dewpath

JOBS = ["hall-bath", "two-baths-inline", "shared-riser-flat"]


@pytest.fixture(scope="module")
def sheets(tmp_path_factory):
    """Folders of sheets, one for each job; those in the environment variable DEWPATH_SHEETS if it is set."""
    folder = os.environ.get("DEWPATH_SHEETS")
    if folder:
        return sorted(Path(folder).glob("**/*.dxf"))
    out = tmp_path_factory.mktemp("sheets")
    for job in JOBS:
        subprocess.run(
            [dewpath(), "draw", f"jobs/{job}.toml", "--out", str(out / job), "--dxf", "--draws", "64"],
            cwd=REPOSITORY, check=True, stdout=subprocess.DEVNULL,
        )
    return sorted(out.glob("*/*.dxf"))


def test_every_file_is_sound(sheets):
    assert len(sheets) >= 9
    for path in sheets:
        drawing = ezdxf.readfile(path)
        audit = drawing.audit()
        assert not audit.errors, (path.name, [error.message for error in audit.errors])
        assert not audit.fixes, (path.name, [fix.message for fix in audit.fixes])


def test_every_entity_is_on_a_layer_that_is_defined(sheets):
    for path in sheets:
        drawing = ezdxf.readfile(path)
        space = drawing.modelspace()
        assert len(space) > 20, path.name
        for entity in space:
            assert entity.dxf.layer in drawing.layers, (path.name, entity.dxf.layer)
            kind = entity.dxftype()
            assert kind in {"LINE", "POLYLINE", "ARC", "CIRCLE", "TEXT"}, kind
        for layer in drawing.layers:
            assert layer.dxf.linetype in drawing.linetypes


def test_a_section_is_in_true_millimetres(sheets):
    """The dimension lines of the hall bath's section are as long as its job says: 6 ft and 2 ft."""
    for path in sheets:
        if path.name != "section-attic-run.dxf":
            continue
        space = ezdxf.readfile(path).modelspace()
        lengths = [
            abs(line.dxf.end.x - line.dxf.start.x)
            for line in space.query('LINE[layer=="dimension"]')
            if line.dxf.start.y == line.dxf.end.y
        ]
        for wanted_mm in (6 * 304.8, 2 * 304.8):
            assert any(abs(length - wanted_mm) < 0.01 for length in lengths), (wanted_mm, lengths)
        return
    pytest.fail("no section of the hall bath")
