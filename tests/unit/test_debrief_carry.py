"""What flights say of the rocket, carried over to it, taken together, and taken back."""

from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner

from goodflight import load
from goodflight.cli import DONE
from goodflight.cli.app import app
from goodflight.project import Project, write_files
from goodflight.project.saving import restore, versions
from goodflight.studies.case.project_case import case_of
from goodflight.studies.debriefing.carry import carry_over
from goodflight.studies.debriefing.fit import OfRocket
from goodflight.studies.questions.debrief import debrief
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.sampling.declared import factors_of
from goodflight.studies.sampling.quantity import Factor
from goodflight.studies.sampling.trials import make_trials

NOTES = """date = "2026-10-17"
plan = "morning"
apogee = "{peak} m ± 4 m"

[seen]
apogee = "{apogee} s ± 0.1 s"
charge = "11.3 s ± 0.1 s"
landing = "{landing} s ± 1 s"
"""
LOW = {"peak": 570, "apogee": 10.6, "landing": 105}
MIDDLE = {"peak": 600, "apogee": 10.9, "landing": 108}
DRAG, CANOPY = "model:axial", "canopy_drag"


def noted(folder: Path, name: str, figures: dict[str, float]) -> None:
    (folder / "flights" / name).mkdir(parents=True)
    text = NOTES.format(**figures)
    (folder / "flights" / name / "notes.toml").write_text(text, encoding="utf-8")


def carried(folder: Path, name: str) -> tuple[Project, tuple[OfRocket, ...]]:
    project = load(folder)
    found = carry_over(project, debrief(project, flight=name))
    return write_files(project, found.texts), found.figures


def factor(project: Project, key: str) -> Factor:
    return next(each for each in factors_of(case_of(project)) if each.key == key)


@pytest.fixture
def flown(folder: Path) -> Path:
    noted(folder, "low", LOW)
    return folder


def test_the_rocket_is_known_from_the_flight_and_scatters_less(flown: Path) -> None:
    before = load(flown)
    after, figures = carried(flown, "low")
    assert {each.of for each in figures} == {DRAG, "part[large].drag_coefficient"}
    for key, told in zip((DRAG, CANOPY), figures, strict=True):
        now, was = factor(after, key), factor(before, key)
        assert now.known == "flight" and not now.guessed
        assert now.value == pytest.approx(told.after.value, rel=1e-3)
        assert now.sigma == pytest.approx(told.after.error, rel=1e-3) and now.sigma < was.sigma
    wide, narrow = (make_trials(case_of(each), 400, 1) for each in (before, after))
    for name in ("axial_factor", "canopy_area_m2"):
        assert narrow.parameter(name).std() < wide.parameter(name).std()


def test_a_flight_is_not_its_own_prior_and_replaces_itself(flown: Path) -> None:
    first = debrief(load(flown), flight="low")
    once, _ = carried(flown, "low")
    again = debrief(load(flown), flight="low")
    assert again.of_rocket == first.of_rocket and again.carried == ("low",)
    twice, _ = carried(flown, "low")
    assert twice.texts == once.texts


def test_flights_are_taken_together_and_their_scatter_is_kept(flown: Path) -> None:
    noted(flown, "low again", LOW)
    noted(flown, "other", MIDDLE)
    usual = factor(load(flown), DRAG).sigma
    one, _ = carried(flown, "low")
    two, _ = carried(flown, "low again")
    three, _ = carried(flown, "other")
    sigma = [factor(each, DRAG).sigma for each in (one, two, three)]
    assert sigma[1] < sigma[0] < usual and sigma[2] < usual
    assert factor(three, DRAG).value < factor(two, DRAG).value  # type: ignore[operator]
    shown = debrief(three).carried
    assert shown == ("low", "low again", "other")


def test_it_is_taken_back_as_every_save(flown: Path) -> None:
    before = load(flown)
    after, _ = carried(flown, "low")
    number = versions(flown, "weighings.toml")[-1].number
    assert restore(after, "weighings.toml", number).texts == before.texts


def test_what_may_not_be_carried_is_refused(flown: Path) -> None:
    project = load(flown)
    with pytest.raises(StudyRefused, match=r"no flight of flights/"):
        carry_over(project, debrief(project, peak="600 m"))
    found = debrief(project, flight="low")
    with pytest.raises(StudyRefused, match=r"is doubted: far from"):
        carry_over(project, replace(found, doubts=("far from all",)))
    with pytest.raises(StudyRefused, match="nothing new"):
        carry_over(project, replace(found, of_rocket=()))


def test_the_command_carries_over_and_says_how_to_take_it_back(flown: Path) -> None:
    done = CliRunner().invoke(app, ["debrief", str(flown), "low", "--carry-over"])
    assert done.exit_code == DONE, done.output
    text = " ".join(done.stdout.split())
    assert "Inferred from flight low and carried over" in text and "goodflight restore" in text
    assert load(flown).weighings.reading[0].flight == "low"
