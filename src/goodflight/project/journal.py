"""The journal of a save: which files it changes, written before the first of them is.

It says all that is needed to finish the save after the process was killed, or to take it back.
"""

import json
import os
import re
import time
from dataclasses import asdict, dataclass
from typing import Any, Final

from goodflight.project.disk import is_log, is_project_file
from goodflight.project.folder import (
    JOURNAL,
    SCRATCH,
    SLOT_NAME,
    VERSION_NAME,
    VERSIONS,
    Folder,
    refuse,
)

_HASH: Final = re.compile("[0-9a-f]{64}")
_SCHEMA: Final = re.compile(r"\.schema/[a-z]+\.json")


@dataclass(frozen=True)
class Entry:
    """One file of a save: content hashes of the old and the new text, None where there is none.

    `slot` holds the new text before the change and the old one after it; `kept` names the version
    that the old text becomes at the end.
    """

    file: str
    old: str | None
    new: str | None
    slot: str
    kept: str

    @property
    def version(self) -> str:
        """Where the old text goes."""
        return f"{VERSIONS}/{self.file}/{self.kept}"


@dataclass(frozen=True)
class Journal:
    """One save: its files, and the folders that it makes."""

    entries: tuple[Entry, ...]
    folders: tuple[str, ...] = ()

    @property
    def content(self) -> bytes:
        """The journal as it is written."""
        rows = [asdict(entry) for entry in self.entries]
        return json.dumps({"entries": rows, "folders": self.folders}).encode("utf-8")


def new_mark() -> str:
    """Return a name in the scratch folder that nobody has."""
    return f"{os.getpid()}-{time.monotonic_ns()}"


def may_write(file: str) -> bool:
    """Whether a save may write a file: what is read as part of a project, schemas, logs."""
    return is_project_file(file) or is_log(file) or bool(_SCHEMA.fullmatch(file))


def pending(folder: Folder) -> bool:
    """Whether a save was cut off here."""
    return bool(folder.kind(VERSIONS) == "a folder" and folder.kind(JOURNAL))


def read_journal(folder: Folder) -> Journal | None:
    """Read the journal; what this program did not write is refused, whole."""
    try:
        text = folder.read(JOURNAL)
    except FileNotFoundError:
        return None
    try:
        data = json.loads(text)
        entries = tuple(Entry(**row) for row in data["entries"])
        journal = Journal(entries, tuple(data["folders"]))
        sound = all(map(_sound, entries)) and _folders_sound(journal)
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
        sound = False
    if not sound:
        wanted = "the note of a save that was cut off"
        refuse(
            JOURNAL, "a text that goodflight did not write", wanted, "look at it, then delete it"
        )
    return journal


def _sound(entry: Entry) -> bool:
    def fits(pattern: re.Pattern[str], value: Any) -> bool:
        return isinstance(value, str) and bool(pattern.fullmatch(value))

    hashes = [value for value in (entry.old, entry.new) if value is not None]
    room, _, slot = entry.slot.rpartition("/")
    kept = fits(VERSION_NAME, entry.kept) if entry.old is not None else entry.kept == ""
    return (
        may_write(entry.file)
        and bool(hashes)
        and all(fits(_HASH, value) for value in hashes)
        and room == SCRATCH
        and fits(SLOT_NAME, slot)
        and kept
    )


def _folders_sound(journal: Journal) -> bool:
    files = [entry.file for entry in journal.entries]
    return len(set(files)) == len(files) and all(
        isinstance(place, str) and any(file.startswith(f"{place}/") for file in files)
        for place in journal.folders
    )
