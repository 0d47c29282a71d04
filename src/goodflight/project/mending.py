"""Faulty entries as fields of a form: what stands there now, and the files with them mended.

A fault whose entry can be found in a file that is TOML can be mended where it is told; a file
that cannot be taken apart, or a missing one, needs an editor.
"""

import contextlib
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

from goodflight.project.budgets import long_text
from goodflight.project.differences import as_text, plain
from goodflight.project.disk import digest, read_files
from goodflight.project.editing import value_at, with_entry
from goodflight.project.faults import Fault, SaveRefused
from goodflight.project.reading import read_project
from goodflight.project.records import Project
from goodflight.project.saving import write_files


def fields_of(texts: Mapping[str, str], faults: Iterable[Fault]) -> dict[str, str]:
    """Return the fields in which faults can be mended: texts as they stand, by path.

    A fault without one needs an editor.
    """
    read = cache(lambda file: _data(file, texts[file]))
    found: dict[str, str] = {}
    for fault in faults:
        if not fault.key or fault.file not in texts or not fault.file.endswith(".toml"):
            continue
        path, data = f"{fault.file}:{fault.key}", read(fault.file)
        with contextlib.suppress(SaveRefused):
            value = None if data is None else value_at(data, path)
            rows = isinstance(value, list) and any(isinstance(each, dict) for each in value)
            if data is not None and not rows and not isinstance(value, dict):
                found[path] = "" if value is None else as_text(value)
    return found


def _data(file: str, text: str) -> dict[str, Any] | None:
    """A file taken apart; None when it is too long to be, or no TOML."""
    if long_text(file, text):
        return None
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError):
        return None


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
