"""Few flights, flown with longer steps, give the verdicts of the ledger itself."""

import numpy as np
import pytest

from goodflight.studies.judging.evaluate import any_failing, evaluate
from goodflight.studies.questions.ledger import ledger_of
from goodflight.studies.questions.quick import FEW_FLIGHTS, QUICK_FLIGHTS, quick_rows
from goodflight.studies.sampling.flights import COARSE_TOLERANCE, fly_sample
from goodflight.studies.sampling.trials import make_trials
from sample_case import sample_case


def test_longer_steps_change_hardly_a_verdict() -> None:
    case = sample_case(4.5)
    sample = make_trials(case, 600, 1)
    fine = fly_sample(case, sample)
    quick = fly_sample(case, sample, COARSE_TOLERANCE)
    fails = [any_failing(evaluate(view)) for view in (fine, quick)]
    assert 60 < fails[0].sum() < 540  # a case where verdicts could flip
    # a flight flips only when it stands within the step error of a limit: under 1 in 100
    assert (fails[0] != fails[1]).sum() <= 6
    apogee = np.abs(fine.outcome("apogee_m") - quick.outcome("apogee_m"))
    assert apogee.max() < 3.0  # of some 600 m, against a band of tens of metres
    steps = [view.outcome("steps").mean() for view in (fine, quick)]
    assert steps[1] < 0.8 * steps[0]


@pytest.mark.parametrize("flights", [QUICK_FLIGHTS, FEW_FLIGHTS])
def test_a_quick_ledger_keeps_words_and_renews_figures(flights: int) -> None:
    planned = sample_case(2.0)
    base = ledger_of(planned, 200, remedies=False)
    quick = quick_rows(sample_case(6.0), base, flights)
    assert quick.flights == flights and all(row.flights == flights for row in quick.rows)
    assert quick.chance > base.chance
    assert [row.drivers for row in quick.rows] == [row.drivers for row in base.rows]
    whole = ledger_of(sample_case(6.0), flights, remedies=False)
    assert abs(quick.chance - whole.chance) <= 2.0 / flights


def test_a_quick_ledger_says_nothing_that_takes_all_draws() -> None:
    """What helps, what to measure and which flights fail were found for the plan, not for this."""
    planned = ledger_of(sample_case(4.5), 300)
    assert planned.way and planned.measure_next and any(r.failing for r in planned.rows)
    quick = quick_rows(sample_case(6.0), planned)
    assert quick.way is None and quick.measure_next == ()
    assert not any(row.failing or row.remedies for row in quick.rows)
