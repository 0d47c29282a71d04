"""Steps of what lies ahead of the fin can: couplers, sleds, nose."""

from goodflight.physics.vehicle import parts as p
from goodflight.studies.bench.gluing import SLOW
from goodflight.studies.bench.making import GLOVES, Makes
from goodflight.studies.bench.order import Reach, Step
from goodflight.studies.bench.places import end_of, of_kind, tube_at


def inside_steps(makes: Makes) -> None:
    """Take in the steps of couplers, sleds and nose."""
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
                Step(
                    f"bulkheads-{coupler.name}", f"Fit bulkheads and eye bolt in {coupler.name}",
                    rank=34, reaches=(Reach(f"both ends of {coupler.name}", (out,)),),
                    after=("cut-flat",),
                    check="washers on both sides, nuts locked; a hard pull by hand",
                    cautions=(GLOVES,), parts=(coupler.name, *(b.name for b in inner)),
                ),
                40, SLOW,
            )  # fmt: skip
        makes.add(
            Step(
                f"coupler-{coupler.name}", f"Glue {coupler.name} into {tube.name}", rank=36,
                closes=(out,), after=(f"mark-{tube.name}",),
                check="straight: roll both tubes together on a flat table; slides in the other "
                      "tube",
                cautions=(GLOVES,), parts=(coupler.name, tube.name),
            ),
            20, SLOW,
        )  # fmt: skip
    for nose in of_kind(rocket, p.Nose):
        _nose(makes, nose)
    for sled in (x for x in of_kind(rocket, p.AddedMass) if x.role == "sled"):
        couplers = tuple(s.key for s in makes.steps if s.key.startswith("coupler-"))
        makes.add(
            Step(
                "sled", f"Fit the {sled.name}", rank=62, after=("cut-flat", *couplers),
                check="nothing moves when shaken; battery strapped down; switch reachable from "
                      "outside",
            ),
            60,
        )  # fmt: skip


def _nose(makes: Makes, nose: p.Nose) -> None:
    inside = f"the open base of {nose.name}"
    end = end_of(nose) + nose.shoulder_length_m
    plate = [b for b in of_kind(makes.rocket, p.Bulkhead) if b.station_m < end]
    ballast = [
        x for x in of_kind(makes.rocket, p.AddedMass) if x.role == "ballast" and x.station_m < end
    ]
    for part in ballast:
        makes.add(
            Step(
                f"ballast-{part.name}", f"Fix {part.name} in {nose.name}", rank=66,
                after=("dry-fit",),
                reaches=(Reach(f"the inside of {nose.name}", (inside,)),),
                check="cannot come loose at ejection: bolted or cast round a cross pin",
                cautions=(GLOVES,), parts=(part.name, nose.name),
            ),
            20, SLOW,
        )  # fmt: skip
    if plate or nose.plate:
        makes.add(
            Step(
                f"plate-{nose.name}", f"Close the base of {nose.name} with its plate", rank=67,
                after=("dry-fit",), closes=(inside,),
                check="rocket weighed and balanced first: ballast cannot be added later",
                cautions=(GLOVES,), parts=(nose.name, *(b.name for b in plate)),
            ),
            20, SLOW,
        )  # fmt: skip
