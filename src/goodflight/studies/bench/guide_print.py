"""The fin guide in one printed piece: a ring behind the roots, walls along every fin's sides."""

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from math import inf, pi
from typing import Annotated

from goodflight.physics.structure import guided_cant_rad
from goodflight.studies.bench.choices import Choices
from goodflight.studies.bench.guide_parts import directions, notch, polar
from goodflight.studies.bench.guides import (
    FREE_M,
    WIDER_BEHIND,
    cut_out_m,
    guide_for,
    no_hold,
    relief_for,
)
from goodflight.studies.bench.holds import best_pair
from goodflight.studies.bench.places import FinCan
from goodflight.studies.bench.planes import Area, area, bar, box, disc, joined
from goodflight.studies.bench.shapes import DoesNotFitError
from goodflight.studies.bench.wrap import body_diameter_m

CHORD_M = 2e-5
WALL_M = 0.003
HOLD_M = 0.004  # length along the root held at either end


@dataclass(frozen=True)
class Prism:
    """A plane figure given height."""

    figure: Area
    low_m: float
    high_m: float


@dataclass(frozen=True)
class PrintedGuide:
    """A guide in one printed piece: a ring behind the fins and walls along both sides of each."""

    prisms: tuple[Prism, ...]
    seat: Annotated[str, "what it sits on"]
    slot_width_m: float
    held_m: float  # length along the root
    reach_m: float  # radius of the walls' outer edge
    clearance_m: float
    rear_m: float  # station of the ring's rear face

    @property
    def fin_bound_rad(self) -> float:
        """Cant of one fin from clearance alone; the piece has no twist of its own."""
        return guided_cant_rad(self.clearance_m, 0.0, self.reach_m, self.held_m)


def printed_guide(can: FinCan, choices: Choices) -> PrintedGuide:
    """A guide in one printed piece, so that nothing can turn against anything.

    A ring lies behind the roots; walls run forward from it along both sides of every fin, sit on
    the body between the fins, and are tied by an arch that stays clear of fillets and rail guides.
    Trailing edges that reach back over the ring have slots in it.

    Parameters
        can : FinCan - fins and tube. [-]
        choices : Choices - clearance, bed. [SI]
    Returns
        guide : PrintedGuide - prisms, z forward from the ring's rear face. [m]
    Raises
        DoesNotFitError - the piece is wider than the bed, holds no flat of the finished fin, or
            cannot slide on from behind
    Validity
        Straight prisms: untwisted by shape; the printer's own error is not in it.
    Source
        Own design.
    Example
        none
    """
    c, wall, radius = choices.clearance_m, WALL_M, body_diameter_m(can.tube, choices) / 2.0
    cut = cut_out_m(can)
    relief = relief_for(can, can.root_m[0])
    arch = radius + max(cut, relief[1] if relief else 0.0) + 0.001
    reach = min(max(arch + wall + 0.006, radius + 0.4 * can.span_m), choices.bed_m / 2 - 0.002)
    if can.wider_behind:
        raise DoesNotFitError(WIDER_BEHIND)
    if reach < arch + wall:
        raise DoesNotFitError(
            f"the printed guide is {2e3 * (arch + wall):.0f} mm wide; the bed is "
            f"{1e3 * choices.bed_m:.0f} mm. Use the guide cut from sheet."
        )
    front, high, bare = _ring_place(can, c)
    heights = (cut, reach - radius)
    pair = best_pair(can.fins, HOLD_M, heights, (can.root_m[0], front), (c, 0.0, radius))
    if pair is None:
        raise DoesNotFitError(no_hold(can, HOLD_M, cut))
    passing = [notch(radius, relief, can.button_angle_rad)] if relief else []
    walls = _walls(can, (radius, arch, reach), wall, cut, c).difference(joined(passing))
    outer = disc((0.0, 0.0), arch + wall, CHORD_M)
    ring = outer.difference(joined([disc((0.0, 0.0), radius + c / 2, CHORD_M), *passing]))
    if bare < arch + wall:
        long, slot = arch + wall + 0.01 - bare, can.fins.thickness_m + c
        ring = ring.difference(
            joined(
                [
                    bar(polar(bare + long / 2, angle), long, slot, angle)
                    for angle in directions(can.fins.count)
                ]
            )
        )
    if joined((ring, walls)).geom_type != "Polygon":
        raise DoesNotFitError(
            f"{can.fins.count} fins {1e3 * can.fins.thickness_m:.1f} mm thick on "
            f"{2e3 * radius:.0f} mm diameter cut the printed guide into pieces. Set the fins by a "
            "straight edge and measure them."
        )
    total = high + front - (pair.fore.station_m - HOLD_M / 2.0)
    return PrintedGuide(
        prisms=(Prism(ring, 0.0, high), Prism(walls, 0.0, total)),
        seat=f"body, {2e3 * radius:.1f} mm",
        slot_width_m=can.fins.thickness_m + c,
        held_m=pair.apart_m,
        reach_m=reach,
        clearance_m=c,
        rear_m=front + high,
    )


def guide_kind(can: FinCan, choices: Choices) -> str:
    """The guide that holds these fins: "sheet", else "print", else none at all, ""."""
    ways: tuple[tuple[str, Callable[[FinCan, Choices], object]], ...] = (
        ("sheet", guide_for),
        ("print", printed_guide),
    )
    for kind, make in ways:
        with suppress(DoesNotFitError):
            make(can, choices)
            return kind
    return ""


def _ring_place(can: FinCan, c: float) -> tuple[float, float, float]:
    """Station of the ring's front face, its height, and the radius from which fins reach it."""
    fins, tail, rear = can.fins, can.tube.end_m, can.root_m[1]
    behind = tail - rear
    high = min(0.008, behind - 0.001) if behind >= 0.006 else 0.006
    inside = WALL_M + c / 2 + FREE_M  # of the ring stays whole below the fins
    fin = area(fins.outline_m)
    near = fin.intersection(box(-1.0, 0.0, 2.0, inside)).bounds[2]
    lead = (behind - high) / 2 if behind >= 0.006 else behind
    front = max(rear + lead, fins.station_m + near + FREE_M + 1e-4)
    over = fin.intersection(box(front - fins.station_m - FREE_M, -1.0, 2.0, 2.0))
    low = fins.body_radius_m + over.bounds[1] - FREE_M if over.area > 0.0 else inf
    return front, high, low


def _walls(
    can: FinCan, radii: tuple[float, float, float], wall: float, cut: float, c: float
) -> Area:
    """Cross-section of the walls along the fins, with arches, struts and the inner seat."""
    radius, arch, reach = radii
    slot, count = can.fins.thickness_m + c, can.fins.count
    rings = [
        disc((0.0, 0.0), high, CHORD_M).difference(disc((0.0, 0.0), low, CHORD_M))
        for low, high in ((radius + c / 2, radius + c / 2 + wall), (arch, arch + wall))
    ]
    solid, holes = list(rings), []
    for angle in directions(count):
        long = reach - radius
        at = polar(radius + long / 2, angle)
        solid.append(bar(at, long, slot + 2 * wall, angle))
        holes.append(bar(polar(reach / 2, angle), reach + 0.01, slot, angle))
        holes.append(disc(polar(radius, angle), cut, CHORD_M))
        for side in (-0.45, 0.45):
            strut = angle + pi / count + side * pi / count
            solid.append(bar(polar((radius + arch) / 2 + 0.001, strut), arch - radius, wall, strut))
    holes.append(disc((0.0, 0.0), radius + c / 2, CHORD_M))
    return joined(solid).difference(joined(holes))
