"""What a longer part does to a rocket with other fins: as the project does once they are kept."""

from pathlib import Path

import pytest

from goodflight.project import load, write_project
from goodflight.project.newcomer import project_files
from goodflight.project.part_forms import keep
from goodflight.studies.case.project_case import case_of
from goodflight.studies.levers.whatif import tried
from sample_case import MOTOR_TOLD


def test_a_longer_nose_moves_what_lies_behind_it_beside_larger_fins_too(tmp_path: Path) -> None:
    """A nose known to 3 %: larger fins were tried with its end in the tube, and refused there."""
    write_project(tmp_path, project_files(MOTOR_TOLD))
    project = load(tmp_path)
    changes = tried(case_of(project), {}).changes
    larger = next(each for each in changes if each.lever.key == "fin_size")
    path = "rocket.toml:part[nose].length"
    tried_out, kept = (
        next(each for each in case.uncertainty.sensitivities if each.path == path).effects
        for case in (larger.case, case_of(keep(project, larger.setting.writes)))
    )
    assert abs(kept["cp_m"]) > 1e-4
    for key, effect in kept.items():
        assert tried_out[key] == pytest.approx(effect, rel=0.02, abs=1e-6), key
