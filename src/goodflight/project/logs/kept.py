"""The logs of a flight's folder, and what was told of their columns, kept in its notes."""

from collections.abc import Mapping
from pathlib import Path
from typing import Final

from goodflight.project.disk import FLIGHTS, NOTES, is_log
from goodflight.project.editing import table_blocks
from goodflight.project.faults import PlaceRefused
from goodflight.project.logs.cells import LARGEST, LogRefused
from goodflight.project.logs.read import NOTHING, LogRead, read_log
from goodflight.project.places import read_input
from goodflight.project.records import Project
from goodflight.project.saving import opened, write_files

MEND: Final = "correct the name, let your user read it, or cut a copy down to the flight"


def logs_of(
    project: Project,
    flight: str = "",
    file: Path | None = None,
    columns: Mapping[str, str] = NOTHING,
) -> tuple[LogRead, ...]:
    """Read the logs of a flight; none where none lies there.

    Parameters
        project : Project - as loaded from its folder. [-]
        flight : str - its folder in flights/; empty = only `file`. [-]
        file : Path or None - one log instead, anywhere. [-]
        columns : mapping - column by number or name -> what it is, "pressure Pa". [-]
    Returns
        logs : tuple of LogRead - in the order of the notes, else by name. [SI]
    Raises
        LogRefused - a file is no log of a flight, with the reason; or cannot be read.
    Validity
        As `read_log`.
    Source
        Practice.
    Example
        >>> goodflight.logs_of(goodflight.load("fieldfare"), "first")
        ()
    """
    known = remembered(project, flight)
    found = []
    for name, raw in _files(project, flight, file):
        try:
            found.append(read_log(raw, columns, known, name))
        except LogRefused as error:
            key = error.key or "log"
            raise LogRefused(f"{name}: {error.found}", error.expected, error.advice, key) from None
    return tuple(found)


def _files(project: Project, flight: str, file: Path | None) -> list[tuple[str, bytes]]:
    if file is not None:
        try:
            return [(file.name, read_input(file, LARGEST, MEND))]
        except PlaceRefused as error:
            told = error.fault
            found = f"{file}: {told.found[:1].upper()}{told.found[1:]}"
            raise LogRefused(found, told.expected, MEND, "log") from None
    if not flight or project.root is None:
        return []
    place = f"{FLIGHTS}/{flight}"
    with opened(project.root) as folder:
        there = [name for name in folder.names(place) if is_log(f"{place}/{name}")]
        notes = project.notes.get(flight)
        wanted = notes.log if notes is not None and notes.log else there
        missing = [name for name in wanted if name not in there]
        if missing:
            raise LogRefused(
                f"{place}/{missing[0]}, which is not there",
                "one of: " + (", ".join(there) or "no log lies there"),
                f"correct log in {place}/{NOTES}, or bring the file", "log",
            )  # fmt: skip
        return [(name, folder.read(f"{place}/{name}", LARGEST)) for name in wanted]


def remembered(project: Project, flight: str = "") -> dict[str, dict[str, str]]:
    """What was told of the columns, by the shape of the log; this flight's own notes stand last."""
    found: dict[str, dict[str, str]] = {}
    for name in sorted(project.notes, key=lambda each: (each == flight, each)):
        for each in project.notes[name].logger:
            pairs = (entry.partition("=") for entry in each.columns)
            found[each.shape] = {which.strip(): what.strip() for which, _, what in pairs}
    return found


def remember(project: Project, flight: str, shape: str, columns: Mapping[str, str]) -> Project:
    """Write what was told of a log's columns into the flight's notes; the project anew.

    Raises SaveRefused as `write_files`.
    """
    import tomlkit

    file = f"{FLIGHTS}/{flight}/{NOTES}"
    text = project.texts.get(file, "")
    notes = project.notes.get(flight)
    before = remembered(project, flight).get(shape, {})
    entries = [f"{which}={what}" for which, what in {**before, **columns}.items()]
    rows = text.splitlines(keepends=True)
    old = [] if notes is None else notes.logger
    blocks = zip(old, table_blocks(text, "logger"), strict=True)
    for start, end in reversed([block for each, block in blocks if each.shape == shape]):
        del rows[start:end]
    kept = "".join(rows).rstrip("\n")
    block = ["[[logger]]", f"shape = {tomlkit.item(shape).as_string()}",
             f"columns = {tomlkit.item(entries).as_string()}", ""]  # fmt: skip
    return write_files(project, {file: "\n".join([*([kept, ""] if kept else []), *block])})
