"""Faulty entries as fields of a form: what stands there now, and the files with them mended.

A fault whose entry can be found in a file that is TOML can be mended where it is told; a file
that cannot be taken apart, or a missing one, needs an editor.
"""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from goodflight.project.differences import as_text, plain
from goodflight.project.disk import digest, read_files
from goodflight.project.editing import entry_in, with_entry
from goodflight.project.faults import Fault, SaveRefused
from goodflight.project.reading import read_project
from goodflight.project.records import Project
from goodflight.project.saving import write_files


@dataclass(frozen=True)
class Field:
    """A faulty entry as a field: its path, and its text as it stands in the file."""

    path: str
    text: str


def field_of(texts: Mapping[str, str], fault: Fault) -> Field | None:
    """Return the field in which a fault can be mended; None when an editor is needed."""
    if not fault.key or fault.file not in texts or not fault.file.endswith(".toml"):
        return None
    path = f"{fault.file}:{fault.key}"
    try:
        value = entry_in(texts[fault.file], path)
    except (SaveRefused, tomllib.TOMLDecodeError, ValueError, RecursionError):
        return None
    if isinstance(value, dict) or (isinstance(value, list) and any(map(_is_table, value))):
        return None
    return Field(path, "" if value is None else as_text(value))


def _is_table(value: object) -> bool:
    return isinstance(value, dict)


def mended(texts: Mapping[str, str], changes: Mapping[str, str]) -> dict[str, str]:
    """Return the changed files, by path, with entries written anew; an empty one is taken out.

    Raises
    ------
    SaveRefused - a path that names no entry, or a text that cannot stand there.
    """
    found: dict[str, str] = {}
    for path, text in changes.items():
        file = path.partition(":")[0]
        if file not in texts:
            raise SaveRefused(f"{path[:80]}: no such file in this project")
        found[file] = with_entry(found.get(file, texts[file]), path, plain(text))
    return found


def mend(root: Path, changes: Mapping[str, str]) -> Project:
    """Write entries of a faulty project anew, once the whole of it is sound with them.

    Parameters
    ----------
    root : Path - the project's folder. [-]
    changes : mapping - new texts by path, `rocket.toml:part[fins].span`; empty: taken out. [-]

    Returns
    -------
    project : Project - read anew. [-]

    Raises
    ------
    ProjectErrors - faults are left or made; nothing is written.
    SaveRefused - a path that names no entry, or the files changed meanwhile.
    """
    texts, unread = read_files(root)
    try:
        changed = mended(texts, changes)
    except (tomllib.TOMLDecodeError, ValueError, RecursionError) as error:
        raise SaveRefused("the file can no longer be taken apart; mend it in an editor") from error
    sound = read_project({**texts, **changed}, root, unread)
    hashes = {file: digest(text) for file, text in texts.items()}
    return write_files(replace(sound, texts=texts, hashes=hashes), changed)
