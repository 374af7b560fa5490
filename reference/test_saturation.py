"""The table of saturation that simulations read, against psychrolib, live, at generated states.

psychrolib has the equations that the table is made from (Hyland and Wexler 1983). The states come from the example
program `reference_saturation` of the crate dewpath-moisture.
"""

import psychrolib
from conftest import points, worst

psychrolib.SetUnitSystem(psychrolib.SI)

ROWS = points("reference_saturation")
# What the table claims of itself: `RELATIVE_ERROR` of saturation.rs.
BOUND = 3e-10
# A finite difference cannot span the triple point, where ice and water meet with different slopes.
STEP_K = 1e-3
SMOOTH = [row for row in ROWS if abs(row["temperature_c"] - 0.01) > 2 * STEP_K]


def ratio(t, p):
    return psychrolib.GetHumRatioFromVapPres(psychrolib.GetSatVapPres(t), p)


def test_pressure_within_its_bound():
    size, row = worst(ROWS, lambda r: r["saturation_pa"], lambda r: psychrolib.GetSatVapPres(r["temperature_c"]), relative=True)
    assert size < BOUND, (size, row)


def test_humidity_ratio_as_psychrolib():
    # The ratio magnifies the error of the pressure by p / (p - p_ws): at most 6 times in these states. psychrolib does
    # not go below its least ratio.
    rows = [r for r in ROWS if r["humidity_ratio"] > 2 * psychrolib.MIN_HUM_RATIO]
    assert len(rows) > 2500
    size, row = worst(
        rows, lambda r: r["humidity_ratio"], lambda r: ratio(r["temperature_c"], r["pressure_pa"]), relative=True
    )
    assert size < 6 * BOUND, (size, row)


def test_slopes_as_the_difference_of_two_values():
    def slope(function):
        return lambda r: (function(r["temperature_c"] + STEP_K, r) - function(r["temperature_c"] - STEP_K, r)) / (2 * STEP_K)

    pressure = slope(lambda t, r: psychrolib.GetSatVapPres(t))
    size, row = worst(SMOOTH, lambda r: r["slope_pa_k"], pressure, relative=True)
    assert size < 1e-6, (size, row)
    rows = [r for r in SMOOTH if r["humidity_ratio"] > 2 * psychrolib.MIN_HUM_RATIO]
    size, row = worst(rows, lambda r: r["slope_ratio_k"], slope(lambda t, r: ratio(t, r["pressure_pa"])), relative=True)
    assert size < 1e-6, (size, row)


def test_dew_point_gives_the_vapour_pressure_back():
    # Drier than the table's low end the dew point is that end.
    rows = [r for r in ROWS if -59.0 < r["dew_point_c"] and abs(r["dew_point_c"] - 0.01) > STEP_K]
    assert len(rows) > 3000
    size, row = worst(
        rows, lambda r: psychrolib.GetSatVapPres(r["dew_point_c"]),
        lambda r: r["humidity"] * psychrolib.GetSatVapPres(r["temperature_c"]), relative=True,
    )
    assert size < 3 * BOUND, (size, row)


def test_relative_humidity_comes_back():
    size, row = worst(ROWS, lambda r: r["back"], lambda r: r["humidity"], relative=True)
    assert size < 1e-12, (size, row)
