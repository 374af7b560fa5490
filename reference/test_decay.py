"""Fits to the record of a humidity logger against scipy's and numpy's, live, on a few hundred invented records.

The records, with noise that is always the same, come from the example program `reference_decay` of the crate
dewpath-moisture.
"""

import math
from itertools import groupby

import numpy
import pytest
from conftest import points
from scipy.optimize import curve_fit
from scipy.stats import linregress, t as student

LEAST_EXCESS = 0.001


def records():
    """Each record as its times (h), excesses over the background (kg/kg) and the fits of the project."""
    rows = points("reference_decay")
    for _, group in groupby(rows, key=lambda row: row["record"]):
        group = list(group)
        times = numpy.array([row["time_h"] for row in group])
        excess = numpy.array([row["humidity_ratio"] - row["background"] for row in group])
        yield times, excess, group[0]


RECORDS = list(records())


def used(times, excess):
    """Up to the first reading with little excess left."""
    low = numpy.flatnonzero(excess <= LEAST_EXCESS)
    end = low[0] if len(low) else len(times)
    return times[:end], excess[:end]


def answered(column):
    return [record for record in RECORDS if record[2][column] != "none"]


# Every third record is made of two decays. The others have no second one to be found, only noise that looks like it.
WITH_TAIL = [record for record in answered("fast_rate") if record[2]["record"] % 3 == 0]
WITHOUT_TAIL = [record for record in RECORDS if record[2]["record"] % 3 != 0]


def agree(ours, theirs, relative, what):
    assert ours == pytest.approx(theirs, rel=relative), what


def half_width(variance, freedom):
    return student.ppf(0.975, freedom) * math.sqrt(variance)


def test_every_fit_answers_nearly_every_record():
    assert len(RECORDS) == 240
    for column in ("line_rate", "weighted_rate", "known_rate", "free_rate"):
        assert len(answered(column)) == len(RECORDS), column
    assert len(WITH_TAIL) == 80


def test_line_through_the_logarithm():
    for times, excess, ours in RECORDS:
        t, y = used(times, excess)
        found = linregress(t, numpy.log(y))
        assert len(t) == ours["line_used"]
        agree(ours["line_rate"], -found.slope, 1e-9, ours)
        agree(ours["line_half_width"], half_width(found.stderr**2, len(t) - 2), 1e-8, ours)


def test_line_weighted_by_the_excess():
    for times, excess, ours in RECORDS:
        t, y = used(times, excess)
        # numpy multiplies the residuals, not their squares, with the weight.
        (slope, _), covariance = numpy.polyfit(t, numpy.log(y), 1, w=y, cov=True)
        agree(ours["weighted_rate"], -slope, 1e-9, ours)
        agree(ours["weighted_half_width"], half_width(covariance[0, 0], len(t) - 2), 1e-8, ours)


def test_exponential_above_a_known_background():
    def model(t, factor, rate):
        return factor * numpy.exp(-rate * t)

    for times, excess, ours in RECORDS:
        found, covariance = curve_fit(model, times, excess, p0=(excess[0], 2.5 / times[-1]), ftol=1e-14, xtol=1e-14, gtol=1e-14)
        residuals = excess - model(times, *found)
        agree(ours["known_rate"], found[1], 1e-6, ours)
        agree(ours["known_excess"], found[0], 1e-6, ours)
        agree(ours["known_half_width"], half_width(covariance[1, 1], len(times) - 2), 1e-4, ours)
        residuals = residuals - residuals.mean()
        correlation = (residuals[1:] * residuals[:-1]).sum() / (residuals**2).sum()
        assert ours["known_autocorrelation"] == pytest.approx(correlation, abs=1e-5), ours


def test_exponential_above_an_unknown_background():
    def model(t, offset, factor, rate):
        return offset + factor * numpy.exp(-rate * t)

    for times, excess, ours in WITHOUT_TAIL:
        scale = excess[0]
        start = (0.0, 1.0, 2.5 / times[-1])
        found, covariance = curve_fit(model, times, excess / scale, p0=start, ftol=1e-14, xtol=1e-14, gtol=1e-14)
        agree(ours["free_rate"], found[2], 1e-5, ours)
        agree(ours["free_half_width"], half_width(covariance[2, 2], len(times) - 3), 1e-3, ours)
        background = ours["background"] + found[0] * scale
        agree(ours["free_background"], background, 1e-6, ours)


def squares_of(times, excess, shapes):
    """What is left by the best sum of these shapes."""
    columns = numpy.array(shapes).T
    factors, *_ = numpy.linalg.lstsq(columns, excess, rcond=None)
    return ((excess - columns @ factors) ** 2).sum(), factors


def test_fast_and_slow_parts():
    def model(t, a, fast, b, slow):
        return a * numpy.exp(-fast * t) + b * numpy.exp(-slow * t)

    for times, excess, ours in WITH_TAIL:
        shapes = [numpy.exp(-ours["fast_rate"] * times), numpy.exp(-ours["slow_rate"] * times)]
        left, (a, b) = squares_of(times, excess, shapes)
        assert ours["tail"] == pytest.approx(b / (a + b), abs=1e-6), ours
        # No worse than scipy's, started from the rates that the record was made of, about.
        scale, rate = excess[0], 10.0 / times[-1]
        start = (0.75, rate, 0.25, 0.1 * rate)
        found, covariance = curve_fit(model, times, excess / scale, p0=start, maxfev=20_000, ftol=1e-14, xtol=1e-14, gtol=1e-14)
        theirs = ((excess / scale - model(times, *found)) ** 2).sum() * scale**2
        assert left <= theirs * (1 + 1e-7), ours
        if found[0] > 0 and found[2] > 0 and left > theirs * (1 - 1e-7):
            fast = max(found[1], found[3])
            agree(ours["fast_rate"], fast, 1e-3, ours)


def test_criterion_of_one_or_two_parts():
    # Hurvich and Tsai 1989: N ln(SS/N) + 2k + 2k(k + 1)/(N - k - 1), the variance counted in k.
    def criterion(squares, count, k):
        return count * math.log(squares / count) + 2 * k + 2 * k * (k + 1) / (count - k - 1)

    for times, excess, ours in WITH_TAIL:
        single, _ = squares_of(times, excess, [numpy.exp(-ours["known_rate"] * times)])
        shapes = [numpy.exp(-ours["fast_rate"] * times), numpy.exp(-ours["slow_rate"] * times)]
        double, _ = squares_of(times, excess, shapes)
        gain = criterion(single, len(times), 3) - criterion(double, len(times), 5)
        assert ours["aicc_single"] - ours["aicc_double"] == pytest.approx(gain, abs=1e-4), ours
