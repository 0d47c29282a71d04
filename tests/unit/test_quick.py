"""Few draws, flown with longer steps, give the verdicts of the ledger itself."""

import numpy as np
import pytest

from goodflight.studies.judging.evaluate import any_failing, evaluate
from goodflight.studies.questions.ledger import ledger_of
from goodflight.studies.questions.quick import FEW_DRAWS, QUICK_DRAWS, QUICK_TOLERANCE, quick_rows
from goodflight.studies.sample import sample_case
from goodflight.studies.sampling.draws import draw
from goodflight.studies.sampling.flights import fly_sample


def test_longer_steps_change_hardly_a_verdict() -> None:
    case = sample_case(4.5)
    sample = draw(case, 600, 1)
    fine = fly_sample(case, sample)
    quick = fly_sample(case, sample, QUICK_TOLERANCE)
    fails = [any_failing(evaluate(view)) for view in (fine, quick)]
    assert 60 < fails[0].sum() < 540  # a case where verdicts could flip
    # a draw flips only when it stands within the step error of a limit: under 1 in 100
    assert (fails[0] != fails[1]).sum() <= 6
    apogee = np.abs(fine.outcome("apogee_m") - quick.outcome("apogee_m"))
    assert apogee.max() < 3.0  # of some 600 m, against a band of tens of metres
    steps = [view.outcome("steps").mean() for view in (fine, quick)]
    assert steps[1] < 0.8 * steps[0]


@pytest.mark.parametrize("draws", [QUICK_DRAWS, FEW_DRAWS])
def test_a_quick_ledger_keeps_words_and_renews_figures(draws: int) -> None:
    planned = sample_case(2.0)
    base = ledger_of(planned, 200, remedies=False)
    quick = quick_rows(sample_case(6.0), base, draws)
    assert quick.draws == draws and all(row.draws == draws for row in quick.rows)
    assert quick.chance > base.chance
    assert [row.drivers for row in quick.rows] == [row.drivers for row in base.rows]
    whole = ledger_of(sample_case(6.0), draws, remedies=False)
    assert abs(quick.chance - whole.chance) <= 2.0 / draws


def test_a_quick_ledger_says_nothing_that_takes_all_draws() -> None:
    """What helps, what to measure and which draws fail were found for the plan, not for this."""
    planned = ledger_of(sample_case(4.5), 300)
    assert planned.cheapest and planned.measure_next and any(r.failing for r in planned.rows)
    quick = quick_rows(sample_case(6.0), planned)
    assert quick.cheapest is None and quick.measure_next == ()
    assert not any(row.failing or row.remedies for row in quick.rows)
