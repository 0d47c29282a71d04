"""What of the build is done, as build.toml says, and which of those ticks cannot be so."""

from collections.abc import Collection, Sequence

from goodflight.project import Project
from goodflight.studies.bench.order import Done, Step
from goodflight.studies.bench.ticked import left_behind, locked_out


def done_steps(project: Project) -> dict[str, Done]:
    """Steps of build.toml by name: ticked ones, the builder's own, and those these stand for."""
    found: dict[str, Done] = {}
    for table in project.build.step if project.build else ():
        extra = table.model_extra or {}
        mass, photo = str(extra.get("mass", "")), str(extra.get("photo", ""))
        for key in table.does:
            found.setdefault(key, Done(key, table.done))
        found[table.name] = Done(table.name, table.done, mass, photo, table.note)
    return found


def doubts_of(
    steps: Sequence[Step], done: dict[str, Done], own: Collection[str]
) -> tuple[str, ...]:
    """What of the ticks cannot be so, in sentences."""
    ticked = {key for key, each in done.items() if each.done}
    known = {step.key for step in steps}
    strange = sorted(set(done) - known - set(own))
    return (
        *(
            f"{late.title!r} is not done, and {first.title!r} has closed the way to it"
            for first, late in locked_out(steps, ticked)
        ),
        *(
            f"{late.title!r} is not ticked, and {first.title!r}, which builds on it, is"
            for first, late in left_behind(steps, ticked)
        ),
        *(f"{key!r} in build.toml (does) is no step of this list" for key in strange),
    )
