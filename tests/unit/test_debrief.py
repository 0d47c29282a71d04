"""The debrief: notes of flights as a log book, and what one flight says, typed or noted."""

import csv
import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from goodflight import ProjectErrors, load
from goodflight.cli import DONE
from goodflight.cli.app import app
from goodflight.outputs.debrief.table import book_csv
from goodflight.outputs.debrief.text import debrief_text
from goodflight.physics.recorded import Measured
from goodflight.project.bench_files import NotesFile
from goodflight.studies.debriefing.told import PEAK_WORDS, RATE_WORDS, WATCH_WORDS, happened_of
from goodflight.studies.finding.sightings import NotSeenError
from goodflight.studies.questions.debrief import DAY, NOT_LOOKED, debrief
from goodflight.studies.refusal import StudyRefused

NOTES = """date = "2026-10-17"
plan = "morning"
apogee = "540 m ± 5 m"
result = "failed"
looked_over = true
note = "=1+1"

[seen]
burnout = "1.9 s ± 0.1 s"
apogee = "10.4 s ± 0.1 s"
charge = "14.5 s ± 0.1 s"

[[damage]]
row = "zipper"
what = "30 mm slit"
"""
EARLIER = 'date = "2026-09-01"\nplan = "morning"\nresult = "passed"\n'


@pytest.fixture
def flown(folder: Path) -> Path:
    for name, text in (("second", NOTES), ("first", EARLIER)):
        (folder / "flights" / name).mkdir(parents=True)
        (folder / "flights" / name / "notes.toml").write_text(text, encoding="utf-8")
    return folder


def told(folder: Path, *more: str) -> str:
    done = CliRunner().invoke(app, ["debrief", str(folder), *more])
    assert done.exit_code == DONE, done.output
    return done.stdout


def test_the_log_book_counts_attempts_and_says_how_few(flown: Path) -> None:
    study = debrief(load(flown))
    assert [each.name for each in study.book] == ["first", "second"]
    assert (study.attempts, study.passed, study.why) == (2, 1, None)
    text = debrief_text(study)
    assert "1 of 2 attempts passed: too few to say" in text
    assert "30 mm slit (zipper)" in text and "not looked over" in text


def test_the_table_holds_what_is_noted_and_no_formula(flown: Path) -> None:
    first, second = csv.DictReader(book_csv(debrief(load(flown))).splitlines())
    assert (first["result"], first["looked_over"], first["apogee_standard_m"]) == (
        "passed",
        "no",
        "",
    )
    assert second["damage"] == "zipper: 30 mm slit" and second["note"] == "'=1+1"


def test_what_is_noted_is_fitted_and_a_late_grain_told(flown: Path) -> None:
    study = debrief(load(flown), flight="second")
    assert study.why is not None and study.plan == "morning"
    assert study.why.verdict in ("grain", "both") and "later" in study.why.words
    assert {each.name for each in study.places} == {
        "burnout_s",
        "apogee_s",
        "charge_s",
        "apogee_standard_m",
    }
    assert study.taken == () and NOT_LOOKED not in study.cautions


def test_a_peak_alone_decides_nothing_and_its_error_is_told(folder: Path) -> None:
    words = " ".join(told(folder, "--peak", "540 m").split())
    assert "cannot be decided" in words and PEAK_WORDS in words and "No flight yet" in words


def test_a_peak_ten_times_too_high_is_doubted(folder: Path) -> None:
    text = " ".join(told(folder, "--peak", "9000 m").split())
    assert "! far from the flights predicted" in text
    assert "! far from what was taken before the flight: drag, thrust. Check units" in text
    assert "thrust: 1.00 ±0.02;" not in text  # moved, so its new middle is shown


def test_a_flight_as_predicted_is_not_doubted(folder: Path) -> None:
    usual = debrief(load(folder), peak="540 m").places[0].predicted.value
    assert debrief(load(folder), peak=f"{usual:.0f} m").doubts == ()


def test_json_holds_the_answer(flown: Path) -> None:
    text = told(flown, "first", "--json", "--peak", "540 m ± 5 m", "--seen", "apogee=10.4 s")
    said = json.loads(text)
    assert said["flight"] == "first" and WATCH_WORDS in said["taken"]
    assert NOT_LOOKED in said["cautions"] and said["places"][0]["seen"]["value"] == 10.4


def test_the_motor_flown_stands_before_the_plans(flown: Path) -> None:
    file = flown / "flights" / "second" / "notes.toml"
    file.write_text('motor = "X"\n' + NOTES, encoding="utf-8")
    with pytest.raises(StudyRefused, match=r'flights/second/notes.toml:1: motor: found "X"'):
        debrief(load(flown), flight="second")


def test_every_fault_of_what_was_typed_is_told_at_once() -> None:
    typed = {"apogee": "10", "boom": "3 s", "charge": "12 s", "canopy": "11 s", "landing": "-3 s"}
    with pytest.raises(NotSeenError) as caught:
        happened_of(NotesFile(), "high", typed)
    assert [each["key"] for each in caught.value.records] == [
        "seen", "apogee", "peak", "landing_s", "seen", "seen",
    ]  # fmt: skip


def test_typed_stands_before_noted() -> None:
    notes = NotesFile.model_validate({"seen": {"apogee": "9 s ± 1 s"}, "apogee": "500 m"})
    found, taken = happened_of(notes, "600 m ± 4 m", {"apogee": "10 s ± 0.5 s"})
    assert found.apogee_s == Measured(10.0, 0.5) and found.apogee_standard_m == Measured(600.0, 4.0)
    assert taken == ()


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (NOTES.replace('"zipper"', '"zip"'), "the key of a way to fail"),
        (NOTES.replace('"failed"', '"lost"'), "not attempted"),
        (NOTES.replace('"14.5 s ± 0.1 s"', '"14.5"'), "charge"),
    ],
)
def test_wrong_notes_are_told_with_their_place(flown: Path, text: str, words: str) -> None:
    (flown / "flights" / "second" / "notes.toml").write_text(text, encoding="utf-8")
    with pytest.raises(
        (ProjectErrors, StudyRefused), match=r"flights/second/notes\.toml:"
    ) as caught:
        debrief(load(flown), flight="second")
    assert words in str(caught.value)


def test_a_flight_that_is_not_there_is_refused(flown: Path) -> None:
    with pytest.raises(StudyRefused, match="first, second"):
        debrief(load(flown), flight="third")


def test_the_days_weather_and_the_speed_down_are_those_noted(flown: Path) -> None:
    file = flown / "flights" / "second" / "notes.toml"
    day = '\n[day]\nwind = "4 m/s"\nwind_from = "200 deg"\ntemperature = "25 degC"\n'
    file.write_text('last_rate = "5 m/s"\n' + NOTES + day, encoding="utf-8")
    study = debrief(load(flown), flight="second")
    assert RATE_WORDS in study.taken and DAY not in study.cautions
    before = {each.key: each.before.value for each in study.fitted}
    assert before["wind_m_s"] == pytest.approx(4.0, rel=0.05)
    assert before["ground_temperature_k"] == pytest.approx(298.15, abs=0.01)
    rate = next(each for each in study.places if each.name == "last_rate_mps")
    assert rate.seen == Measured(5.0, 0.5)


def test_the_last_flight_prints_on_one_sheet(flown: Path, tmp_path: Path) -> None:
    pdfium = pytest.importorskip("pypdfium2")
    for number in range(12):
        (flown / "flights" / f"x{number}").mkdir()
        (flown / "flights" / f"x{number}" / "notes.toml").write_text(EARLIER, encoding="utf-8")
    out = tmp_path / "debrief.pdf"
    done = CliRunner().invoke(app, ["print", str(flown), "--what", "debrief", "-o", str(out)])
    assert done.exit_code == DONE and "debrief: second" in done.output, done.output
    (sheet,) = pdfium.PdfDocument(out)
    assert "30mmslit" in sheet.get_textpage().get_text_range().replace(" ", "")
