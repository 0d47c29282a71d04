"""Slips of people with a list, and what a second reader catches: published rates, combined.

Per task or item, from plant operators and laboratories; a first-timer in a hurry is 3 to 11 times
worse. Never part of a computed chance of a flight.
"""

from typing import Final

OMITTED: Final = (0.003, 0.001, 0.009)  # an item of a long list that is ticked; [swain1983]
READER_MISSES: Final = 0.1  # a second person with the list in hand; [swain1983]


def left_out(per_item: float, items: int) -> float:
    """Chance that at least one of a list's items is left out: 1 - (1 - p)^n.

    Parameters
        per_item : float - chance for one item. [-]
        items : int - how many. [-]
    Returns
        chance : float - at least one. [-]
    Validity
        Items that are forgotten independently.
    Source
        Definition.
    Example
        >>> round(left_out(0.003, 40), 3)
        0.113
    """
    return float(1.0 - (1.0 - per_item) ** items)


def missed_by_friend(misses: float) -> float:
    """Chance that a second reader of the same crew misses what the first did: (1 + 6 p) / 7.

    Parameters
        misses : float - of a second reader on their own. [-]
    Returns
        chance : float - given that the first has missed it; never below a seventh. [-]
    Validity
        Moderate dependence: two people of one crew, together at the table.
    Source
        [swain1983] dependence equations, seen second-hand.
    Example
        >>> round(missed_by_friend(0.1), 3)
        0.229
    """
    return (1.0 + 6.0 * misses) / 7.0
