"""A wrong number in the models is noticed: a few are changed at every run, all by one command."""

import fnmatch
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

pytestmark = pytest.mark.long

TOOL = Path(__file__).parents[2] / "tools" / "mutate.py"
MUTANTS = TOOL.with_name("mutants.toml")


def _run(*words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, str(TOOL), *words], capture_output=True, text=True, check=False
    )


@pytest.mark.slow
def test_row_values_notice_each_of_a_few_changed_numbers() -> None:
    """Peak at touch-down, sudden thrust, heat of the charge, opening reserve, cant, and others."""
    found = _run("--quick")
    assert found.returncode == 0, found.stdout + found.stderr
    count = len(tomllib.loads(MUTANTS.read_text("utf-8"))["quick"])
    told = f"{count} numbers changed, 0 live without a reason"
    assert found.stdout.splitlines()[-1] == told


def test_the_few_reach_every_file_of_row_values() -> None:
    quick = tomllib.loads(MUTANTS.read_text("utf-8"))["quick"].values()
    named = {test.partition("::")[0] for test in quick}
    files = (TOOL.parents[1] / "tests" / "rows").glob("test_*_values.py")
    rows = {f"rows/{path.stem}" for path in files}
    assert rows - named == {"rows/test_every_row_has_values"}


def test_every_reason_and_each_of_the_few_is_of_a_number_that_is_there() -> None:
    names = _run("--list").stdout.splitlines()
    lives = tomllib.loads(MUTANTS.read_text("utf-8"))["lives"]
    patterns = [pattern for each in lives for pattern in each["numbers"]]
    assert [each for each in patterns if not fnmatch.filter(names, each)] == []
    few = _run("--list", "--quick")
    assert few.returncode == 0, few.stdout


def test_a_number_that_is_not_there_is_told() -> None:
    found = _run("--only", "physics.power: NO_SUCH_NUMBER: *")
    assert found.returncode == 2
    assert "no number is called 'physics.power: NO_SUCH_NUMBER: *'" in found.stdout
