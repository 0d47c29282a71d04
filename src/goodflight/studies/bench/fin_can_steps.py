"""Steps of the fin can: slots, motor mount, anchor of the cord, rail guides, fins."""

from dataclasses import replace
from typing import Final

from goodflight.physics.vehicle import parts as p
from goodflight.quantity.said import said
from goodflight.studies.bench.gluing import QUICK, SLOW
from goodflight.studies.bench.making import BLADE, DUST, GLOVES, Makes
from goodflight.studies.bench.order import Reach, Step
from goodflight.studies.bench.places import FinCan, in_place, of_kind, tube_at

SET_BY: Final = {  # what sets the fins: title, tools, how, what to check first
    "sheet": ("Glue the fins on in the guide", ("fin guide",),
              "Dry run with guide and keys first; glue on the tab's edge and root; guide over, "
              "keys seated; leave it until cured.", "every fin touches both plates; "),
    "print": ("Glue the fins on in the printed guide", ("printed fin guide",),
              "Dry run with the guide first; glue on the tab's edge and root; guide over from "
              "behind; leave it until cured.", "every fin touches both walls; "),
    "": ("Glue the fins on by a straight edge", ("straight edge", "paper wrap"),
         "No guide holds these fins. Dry run first; glue on the tab's edge and root; a straight "
         "edge along each root on its line of the wrap; leave it until cured.", ""),
}  # fmt: skip


def fin_can_steps(makes: Makes, can: FinCan) -> None:
    """Take in the steps of the fin can."""
    late = _late_ring(can)
    mark = f"mark-{can.tube.name}"
    if can.tab_m:
        _slots(makes, can, mark)
    if can.motor_tube is not None:
        _mount(makes, can, late)
    _guides(makes, can, late)
    _fins(makes, can, late, mark)


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


def _motor_tube(can: FinCan) -> tuple[str, ...]:
    return (can.motor_tube.name,) if can.motor_tube is not None else ()


def _slots(makes: Makes, can: FinCan, mark: str) -> None:
    makes.add(
        Step(
            "slots",
            f"Cut the fin slots in {can.tube.name}",
            rank=18,
            reaches=(Reach(f"inside of {can.tube.name} at the slots", (_bench(can),)),),
            after=(mark,),
            parts=(can.tube.name,),
            tools=("drill", "knife", "steel rule"),
            check="a fin slides in by hand, without play",
            cautions=(BLADE, DUST),
        ),
        15 + 10 * can.fins.count,
    )


def _mount(makes: Makes, can: FinCan, late: p.Ring | None) -> None:
    early = [ring for ring in can.rings if ring is not late]
    for i, ring in enumerate(early):
        makes.add(
            Step(
                in_place(ring),
                f"Glue {ring.name} to the motor tube",
                rank=22 + i / 10,
                tools=("steel rule", "square"),
                check=said(
                    "front face at {far} from the motor tube's front end, square; motor still "
                    "slides in",
                    far=(round(ring.station_m - _front(can), 3), "length"),
                ),
                cautions=(GLOVES,),
                parts=(ring.name, *_motor_tube(can)),
            ),
            15,
            SLOW,
        )
    anchor = _anchor(makes, can)
    rings = tuple(in_place(ring) for ring in early)
    closes = [_bench(can)]
    if anchor is not None:
        closes.append(f"the rear face of {anchor.name}")
    makes.add(
        Step(
            "mount-in",
            f"Glue the motor mount into {can.tube.name}",
            rank=32,
            after=(*rings, f"mark-{can.tube.name}"),
            closes=tuple(closes),
            tools=("long brush", "last ring, dry, to centre it"),
            check="slots free of glue, fins still go down to the motor tube, mount at its station",
            how="Spread the glue inside the tube, not on the rings, so that the rings push it "
            "ahead of them.",
            cautions=(GLOVES,),
            parts=(*_motor_tube(can), can.tube.name),
        ),
        30,
        SLOW,
        (len(early), "rings"),
    )
    if late is not None:
        makes.add(
            Step(
                in_place(late),
                f"Glue {late.name}: closes the fin can",
                rank=50,
                after=("mount-in", "fins-on"),
                closes=(_gap(can, late),),
                check="every inner joint inspected and photographed first",
                cautions=(GLOVES,),
                parts=(late.name, *_motor_tube(can)),
            ),
            20,
            SLOW,
        )
    _retainer(makes, can, late)


def _retainer(makes: Makes, can: FinCan, late: p.Ring | None) -> None:
    retainer = [x for x in of_kind(makes.rocket, p.AddedMass) if x.role == "retainer"]
    for part in retainer:
        rear = in_place(late) if late is not None else "mount-in"
        makes.add(
            Step(
                f"retainer-{part.name}",
                f"Fix {part.name} to the motor tube",
                rank=56,
                after=(rear,),
                check="an empty motor case goes in and is held; no glue on the threads",
                cautions=(GLOVES,),
                parts=(part.name, *_motor_tube(can)),
            ),
            20,
            SLOW,
        )


def _front(can: FinCan) -> float:
    return can.motor_tube.station_m if can.motor_tube else can.tube.station_m


def _anchor(makes: Makes, can: FinCan) -> p.Ring | None:
    """The ring that carries the recovery anchor, with steps for bolt and cord; None without."""
    for added in of_kind(makes.rocket, p.AddedMass):
        if added.role not in ("u_bolt", "eyebolt"):
            continue
        ring = next(
            (r for r in can.rings if added.station_m - 0.02 <= r.station_m <= added.end_m + 0.02),
            None,
        )
        if ring is None:
            continue
        rear = Reach(f"the nuts behind {ring.name}", (f"the rear face of {ring.name}",))
        makes.add(
            Step(
                "anchor",
                f"Bolt {added.name} to {ring.name}",
                rank=26,
                reaches=(rear,),
                after=(in_place(ring),) if makes.has(in_place(ring)) else (),
                tools=("spanner", "thread lock, epoxy over the nuts"),
                check="large washers, nuts locked; a hard pull by hand",
            ),
            20,
        )
        depth = ring.station_m - can.tube.station_m
        ways = makes.ways_in(can.tube, ring.station_m, None, added.name)
        if of_kind(makes.rocket, p.Cord):
            makes.add(
                Step(
                    "cord-anchor",
                    f"Tie the cord's leader to {added.name}",
                    rank=28,
                    after=("anchor",),
                    reaches=(
                        Reach(
                            f"the front face of {ring.name}, {1e3 * depth:.0f} mm deep",
                            (_bench(can), *ways),
                        ),
                    ),
                    check="knot of the kind allowed for, end whipped; leader rolled up and taped "
                    "clear of the glue",
                ),
                15,
            )
        return ring
    return None


def _guides(makes: Makes, can: FinCan, late: p.Ring | None) -> None:
    """Nuts of the rail guides: in a ring's edge or behind the wall, when one reaches them."""
    if can.buttons is None:
        return
    both = (("forward", can.buttons.station_m), ("rear", can.buttons.aft_station_m))
    for which, station in both:
        tube = tube_at(makes.rocket, station) or can.tube
        ring = next((r for r in can.rings if r.station_m <= station <= r.end_m), None)
        if ring is not None and can.motor_tube is not None:
            held = in_place(ring) if ring is late else "mount-in"
            step = Step(
                f"guide-{which}",
                f"Drill {ring.name} for the {which} rail guide, fit its nut",
                how="From outside, through the wall into the edge of the ring that is glued in.",
                after=(held,),
                parts=(can.buttons.name, tube.name, ring.name),
            )
        else:
            doors, after, warning = _nut(makes, can, late, tube, which=which, station=station)
            step = Step(
                f"guide-{which}",
                f"Fit the nut of the {which} rail guide",
                after=after,
                reaches=(Reach(f"the nut of the {which} rail guide", doors),) if doors else (),
                warning=warning,
                parts=(can.buttons.name, tube.name),
            )
        step = replace(
            step,
            rank=30,
            after=(f"mark-{tube.name}", *step.after),
            tools=("drill", "screwdriver"),
            check="both guides in one line; a length of rail slides over them",
            cautions=(BLADE, GLOVES),
        )
        makes.add(step, 20, QUICK)


def _nut(
    makes: Makes, can: FinCan, late: p.Ring | None, tube: p.Tube, which: str, station: float
) -> tuple[tuple[str, ...], tuple[str, ...], str]:
    """Ways to a nut behind the wall, what comes before it, what is wrong with it.

    The mount slides in from behind: a nut in the way of its rings is fitted after it.
    """
    early = [ring for ring in can.rings if ring is not late]
    if tube is not can.tube or can.motor_tube is None or not early or station < early[0].station_m:
        return makes.ways_in(tube, station, station, f"the {which} rail guide"), (), ""
    if late is not None and early[-1].station_m < station < late.station_m:
        return (_gap(can, late),), ("mount-in",), ""
    if station > max(ring.end_m for ring in can.rings):
        after = in_place(late) if late is not None else "mount-in"
        return (f"the rear of {tube.name}",), (after,), ""
    passes = " and ".join(ring.name for ring in early if ring.station_m < station)
    return (
        (_bench(can),),
        (),
        f"the nut of the {which} rail guide is in the way of {passes} as the mount slides in: move "
        "the guide to the edge of a ring, or file a notch into each ring that passes",
    )


def _fins(makes: Makes, can: FinCan, late: p.Ring | None, mark: str) -> None:
    after = [mark]
    after += ["slots"] if can.tab_m else []
    after += ["mount-in"] if can.motor_tube is not None else []
    held = (can.fins.name, can.tube.name, *(_motor_tube(can) if can.tab_m else ()))
    title, tools, how, check = SET_BY[makes.guide]
    makes.add(
        Step(
            "fins-on",
            title,
            rank=40,
            after=tuple(after),
            tools=tools,
            how=how,
            check=check + "cants measured and entered",
            cautions=(GLOVES,),
            parts=held,
        ),
        30 + 10 * can.fins.count,
        SLOW,
        (can.fins.count, "fins"),
    )
    if late is not None:
        gap = Reach("the tab joints inside the fin can", (_gap(can, late),))
        makes.add(
            Step(
                "inner-fillets",
                "Fillets inside, along tabs, motor tube and tube wall",
                rank=44,
                reaches=(gap,),
                after=("fins-on",),
                tools=("long stick", "lamp"),
                check="glue visible along every tab, both sides",
                cautions=(GLOVES,),
                parts=held,
            ),
            15 + 10 * can.fins.count,
            SLOW,
        )
    makes.add(
        Step(
            "outer-fillets",
            "Fillets outside, along the roots",
            rank=54,
            after=("fins-on",),
            tools=("round stick of the fillet's radius", "masking tape"),
            how="Two fins' sides at a time, lying level, so that nothing runs.",
            check="no pinholes, same radius along the root",
            cautions=(GLOVES, DUST),
            parts=(can.fins.name, can.tube.name),
        ),
        15 + 25 * can.fins.count,
        SLOW,
    )
