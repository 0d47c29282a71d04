"""What a newcomer is offered for a figure once others are answered: a rocket of those proportions.

The offered answers fit a body of 79 mm. For another diameter they would be those of another rocket,
so lengths go with the body, the mass with its skin, the canopy with the mass. Where nothing they go
by was answered, the offered answers stand as they are.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import sqrt
from typing import Final

from goodflight.quantity import Quantity, Units, parse, write

Figures = Mapping[str, float]


@dataclass(frozen=True)
class Follow:
    """One offered answer: the questions it goes by, in proportion to `size`, in steps of `step`."""

    by: tuple[str, ...]
    size: Callable[[Figures], float]
    dimension: str
    unit: str
    step: float  # in SI
    imperial: tuple[str, float] = ("in", 0.25)  # unit, and step in it, of a body in inches
    after: str = ""


def _length(si: Figures) -> float:
    return si["nose_length"] + si["body_length"]


def _body(si: Figures) -> float:
    return si["diameter"]


def _root(si: Figures) -> float:
    return si["fin_root"]


def _skin(si: Figures) -> float:
    return si["diameter"] * _length(si)


_WHOLE: Final = ("nose_length", "body_length")
FOLLOWS: Final[Mapping[str, Follow]] = {
    "inner_diameter": Follow(("diameter",), _body, "length", "mm", 0.0005, imperial=("in", 0.05)),
    "nose_length": Follow(("diameter",), _body, "length", "mm", 0.005),
    "body_length": Follow(("diameter",), _body, "length", "mm", 0.005),
    "separation": Follow(_WHOLE, _length, "length", "mm", 0.005),
    "fin_root": Follow(("diameter",), _body, "length", "mm", 0.005),
    "fin_tip": Follow(("fin_root",), _root, "length", "mm", 0.005),
    "fin_span": Follow(("fin_root",), _root, "length", "mm", 0.005),
    "fin_sweep": Follow(("fin_root",), _root, "length", "mm", 0.005),
    "mass": Follow(("diameter", *_WHOLE), _skin, "mass", "kg", 0.05, imperial=("lb", 0.1)),
    "balance": Follow(_WHOLE, _length, "length", "mm", 0.005),
    "canopy": Follow(
        ("mass",),
        lambda si: sqrt(si["mass"]),
        "length",
        "m",
        0.05,
        imperial=("in", 2.0),
        after=" across flats",
    ),
    "cord_length": Follow(_WHOLE, _length, "length", "m", 0.1, imperial=("ft", 1.0)),
    "guide_fore": Follow(_WHOLE, _length, "length", "mm", 0.005),
    "guide_aft": Follow(_WHOLE, _length, "length", "mm", 0.005),
}


# Offered of a body in inches where the size of the rocket says nothing of it
IN_INCHES: Final[Mapping[str, str]] = {
    "fin_thickness": "0.157 in",
    "fin_gap": "0.375 in",
    "motor_tube": "1.51 in",
    "cord_strength": "1500 lbf",
    "rail": "8 ft",
    "elevation": "330 ft",
    "wind": "9 mph",
}


def shown_in(body: Quantity) -> Units:
    """Return the units of a project: those in which the width of its body was answered."""
    return "imperial" if body.unit in ("in", "ft", "yd", "mil") else "metric"


def offered(key: str, default: str, usual: Figures, said: Figures, units: Units = "metric") -> str:
    """Return what is offered for a question once others are answered.

    Parameters
    ----------
    key, default : the question, and what is offered where nothing it goes by differs. [-]
    usual : mapping - what is offered by question id. [SI]
    said : mapping - what was answered, what is offered where nothing was; those it goes by. [SI]
    units : str - those of the answers. [-]

    Returns
    -------
    answer : str - with its unit. [-]
    """
    if units == "imperial" and key in IN_INCHES:
        return IN_INCHES[key]
    follow = FOLLOWS.get(key)
    if follow is None or all(said[each] == usual[each] for each in follow.by):
        return default
    value = usual[key] * follow.size(said) / follow.size(usual)
    unit, step = follow.unit, follow.step
    if units == "imperial":
        unit = follow.imperial[0]
        step = follow.imperial[1] * parse(f"1 {unit}", follow.dimension).value
    value = max(round(value / step), 1) * step
    return write(value, follow.dimension, unit, digits=5) + follow.after
