"""The logs of a flight's folder, brought in and read; what was told of their columns is kept."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Final

from goodflight.project.disk import FLIGHTS, LOGS, NOTES, is_log
from goodflight.project.editing import table_blocks
from goodflight.project.faults import PlaceRefused, SaveRefused
from goodflight.project.flight_notes import BEGINNING, notes_file
from goodflight.project.folder import LARGEST_LOG
from goodflight.project.logs.cells import LogRefused
from goodflight.project.logs.read import NOTHING, LogRead, read_log
from goodflight.project.places import read_input
from goodflight.project.records import Project
from goodflight.project.saving import opened, write_files

ODD: Final = re.compile(r'[<>:"|?*\x00-\x1f\x7f]+')  # in the name of a file, on any system
LONGEST_NAME: Final = 80
MEND: Final = "correct the name, let your user read it, or cut a copy down to the flight"


def logs_of(
    project: Project,
    flight: str = "",
    file: Path | None = None,
    columns: Mapping[str, str] = NOTHING,
    recording: int | None = None,
) -> tuple[LogRead, ...]:
    """Read the logs of a flight; none where none lies there.

    Parameters
        project : Project - as loaded from its folder. [-]
        flight : str - its folder in flights/; empty = only `file`. [-]
        file : Path or None - one log instead, anywhere. [-]
        columns : mapping - column by number or name -> what it is, "pressure Pa". [-]
        recording : int or None - which flight of a file that holds several, the first log's; None =
            as noted. [-]
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
    known, found = remembered(project, flight), list[LogRead]()
    for name, raw in _files(project, flight, file):
        number = recording if recording and not found else recording_of(project, flight, name)
        try:
            found.append(read_log(raw, columns, known, name, number))
        except LogRefused as error:
            key = error.key or "log"
            raise LogRefused(f"{name}: {error.found}", error.expected, error.advice, key) from None
    return tuple(found)


def logs_of_predicted(
    project: Project, read: Mapping[str, LogRead] = MappingProxyType({})
) -> dict[str, LogRead]:
    """The first log of every flight with a kept prediction, by flight; what is no log is left out.

    So that predictions are judged by what the loggers saw, not by the notes alone. read : logs of
    the folder that were read already.
    """
    found = {}
    for flight in project.predictions:
        if flight in read:
            found[flight] = read[flight]
            continue
        try:
            logs = logs_of(project, flight)
        except LogRefused:  # told when that flight itself is looked at
            continue
        if logs:
            found[flight] = logs[0]
    return found


def _files(project: Project, flight: str, file: Path | None) -> list[tuple[str, bytes]]:
    if file is not None:
        try:
            return [(file.name, read_input(file, LARGEST_LOG, MEND))]
        except PlaceRefused as error:
            told = error.fault
            found = f"{file}: {told.found[:1].upper()}{told.found[1:]}"
            raise LogRefused(found, told.expected, MEND, "log") from None
    if not flight or project.root is None:
        return []
    place = f"{FLIGHTS}/{flight}"
    with opened(project.root) as folder:
        there = [name for name in folder.names(place) if is_log(f"{place}/{name}")]
        wanted = _wanted(project, flight, there)
        missing = [name for name in wanted if name not in there]
        if missing:
            raise LogRefused(
                f"{place}/{missing[0]}, which is not there",
                "one of: " + (", ".join(there) or "no log lies there"),
                f"correct log in {place}/{NOTES}, or bring the file",
                "log",
            )
        return [(name, folder.read(f"{place}/{name}", LARGEST_LOG)) for name in wanted]


def remembered(project: Project, flight: str = "") -> dict[str, dict[str, str]]:
    """What was told of the columns, by the shape of the log; this flight's own notes stand last."""
    found: dict[str, dict[str, str]] = {}
    for name in sorted(project.notes, key=lambda each: (each == flight, each)):
        for each in project.notes[name].logger:
            pairs = (entry.partition("=") for entry in each.columns)
            found[each.shape] = {which.strip(): what.strip() for which, _, what in pairs}
    return found


def recording_of(project: Project, flight: str, name: str) -> int | None:
    """Which flight of a log was noted as this one; None = none was."""
    notes = project.notes.get(flight)
    rows = [] if notes is None else notes.recording
    return next((each.number for each in rows if each.log == name), None)


def remember(
    project: Project,
    flight: str,
    log: LogRead,
    columns: Mapping[str, str],
    recording: int | None = None,
) -> Project:
    """Write what was told of a log into the flight's notes; the project anew.

    Raises SaveRefused as `write_files`.
    """
    file = notes_file(flight)
    text = project.texts.get(file, "")
    if columns:
        text = _told(project, flight, text, log.shape, columns)
    if recording is not None:
        text = _chosen(text, log.file, recording)
    return write_files(project, {file: text})


def _chosen(text: str, name: str, recording: int) -> str:
    """The text of the notes with which flight of a log it is."""
    import tomlkit

    document = tomlkit.parse(text)
    old = [row for row in document.get("recording", []) if row["log"] != name]
    rows = tomlkit.aot()
    for row in (*old, {"log": name, "number": recording}):
        rows.append(tomlkit.item(dict(row)))
    document.pop("recording", None)
    document["recording"] = rows
    return tomlkit.dumps(document)


def _told(project: Project, flight: str, text: str, shape: str, columns: Mapping[str, str]) -> str:
    """The text of the notes with what was told of a log's columns."""
    import tomlkit

    notes = project.notes.get(flight)
    before = remembered(project, flight).get(shape, {})
    entries = [f"{which}={what}" for which, what in {**before, **columns}.items()]
    rows = text.splitlines(keepends=True)
    old = [] if notes is None else notes.logger
    blocks = zip(old, table_blocks(text, "logger"), strict=True)
    for start, end in reversed([block for each, block in blocks if each.shape == shape]):
        del rows[start:end]
    kept = "".join(rows).rstrip("\n")
    block = [
        "[[logger]]",
        f"shape = {tomlkit.item(shape).as_string()}",
        f"columns = {tomlkit.item(entries).as_string()}",
        "",
    ]
    return "\n".join([*([kept, ""] if kept else []), *block])


def _wanted(project: Project, flight: str, there: list[str]) -> list[str]:
    """The logs that count: those of the notes, else all that lie there."""
    notes = project.notes.get(flight)
    return there if notes is None or notes.log is None else notes.log


def lying(project: Project) -> dict[str, tuple[str, ...]]:
    """The logs that lie in the folder of each flight, with size and time, by flight."""
    if project.root is None:
        return {}
    found = {}
    with opened(project.root) as folder:
        for flight in folder.names(FLIGHTS):
            place = f"{FLIGHTS}/{flight}"
            if flight.startswith(".") or folder.kind(place) != "a folder":
                continue
            names = [name for name in folder.names(place) if is_log(f"{place}/{name}")]
            seen = [(name, folder.stat(f"{place}/{name}")) for name in names]
            found[flight] = tuple(f"{n} {s.st_size} {s.st_mtime_ns}" for n, s in seen if s)
    return {flight: names for flight, names in found.items() if names}


def log_in(project: Project, flight: str, name: str) -> bytes:
    """A log of a flight as it lies in its folder.

    Raises SaveRefused or FileNotFoundError where there is none.
    """
    place = f"{FLIGHTS}/{flight}/{name}"
    if project.root is None or not is_log(place):
        raise SaveRefused(f'"{name}"', "a log of this flight", "choose one that is listed")
    with opened(project.root) as folder:
        return folder.read(place, LARGEST_LOG)


@dataclass(frozen=True)
class NewLog:
    """A log as it came, and what was told of it.

    shape : of its head, as it was read. columns : by number -> what it is, where that was told.
    recording : which flight of a file that holds several.
    """

    name: str
    raw: bytes
    shape: str
    columns: Mapping[str, str]
    recording: int | None = None


def keep_log(project: Project, flight: str, log: NewLog, plan: str | None = None) -> Project:
    """Put a log into the folder of its flight, byte for byte, and name it in the notes.

    Parameters
    ----------
    project : Project - as loaded from its folder. [-]
    flight : str - its folder in flights/; made when it is not there. [-]
    log : NewLog - to its name a number is added where another log bears it. [-]
    plan : str or None - noted as flown, where the flight has no notes yet. [-]

    Raises
    ------
    SaveRefused - the name cannot be one of a folder, or nothing can be written there.
    """
    import tomlkit

    file = notes_file(flight)
    if project.root is None:
        raise SaveRefused("this project was not read from a folder; load it from one to save it")
    place = f"{FLIGHTS}/{flight}"
    with opened(project.root) as folder:
        there = [each for each in folder.names(place) if is_log(f"{place}/{each}")]
        same = [each for each in there if folder.read(f"{place}/{each}", LARGEST_LOG) == log.raw]
    name = same[0] if same else _free(log.name, there)
    logs = [*(each for each in _wanted(project, flight, there) if each != name), name]
    document = tomlkit.parse(project.texts.get(file, BEGINNING))
    if plan and file not in project.texts:
        document["plan"] = plan
    document["log"] = logs
    text = tomlkit.dumps(document)
    if log.columns:
        text = _told(project, flight, text, log.shape, log.columns)
    if log.recording is not None:
        text = _chosen(text, name, log.recording)
    return write_files(project, {file: text}, {} if same else {f"{place}/{name}": log.raw})


def leave_out(project: Project, flight: str, name: str) -> Project:
    """Take a log out of the notes of its flight; the file stays where it is.

    Raises SaveRefused where the notes name no such log.
    """
    import tomlkit

    file, place = notes_file(flight), f"{FLIGHTS}/{flight}"
    if project.root is None:
        raise SaveRefused("this project was not read from a folder; load it from one to save it")
    with opened(project.root) as folder:
        there = [each for each in folder.names(place) if is_log(f"{place}/{each}")]
    wanted = _wanted(project, flight, there)
    if name not in wanted:
        raise SaveRefused(f'"{name}"', "a log that counts: " + ", ".join(wanted), "load the page")
    document = tomlkit.parse(project.texts.get(file, BEGINNING))
    document["log"] = [each for each in wanted if each != name]
    return write_files(project, {file: tomlkit.dumps(document)})


def _free(name: str, there: list[str]) -> str:
    """A name for a file that came from elsewhere, that no other log of the flight bears."""
    stem, dot, end = ODD.sub("-", name.replace("\\", "/").rpartition("/")[2]).rpartition(".")
    if not dot or f".{end.lower()}" not in LOGS:
        stem, end = (f"{stem}{dot}{end}", LOGS[-1][1:])
    stem = stem.strip(" .")[:LONGEST_NAME] or "log"
    taken = {each.lower() for each in there}
    names = (f"{stem}{'' if n < 2 else f'-{n}'}.{end}" for n in range(1, len(there) + 2))
    return next(each for each in names if each.lower() not in taken)
