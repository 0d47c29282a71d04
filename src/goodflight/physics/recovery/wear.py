"""What earlier flights leave of the strength of a cord and of a canopy's lines.

Sun, folding, rubbing and the warmth of charges, flight after flight. Left out: what can be seen (a
cut, a char, a glazed place), for which a cord is thrown away, and hours in the sun outside flights.
"""

import math
from typing import Final

LOST_A_FLIGHT: Final = 0.02  # of the logarithm of the strength
LOST_SPREAD: Final = 0.7  # one standard deviation, as a share of what is lost
NOT_SAID: Final = 10  # flights, where nobody says how many
NOT_SAID_SPREAD: Final = 1.0


def worn_share(flights: float | None) -> tuple[float, float]:
    """Share of the strength that earlier flights leave, and one standard deviation of it.

    exp(-0.02 n). Thin nylon cloth loses 52 % in a week of summer sun, some 100 h of daylight: 0.7 %
    an hour, so 1 % for a flight's hour or two; for rubbing and fatigue parachutes that are used
    again are given 0.96 and 0.95, some ten uses: another 1 %.

    Parameters
        flights : float or None - that it has had; None = not said, ten are taken. [-]
    Returns
        share : tuple of float - middle and one standard deviation. [-]
    Raises
        nothing
    Validity
        Nylon to some twenty flights; aramid rubs and fades faster, thick webbing slower.
    Source
        [poynter1984] table of nylon in the sun; design factors of [knacke1991] ch. 7, from memory;
        their sum and spread are our guess.
    Example
        >>> worn_share(0)
        (1.0, 0.0)
    """
    lost = LOST_A_FLIGHT * (NOT_SAID if flights is None else flights)
    left = math.exp(-lost)
    return left, left * lost * (NOT_SAID_SPREAD if flights is None else LOST_SPREAD)


def worn(strength: float, sigma: float, flights: float | None) -> tuple[float, float]:
    """A strength, or a share of one, with what earlier flights leave of it and how sure that is.

    Parameters
        strength : float - as new. [N or -]
        sigma : float - one standard deviation of it. [as strength]
        flights : float or None - that it has had; None = not said. [-]
    Returns
        worn : tuple of float - middle and one standard deviation. [as strength]
    Raises
        nothing
    Validity
        As worn_share; the two errors independent.
    Source
        Product of two independent figures, first order.
    Example
        >>> worn(6500.0, 650.0, 0)
        (6500.0, 650.0)
    """
    left, lost = worn_share(flights)
    return strength * left, math.hypot(sigma * left, strength * lost)
