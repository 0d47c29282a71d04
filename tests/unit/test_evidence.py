"""The inspector's questions: all answered from the demo, none answered from nothing."""

import re
from dataclasses import replace
from datetime import date
from math import sqrt

import pytest

from emptied import emptied
from goodflight.outputs.bench.files import Request, make
from goodflight.outputs.field_sheets.evidence_words import answer_words, number_words
from goodflight.project import read_project
from goodflight.project.demo import demo_files
from goodflight.project.newcomer_assumed import ABOUT
from goodflight.project.records import Project
from goodflight.studies.bench import answers
from goodflight.studies.case.project_case import case_of
from goodflight.studies.evidence.asked import ASKED
from goodflight.studies.evidence.field import announced, first_flight, member
from goodflight.studies.evidence.seen import Seen, see
from goodflight.studies.lists.cards import FieldPapers, papers_of
from goodflight.studies.lists.facts import fills_of
from goodflight.studies.questions.calendar import _membership
from goodflight.studies.questions.evidence import Answered, Evidence, evidence_seen

FEW = 200
BY_HAND = {  # what no file can know, whatever stands in it
    "member", "built", "first", "assembled", "straight", "packed", "fire", "wind", "ballast",
    "materials", "label", "igniter", "misfire", "stops", "after",
}  # fmt: skip


@pytest.fixture(scope="module")
def seen(demo: Project) -> Seen:
    return see(demo, case_of(demo), FEW, 1)


@pytest.fixture(scope="module")
def found(seen: Seen) -> Evidence:
    return evidence_seen(seen)


@pytest.fixture(scope="module")
def bare() -> Seen:
    project = emptied()
    return see(project, case_of(project), FEW, 1)


def without(file: str, *lines) -> dict[str, Answered]:
    """The demo's evidence when lines of a file are gone."""
    files = demo_files()
    for line in lines:
        assert line in files[file], line
        files[file] = files[file].replace(line, "")
    project = read_project(files)
    return {each.key: each for each in evidence_seen(see(project, case_of(project), 60, 1)).answers}


def test_there_are_35_questions_each_asked_once() -> None:
    assert [each.number for each in ASKED] == list(range(1, 36))
    assert len({each.key for each in ASKED}) == 35
    assert all(each.question.endswith("?") for each in ASKED)


def test_every_question_is_answered_from_the_demo(found: Evidence) -> None:
    for answer in found.answers:
        assert answer.how != "unknown", (answer.key, answer.do)
        assert (answer.how == "show") == (answer.key in BY_HAND), answer.key
        assert answer_words(answer)
        assert answer.show or answer.how == "known"
        assert answer.stands_on or answer.how == "show"
    assert all(number_words(each)[0] != "not known" for each in found.numbers)
    assert len(found.numbers) == 8


def test_figures_are_those_of_the_ready_rocket_by_hand(found: Evidence, seen: Seen) -> None:
    """Lift-off mass: weighed 1461 g + loaded motor 305 g. Mean thrust 256.9 N s / 1.82 s over its
    weight. Descent sqrt(2 m g / (rho CdS)) and m v2 / 2 with m = 1461 + 305 - 128 g, CdS = 0.75
    x 0.866 m2, rho = 1.237 kg/m3 at 12 m and 12 degC. CG from the balance without motor, 699 mm,
    and the motor's 305 g, whose middle lies 203 / 2 mm ahead of 1220 mm: 1461 x 699 + 305 x 1118.5.
    """
    answers = {each.key: each.said.figures for each in found.answers}
    assert answers["mass"]["mass"][0] == pytest.approx(1.766, abs=1e-3)
    mean = 256.9 / 1.82 / (1.766 * 9.80665)
    assert answers["thrust"]["mean"][0] == pytest.approx(mean, rel=0.01)
    down = sqrt(2 * 1.638 * 9.80665 / (1.237 * 0.75 * 0.866))
    assert answers["canopy"]["v"][0] == pytest.approx(down, rel=0.02)  # of 200 flights
    energy = 0.5 * 1.638 * answers["canopy"]["v"][0] ** 2
    assert answers["canopy"]["energy"][0] == pytest.approx(energy, rel=1e-3)
    cg = (1461 * 699 + 305 * 1118.5) / 1766 / 1e3
    assert answers["marks"]["cg"][0] == pytest.approx(cg, abs=2e-3)
    assert fills_of(seen.case)["mass"] == "1766 g"


@pytest.mark.parametrize(("told", "how", "words", "on_the_card"), [
    (None, "show", "tick: [ ] first flight", "[ ] yes"),
    ("yes", "known", "yes announce it", "yes: announced"),
    ("no", "show", "flown before", "no, flown"),
])  # fmt: skip
def test_a_first_flight_is_announced(
    seen: Seen, told: str | None, how: str, words: str, on_the_card: str
) -> None:
    says = seen.case.plan_says.changed(first_flight=told)
    plan = replace(seen, case=replace(seen.case, plan_says=says))
    reply = first_flight(plan)
    assert reply.how == how and words in f"{reply.said.text} {reply.show}"
    (card,) = (each for each in papers_of(plan).cards if each.key == "flight")
    (field,) = (each for each in card.fields if each.label == "first flight")
    assert field.value.startswith(on_the_card)


def test_where_help_is_stands_on_card_and_list(seen: Seen) -> None:
    says = seen.case.field_says.changed(hospital="St Lark, 14 km")
    field = replace(seen, case=replace(seen.case, field_says=says))
    for plan, where in ((field, "St Lark, 14 km"), (seen, "______")):
        papers = papers_of(plan)
        (card,) = (each for each in papers.cards if each.key == "misfire")
        assert any(each.value.startswith(where) for each in card.fields)
        assert any(f"nearest hospital: {where}" in each.what for each in papers.carried)


def test_an_answer_is_never_better_than_the_rows_that_judge_it(found: Evidence, seen: Seen) -> None:
    for asked, answer in zip(ASKED, found.answers, strict=True):
        rows = [seen.rows[key] for key in asked.answer(seen).rows if key in seen.rows]
        bad = [row.key for row in rows if row.state in ("fails", "marginal")]
        assert [row.key for row in answer.against] == bad, answer.key
        found_states = {row.state for row in rows}
        assert answer.how != "known" or "unknown" not in found_states, answer.key
        assert answer.state != "ok" or found_states == {"ok"}, answer.key
    states = {each.key: each.state for each in found.answers}
    assert states["edge"] == "fails" and states["canopy"] == "marginal"


def test_with_files_emptied_every_answer_says_not_known_and_what_to_do(bare: Seen) -> None:
    found = evidence_seen(bare)
    for answer in found.answers:
        words = answer_words(answer)
        assert answer.how != "known", answer.key
        assert words.startswith("not known"), (answer.key, words)
        assert answer.do if answer.how == "unknown" else answer.show
        assert answer.state != "ok", answer.key
    assert all(number_words(each)[0] == "not known" for each in found.numbers)


@pytest.mark.parametrize(("file", "line", "gone"), [
    ("rocket.toml", 'pull = "32 N ± 3 N measured"', {"pull"}),
    ("rocket.toml", 'blanket = "0.09 m2 measured"', {"protected"}),
    ("rocket.toml", 'kind = "cap"', {"retention"}),
    ("sites/larkrise.toml", 'ceiling = "760 m"', {"height"}),
    ("sites/larkrise.toml", 'code = "us"', {"motor"}),
    ("sites/larkrise.toml", 'people = "600 m"', {"unopened"}),
])  # fmt: skip
def test_what_one_missing_line_makes_unknown(file: str, line: str, gone: set[str]) -> None:
    answers = without(file, line)
    unknown = {key for key, each in answers.items() if each.how == "unknown"}
    assert gone <= unknown
    for key in unknown:
        assert answers[key].do and answers[key].state is None


def test_a_rocket_nobody_weighed_has_no_known_figure_of_flight() -> None:
    answers = without("weighings.toml", demo_files()["weighings.toml"])
    for key in ("mass", "thrust", "rail_speed", "marks", "margin", "strong", "height", "delay",
                "canopy"):  # fmt: skip
        assert answers[key].how == "unknown", key
        assert "weigh" in answers[key].do and answers[key].said.text


def test_what_to_carry_follows_from_the_rocket_and_its_weak_rows(seen: Seen, bare: Seen) -> None:
    papers, plain = papers_of(seen), papers_of(bare)
    things = {each.what for each in papers.carried}
    own = {"canopy large", "canopy small", "heat blanket", "ballast and what fixes it"}
    weak = {"maker's tool for the delay", "guard or wide tape for the tube's edge"}
    assert own | weak <= things
    assert "nose" in things and "shear pins of the kind tested" not in things
    fitted = {each.what for each in plain.carried if each.fitted}
    assert {"heat blanket", "wadding", "what holds the motor, and its tool"} <= fitted


def test_a_card_has_blanks_where_a_rocket_was_not_weighed(bare: Seen, seen: Seen) -> None:
    for which, blank in ((bare, True), (seen, False)):
        card = papers_of(which).cards[0]
        ready = next(each.value for each in card.fields if each.label == "ready to fly")
        assert ("____" in ready) is blank


def test_what_the_first_form_wrote_describes_no_rocket(seen: Seen) -> None:
    told = seen.project.head.model_copy(update={"about": ABOUT})
    plain = replace(seen, project=replace(seen.project, head=told))
    rocket = next(e.value for e in papers_of(plain).cards[0].fields if e.label == "rocket")
    assert rocket.endswith("____") and ABOUT[:20] not in rocket
    assert announced(plain).how == "unknown"


def test_cards_and_lists_in_inches_have_no_metric_figure_and_the_same_stamp(demo: Project) -> None:
    """One sheet in two units is one sheet: its stamp is asked once."""
    metric_unit = re.compile(r"(?:[0-9]|_) ?(?:N(?! s)|g|kg|mm|m|m/s)\b")  # an impulse stays in N s
    for what in ("cards", "lists"):
        inches, metric = (
            answers.answer(demo, what, units=units) for units in ("imperial", "metric")
        )
        assert isinstance(inches, FieldPapers) and isinstance(metric, FieldPapers)
        told = [line.reply for each in inches.lists for line in each.lines]
        told += [f"{each.label}: {each.value}" for card in inches.cards for each in card.fields]
        assert told and not [words for words in told if metric_unit.search(words)]
        assert make(inches, Request()).stamp == make(metric, Request()).stamp


def test_a_membership_that_ends_before_launch_day_is_told_by_calendar_and_sheet(
    demo: Project, seen: Seen
) -> None:
    ends = 'level = "L1"\nmember_until = "2026-10-09"'
    plans = demo.texts["plans.toml"].replace('level = "L1"', ends)
    told = read_project({**demo.texts, "plans.toml": plans}, demo.root)
    (words,) = _membership(told, None, date(2026, 10, 10))
    assert "ends 2026-10-09" in words and "renew it" in words
    assert _membership(told, None, date(2026, 10, 9)) == ()  # its last day still counts
    assert _membership(demo, None, date(2026, 10, 10)) == _membership(told, None, None) == ()
    says = seen.case.plan_says.model_copy(update={"member_until": "2026-10-09"})
    reply = member(replace(seen, case=replace(seen.case, plan_says=says)))
    assert "member until 2026-10-09" in reply.said.told() and "valid to" not in reply.show
