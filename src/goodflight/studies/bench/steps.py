"""The steps of building this rocket, from its parts: what each reaches and closes off.

Working times and cures are common practice, no source, for 20-25 degrees C; the label of the
glue at hand rules, and cold slows every cure. Steps follow from what the project says: a part
that is not in it makes no step.
"""

from dataclasses import dataclass, field
from typing import Final

from goodflight.physics.vehicle import parts as p
from goodflight.project import Project
from goodflight.studies.bench.choices import Choices, choices_of
from goodflight.studies.bench.done import done_steps, doubts_of
from goodflight.studies.bench.order import (
    Order,
    Reach,
    Step,
    explained,
    find_order,
)
from goodflight.studies.bench.places import FinCan, end_of, fin_can, of_kind, tube_at

SLOW: Final[dict[str, object]] = {
    "glue": "epoxy, slow (30 min)",
    "working_s": 1500.0,
    "cure_s": 86400.0,
}
QUICK: Final[dict[str, object]] = {
    "glue": "epoxy, quick (5 min)",
    "working_s": 240.0,
    "cure_s": 3600.0,
}
GLOVES: Final = "epoxy"  # keys of the cautions
DUST: Final = "dust"
BLADE: Final = "blade"
PAINT: Final = "paint"


@dataclass
class _Makes:
    """Collects the steps of one rocket."""

    rocket: p.Rocket
    choices: Choices
    steps: list[Step] = field(default_factory=list)

    def add(self, key: str, title: str, rank: float, **more: object) -> None:
        self.steps.append(Step(key, title, rank=rank, **more))  # type: ignore[arg-type]

    def has(self, key: str) -> bool:
        return any(step.key == key for step in self.steps)


def steps_of(project: Project, plan: str | None = None) -> tuple[Step, ...]:
    """All steps of building a project's rocket, in no particular order.

    Parameters
    ----------
    project : Project - as loaded. [-]
    plan : str or None - whose rocket; None takes the first. [-]

    Returns
    -------
    steps : tuple of Step - with access, glue, times, tools, checks. [s]
    """
    makes = _Makes(project.rocket(plan=plan), choices_of(project))
    can = fin_can(makes.rocket)
    makes.add(
        "cut-flat", "Cut fins, rings and the fin guide", 10, tools=("saw or cutter",),
        check="every piece matches its template; fins match when stacked", cautions=(BLADE, DUST),
    )  # fmt: skip
    _tubes(makes)
    if can:
        _fin_can(makes, can)
    _payload(makes)
    _finish(makes, can)
    return tuple(makes.steps)


def _tubes(makes: _Makes) -> None:
    for i, tube in enumerate(of_kind(makes.rocket, p.Tube)):
        makes.add(
            f"mark-{tube.name}", f"Mark {tube.name}: lines and stations", 12 + i / 10,
            tools=("wrap", "line aid", "soft pencil"),
            check="the wrap meets end to end; lines are spaced as on the wrap",
        )  # fmt: skip
        bays = [b for b in of_kind(makes.rocket, p.Bay) if b.vent_count
                and tube_at(makes.rocket, b.station_m) is tube]  # fmt: skip
        own = [h for h in makes.choices.holes if tube_at(makes.rocket, h.station_m) is tube]
        if bays or own:
            makes.add(
                f"holes-{tube.name}", f"Drill vents and openings of {tube.name}", 16 + i / 10,
                after=(f"mark-{tube.name}",), tools=("sharp drill", "block of wood"),
                check="edges clean, no fibres inside",
            )  # fmt: skip


def _bench(can: FinCan) -> str:
    return f"{can.tube.name} while the motor mount is out"


def _late_ring(can: FinCan) -> p.Ring | None:
    """The rearmost ring, left off until the work inside is done, when tabs end in front of it."""
    if can.tab_m is None or len(can.rings) < 2 or can.motor_tube is None:
        return None
    last = can.rings[-1]
    return last if last.station_m >= can.tab_m[1] - 1e-3 else None


def _gap(can: FinCan, late: p.Ring) -> str:
    return f"the gap ahead of the {late.name}"


def _fin_can(makes: _Makes, can: FinCan) -> None:
    late = _late_ring(can)
    mark = f"mark-{can.tube.name}"
    if can.tab_m:
        _slots(makes, can, mark)
    if can.motor_tube is not None:
        _mount(makes, can, late)
    _guides(makes, can, late)
    _fins(makes, can, late, mark)


def _slots(makes: _Makes, can: FinCan, mark: str) -> None:
    makes.add(
        "slots", f"Cut the fin slots in {can.tube.name}", 18,
        reaches=(Reach(f"inside of {can.tube.name} at the slots", (_bench(can),)),),
        after=(mark, "cut-flat"), tools=("drill", "knife", "steel rule"),
        check="a fin slides in by hand, without play", cautions=(BLADE,),
    )  # fmt: skip


def _mount(makes: _Makes, can: FinCan, late: p.Ring | None) -> None:
    early = [ring for ring in can.rings if ring is not late]
    for i, ring in enumerate(early):
        makes.add(
            f"ring-{ring.name}", f"Glue {ring.name} to the motor tube", 22 + i / 10,
            after=("cut-flat",), tools=("steel rule", "square"),
            check=f"front face at {1e3 * (ring.station_m - _front(can)):.0f} mm from the motor "
            "tube's front end, square; motor still slides in", cautions=(GLOVES,), **SLOW,
        )  # fmt: skip
    anchor = _anchor(makes, can)
    rings = tuple(f"ring-{ring.name}" for ring in early)
    closes = [_bench(can)]
    if anchor is not None:
        closes.append(f"the rear face of {anchor.name}")
    makes.add(
        "mount-in", f"Glue the motor mount into {can.tube.name}", 32,
        after=(*rings, "cut-flat", f"mark-{can.tube.name}"),
        closes=tuple(closes), tools=("long brush", "last ring, dry, to centre it"),
        check="slots free of glue, fins still go down to the motor tube, mount at its station",
        how="Spread the glue inside the tube, not on the rings, so that the rings push it "
            "ahead of them.",
        cautions=(GLOVES,), **SLOW,
    )  # fmt: skip
    if late is not None:
        makes.add(
            f"ring-{late.name}", f"Glue {late.name}: closes the fin can", 50,
            after=("mount-in", "fins-on"), closes=(_gap(can, late),),
            check="every inner joint inspected and photographed first", cautions=(GLOVES,), **SLOW,
        )  # fmt: skip
    retainer = [x for x in of_kind(makes.rocket, p.AddedMass) if x.role == "retainer"]
    for part in retainer:
        rear = f"ring-{late.name}" if late is not None else "mount-in"
        makes.add(
            f"retainer-{part.name}", f"Fix {part.name} to the motor tube", 56, after=(rear,),
            check="an empty motor case goes in and is held; no glue on the threads",
            cautions=(GLOVES,), **SLOW,
        )  # fmt: skip


def _front(can: FinCan) -> float:
    return can.motor_tube.station_m if can.motor_tube else can.tube.station_m


def _anchor(makes: _Makes, can: FinCan) -> p.Ring | None:
    """The ring that carries the recovery anchor, with steps for bolt and cord; None without."""
    for added in of_kind(makes.rocket, p.AddedMass):
        if added.role not in ("u_bolt", "eyebolt"):
            continue
        ring = next((r for r in can.rings if added.station_m - 0.02 <= r.station_m
                     <= end_of(added) + 0.02), None)  # fmt: skip
        if ring is None:
            continue
        rear = Reach(f"the nuts behind {ring.name}", (f"the rear face of {ring.name}",))
        makes.add(
            "anchor", f"Bolt {added.name} to {ring.name}", 26, reaches=(rear,),
            after=(f"ring-{ring.name}",) if makes.has(f"ring-{ring.name}") else (),
            glue="thread lock, nuts sealed with epoxy", tools=("spanner",),
            check="large washers, nuts locked; a hard pull by hand",
        )  # fmt: skip
        depth = ring.station_m - can.tube.station_m
        doors = [_bench(can)]
        if depth <= makes.choices.arm_reach_m:
            doors.append(f"the front of {can.tube.name}")
        if of_kind(makes.rocket, p.Cord):
            makes.add(
                "cord-anchor", f"Tie the cord's leader to {added.name}", 28, after=("anchor",),
                reaches=(Reach(f"the front face of {ring.name}, {1e3 * depth:.0f} mm deep",
                               tuple(doors)),),
                check="knot of the kind allowed for, end whipped; leader rolled up and taped "
                      "clear of the glue",
            )  # fmt: skip
        return ring
    return None


def _guides(makes: _Makes, can: FinCan, late: p.Ring | None) -> None:
    """Backing nuts of the rail guides: from the front, from behind, or through the gap."""
    if can.buttons is None:
        return
    arm = makes.choices.arm_reach_m
    both = (("forward", can.buttons.station_m), ("rear", can.buttons.aft_station_m))
    for which, station in both:
        tube = tube_at(makes.rocket, station) or can.tube
        doors = [f"the front of {tube.name}"] if station - tube.station_m <= arm else []
        first = can.rings[0].station_m if can.rings else end_of(can.tube)
        if any(r.station_m <= station <= end_of(r) for r in can.rings):
            doors = []  # screwed into the ring's edge: no nut
        elif tube is can.tube:
            if station > first:
                doors = [_bench(can)]
                if late is not None and station > (can.tab_m or (0.0, 0.0))[0]:
                    doors.append(_gap(can, late))
            elif end_of(tube) - station <= arm and can.motor_tube is not None:
                doors.append(_bench(can))
        reaches = (Reach(f"the nut of the {which} rail guide", tuple(doors)),) if doors else ()
        makes.add(
            f"guide-{which}", f"Fit the nut of the {which} rail guide", 30,
            reaches=reaches, after=(f"mark-{tube.name}",), tools=("drill", "screwdriver"),
            check="both guides in one line; a length of rail slides over them", **QUICK,
        )  # fmt: skip


def _fins(makes: _Makes, can: FinCan, late: p.Ring | None, mark: str) -> None:
    after = ["cut-flat", mark]
    after += ["slots"] if can.tab_m else []
    after += ["mount-in"] if can.motor_tube is not None else []
    makes.add(
        "fins-on", "Glue the fins on in the guide", 40, after=tuple(after), tools=("fin guide",),
        how="Dry run with guide and keys first; glue on the tab's edge and root; guide over, keys "
        "seated; leave it until cured.",
        check="every fin touches both plates; cants measured and entered as measured_cant",
        cautions=(GLOVES,), **SLOW,
    )  # fmt: skip
    if late is not None:
        gap = Reach("the tab joints inside the fin can", (_gap(can, late),))
        makes.add(
            "inner-fillets", "Fillets inside, along tabs, motor tube and tube wall", 44,
            reaches=(gap,), after=("fins-on",), tools=("long stick", "lamp"),
            check="glue visible along every tab, both sides", cautions=(GLOVES,), **SLOW,
        )  # fmt: skip
    makes.add(
        "outer-fillets", "Fillets outside, along the roots", 54, after=("fins-on",),
        tools=("round stick of the fillet's radius", "masking tape"),
        how="Two fins' sides at a time, lying level, so that nothing runs.",
        check="no pinholes, same radius along the root", cautions=(GLOVES, DUST), **SLOW,
    )  # fmt: skip


def _payload(makes: _Makes) -> None:
    rocket = makes.rocket
    for coupler in of_kind(rocket, p.Coupler):
        tube = tube_at(rocket, coupler.station_m)
        if tube is None:
            continue
        out = f"{coupler.name} while it is out of {tube.name}"
        inner = [b for b in of_kind(rocket, p.Bulkhead)
                 if coupler.station_m - 5e-3 <= b.station_m <= end_of(coupler) + 5e-3]  # fmt: skip
        if inner or coupler.bulkheads:
            makes.add(
                f"bulkheads-{coupler.name}", f"Fit bulkheads and eye bolt in {coupler.name}", 34,
                reaches=(Reach(f"both ends of {coupler.name}", (out,)),), after=("cut-flat",),
                check="washers on both sides, nuts locked; a hard pull by hand",
                cautions=(GLOVES,), **SLOW,
            )  # fmt: skip
        makes.add(
            f"coupler-{coupler.name}", f"Glue {coupler.name} into {tube.name}", 36,
            closes=(out,), after=(f"mark-{tube.name}",),
            check="straight: roll both tubes together on a flat table; slides in the other tube",
            cautions=(GLOVES,), **SLOW,
        )  # fmt: skip
    for nose in of_kind(rocket, p.Nose):
        _nose(makes, nose)
    for sled in (x for x in of_kind(rocket, p.AddedMass) if x.role == "sled"):
        couplers = tuple(s.key for s in makes.steps if s.key.startswith("coupler-"))
        makes.add(
            "sled", f"Fit the {sled.name}", 62, after=("cut-flat", *couplers),
            check="nothing moves when shaken; battery strapped down; switch reachable from outside",
        )  # fmt: skip


def _nose(makes: _Makes, nose: p.Nose) -> None:
    inside = f"the open base of {nose.name}"
    end = end_of(nose) + nose.shoulder_length_m
    plate = [b for b in of_kind(makes.rocket, p.Bulkhead) if b.station_m < end]
    ballast = [
        x for x in of_kind(makes.rocket, p.AddedMass) if x.role == "ballast" and x.station_m < end
    ]
    for part in ballast:
        makes.add(
            f"ballast-{part.name}", f"Fix {part.name} in {nose.name}", 66, after=("dry-fit",),
            reaches=(Reach(f"the inside of {nose.name}", (inside,)),), **SLOW,
            check="cannot come loose at ejection: bolted or cast round a cross pin",
        )  # fmt: skip
    if plate or nose.plate:
        makes.add(
            f"plate-{nose.name}", f"Close the base of {nose.name} with its plate", 67,
            after=("dry-fit",), closes=(inside,),
            check="rocket weighed and balanced first: ballast cannot be added later",
            cautions=(GLOVES,), **SLOW,
        )  # fmt: skip


def _finish(makes: _Makes, can: FinCan | None) -> None:
    glued = tuple(s.key for s in makes.steps if s.cure_s)
    makes.add(
        "dry-fit", "Dry fit of the whole rocket, weigh parts, balance", 64,
        after=tuple(s.key for s in makes.steps if s.key.startswith(("coupler-", "ring-"))),
        check="weights entered in weighings.toml; stability margin checked before painting",
    )  # fmt: skip
    makes.add(
        "paint", "Sand, prime, paint", 80, after=(*glued, "dry-fit"),
        check="each coat within the recoat window of its label", cautions=(DUST, PAINT),
        glue="primer, paint", cure_s=172800.0,
    )  # fmt: skip
    if can is not None and can.buttons is not None:
        makes.add(
            "guides-on", "Screw the rail guides on", 84,
            after=("paint", "guide-forward", "guide-rear"),
            check="a rail slides over both, without catching",
        )  # fmt: skip
    last = ("guides-on",) if can is not None and can.buttons is not None else ("paint",)
    makes.add(
        "weigh", "Weigh and balance the finished rocket", 90, after=last,
        check="mass and balance entered in weighings.toml, ledger run again",
    )  # fmt: skip


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
    all_steps = steps_of(project, plan)
    steps, done = explained(find_order(all_steps)), done_steps(project)
    known = {step.key for step in all_steps}
    written = [table.name for table in (project.build.step if project.build else ())]
    own = tuple(done[name] for name in written if name not in known)
    doubts = doubts_of(all_steps, done, [each.key for each in own])
    return Order(project.name, steps, project.invented, done, own, doubts)
