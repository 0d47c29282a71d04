"""What a flight says of the rocket itself, carried over to its next flights as readings.

Each flight writes what it says alone, so several flights and what was known before are taken
together by their errors, and flights that differ more than that widen what they say together.
"""

from dataclasses import dataclass
from typing import Annotated, Final

from goodflight.project import Project
from goodflight.project.weighing_entry import FILE
from goodflight.studies.debriefing.corrected import readings_with
from goodflight.studies.debriefing.fit import OfRocket
from goodflight.studies.questions.debrief import DebriefStudy
from goodflight.studies.refusal import StudyRefused

NOTHING: Final = "this flight says nothing new of the rocket itself"


@dataclass(frozen=True)
class Carried:
    """What is written, and in words."""

    texts: Annotated[dict[str, str], "files as they would read, by path"]
    figures: Annotated[tuple[OfRocket, ...], "what is carried over"]


def carry_over(project: Project, study: DebriefStudy) -> Carried:
    """Write what a flight says of drag and canopies into the rocket's readings.

    Parameters
        project : Project - as loaded from its folder. [-]
        study : DebriefStudy - of one flight of it, from `debrief`. [SI]
    Returns
        carried : Carried - texts to save with `write_files`; an earlier carry-over of the same
            flight gives way. [SI]
    Raises
        StudyRefused - no flight of flights/ was looked at, it is doubted, or says nothing new.
    Validity
        Errors about normal; what quantities explain alike is carried as each one's own spread.
    Source
        Precisions add up: as `told_alone`.
    Example
        >>> carry_over(project, debrief(project, flight="first")).figures[0].of
        'model:axial'
    """
    if not study.flight:
        advice = "write down what was seen in flights/NAME/notes.toml, then name that flight"
        raise StudyRefused("no flight of flights/ looked at", "one by its name", advice, "flight")
    if study.doubts:
        raise StudyRefused(
            f"flight {study.flight} is doubted: {study.doubts[0]}",
            "a flight near those predicted, or figures checked",
            "correct what was noted; nothing was carried over",
            "flight",
        )
    told = tuple(each for each in study.of_rocket if each.alone is not None)
    if not told:
        advice = "note the peak and the times of apogee, charge and landing"
        raise StudyRefused(NOTHING, "a figure that narrows drag or canopy", advice, "flight")
    date = next((each.date for each in study.book if each.name == study.flight), "")
    text = readings_with(project, study.flight, date, told)
    return Carried({FILE: text}, told)
