"""What many tests share: the demo project, read or changed; order; when garbage is looked for."""

import gc
import os
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

import hypothesis
import pytest

from goodflight.project import Project, load, read_project
from goodflight.project.demo import demo_files, write_demo
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of
from run_place import place

pytest_plugins = ["collected_once"]

# no test is about time: a machine that is busy fails none
hypothesis.settings.register_profile("untimed", deadline=None)
hypothesis.settings.load_profile("untimed")

# what is collected stays until the end: to look through it for garbage took a third of the
# collection's time and a twelfth of the tests'
gc.disable()


def pytest_collection_finish() -> None:
    """From here on only what the tests themselves make is looked through."""
    gc.freeze()
    gc.set_threshold(5000, 20, 20)
    gc.enable()


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Browser tests are all slow. They and files marked as long come first, so that no worker is
    left alone with one at the end. Tests of a file that look at one state of a sheet follow each
    other: what they open stays open."""
    items.sort(key=_turn)
    places: dict[tuple[Path, str], int] = {}
    for item in items:
        if "browser" in item.path.parts:
            item.add_marker(pytest.mark.slow)
        places.setdefault(_looks_at(item), len(places))
    items.sort(key=lambda item: places[_looks_at(item)])


def _turn(item: pytest.Item) -> int:
    if "browser" in item.path.parts:
        return 0
    return 1 if item.get_closest_marker("long") else 2


def _looks_at(item: pytest.Item) -> tuple[Path, str]:
    given = item.callspec.params if hasattr(item, "callspec") else {}
    return item.path, str(given.get("state", ""))


def texts_of(folder: Path) -> dict[str, bytes]:
    """Every file of a project but those that the program keeps for itself."""
    files = [path for path in folder.rglob("*") if path.is_file()]
    shown = [path for path in files if not path.relative_to(folder).parts[0].startswith(".")]
    return {str(path.relative_to(folder)): path.read_bytes() for path in shown}


@pytest.fixture(scope="session", autouse=True)
def long_answers(tmp_path_factory: pytest.TempPathFactory) -> None:
    """Where the workers of this run share long answers."""
    base = tmp_path_factory.getbasetemp()
    found = (base.parent if "PYTEST_XDIST_WORKER" in os.environ else base) / "answers"
    found.mkdir(exist_ok=True)
    place[:] = [found]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The demo project, written for one test, which may change it."""
    write_demo(tmp_path / "demo")
    return tmp_path / "demo"


@pytest.fixture(scope="session")
def demo_folder(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """The demo project, written once, to be read only."""
    place: Path = tmp_path_factory.mktemp("shared") / "fieldfare"
    write_demo(place)
    before = texts_of(place)
    yield place
    assert texts_of(place) == before, "a test changed the demo that all share: use `folder`"


@pytest.fixture(scope="session")
def demo() -> Project:
    """The demo project as it comes with the program."""
    return read_project(demo_files())


@pytest.fixture(scope="session")
def demo_case(demo_folder: Path) -> Callable[[str], Case]:
    """The case of a plan of the demo, worked out once each."""
    return cache(lambda plan: case_of(load(demo_folder), plan))
