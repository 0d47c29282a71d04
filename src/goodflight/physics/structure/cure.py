"""How far a glue joint has cured by flight day, from the temperatures it had.

Reaction speed follows Arrhenius; a cold shed stretches the label's hours. Left out: the glass point
that stops a cure short of its end in the cold, thickness of the bead, bad mixing.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]

GAS_J_MOL_K: Final = 8.314462618
LABEL_K: Final = 298.15  # labels mean 25 degC
EPOXY_J_MOL: Final = 58.6e3  # amine-epoxy, 14 kcal/mol; abstract, seen (others 55 to 70)
STOPS_BELOW_K: Final = 278.15  # below 5 degC the cure all but stops; coating text, seen


def time_factor(
    temperature_k: Values,
    activation_j_mol: Values = EPOXY_J_MOL,
    label_temperature_k: Values = LABEL_K,
) -> Array:
    """How many times longer a cure takes than at the label's temperature.

    factor = exp(Ea/R (1/T - 1/T_label)).

    Parameters
        temperature_k : float or array - of the joint. [K]
        activation_j_mol : float or array - Ea. [J/mol]
        label_temperature_k : float or array - the label's hours hold here. [K]
    Returns
        factor : array - above 1 when colder. [-]
    Raises
        nothing
    Validity
        5 to 40 degC; colder, the cure all but stops and the formula is too kind.
    Source
        Arrhenius; Ea of amine-epoxies seen in abstracts (55 to 70 kJ/mol).
    Example
        >>> round(float(time_factor(283.15)), 2)
        3.5
    """
    inverse = 1.0 / np.asarray(temperature_k, dtype=np.float64) - 1.0 / np.asarray(
        label_temperature_k
    )
    return np.asarray(np.exp(np.asarray(activation_j_mol) / GAS_J_MOL_K * inverse))


SOLID: Final = 0.8  # share of the label's cure from which a joint counts as solid; our guess


def wood_strength_share(cured: Values) -> Array:
    """Share of its strength that glue on wood or paper has: none before it is solid, then all.

    1 from SOLID of the label's cure, else 1/1000.

    Parameters
        cured : float or array - share of the label's cure. [-]
    Returns
        share : array - of the strength of the joint. [-]
    Raises
        nothing
    Validity
        Epoxy on wood, plywood, paper: the wood breaks, not the glue. Metal and glass go on gaining.
    Source
        J. Adhesion Soc. Japan 45(8), 2009 (strength of wood laps hardly depends on the degree of
        cure once hard) and [moussa2012] (strength comes with vitrification), abstracts, seen.
    Example
        >>> wood_strength_share([0.5, 0.9]).tolist()
        [0.001, 1.0]
    """
    return np.where(np.asarray(cured, dtype=np.float64) >= SOLID, 1.0, 1e-3)


def cured_share(
    hours: Values,
    temperatures_k: Values,
    label_hours: Values,
    activation_j_mol: Values = EPOXY_J_MOL,
    label_temperature_k: Values = LABEL_K,
    stops_below_k: Values = STOPS_BELOW_K,
) -> Array:
    """Share of the label's cure that a joint has had, over stretches of time.

    sum of hours / factor(T), over the label's hours; 1 = what the label calls cured.

    Parameters
        hours : array (..., k) - length of each stretch. [h]
        temperatures_k : array (..., k) - temperature in it. [K]
        label_hours : float or array (...) - cure time on the label. [h]
        activation_j_mol : float or array (...) - Ea. [J/mol]
        label_temperature_k : float - the label's hours hold here. [K]
        stops_below_k : float - the cure stands still below this. [K]
    Returns
        share : array (...) - may be above 1. [-]
    Raises
        nothing
    Validity
        Stretches below the least temperature (5 degC unless the sheet says more) count as nothing.
    Source
        Additivity of equivalent time; derived.
    Example
        >>> round(float(cured_share(np.array([24.0]), np.array([298.15]), 24.0)), 3)
        1.0
    """
    activation = np.asarray(activation_j_mol)[..., None]
    pace = cure_pace(temperatures_k, activation, label_temperature_k, stops_below_k)
    return np.asarray(np.sum(np.asarray(hours) * pace, axis=-1) / np.asarray(label_hours))


def cure_pace(
    temperature_k: Values,
    activation_j_mol: Values = EPOXY_J_MOL,
    label_temperature_k: Values = LABEL_K,
    stops_below_k: Values = STOPS_BELOW_K,
) -> Array:
    """Label hours of cure that one hour at a temperature is worth.

    1 / factor(T); nothing below the least temperature.

    Parameters
        temperature_k : float or array - of the joint. [K]
        activation_j_mol : float or array - Ea. [J/mol]
        label_temperature_k : float or array - the label's hours hold here. [K]
        stops_below_k : float or array - the cure stands still below this. [K]
    Returns
        pace : array - 1 at the label's temperature. [-]
    Raises
        nothing
    Validity
        As time_factor.
    Source
        Arrhenius; derived.
    Example
        >>> [round(float(x), 2) for x in cure_pace(np.array([298.15, 283.15, 277.0]))]
        [1.0, 0.29, 0.0]
    """
    return pace_between(
        temperature_k, temperature_k, activation_j_mol, label_temperature_k, stops_below_k
    )


def pace_between(
    start_k: Values,
    end_k: Values,
    activation_j_mol: Values = EPOXY_J_MOL,
    label_temperature_k: Values = LABEL_K,
    stops_below_k: Values = STOPS_BELOW_K,
) -> Array:
    """Label hours of cure that one hour is worth while its temperature goes straight to another.

    Only the part of it above the least temperature counts, at the middle of that part.

    Parameters
        start_k : float or array - of the joint as the hour begins. [K]
        end_k : float or array - as it ends. [K]
        activation_j_mol : float or array - Ea. [J/mol]
        label_temperature_k : float or array - the label's hours hold here. [K]
        stops_below_k : float or array - the cure stands still below this. [K]
    Returns
        pace : array - 1 at the label's temperature. [-]
    Raises
        nothing
    Validity
        As time_factor; within 0.1 % where the hour goes through 1.5 K, 1 % where through 5 K.
    Source
        Arrhenius; derived.
    Example
        >>> float(pace_between(277.15, 279.15) / cure_pace(278.65))
        0.5
    """
    low, high = np.minimum(start_k, end_k), np.maximum(start_k, end_k)
    stops = np.asarray(stops_below_k, dtype=np.float64)
    span = np.where(high > low, high - low, 1.0)
    share = np.where(high > low, np.clip((high - stops) / span, 0.0, 1.0), high >= stops)
    middle = 0.5 * (high + np.maximum(low, stops))
    pace = 1.0 / time_factor(middle, activation_j_mol, label_temperature_k)
    return np.asarray(share * pace)


COLDEST_H: Final = 5.0  # hour of the clock at which a place is coldest; common practice, no source


def daily_temperature_k(hour: Values, mean_k: Values, night_k: Values) -> Array:
    """Temperature of a place at an hour of the day, warmest twelve hours after it is coldest.

    T = mean - (mean - night) cos(2 pi (hour - coldest)/24).

    Parameters
        hour : float or array - of the clock. [h]
        mean_k : float or array - of day and night. [K]
        night_k : float or array - lowest of the night. [K]
    Returns
        temperature : array. [K]
    Raises
        nothing
    Validity
        An ordinary day; a front or an open door is not in it.
    Source
        One harmonic of a day, common practice.
    Example
        >>> daily_temperature_k(np.array([5.0, 17.0]), 283.0, 278.0).tolist()
        [278.0, 288.0]
    """
    turn = 2.0 * np.pi * (np.asarray(hour, dtype=np.float64) - COLDEST_H) / 24.0
    return np.asarray(mean_k - (np.asarray(mean_k) - night_k) * np.cos(turn))
