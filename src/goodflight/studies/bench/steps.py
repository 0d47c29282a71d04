"""The steps of building this rocket, from its parts: what each reaches and closes off.

Steps follow from what the project says: a part that is not in it makes no step. Minutes at the
bench, and glue that no file names, are common practice, no source; the glue's label rules.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from goodflight.physics.vehicle import parts as p
from goodflight.project import Project
from goodflight.quantity.said import Said, Words
from goodflight.studies.bench.bay_steps import bay_steps, close_ways
from goodflight.studies.bench.choices import choices_of
from goodflight.studies.bench.coats import coats_in
from goodflight.studies.bench.done import done_steps, doubts_of
from goodflight.studies.bench.facing import facing_rail
from goodflight.studies.bench.fin_can_steps import fin_can_steps
from goodflight.studies.bench.making import BLADE, DUST, PAINT, Makes, makes_of
from goodflight.studies.bench.nose_steps import nose_steps
from goodflight.studies.bench.order import CURED, HANDLING, Order, Step, explained, find_order
from goodflight.studies.bench.places import FinCan, fin_can, in_place, of_kind, tube_at
from goodflight.studies.bench.span import span_of

PAINT_MIN: Final = 240  # at the bench for all coats, sanding between them; guess


def steps_of(project: Project, plan: str | None = None, *, guided: bool = True) -> tuple[Step, ...]:
    """All steps of building a project's rocket, in no particular order.

    Parameters
    ----------
    project : Project - as loaded. [-]
    plan : str or None - whose rocket; None takes the first. [-]
    guided : bool - False: as if no guide held the fins, which is sooner told. Titles, tools and
        checks of two steps are another; what each reaches, shuts and needs first is the same. [-]

    Returns
    -------
    steps : tuple of Step - with access, time at the bench, glue and its times, tools, checks. [s]
    """
    makes = makes_of(project, plan)
    can = fin_can(makes.rocket)
    if can is not None and guided:
        from goodflight.studies.bench.guide_print import guide_kind  # loads solids

        makes.guide = guide_kind(can, makes.choices)
    _blanks(makes)
    _tubes(makes)
    if can:
        fin_can_steps(makes, can)
    nose_steps(makes)
    bay_steps(makes)
    close_ways(makes)
    _finish(makes, can)
    return makes.made()


def _blanks(makes: Makes) -> None:
    """What makes the parts: flat ones from sheet, tubes to length."""
    flat = [x for kind in (p.Fins, p.Ring, p.Bulkhead) for x in of_kind(makes.rocket, kind)]
    guided = makes.guide == "sheet"
    title = "Cut fins, rings and the fin guide" if guided else "Cut fins and rings"
    pieces = sum(x.pieces for x in flat)
    makes.add(
        Step(
            "cut-flat",
            title,
            rank=10,
            tools=("saw or cutter",),
            check="every piece matches its template; fins match when stacked",
            cautions=(BLADE, DUST),
            makes=tuple(x.name for x in flat),
        ),
        30 + 15 * pieces,
    )
    tubes = [x for kind in (p.Tube, p.Coupler, p.MotorTube) for x in of_kind(makes.rocket, kind)]
    if tubes:
        makes.add(
            Step(
                "cut-tubes",
                "Cut tubes and couplers to length",
                rank=11,
                tools=("fine saw", "paper strip as a guide", "sanding block"),
                check="lengths as in the parts list; ends square: stand each on a flat table",
                cautions=(BLADE, DUST),
                makes=tuple(x.name for x in tubes),
            ),
            15 * len(tubes),
        )


def _together(doubts: Sequence[Said]) -> Words:
    """Several in one sentence, at the place of the first."""
    joined = "; ".join(each.text for each in doubts)
    return replace(doubts[0], text=joined) if doubts else ""


def _tubes(makes: Makes) -> None:
    faces = facing_rail(makes.rocket, makes.choices)
    for i, tube in enumerate(of_kind(makes.rocket, p.Tube)):
        makes.add(
            Step(
                f"mark-{tube.name}",
                f"Mark {tube.name}: lines and stations",
                rank=12 + i / 10,
                tools=("wrap", "line aid", "soft pencil"),
                check="the wrap meets end to end; lines are spaced as on the wrap",
                parts=(tube.name,),
            ),
            20,
        )
        bays = [
            b
            for b in of_kind(makes.rocket, p.Bay)
            if b.vent_count and tube_at(makes.rocket, b.station_m) is tube
        ]
        own = [h for h in makes.choices.holes if tube_at(makes.rocket, h.station_m) is tube]
        if bays or own:
            makes.add(
                Step(
                    f"holes-{tube.name}",
                    f"Drill vents and openings of {tube.name}",
                    rank=16 + i / 10,
                    after=(f"mark-{tube.name}",),
                    tools=("sharp drill", "block of wood"),
                    check="edges clean, no fibres inside",
                    cautions=(BLADE,),
                    parts=(tube.name,),
                    warning=_together([faces[hole] for hole in own if hole in faces]),
                ),
                10 + 5 * (sum(b.vent_count for b in bays) + len(own)),
            )


def _finish(makes: Makes, can: FinCan | None) -> None:
    glued = tuple(s.key for s in makes.steps if s.glued)
    across = {in_place(part) for part in makes.rocket.parts if part.glued_in}
    makes.add(
        Step(
            "dry-fit",
            "Dry fit of the whole rocket, weigh parts, balance",
            rank=64,
            after=tuple(s.key for s in makes.steps if s.key in across),
            check="every weight entered; stability margin checked before painting",
        ),
        60,
    )
    coats, before = coats_in(makes.build), (*glued, "dry-fit")
    for n, coat in enumerate(coats):
        makes.add(
            Step(
                coat.key,
                coat.title,
                rank=80 + n / 100,
                after=before,
                how=coat.how,
                check="each coat within the recoat window of its label",
                cautions=(DUST, PAINT),
                waits_for=HANDLING if n else CURED,
            ),
            PAINT_MIN / len(coats),
            coat.sheet,
            place=coat.place or None,
        )
        before = (coat.key,)
    if can is not None and can.buttons is not None:
        makes.add(
            Step(
                "guides-on",
                "Screw the rail guides on",
                rank=84,
                after=(*before, "guide-forward", "guide-rear"),
                check="a rail slides over both, without catching",
                waits_for=CURED,
            ),
            15,
        )
        before = ("guides-on",)
    makes.add(
        Step(
            "weigh",
            "Weigh and balance the finished rocket",
            rank=90,
            after=before,
            check="mass and balance entered, ledger run again",
            waits_for=CURED,
        ),
        30,
    )


def assembly_order(project: Project, plan: str | None = None) -> Order:
    """The order of assembly of a project, explained, with what is ticked.

    Parameters
    ----------
    project : Project - as loaded. [-]
    plan : str or None - whose rocket; None takes the first. [-]

    Returns
    -------
    order : Order - steps with reasons and points of no return. [s]

    Raises
    ------
    NoOrderError - the steps lock one another out.

    Example
    -------
    >>> order = goodflight.order(goodflight.load("fieldfare"))
    >>> [placed.number for placed in order.steps[:3]]
    [1, 2, 3]
    """
    from goodflight.studies.bench.buildable import unbuildable

    reasons = "; ".join(unbuildable(project.rocket(plan=plan), choices_of(project)))
    all_steps = tuple(
        replace(step, warning=reasons) if step.key == "cut-flat" else step
        for step in steps_of(project, plan)
    )
    steps, done = explained(find_order(all_steps)), done_steps(project)
    known = {step.key for step in all_steps}
    written = [table.name for table in (project.build.step if project.build else ())]
    own = tuple(done[name] for name in written if name not in known)
    doubts = doubts_of(all_steps, done, [each.key for each in own])
    left = [x.step for x in steps if x.step.key not in done or not done[x.step.key].done]
    span, span_left = span_of([placed.step for placed in steps]), span_of(left)
    return Order(
        rocket=project.name,
        steps=steps,
        invented=project.invented,
        done=done,
        own=own,
        doubts=doubts,
        span=span,
        span_left=span_left,
    )
