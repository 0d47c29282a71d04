"""The log book: every flight of the folder, and what was predicted of it."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Annotated, Final

from goodflight.project import Project
from goodflight.project.bench_files import NotesFile
from goodflight.project.logs.kept import lying
from goodflight.project.logs.read import LogRead
from goodflight.project.predictions import PredictionFile
from goodflight.studies.refusal import refused_at
from goodflight.studies.rows import LIMIT_STATES

TITLES: Final = {each.key: each.title for each in LIMIT_STATES}


@dataclass(frozen=True)
class Damage:
    """One thing found wrong after the flight."""

    row: Annotated[str, "key of the way to fail it speaks for"]
    title: Annotated[str, "the same in words"]
    what: Annotated[str, "what was found"]


@dataclass(frozen=True)
class BookLine:
    """One flight in the log book."""

    name: Annotated[str, "its folder in flights/"]
    date: Annotated[str, "day of the flight; empty = not noted"]
    plan: Annotated[str, "name of the plan"]
    level: Annotated[str, "certificate of that plan; empty = no such plan"]
    motor: Annotated[str, "name of the motor"]
    delay_out_s: Annotated[float | None, "taken out of the delay [s]; null = as planned"]
    result: Annotated[str, "passed, failed, not attempted, or not known"]
    apogee_m: Annotated[float | None, "peak as the altimeter showed it, standard atmosphere [m]"]
    logged: Annotated[bool, "true: the peak is a log's, none is noted"]
    has_log: Annotated[bool, "true: a log lies in its folder"]
    looked_over: Annotated[bool, "false: that no damage is noted does not mean sound"]
    damage: Annotated[tuple[Damage, ...], "what was found wrong"]
    note: Annotated[str, "as noted"]


@dataclass(frozen=True)
class Kept:
    """What was predicted of the flight and kept with it."""

    made: Annotated[str, "local time it was made"]
    afterwards: Annotated[bool, "true: made when the flight was known of; it does not count"]
    program: Annotated[str, "version of the program"]
    inputs: Annotated[str, "hash of the project's files then"]
    plan: Annotated[str, "plan it was made from"]
    chance: Annotated[float, "of any failure, 0 to 1"]
    unknown: Annotated[tuple[str, ...], "keys of failures not known, no part of it"]
    rows: Annotated[dict[str, float], "chance by key of the way to fail"]
    bands: Annotated[
        dict[str, tuple[float, ...]], "figure -> 5, 10, 25, 50, 75, 90, 95 % points [SI]"
    ]


def kept_of(said: PredictionFile | None) -> Kept | None:
    """A kept prediction to be shown."""
    if said is None:
        return None
    return Kept(
        made=said.made,
        afterwards=said.afterwards,
        program=said.program,
        inputs=said.inputs,
        plan=said.plan,
        chance=said.chance,
        unknown=tuple(said.unknown),
        rows=said.rows,
        bands={name: tuple(each) for name, each in said.bands.items()},
    )


def book_of(
    project: Project, logs: Mapping[str, LogRead] = MappingProxyType({})
) -> tuple[BookLine, ...]:
    """All flights of the folder, by day; those without a day last.

    logs : by flight; they stand in for a peak that is not noted. A flight of which a log lies there
    stands in the book without notes.

    Raises StudyRefused for damage that names no way to fail.
    """
    lie = {*logs, *lying(project)}
    bare = [each for each in sorted(lie) if each not in project.notes]
    noted = {**project.notes, **dict.fromkeys(bare, NotesFile())}
    lines = [
        _line(project, name, notes, logs.get(name), has_log=name in lie)
        for name, notes in noted.items()
    ]
    return tuple(sorted(lines, key=lambda each: (not each.date, each.date, each.name)))


def _line(
    project: Project, name: str, notes: NotesFile, log: LogRead | None, has_log: bool
) -> BookLine:
    for number, each in enumerate(notes.damage):
        if each.row not in TITLES:
            place = f"flights/{name}/notes.toml:damage[#{number + 1}].row"
            advice = "take a key that `goodflight rows` lists"
            raise refused_at(project, place, f'"{each.row}"', "the key of a way to fail", advice)
    planned = next((p for p in project.plan_tables if p.name == notes.plan), None)
    peak = None if log is None else log.events.happened.apogee_standard_m
    logged = None if peak is None else peak.value
    return BookLine(
        name=name,
        date=notes.date,
        plan=notes.plan or "",
        level=planned.level if planned is not None else "",
        motor=notes.motor or (planned and planned.motor) or "",
        delay_out_s=None if notes.delay_out is None else notes.delay_out.value,
        result=notes.result or "not known",
        apogee_m=logged if notes.apogee is None else notes.apogee.value,
        logged=notes.apogee is None and logged is not None,
        has_log=has_log,
        looked_over=notes.looked_over,
        damage=tuple(Damage(each.row, TITLES[each.row], each.what) for each in notes.damage),
        note=notes.note,
    )
