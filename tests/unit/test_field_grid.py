"""A plan under other conditions is the plan whose file says so; a cell of the grid its ledger."""

import math
from collections.abc import Callable

import numpy as np
import pytest

from goodflight.physics.flight.kernel import LONGEST_STEP_S
from goodflight.physics.flight.registry import NOTHING_OPEN, NOTHING_OPENS, OUTCOME_INDEX
from goodflight.studies.case.planned import Case
from goodflight.studies.field.conditions import Conditions, under
from goodflight.studies.field.grid import Over, grid_of
from goodflight.studies.field.together import flown_together
from goodflight.studies.judging.evaluate import evaluate
from goodflight.studies.judging.plan import judged_alone
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.sampling.flights import COARSE_TOLERANCE, fly_first, fly_sample, unopened
from goodflight.studies.sampling.trials import make_trials

DemoCase = Callable[[str], Case]
BREEZY = Conditions(
    wind_m_s=4.5,
    wind_sigma_m_s=0.3,
    gust_m_s=1.6 * 4.5,
    temperature_k=286.15,
    cloud_base_m=950.0,
    cloud_cover_tenths=4.0,
    tilt_rad=math.radians(3.0),
)


def test_the_plan_under_conditions_is_the_plan_that_says_them(demo_case: DemoCase) -> None:
    """Day, air's tables and every flown figure are those of the demo's own plan for that hour."""
    made, written = under(demo_case("morning"), BREEZY), demo_case("breezy")
    written_day = {**vars(written.day), "temperature_sigma_k": made.day.temperature_sigma_k}
    assert vars(made.day) == pytest.approx(written_day)
    assert np.array_equal(made.tables.mach_table, written.tables.mach_table)
    assert vars(made.rail) == pytest.approx(vars(written.rail))
    assert made.deployment.delay_out_s == 2.0


def test_choices_at_the_pad_are_those_of_the_demos_small_motor(demo_case: DemoCase) -> None:
    chosen = Conditions(motor="H-a", delay_out_s=3.0, rail_m=3.0, tilt_rad=0.0)
    made, written = under(demo_case("breezy"), chosen), demo_case("small motor")
    flown, planned = (make_trials(case, 30, 1).parameters for case in (made, written))
    assert np.allclose(flown, planned, rtol=1e-9)


def test_rows_worked_out_together_are_those_of_each_ledger(demo_case: DemoCase) -> None:
    """All rows of cells that differ by wind, lean, delay, sky and motor, flight for flight."""
    base = demo_case("morning")
    cases = [
        under(base, each)
        for each in (
            Conditions(),
            BREEZY,
            Conditions(wind_m_s=9.0, delay_out_s=0.0, cloud_base_m=400.0),
            Conditions(motor="H-a", wind_m_s=3.0, tilt_rad=0.1, canopy="small"),
        )
    ]
    together = flown_together(cases, 40, 1, masks_only=False)
    fails = 0
    for case, found in zip(cases, together):
        alone = evaluate(fly_sample(case, make_trials(case, 40, 1), COARSE_TOLERANCE))
        assert [row.limit.key for row in found.rows] == [row.limit.key for row in alone]
        for row, other in zip(found.rows, alone):
            assert (row.missing, row.not_here) == (other.missing, other.not_here), row.limit.key
            assert np.array_equal(row.failing, other.failing), row.limit.key
            assert np.allclose(row.demand, other.demand, equal_nan=True), row.limit.key
            assert np.allclose(row.capacity, other.capacity, equal_nan=True), row.limit.key
            fails += int(row.failing.sum())
        assert judged_alone(found.rows, 40) == judged_alone(alone, 40)
    assert fails > 40


def test_a_grid_names_its_cells_and_what_is_worst_in_them(demo_case: DemoCase) -> None:
    grid = grid_of(
        demo_case("morning"), Over((1.0, 8.0), (0.0, 2.0, 99.0), (0.0, 0.1), ("H-a", "H-b")), 40
    )
    assert len(grid.cells) == 2 * 2 * 2 * 2 and grid.motors == ("H-a", "H-b")
    assert {cell.delay_out_s for cell in grid.cells} == {0.0, 2.0}
    calm, windy = (
        next(c for c in grid.cells if (c.motor, c.wind_m_s, c.delay_out_s) == ("H-b", wind, 2.0))
        for wind in (1.0, 8.0)
    )
    assert windy.off_field is not None and calm.off_field is not None
    assert windy.off_field > calm.off_field and windy.worst == "off_field"
    assert windy.chance >= windy.worst_chance > 0.5 and "wind_limit" in windy.unmet
    # the wind comes from the south-west: a canopy drifts north-east of where it does in calm
    assert windy.landing_m is not None and min(windy.landing_m) > 100.0
    low = [cell.apogee_m for cell in grid.cells if cell.motor == "H-a"]
    assert max(low) < 400.0 < calm.apogee_m  # [m], docs of the demo: H-a some 320, H-b some 570


def test_an_early_charge_does_not_shorten_the_unopened_way(demo_case: DemoCase) -> None:
    """What nothing opens does not depend on the delay: cells of two delays come down alike."""
    grid = grid_of(demo_case("midday"), Over((3.5,), (2.0, 4.0), (0.1,), ("H-a",)), 40)
    early, late = sorted(grid.cells, key=lambda cell: -cell.delay_out_s)
    assert early.unopened_m == late.unopened_m and early.unopened_near == late.unopened_near
    case = under(demo_case("midday"), Conditions(motor="H-a", delay_out_s=4.0, tilt_rad=0.1))
    trials = make_trials(case, 40, 1)
    view = fly_sample(case, trials, COARSE_TOLERANCE)
    assert (view.outcome("ejection_s") < view.outcome("apogee_s")).mean() > 0.5  # so it matters
    flown = fly_first(case, trials, 40, NOTHING_OPENS, COARSE_TOLERANCE)
    kernel = float(np.median(flown[:, OUTCOME_INDEX["landing_east_m"]]))
    assert early.unopened_m is not None
    # gusts below apogee are left out of it: a few metres of some hundred
    assert early.unopened_m[0] == pytest.approx(kernel, abs=5.0)


@pytest.mark.parametrize("delay_out_s", [0.0, 2.0, 4.0])
def test_unopened_flights_have_the_apogee_of_those_flown_with_nothing_to_open(
    demo_case: DemoCase, delay_out_s: float
) -> None:
    """Bit for bit, or within the error of the step after apogee that an ejection cuts short."""
    case = under(demo_case("midday"), Conditions(motor="H-a", delay_out_s=delay_out_s))
    view = fly_sample(case, make_trials(case, 60, 1), COARSE_TOLERANCE)
    anew = fly_first(case, view.trials, 60, NOTHING_OPENS, COARSE_TOLERANCE)
    found = unopened(view, COARSE_TOLERANCE)
    apogee = [place for name, place in OUTCOME_INDEX.items() if name.startswith("apogee_")]
    after = view.outcome("ejection_s") - view.outcome("apogee_s")
    whole = ~((after > 0.0) & (after < LONGEST_STEP_S))
    assert found[whole][:, apogee].tobytes() == anew[whole][:, apogee].tobytes()
    # steps of COARSE_TOLERANCE may miss by 1e-3 of 50 m and of 20 m/s, the scales of their errors
    np.testing.assert_allclose(found[:, apogee], anew[:, apogee], rtol=0.0, atol=0.05)
    again = int((found[:, OUTCOME_INDEX["status"]] == NOTHING_OPEN).sum())
    assert 0 < again < 60


@pytest.mark.parametrize(
    ("chosen", "words"),
    [
        (Conditions(motor="J-z"), "no motor 'J-z' in motors/"),
        (Conditions(canopy="huge"), "no canopy 'huge'"),
        (Conditions(delay_out_s=10.5), "10.5 s out of the delay of"),
    ],
)
def test_what_is_not_at_hand_is_refused(
    demo_case: DemoCase, chosen: Conditions, words: str
) -> None:
    with pytest.raises(StudyRefused, match=words.replace("'", ".")):
        under(demo_case("morning"), chosen)
