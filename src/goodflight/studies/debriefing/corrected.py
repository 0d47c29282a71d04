"""The rocket as a flight has it: what the flight says alone, written as readings of the rocket."""

from collections.abc import Sequence
from dataclasses import replace

from goodflight.project import Project, read_project
from goodflight.project.weighing_entry import FILE, with_reading, without_readings
from goodflight.studies.debriefing.fit import OfRocket

KEPT_DIGITS = 6  # of a figure in the file


def readings_with(project: Project, flight: str, date: str, told: Sequence[OfRocket]) -> str:
    """The text of the readings with what a flight says; its earlier ones give way."""
    text = without_readings(project, flight)
    here = replace(project, texts={**project.texts, FILE: text}) if text else project
    for each in told:
        assert each.alone is not None
        read = f"{each.alone.value:.{KEPT_DIGITS}g} ± {each.alone.error:.{KEPT_DIGITS}g}"
        written = with_reading(
            here,
            {
                "of": each.of,
                "read": [read],
                "date": date,
                "flight": flight,
                "note": f"inferred from flight {flight}",
            },
        )
        here = replace(here, texts={**here.texts, FILE: written})
    return here.texts[FILE]


def corrected(project: Project, flight: str, told: Sequence[OfRocket]) -> Project:
    """The project with the rocket as a flight has it; nothing is written."""
    if not told:
        return project
    text = readings_with(project, flight or "as typed", "", told)
    return read_project({**project.texts, FILE: text}, project.root)
