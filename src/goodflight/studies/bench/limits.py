"""How far a finished size may lie off the one drawn: a general class, and what must go together.

Sizes without limits: ISO 2768-1 class c, coarse (from memory). A size that another part enters has
limits worked out from that part and its glue: not so tight that it does not go in, not so wide that
the glue no longer fills it. For a guide's slots see `guide_sizes`.
"""

from typing import Final

from goodflight.constants import INCH_M
from goodflight.physics.vehicle import parts as p
from goodflight.quantity.said import Said, either
from goodflight.studies.bench.choices import Choices
from goodflight.studies.bench.places import FinCan, of_kind
from goodflight.studies.bench.shapes import Limits

GENERAL: Final = "ISO 2768-1 c"
COARSE: Final = (  # size up to [m], either way [m]; ISO 2768-1 table 1, class c, from memory
    (0.003, 0.0002),
    (0.006, 0.0003),
    (0.030, 0.0005),
    (0.120, 0.0008),
    (0.400, 0.0012),
    (1.000, 0.0020),
    (2.000, 0.0030),
)
GLUE_GAP_M: Final = 0.0003  # on one side, that thickened epoxy fills; practice, no source

SLIDE_M: Final = (0.0001, 0.0004)  # bore less outside, that slides by hand; practice, no source


def coarse_m(size_m: float) -> float:
    """What a size without limits may be off, either way [m]."""
    return next((off for most, off in COARSE if size_m <= most), COARSE[-1][1])


def around(size_m: float, inside_m: float) -> Limits:
    """Limits of a hole or slot that something narrower is glued into, `inside_m` wide."""
    gap = size_m - inside_m
    return -max(gap, 0.0), max(2.0 * GLUE_GAP_M - gap, 0.0)


def within(size_m: float, outside_m: float) -> Limits:
    """Limits of what is glued into something wider, `outside_m` wide."""
    gap = outside_m - size_m
    return -max(2.0 * GLUE_GAP_M - gap, 0.0), max(gap, 0.0)


def sliding(size_m: float, bore_m: float) -> Limits:
    """Limits of what slides in a bore by hand; both are below the size drawn where that is too
    tight, both above it where it is too loose."""
    gap = bore_m - size_m
    return gap - SLIDE_M[1], gap - SLIDE_M[0]


def slot_limits(can: FinCan, choices: Choices) -> tuple[Limits, Limits]:
    """Of the length and the width of a slot for a tab: the tab goes in, glue fills the rest."""
    c, fins = choices.clearance_m, can.fins
    return (
        (-c, coarse_m(fins.tab_length_m)),
        around(fins.thickness_m + c, fins.thickness_m),
    )


def tab_depth(can: FinCan) -> Limits | None:
    """Limits of how deep a tab reaches: never against the motor tube before the root sits."""
    if can.motor_tube is None or can.tab_m is None:
        return None
    fins = can.fins
    room = fins.body_radius_m - fins.tab_depth_m - can.motor_tube.outer_diameter_m / 2.0
    off = coarse_m(fins.tab_depth_m)
    return -off, min(max(room, 0.0), off)


def ring_limits(ring: p.Ring, can: FinCan | None) -> tuple[Limits | None, Limits | None]:
    """Of the outside in its tube, and of the bore on the motor tube."""
    if can is None or ring not in can.rings:
        return None, None
    motor = can.motor_tube
    bore = None if motor is None else around(ring.inner_diameter_m, motor.outer_diameter_m)
    return within(ring.outer_diameter_m, can.tube.inner_diameter_m), bore


def bulkhead_limits(bulkhead: p.Bulkhead, rocket: p.Rocket) -> Limits | None:
    """Of the outside, in the coupler or tube it is glued into."""
    couplers, tubes = of_kind(rocket, p.Coupler), of_kind(rocket, p.Tube)
    around_it: tuple[p.Coupler | p.Tube, ...] = (*couplers, *tubes)
    for tube in around_it:
        gap = tube.inner_diameter_m - bulkhead.diameter_m
        here = tube.station_m - 0.01 <= bulkhead.station_m <= tube.end_m + 0.01
        if here and 0.0 <= gap < 0.003:
            return within(bulkhead.diameter_m, tube.inner_diameter_m)
    return None


def limits_words(what: str, size_m: float, limits: Limits | None, after: str = "") -> Said:
    """`bore 41.2 mm, +0.4 -0.2`; with the general class where it has no limits of its own."""

    def words(unit: str, per_m: float, form: str) -> str:
        if limits is None:
            return f"{what} {size_m / per_m:.4g} {unit}, {GENERAL}{after}"
        below, above = (format(each / per_m, form) for each in limits)
        return f"{what} {size_m / per_m:.4g} {unit}, {above} {below}".replace("+0 ", "0 ") + after

    return either(words("mm", 1e-3, "+.2g"), words("in", INCH_M, "+.3f"))


def general_words() -> Said:
    """The general class with its figures, for a sheet."""

    def words(unit: str, per_m: float, digits: int) -> str:
        def told(size_m: float) -> str:
            return f"{size_m / per_m:.{digits}g}"

        steps = ", ".join(f"to {told(most)} {unit} ±{told(off)}" for most, off in COARSE)
        return (
            f"Sizes without limits: {GENERAL} ({steps}; from memory). Where limits stand beside a "
            "size, upper before lower, another part goes in there: they follow from that part, "
            f"from {told(GLUE_GAP_M)} {unit} of glue a side, from {told(SLIDE_M[0])} to "
            f"{told(SLIDE_M[1])} {unit} between outside and bore where it slides (both common "
            "practice, no source), and on the guide from the alignment that the ledger flies."
        )

    return either(words("mm", 1e-3, 4), words("in", INCH_M, 2))
