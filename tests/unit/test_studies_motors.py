"""Motors of a folder, what to measure next, base rates: wiring, directions, check by flying."""

import csv
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from goodflight.outputs.ledger.json_ import ledger_record
from goodflight.outputs.ledger.text import ledger_text
from goodflight.outputs.motors.text import motors_text, next_text
from goodflight.outputs.record import record
from goodflight.outputs.text_page import Terminal
from goodflight.quantity.said import told
from goodflight.studies.case.codes import CODE_SETS
from goodflight.studies.case.planned import Case
from goodflight.studies.judging.base_rates import BASE_RATES
from goodflight.studies.judging.evaluate import any_failing, evaluate
from goodflight.studies.judging.measure_next import check, measure_next, open_rows
from goodflight.studies.questions.ledger import Beside, ledger_of
from goodflight.studies.questions.motors import growth, motors_of
from goodflight.studies.sampling.flights import fly_trials
from sample_case import MIDDLE, sample_case, within

PRIORS = Path(__file__).parents[1] / "published" / "data" / "31_failure_priors.csv"


def with_motors() -> Case:
    """The sample with a motor too wide, one too narrow, and one above its certificate."""
    case = sample_case(2.0)
    strong = replace(MIDDLE, name="big J", thrusts_n=tuple(3.0 * t for t in MIDDLE.thrusts_n))
    wide = replace(MIDDLE, name="wide", diameter_m=0.054)
    thin = replace(MIDDLE, name="thin", diameter_m=0.029)
    motors = {**case.motors, "big": strong, "wide": wide, "thin": thin}
    return replace(case, motors=motors)


def test_every_motor_is_answered() -> None:
    study = motors_of(with_motors(), 120, 1)
    rows = {row.key: row for row in study.rows}
    assert set(rows) == {"small", "middle", "big", "wide", "thin"}
    assert told(rows["wide"].why_not[0]) == "too wide: 54 mm wide in a tube of 38 mm"
    inches = told(rows["wide"].why_not[0], "imperial")
    assert inches == "too wide: 2.13 in wide in a tube of 1.5 in"
    assert told(rows["thin"].why_not[0]).endswith("it needs an adapter")
    assert rows["wide"].chance is None and rows["wide"].can == "fails"
    chances = [row.chance for row in study.rows if row.chance is not None]
    assert chances == sorted(chances)
    assert [row.chance for row in study.rows[-2:]] == [None, None]


def test_the_certificate_stands_apart() -> None:
    """770 N s is a J: level L2; at L1 a rule is not met, the chance of failing stays its own."""
    study = motors_of(with_motors(), 120, 1)
    big = next(row for row in study.rows if row.key == "big")
    assert (big.motor_class, big.level, big.can) == ("J", "L2", "fails")
    assert any(told(each).startswith("Motor above the certificate") for each in big.why_not)
    assert study.growth[0].told().startswith("L2: big J would fail")
    allowed = within(with_motors(), "rules", level="L2")
    again = next(row for row in motors_of(allowed, 120, 1).rows if row.key == "big")
    assert again.chance == big.chance


def test_the_best_delay_is_no_worse_than_its_neighbours() -> None:
    case = sample_case(2.0)
    row = next(row for row in motors_of(case, 250, 1).rows if row.key == "middle")
    assert row.delay_out_s is not None and row.chance is not None
    for out in (row.delay_out_s - 1.0, row.delay_out_s + 1.0):
        other = evaluate(fly_trials(within(case, "deployment", delay_out_s=out), 250, 1))
        assert row.chance <= any_failing(other).mean()


def test_without_a_motor_of_the_next_level_it_says_so() -> None:
    assert "no motor of that size" in motors_of(sample_case(2.0), 60, 1).growth[0].told()


def test_a_code_set_without_levels_has_no_highest_one() -> None:
    case = sample_case(2.0)
    silent = within(case, "rules", code=CODE_SETS["germany"])
    (words,) = growth(silent, [])
    assert "states no certificate levels" in words.told()
    (top,) = growth(within(case, "rules", level="L3"), [])
    assert top.told() == "This is the highest level of the code set."


def test_motors_as_text_and_record() -> None:
    study = motors_of(with_motors(), 60, 1)
    text = motors_text(study, Terminal())
    assert "cannot be flown" in text and "The next level" in text and "invented" in text
    assert [row["key"] for row in record(study)["rows"]] == [row.key for row in study.rows]


def test_what_to_measure_next_agrees_with_flights_that_remove_the_spread() -> None:
    """Projection on the flights against ensembles flown low, middle and high (1200 flights).

    Each chance is uncertain by sqrt(p (1 - p) / n), 0.014; the projection by as much again.
    """
    case = sample_case(5.0)
    view = fly_trials(case, 1200, 1)
    rows = evaluate(view)
    listed = measure_next(view, rows)
    assert listed
    assert "wind_exponent" in {each.key for each in listed} | {"wind"}
    assert all(each.moves is not None for each in listed)  # nothing here is unknown
    ratios = [(each.moves or 0.0) / each.minutes if each.minutes else 0.0 for each in listed]
    assert ratios == sorted(ratios, reverse=True)  # what cannot be measured stands last
    assert all(bool(each.why_not) == (each.minutes is None) for each in listed)
    for each in check(view, rows, listed, 2)[:2]:
        assert each.checked is not None and each.without is not None
        assert each.checked == pytest.approx(each.moves, abs=0.03)
        assert 0.0 <= each.without <= 1.0


def test_nothing_is_worth_measuring_when_nothing_fails_or_all_does() -> None:
    case = within(sample_case(1.0), "plan_says", denied=["fire"])
    view = fly_trials(case, 100, 1)
    rows = evaluate(view)
    assert "fire" not in {row.limit.key for row in open_rows(rows)}
    standing = [row for row in rows if not row.failing.any()]
    assert measure_next(view, standing) == ()


def test_what_nobody_has_entered_is_measured_first_and_once_for_all_its_rows() -> None:
    case = sample_case(5.0)
    parts = replace(case.rocket.separation, pull_n=None)
    without = replace(case, rocket=replace(case.rocket, separation=parts))
    view = fly_trials(without, 600, 1)
    rows = evaluate(view)
    listed = measure_next(view, rows)
    first = listed[0]
    assert (first.key, first.moves) == ("given:pull_n", None)
    assert (first.file, first.place) == ("rocket.toml", "separation.pull")
    assert (first.instrument, first.minutes) == ("luggage scale", 10.0)
    unknown = {row.limit.key for row in rows if not row.known and row.limit.kind == "failure"}
    waiting = [each for each in listed if each.moves is None]
    assert set().union(*(each.rows for each in waiting)) == unknown and len(first.rows) > 1
    assert len({each.key for each in waiting}) == len(waiting)
    assert [each.moves is None for each in listed] == sorted(
        (each.moves is None for each in listed), reverse=True
    )
    checked = check(view, rows, listed, 1)
    assert checked[0].checked is None  # what is not known cannot be flown low and high
    assert all(not row.failing.any() for row in rows if not row.known)


def test_the_ledger_carries_it_to_text_and_json() -> None:
    found = ledger_of(sample_case(5.0), 600, 1, remedies=False, beside=Beside(True, True))
    assert found.measure_next
    text = ledger_text(found, Terminal())
    assert "Measure next" in text and "Elsewhere, not computed and not in the total" in text
    assert "flown again" in next_text(found, Terminal())
    record = ledger_record(found)
    assert record["measure_next"][0]["key"] == found.measure_next[0].key
    assert len(record["base_rates"]) == len(BASE_RATES)


def test_base_rates_are_off_by_default_and_never_in_the_total() -> None:
    plain = ledger_of(sample_case(5.0), 100, 1, remedies=False)
    beside = ledger_of(sample_case(5.0), 100, 1, remedies=False, beside=Beside(base_rates=True))
    assert plain.base_rates == ()
    assert "Elsewhere" not in ledger_text(plain, Terminal())
    assert (plain.chance, plain.low, plain.high) == (beside.chance, beside.low, beside.high)
    for one, two in zip(plain.rows, beside.rows, strict=True):
        assert np.array_equal(one.demand, two.demand, equal_nan=True)


def test_base_rates_are_those_of_the_table() -> None:
    """Failure priors: 0.01 a motor (anecdote, seen), 1 - 0.87 (seen), 1 - 0.60 (seen)."""
    with PRIORS.open(encoding="utf-8", newline="") as handle:
        table = {row["item"]: row for row in csv.DictReader(handle)}
    motor = table["motor malfunction per motor"]
    mission = table["NASA sounding rockets, mission success (minimum success criteria met)"]
    contest = table["student contest teams with at least one valid qualifying flight"]
    assert motor["value"] == "about 0.01" and motor["how"] == "seen (anecdote)" == BASE_RATES[0].how
    assert BASE_RATES[0].chance == 0.01
    assert BASE_RATES[1].chance == pytest.approx(1.0 - float(mission["value"]))
    assert contest["value"].startswith("about 0.60") and contest["how"] == "seen"
    assert BASE_RATES[2].chance == pytest.approx(1.0 - 0.60)
    assert BASE_RATES[3].chance is None and BASE_RATES[4].chance is None
    assert BASE_RATES[5].chance == pytest.approx(1.0 - 0.705, abs=5e-4)  # capacities: 31 of 44
    assert BASE_RATES[6].chance == pytest.approx(0.092, abs=5e-4)
