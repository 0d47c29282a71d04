"""Fin guides whose plates cannot be clocked against each other: size, bound of twist, alignment.

Two (or more) equal plates slide over body and fins and stand where the finished fin holds in both:
beyond the fillets, clear of bevels, at the same height over the body (`holds`). Loose plates can
turn against each other, which leans every fin the same way and spins the rocket. Here flat keys
stand between the fins, square to the radius, with a shouldered tab through each plate: a key is
stiff in its own plane, so a plate turns against the other only by the clearance of the tabs. The
key between fins 1 and 2 stands off its middle, the same in all plates: turned by a fin or turned
over, a plate takes no keys. Left out: bending of plates and keys, fins that are not flat.
"""

from dataclasses import dataclass
from math import cos, degrees, pi, sqrt, tan

from goodflight.physics.structure import (
    KeyedPlates,
    guided_cant_rad,
    guided_spread_rad,
    key_turn_rad,
)
from goodflight.physics.vehicle import parts as p
from goodflight.project.defaults import ALIGNMENT_RAD
from goodflight.studies.bench.choices import Choices
from goodflight.studies.bench.holds import HELD_M, Pair, best_pair, flat_of
from goodflight.studies.bench.nesting import MARGIN_M, stock_for
from goodflight.studies.bench.outlines import bevel_m
from goodflight.studies.bench.places import FinCan, fin_can
from goodflight.studies.bench.planes import box
from goodflight.studies.bench.shapes import DoesNotFitError
from goodflight.studies.bench.wrap import body_diameter_m

RIM_M = 0.010  # of the plate beyond the fin tips
WALL_M = 0.006  # least material beside a key slot
LONGEST_M = 0.28  # between plates; longer roots get one more plate
TIP_GAP_M = 0.003
KEY_M = 0.050  # widest key
LEAST_KEY_M = 0.020
SHIFT_M = 0.003  # of the key between fins 1 and 2 off its middle
SEAT_M = 0.006  # least of the seat's arc left between two fillet cut-outs
CUT_OUT_M = 0.006  # least radius left free round the root
FREE_M = 0.0015  # between fillet or rail guide and what slides past
RELIEF_M = 0.016  # width of the notch for a rail guide
GUIDE_LONG_M = 0.030  # how far a rail guide may reach from its screw, along the body


@dataclass(frozen=True)
class Guide:
    """A keyed guide for one fin set, SI. Stations are the middles of the plates."""

    count: int  # fins
    seat: str  # body or motor_tube
    seat_radius_m: float
    bore_m: float  # diameter
    slot_width_m: float
    slot_end_m: float  # radius
    plate_radius_m: float
    trimmed: bool  # outline drawn in between the fins, to go on the sheet
    plate_m: float  # thickness
    stations_m: tuple[float, ...]
    pair: Pair  # where the outer plates hold the finished fin
    body_radius_m: float
    key_radius_m: float  # middle of the key's thickness
    key_width_m: float  # between the shoulders' outer edges
    key_shift_m: float  # of the key between fins 1 and 2, towards fin 2
    tab_m: float  # length of a tab along the key's width
    key_slot_m: tuple[float, float]  # length and width of the slot for a tab
    cut_out_m: float  # radius left free round the root for the fillets
    relief_m: tuple[float, float] | None  # width and depth of the notch for a rail guide
    relief_rad: float  # its direction from fin 1
    clearance_m: float

    @property
    def apart_m(self) -> float:
        """Distance of the outer plates, middle to middle."""
        return self.pair.apart_m

    @property
    def key_length_m(self) -> float:
        """Between the shoulders: the clear distance of the outer plates."""
        return self.apart_m - self.plate_m

    @property
    def turn_bound_rad(self) -> float:
        """Most that one plate turns against the other."""
        return key_turn_rad(self.clearance_m, self.key_radius_m)


@dataclass(frozen=True)
class Alignment:
    """What a guide leaves open, as bounds of clearance and as one standard deviation."""

    twist_bound_rad: float  # of one plate against the other
    fin_bound_rad: float  # cant of one fin, from clearance alone
    single_sigma_rad: float  # of each fin by itself
    common_sigma_rad: float  # of all fins together
    alignment_rad: float  # to write as the fins' `alignment`


def cut_out_m(can: FinCan) -> float:
    """Radius round the root's middle that stays clear of a fillet on either side of the fin."""
    fins = can.fins
    return max(fins.fillet_radius_m + fins.thickness_m / 2.0 + FREE_M, CUT_OUT_M)


def relief_for(can: FinCan, front_m: float) -> tuple[float, float] | None:
    """Width and depth of the notch for rail guides behind the front of what slides on."""
    buttons = can.buttons
    if buttons is None or buttons.aft_station_m + GUIDE_LONG_M < front_m:
        return None
    return RELIEF_M, buttons.height_m + FREE_M


def guide_for(can: FinCan, choices: Choices) -> Guide:
    """Size a keyed guide for a fin set.

    Parameters
        can : FinCan - fins, tube and what sits inside. [-]
        choices : Choices - plate thickness, clearance, where it sits, sheets. [SI]
    Returns
        guide : Guide - plates, keys, slots. [m]
    Raises
        DoesNotFitError - no motor tube to sit on, no two places that hold the finished fin, no
            room for keys between fins, or no straighter than by hand
    Validity
        Fins on a straight tube.
    Source
        Own design.
    Example
        none
    """
    fins, c, thick = can.fins, choices.clearance_m, choices.plate_m
    radius, between = _seat(can, choices)
    slot_end = fins.body_radius_m + can.span_m + TIP_GAP_M
    plate_radius = slot_end + RIM_M
    stock = stock_for("sheet", thick, choices.stock)
    room = min(stock.width_m, stock.height_m) - 2.0 * MARGIN_M
    trimmed = 2.0 * plate_radius > room
    width, key_radius = _key(can, thick, plate_radius, trimmed)
    cut_out, turn = cut_out_m(can), key_turn_rad(c, key_radius)
    from_m = radius + cut_out - fins.body_radius_m
    pair = best_pair(fins, thick, (from_m, slot_end), between, (c, turn, fins.body_radius_m))
    if pair is None:
        raise DoesNotFitError(no_hold(can, thick, from_m))
    front = pair.fore.station_m - thick / 2.0
    relief = relief_for(can, front) if choices.seat == "body" else None
    _check_room(fins.count, radius, cut_out, relief, key_radius - thick / 2.0)
    spaces = 1
    while pair.apart_m / spaces > LONGEST_M:
        spaces += 1
    stations = tuple(pair.fore.station_m + pair.apart_m * i / spaces for i in range(spaces + 1))
    tab = width - 0.012
    guide = Guide(
        count=fins.count,
        seat=choices.seat,
        seat_radius_m=radius,
        bore_m=2 * radius + c,
        slot_width_m=fins.thickness_m + c,
        slot_end_m=slot_end,
        plate_radius_m=plate_radius,
        trimmed=trimmed,
        plate_m=thick,
        stations_m=stations,
        pair=pair,
        body_radius_m=fins.body_radius_m,
        key_radius_m=key_radius,
        key_width_m=width,
        key_shift_m=SHIFT_M,
        tab_m=tab,
        key_slot_m=(tab + c, thick + c),
        cut_out_m=cut_out,
        relief_m=relief,
        relief_rad=can.button_angle_rad,
        clearance_m=c,
    )
    good = alignment_of(guide, choices.cut_error_m).alignment_rad
    if good >= ALIGNMENT_RAD:
        raise DoesNotFitError(
            f"plates {1e3 * pair.apart_m:.0f} mm apart, the most this fin allows, hold it to "
            f"{degrees(good):.1f} deg, no straighter than by hand ({degrees(ALIGNMENT_RAD):.1f} "
            f"deg). {_INSTEAD}"
        )
    return guide


def _check_room(
    count: int, radius: float, cut_out: float, relief: tuple[float, float] | None, key: float
) -> None:
    """Refuse a plate whose cut-outs leave no seat, or whose notch reaches the keys."""
    if 2.0 * (pi * radius / count - cut_out) < SEAT_M:
        raise DoesNotFitError(
            f"{count} fillet cut-outs of {1e3 * cut_out:.1f} mm leave no seat on "
            f"{2e3 * radius:.0f} mm diameter. Glue the fins in the guide first and lay the fillets "
            "when it is off: leave fillet_radius away while you print it."
        )
    if relief and radius + relief[1] + WALL_M > key:
        raise DoesNotFitError(
            f"the rail guide needs {1e3 * relief[1]:.0f} mm over the body and reaches the guide's "
            f"key at {1e3 * key:.0f} mm from the axis. Fit it after the fins, and leave the part "
            "away while you print the guide."
        )


_INSTEAD = (
    "Set the fins by a straight edge along each root, measure every fin and list the angles as "
    "measured_cant; until then leave alignment as for fins set by hand."
)


WIDER_BEHIND = (
    "the body is wider behind the fins: no guide slides on from the tail. Write "
    'seat = "motor_tube" in [bench] of build.toml, or glue the fins on before what is behind them.'
)


def fillet_room_m(guide: Guide) -> float:
    """Largest radius of fillets that the cut-outs clear."""
    return guide.cut_out_m - (guide.slot_width_m - guide.clearance_m) / 2.0 - FREE_M


def _key(can: FinCan, thick: float, plate_radius: float, trimmed: bool) -> tuple[float, float]:
    """Width of a key and its distance from the axis: as far out as plate and fins allow."""
    fins = can.fins

    def out(width: float) -> float:
        if trimmed:  # the straight side between two lobes
            return (plate_radius - RIM_M) * cos(pi / fins.count) + RIM_M - WALL_M - thick / 2.0
        return sqrt((plate_radius - WALL_M) ** 2 - (width / 2.0 + SHIFT_M) ** 2) - thick / 2.0

    radius = out(KEY_M)
    near = radius - thick / 2.0
    room = near * tan(pi / fins.count) if fins.count > 2 else near
    beside = fins.thickness_m / 2.0 / (cos(pi / fins.count) if fins.count > 2 else 1.0)
    most = 2.0 * (room - beside - WALL_M - SHIFT_M)
    width = min(KEY_M, most)
    if width < LEAST_KEY_M or radius < fins.body_radius_m + 0.012:
        raise DoesNotFitError(
            f"{fins.count} fins of {1e3 * can.span_m:.0f} mm span leave "
            f"{1e3 * max(0.0, most):.0f} mm between them for a key, "
            f"{1e3 * LEAST_KEY_M:.0f} mm is the least. Use the printed guide."
        )
    return width, radius


def no_hold(can: FinCan, thick: float, from_m: float) -> str:
    """Why no two plates hold the finished fin, with the figures, and what to do."""
    fins = can.fins
    if fins.edges == "faired":
        return f"faired fins have no flat for a slot to hold. {_INSTEAD}"
    flat = flat_of(fins).intersection(box(-1.0, 0.0, 9.0, 9.0))
    left, _, right, high = (0.0,) * 4 if flat.is_empty else flat.bounds
    return (
        f"nowhere do two slots {1e3 * thick:g} mm long and {4e3 * thick:.0f} mm apart hold this "
        f"fin over {1e3 * HELD_M:.0f} mm of its height: shaped edges of {1e3 * bevel_m(fins):.0f} "
        f"mm leave a flat of {1e3 * (right - left):.0f} x {1e3 * high:.0f} mm, fillets "
        f"take the first {1e3 * from_m:.0f} mm of it. Glue the fins on before their edges are "
        f"shaped, take thinner sheet, or no guide: {_INSTEAD[0].lower()}{_INSTEAD[1:]}"
    )


def _seat(can: FinCan, choices: Choices) -> tuple[float, tuple[float, float]]:
    """Radius the guide sits on, and the stations between which its plates may stand."""
    if choices.seat == "body":
        if can.wider_behind:
            raise DoesNotFitError(WIDER_BEHIND)
        return body_diameter_m(can.tube, choices) / 2.0, (can.tube.station_m, can.tube.end_m)
    if can.motor_tube is None or can.tab_m is None:
        raise DoesNotFitError(
            "a guide on the motor tube needs a motor tube and fins with tabs; the project has not "
            'both. Write seat = "body" in [bench] of build.toml.'
        )
    return can.motor_tube.outer_diameter_m / 2.0, can.tab_m


def alignment_of(guide: Guide, cut_error_m: float, stacked: bool = True) -> Alignment:
    """How straight fins come out of the guide.

    A common cant counts N times in the equivalent spread of one fin, as it does not average out.

    Parameters
        guide : Guide - the guide. [m]
        cut_error_m : float - one standard deviation of a cut edge's place. [m]
        stacked : bool - both plates were cut as one stack. [-]
    Returns
        alignment : Alignment - bounds and spreads; `alignment_rad` is what the ledger's spin row
            wants. [rad]
    Raises
        nothing
    Validity
        As `guided_cant_rad` and `guided_spread_rad`.
    Source
        Derived.
    Example
        none
    """
    turn, apart, radius = guide.turn_bound_rad, guide.apart_m, guide.body_radius_m
    low, high = guide.pair.both_m
    bound = guided_cant_rad(guide.clearance_m, turn, radius + low, apart)
    plates = KeyedPlates(guide.count, guide.key_radius_m, apart, cut_error_m, stacked)
    middle = radius + (low + high) / 2.0
    single, common = guided_spread_rad(plates, guide.clearance_m, turn, middle)
    return Alignment(turn, bound, single, common, sqrt(single**2 + guide.count * common**2))


def guided_to(rocket: p.Rocket, wanted_rad: float) -> bool:
    """Whether a keyed guide of the usual sheet and clearance sets these fins that true."""
    can, usual = fin_can(rocket), Choices()
    if can is None:
        return False
    try:
        good = alignment_of(guide_for(can, usual), usual.cut_error_m)
    except DoesNotFitError:
        return False
    return good.alignment_rad <= wanted_rad


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
