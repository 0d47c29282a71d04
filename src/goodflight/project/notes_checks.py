"""The notes of a flight, checked against its plan's field."""

from collections.abc import Mapping, Sequence

from goodflight.project.bench_files import NotesFile
from goodflight.project.flight_files import PlanTable, SiteFile
from goodflight.project.pressure_checks import check_pressure
from goodflight.project.sheets import Sheet


def read_notes(
    sheet: Sheet, plans: Sequence[PlanTable], sites: Mapping[str, SiteFile]
) -> NotesFile | None:
    """Return the notes of one flight, None where they cannot be read.

    A pressure of `[day]` is held against the height of the field of the plan that was flown.
    """
    notes: NotesFile | None = sheet.check((), sheet.data, NotesFile) if sheet.readable else None
    if notes is None or notes.day is None:
        return notes
    plan = next((each for each in plans if notes.plan in (None, each.name)), None)
    site = sites.get(plan.site) if plan is not None else None
    if site is not None:
        check_pressure(sheet, ("day",), notes.day, site)
    return notes
