"""Own limits and the hours of a forecast as forms: what may be entered, and day.toml written anew.

An entry left empty is taken out of the file; comments and the order of the file stay.
"""

import re
import tomllib
from collections.abc import Mapping
from typing import Any, Final

from goodflight.project.day_file import FILE, HourTable, OwnLimitsTable
from goodflight.project.differences import as_text
from goodflight.project.editing import table_blocks
from goodflight.project.faults import Fault, SaveRefused
from goodflight.project.fields import Table, key_words, keys_of
from goodflight.project.part_forms import Entry, write_entries
from goodflight.project.plan_forms import entry_of
from goodflight.project.records import Project
from goodflight.project.saving import write_files

HEAD: Final = "#:schema ./.schema/day.json\n"
_KEY: Final = re.compile(r"(?:limits|hour\[[^\]]*\])\.(\w+)")


def limit_entries() -> tuple[Entry, ...]:
    """What own limits hold, in the order of their table."""
    return tuple(entry_of(OwnLimitsTable, key) for key in keys_of(OwnLimitsTable))


def hour_entries() -> tuple[Entry, ...]:
    """What an hour of a forecast holds: its time first, then what it must have."""
    found = [entry_of(HourTable, key) for key in keys_of(HourTable)]
    return tuple(sorted(found, key=lambda each: (each.key != "time", not each.needed)))


def limit_label(key: str) -> str:
    """What an own limit is called on its form."""
    return _label(OwnLimitsTable, key)


def hour_label(key: str) -> str:
    """What an entry of an hour is called on its form."""
    return _label(HourTable, key)


def _label(table: type[Table], key: str) -> str:
    words = key_words(table, key)
    return (words and (words.label or words.meaning)) or key.replace("_", " ")


def limits_written(project: Project) -> dict[str, str]:
    """Own limits as they stand in the file, by key; empty where there are none."""
    return {key: as_text(value) for key, value in _read(project).get("limits", {}).items()}


def hours_written(project: Project) -> tuple[dict[str, str], ...]:
    """The hours of the forecast as they stand in the file."""
    hours = _read(project).get("hour", [])
    return tuple({key: as_text(value) for key, value in hour.items()} for hour in hours)


def _read(project: Project) -> dict[str, Any]:
    return tomllib.loads(project.texts.get(FILE, ""))


def change_limits(project: Project, entries: Mapping[str, str]) -> Project:
    """Write own limits anew; where none is left, there are none.

    Raises
    ------
    SaveRefused - no such entry, or the file changed on disk.
    ProjectErrors - the project would not be valid; nothing is written.
    """
    text = _text(project)
    if "limits" not in _read(project):
        text = _with_head(text, "[limits]", len(text.splitlines()))
    document = _parsed(text)
    limits = document["limits"]
    write_entries(limits, {each.key: each for each in limit_entries()}, entries, "own limits")
    if not limits:
        del document["limits"]
    return write_files(project, {FILE: document.as_string()})


def change_hour(project: Project, number: int, entries: Mapping[str, str]) -> Project:
    """Write an hour of the forecast anew, by its place from 0; behind the last one a new hour.

    Raises
    ------
    SaveRefused - no such hour or entry, or the file changed on disk.
    ProjectErrors - the project would not be valid; nothing is written.
    """
    text, there = _text(project), len(hours_written(project))
    if number == there:
        blocks = table_blocks(text, "hour")
        text = _with_head(text, "[[hour]]", blocks[-1][1] if blocks else len(text.splitlines()))
    else:
        _check_hour(number, there)
    document = _parsed(text)
    allowed = {each.key: each for each in hour_entries()}
    write_entries(document["hour"][number], allowed, entries, "an hour")
    return write_files(project, {FILE: document.as_string()})


def remove_hour(project: Project, number: int) -> Project:
    """Take an hour out of the forecast, by its place from 0.

    Raises
    ------
    SaveRefused - no such hour, or the file changed on disk.
    """
    _check_hour(number, len(hours_written(project)))
    document = _parsed(_text(project))
    del document["hour"][number]
    return write_files(project, {FILE: document.as_string().rstrip() + "\n"})


def _check_hour(number: int, there: int) -> None:
    if not 0 <= number < there:
        raise SaveRefused(f"the forecast has {there} hours; look at it again")


def _text(project: Project) -> str:
    return project.texts.get(FILE, HEAD)


def _parsed(text: str) -> Any:
    import tomlkit

    return tomlkit.parse(text)


def _with_head(text: str, head: str, line: int) -> str:
    """A text with the head of a new table behind a line, an empty one around it."""
    rows = text.splitlines()
    before, after = "\n".join(rows[:line]).rstrip(), "\n".join(rows[line:]).strip("\n")
    return f"{before}\n\n{head}\n" + (f"\n{after}\n" if after else "")


def day_fault_key(fault: Fault) -> str | None:
    """Return the entry that a fault of the file speaks of, None where it speaks of another."""
    found = _KEY.match(fault.key) if fault.file == FILE else None
    return found[1] if found else None
