"""The units of a project: what is shown in them, and in which round figures changes are offered."""

import pickle
import re
import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from goodflight.cli import shell
from goodflight.page.view import like
from goodflight.project.demo import write_demo
from goodflight.project.shown_in import units_of
from goodflight.quantity.said import Convertible, either, told
from goodflight.studies.case.planned import Case
from goodflight.studies.levers.whatif import tried
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.results import Entry
from page_client import Page

FEET = 'units = "imperial"\n'


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("units") / "heron"
    write_demo(made)
    rocket = made / "rocket.toml"
    text = rocket.read_text("utf-8")
    rocket.write_text(text.replace("separates_at", FEET + "separates_at", 1), "utf-8")
    return made


def test_a_command_shows_what_the_project_says(folder: Path, tmp_path: Path) -> None:
    picture = tmp_path / "x.svg"

    def said(*asked: str) -> str:
        assert shell.run(["draw", str(folder), "-o", str(picture), *asked]) == 0
        return picture.read_text("utf-8")

    assert "lengths in inches" in said()
    assert "lengths in mm" in said("--units", "metric")


def test_a_paper_is_in_the_units_of_the_project(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []

    def printed(*_known: object, **more: Any) -> object:
        asked.append(more["units"])
        raise StudyRefused("nothing", "nothing", "this test prints none", "what")

    monkeypatch.setattr("goodflight.interface.printout", printed)
    for more in ((), ("--units", "metric")):
        shell.run(["print", str(folder), "-o", str(tmp_path / "x.pdf"), *more])
    assert asked == ["imperial", "metric"]


def test_a_page_shows_what_the_project_says(folder: Path) -> None:
    page = Page(folder)
    assert "lengths in inches" in page.get("/drawing").text
    page.client.cookies.set("goodflight-units", "metric")
    assert "lengths in mm" in page.get("/drawing").text


@pytest.mark.parametrize("text", ["", "units = 3", "units = [", 'units = "stone"'])
def test_what_cannot_be_read_is_shown_in_metric_units(text: str, tmp_path: Path) -> None:
    (tmp_path / "rocket.toml").write_text(text, "utf-8")
    assert units_of(tmp_path) == "metric"
    assert units_of(tmp_path / "nowhere") == "metric"


@pytest.fixture(scope="module")
def imperial(demo_case: Callable[[str], Case]) -> Case:
    case = demo_case("breezy")
    return replace(case, origin=replace(case.origin, units="imperial"))


OFFERED = {
    "canopy_size": ("1.016", "40 in across flats"),
    "cord": ("6.096", "20 ft"),
    "cord_width": ("0.0254", "1 in"),
    "wind": ("3.57632", "8 mph ±"),
    "fin_sheet": ("0.00635", "0.25 in ±"),
    "pull": ("40.034", "9 lbf ±"),
    "blanket": ("0.4572", "324 in2 ±"),
    "retainer": ("711.715", "160 lbf ±"),
    "cord_strength": ("8126.9", "1827 lbf"),
    "ports": ("done", "3"),
}


@pytest.mark.parametrize("key", OFFERED)
def test_changes_are_offered_in_round_figures(imperial: Case, key: str) -> None:
    """By hand: 40 in = 1.016 m, 20 ft = 6.096 m, 8 mph = 3.57632 m/s, 9 lbf = 40.034 N.

    18 in square = 324 in2; 160 lbf = 711.715 N; 1.25 x 6500 N = 1826.6 lbf.
    """
    setting, written = OFFERED[key]
    trial = tried(imperial, {key: setting})
    assert trial.changed == (key,)
    assert trial.writes[0][1].startswith(written)


def test_nothing_is_written_in_metric_units_but_powder_and_what_a_material_stands(
    imperial: Case,
) -> None:
    """Every setting of every control, as it is told and as it is kept."""
    metric = re.compile(r"[0-9] ?(?:mm|m|g|kg|N|cm2|m2|m/s|degC|°C|Pa)\b")
    left = {
        control.key
        for control in tried(imperial, {}).controls
        for each in control.offer.settings
        for words in (each.title.told("imperial"), *(text for _, text in each.writes))
        if metric.search(words.replace("plywood_4mm", ""))
    }
    assert left == {"powder", "tail_edge"}


def test_words_with_round_figures_in_both_systems() -> None:
    like = either("like {150} m", "like 500 ft")
    assert (like.told(), like.told("imperial")) == ("like {150} m", "like 500 ft")
    assert told("plain", "imperial") == "plain"


def test_boxes_and_refusals_of_a_rocket_in_inches_ask_in_its_units(folder: Path) -> None:
    """What a box looks like inside: of its dimension, or the file's own example, rounded."""
    entry = Entry(
        key="ceiling",
        label="ceiling",
        dimension="length",
        file="sites/x.toml",
        place="ceiling",
        how="",
        instrument="",
        minutes=None,
    )
    assert (like(entry, "metric"), like(entry, "imperial")) == ("760 m", "2000 ft")
    scale = Page(folder).get("/scale").text
    assert 'placeholder="e.g. 51.5 oz ± 0.1 oz"' in scale and 'placeholder="7 lbf"' in scale
    assert not re.findall(r'placeholder="[^"]*[0-9] (?:mm|m|g|kg|N|cm2)\b[^"]*"', scale)


@pytest.mark.parametrize(
    ("written", "metric", "imperial"),
    [
        # NIST SP 811 (2008), B.8: 1 ft = 0.3048 m, 1 psi = 6894.757 Pa, 1 ft lbf = 1.355818 J
        ("[[20 m/s]], not [[25 to 30 m/s]]", "not 25 to 30 m/s", "66 ft/s, not 82 to 98 ft/s"),
        ("handbooks: [[2 to 3 MPa]]", "2 to 3 MPa", "290 to 435 psi"),
        ("limit [[101.7 J]]", "101.7 J", "75.01 ft lbf"),
        ("a fifth at [[0 degC]]", "0 degC", "32 °F"),
        ("less than [[3 °C|5 °F]] above", "3 °C above", "5 °F above"),
        ('what stands in a file: [["1 m"]], [part]', '[["1 m"]], [part]', '[["1 m"]], [part]'),
    ],
)  # fmt: skip
def test_figures_in_a_sentence_are_in_the_units_of_its_reader(
    written: str, metric: str, imperial: str
) -> None:
    words = Convertible(written)
    assert words.endswith(metric) and told(words) == words
    assert told(words, "imperial").endswith(imperial)
    assert told(pickle.loads(pickle.dumps(words)), "imperial") == told(words, "imperial")


def test_a_fault_has_its_limit_in_the_units_of_the_project(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Limits of a rail and of a station, 50 m and 0: 164 ft and 0 in."""
    made = tmp_path / "heron"
    shutil.copytree(folder, made)
    plans = made / "plans.toml"
    plans.write_text(plans.read_text("utf-8").replace('rail = "2.4 m"', 'rail = "800 ft"'), "utf-8")
    assert shell.run(["ledger", str(made)]) == 2
    told_here = " ".join(capsys.readouterr().err.split())
    assert "at most 164 ft do" in told_here and "50 m" not in told_here
