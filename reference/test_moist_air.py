"""Moist air against psychrolib (the same equations) and CoolProp (real gas), live, at generated states."""

import psychrolib
import pytest
from CoolProp.HumidAirProp import HAPropsSI
from conftest import points, worst

psychrolib.SetUnitSystem(psychrolib.SI)

ROWS = points("reference_moist_air")


def column(name):
    return lambda row: row[name]


def at_state(function):
    """A psychrolib function of temperature, humidity and pressure, as one of a row."""
    return lambda r: function(r["temperature_c"], r["humidity"], r["pressure_pa"])


def with_ratio(function):
    """A psychrolib function of temperature, *psychrolib's* humidity ratio and pressure, as one of a row."""
    ratio = at_state(psychrolib.GetHumRatioFromRelHum)
    return lambda r: function(r["temperature_c"], ratio(r), r["pressure_pa"])


SAME_EQUATIONS = {
    "saturation_pa": lambda r: psychrolib.GetSatVapPres(r["temperature_c"]),
    "humidity_ratio": at_state(psychrolib.GetHumRatioFromRelHum),
    "vapour_pa": lambda r: psychrolib.GetVapPresFromRelHum(r["temperature_c"], r["humidity"]),
    "volume_m3_kg": with_ratio(psychrolib.GetMoistAirVolume),
    "density_kg_m3": with_ratio(psychrolib.GetMoistAirDensity),
}


@pytest.mark.parametrize("name", SAME_EQUATIONS)
def test_same_equations_as_psychrolib(name):
    size, row = worst(ROWS, column(name), SAME_EQUATIONS[name], relative=True)
    assert size < 1e-9, row


def test_enthalpy_as_psychrolib():
    # Absolute: enthalpy passes through zero.
    theirs = with_ratio(lambda t, w, _p: psychrolib.GetMoistAirEnthalpy(t, w))
    size, row = worst(ROWS, column("enthalpy_j_kg"), theirs, relative=False)
    assert size < 1e-4, row


def test_dew_point_as_psychrolib():
    # psychrolib stops its own search at 0.001 K; between the ends of its two curves at 0.01 °C it is free to stop
    # on either side.
    theirs = lambda r: psychrolib.GetTDewPointFromRelHum(r["temperature_c"], r["humidity"])
    size, row = worst(ROWS, column("dew_point_c"), theirs, relative=False)
    assert size < 0.002, row


def test_dew_point_gives_the_vapour_pressure_back():
    # Stricter than comparing two searches: what psychrolib says of our answer. The two curves end 2e-5 apart.
    theirs = column("vapour_pa")
    ours = lambda r: psychrolib.GetSatVapPres(r["dew_point_c"])
    size, row = worst(ROWS, ours, theirs, relative=True)
    assert size < 3e-5, row
    away = [r for r in ROWS if abs(r["dew_point_c"] - 0.01) > 0.001]
    size, row = worst(away, ours, theirs, relative=True)
    assert size < 1e-9, row


def test_wet_bulb_gives_the_humidity_ratio_back():
    ours = lambda r: psychrolib.GetHumRatioFromTWetBulb(
        r["temperature_c"], min(r["wet_bulb_c"], r["temperature_c"]), r["pressure_pa"]
    )
    size, row = worst(ROWS, ours, column("humidity_ratio"), relative=False)
    assert size < 1e-9, row


def test_wet_bulb_as_psychrolib():
    # Around 0 °C a liquid and a frozen wick can both balance; psychrolib's bisection lands on either, ours always
    # on the liquid one. Where ours is frozen or well above freezing there is one answer.
    one_answer = [r for r in ROWS if not 0.0 <= r["wet_bulb_c"] < 1.5]
    assert len(one_answer) > 0.9 * len(ROWS)
    theirs = at_state(psychrolib.GetTWetBulbFromRelHum)
    size, row = worst(one_answer, column("wet_bulb_c"), theirs, relative=False)
    assert size < 0.002, row


@pytest.mark.parametrize("name", ["humidity_from_wet_bulb", "humidity_from_dew_point"])
def test_ways_back(name):
    # Ours from ours: what is checked is that the second way in agrees with the first.
    size, row = worst(ROWS, column(name), column("humidity"), relative=False)
    assert size < 3e-5, row


def real_gas(output):
    return lambda r: HAPropsSI(
        output,
        "T",
        r["temperature_c"] + 273.15,
        "R",
        r["humidity"],
        "P",
        r["pressure_pa"],
    )


# The ideal mixture leaves out the enhancement factor: humidity ratio 0.35 to 0.5 % low, the rest follows. Viscosity
# and conductivity leave the vapour out. Range of use: -25 to 45 °C, up to 30 g/kg (saturated at 31 °C).
def in_use(row):
    return -25.0 <= row["temperature_c"] <= 45.0 and row["humidity_ratio"] <= 0.03


REAL_GAS = {
    "humidity_ratio": ("W", 0.6e-2),
    "volume_m3_kg": ("V", 0.15e-2),
    "viscosity_pa_s": ("M", 1.5e-2),
    "conductivity_w_m_k": ("K", 1e-2),
}


@pytest.mark.parametrize("name", REAL_GAS)
def test_near_the_real_gas(name):
    output, tolerance = REAL_GAS[name]
    rows = [r for r in ROWS if in_use(r)]
    assert len(rows) >= 2000
    size, row = worst(rows, column(name), real_gas(output), relative=True)
    assert size < tolerance, (size, row)


def test_wet_bulb_near_the_real_gas():
    rows = [r for r in ROWS if in_use(r) and r["wet_bulb_c"] > 1.5]
    size, row = worst(rows, column("wet_bulb_c"), lambda r: real_gas("B")(r) - 273.15, relative=False)
    assert size < 0.05, (size, row)
