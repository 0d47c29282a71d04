"""Predictions kept with their flights, and whether they were right."""

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from click.testing import CliRunner

from goodflight import ProjectErrors, load
from goodflight.cli import DONE
from goodflight.cli.app import app
from goodflight.outputs.debrief.right_words import NONE, band_words, right_words
from goodflight.physics.recorded import Happened, Measured
from goodflight.physics.scoring import brier_score, exact_share, inside_band
from goodflight.project.archive import archive, open_archive
from goodflight.project.bench_files import NotesFile
from goodflight.project.logs.kept import logs_of_predicted
from goodflight.project.predictions import PredictionFile, keep_prediction, prediction_text
from goodflight.project.saving import versions
from goodflight.studies.case.project_case import inputs_hash
from goodflight.studies.debriefing.calibration import AFTERWARDS, BandScore, Flight, calibrated
from goodflight.studies.debriefing.predicting import prediction
from goodflight.studies.questions.debrief import right
from goodflight.studies.refusal import StudyRefused
from made_logs import APOGEE_M, made, table

FILE = "flights/first/prediction.json"
SAID = PredictionFile(
    made="2026-10-16T20:00:00+02:00",
    afterwards=False,
    program="0",
    inputs="x",
    plan="morning",
    motor="H-b",
    delay_out_s=2.0,
    flights=100,
    seed=1,
    chance=0.25,
    unknown=[],
    rows={"zipper": 0.3, "fin_bond": 0.1},
    bands={"apogee_standard_m": [480.0, 490.0, 500.0, 520.0, 540.0, 550.0, 560.0]},
)
FLOWN = {"date": "2026-10-17", "plan": "morning", "looked_over": True, "apogee": "530 m ± 1 m"}


def flight(said: PredictionFile = SAID, peak_m: float = 530.0, **notes: object) -> Flight:
    seen = Happened(apogee_standard_m=Measured(peak_m, 1.0))
    return "first", said, NotesFile.model_validate(FLOWN | notes), seen


@pytest.mark.parametrize(
    ("count", "of", "low", "high"),
    [(81, 263, 0.2527, 0.3676), (15, 148, 0.0578, 0.1617), (0, 20, 0.0, 0.1684),
     (1, 29, 0.0009, 0.1776)],
)  # fmt: skip
def test_exact_intervals_are_those_published(count: int, of: int, low: float, high: float) -> None:
    """Published: [newcombe1998] table I, method 5 (memory); scipy's test is independent code."""
    from scipy.stats import binomtest

    found = exact_share(count, of)
    assert found == pytest.approx((low, high), abs=5e-5)
    other = binomtest(count, of).proportion_ci(method="exact")
    assert found == pytest.approx((other.low, other.high), abs=1e-9)


def test_the_score_and_its_parts_are_as_worked_out_by_hand() -> None:
    """By hand: squares 0.01 0.49 0.04 0.04 make 0.58 / 4. Groups (0.1, 0.3: one of two) and (0.8,
    0.8: both): reliability (0.3^2 + 0.2^2) / 2, resolution 0.0625, uncertainty 0.75 x 0.25; within
    the first: variance 0.01, covariance 0.05, so (0.01 - 0.10) / 2."""
    said, did = np.array([0.1, 0.3, 0.8, 0.8]), np.array([0.0, 1.0, 1.0, 1.0])
    found = brier_score(said, did, np.array([0, 0, 1, 1]))
    assert found.score == pytest.approx((0.01 + 0.49 + 0.04 + 0.04) / 4)
    assert (found.reliability, found.resolution) == pytest.approx((0.065, 0.0625))
    assert (found.uncertainty, found.within) == pytest.approx((0.1875, -0.045))
    parts = found.reliability - found.resolution + found.uncertainty + found.within
    assert parts == pytest.approx(found.score)


def test_a_figures_own_error_widens_the_band() -> None:
    """By hand: edge 3 from the middle, error 4 at z = 1: sqrt(9 + 16) = 5."""
    assert inside_band((14.9, 4.0), 10.0, (7.0, 13.0), 1.0)
    assert not inside_band((15.1, 4.0), 10.0, (7.0, 13.0), 1.0)


def test_chances_are_counted_against_what_happened() -> None:
    slit: dict[str, Any] = {"damage": [{"row": "zipper"}], "result": "failed"}
    found = calibrated([flight(), flight(**slit), flight(), flight()])
    whole, rows = found.scored
    assert (whole.predicted, whole.expected, whole.happened, whole.fits) == (4, 1.0, 1, True)
    assert (rows.predicted, rows.happened) == (8, 1) and rows.expected == pytest.approx(1.6)
    low, high = exact_share(1, 4)
    assert (whole.low, whole.high) == (4 * low, 4 * high)
    text = " ".join(right_words(found))
    assert "4 flights: any true chance from 0.6 to 81 in 100 agrees with that" in text


def test_chances_far_from_what_happened_do_not_fit() -> None:
    found = calibrated([flight(replace_chance(0.02), result="failed") for _ in range(6)])
    assert not found.scored[0].fits and "so they do not fit" in right_words(found)[0]


def replace_chance(chance: float) -> PredictionFile:
    return SAID.model_copy(update={"chance": chance})


@pytest.mark.parametrize(
    ("peak", "inside"),
    [(530.0, (1, 1, 1)), (545.0, (0, 1, 1)), (555.0, (0, 0, 1)), (600.0, (0, 0, 0))],
)
def test_bands_are_counted(peak: float, inside: tuple[int, ...]) -> None:
    found = calibrated([flight(peak_m=peak)])
    assert tuple(each.inside for each in found.bands) == inside


@pytest.mark.parametrize(
    ("said", "notes", "why"),
    [
        (SAID.model_copy(update={"afterwards": True}), {}, AFTERWARDS),
        (SAID.model_copy(update={"made": "2026-10-18T09:00:00"}), {}, AFTERWARDS),
        (SAID, {"plan": "small"}, "flown by"),
        (SAID, {"motor": "H-a"}, "flown with"),
        (SAID, {"delay_out": "4 s"}, "another delay"),
    ],
)
def test_what_does_not_count_is_said(said: PredictionFile, notes: dict[str, Any], why: str) -> None:
    found = calibrated([flight(said, **notes)])
    assert found.flights == () and found.scored == () and why in found.left_out[0]


def test_what_nobody_looked_at_is_no_success() -> None:
    found = calibrated([flight(looked_over=False)])
    assert found.scored == () and len(found.bands) == 3


@pytest.fixture
def kept(folder: Path) -> Path:
    project = load(folder)
    keep_prediction(
        project,
        "first",
        lambda logged: prediction(project, "first", None, "2026-10-16T20:00:00", logged, 50),
    )
    return folder


def test_a_prediction_is_kept_sent_and_not_part_of_the_inputs(kept: Path, tmp_path: Path) -> None:
    project = load(kept)
    said = project.predictions["first"]
    assert not said.afterwards and 0.0 <= said.chance <= 1.0 and said.plan == "morning"
    assert said.inputs == inputs_hash(project)
    (tmp_path / "sent.zip").write_bytes(archive(kept))
    assert open_archive(tmp_path / "sent.zip", tmp_path / "theirs").predictions == {"first": said}
    assert right((project,)).flights == () and right_words(right((project,)))[0] == NONE


def test_it_is_made_anew_before_the_flight_and_never_afterwards(kept: Path) -> None:
    def again(made: str, logged: bool = False) -> None:
        project = load(kept)
        keep_prediction(
            project,
            "first",
            lambda there: prediction(project, "first", None, made, there or logged, 50),
        )

    again("2026-10-16T21:00:00")
    assert len(versions(kept, FILE)) == 1
    with pytest.raises(StudyRefused, match="never rewritten"):
        again("2026-10-16T22:00:00", logged=True)
    (kept / "flights/first/notes.toml").write_text('apogee = "500 m"\nplan = "morning"\n')
    with pytest.raises(StudyRefused, match="never rewritten"):
        again("2026-10-16T22:00:00")
    assert load(kept).predictions["first"].made == "2026-10-16T21:00:00"


@pytest.mark.parametrize(
    "notes", ['date = "2026-10-15"\n', 'result = "passed"\n', "looked_over = true\n"]
)
def test_one_made_after_the_flight_says_so(folder: Path, notes: str) -> None:
    (folder / "flights/first").mkdir(parents=True)
    (folder / "flights/first/notes.toml").write_text(notes, encoding="utf-8")
    assert prediction(load(folder), "first", made="2026-10-16T20:00:00", flights=50).afterwards


def test_the_command_keeps_and_then_judges(folder: Path) -> None:
    done = CliRunner().invoke(app, ["debrief", str(folder), "first", "--keep-prediction"])
    assert done.exit_code == DONE and FILE in done.output, done.output
    done = CliRunner().invoke(app, ["debrief", str(folder), "--json", "--with", str(folder)])
    assert json.loads(done.stdout)["right"]["flights"] == []


@pytest.mark.parametrize("name", ["", "..", "a/b", ".x", 'a"b'])
def test_a_name_that_is_no_folder_is_refused(folder: Path, name: str) -> None:
    done = CliRunner().invoke(app, ["debrief", str(folder), name, "--keep-prediction"])
    assert done.exit_code != DONE and done.exception is not None
    assert not (folder / "flights").exists()


@pytest.mark.parametrize(
    ("text", "words"),
    [("{", "no JSON"), ("[]", "a table"), ("{}", "made"), ('{"made": NaN}', "afterwards")],
)
def test_a_damaged_prediction_is_told_with_its_place(kept: Path, text: str, words: str) -> None:
    (kept / FILE).write_text(text, encoding="utf-8")
    with pytest.raises(ProjectErrors, match=r"flights/first/prediction\.json") as caught:
        load(kept)
    assert words in str(caught.value)


def test_predictions_are_judged_by_logs_too(folder: Path) -> None:
    """A log without one figure in the notes: the peak in closed form against the kept band."""
    m = made(0.1)
    place = folder / "flights" / "first"
    place.mkdir(parents=True)
    (place / "prediction.json").write_text(prediction_text(SAID), encoding="utf-8")
    (place / "notes.toml").write_text('date = "2026-10-17"\nplan = "morning"\n', encoding="utf-8")
    text = table({"time_s": m["time"], "pressure_pa": m["pressure"]})
    (place / "log.csv").write_text(text, encoding="utf-8")
    project = load(folder)
    assert right((project,)).flights == ()
    found = right((project,), (logs_of_predicted(project),))
    assert found.flights == ("first",) and found.bands[0].measured == 1
    inside = 480.0 - 3.0 < APOGEE_M < 560.0 + 3.0
    assert found.bands[-1].inside == int(inside)
    (place / "log.csv").write_text("nothing\n", encoding="utf-8")
    assert logs_of_predicted(project) == {}


def test_figures_of_one_flight_are_no_proof_against_the_bands() -> None:
    """None of 7 inside a band of 90: the exact interval is 0 to 41 in 100 [clopper1934]."""
    band = BandScore(90, 7, 0, *exact_share(0, 7))
    assert band.high == pytest.approx(0.4096, abs=1e-4)
    assert "1 flight alone: too few to say that it is wrong" in band_words(band, 1)
    assert "so the bands are wrong" in band_words(band, 12)
    held = BandScore(90, 7, 7, *exact_share(7, 7))
    assert "wrong" not in band_words(held, 1)
