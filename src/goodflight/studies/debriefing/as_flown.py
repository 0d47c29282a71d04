"""The project as a flight was flown, and as it was known without that flight."""

from dataclasses import replace

from goodflight.project import Project
from goodflight.project.bench_files import NotesFile
from goodflight.studies.refusal import refused_at


def as_flown(project: Project, plan: str | None, notes: NotesFile, flight: str | None) -> Project:
    """The project with the motor and the delay that were flown."""
    place = f"flights/{flight}/notes.toml"
    if notes.motor is not None and notes.motor not in project.motor_files:
        wanted = "a motor of motors/: " + ", ".join(sorted(project.motor_files))
        advice = "correct the name, or add the motor"
        raise refused_at(project, f"{place}:motor", f'"{notes.motor}"', wanted, advice)
    name = plan or project.plan_tables[0].name
    if all(each.name != name for each in project.plan_tables):
        wanted = "a plan: " + ", ".join(each.name for each in project.plan_tables)
        raise refused_at(project, f"{place}:plan", f'"{name}"', wanted, "correct the name")
    flown = {"motor": notes.motor, "delay_out": notes.delay_out, "day": notes.day}
    update = {key: each for key, each in flown.items() if each is not None}
    tables = [
        each.model_copy(update=update) if each.name == name else each
        for each in project.plan_tables
    ]
    return replace(project, plan_tables=tuple(tables))


def without_own(project: Project, flight: str) -> Project:
    """The project as it is known without what was carried over from this flight."""
    rows = [row for row in project.weighings.reading if not row.says(flight)]
    return replace(project, weighings=project.weighings.model_copy(update={"reading": rows}))
