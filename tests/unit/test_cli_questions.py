"""A command is declared once: every place it names exists, every field it answers is documented."""

import inspect
import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from goodflight import cli
from goodflight.cli import shell
from goodflight.cli.app import app
from goodflight.cli.commands import questions
from goodflight.cli.question import Question, named
from goodflight.outputs.json_fields import FIELDS
from goodflight.project import load, write_files
from goodflight.project.archive import archive
from goodflight.project.demo import write_demo
from goodflight.project.idea import begin

QUESTIONS = {each.name: each for each in questions()}
SEE = re.compile(r"see `([^`]+)`$")  # the section of docs/json.md that says what is in a field


@pytest.mark.parametrize("question", QUESTIONS.values(), ids=list(QUESTIONS))
def test_every_place_a_declaration_names_is_there(question: Question) -> None:
    for place in (question.function, question.text, question.record, *question.beside):
        assert not place or callable(named(place)), place
    taken = inspect.signature(named(question.function)).parameters
    if question.flights:
        assert taken["flights"].default == question.flights and "seed" in taken
    assert all(question.sections().values())


def test_no_two_commands_share_a_name_a_function_or_a_place() -> None:
    for part in ("name", "python", "function", "place"):
        held = [getattr(each, part) for each in QUESTIONS.values()]
        assert len(held) == len(set(held)), part


def test_a_section_of_the_json_page_says_the_same_to_every_command() -> None:
    """A record that two commands answer with has one section; no two share its heading."""
    sections: dict[str, dict[str, str]] = {}
    for each in QUESTIONS.values():
        for name, fields in each.sections().items():
            assert sections.setdefault(name, fields) == fields, (each.name, name)
    assert set(FIELDS) <= set(sections)


@pytest.fixture(scope="module")
def changed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo with one file changed, and a hand-made order that cannot be built."""
    folder: Path = tmp_path_factory.mktemp("asked") / "fieldfare"
    write_demo(folder)
    project = load(folder)
    write_files(project, {"plans.toml": project.texts["plans.toml"] + "# wind rises\n"})
    (folder.parent / "mine.txt").write_text("no such step\n", encoding="utf-8")
    (folder.parent / "fieldfare.zip").write_bytes(archive(folder))
    return folder


def asked(words: list[str], capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    capsys.readouterr()
    assert shell.run([*words, "--json"]) in (cli.DONE, cli.CHECKED["fails"])
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


def walked(
    record: dict[str, Any], name: str, sections: dict[str, dict[str, str]]
) -> Iterator[tuple[str, set[str]]]:
    """Every record inside a record, by the section that its field names: the keys it has."""
    yield name, set(record)
    for field, meaning in sections[name].items():
        told, value = SEE.search(meaning), record.get(field)
        if told is None or told[1] not in sections or not value:
            continue
        if isinstance(value, dict):  # a record, or records by name
            value = list(value.values()) if all(map(is_record, value.values())) else [value]
        for each in filter(is_record, value):
            yield from walked(each, told[1], sections)


def is_record(value: Any) -> bool:
    return isinstance(value, dict)


FLOWN = ["--flights", "60"]
ASKED = [
    ("ledger", FLOWN, "ledger", "row"),
    ("delay", FLOWN, "delay", "delay row"),
    ("motors", FLOWN, "motors", "motor row"),
    ("separation", FLOWN, "separation", "pull"),
    ("draw", [], "draw", "piece"),
    ("order", [], "order", "chain step"),
    ("order", ["--check", "mine.txt"], "order --check", "order fault"),
    ("print", [], "print: templates, packing, flat guides", "template"),
    ("print", ["--what", "packing"], "print: templates, packing, flat guides", "template"),
    ("print", ["--what", "guides", "--format", "stl"], "print: printed guide", ""),
    ("print", ["--what", "cutlist", "--format", "dxf"], "print: cutlist", "cut sheet"),
    ("print", ["--what", "book"], "print: book", ""),
    ("versions", [], "versions", "version"),
    ("rows", [], "rows", "row reference"),
    ("spreads", [], "spreads", "spread reference"),
    ("weigh", FLOWN, "weigh", ""),
    ("stamp", [], "stamp", ""),
    ("print", ["--what", "labels"], "print: templates, packing, flat guides", "template"),
    ("ballast", [*FLOWN, "--margin", "2.4"], "ballast", ""),
    ("day", ["--flights", "20"], "day", ""),
    ("card", ["--flights", "20", "--wind", "4 m/s"], "card", ""),
    ("find", ["--flights", "200", "--seen", "landing=90 s"], "find", ""),
    ("debrief", ["--peak", "600 m"], "debrief", ""),
    ("beside", [*FLOWN, "--with", "midday"], "beside", ""),
    ("calendar", [], "calendar", ""),
    ("todo", [], "todo", ""),
    ("print", ["--what", "evidence"], "print: evidence", ""),
    ("print", ["--what", "tests"], "print: tests", ""),
    ("print", ["--what", "debrief"], "print: debrief", ""),
    ("print", ["--what", "cards"], "print: cards, lists, carry", ""),
    ("size", ["an-idea", "--flights", "40", "--tries", "5"], "size", ""),
    ("demo", ["fieldfare"], "demo", "ledger"),
    ("demo", ["another"], "demo", "row"),
    ("new", ["begun", "--defaults"], "new", "assumption"),
    ("new", ["nowhere", "--list"], "new --list", "form choice"),
    ("open", ["fieldfare.zip", "opened"], "open", ""),
    ("restore", ["plans.toml", "1"], "restore", ""),
    ("send", FLOWN, "send", ""),
    ("send", ["--project", "-o", "whole.zip"], "send", ""),
]


@pytest.mark.parametrize(("name", "words", "section", "part"), ASKED, ids=str)
def test_every_field_is_documented_and_none_is_missing(
    changed: Path,
    name: str,
    words: list[str],
    section: str,
    part: str,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(changed.parent)
    if name == "size" and not Path("an-idea").exists():
        begin(Path("an-idea"))
    where = ["fieldfare"] if QUESTIONS[name].project else []
    record, fields = asked([name, *where, *words], capsys), QUESTIONS[name].sections()
    if name == "print":
        fields[section] = fields["print"] | fields[section]
    found = list(walked(record, section, fields))
    for each, keys in found:
        assert keys == set(fields[each]), each
    assert not part or part in {each for each, _ in found}


def test_every_command_that_answers_in_json_is_asked_here() -> None:
    speaks = {name for name, each in QUESTIONS.items() if each.sections()}
    # fly: test_outputs_data; serve, which does not end by itself: test_cli_folder
    assert speaks == {name for name, *_ in ASKED} | {"fly", "serve"}


def test_every_command_answers_in_json() -> None:
    silent = [
        name
        for name, command in app.commands.items()
        if "as_json" not in [each.name for each in command.params]
    ]
    assert silent == [], "say what it did: a dataclass of `outputs.done`"
    assert [name for name, each in QUESTIONS.items() if not each.sections()] == []
