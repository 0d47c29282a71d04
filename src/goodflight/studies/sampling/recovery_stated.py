"""What a planned flight says of canopy and cord, for what is declared uncertain of them."""

from collections.abc import Callable
from dataclasses import replace
from typing import Final

import numpy as np

from goodflight.physics.recovery.wear import worn
from goodflight.physics.vehicle.parts import Cord
from goodflight.studies.case.planned import Case, canopy_of, cord_of
from goodflight.studies.sampling.quantity import Missing, Stated


def comes_apart(case: Case) -> bool:
    """Whether it is known where the rocket parts."""
    return case.rocket.separation_station_m is not None


def packs(case: Case) -> bool:
    """Whether a canopy comes out of a bay: at the separation, or at that of the main."""
    return comes_apart(case) or has_main(case)


def has_canopy(case: Case) -> bool:
    return canopy_of(case) is not None


def stowed(case: Case) -> bool:
    """Whether a canopy is packed, be it said or not where the rocket comes apart."""
    return packs(case) or has_canopy(case)


def by_lines(case: Case) -> bool:
    """Whether the canopy's strength is worked out from its lines."""
    canopy = canopy_of(case)
    return canopy is not None and canopy.strength_n is None


def has_cord(case: Case) -> bool:
    return cord_of(case) is not None


def has_main(case: Case) -> bool:
    """Whether the plan opens a second canopy."""
    return case.deployment.main_canopy is not None


def _written(case: Case, path: str) -> tuple[str, str]:
    known = case.origin.known.get(path)
    return ("guess", "") if known is None else (known, path)


def canopy_key(key: str) -> Callable[[Case], str]:
    """Where the flight's canopy writes a figure."""

    def at(case: Case) -> str:
        canopy = canopy_of(case)
        return f"rocket.toml:part[{'canopy' if canopy is None else canopy.name}].{key}"

    return at


def cord_key(key: str) -> Callable[[Case], str]:
    """Where the rocket's cord writes a figure."""

    def at(case: Case) -> str:
        cord = cord_of(case)
        return f"rocket.toml:part[{'cord' if cord is None else cord.name}].{key}"

    return at


def canopy_drag_of(case: Case) -> Stated | None:
    canopy = canopy_of(case)
    if canopy is None:
        return None
    return Stated(
        canopy.drag_coefficient,
        canopy.drag_coefficient_sigma,
        *_written(case, f"rocket.toml:part[{canopy.name}].drag_coefficient"),
    )


def main_key(key: str) -> Callable[[Case], str]:
    """Where the second canopy writes a figure."""

    def at(case: Case) -> str:
        main = case.deployment.main_canopy
        return f"rocket.toml:part[{'main' if main is None else main.name}].{key}"

    return at


def main_drag_of(case: Case) -> Stated | None:
    main = case.deployment.main_canopy
    if main is None:
        return None
    return Stated(
        main.drag_coefficient,
        main.drag_coefficient_sigma,
        *_written(case, f"rocket.toml:part[{main.name}].drag_coefficient"),
    )


TOLD: Final = "as the project says, or by how the figure is known"
LINE_KNOT: Final = 0.15
LINE_KNOT_WHY: Final = "0.65 seen on a canopy data sheet; 0.60 to 0.80 for any knot"
_WORN: Final = (
    "; worn by its flights before: 2 in 100 a flight, give or take two thirds of it (nylon in the "
    "sun as quoted from Poynter, wear by Knacke from memory, their sum a guess)"
)
_NOT_SAID: Final = "; how many flights it had before is not said: ten are taken, with a wide spread"


def _worn(cord: Cord | None, stated: Stated) -> Stated:
    """A strength as new, less what flights before have taken; one that was pulled says it all."""
    if cord is None or stated.value is None or stated.known == "measured":
        return stated
    if cord.flights_before == 0:
        return stated
    value, sigma = worn(stated.value, stated.sigma or 0.0, cord.flights_before)
    why = _NOT_SAID if cord.flights_before is None else _WORN
    return replace(stated, value=value, sigma=sigma, reason=TOLD + why)


def lines_left(case: Case) -> Stated:
    """What knots and the flights before leave of the canopy's lines, a factor of one when new."""
    canopy, cord = canopy_of(case), cord_of(case)
    known, path = _written(case, f"rocket.toml:part[{canopy.name if canopy else ''}].line_strength")
    if cord is None or cord.flights_before == 0 or known == "measured":
        return Stated(None)
    left, sigma = worn(1.0, LINE_KNOT, cord.flights_before)
    why = _NOT_SAID if cord.flights_before is None else _WORN
    return Stated(left, sigma, known, path, reason=LINE_KNOT_WHY + why)


def canopy_strength_of(case: Case) -> Stated | None:
    canopy = canopy_of(case)
    if canopy is None or canopy.strength_n is None:
        return None
    stated = Stated(
        canopy.strength_n,
        canopy.strength_sigma * canopy.strength_n,
        *_written(case, f"rocket.toml:part[{canopy.name}].strength"),
    )
    return _worn(cord_of(case), stated)


def canopy_advice(case: Case) -> str:
    canopy = canopy_of(case)
    if canopy is not None and canopy.kind == "streamer":
        return "pull-test the streamer where it is tied on until it tears, and give strength"
    return (
        "give the canopy's line count and the breaking strength of one line (or pull-test a seam "
        "and give strength)"
    )


def cord_strength_of(case: Case) -> Stated | None:
    return strength_of(case, cord_of(case))


def strength_of(case: Case, cord: Cord | None) -> Stated | None:
    """Strength of a cord of the case as it is flown."""
    if cord is None or cord.strength_n <= 0.0:
        return None
    stated = Stated(
        cord.strength_n,
        cord.strength_sigma * cord.strength_n,
        *_written(case, f"rocket.toml:part[{cord.name}].strength"),
    )
    return _worn(cord, stated)


def knotted_n(case: Case) -> float | None:
    """What the cord holds with its knots, as the design has it."""
    cord = cord_of(case)
    return None if cord is None else cord.strength_n * cord.joint_efficiency


def room_of(case: Case, length_m: float) -> float | None:
    """Room the pack takes, from the length of the whole stack as it was packed."""
    from goodflight.studies.packing import stack_of  # needs the declarations here

    stack = stack_of(case)
    if isinstance(stack, Missing) or stack.length_m <= 0.0:
        return None
    shorter, longer = stack.drawn_m(np.array([1.0, 2.0]))
    return float(1.0 + (length_m - shorter) / (longer - shorter))
