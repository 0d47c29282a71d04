"""Ballast for a margin asked for: the lever law by hand, side effects on the same flights, kept."""

import json
import math
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from goodflight.cli.app import app
from goodflight.project import load, read_project
from goodflight.project.demo import demo_files
from goodflight.project.records import Project
from goodflight.studies.case.project_case import case_of
from goodflight.studies.questions.ballast import ballast
from goodflight.studies.questions.layout import layout_of
from goodflight.studies.refusal import StudyRefused

FEW = 40


def demo() -> Project:
    return read_project(demo_files(), Path("."))


def test_least_mass_on_a_step_that_does() -> None:
    """One step less would not do, and the margin follows from moments taken by hand."""
    laid = layout_of(case_of(demo(), "midday"))
    found = ballast(demo(), "midday", 2.4, FEW)
    assert found.verdict == "enough" and found.exact_kg is not None
    assert found.exact_kg <= found.mass_kg < found.exact_kg + 0.005
    cg = (laid.liftoff_mass_kg * laid.cg_liftoff.station_m + found.mass_kg * found.station_m) / (
        laid.liftoff_mass_kg + found.mass_kg
    )
    then = (laid.cp.station_m - cg) / laid.diameter_m
    assert found.margin_then_cal == pytest.approx(then, abs=1e-9)
    assert found.margin_cal < 2.4 <= found.margin_then_cal
    assert found.weighed and found.fixing and found.push_n > 0.0


def test_side_effects_go_the_way_mass_pushes_them() -> None:
    found = ballast(demo(), "midday", 2.8, FEW)
    effects = {each.name: each for each in found.effects}
    heavier = effects["mass ready to fly"]
    assert heavier.now - heavier.before == pytest.approx(found.mass_kg, abs=1e-9)
    for name in ("thrust to weight", "speed leaving the rail", "apogee"):
        assert effects[name].now < effects[name].before, name
    assert effects["landing speed"].now > effects["landing speed"].before
    assert "burnout to apogee: the delay it wants" in effects
    assert found.flights == FEW and found.chance_now is not None


def test_it_says_so_where_none_is_needed_and_where_none_does() -> None:
    none = ballast(demo(), None, 1.5, FEW)
    assert (none.verdict, none.mass_kg, none.flights) == ("none needed", 0.0, 0)
    assert "no ballast is needed" in none.words.told()
    much = ballast(demo(), None, 4.0, FEW)
    assert (much.verdict, much.mass_kg, much.fixing) == ("too much", 0.0, ())
    assert "larger fins" in much.words.told()
    never = ballast(demo(), None, 10.0, FEW)
    assert never.exact_kg is None or never.exact_kg > 1.0
    for wrong in (0.0, -1.0, 11.0, math.nan):
        with pytest.raises(StudyRefused):
            ballast(demo(), None, wrong, FEW)


def test_nothing_is_written_unless_kept(folder: Path) -> None:
    def run(*more: str) -> Any:
        return CliRunner().invoke(
            app, ["ballast", str(folder), "--margin", "2.4", "--flights", "20", *more]
        )

    before = (folder / "rocket.toml").read_text(encoding="utf-8")
    shown = run()
    assert shown.exit_code == 0 and "is enough for a margin of 2.40 cal" in shown.output
    assert (folder / "rocket.toml").read_text(encoding="utf-8") == before
    kept = run("--json", "--keep")
    assert kept.exit_code == 0
    said = json.loads(kept.stdout[kept.stdout.index("{") :])
    part = next(p for p in load(folder).parts if p.name == "added nose ballast")
    assert part.mass is not None
    assert part.mass.value == pytest.approx(said["mass_kg"])
    again = ballast(load(folder), None, 2.4, FEW)  # weighed before, and kept beside it
    assert again.verdict == "none needed"
    assert again.margin_cal == pytest.approx(said["margin_then_cal"], abs=1e-6)
