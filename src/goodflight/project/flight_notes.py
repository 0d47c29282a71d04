"""Notes of a flight written into `flights/NAME/notes.toml`; comments and order stay."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from goodflight.project.bench_files import FilmTable, SeenTimesTable
from goodflight.project.disk import FLIGHTS, NOTES, is_project_file
from goodflight.project.faults import SaveRefused
from goodflight.project.fields import keys_of
from goodflight.project.flight_files import DayTable
from goodflight.project.part_forms import write_entries
from goodflight.project.plan_forms import day_entries, plan_written
from goodflight.project.predictions import NOT_A_NAME
from goodflight.project.records import Project

TEXTS: Final = ("date", "plan", "result", "apogee", "note")
TIMES: Final = tuple(SeenTimesTable.model_fields)
FRAMES: Final = tuple(FilmTable.model_fields)
DAY: Final = tuple(keys_of(DayTable))
BEGINNING: Final = "#:schema ../../.schema/notes.json\n"


@dataclass(frozen=True)
class Noted:
    """What was entered of a flight; keys left out stay as they are.

    texts : by `TEXTS`. times : after lift-off, by `TIMES`. looked_over : whether the rocket was.
    damage : key of a way to fail, and what was found. film : frames, by `FRAMES`.
    day : the weather as it was, by `DAY`; what it must have and is left empty is that of the plan.
    """

    texts: Mapping[str, str]
    times: Mapping[str, str]
    looked_over: bool
    damage: Sequence[tuple[str, str]]
    film: Mapping[str, str]
    day: Mapping[str, str]


def notes_file(flight: str) -> str:
    """The path of a flight's notes; SaveRefused where its name cannot be one of a folder."""
    file = f"{FLIGHTS}/{flight}/{NOTES}"
    if not is_project_file(file) or NOT_A_NAME.search(flight):
        raise SaveRefused(f'"{flight}"', "a name of a folder", "take letters, digits and hyphens")
    return file


def notes_with(project: Project, flight: str, noted: Noted) -> dict[str, str]:
    """Return the notes of a flight with what was entered, by path; an empty text takes a key out.

    Parameters
    ----------
    project : Project - as loaded from its folder. [-]
    flight : str - its folder in flights/; made when it is not there. [-]
    noted : Noted - what was entered. [-]

    Raises
    ------
    SaveRefused - the name cannot be one of a folder.
    """
    import tomlkit

    file = notes_file(flight)
    document = tomlkit.parse(project.texts.get(file, BEGINNING))
    for key in (each for each in TEXTS if each in noted.texts):
        document.pop(key, None)
        if noted.texts[key]:
            document[key] = noted.texts[key]
    document["looked_over"] = noted.looked_over
    for table, typed in (("seen", noted.times), ("film", noted.film)):
        held = dict(document.get(table, {})) | dict(typed)
        document.pop(table, None)
        if any(held.values()):
            document[table] = {key: text for key, text in held.items() if text}
    if noted.day:
        _write_day(document, project, noted.texts.get("plan", ""), noted.day)
    document.pop("damage", None)
    if noted.damage:
        rows = tomlkit.aot()
        for row, what in noted.damage:
            rows.append(tomlkit.item({"row": row, **({"what": what} if what else {})}))
        document["damage"] = rows
    return {file: tomlkit.dumps(document)}


def _write_day(document: Any, project: Project, plan: str, day: Mapping[str, str]) -> None:
    """The table of the day; none where nothing is typed."""
    import tomlkit

    if not any(text.strip() for text in day.values()):
        document.pop("day", None)
        return
    named = any(each.name == plan for each in project.plan_tables)
    planned = plan_written(project, plan) if named else {}
    entries, table = day_entries(), document.setdefault("day", tomlkit.table())
    for key, each in entries.items():
        if key in day or (each.needed and key not in table):
            otherwise = planned.get(f"day.{key}", "") if each.needed else ""
            write_entries(table, entries, {key: day.get(key, "") or otherwise}, "the day")
