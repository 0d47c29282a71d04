"""What goes into what along the body: shoulder and couplers in their tubes, glued or sliding.

Left out: a part whose outside and bore are not in the file, or are too far apart to fit at all.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, ClassVar, Final

from goodflight.physics.vehicle import parts as p
from goodflight.project.designed import DesignedRocket
from goodflight.project.head.separation import Separation
from goodflight.quantity.said import Said, said
from goodflight.studies.bench.bay_steps import holder
from goodflight.studies.bench.limits import limits_words, sliding, within
from goodflight.studies.bench.places import of_kind, tube_at
from goodflight.studies.bench.shapes import Limits

FAR_M: Final = 0.003  # of outside and bore: not meant for each other
NEAR_M: Final = 0.001  # along the axis, that a joint is off where parts meet
GLUED: Final = said("glued")
SLIDES: Final = said("slides in by hand, does not rattle: sand, or tape; the fit does not hold it")


@dataclass(frozen=True)
class Fit:
    """One part in another. limits_m : of the outside, least and most [m]."""

    HEADING: ClassVar = "fit"
    name: Annotated[str, "the part that goes in"]
    into: Annotated[str, "the tube around it"]
    outside_m: Annotated[float, "its outside as drawn [m]"]
    bore_m: Annotated[float, "of the tube [m]"]
    limits_m: Annotated[Limits, "of the outside, below and above what is drawn [m]"]
    how: Annotated[Said, "glued, or how it slides and what sets it"]

    @property
    def words(self) -> str:
        """`dia. 75.8 mm, +0.1 -0.2`."""
        return str(limits_words("dia.", self.outside_m, self.limits_m))


def fits(rocket: DesignedRocket) -> tuple[Fit, ...]:
    """Every shoulder and coupler in its tubes, front to back."""
    return tuple(each for each in _fits(rocket) if abs(each.bore_m - each.outside_m) < FAR_M)


def _fits(rocket: DesignedRocket) -> Iterator[Fit]:
    for nose in of_kind(rocket, p.Nose):
        end = nose.end_m
        tube = tube_at(rocket, end + NEAR_M)
        if tube is None or min(nose.shoulder_length_m, nose.shoulder_diameter_m) <= 0.0:
            continue
        yield _slides(
            rocket, f"shoulder of {nose.name}", nose.shoulder_diameter_m, tube, (end, end)
        )
    for coupler in of_kind(rocket, p.Coupler):
        glued_in, size = holder(rocket, coupler), coupler.outer_diameter_m
        for tube in of_kind(rocket, p.Tube):
            ends = max(coupler.station_m, tube.station_m), min(coupler.end_m, tube.end_m)
            if ends[1] - ends[0] < NEAR_M:
                continue
            if tube is not glued_in:
                yield _slides(rocket, coupler.name, size, tube, ends)
                continue
            bore = tube.inner_diameter_m
            yield _fit(coupler.name, tube, size, limits_m=within(size, bore), how=GLUED)


def _fit(name: str, tube: p.Tube, size_m: float, limits_m: Limits, how: Said) -> Fit:
    return Fit(
        name=name,
        into=tube.name,
        outside_m=size_m,
        bore_m=tube.inner_diameter_m,
        limits_m=limits_m,
        how=how,
    )


def _slides(
    rocket: DesignedRocket, name: str, size_m: float, tube: p.Tube, ends_m: tuple[float, float]
) -> Fit:
    """A part that slides; ends_m : stations between which it lies in this tube."""
    bore, how = tube.inner_diameter_m, SLIDES
    for station, held in (
        (rocket.separation_station_m, rocket.separation),
        (rocket.main_station_m, rocket.main_separation),
    ):
        if station is not None and min(abs(station - end) for end in ends_m) < NEAR_M:
            how = _parts(held)
    return _fit(name, tube, size_m, limits_m=sliding(size_m, bore), how=how)


def _parts(held: Separation) -> Said:
    told = "separates here: the pull sets its fit ({}): sand, or tape, and pull again"
    if held.pull_n is None:
        return said(told.format("no pull is in the file yet"))
    return said(told.format("{pull} in the file"), pull=(held.pull_n.value, "force"))
