"""What the first form works out from its answers, in figures that a builder would write.

A place and a length are whole millimetres or eighths of an inch, unless an answer they end at is
not; what must fit into a bore is finer, and what keeps the mass and balance as answered is finest.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil, floor
from typing import Final

from goodflight.constants import INCH_M
from goodflight.project.newcomer_fit import canopy_kg, cord_kg
from goodflight.project.newcomer_texts import RING
from goodflight.quantity import Quantity, Units, write
from goodflight.quantity.units import OUNCE_KG

MIN_RING_M: Final = 0.001  # between the motor tube and the body, across both sides
MOST_MOTOR_TUBE_M: Final = 0.3
MOTOR_LENGTH: Final = "flown_motor_length"  # beside the answers: of the motor told or at hand
_HAIR: Final = 1e-6  # of a step, so that a whole number of them stays one


@dataclass(frozen=True)
class Written:
    """Units of a project's figures, and the steps in which those that were not asked are written.

    cut : of what is cut and where it stands. fit : of what goes into a bore. left, balance : of the
    rest of the rocket, whose mass and balance point were answered. gear : of canopy and cord.
    """

    long: str
    heavy: str
    cut_m: float
    fit_m: float
    balance_m: float
    gear_kg: float
    left_kg: float


WRITTEN: Final[Mapping[Units, Written]] = {
    "metric": Written(
        long="mm",
        heavy="g",
        cut_m=1e-3,
        fit_m=1e-5,
        balance_m=1e-4,
        gear_kg=1e-3,
        left_kg=1e-4,
    ),
    "imperial": Written(
        long="in",
        heavy="oz",
        cut_m=INCH_M / 8,
        fit_m=1e-3 * INCH_M,
        balance_m=0.01 * INCH_M,
        gear_kg=0.1 * OUNCE_KG,
        left_kg=0.01 * OUNCE_KG,
    ),
}


def _down(value: float, step: float) -> float:
    return floor(value / step + _HAIR) * step


def _near(value: float, step: float) -> float:
    return round(value / step) * step


def _tail(si: Mapping[str, float]) -> float:
    return si["nose_length"] + si["body_length"]


def _motor_tube(si: Mapping[str, float], cut: float) -> float:
    room = 0.8 * (_tail(si) - si["separation"])
    motor = ceil(si.get(MOTOR_LENGTH, 0.0) / cut - _HAIR) * cut  # all of it, where one is flown
    return _down(min(max(MOST_MOTOR_TUBE_M, motor), room), cut) or room


def rings(si: Mapping[str, float], units: Units, taken: Mapping[str, str]) -> str:
    """Return three rings on the motor tube, as text; none where the tube fills the body.

    Parameters
    ----------
    si : mapping - value by question id. [SI]
    units : str - those of the project. [-]
    taken : mapping - what is assumed of the rings, by question id. [-]
    """
    by = WRITTEN[units]
    length = _motor_tube(si, by.cut_m)
    at = {"forward": 0.05 * length, "middle": 0.5 * length, "rear": 0.95 * length - 0.004}
    outer, inner = si["inner_diameter"] - 0.0001, si["motor_tube"] * 1.05 + 0.0003
    if outer - inner < MIN_RING_M:
        return ""
    wide = {
        key: write(_near(value, by.fit_m), "length", by.long)
        for key, value in (("outer", outer), ("inner", inner))
    }
    front = _tail(si) - length
    return "".join(
        RING.format(
            place=place,
            station=write(front + _near(along, by.cut_m), "length", by.long),
            **wide,
            **taken,
        )
        for place, along in at.items()
    )


def derived(si: Mapping[str, float], said: Mapping[str, Quantity], units: Units) -> dict[str, str]:
    """Return everything that was not asked, as texts of the files.

    Parameters
    ----------
    si : mapping - value by question id. [SI]
    said : mapping - answers by question id. [-]
    units : str - those of the project. [-]
    """
    by = WRITTEN[units]
    tail, motor_length = _tail(si), _motor_tube(si, by.cut_m)
    room = tail - motor_length - si["separation"]
    calibre = ceil(si["diameter"] / by.cut_m - _HAIR) * by.cut_m
    ahead = min(calibre, 0.9 * (si["separation"] - si["nose_length"]))
    behind = min(calibre, 0.4 * room)
    masses = {"canopy_mass": canopy_kg(si), "cord_mass": cord_kg(si)}
    masses = {key: _near(value, by.gear_kg) for key, value in masses.items()}
    whole = _rest(si, said, by, sum(masses.values()), room)
    lengths = {
        "fore_length": si["separation"] - si["nose_length"],
        "aft_length": tail - si["separation"],
        "fin_station": tail - si["fin_gap"] - si["fin_root"],
        "radius": si["diameter"] / 2,
        "bay_station": si["separation"] + behind,
        "bay_length": room - behind,
        "coupler_station": si["separation"] - ahead,
        "coupler_length": ahead + behind,
        "coupler_outer": _near(si["inner_diameter"] - 0.0002, by.fit_m),
        "coupler_inner": _near(si["inner_diameter"] - 0.0032, by.fit_m),
        "line_length": _near(si["canopy"], by.cut_m) or si["canopy"],
        "motor_station": tail - motor_length,
        "motor_length": motor_length,
        "motor_outer": _near(si["motor_tube"] * 1.05, by.fit_m),
    }
    return {
        **{key: write(value, "length", by.long) for key, value in lengths.items()},
        **{key: write(value, "mass", by.heavy) for key, value in masses.items()},
        **whole,
    }


def _rest(
    si: Mapping[str, float],
    said: Mapping[str, Quantity],
    by: Written,
    pack: float,
    room: float,
) -> dict[str, str]:
    """Where canopy and cord lie, and all else, so that mass and balance are those answered."""
    tail = _tail(si)
    pack_balance = si["separation"] + _near(0.4 * room, by.cut_m)
    rest = si["mass"] - pack
    balance = (si["mass"] * si["balance"] - pack * pack_balance) / rest
    # an even rod as long as the rocket has about the inertia of a built one (0.29 of its length)
    spread = min(tail, 2 * balance, 2 * (tail - balance))
    spread = _down(spread, by.cut_m) or spread
    lengths = {
        "pack_balance": pack_balance,
        "spread_station": _down(balance - spread / 2, by.cut_m),
        "spread_length": spread,
    }
    return {
        **{key: write(value, "length", by.long) for key, value in lengths.items()},
        "rest_mass": _as_known(_near(rest, by.left_kg), said["mass"], by.heavy),
        "balance": _as_known(
            _near(balance, by.balance_m), said["balance"], by.long, si["mass"] / rest
        ),
    }


def _as_known(value: float, answer: Quantity, unit: str, times: float = 1.0) -> str:
    """A figure worked out from an answer: with its spread, times so much, and as it is known."""
    sigma = None if answer.sigma is None else answer.sigma * times
    known = answer.known if answer.stated else ""
    return write(value, answer.dimension, unit, sigma, known)
