"""Tests in copies of the process that collected them: each once, none lost, failures told."""

import os
import subprocess
import sys
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pytest

import collected_once

Run = Callable[..., tuple[int, str, list[str]]]
SHARED = """
import os, pytest
NOTES = os.environ["NOTES"]
def note(*words):
    with open(NOTES, "a") as notes:
        print(*words, file=notes)
note("collected", os.getpid())
@pytest.fixture(scope="session")
def own(tmp_path_factory):
    yield tmp_path_factory.getbasetemp()
    note("ended", os.getpid())
"""
FILE = """
import os, time, warnings, pytest
from conftest import note
@pytest.mark.parametrize("number", range(2))
def test_it(number, own, tmp_path):
    time.sleep(0.1)
    assert tmp_path.parent == own
    note("test", __name__, os.getpid())
"""
BAD = """
import warnings
warnings.warn("early", UserWarning)
def test_that_fails():
    print("said before")
    warnings.warn("beware", UserWarning)
    assert 1 + 1 == 3
"""
KILLED = """
import os
def test_that_dies():
    os.kill(os.getpid(), 9)
def test_after():
    pass
"""


@pytest.fixture
def run(tmp_path: Path) -> Run:
    """Run files of tests in two copies: exit code, what is shown, what the tests noted."""

    def ran(files: dict[str, str], *words: str) -> tuple[int, str, list[str]]:
        folder, notes = tmp_path / "suite", tmp_path / "notes"
        folder.mkdir()
        notes.touch()
        for name, text in {"conftest": SHARED, **files}.items():
            (folder / f"{name}.py").write_text(text, "utf-8")
        there = str(Path(collected_once.__file__).parent)
        known = {**os.environ, "NOTES": str(notes), "PYTHONPATH": there}
        known["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"
        known.pop("PYTEST_XDIST_WORKER", None)
        asked = ["-q", "-c", os.devnull, "--rootdir", str(folder), "-p", "no:cacheprovider"]
        asked += ["-p", "collected_once", f"--basetemp={tmp_path / 'base'}", *words, str(folder)]
        done = subprocess.run(
            [sys.executable, "-m", "pytest", *asked],
            cwd=folder,
            env=known,
            capture_output=True,
            text=True,
            check=False,
            timeout=300.0,
        )
        return done.returncode, done.stdout + done.stderr, notes.read_text("utf-8").splitlines()

    return ran


FOUR = {f"test_{number}": FILE for number in range(4)}


def test_each_file_runs_whole_in_one_copy_with_fixtures_of_its_own(run: Run) -> None:
    code, shown, notes = run(FOUR, "--copies", "2")
    assert (code, shown.split(" in ")[0].splitlines()[-1]) == (0, "8 passed"), shown
    told = [line.split() for line in notes]
    assert sum(words[0] == "collected" for words in told) == 1
    ran = Counter((words[1], words[2]) for words in told if words[0] == "test")
    assert set(ran.values()) == {2} and {name for name, _ in ran} == set(FOUR)
    copies = {process for _, process in ran}
    assert len(copies) == 2
    assert sorted(words[1] for words in told if words[0] == "ended") == sorted(copies)


def test_a_failure_is_shown_with_its_output_and_warning_once(run: Run) -> None:
    code, shown, _ = run({**FOUR, "test_bad": BAD}, "--copies", "2", "--durations", "3")
    assert code == 1, shown
    assert "1 failed, 8 passed, 2 warnings" in shown
    assert "assert (1 + 1) == 3" in shown and "slowest 3 durations" in shown
    assert shown.count("said before") == 2  # the line of the source, and what it printed
    assert shown.count("UserWarning: beware") == shown.count("UserWarning: early") == 1


def test_a_copy_that_breaks_off_is_a_failure_of_its_test(run: Run) -> None:
    code, shown, _ = run({**FOUR, "test_a_killed": KILLED}, "--copies", "2")
    assert code == 1, shown
    assert "The process of this test broke off" in shown
    assert "1 failed, 8 passed" in shown  # the other copy goes on with the other files
    assert "test_a_killed.py::test_that_dies" in shown


def test_after_the_first_failure_no_other_file_is_begun(run: Run) -> None:
    many = {f"test_{number}": FILE for number in range(9)}
    code, shown, notes = run({"test_00": BAD, **many}, "--copies", "2", "-x")
    assert code == 1 and "stopping after 1 failures" in shown, shown
    told = [line.split() for line in notes]
    assert sum(words[0] == "test" for words in told) < 9
    begun = {words[2] for words in told if words[0] == "test"}
    assert [words[1] for words in told if words[0] == "ended"] == list(begun)  # its fixtures too
