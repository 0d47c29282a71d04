"""The highest apogee that a field allows: drift by hand, and full flights of other motors."""

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from goodflight.outputs.field_map.allowed_words import ASK, allowed_words
from goodflight.physics.flight.drift import Hanging, canopy_drift_m
from goodflight.physics.flight.fall import MeanWind
from goodflight.studies.case.planned import Case
from goodflight.studies.field.allowed import AllowedApogees, allowed_of, inside_from
from goodflight.studies.field.conditions import Conditions, under
from goodflight.studies.field.grid import off_field_share
from goodflight.studies.field.together import flown_together
from goodflight.studies.rows.model import View
from goodflight.studies.sampling.flights import COARSE_TOLERANCE, fly_together
from goodflight.studies.sampling.trials import make_trials

DemoCase = Callable[[str], Case]
FLIGHTS = 400
G = 9.80665


def one(value: float) -> np.ndarray:
    return np.array([value])


WIND = MeanWind(one(5.0), one(math.radians(270.0)), one(2.0), one(0.16))
SINGLE = Hanging(
    mass_kg=one(1.5),
    first_area_m2=one(0.7),
    second_area_m2=one(0.0),
    second_below_m=one(0.0),
    ground_temperature_k=one(288.15),
    ground_pressure_pa=one(101325.0),
)


def density(height_m: float) -> float:
    """US Standard Atmosphere 1976, eqs 23 and 33: 1.225 kg/m3 at the ground."""
    temperature = 288.15 - 0.0065 * height_m
    return 1.225 * (temperature / 288.15) ** (9.80665 * 0.0289644 / (8.31432 * 0.0065) - 1.0)


def slices(low: float, high: float, area_m2: float) -> float:
    """Drift of 1.5 kg in slices of 0.1 m: wind 5 m/s at 2 m to the power 0.16, over the descent."""
    heights = np.arange(low, high, 0.1) + 0.05
    falls = [math.sqrt(2.0 * 1.5 * G / (density(z) * area_m2)) for z in heights]
    return float(np.sum(5.0 * (heights / 2.0) ** 0.16 / np.array(falls)) * 0.1)


def test_drift_by_hand() -> None:
    """In air as at the ground: 300 m / 5.857 m/s x 5 m/s x 150^0.16 / 1.16 = 492.2 m, derived.

    Thinner air aloft lets it fall faster, at most by the root of its density there: 0.9715."""
    east, north = canopy_drift_m(one(300.0), WIND, SINGLE, G)
    by_hand = 300.0 / 5.857 * 5.0 * 150.0**0.16 / 1.16
    assert by_hand == pytest.approx(492.2, abs=0.1)
    assert by_hand * math.sqrt(0.9715) < float(east[0]) < by_hand
    assert float(east[0]) == pytest.approx(slices(0.0, 300.0, 0.7), rel=1e-4)  # the slices' own
    assert float(north[0]) == pytest.approx(0.0, abs=1e-9)


def test_second_canopy_opens_beside_the_first() -> None:
    """Below 150 m both carry, above it the first alone, derived."""
    both = SINGLE._replace(first_area_m2=one(0.1), second_area_m2=one(0.6))
    east, _ = canopy_drift_m(one(400.0), WIND, both._replace(second_below_m=one(150.0)), G)
    expected = slices(150.0, 400.0, 0.1) + slices(0.0, 150.0, 0.7)
    assert float(east[0]) == pytest.approx(expected, rel=1e-3)  # steep wind in the lowest slices
    low, _ = canopy_drift_m(one(100.0), WIND, both._replace(second_below_m=one(150.0)), G)
    assert float(low[0]) == pytest.approx(slices(0.0, 100.0, 0.7), rel=1e-3)


def flown(case: Case) -> View:
    (view,) = fly_together([case], [make_trials(case, FLIGHTS, 1)], COARSE_TOLERANCE)
    return view


@pytest.mark.parametrize("wind_m_s", [3.0, 6.0])
def test_other_motors_own_flights_agree(demo_case: DemoCase, wind_m_s: float) -> None:
    """The plan's flights moved to the apogees of H-a and I-c stay inside as often as those motors'
    full flights, within what that many flights can tell (1.96 standard deviations)."""
    base = under(demo_case("morning"), Conditions(wind_m_s=wind_m_s))
    moved = flown(base)
    for motor in ("H-a", "I-c"):
        (full,) = flown_together([under(base, Conditions(motor=motor))], FLIGHTS, 1)
        off = off_field_share(full)
        inside, opened = inside_from(moved, full.view.outcome("apogee_m")[None])
        assert off is not None
        error = 1.96 * math.sqrt(max(off * (1.0 - off), 1.0 / FLIGHTS) / FLIGHTS)
        assert inside.sum() / opened.sum() == pytest.approx(1.0 - off, abs=error)


def test_at_its_own_apogee_it_is_the_flight_itself(demo_case: DemoCase) -> None:
    case = under(demo_case("morning"), Conditions(wind_m_s=3.0))
    (full,) = flown_together([case], FLIGHTS, 1)
    landed = np.isfinite(full.view.outcome("landing_east_m"))
    inside, opened = inside_from(full.view, full.view.outcome("apogee_m")[None])
    off = off_field_share(full)
    assert off is not None and opened.sum() <= landed.sum()
    assert inside.sum() == pytest.approx(FLIGHTS * (1.0 - off), abs=int((landed & ~opened).sum()))


@pytest.fixture(scope="module")
def found(demo_case: DemoCase) -> AllowedApogees:
    return allowed_of(demo_case("morning"), (2.0, 5.0, 8.0))


def test_nine_in_ten_stay_inside_up_to_it_and_fewer_above(
    demo_case: DemoCase, found: AllowedApogees
) -> None:
    case = under(demo_case("morning"), Conditions(wind_m_s=5.0))
    view, told = flown(case), found.winds[1]
    assert told.apogee_m is not None and told.low_m is not None and told.high_m is not None
    assert told.low_m <= told.apogee_m <= told.high_m
    inside, opened = inside_from(view, np.array([[told.apogee_m], [told.apogee_m + 10.0]]))
    at, above = inside.sum(axis=1) / opened.sum(axis=1)
    assert at >= 0.9 > above


def test_more_wind_allows_less(found: AllowedApogees) -> None:
    heights = [each.apogee_m or 0.0 for each in found.winds]
    assert heights == sorted(heights, reverse=True) and heights[0] > heights[2] > 0.0


def test_words_say_what_is_not_known(demo_case: DemoCase, found: AllowedApogees) -> None:
    case = demo_case("morning")
    nowhere = replace(case, site=replace(case.site, outline_m=()))
    told = allowed_words(allowed_of(nowhere), "metric")
    assert (told.rows, told.notes) == ((), (ASK,))
    free = replace(case, site=replace(case.site, keep_outs_m=(), keep_out_kinds=()))
    freer = allowed_words(allowed_of(free, (5.0,)), "imperial")
    assert "the real figure may be lower" in freer.notes[0] and " ft" in freer.rows[0][1]
    known = allowed_words(found, "metric")
    assert "may be lower" not in known.notes[0] and known.rows[1][0] == "5 m/s"
