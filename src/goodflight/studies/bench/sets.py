"""Which templates are printed together: outlines and wraps, or the fin guides.

One entry for command line, page and build book, so that all print the same.
"""

from dataclasses import dataclass

from goodflight.physics.vehicle import parts as p
from goodflight.project import Project
from goodflight.quantity.said import Words, said
from goodflight.studies.bench.buildable import refuse_unbuildable
from goodflight.studies.bench.choices import Choices, choices_of
from goodflight.studies.bench.guide_parts import guide_templates
from goodflight.studies.bench.guide_print import PrintedGuide, printed_guide
from goodflight.studies.bench.guides import measured_alignment
from goodflight.studies.bench.outlines import outlines
from goodflight.studies.bench.places import FinCan, fin_can, of_kind
from goodflight.studies.bench.shapes import DoesNotFitError, TemplateSet
from goodflight.studies.bench.wrap import (
    body_diameter_m,
    fin_wrap,
    hole_wraps,
    line_aid,
    station_strip,
)


@dataclass(frozen=True)
class Points:
    """Stations of interest that come from the flight: CG and CP; None = not marked."""

    cg_m: float | None = None
    cp_m: float | None = None


def station_marks(rocket: p.Rocket, points: Points) -> tuple[tuple[str, float], ...]:
    """Every station worth a line: roots, slots, rings, guides, separation, vents, CG, CP."""
    can = fin_can(rocket)
    found: list[tuple[str, float]] = []
    if can:
        found += [("front of root", can.root_m[0]), ("rear of root", can.root_m[1])]
        if can.tab_m:
            found += [("slot front", can.tab_m[0]), ("slot rear", can.tab_m[1])]
    found += [
        (ring.name, ring.station_m + ring.thickness_m / 2) for ring in of_kind(rocket, p.Ring)
    ]
    for buttons in of_kind(rocket, p.Buttons):
        found += [("forward guide", buttons.station_m), ("rear guide", buttons.aft_station_m)]
    for coupler in of_kind(rocket, p.Coupler):
        found.append((f"end of {coupler.name}", coupler.end_m))
    for name, station in (
        ("separation", rocket.separation_station_m),
        ("separation of the main", rocket.main_station_m),
        ("CG", points.cg_m),
        ("CP", points.cp_m),
    ):
        if station is not None:
            found.append((name, station))
    return tuple(sorted(found, key=lambda mark: (mark[1], mark[0])))


def template_set(
    project: Project, points: Points | None = None, plan: str | None = None
) -> TemplateSet:
    """Outlines, wraps, station strips and the line aid of a project.

    Parameters
    ----------
    project : Project - as loaded. [-]
    points : Points or None - CG and CP to mark on the strips. [m]
    plan : str or None - whose rocket; None takes the first. [-]

    Returns
    -------
    templates : TemplateSet - ready to print. [m]

    Raises
    ------
    ProjectErrors - the `[bench]` table is not valid.
    DoesNotFitError - a part that cannot be made, as a ring across the slots; all are named.
    """
    rocket, choices = project.rocket(plan=plan), choices_of(project)
    refuse_unbuildable(rocket, choices)
    wrap = fin_wrap(rocket, choices)
    marks = station_marks(rocket, points or Points())
    strips = [station_strip(rocket, marks, tube) for tube in of_kind(rocket, p.Tube)]
    found = (
        *outlines(rocket, choices),
        *((wrap,) if wrap else ()),
        *hole_wraps(rocket, choices),
        *strips,
        line_aid(),
    )
    notes = _notes(rocket, choices)
    return TemplateSet(
        rocket=rocket.name,
        subject="templates",
        templates=found,
        invented=project.invented,
        notes=notes,
        kerf_m=choices.kerf_m,
    )


def _notes(rocket: p.Rocket, choices: Choices) -> tuple[Words, ...]:
    can = fin_can(rocket)
    if can is None:
        return ()
    if choices.circumference_m is None:
        return (
            said(
                "The wraps are made for {across} outside diameter from the project. Lay a paper "
                "strip round your tube, prick through the overlap, measure, and write "
                'circumference = "..." with its unit under [bench] in build.toml.',
                across=(can.tube.outer_diameter_m, "size"),
            ),
        )
    return (
        said(
            "The wraps are made for {across} outside diameter, from the circumference as measured, "
            "{around}.",
            across=(body_diameter_m(can.tube, choices), "size"),
            around=(choices.circumference_m, "size"),
        ),
    )


def _can(project: Project, plan: str | None) -> FinCan:
    can = fin_can(project.rocket(plan=plan))
    if can is None:
        raise DoesNotFitError("this rocket has no fins on a straight tube; a guide needs them.")
    return can


def guide_set(project: Project, plan: str | None = None) -> TemplateSet:
    """The keyed fin guide of sheet, with the alignment it is good for.

    Parameters
    ----------
    project : Project - as loaded. [-]
    plan : str or None - whose rocket; None takes the first. [-]

    Returns
    -------
    templates : TemplateSet - plates, keys, assembly. [m]

    Raises
    ------
    DoesNotFitError - no fins, no room for keys, root too short.
    """
    choices = choices_of(project)
    notes: tuple[str, ...] = ()
    if choices.measured_cants_rad:
        mean, sigma = measured_alignment(choices.measured_cants_rad)
        notes = (
            f"From the cants measured on the finished fins: write cant = "
            f'"{57.29578 * mean:.2f} deg" and alignment = "{57.29578 * sigma:.2f} deg".',
        )
    try:
        found = guide_templates(_can(project, plan), choices)
    except DoesNotFitError as error:
        raise DoesNotFitError(" ".join((str(error), *notes))) from error
    return TemplateSet(
        rocket=project.name,
        subject="fin guides",
        templates=found,
        invented=project.invented,
        notes=notes,
        kerf_m=choices.kerf_m,
    )


def printed_set(project: Project, plan: str | None = None) -> PrintedGuide:
    """The fin guide in one printed piece; see `printed_guide`."""
    return printed_guide(_can(project, plan), choices_of(project))
