"""What of a rocket cannot be cut or drilled as it is written, said before anything is printed.

What does not go together (bores, outsides, tabs) is refused when the project is read; here stands
what only the bench meets: rings across the slots, holes off their part.
"""

from collections.abc import Iterator
from typing import Final

from goodflight.physics.vehicle import parts as p
from goodflight.quantity import show
from goodflight.studies.bench.anchors import anchor_holes
from goodflight.studies.bench.choices import Choices
from goodflight.studies.bench.outlines import notch_radius_m
from goodflight.studies.bench.places import FinCan, fin_can, of_kind
from goodflight.studies.bench.shapes import DoesNotFitError

MIN_RIM_M: Final = 0.003  # of ply left between a notch or hole and an edge; practice, no source


def unbuildable(rocket: p.Rocket, choices: Choices) -> tuple[str, ...]:
    """Why parts of a rocket cannot be made, one sentence each with what to do.

    Parameters
    ----------
    rocket : Rocket - as flown. [-]
    choices : Choices - clearances, holes, bolt circle. [SI]

    Returns
    -------
    reasons : tuple of str - empty when everything can be made. [-]
    """
    can = fin_can(rocket)
    found = [*_holes(rocket, choices)]
    if can is not None:
        found += [*_rings(can, choices), *_bolts(can, choices)]
        for ring in can.rings:
            try:
                anchor_holes(ring, rocket, can)
            except DoesNotFitError as error:
                found.append(f"{ring.name}: {error}".rstrip("."))
    return tuple(found)


def refuse_unbuildable(rocket: p.Rocket, choices: Choices) -> None:
    """Raise DoesNotFitError with all that cannot be made."""
    reasons = unbuildable(rocket, choices)
    if reasons:
        raise DoesNotFitError(f"cannot be made: {'; '.join(reasons)}.")


def _mm(length_m: float) -> str:
    return show(length_m, "length", unit="mm")


def _rings(can: FinCan, choices: Choices) -> Iterator[str]:
    """Rings that the tabs pass through and that a notch for each would cut up."""
    tab = can.tab_m
    for ring in can.rings:
        radius = notch_radius_m(can, ring, choices)
        if tab is None or radius is None:
            continue
        rim = radius - ring.inner_diameter_m / 2.0
        if rim >= MIN_RIM_M:
            continue
        left = f"{_mm(rim)} of rim" if rim > 0.0 else f"{can.fins.count} loose pieces"
        yield (
            f"{ring.name} at {_mm(ring.station_m)} stands across the slots, and notched for the "
            f"tabs it would be left with {left}: move it ahead of "
            f"{_mm(tab[0] - ring.thickness_m)} or behind {_mm(tab[1])}, or shorten the tab"
        )


def _bolts(can: FinCan, choices: Choices) -> Iterator[str]:
    """Bolts of the bolt circle that would break out of the rearmost ring."""
    if not (can.rings and choices.bolts and choices.bolt_circle_m):
        return
    ring, bolt = can.rings[-1], choices.bolt_m
    least = ring.inner_diameter_m + bolt + 2.0 * MIN_RIM_M
    most = ring.outer_diameter_m - bolt - 2.0 * MIN_RIM_M
    if least > most:
        yield f"{ring.name} is too narrow for bolts of {_mm(bolt)}: take smaller ones"
    elif not least <= choices.bolt_circle_m <= most:
        yield (
            f"bolt_circle {_mm(choices.bolt_circle_m)} breaks out of {ring.name}: take "
            f"{_mm(least)} to {_mm(most)}"
        )


def _holes(rocket: p.Rocket, choices: Choices) -> Iterator[str]:
    """Holes of the builder's own that lie off every tube, or over its end."""
    tubes = of_kind(rocket, p.Tube)
    for hole in choices.holes:
        half = (hole.length_m or hole.diameter_m) / 2.0
        fore, aft = hole.station_m - half, hole.station_m + half
        if any(tube.station_m <= fore and aft <= tube.end_m for tube in tubes):
            continue
        rooms = ", ".join(f"{t.name} {_mm(t.station_m)} to {_mm(t.end_m)}" for t in tubes)
        yield (f"{hole.name} ({_mm(fore)} to {_mm(aft)}) is not within one tube: {rooms or 'none'}")
