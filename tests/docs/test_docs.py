"""The docs are true: generated pages are fresh, examples run, commands and keys exist."""

import importlib.util
import re
import subprocess
import sys
from pathlib import Path
from types import ModuleType
from typing import get_args

import pytest

from goodflight.cli.app import app
from goodflight.outputs.figures import FIGURES
from goodflight.physics.bibliography import ALL
from goodflight.physics.flight.registry import OUTCOMES
from goodflight.project.demo import write_demo
from goodflight.project.fields import key_words

HOME = Path(__file__).resolve().parents[2]
KEY = re.compile(r"\[([a-z][a-z-]*(?:\d{4}[a-z]?|-\d{3}))\]")
INSIDE = {"status", "steps"}  # outcomes of the kernel that are no figures of a flight


def renew() -> ModuleType:
    spec = importlib.util.spec_from_file_location("renew", HOME / "docs" / "renew.py")
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("sheet", renew().PAGES)
def test_generated_pages_are_fresh(sheet: str) -> None:
    kept = (HOME / "docs" / sheet).read_text(encoding="utf-8")
    assert kept == renew().PAGES[sheet](), "run: python docs/renew.py"


def test_every_key_of_every_file_says_what_it_is_for() -> None:
    renew()
    from files_page import tables  # type: ignore[import-not-found]

    silent = [
        f"[{name}] {key}"
        for name, (_, model) in tables().items()
        for key in model.model_fields
        if key_words(model, key) is None
    ]
    assert not silent, f'say what it is for, `Annotated[..., Key("...")]`: {silent}'


def test_every_stated_example_is_taken_by_its_entry() -> None:
    renew()
    from files_page import tables

    for _, model in tables().values():
        for key, field in model.model_fields.items():
            said = key_words(model, key)
            readers = [
                each
                for each in (*field.metadata, *_extras(field.annotation))
                if hasattr(each, "read")
            ]
            if said is not None and said.example and readers:
                readers[0].read(said.example)


def _extras(annotation: object) -> list[object]:
    return [each for part in get_args(annotation) for each in getattr(part, "__metadata__", ())]


def test_the_example_of_the_readme_runs(tmp_path: Path) -> None:
    """Also a second time, when the folder is there."""
    (example,) = re.findall(r"```python\n(.*?)```", (HOME / "README.md").read_text(), re.S)
    write_demo(tmp_path / "fieldfare")
    done = subprocess.run(
        [sys.executable, "-c", example],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
        env={"PYTHONPATH": str(HOME / "src"), "PATH": "", "HOME": str(Path.home())},
    )
    assert done.returncode == 0, done.stderr
    assert re.search(r"apogee \d+ m\nworst: .+, \d+ of 200 flights\nnot modelled: ", done.stdout)


def test_commands_named_in_the_docs_exist() -> None:
    pages = [HOME / "README.md", *(HOME / "docs").glob("*.md")]
    named = {"test"}
    for page in pages:
        text = page.read_text(encoding="utf-8")
        for name in re.findall(r"(?:start\.py|`goodflight) ([a-z]+)\b", text):
            assert name in {*app.commands, "test"}, f"{page.name}: {name}"
            named.add(name)


def test_links_between_pages_lead_somewhere() -> None:
    for page in (HOME / "README.md", HOME / "CONTRIBUTING.md", *(HOME / "docs").rglob("*.md")):
        for target in re.findall(r"\]\(([^)#:]+)\)", page.read_text(encoding="utf-8")):
            assert (page.parent / target).exists(), f"{page.name}: {target}"


def test_every_source_key_in_use_stands_in_the_bibliography() -> None:
    listed = set(KEY.findall((HOME / "docs" / "bibliography.md").read_text(encoding="utf-8")))
    used: dict[str, str] = {}
    for path in (*(HOME / "src").rglob("*.py"), HOME / "docs" / "models.md"):
        for key in KEY.findall(path.read_text(encoding="utf-8")):
            used.setdefault(key, str(path.relative_to(HOME)))
    missing = {key: place for key, place in used.items() if key not in listed}
    assert not missing, f"add to docs/bibliography.md: {missing}"


def test_every_source_of_the_bibliography_is_used() -> None:
    """By the program or by a check of it: in brackets in words, or in quotes by a row or figure."""
    texts = [
        path.read_text(encoding="utf-8")
        for place in ("src", "tests")
        for path in (HOME / place).rglob("*.py")
        if path.name != "bibliography.py"
    ]
    used = "\n".join(texts)
    keys = [source.key for source in ALL]
    around = ("[{}]", '"{}"', "'{}'")
    assert [key for key in keys if not any(each.format(key) in used for each in around)] == []


def test_every_outcome_of_a_flight_has_words() -> None:
    assert set(OUTCOMES) - INSIDE <= set(FIGURES)


def test_the_lock_file_names_only_versions() -> None:
    for line in (HOME / "requirements.lock").read_text().splitlines():
        assert re.fullmatch(r"[a-z0-9.-]+==[0-9a-z.]+( ; [a-z_]+ [<>=!]+ '[A-Za-z0-9._]+')?", line)
