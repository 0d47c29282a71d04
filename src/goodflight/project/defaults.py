"""How uncertain a figure is when the builder has not said, from what it is and how it is known.

One standard deviation = the larger of a share of the value and an absolute amount. Common
practice, no source: kitchen scales read to 1 g, tapes to 0.5 mm, label masses are within a few
per cent, and guesses of a mass are off by about a tenth. A stated "±" always replaces these.
"""

import math
from functools import lru_cache
from typing import Final

from goodflight.quantity import Quantity

# kind: {known: (relative, absolute in SI)}; "station", "balance" are lengths from the nose tip
SPREADS: Final[dict[str, dict[str, tuple[float, float]]]] = {
    "mass": {
        "guess": (0.10, 0.0005),
        "label": (0.03, 0.0005),
        "measured": (0.005, 0.001),
        "flight": (0.02, 0.001),
    },
    # powder goes on a jewellery scale: 0.02 g, twice that with the pan and what sticks to it
    "powder": {
        "guess": (0.10, 0.0),
        "label": (0.10, 0.0),
        "measured": (0.02, 0.00004),
        "flight": (0.10, 0.0),
    },
    "length": {
        "guess": (0.03, 0.0),
        "label": (0.005, 0.0),
        "measured": (0.0, 0.0005),
        "flight": (0.03, 0.0),
    },
    "station": {
        "guess": (0.0, 0.005),
        "label": (0.0, 0.002),
        "measured": (0.0, 0.001),
        "flight": (0.0, 0.005),
    },
    "balance": {
        "guess": (0.0, 0.010),
        "label": (0.0, 0.005),
        "measured": (0.0, 0.002),
        "flight": (0.0, 0.005),
    },
    # walls and plies: a tenth of a millimetre by calliper, trade tolerances otherwise
    "wall": {
        "guess": (0.10, 0.0),
        "label": (0.05, 0.0),
        "measured": (0.0, 0.0001),
        "flight": (0.10, 0.0),
    },
    # a surface is judged by eye: within a factor of two, whatever lengths are measured with
    "surface": dict.fromkeys(("guess", "label", "measured", "flight"), (0.5, 0.0)),
    "angle": {"guess": (0.0, 0.0175), "label": (0.0, 0.0087), "measured": (0.0, 0.0052)},
    "bearing": {"guess": (0.0, 0.26), "label": (0.0, 0.17), "measured": (0.0, 0.17)},
    "wind": {"guess": (0.20, 0.5), "label": (0.20, 0.5), "measured": (0.10, 0.3)},
    "temperature": {"guess": (0.0, 2.0), "label": (0.0, 1.5), "measured": (0.0, 0.5)},
    "pressure": {"guess": (0.0, 1000.0), "label": (0.0, 300.0), "measured": (0.0, 100.0)},
    "modulus": {"guess": (0.20, 0.0), "label": (0.15, 0.0), "measured": (0.05, 0.0)},
    "density": {"guess": (0.10, 0.0), "label": (0.05, 0.0), "measured": (0.01, 0.0)},
    "area_density": {"guess": (0.15, 0.0), "label": (0.05, 0.0), "measured": (0.03, 0.0)},
    "area": {"guess": (0.10, 0.0), "label": (0.05, 0.0), "measured": (0.02, 0.0)},
    "volume": {"guess": (0.15, 0.0), "label": (0.10, 0.0), "measured": (0.05, 0.0)},
    "force": {"guess": (0.20, 0.0), "label": (0.10, 0.0), "measured": (0.05, 0.0)},
    "ratio": {"guess": (0.10, 0.0), "label": (0.10, 0.0), "measured": (0.05, 0.0)},
    "time": {"guess": (0.08, 0.0), "label": (0.08, 0.0), "measured": (0.02, 0.0)},
    "impulse": {"guess": (0.05, 0.0), "label": (0.02, 0.0), "measured": (0.01, 0.0)},
}

_WALLS: Final = frozenset({"wall", "thickness"})
_STATIONS: Final = frozenset({"station", "aft_station", "motor_aft", "separates_at"})
_BEARINGS: Final = frozenset({"wind_from", "lean"})
_MODULI: Final = frozenset({"shear_modulus", "bending_strength", "edge_strength"})

WIND_EXPONENT_SIGMA: Final = 0.03
DRAG_COEFFICIENT_SIGMA: Final = 0.08  # flat canopies print 0.75-0.80 (memory), rigs differ more
CANOPY_STRENGTH_SIGMA: Final = 0.20  # relative, of a home-sewn canopy
CORD_STRENGTH_SIGMA: Final = 0.10  # relative
RAIL_STOP_M: Final = 0.23  # the tail stands clear of the blast plate, common practice
RAIL_BASE_M: Final = 0.30  # lower end of the rail above the ground, common practice
ROUGHNESS_M: Final = 20e-6  # of the surface, where nothing is said
PAD_WAIT_SPREAD: Final = 0.35  # relative; queues and holds, common practice, no source
ALIGNMENT_RAD: Final = 0.0087  # 0.5 deg of one fin, set by hand


def kind_of(key: str, dimension: str) -> str:
    """Return which row of the table a key belongs to."""
    if key == "balance":
        return "balance"
    if key == "roughness":
        return "surface"
    if key == "powder":
        return "powder"
    for kind, keys in (("station", _STATIONS), ("wall", _WALLS), ("bearing", _BEARINGS)):
        if key in keys:
            return kind
    return "modulus" if key in _MODULI else dimension


def sigma_of(key: str, quantity: Quantity, known: str | None = None) -> float:
    """Return one standard deviation of a figure: as stated, or by default from how it is known.

    Parameters
    ----------
    key : str - the key in the file, e.g. "mass". [-]
    quantity : Quantity - the figure. [SI]
    known : str or None - how it is known, when the file says so for all. [-]

    Returns
    -------
    sigma : float - one standard deviation; 0 where the table has no row. [SI]
    """
    if quantity.sigma is not None:
        return quantity.sigma
    kind = kind_of(key, quantity.dimension)
    return 0.0 if quantity.value == 0 else spread_of(kind, quantity.value, known or quantity.known)


def unbalanced_m(length_m: float) -> float:
    """Return one standard deviation of a balance point that nobody found and no shape tells [m].

    As that of a guess, and never more than that of a mass anywhere along the part; 0 = of unknown
    length.
    """
    guess = SPREADS["balance"]["guess"][1]
    return guess if not length_m else min(guess, length_m / math.sqrt(12.0))


@lru_cache(maxsize=2000)  # a rocket is built anew for each of its lengths
def spread_of(kind: str, value: float, known: str) -> float:
    """Return one standard deviation of a figure by default [SI].

    A figure known better never scatters more than the same figure guessed: an instrument too coarse
    for it (a kitchen scale for a gram) is no worse than the guess.
    """
    row = SPREADS.get(kind, {})
    guess = row.get("guess", (0.0, 0.0))
    worse = [guess, row.get("label", guess), row.get(known, guess)]
    taken = {"guess": worse[:1], "label": worse[:2], "measured": worse}.get(known, worse[2:])
    return min(max(relative * abs(value), absolute) for relative, absolute in taken)
