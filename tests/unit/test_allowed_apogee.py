"""The highest apogee that a field allows: against full flights of other motors."""

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from goodflight.outputs.field_map.allowed_words import ASK, allowed_words
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
