"""The ledger of a what-if while it is moved: few flights, what can wait left as it was."""

from dataclasses import replace
from typing import Final

from goodflight.studies.case.planned import Case
from goodflight.studies.judging.counting import counted
from goodflight.studies.judging.evaluate import evaluate
from goodflight.studies.judging.plan import judged
from goodflight.studies.questions.ledger import ledger_row, not_here_of
from goodflight.studies.results import Ledger
from goodflight.studies.sampling.flights import COARSE_TOLERANCE, fly_sample
from goodflight.studies.sampling.trials import make_trials

QUICK_FLIGHTS: Final = 150
FEW_FLIGHTS: Final = 60  # while a control is dragged


def quick_rows(case: Case, base: Ledger, flights: int = QUICK_FLIGHTS) -> Ledger:
    """Fly few flights of a changed case and put their chances into a known ledger.

    Words and drivers stay those of `base`; chance, margin and clouds are new. What takes them all
    (remedies, the way, what to measure next, how far the guesses go, single flights that
    fail) is left out.
    """
    view = fly_sample(case, make_trials(case, flights, base.seed), COARSE_TOLERANCE)
    evaluated = evaluate(view)
    old = {row.key: row for row in base.rows}
    rows = tuple(
        replace(old[row.limit.key], remedies=(), failing=None, **counted(row, flights))
        if row.limit.key in old
        else ledger_row(view, row, (), ())
        for row in evaluated
        if not row.not_here
    )
    plan = judged(rows, evaluated, flights)
    return replace(
        base,
        motor=case.motor.name,
        flights=flights,
        rows=rows,
        chance=plan.total.chance,
        low=plan.total.low,
        high=plan.total.high,
        state=plan.state,
        unknown=plan.unknown,
        unmet=plan.unmet,
        open=plan.open,
        measure_next=(),
        not_here=not_here_of(evaluated),
        way=None,
        knowledge=None,
    )
