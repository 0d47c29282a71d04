"""Fin guides whose plates cannot be clocked against each other: size, bound of twist, alignment.

Two (or more) equal plates slide over body and fins, one near the front of the root and one near
its rear. Loose plates can turn against each other, which leans every fin the same way and spins
the rocket. Here flat keys stand between the fins, square to the radius, with a shouldered tab
through each plate: a key is stiff in its own plane, so a plate turns against the other only by
the clearance of the tabs. Left out: bending of plates and keys, fins that are not flat.

With tabs of length w in slots of length w + c, evenly spread at radius R, any turn p of one plate
against the other, with any shift, moves at least one slot by R sin p along its key (the shifts
sum to zero over the keys), and the key allows c (1 + sin p / 2): sin p <= c / (R - c/2).
"""

from dataclasses import dataclass
from math import asin, pi, sqrt, tan

from goodflight.physics.vehicle import panel
from goodflight.studies.bench.choices import Choices
from goodflight.studies.bench.outlines import DoesNotFitError
from goodflight.studies.bench.places import FinCan

RIM_M = 0.010  # of the plate beyond the fin tips
WALL_M = 0.006  # least material beside a key slot
LONGEST_M = 0.28  # between plates; longer roots get one more plate
TIP_GAP_M = 0.003


@dataclass(frozen=True)
class Guide:
    """A keyed guide for one fin set, SI. Stations are the middles of the plates."""

    count: int  # fins
    seat_radius_m: float
    bore_m: float  # diameter
    slot_width_m: float
    slot_end_m: float  # radius
    plate_radius_m: float
    plate_m: float  # thickness
    stations_m: tuple[float, ...]
    key_radius_m: float  # middle of the key's thickness
    key_width_m: float  # between the shoulders' outer edges
    tab_m: float  # length of a tab along the key's width
    key_slot_m: tuple[float, float]  # length and width of the slot for a tab
    cut_out_m: float  # radius left free round the root for the fillets
    relief_m: tuple[float, float] | None  # width and depth of the notch for a rail guide
    clearance_m: float
    centroid_radius_m: float  # of a fin's area, from the axis

    @property
    def apart_m(self) -> float:
        """Distance of the outer plates, middle to middle."""
        return self.stations_m[-1] - self.stations_m[0]

    @property
    def key_length_m(self) -> float:
        """Between the shoulders: the clear distance of the outer plates."""
        return self.apart_m - self.plate_m


@dataclass(frozen=True)
class Alignment:
    """What a guide leaves open, as bounds of clearance and as one standard deviation."""

    twist_bound_rad: float  # of one plate against the other
    fin_bound_rad: float  # cant of one fin, from clearance alone
    single_sigma_rad: float  # of each fin by itself
    common_sigma_rad: float  # of all fins together
    alignment_rad: float  # to write as the fins' `alignment`


def twist_bound_rad(clearance_m: float, key_radius_m: float) -> float:
    """Largest turn of one plate against the other with all keys in their slots.

    Parameters
        clearance_m : float - key slot longer than the tab, whole. [m]
        key_radius_m : float - of the keys from the axis. [m]
    Returns
        twist : float - either way from true. [rad]
    Raises
        ValueError - clearance above half the radius
    Validity
        Two or more keys evenly spread, rigid, seated on their shoulders; tab much longer than
        thick.
    Source
        Derived, see the head of this module.
    Example
        >>> round(twist_bound_rad(0.0002, 0.1) * 180 / pi, 4)
        0.1147
    """
    if clearance_m > key_radius_m / 2.0:
        raise ValueError(
            f"a clearance of {1e3 * clearance_m:.1f} mm is too loose for keys at "
            f"{1e3 * key_radius_m:.1f} mm from the axis; give less than a millimetre."
        )
    return asin(clearance_m / (key_radius_m - clearance_m / 2.0))


def plate_stations(root_m: tuple[float, float], plate_m: float) -> tuple[float, ...]:
    """Middles of the plates: just inside both ends of the root, more when they are far apart."""
    inset = plate_m / 2.0 + 0.005
    fore, aft = root_m[0] + inset, root_m[1] - inset
    if aft - fore < 4.0 * plate_m:
        raise DoesNotFitError(
            f"the root is {1e3 * (root_m[1] - root_m[0]):.0f} mm long; two plates "
            f"{1e3 * plate_m:.1f} mm thick stand too close to hold a fin straight. "
            "Take thinner sheet for the guide."
        )
    spaces = 1
    while (aft - fore) / spaces > LONGEST_M:
        spaces += 1
    return tuple(fore + (aft - fore) * i / spaces for i in range(spaces + 1))


def guide_for(can: FinCan, choices: Choices) -> Guide:
    """Size a keyed guide for a fin set.

    Parameters
        can : FinCan - fins, tube and what sits inside. [-]
        choices : Choices - plate thickness, clearance, where it sits. [SI]
    Returns
        guide : Guide - plates, keys, slots. [m]
    Raises
        DoesNotFitError - no motor tube to sit on, root too short, no room for keys between fins
    Validity
        Fins on a straight tube.
    Source
        Own design.
    Example
        none
    """
    fins, c, thick = can.fins, choices.clearance_m, choices.plate_m
    radius, root = _seat(can, choices)
    tip = fins.body_radius_m + can.span_m
    plate_radius = tip + TIP_GAP_M + RIM_M
    width = 0.050
    key_radius = sqrt((plate_radius - WALL_M) ** 2 - (width / 2) ** 2) - thick / 2
    room = key_radius * tan(pi / fins.count) if fins.count > 2 else key_radius
    most = 2.0 * (room - fins.thickness_m - WALL_M)
    width = min(width, most)
    if width < 0.020 or key_radius < fins.body_radius_m + 0.012:
        raise DoesNotFitError(
            f"{fins.count} fins of {1e3 * can.span_m:.0f} mm span leave "
            f"{1e3 * max(0.0, most):.0f} mm between them for a key, 20 mm is the least. "
            "Use the printed guide."
        )
    tab = width - 0.012
    buttons = can.buttons
    inside = buttons and root[0] - 0.02 <= buttons.aft_station_m
    relief = (0.016, buttons.height_m + 0.002) if buttons and inside else None
    shape = panel(fins.outline_m)
    return Guide(
        fins.count, radius, 2 * radius + c, fins.thickness_m + c, tip + TIP_GAP_M, plate_radius,
        thick, plate_stations(root, thick), key_radius, width, tab, (tab + c, thick + c),
        max(fins.fillet_radius_m + 0.002, 0.006), relief if choices.seat == "body" else None, c,
        fins.body_radius_m + shape.w_m,
    )  # fmt: skip


def _seat(can: FinCan, choices: Choices) -> tuple[float, tuple[float, float]]:
    """Radius the guide sits on, and the stations between which fins meet it."""
    if choices.seat == "body":
        return can.fins.body_radius_m, can.root_m
    if can.motor_tube is None or can.tab_m is None:
        raise DoesNotFitError(
            "a guide on the motor tube needs a motor tube and fins with tabs; the project has not "
            'both. Write seat = "body" in [bench] of build.toml.'
        )
    return can.motor_tube.outer_diameter_m / 2.0, can.tab_m


def alignment_of(guide: Guide, cut_error_m: float, stacked: bool = True) -> Alignment:
    """How straight fins come out of the guide.

    Clearance is taken as evenly spread within its bound; cut edges stray by `cut_error_m` each.
    Plates cut as one stack share the places of their slots, so only keys and clearance are left.
    A common cant counts N times in the equivalent spread of one fin, as it does not average out.

    Parameters
        guide : Guide - the guide. [m]
        cut_error_m : float - one standard deviation of a cut edge's place. [m]
        stacked : bool - both plates cut in one stack. [-]
    Returns
        alignment : Alignment - bounds and spreads; `alignment_rad` is what the ledger's spin row
            takes as the spread of one fin. [rad]
    Raises
        ValueError - see twist_bound_rad
    Validity
        Small angles, flat fins, plates square to the axis by the keys' shoulders.
    Source
        Derived; uniform spread c / sqrt 3.
    Example
        none
    """
    twist = twist_bound_rad(guide.clearance_m, guide.key_radius_m)
    apart, arm = guide.apart_m, guide.centroid_radius_m
    bound = (guide.clearance_m + twist * arm) / apart
    edges = 1.0 if stacked else 3.0
    turn_sigma = sqrt(
        twist**2 / 3.0 + edges * cut_error_m**2 / (guide.count * guide.key_radius_m**2)
    )
    slots = 0.0 if stacked else 2.0 * cut_error_m**2
    single = sqrt(2.0 * (guide.clearance_m / 2.0) ** 2 / 3.0 + slots) / apart
    common = turn_sigma * arm / apart
    return Alignment(twist, bound, single, common, sqrt(single**2 + guide.count * common**2))


def measured_alignment(
    cants_rad: tuple[float, ...], reading_sigma_rad: float = 0.0017
) -> tuple[float, float]:
    """Mean cant of a finished fin can, and the spread that is left: that of the readings.

    Parameters
        cants_rad : tuple of float - cant of every fin, same sense. [rad]
        reading_sigma_rad : float - of one reading, 0.1 deg by default. [rad]
    Returns
        mean, sigma : float, float - to write as the fins' `cant` and `alignment`. [rad]
    Raises
        ValueError - no reading
    Validity
        Spin follows the mean cant.
    Source
        Statistics of a mean; the reading's spread is a guess.
    Example
        >>> measured_alignment((0.002, 0.004, 0.0))[0]
        0.002
    """
    if not cants_rad:
        raise ValueError("no cant was given; measure every fin and list them as measured_cant.")
    return sum(cants_rad) / len(cants_rad), reading_sigma_rad
