"""The first form asks what the keys of the files declare: which kind of answer, written where."""

from typing import Annotated, Literal

import pytest

from goodflight.project import newcomer_asked
from goodflight.project.fields import Force, Key, Table
from goodflight.project.first_asked import First
from goodflight.project.newcomer import project_files
from goodflight.project.newcomer_assumed import ASSUMED
from goodflight.project.newcomer_known import KNOWN
from goodflight.project.reading import read_project

BOTH = First(20, "Pull of either", "weights", key="either")


class Made(Table):
    """A table that no file has."""

    kind: Annotated[
        Literal["of_wire", "tape"] | None, Key("of what", first=First(30, "Of what", "look"))
    ] = None
    fore: Annotated[Force | None, Key("ahead", first=BOTH)] = None
    aft: Annotated[Force | None, Key("behind", first=BOTH)] = None
    holds: Annotated[
        Force | None,
        Key("pull", first=First(10, "Pull", "or: none", instead=("none", "kind", "tape"))),
    ] = None
    turns: Annotated[int, Key("turns", first=First(10, "Turns", "count", default="2"))] = 2
    silent: Annotated[Force | None, Key("not asked")] = None


class Twice(Table):
    """Another one that asks in the same place."""

    other: Annotated[Force | None, Key("pull", first=First(30, "Other", "pull"))] = None


def asks(monkeypatch: pytest.MonkeyPatch, *tables: type[Table]) -> None:
    monkeypatch.setattr(newcomer_asked, "_tables", lambda: [(each, "f:t.") for each in tables])


def test_a_key_that_declares_it_is_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    asks(monkeypatch, Made)
    holds, either, kind = newcomer_asked.in_form({}, assumed=False)
    assert (holds.id, holds.dimension, holds.homes) == ("holds", "force", ("f:t.holds",))
    assert holds.instead == ("none", "f:t.kind", "tape")
    assert (either.id, either.homes) == ("either", ("f:t.fore", "f:t.aft"))
    assert (kind.dimension, kind.choices) == ("choice", (("of_wire", "of wire"), ("tape", "tape")))
    (turns,) = newcomer_asked.in_form({}, assumed=True)
    assert (turns.id, turns.dimension, turns.default) == ("turns", "count", "2")


def test_two_questions_in_one_place_are_a_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    asks(monkeypatch, Made, Twice)
    with pytest.raises(ValueError, match="kind and other have one place"):
        newcomer_asked.declared()
    asks(monkeypatch, Made)
    (turns,) = newcomer_asked.in_form({}, assumed=True)
    with pytest.raises(ValueError, match=r"places \[30\]"):
        newcomer_asked.in_form({30: turns}, assumed=False)


def test_its_parts_are_those_of_the_first_project() -> None:
    parts = read_project(project_files({})).parts
    base = f"{newcomer_asked.ROCKET}part["
    asked = {
        home.removesuffix("].").removeprefix(base): table
        for table, home in newcomer_asked._tables()
        if home.startswith(base)
    }
    assert asked == {part.name: type(part) for part in parts}


def test_every_question_has_a_name_of_its_own() -> None:
    names = [each.id for each in (*KNOWN, *ASSUMED)]
    assert len(set(names)) == len(names) > 40
