"""A log in a flight's folder is found, read and shown; what was told of it is remembered."""

from pathlib import Path

import pytest
from click.testing import CliRunner

from goodflight import ProjectErrors, load
from goodflight.cli import DONE
from goodflight.cli.app import app
from goodflight.physics.recorded import Happened, Measured
from goodflight.project import read_project
from goodflight.project.bench_files import NotesFile
from goodflight.project.demo import demo_files
from goodflight.project.logs.cells import LogRefused
from goodflight.project.logs.kept import logs_of, remember, remembered
from goodflight.project.logs.read import read_log
from goodflight.studies.debriefing import carry
from goodflight.studies.debriefing.carry import Carried
from goodflight.studies.debriefing.told import happened_of
from goodflight.studies.questions.debrief import debrief
from made_logs import APOGEE_M, LIFT_S, made, table

M = made(0.1)
HPA = M["pressure"] / 100.0
TEXT = table({"time_s": M["time"], "one": HPA, "two": HPA + 3.0})


@pytest.fixture
def flown(folder: Path) -> Path:
    place = folder / "flights" / "first"
    place.mkdir(parents=True)
    (place / "log.csv").write_text(TEXT, encoding="utf-8")
    (place / "notes.toml").write_text('plan = "morning"\n', encoding="utf-8")
    return folder


def test_a_log_beside_the_notes_says_it_all_and_stays_as_it_is(flown: Path) -> None:
    done = CliRunner().invoke(app, ["debrief", str(flown), "first", "--column", "3=pressure hPa"])
    assert done.exit_code == DONE, done.output
    words = " ".join(done.stdout.split())
    assert "The log log.csv" in words and "column 3 two: pressure, hPa; from as you told" in words
    assert "m by its log, not known" in words  # the peak of the log book
    assert "apogee in the standard atmosphere" in words and "apogee in the air as it was" in words
    assert (flown / "flights/first/log.csv").read_text(encoding="utf-8") == TEXT
    assert load(flown).notes["first"].logger[0].columns == ["3=pressure hPa"]


def test_what_was_told_is_remembered_when_it_is_carried_over_too(
    flown: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The log in closed form is no flight of this rocket, so what is carried stands in for it."""
    told = Carried({"weighings.toml": load(flown).texts["weighings.toml"] + "\n"}, ())
    monkeypatch.setattr(carry, "carry_over", lambda project, study: told)
    asked = ["debrief", str(flown), "first", "--column", "2=pressure hPa", "--carry-over"]
    assert CliRunner().invoke(app, asked).exit_code == DONE
    assert load(flown).notes["first"].logger[0].columns == ["2=pressure hPa"]
    assert load(flown).texts["weighings.toml"].endswith("\n\n")


def test_what_was_told_holds_for_other_logs_of_that_logger(flown: Path) -> None:
    project = load(flown)
    assert [each.number for each in logs_of(project, "first")[0].columns if each.used] == [1, 2]
    read = read_log(TEXT.encode(), file="log.csv")
    project = remember(project, "first", read, {"3": "pressure hPa"})
    project = remember(project, "first", read, {"2": "ignore"})
    assert remembered(project) == {read.shape: {"3": "pressure hPa", "2": "ignore"}}
    other = flown / "flights" / "second"
    other.mkdir()
    (other / "log.csv").write_text(TEXT.replace("0.1000,", "0.1001,"), encoding="utf-8")
    (log,) = logs_of(project, "second")
    assert [each.number for each in log.columns if each.used] == [1, 3]
    assert log.events.lift_off_s == pytest.approx(LIFT_S, abs=0.5)
    assert log.events.happened.apogee_standard_m is not None
    assert log.events.happened.apogee_standard_m.value == pytest.approx(APOGEE_M, rel=0.01)


def test_which_flight_of_a_log_is_asked_and_remembered(flown: Path) -> None:
    (flown / "flights/first/log.csv").write_text(TEXT + TEXT.split("\n", 1)[1], encoding="utf-8")
    asked = ["debrief", str(flown), "first"]
    with pytest.raises(LogRefused, match=r"2 flights in one file.*--recording NUMBER"):
        CliRunner().invoke(app, asked, catch_exceptions=False)
    done = CliRunner().invoke(app, [*asked, "--recording", "2"])
    assert done.exit_code == DONE, done.output
    (noted,) = load(flown).notes["first"].recording
    assert (noted.log, noted.number) == ("log.csv", 2)
    assert logs_of(load(flown), "first")[0].recording == 2
    with pytest.raises(LogRefused, match="recording 3"):
        CliRunner().invoke(app, [*asked, "--recording", "3"], catch_exceptions=False)
    assert load(flown).notes["first"].recording == [noted]


def test_a_log_that_is_not_there_or_no_flight_is_refused_by_name(flown: Path) -> None:
    (flown / "flights/first/notes.toml").write_text('log = ["other.csv"]\n', encoding="utf-8")
    with pytest.raises(LogRefused, match=r"flights/first/other\.csv, which is not there"):
        logs_of(load(flown), "first")
    (flown / "flights/first/notes.toml").write_text("", encoding="utf-8")
    (flown / "flights/first/log.csv").write_text("nothing\n", encoding="utf-8")
    with pytest.raises(LogRefused, match=r"log\.csv: 1 lines"):
        logs_of(load(flown), "first")
    with pytest.raises(LogRefused, match="No such file"):
        logs_of(load(flown), file=flown / "none.csv")


def test_of_notes_and_log_the_surer_figure_counts_and_typed_stands_first() -> None:
    notes = NotesFile.model_validate({"seen": {"apogee": "9 s ± 1 s"}, "apogee": "500 m ± 1 m"})
    log = Happened(apogee_s=Measured(10.0, 0.1), apogee_standard_m=Measured(600.0, 3.0))
    found, taken = happened_of(notes, log=log)
    assert found.apogee_s == Measured(10.0, 0.1)
    assert found.apogee_standard_m == Measured(500.0, 1.0)
    assert taken == (
        "apogee in the standard atmosphere, as an altimeter shows it: noted 500 m, the log says "
        "600 m; look at both",
    )
    assert happened_of(notes, "450 m ± 9 m", log=log)[0].apogee_standard_m == Measured(450.0, 9.0)


WEATHER = """plan = "morning"
[day]
wind = "2 m/s"
wind_from = "200 deg"
temperature = "12 degC"
"""


def test_a_days_pressure_is_the_fields_own_or_a_sea_level_setting(flown: Path) -> None:
    """The field stands 12 m up, 1.4 hPa by the standard atmosphere; the log read 1000 hPa."""
    notes = flown / "flights/first/notes.toml"
    notes.write_text(f'{WEATHER}pressure = "846 hPa"\n', encoding="utf-8")
    with pytest.raises(ProjectErrors, match=r"notes\.toml:6: day\.pressure: .* about 1012 hPa"):
        load(flown)
    notes.write_text(f'{WEATHER}sea_level_pressure = "1001.4 hPa"\n', encoding="utf-8")
    study = debrief(load(flown), flight="first", logs=logs_of(load(flown), "first"))
    assert "1000.0 hPa at the field, 12.0 m above the sea" in " ".join(map(str, study.taken))
    assert not any("barometer read" in each for each in study.cautions)
    notes.write_text(f'{WEATHER}pressure = "1018 hPa"\n', encoding="utf-8")
    study = debrief(load(flown), flight="first", logs=logs_of(load(flown), "first"))
    (said,) = [each for each in study.cautions if "barometer read" in each]
    assert "read 1000 hPa on the pad, noted is 1018 hPa there" in said


def test_a_flight_with_a_log_and_no_notes_stands_in_the_book(flown: Path) -> None:
    (flown / "flights/first/notes.toml").unlink()
    (line,) = debrief(load(flown)).book
    assert (line.name, line.apogee_m, line.result) == ("first", None, "not known")
    study = debrief(load(flown), flight="first", logs=logs_of(load(flown), "first"))
    assert study.book[0].logged and study.book[0].apogee_m == pytest.approx(APOGEE_M, rel=0.01)


def test_a_log_of_another_rocket_is_told_in_words() -> None:
    """A rocket ten times as heavy; licence and facts: tests/published/data/flights/README.md."""
    file = Path(__file__).parents[1] / "published" / "data" / "flights" / "brakes_early.csv"
    study = debrief(read_project(demo_files()), logs=(read_log(file.read_bytes()),))
    assert any("fits no flight of this plan" in each for each in study.doubts)
