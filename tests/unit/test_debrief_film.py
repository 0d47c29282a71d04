"""Frames of a film as times of a flight, each with its error. Expected figures by hand."""

import math
from pathlib import Path

import pytest
from click.testing import CliRunner

from goodflight import load
from goodflight.cli import DONE
from goodflight.cli.app import app
from goodflight.physics.recorded import Happened, Measured
from goodflight.project.bench_files import FilmTable, NotesFile
from goodflight.studies.debriefing.film import FRAME_WORDS, RATE_WORDS, TOP_WORDS, film_times
from goodflight.studies.debriefing.told import happened_of
from goodflight.studies.finding.sightings import NotSeenError

FILM = {"rate": "25 ± 0.05", "lift_off": "100 ± 1", "charge": "400 ± 3", "landing": "2600 ± 25"}


def test_frames_are_times_with_the_error_of_both_frames_and_of_the_rate() -> None:
    """300 frames at 25 a second are 12 s; 3 and 1 frames, and 0.2 % of 12 s."""
    times, taken = film_times(FilmTable.model_validate(FILM))
    charge, landing = times["charge_s"], times["landing_s"]
    assert charge.value == pytest.approx(12.0) and landing.value == pytest.approx(100.0)
    assert charge.error == pytest.approx(math.sqrt(0.12**2 + 0.04**2 + 0.024**2))
    assert landing.error == pytest.approx(math.sqrt(1.0**2 + 0.04**2 + 0.2**2))
    assert taken == () and set(times) == {"charge_s", "landing_s"}


def test_what_no_error_is_given_for_takes_a_common_one_which_is_told() -> None:
    """One frame of 1/30 s either end, 0.1 % of the time; half a second for the highest point."""
    film = {"rate": "30", "lift_off": "0", "apogee": "300", "charge": "330"}
    times, taken = film_times(FilmTable.model_validate(film))
    assert times["charge_s"].error == pytest.approx(math.sqrt(2 / 30**2 + 0.011**2))
    assert times["apogee_s"].error == pytest.approx(0.5, abs=0.01)
    assert set(taken) == {RATE_WORDS, FRAME_WORDS, TOP_WORDS}


def test_of_film_and_stopwatch_the_surer_counts_and_far_apart_is_told() -> None:
    notes = NotesFile.model_validate({"seen": {"charge": "15 s"}, "film": FILM})
    found, taken = happened_of(notes)
    assert found.charge_s == film_times(FilmTable.model_validate(FILM))[0]["charge_s"]
    assert "charge: noted 15 s, the film says 12 s; look at both" in taken
    log = Happened(charge_s=Measured(12.1, 0.05))
    assert happened_of(notes, log=log)[0].charge_s == log.charge_s
    typed = happened_of(notes, seen={"charge": "11 s ± 1 s"})[0].charge_s
    assert typed == Measured(11.0, 1.0)  # typed stands first


@pytest.mark.parametrize(
    ("film", "words"),
    [
        ({"rate": "30", "lift_off": "100", "charge": "90"}, "a frame after lift-off"),
        ({"rate": "30", "charge": "90"}, "film lift_off"),
        ({"rate": "0", "lift_off": "1"}, "film rate"),
        ({"rate": "30", "lift_off": "1", "top": "9"}, "one of rate, lift_off, burnout"),
        ({"rate": "30", "lift_off": "1", "charge": "9 s"}, "film charge"),
        ({"rate": "30", "lift_off": "1", "apogee": "90", "landing": "80"}, "landing not after"),
    ],
)
def test_what_cannot_be_is_refused_in_words(film: dict[str, str], words: str) -> None:
    with pytest.raises(NotSeenError) as caught:
        happened_of(NotesFile(), film=film)
    told = " ".join(f"{each['key']}: {each['expected']}" for each in caught.value.records)
    assert words in f"{told} {caught.value}"


def test_the_command_takes_frames_and_notes_hold_them(folder: Path) -> None:
    frames = [f"--film={key}={text}" for key, text in FILM.items()]
    done = CliRunner().invoke(app, ["debrief", str(folder), "--peak", "590 m ± 5 m", *frames])
    assert done.exit_code == DONE, done.output
    assert "charge: 12.00 s ±0.13" in done.stdout
    place = folder / "flights" / "first"
    place.mkdir(parents=True)
    lines = "\n".join(f'{key} = "{text}"' for key, text in FILM.items())
    (place / "notes.toml").write_text(f"[film]\n{lines}\n", encoding="utf-8")
    film = load(folder).notes["first"].film
    assert film == FilmTable.model_validate(FILM)
