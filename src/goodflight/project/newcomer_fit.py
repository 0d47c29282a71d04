"""Whether the answers of a newcomer make a rocket: which do not, and what would."""

from collections.abc import Iterator, Mapping
from typing import Final

from goodflight.quantity import Units, brief, write

MAX_WIND_M_S: Final = 30.0  # nobody flies in a storm; above it the unit is wrong
MOST_WALLS: Final = 0.15  # both walls of a tube against its outside; common practice, no source
CANOPY_KG_M2: Final = 0.1  # with its lines, by the square of its width; our guess
# nylon yarn breaks at 0.9 GPa, 1140 kg/m3 (textbook, memory); a weave keeps half of it, our guess
CORD_KG_N_M: Final = 1140.0 / 0.45e9
LEAST_PACKS: Final = 3.0  # of canopy and cord a rocket weighs; our guess
HANGS_KG: Final = 0.06  # links, and a blanket on the cord; our guess
MIN_WALLS_M: Final = 0.006  # and so much of any tube
_ABOVE_ZERO: Final = (
    "diameter", "inner_diameter", "nose_length", "body_length", "fin_root", "fin_span",
    "fin_thickness", "motor_tube", "mass", "canopy", "cord_strength", "cord_length", "guide_fore",
    "rail",
)  # fmt: skip
_NOT_BELOW_ZERO: Final = ("fin_tip", "fin_sweep", "fin_gap", "wind")
_CLASH: Final = "this does not fit the other answers; wanted: "


class AnswersError(ValueError):
    """Answers that cannot be made into a rocket: what is wrong, by question.

    `question` and `advice` are the first of them.
    """

    def __init__(self, faults: Mapping[str, str]) -> None:
        self.faults = dict(faults)
        self.question, self.advice = next(iter(self.faults.items()))
        super().__init__("; ".join(f"{key}: {words}" for key, words in self.faults.items()))


def check_fit(si: Mapping[str, float], units: Units = "metric") -> None:
    """Refuse answers that make no rocket, all at once, each at the question to change.

    Parameters
    ----------
    si : mapping - value by question id. [SI]
    units : str - those in which it is told. [-]

    Raises
    ------
    AnswersError - some do not fit.
    """
    faults = dict[str, str]()
    for question, fine, words in (*_signs(si, units), *_fits(si, units)):
        if not fine:
            faults.setdefault(question, words)
    if faults:
        raise AnswersError(faults)


def _signs(si: Mapping[str, float], units: Units) -> Iterator[tuple[str, bool, str]]:
    for key in _ABOVE_ZERO:
        yield key, si[key] > 0.0, "wanted: more than 0"
    for key in _NOT_BELOW_ZERO:
        yield key, si[key] >= 0.0, "wanted: 0 or more"
    yield "fin_count", si["fin_count"] in (3, 4, 5, 6, 7, 8), "wanted: a whole number from 3 to 8"
    most = brief(MAX_WIND_M_S, "wind", units)
    wind = f"wanted: {most} or less; look at the unit"
    yield "wind", si["wind"] <= MAX_WIND_M_S, wind


def _fits(si: Mapping[str, float], units: Units) -> Iterator[tuple[str, bool, str]]:
    def long(value_m: float) -> str:
        return write(value_m, "length", "in" if units == "imperial" else "mm", digits=4)

    def heavy(value_kg: float) -> str:
        return write(value_kg, "mass", "oz" if units == "imperial" else "g", digits=3)

    nose, tail = si["nose_length"], si["nose_length"] + si["body_length"]
    aft, room, pack = tail - si["separation"], si["inner_diameter"] / 1.05, pack_kg(si)
    gap, wall = aft - si["fin_root"], max(MIN_WALLS_M, MOST_WALLS * si["diameter"])
    rules = (
        ("inner_diameter", si["inner_diameter"] < si["diameter"],
         f"less than the outside, {long(si['diameter'])}"),
        ("inner_diameter", si["diameter"] - si["inner_diameter"] <= wall,
         f"at least {long(si['diameter'] - wall)}: no tube has a wall of "
         f"{long(0.5 * (si['diameter'] - si['inner_diameter']))}"),
        ("separation", nose < si["separation"] < tail,
         f"a place between the nose and the tail, {long(nose)} to {long(tail)}"),
        ("fin_root", gap > 0.0 or aft <= 0.0, f"less than the tube behind it, {long(aft)}"),
        ("fin_gap", si["fin_gap"] < gap or gap <= 0.0,
         f"less than {long(gap)}, so that the fins stand on the tube behind the separation"),
        ("motor_tube", si["motor_tube"] < room,
         f"less than {long(room)}, so that it and its wall go into the body"),
        ("balance", 0.0 < si["balance"] < tail,
         f"a place on the rocket, {long(0.0)} to {long(tail)}"),
        ("guide_aft", si["guide_aft"] <= tail, f"a place on the rocket, up to {long(tail)}"),
        ("guide_fore", si["guide_fore"] < si["guide_aft"],
         f"ahead of the rear guide, less than {long(si['guide_aft'])}"),
        ("mass", si["mass"] > LEAST_PACKS * pack,
         f"more than {heavy(LEAST_PACKS * pack)}; the canopy and its cord alone weigh about "
         f"{heavy(pack)}"),
    )  # fmt: skip
    for question, fine, words in rules:
        yield question, fine, _CLASH + words


def canopy_kg(si: Mapping[str, float]) -> float:
    """Return the mass of the canopy, about 100 g at 1 m, by its area.

    Parameters
    ----------
    si : mapping - value by question id. [SI]

    Returns
    -------
    canopy_kg : float - the mass. [kg]
    """
    return CANOPY_KG_M2 * si["canopy"] ** 2


def cord_kg(si: Mapping[str, float]) -> float:
    """Return the mass of the cord by its length and strength, of nylon, and what hangs on it.

    Parameters
    ----------
    si : mapping - value by question id. [SI]

    Returns
    -------
    cord_kg : float - the mass. [kg]
    """
    return round(CORD_KG_N_M * si["cord_strength"] * si["cord_length"], 3) + HANGS_KG


def pack_kg(si: Mapping[str, float]) -> float:
    """Return the mass of canopy and cord together.

    Parameters
    ----------
    si : mapping - value by question id. [SI]

    Returns
    -------
    pack_kg : float - the mass. [kg]
    """
    return canopy_kg(si) + cord_kg(si)
