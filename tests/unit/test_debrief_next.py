"""Next delay, next motor and the way to the next level, with the rocket as a flight has it."""

from dataclasses import replace
from pathlib import Path

import pytest

from goodflight import load
from goodflight.outputs.debrief.next_words import basis_words, delay_words, gap_words
from goodflight.outputs.debrief.text import debrief_text
from goodflight.project import Project, write_files
from goodflight.project.demo import write_demo
from goodflight.studies.case.codes import CODE_SETS, UNITED_STATES
from goodflight.studies.case.planned import Case, Rules
from goodflight.studies.case.project_case import case_of
from goodflight.studies.debriefing.book import BookLine, book_of
from goodflight.studies.debriefing.carry import carry_over
from goodflight.studies.debriefing.next_flight import NextFlight, next_flight
from goodflight.studies.debriefing.next_level import Gap, next_level
from goodflight.studies.motor_results import MotorRow
from goodflight.studies.questions.debrief import DebriefStudy, debrief
from goodflight.studies.questions.delay import delay
from goodflight.studies.questions.motors import motors

FLIGHTS = 60
NOTES = """date = "2026-10-17"
plan = "morning"
apogee = "570 m ± 4 m"
result = "passed"

[seen]
apogee = "10.6 s ± 0.1 s"
charge = "11.3 s ± 0.1 s"
landing = "105 s ± 1 s"
"""


@pytest.fixture(scope="module")
def project(tmp_path_factory: pytest.TempPathFactory) -> Project:
    folder: Path = tmp_path_factory.mktemp("next") / "rocket"
    write_demo(folder)
    (folder / "flights" / "first").mkdir(parents=True)
    (folder / "flights" / "first" / "notes.toml").write_text(NOTES, encoding="utf-8")
    return load(folder)


@pytest.fixture(scope="module")
def study(project: Project) -> DebriefStudy:
    return debrief(project, flight="first")


@pytest.fixture(scope="module")
def found(project: Project, study: DebriefStudy) -> NextFlight:
    answer = next_flight(project, study, FLIGHTS)
    assert answer is not None
    return answer


def test_it_is_asked_as_after_the_figures_were_carried_over(
    project: Project, study: DebriefStudy, found: NextFlight
) -> None:
    """The other way to it: written into the readings, read from the folder, asked as always."""
    assert found.taken_over and not found.why_not
    files = carry_over(project, study).texts
    assert load(project.root or "").texts == project.texts  # nothing was written by the question
    after = write_files(project, files)
    assert found.delays == delay(after, "morning", FLIGHTS).rows
    assert found.motors == motors(after, "morning", FLIGHTS).rows
    assert found.delays != delay(project, "morning", FLIGHTS).rows  # the flight changes it
    write_files(after, project.texts)


def test_a_doubted_flight_corrects_nothing(project: Project, study: DebriefStudy) -> None:
    doubted = next_flight(project, replace(study, doubts=("far from all",)), FLIGHTS)
    assert doubted is not None and not doubted.taken_over
    assert doubted.delays == delay(project, "morning", FLIGHTS).rows
    assert "as it was known before, as the flight is doubted: far from all" in basis_words(doubted)
    assert next_flight(project, replace(study, why=None), FLIGHTS) is None


def test_words_name_the_delay_the_chance_and_the_caution(
    study: DebriefStudy, found: NextFlight
) -> None:
    said, warned = delay_words(found)
    assert said.startswith("H-b again: ") and "in 100" in said and "maker's own tool" in warned
    text = " ".join(debrief_text(replace(study, next=found)).split())
    assert "The next flight" in text and "What L2 waits for" in text
    assert "not stated in the code set: written test: whether L2 asks for one" in text


def about(gaps: tuple[Gap, ...], what: str) -> Gap:
    return next(each for each in gaps if each.what == what)


def test_the_list_holds_what_the_code_set_and_the_files_hold(
    project: Project, found: NextFlight
) -> None:
    """Classes J to L are 640 to 5120 N s: each letter twice the one before, A to 2.5 N s."""
    assert 2.5 * 2**8 == 640.0 and 2.5 * 2**11 == 5120.0  # I, the ninth letter, and L
    level = found.level
    assert (level.now, level.level, level.motor) == ("L1", "L2", "")
    motor = about(level.gaps, "motor")
    assert motor.state == "lacking" and "640 N s to 5120 N s, J to L" in gap_words(motor)
    assert "none of that size in motors/" in gap_words(motor)
    assert about(level.gaps, "certificate").state == "met"
    case = case_of(project)
    assert case.site.ceiling_m == 760.0
    assert about(level.gaps, "height").state == "lacking"  # I-c alone goes beyond it
    stated = UNITED_STATES.clauses or {}
    assert stated["permission"].text in gap_words(about(level.gaps, "permission or waiver"))


def test_a_flight_that_did_not_pass_or_of_another_level_is_no_certificate(
    project: Project, found: NextFlight
) -> None:
    (line,) = book_of(project)
    for book in ((), (replace(line, result="failed"),), (replace(line, level="none"),)):
        level = next_level(case_of(project), found.motors, book)
        assert about(level.gaps, "certificate").state == "lacking"


@pytest.mark.parametrize("key", [None, "germany"])
def test_what_no_code_set_states_is_not_made_up(project: Project, key: str | None) -> None:
    case = case_of(project)
    code = None if key is None else CODE_SETS[key]
    level = next_level(with_rules(case, Rules("L1", code)), (), tuple[BookLine, ...]())
    assert level.level == ""
    assert "in 100" not in " ".join(gap_words(each) for each in level.gaps)
    if code is not None:
        assert about(level.gaps, "the next level").state == "not stated"
        assert "21 years" in gap_words(about(level.gaps, "responsible person"))


def with_rules(case: Case, rules: Rules) -> Case:
    return replace(case, rules=rules)


def test_a_motor_of_the_level_has_every_row_worked_out(project: Project, found: NextFlight) -> None:
    """A set with its level at 300 N s makes I-c the motor of the next level."""
    case = case_of(project)
    limit = UNITED_STATES.level_impulse_ns["L1"]
    levels = {**UNITED_STATES.level_impulse_ns, "L1": replace(limit, value=300.0)}
    code = replace(UNITED_STATES, level_impulse_ns=levels)
    rows: tuple[MotorRow, ...] = tuple(
        replace(row, level="L2") if row.name == "I-c" else row for row in found.motors
    )
    level = next_level(with_rules(case, Rules("L1", code)), rows, book_of(project))
    assert level.motor == "I-c" and about(level.gaps, "motor").state == "met"
    held = about(level.gaps, "field and code")
    assert held.state == "lacking" and "Above the agreed ceiling" in gap_words(held)
    assert "certificate" not in gap_words(held)
