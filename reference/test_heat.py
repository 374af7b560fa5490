"""Heat transfer inside and around ducts against the library ht, live, at generated points.

The points come from the example program `reference_heat` of the crate dewpath-moisture.
"""

import math

import pytest
from conftest import points, worst
from fluids.friction import Clamond
from ht.conduction import R_cylinder, S_isothermal_pipe_to_plane
from ht.conv_external import Nu_cylinder_Churchill_Bernstein
from ht.conv_free_immersed import Nu_horizontal_cylinder_Churchill_Chu, Nu_vertical_plate_Churchill
from ht.conv_internal import (
    laminar_entry_thermal_Hausen,
    turbulent_Dittus_Boelter,
    turbulent_Gnielinski,
)
from ht.radiation import q_rad

ROWS = points("reference_heat")

# Between these ours goes straight from the laminar to the turbulent value.
LAMINAR, TURBULENT = 2300.0, 4000.0


def grashof(row):
    return row["rayleigh"] / row["prandtl"]


def layer(row):
    return R_cylinder(row["diameter_m"], row["diameter_m"] + 2.0 * row["thickness_m"], row["conductivity"], 1.0)


SAME_FORMULA = {
    "gnielinski": lambda r: turbulent_Gnielinski(r["reynolds"], r["prandtl"], r["friction"]),
    "cooled_dittus_boelter": lambda r: turbulent_Dittus_Boelter(r["reynolds"], r["prandtl"], heating=False),
    "heated_dittus_boelter": lambda r: turbulent_Dittus_Boelter(r["reynolds"], r["prandtl"], heating=True),
    "cylinder": lambda r: Nu_horizontal_cylinder_Churchill_Chu(r["prandtl"], grashof(r)),
    "plate": lambda r: Nu_vertical_plate_Churchill(r["prandtl"], grashof(r)),
    "cross_flow": lambda r: Nu_cylinder_Churchill_Bernstein(r["reynolds"], r["prandtl"]),
    "layer_m_k_w": layer,
}


@pytest.mark.parametrize("name", SAME_FORMULA)
def test_same_formula_as_ht(name):
    size, row = worst(ROWS, lambda r: r[name], SAME_FORMULA[name], relative=True)
    assert size < 1e-9, (size, row)


def hausen(row, reynolds):
    """Laminar entry; ht takes a length and a diameter, only their ratio counts."""
    return laminar_entry_thermal_Hausen(reynolds, row["air_prandtl"], 1.0, row["diameter_over_length"])


def rough_entry(row, reynolds):
    """Turbulent, with the friction of the wall, times 1 + (D/L)^(2/3)."""
    friction = Clamond(reynolds, row["roughness"])
    return turbulent_Gnielinski(reynolds, row["air_prandtl"], friction) * (1.0 + row["diameter_over_length"] ** (2 / 3))


def between(row):
    share = (row["any_reynolds"] - LAMINAR) / (TURBULENT - LAMINAR)
    return (1.0 - share) * hausen(row, LAMINAR) + share * rough_entry(row, TURBULENT)


@pytest.mark.parametrize(
    ("low", "high", "theirs"),
    [
        (0.0, LAMINAR, lambda r: hausen(r, r["any_reynolds"])),
        (LAMINAR, TURBULENT, between),
        (TURBULENT, math.inf, lambda r: rough_entry(r, r["any_reynolds"])),
    ],
    ids=["laminar", "transition", "turbulent"],
)
def test_inside_a_duct_at_any_flow(low, high, theirs):
    rows = [row for row in ROWS if low < row["any_reynolds"] <= high]
    assert len(rows) > 200
    size, row = worst(rows, lambda r: r["inside"], theirs, relative=True)
    assert size < 1e-9, (size, row)


def test_radiation_as_the_difference_of_two_radiators():
    # ht gives the flux; ours is its coefficient, exact for both temperatures. ht takes Stefan's constant of CODATA 2014,
    # 1.3e-6 below that of 2018.
    def flux(row):
        return row["radiation"] * (row["surface_k"] - row["around_k"])

    rows = [row for row in ROWS if abs(row["surface_k"] - row["around_k"]) > 0.1]
    theirs = lambda r: q_rad(r["emissivity"], r["surface_k"], r["around_k"])
    size, row = worst(rows, flux, theirs, relative=True)
    assert size < 2e-6, (size, row)


def test_buried_duct_as_the_shape_factor_of_a_pipe_below_a_plane():
    # The layer that stands for the fill resists as much as the fill below its level surface does.
    def ours(row):
        return math.log1p(2.0 * row["buried_thickness_m"] / row["diameter_m"]) / (2.0 * math.pi)

    def theirs(row):
        return 1.0 / S_isothermal_pipe_to_plane(row["diameter_m"], row["diameter_m"] / 2.0 + row["cover_m"])

    size, row = worst(ROWS, ours, theirs, relative=True)
    assert size < 1e-9, (size, row)
