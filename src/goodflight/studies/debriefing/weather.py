"""The pressure noted for the day of a flight: which kind it is, and what a log's barometer says."""

from collections.abc import Sequence
from typing import Final

from goodflight.constants import SEA_LEVEL_PRESSURE_PA
from goodflight.physics.air.atmosphere import station_pressure_pa
from goodflight.project.bench_files import NotesFile
from goodflight.project.logs.read import LogRead
from goodflight.project.pressure_checks import pressure_doubt
from goodflight.project.records import Project
from goodflight.quantity import show
from goodflight.quantity.said import Words
from goodflight.studies.case.planned import Case

APART_PA: Final = 500.0  # between a barometer in the bay and the day's pressure; our guess


def setting_words(case: Case, notes: NotesFile) -> tuple[str, ...]:
    """What a noted sea-level setting makes at the field; nothing without one."""
    if notes.day is None or notes.day.sea_level_pressure is None:
        return ()
    up = show(case.site.elevation_m, "length")
    return (
        f"sea_level_pressure {notes.day.sea_level_pressure.text} is taken as a sea-level setting: "
        f"{_hpa(case.day.pressure_pa)} at the field, {up} above the sea",
    )


def pressure_words(
    project: Project, case: Case, notes: NotesFile, logs: Sequence[LogRead]
) -> tuple[Words, ...]:
    """What speaks against the pressure that was noted: no usual weather, or the log's barometer."""
    if notes.day is None:
        return ()
    plan = next(each for each in project.plan_tables if each.name == case.plan)
    doubt = pressure_doubt(notes.day, project.site_files[plan.site][0])
    found: list[Words] = [] if doubt is None else [doubt]
    given = notes.day.pressure or notes.day.sea_level_pressure
    level = logs[0].events.ground_standard_m if logs else None
    if given is not None and level is not None:
        read = station_pressure_pa(SEA_LEVEL_PRESSURE_PA, level)
        if abs(read - case.day.pressure_pa) > APART_PA:
            found.append(
                f"the log's barometer read {_hpa(read)} on the pad, noted is "
                f"{_hpa(case.day.pressure_pa)} there: is a sea-level setting written as pressure, "
                "a pressure at the pad as sea_level_pressure, or the field's elevation wrong?"
            )
    return tuple(found)


def _hpa(value_pa: float) -> str:
    return show(value_pa, "pressure", unit="hPa", digits=4)
