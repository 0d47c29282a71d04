"""Which glue or paint a step takes, where it is left, and how long that takes there.

The project's glue and workplace, by the rate law that the ledger uses. Where no file says it,
common practice (no source), and the record says so. Left out: how far a cure goes on meanwhile the
place changes its temperature; the calendar and the ledger do that hour by hour.
"""

from dataclasses import dataclass
from typing import Final

from goodflight.physics.structure import time_factor
from goodflight.project.bench_files import BuildFile
from goodflight.project.calendar_files import WorkplaceTable
from goodflight.project.workshop_files import StepTable
from goodflight.studies.case.joints import GlueSheet, joints_of, sheet_of

HOUR_S: Final = 3600.0
MINUTE_S: Final = 60.0
SLOW: Final = GlueSheet("epoxy of 30 min", 25 * MINUTE_S, 8 * HOUR_S, 24 * HOUR_S, known="practice")
QUICK: Final = GlueSheet("epoxy of 5 min", 4 * MINUTE_S, HOUR_S, 24 * HOUR_S, known="practice")


@dataclass(frozen=True)
class Glued:
    """The glue or paint of one step, and its times where it is left.

    sheet : its figures at its reference temperature; place : the workplace, empty where none is
    entered; temperature_k : of that place, None = not entered and the reference is taken;
    because : why this glue and this place; working_s, handling_s, cure_s : there, None = the sheet
    does not say; cold : it is too cold there, nothing cures and both last are None.
    """

    sheet: GlueSheet
    place: str
    temperature_k: float | None
    because: str
    working_s: float | None
    handling_s: float | None
    cure_s: float | None
    cold: bool = False


def glued(
    build: BuildFile,
    sheet: GlueSheet,
    parts: tuple[str, ...],
    table: StepTable | None,
    named: str | None = None,
) -> Glued:
    """The glue of a step and its times at the place where it is left.

    Parameters
    ----------
    build : BuildFile - workplaces, glues, joints, coats. [-]
    sheet : GlueSheet - SLOW or QUICK, what common practice takes; or a can of paint. [-]
    parts : tuple of str - parts of the rocket that it holds. [-]
    table : StepTable or None - what the builder wrote of this step. [-]
    named : str or None - workplace of the coat, where it is one and says so. [-]

    Returns
    -------
    glued : Glued - the project's glue where it says one. [s]
    """
    found, place, warm = sheet, "", None
    why = "no glue entered for it: common practice" if sheet.known == "practice" else "by the can"
    glues = {glue.name: glue for glue in build.glue}
    joint = next((j for j in joints_of(build) if parts and set(parts) <= set(j.parts)), None)
    if table is not None and table.with_glue is not None:
        found, why = sheet_of(glues[table.with_glue]), "as the step says"
    elif sheet is SLOW and joint is not None:
        found, why = sheet_of(glues[joint.glue]), f"as joint {joint.name} says"
    elif sheet in (SLOW, QUICK) and len(glues) == 1:
        found, why = sheet_of(build.glue[0]), "the only glue entered"
    if table is not None and table.workplace is not None:
        place, warm = table.workplace, _warmth(build, table.workplace)
    elif sheet is SLOW and joint is not None and joint.stays:
        place, warm = joint.stays[0].place, joint.stays[0].temperature_k
    else:
        place, warm = _left(build, named)
    return _timed(found, place, warm, why)


def _warmth(build: BuildFile, name: str) -> float | None:
    place = next(each for each in build.workplace if each.name == name)
    return None if place.temperature is None else place.temperature.value


def _left(build: BuildFile, named: str | None) -> tuple[str, float | None]:
    """The place named, else the coldest: what nobody says must not make it look quicker."""
    if named is not None:
        return named, _warmth(build, named)
    known: list[tuple[float, WorkplaceTable]] = [
        (place.temperature.value, place) for place in build.workplace if place.temperature
    ]
    if not known:
        return (build.workplace[0].name if build.workplace else ""), None
    warm, place = min(known, key=lambda pair: pair[0])
    return place.name, warm


def _timed(sheet: GlueSheet, place: str, warm: float | None, why: str) -> Glued:
    there = sheet.reference_k if warm is None else warm
    slower = float(time_factor(there, sheet.activation_j_mol, sheet.reference_k))
    cold = there < sheet.min_k
    working, handling, cure = (
        None if x is None else x * slower for x in (sheet.working_s, sheet.handling_s, sheet.cure_s)
    )
    if cold:
        handling = cure = None
    return Glued(
        sheet=sheet,
        place=place,
        temperature_k=warm,
        because=why,
        working_s=working,
        handling_s=handling,
        cure_s=cure,
        cold=cold,
    )
