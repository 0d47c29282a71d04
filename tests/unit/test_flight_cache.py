"""Where compiled code is kept: in a place of one's own that can be written, whatever is missing.

And how it is loaded: flights are the same bytes in every process.
"""

import re
import subprocess
import sys
import threading
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any
from unittest.mock import patch

import numpy as np
import pytest

from goodflight.physics import flight
from goodflight.physics.flight import Launch, compiled, fly_ensemble, ready
from goodflight.physics.flight.parts import PartLibrary
from goodflight.physics.flight.sample import sample_flight


@pytest.fixture
def bare(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """No variables, and a temporary folder of our own."""
    for name in ("LOCALAPPDATA", "XDG_CACHE_HOME"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    return tmp_path


def homeless(monkeypatch: pytest.MonkeyPatch) -> None:
    def home() -> Path:
        raise RuntimeError("Could not determine home directory.")

    monkeypatch.setattr(Path, "home", home)


def test_the_cache_of_the_user_is_taken(bare: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(bare / "a place é"))
    assert compiled.cache_folder().parent == bare / "a place é" / "goodflight"


@pytest.mark.usefixtures("bare")
def test_without_a_home_a_private_temporary_folder(
    bare: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    homeless(monkeypatch)
    found = compiled.cache_folder()
    assert found.is_relative_to(bare) and found.parent.stat().st_mode & 0o077 == 0
    assert compiled.cache_folder() == found


def test_a_home_that_is_a_file_is_passed_over(bare: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (bare / "file").write_text("")
    monkeypatch.setenv("XDG_CACHE_HOME", str(bare / "file"))
    homeless(monkeypatch)
    assert compiled.cache_folder().parent.name.startswith("goodflight-")


def test_a_folder_that_others_can_write_is_not_trusted(
    bare: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    homeless(monkeypatch)
    open_to_all = compiled.cache_folder().parent
    open_to_all.chmod(0o777)
    assert not compiled.cache_folder().is_relative_to(open_to_all)


def test_a_folder_of_ours_is_closed_to_others_and_trusted_while_they_cannot_write() -> None:
    """rwx for its owner alone; others who may look and enter can put nothing there.

    Named by 64 bits of what the kernel is made of, so that no two kernels meet in one.
    """
    assert re.fullmatch(r"kernel-[0-9a-f]{16}", compiled.cache_folder().name)
    if sys.platform == "win32":
        pytest.skip("no such rights there")
    with TemporaryDirectory() as held, patch.dict("os.environ", {"LOCALAPPDATA": held}):
        place = compiled.cache_folder().parent
        assert place.parent == Path(held) and place.stat().st_mode & 0o777 == 0o700
        for mode, trusted in ((0o755, True), (0o775, False), (0o757, False)):
            place.chmod(mode)
            assert compiled._mine(place) == trusted


def test_another_copy_of_the_sources_has_its_own_folder(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    before = compiled.kernel_hash()
    copied = tmp_path / "flight"
    for folder in (copied, tmp_path / "recovery"):
        folder.mkdir()
    for name in compiled.KERNEL_SOURCES:
        (copied / f"{name}.py").write_bytes((compiled._HERE / f"{name}.py").read_bytes())
    monkeypatch.setattr(compiled, "_HERE", copied)
    assert compiled.kernel_hash() != before


def test_a_function_is_compiled_once_for_all_places_and_flags_it_is_called_with() -> None:
    """Once for each doubled the time of a first start."""
    for mark, times in (
        (compiled.compiled, 1),
        (compiled.compiled_inside, 1),
        (compiled.compiled_per_constant, 2),
    ):

        def value(w: Any, at: int, twice: bool) -> float:
            found: float = w[at]
            return 2.0 * found if twice else found

        marked: Any = mark(value)

        def total(w: Any, value: Any) -> float:
            found: float = value(w, 1, True) + value(w, 2, False)
            return found

        assert compiled.numba.njit(total)(np.arange(3.0), marked) == 4.0
        assert len(marked.part.signatures) == times
        assert not marked.signatures  # no door to Python that nobody went through
        assert marked(np.arange(3.0), 1, True) == 2.0
        assert len(marked.signatures) == 1 and len(marked.part.signatures) == times


def test_what_only_the_kernel_calls_is_no_machine_code_of_its_own() -> None:
    """Machine code of each function, six deep, was half of the time of a first start."""

    @compiled.compiled
    def inner(x: float) -> float:
        return x + 1.0

    @compiled.compiled
    def middle(x: float) -> float:
        return 2.0 * inner(x)

    def outer(x: float, function: Any) -> float:
        found: float = function(x)
        return found

    assert compiled.numba.njit(outer)(3.0, middle) == 8.0
    for function in (inner, middle):
        [made] = function.part.overloads.values()  # type: ignore[attr-defined]
        assert isinstance(made.library, PartLibrary)
        assert not function.signatures  # type: ignore[attr-defined]


def test_a_process_that_flew_one_flight_with_its_history_first_flies_the_same_bytes() -> None:
    """Also where this process had to compile the kernel before it flew.

    Kept code is loaded without what only a compilation needs; that is loaded when one is asked for.
    """
    row, motor, tables = sample_flight()
    seeds = np.arange(1, 41, dtype=np.uint64)
    here = fly_ensemble(Launch(motor, tables), np.tile(row, (40, 1)), seeds)
    code = """
import sys
import threading
sys.path[:] = sys.argv[1:]
import numpy as np
from goodflight.physics.flight import Launch, fly_ensemble, fly_history
from goodflight.physics.flight.parts import PartLibrary
from goodflight.physics.flight.sample import sample_flight
row, motor, tables = sample_flight()
launch = Launch(motor, tables)
fly_history(launch, row)
seeds = np.arange(1, 41, dtype=np.uint64)
sys.stdout.buffer.write(fly_ensemble(launch, np.tile(row, (40, 1)), seeds).tobytes())
"""
    loads = """
assert not {"numba.np.linalg", "scipy.linalg"} & set(sys.modules)  # all that it could compile
import numba
assert numba.njit(lambda x: np.linspace(0.0, x, 3).sum())(2.0) == 3.0  # and yet it compiles
"""
    child = [sys.executable, "-c", code + loads, *sys.path]
    assert subprocess.run(child, capture_output=True, check=True).stdout == here.tobytes()


def test_the_kernel_is_compiled_here_where_no_other_process_can_be_started(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def refused(*_: object, **__: object) -> None:
        raise OSError("no more processes")

    flown = list[int]()
    monkeypatch.setattr(ready, "compiled_before", lambda: False)
    monkeypatch.setattr(ready, "_loaded", threading.Event())
    monkeypatch.setattr(ready, "_fly_all_once", lambda: flown.append(1))
    monkeypatch.setattr(subprocess, "Popen", refused)
    ready.make_ready()
    ready.make_ready()
    assert flown == [1]


class Started:
    """A process that only says how it ended."""

    def __init__(self, ended: int) -> None:
        self.ended, self.killed = ended, False

    def wait(self) -> int:
        return self.ended

    def kill(self) -> None:
        self.killed = True


@pytest.mark.parametrize(("ends", "compiled_now"), [((0, 0), True), ((0, 1), False)])
def test_the_kernel_counts_as_compiled_when_each_process_has_ended_well(
    ends: tuple[int, int], compiled_now: bool, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    started = [Started(each) for each in ends]
    asked, left = list[str](), iter(started)

    def start(command: list[str], **_: object) -> Started:
        asked.append(command[3])
        return next(left)

    monkeypatch.setattr(ready, "_COMPILING", tmp_path / "compiling")
    monkeypatch.setattr(ready, "_COMPILED", tmp_path / "compiled")
    monkeypatch.setattr(subprocess, "Popen", start)
    ready._compile_apart()
    assert len(set(asked)) == 2 and all(each.killed for each in started)
    assert ready.compiled_before() == compiled_now


@pytest.mark.skipif(sys.platform == "win32", reason="no such lock there: both compile")
def test_a_second_process_waits_for_the_one_that_compiles(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    import fcntl

    done, asked = threading.Event(), list[object]()
    monkeypatch.setattr(ready, "_COMPILING", tmp_path / "compiling")
    monkeypatch.setattr(ready, "compiled_before", done.is_set)
    monkeypatch.setattr(ready, "_COMPILED", tmp_path / "compiled")

    def start(*words: object, **_: object) -> Started:
        asked.append(words)
        return Started(0)

    monkeypatch.setattr(subprocess, "Popen", start)
    waits = threading.Thread(target=ready._compile_apart)
    with (tmp_path / "compiling").open("w") as other:
        fcntl.flock(other, fcntl.LOCK_EX)
        waits.start()
        waits.join(0.2)
        assert waits.is_alive()
        done.set()
    waits.join(10.0)
    assert not waits.is_alive() and asked == []
    done.clear()
    ready._compile_apart()
    assert len(asked) == 2


def test_the_type_checker_knows_the_names_that_are_fetched_on_first_use() -> None:
    stub = Path(flight.__file__).with_suffix(".pyi").read_text("utf-8")
    pairs = re.findall(r"flight\.(\w+) import (\w+) as \2$", stub, re.M)
    assert {name: home for home, name in pairs} == vars(flight)["_HOMES"]
