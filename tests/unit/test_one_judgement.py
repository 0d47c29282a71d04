"""One plan has one total and one state, whichever command says it."""

import json
from dataclasses import replace
from typing import Any

import pytest

from goodflight.outputs.flight.delay_text import delay_text
from goodflight.outputs.flight.json_ import delay_record
from goodflight.outputs.json_ import to_json
from goodflight.outputs.ledger.json_ import ledger_record
from goodflight.outputs.ledger.short import short_text
from goodflight.outputs.record import record
from goodflight.outputs.text_page import Terminal
from goodflight.studies.case.planned import Case
from goodflight.studies.questions.delay import delay_of
from goodflight.studies.questions.ledger import ledger_of
from goodflight.studies.questions.motors import motors_of
from goodflight.studies.questions.quick import quick_rows
from goodflight.studies.questions.separation_window import separation_window_of
from sample_case import sample_case, within

FLIGHTS = 150


def plans() -> dict[str, Case]:
    parts = replace(sample_case(1.0).rocket.separation, retention=None, retention_n=None)
    calm = sample_case(1.0)
    return {
        "calm": calm,
        "windy": sample_case(6.0),
        "no retention": replace(calm, rocket=replace(calm.rocket, separation=parts)),
        "no certificate": within(calm, "rules", level="none"),
        "nothing confirmed": within(calm, "plan_says", confirmed=[]),
    }


@pytest.mark.parametrize("name", list(plans()))
def test_every_command_says_the_same_of_one_plan(name: str) -> None:
    """The same flights: the same total to the last flight, state, and what is not known."""
    case = plans()[name]
    ledger = ledger_of(case, FLIGHTS, 1, remedies=False)
    said = (ledger.chance, ledger.low, ledger.high, ledger.state, len(ledger.unknown))

    study = delay_of(case, FLIGHTS, 1)
    (planned,) = [r for r in study.rows if r.delay_out_s == study.planned_delay_out_s]
    assert (planned.chance, planned.low, planned.high, planned.state, planned.unknown) == said
    rows = {row.key: row.chance for row in ledger.rows}
    assert all(rows[key] == chance for key, chance in planned.chances.items())

    (motor,) = motors_of(replace(case, motors={"it": case.motor}), FLIGHTS, 1).rows
    (best,) = [r for r in study.rows if r.delay_out_s == motor.delay_out_s]
    assert (motor.chance, motor.can, motor.unknown) == (best.chance, best.state, best.unknown)

    separation = separation_window_of(case, FLIGHTS, 1)
    assert separation.chances
    assert all(rows[key] == chance for key, chance in separation.chances.items())

    again = quick_rows(case, ledger, FLIGHTS)  # fewer steps a flight: a flight may tip over
    assert again.state == ledger.state and again.unknown == ledger.unknown
    assert again.chance == pytest.approx(ledger.chance, abs=2 / FLIGHTS)

    head: dict[str, Any] = json.loads(to_json(ledger_record(ledger)))
    (row,) = [r for r in delay_record(study)["rows"] if r["delay_out_s"] == planned.delay_out_s]
    assert (head["chance"], head["state"]) == (row["chance"], row["state"])
    bound = "at least" if ledger.unknown and ledger.chance > 0 else "about"
    for words in (head["spoken"], row["spoken"]):
        assert not ledger.unknown or bound in words or "not known" in words
    assert ("at least" in record(motor)["spoken"]) == bool(motor.unknown and motor.chance)


def test_an_unknown_failure_stands_in_every_head_and_is_never_ok_or_marginal() -> None:
    case = plans()["no retention"]
    ledger = ledger_of(case, FLIGHTS, 1, remedies=False)
    assert ledger.unknown and ledger.state in ("unknown", "fails")
    text = short_text(ledger, Terminal(width=100))
    assert "not known" in text.split("What can still fail")[0]
    assert text.index("Measure next") < text.index("All else")
    first = ledger.measure_next[0]
    assert first.moves is None and set(first.rows) <= set(ledger.unknown)
    study = delay_of(case, FLIGHTS, 1)
    assert all(row.state in ("unknown", "fails") for row in study.rows)
    assert "plan ok" not in delay_text(study) and "plan marginal" not in delay_text(study)
