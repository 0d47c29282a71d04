"""Steps of the nose: ballast, and the plate that closes its base."""

from goodflight.physics.vehicle import parts as p
from goodflight.studies.bench.gluing import SLOW
from goodflight.studies.bench.making import GLOVES, Makes
from goodflight.studies.bench.order import Reach, Step
from goodflight.studies.bench.places import of_kind


def nose_steps(makes: Makes) -> None:
    """Take in the steps of every nose."""
    for nose in of_kind(makes.rocket, p.Nose):
        _nose(makes, nose)


def _nose(makes: Makes, nose: p.Nose) -> None:
    inside = f"the open base of {nose.name}"
    end = nose.end_m + nose.shoulder_length_m
    plate = [b for b in of_kind(makes.rocket, p.Bulkhead) if b.station_m < end]
    loose = bool(plate) and all(b.removable is True for b in plate)
    ballast = [
        x for x in of_kind(makes.rocket, p.AddedMass) if x.role == "ballast" and x.station_m < end
    ]
    for part in ballast:
        makes.add(
            Step(
                f"ballast-{part.name}",
                f"Fix {part.name} in {nose.name}",
                rank=66,
                after=("dry-fit",),
                reaches=(Reach(f"the inside of {nose.name}", (inside,)),),
                check="cannot come loose at ejection: bolted or cast round a cross pin",
                cautions=(GLOVES,),
                parts=(part.name, nose.name),
            ),
            20,
            SLOW,
        )
    if plate or nose.plate:
        makes.add(
            Step(
                f"plate-{nose.name}",
                f"Fit the plate in the base of {nose.name}, to come off again"
                if loose
                else f"Close the base of {nose.name} with its plate",
                rank=67,
                after=("dry-fit",),
                closes=() if loose else (inside,),
                check="held by screws; comes off and goes back on"
                if loose
                else "rocket weighed and balanced first: ballast cannot be added later",
                cautions=() if loose else (GLOVES,),
                parts=(nose.name, *(b.name for b in plate)),
            ),
            20,
            None if loose else SLOW,
        )
