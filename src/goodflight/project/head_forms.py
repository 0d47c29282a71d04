"""What rocket.toml says beside its parts, as a form: where it separates, what holds, its charges.

Entries of a table are named `separation.pull`. An entry left empty is taken out of the file.
"""

import tomllib
from collections.abc import Mapping
from typing import Final

from goodflight.project.differences import as_text, plain
from goodflight.project.editing import with_entry
from goodflight.project.faults import Fault, SaveRefused
from goodflight.project.fields import Table
from goodflight.project.newcomer_known import KNOWN
from goodflight.project.part_forms import FILE, Entry, with_weighed, written_as
from goodflight.project.records import Project
from goodflight.project.rocket_file import RocketHead
from goodflight.project.saving import write_files
from goodflight.project.sheets import annotation_at, describe, literals

TABLES: Final = {
    "": "the rocket",
    "separation": "where it separates at ejection",
    "charge": "powder of your own, and what shields the canopy",
    "retention": "what keeps the motor in",
    "main_separation": "where it separates for a second canopy",
    "main_charge": "powder of the second canopy",
    "hatch": "the worst hatch",
    "surface": "surface",
}
PLAIN: Final = (
    "about",
    "units",
    "lengths",
    "separates_at",
)  # of no table; a name is changed in the file


def head_entries() -> dict[str, tuple[Entry, ...]]:
    """Return the entries by the words of their table."""
    found = {}
    for table, words in TABLES.items():
        keys = [f"{table}.{key}" for key in _model(table).model_fields] if table else PLAIN
        found[words] = tuple(map(_entry, keys))
    return found


def head_label(key: str) -> str:
    """Return what an entry is called: as the first form asks for it, else its key in words."""
    asked = {home: each.prompt for each in KNOWN if len(each.homes) == 1 for home in each.homes}
    return asked.get(f"{FILE}:{key}", key.rpartition(".")[2].replace("_", " "))


def _model(table: str) -> type[Table]:
    model = RocketHead.model_fields[table].annotation if table else RocketHead
    assert isinstance(model, type) and issubclass(model, Table)
    return model


def _entry(key: str) -> Entry:
    table, _, inner = key.rpartition(".")
    annotation = annotation_at(_model(table), (inner,))
    return Entry(key, written_as(describe(annotation)), tuple(literals(annotation)), False)


def head_written(project: Project) -> dict[str, str]:
    """Return these entries as they stand in the file."""
    data, found = tomllib.loads(project.texts[FILE]), {}
    for entries in head_entries().values():
        for each in entries:
            table, _, inner = each.key.rpartition(".")
            here = data.get(table, {}) if table else data
            if inner in here:
                found[each.key] = as_text(here[inner])
    return found


def change_head(project: Project, typed: Mapping[str, str]) -> Project:
    """Write what differs from the file; an empty entry is taken out. Nothing else moves.

    Raises
    ------
    SaveRefused - no such entry, or the file changed on disk.
    ProjectErrors - the rocket would not be valid; nothing is written.
    """
    known = {each.key for entries in head_entries().values() for each in entries}
    old, text = head_written(project), project.texts[FILE]
    for key, entry in typed.items():
        if key not in known:
            raise SaveRefused(f"rocket.toml has no entry {key!r} on this form")
        if plain(entry) != old.get(key, ""):
            text = with_entry(text, f"{FILE}:{key}", plain(entry))
    return write_files(project, with_weighed({FILE: text}, project))


def head_fault_key(fault: Fault) -> str | None:
    """Return the entry of this form that a fault speaks of, None when it speaks of another."""
    known = {each.key for entries in head_entries().values() for each in entries}
    return fault.key if fault.file == FILE and fault.key in known else None
