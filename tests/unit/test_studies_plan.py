"""What a plan is called as a whole: failures count, rules forbid, what is missing never helps."""

from dataclasses import replace

import pytest

from goodflight.project.head.separation import Separation
from goodflight.project.outlines import KINDS
from goodflight.studies.case.codes import CODE_SETS
from goodflight.studies.case.planned import Case
from goodflight.studies.judging.evaluate import any_failing, evaluate
from goodflight.studies.judging.plan import Plan, judged_alone
from goodflight.studies.questions.ledger import ledger_of
from goodflight.studies.questions.motors import motors_of
from goodflight.studies.rows import LIMIT_STATES
from goodflight.studies.sampling.flights import fly_trials
from sample_case import sample_case, within

FLIGHTS = 120


def plan_of(case: Case) -> Plan:
    return judged_alone(evaluate(fly_trials(case, FLIGHTS, 1)), FLIGHTS)


def calm() -> Case:
    return sample_case(1.0)


def test_a_rule_that_is_not_met_is_no_failure_of_the_flight() -> None:
    fine, level = plan_of(calm()), plan_of(within(calm(), "rules", level="none"))
    assert level.total == fine.total
    assert level.unmet == ("motor_class",) and level.state == "fails"


def test_a_statement_not_confirmed_keeps_the_plan_from_ok_and_the_total_as_it_is() -> None:
    fine, open_ = plan_of(calm()), plan_of(within(calm(), "plan_says", confirmed=[]))
    assert open_.total == fine.total
    assert {"visibility", "night", "fire"} <= set(open_.open)
    assert open_.state in ("marginal", "fails")


def bare(case: Case, **left_out: None) -> Case:
    separation = replace(case.rocket.separation, **left_out)  # type: ignore[arg-type]
    return replace(case, rocket=replace(case.rocket, separation=separation))


OPTIONAL = sorted(
    name
    for name, value in vars(sample_case(1.0).rocket.separation).items()
    if value is not None and vars(Separation()).get(name) is None
)


# Twice the pack's weight is assumed where its pull is not measured, and the sample's pull is more:
# what is taken may be kinder than the figure, but by no more than the flights can tell.
KINDER = ("pack_pull_n",)


@pytest.mark.parametrize("name", OPTIONAL)
def test_a_figure_that_is_left_out_never_makes_the_plan_better(name: str) -> None:
    """The total over what is still known is a lower bound, and the plan is not ok or marginal."""
    rank = {"ok": 0, "marginal": 1, "unknown": 2, "fails": 3}
    whole, less = plan_of(calm()), plan_of(bare(calm(), **{name: None}))
    assert rank[less.state] >= rank[whole.state], (name, whole, less)
    least = whole.total.low if name in KINDER else whole.total.chance
    if less.total.chance < least:
        assert less.unknown and less.state in ("unknown", "fails")


def test_an_unknown_failure_leaves_the_plan_unknown_and_bounds_the_total() -> None:
    case = bare(calm(), retention=None, retention_n=None)
    ledger = ledger_of(case, FLIGHTS, 1, remedies=False)
    assert "motor_pushed_out" in ledger.unknown
    assert ledger.state in ("unknown", "fails")
    assert any("lower bound" in each for each in ledger.warnings)


def test_ledger_and_motors_agree_on_the_same_flights() -> None:
    case = replace(calm(), motors={"middle": calm().motor})
    (row,) = motors_of(case, FLIGHTS, 1).rows
    same = within(case, "deployment", delay_out_s=row.delay_out_s or 0.0)
    ledger = ledger_of(same, FLIGHTS, 1, remedies=False)
    assert (row.chance, row.can) == (ledger.chance, ledger.state)


def test_every_row_has_its_kind() -> None:
    """Rules are of the code, the workshop, a maker's sheet, or of thumb, or say on which ground a
    landing fails that `keep_out` counts, or whether it goes onto the rail; all else fails."""
    for limit in LIMIT_STATES:
        if limit.thumb:
            assert limit.kind == "rule", limit.key
        elif limit.kind != "failure":
            told = {"liftoff_mass", "rail_fit", *(f"on_{kind}" for kind in KINDS)}
            assert limit.key in told or limit.phase in ("code", "workmanship"), limit.key
        elif limit.phase == "code":
            raise AssertionError(f"{limit.key} is of the code and counts as a failure")


def test_another_country_s_open_rules_do_not_move_the_total() -> None:
    here, there = plan_of(calm()), plan_of(within(calm(), "rules", code=CODE_SETS["canada"]))
    assert here.total == there.total


def test_the_total_counts_failures_only() -> None:
    rows = evaluate(fly_trials(within(calm(), "rules", level="none"), FLIGHTS, 1))
    assert not any_failing(rows).all()
    assert any_failing(rows, ("rule",)).all()


def test_a_rule_of_thumb_has_no_vote() -> None:
    """Rows of what a fast ejection does decide; the rule stands beside as a caution."""
    case = within(calm(), "deployment", delay_out_s=6.0)
    ledger = ledger_of(case, FLIGHTS, 1, remedies=False)
    early = next(row for row in ledger.rows if row.key == "too_early")
    assert early.kind == "rule" and (early.chance or 0.0) > 0.9 and early.state == "marginal"
    assert "too_early" not in ledger.unmet
