"""Parts as forms: which entries a kind has, what is written now, and a changed part written back.

An entry left empty is taken out of the file; comments and the order of the file stay.
"""

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from goodflight.project import not_computed
from goodflight.project.differences import as_text, plain
from goodflight.project.editing import (
    add_part,
    changed_texts,
    part_number,
    table_blocks,
    with_part,
)
from goodflight.project.faults import Fault, ProjectErrors, SaveRefused
from goodflight.project.materials import library
from goodflight.project.part_apart import HeavierThanWholeError, shared
from goodflight.project.parts import PART_TABLES
from goodflight.project.records import Project
from goodflight.project.saving import write_files
from goodflight.project.sheets import annotation_at, describe, literals
from goodflight.project.todo import Item, with_todos
from goodflight.project.weighing_entry import with_designs

FILE = "rocket.toml"
WEIGHINGS = "weighings.toml"
_LAST = ("material", "mass", "balance", "note")  # shown after what is special to a kind
_VALUES = ("a whole number", "a list", "a number", "true or false")


@dataclass(frozen=True)
class Entry:
    """One entry of a part: its key, what it looks like, its choices, whether it must be there."""

    key: str
    wanted: str
    choices: tuple[str, ...]
    needed: bool


def entries_of(kind: str) -> tuple[Entry, ...]:
    """Return the entries of a part kind, its own first.

    Raises
    ------
    KeyError - no such kind.
    """
    model = PART_TABLES[kind]
    keys = [key for key in model.model_fields if key not in ("kind", *_LAST)]
    found = []
    for key in (*keys, *_LAST):
        annotation = annotation_at(model, (key,))
        choices = tuple(literals(annotation))
        if key == "material":
            choices = tuple(library())
        found.append(
            Entry(
                key,
                written_as(describe(annotation)),
                choices,
                model.model_fields[key].is_required(),
            )
        )
    return tuple(found)


def written_as(words: str) -> str:
    """Say what an entry is written as on a form, where no quotes are typed."""
    return "a text" if words == "a text in quotes" else words


def written(project: Project, name: str) -> dict[str, str]:
    """Return a part's entries as they stand in the file, `kind` included."""
    row = tomllib.loads(project.texts[FILE])["part"][part_number(project, name)]
    return {key: as_text(value) for key, value in row.items()}


def change_part(project: Project, name: str, entries: Mapping[str, str]) -> Project:
    """Write a part's entries anew; an empty one is taken out. Nothing else in the file moves.

    Where one entry holds the mass of the whole, a mass that the part has by itself now comes out
    of that entry; one that is taken out or set to 0 goes back to it.

    Raises
    ------
    SaveRefused - no such part, or the file changed on disk.
    ProjectErrors - the part would not be valid, or is heavier than the whole; nothing is written.
    """
    import tomlkit

    document = tomlkit.parse(project.texts[FILE])
    rows: Any = document["part"]
    number = part_number(project, name)
    kind = str(rows[number]["kind"])
    allowed = {entry.key: entry for entry in entries_of(kind)}
    write_entries(rows[number], allowed, entries, f"a {kind}")
    try:
        text = shared(project, tomlkit.dumps(document), number)
    except HeavierThanWholeError as error:
        key = f"part[{name}].mass"
        fault = Fault(
            file=FILE,
            line=project.line(f"{FILE}:{key}") or 0,
            key=key,
            found=error.words,
            expected="a part lighter than the whole, which holds it",
            advice="weigh both again",
        )
        raise ProjectErrors([fault]) from None
    return write_files(project, {FILE: text})


def write_entries(
    table: Any, allowed: Mapping[str, Entry], entries: Mapping[str, str], owner: str
) -> None:
    """Put texts into a table of a parsed file; an empty one is taken out.

    Raises
    ------
    SaveRefused - `owner` has no such entry.
    """
    for key, text in entries.items():
        if key not in allowed:
            raise SaveRefused(f"{owner} has no entry {key!r}; it has: {', '.join(allowed)}")
        inner, words = key.split(".")[-1], plain(text)
        if not words:
            table.pop(inner, None)
            continue
        old = table.unwrap().get(inner)
        new = _value(allowed[key], words, old is not None and not isinstance(old, str))
        if (plain(old) if isinstance(old, str) else old) != new:
            table[inner] = new


def _value(entry: Entry, text: str, number: bool = False) -> Any:
    """Return the TOML value of a text, by what the entry holds, or by what it replaces."""
    if number or entry.wanted in _VALUES or text[:1] in "[{":
        try:
            return tomllib.loads(f"x = {text}")["x"]
        except (ValueError, RecursionError):  # also a number without end, or brackets
            return text
    return text


def new_part(project: Project, kind: str, entries: Mapping[str, str], after: str | None) -> Project:
    """Add a part of a kind behind another one; empty entries are left out.

    Raises
    ------
    SaveRefused - no such kind or entry, or the file changed on disk.
    ProjectErrors - the rocket would not be valid; nothing is written.
    """
    import tomlkit

    if kind not in PART_TABLES:
        if kind in not_computed.KINDS:
            raise SaveRefused(f"{kind}: {not_computed.KINDS[kind]}")
        raise SaveRefused(f"no part kind {kind!r}; there are: {', '.join(PART_TABLES)}")
    lines = [f'kind = "{kind}"']
    for entry in entries_of(kind):
        text = plain(entries.get(entry.key, ""))
        if text:
            lines.append(f"{entry.key} = {tomlkit.item(_value(entry, text)).as_string()}")
    return add_part(project, "\n".join(lines), after)


def move_part(project: Project, name: str, by: int) -> Project:
    """Move a part up (-1) or down (+1) in the file; body parts follow each other in that order.

    Raises
    ------
    SaveRefused - there is no place further up or down, or the file changed on disk.
    ProjectErrors - the rocket would not be valid that way; nothing is written.
    """
    text = project.texts[FILE]
    blocks = table_blocks(text, "part")
    number = part_number(project, name)
    other = number + (1 if by > 0 else -1)
    if not 0 <= other < len(blocks):
        raise SaveRefused(f"{name} is the {'first' if by < 0 else 'last'} part already")
    rows = text.splitlines(keepends=True)
    if rows and not rows[-1].endswith("\n"):
        rows[-1] += "\n"
    (a, b), (c, d) = sorted((blocks[number], blocks[other]))
    first, between, second = rows[a:b], rows[b:c], rows[c:d]
    gap = ["\n"] if second and second[-1].strip() else []
    rows[a:d] = [*second, *gap, *between, *first]
    return write_files(project, {FILE: "".join(rows)})


def keep(
    project: Project, writes: Iterable[tuple[str, str]], to_do: Iterable[Item] = ()
) -> Project:
    """Write what a remedy or a what-if would change: entries, and parts given as inline tables.

    All of it is written together, or nothing; `to_do` goes on the list of what was kept.

    Raises
    ------
    SaveRefused - no such entry, or a file changed on disk.
    ProjectErrors - the project would not be valid; nothing is written.
    """
    return write_files(project, with_todos(kept_texts(project, writes), project, to_do))


def kept_texts(project: Project, writes: Iterable[tuple[str, str]]) -> dict[str, str]:
    """Return the files as they would read once a what-if is kept; nothing is written.

    Raises
    ------
    SaveRefused - no such entry, or a text that cannot stand there.
    """
    import tomlkit

    entries, texts = [], dict(project.texts)
    for path, text in writes:
        if path != f"{FILE}:part":
            entries.append((path, text))
            continue
        table = tomllib.loads(f"x = {{{text}}}")["x"]
        table["name"] = _free_name(project, str(table["name"]))
        rows = "\n".join(f"{k} = {tomlkit.item(v).as_string()}" for k, v in table.items())
        texts[FILE] = with_part(texts[FILE], rows, None)
    return with_weighed({**texts, **changed_texts(replace(project, texts=texts), entries)}, project)


def with_weighed(texts: dict[str, str], project: Project) -> dict[str, str]:
    """The texts, where what was weighed and measured before the change is kept as such."""
    texts = with_designs(texts, project)
    before, now = project.texts[FILE], texts.get(FILE, project.texts[FILE])
    known = project.weighings
    if not known.weighing or known.rocket or "'''" in before:
        return texts
    if tomllib.loads(now).get("part") == tomllib.loads(before).get("part"):
        return texts
    words = (
        "# The rocket was changed after it was weighed; rocket.toml as it was then. Weigh again.\n"
    )
    kept = f"{words}rocket = '''\n{before}'''\n\n"
    return {**texts, WEIGHINGS: kept + texts.get(WEIGHINGS, project.texts[WEIGHINGS])}


def _free_name(project: Project, name: str) -> str:
    names = {part.name for part in project.parts}
    found, number = name, 2
    while found in names:
        found, number = f"{name} {number}", number + 1
    return found


def fault_key(fault: Fault, name: str) -> str | None:
    """Return the entry of a part that a fault speaks of, None when it speaks of something else."""
    head = f"part[{name}]."
    if fault.file != FILE or not fault.key.startswith(head):
        return None
    return fault.key[len(head) :].split("[")[0].split(".")[0]
