"""What a thrust curve says: thrust, impulse, burn time, mean thrust, class letter.

Thrust is linear between the points of the curve, so every integral here is exact. Left out:
variation with grain temperature (a spread of the motor, drawn elsewhere).
"""

from dataclasses import dataclass
from itertools import pairwise
from math import isfinite
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.motor.model import Motor

Array = NDArray[np.float64]

BURN_SHARE: Final = 0.05  # of the greatest thrust, starts and ends the standard's burn time


@dataclass(frozen=True)
class ImpulseClass:
    """One class of the letter series: impulse above `above_ns`, up to `up_to_ns`."""

    letter: str
    above_ns: float
    up_to_ns: float
    level: str  # certification usually asked for: "model", "L1", "L2", "L3"


def _classes() -> tuple[ImpulseClass, ...]:
    """Upper ends double from 0.625 N s; a class begins where the one below ends."""
    letters = ("1/4A", "1/2A", *"ABCDEFGHIJKLMNO")
    levels = ["model"] * 9 + ["L1"] * 2 + ["L2"] * 3 + ["L3"] * 3
    rows = []
    for step, (letter, level) in enumerate(zip(letters, levels, strict=True)):
        top = 0.625 * 2.0**step
        rows.append(ImpulseClass(letter, 0.0 if step == 0 else top / 2.0, top, level))
    return tuple(rows)


IMPULSE_CLASSES: Final = _classes()


def check_motor(motor: Motor) -> None:
    """Refuse a motor whose figures cannot be flown, naming every fault at once.

    Parameters
        motor : Motor - the motor. [-]
    Returns
        None
    Raises
        ValueError - all faults found: points, order, signs, masses, sizes, delay and its cuts
    Validity
        Plausibility of the values is not judged.
    Source
        Definitions.
    Example
        >>> check_motor(Motor("m", (0.0, 1.0), (10.0, 0.0), 0.01, 0.03, 0.1, 0.024, 5.0))
    """
    faults = []
    times, thrusts = motor.times_s, motor.thrusts_n
    if len(times) != len(thrusts) or len(times) < 2:
        faults.append(f"{len(times)} times and {len(thrusts)} thrusts; give pairs, two at least")
    if not all(isfinite(x) for x in (*times, *thrusts)):
        faults.append("every time and thrust must be a finite number")
    if times and times[0] != 0.0:
        faults.append(f"the curve starts at {times[0]:g} s; its first time must be 0 (ignition)")
    if any(b <= a for a, b in pairwise(times)):
        faults.append("the times do not rise from point to point; sort them and drop repeats")
    if any(f < 0.0 for f in thrusts) or (thrusts and max(thrusts) <= 0.0):
        faults.append("thrust must never be below zero and somewhere above it")
    if not 0.0 < motor.propellant_kg < motor.loaded_kg:
        faults.append(
            f"propellant {motor.propellant_kg:g} kg, loaded {motor.loaded_kg:g} kg; the propellant "
            "must be above zero and less than the loaded motor"
        )
    if motor.length_m <= 0.0 or motor.diameter_m <= 0.0:
        faults.append("length and diameter must be above zero")
    if motor.delay_s is not None and (
        motor.delay_s < 0.0 or any(t < 0.0 or t > motor.delay_s for t in motor.delay_out_allowed_s)
    ):
        faults.append("the delay must not be negative and no step may take out more than there is")
    if faults:
        raise ValueError(f"motor '{motor.name}': " + "; ".join(faults) + ".")


def impulse_ns(motor: Motor, time_s: Array | float) -> Array:
    """Impulse delivered from ignition to a time; the share burnt follows it.

    On a piece with ends (t0, F0), (t1, F1): F0 (t - t0) + (F1 - F0)(t - t0)^2 / (2 (t1 - t0)).

    Parameters
        motor : Motor - the motor. [-]
        time_s : array or float - from ignition. [s]
    Returns
        impulse : array, shape of time_s - exact for the straight-line curve. [N s]
    Raises
        nothing
    Validity
        As thrust_n.
    Source
        Integral of thrust_n; derived.
    Example
        >>> float(impulse_ns(Motor("m", (0.0, 1.0), (10.0, 0.0), 0.01, 0.03, 0.1, 0.024, 5.0), 0.5))
        3.75
    """
    times = np.asarray(motor.times_s)
    thrusts = np.asarray(motor.thrusts_n)
    widths = np.diff(times)
    sums = np.concatenate(([0.0], np.cumsum(0.5 * (thrusts[:-1] + thrusts[1:]) * widths)))
    t = np.clip(np.asarray(time_s, dtype=np.float64), times[0], times[-1])
    i = np.clip(np.searchsorted(times, t, side="right") - 1, 0, len(widths) - 1)
    into = t - times[i]
    slope = (thrusts[i + 1] - thrusts[i]) / widths[i]
    return np.asarray(sums[i] + thrusts[i] * into + 0.5 * slope * into**2)


def total_impulse_ns(motor: Motor) -> float:
    """Impulse of the whole curve [N s]; trapezium rule, exact for straight lines.

    Parameters
        motor : Motor - the motor. [-]
    Returns
        impulse : float - area under the curve. [N s]
    Source
        Definition.
    """
    return float(np.trapezoid(motor.thrusts_n, motor.times_s))


def burn_time_s(motor: Motor) -> float:
    """Time of the curve's last point [s]; the delay counts from here.

    Parameters
        motor : Motor - the motor. [-]
    Returns
        time : float - from ignition. [s]
    Source
        Definition.
    """
    return motor.times_s[-1]


def mean_thrust_n(motor: Motor) -> float:
    """Total impulse over the whole curve's time [N].

    Parameters
        motor : Motor - the motor. [-]
    Returns
        thrust : float - mean. [N]
    Source
        Definition.
    """
    return total_impulse_ns(motor) / (motor.times_s[-1] - motor.times_s[0])


def thrust_to_weight(motor: Motor, mass_kg: float, gravity_m_s2: float) -> float:
    """Mean thrust of the whole curve over the weight at lift-off.

    Parameters
        motor : Motor - the motor. [-]
        mass_kg : float - the rocket, motor included. [kg]
        gravity_m_s2 : float - of the site. [m/s2]
    Returns
        ratio : float - above 1 it rises. [-]
    Source
        Definitions.
    Example
        >>> thrust_to_weight(Motor("m", (0, 2), (40, 40), 0.01, 0.03, 0.1, 0.024, 5.0), 1.0, 10.0)
        4.0
    """
    return mean_thrust_n(motor) / (gravity_m_s2 * mass_kg)


def rated_mean_n(motor: Motor) -> float:
    """Mean thrust as a label is checked: impulse given in the time the thrust is above a twentieth.

    Parameters
        motor : Motor - the motor. [-]
    Returns
        thrust : float - from the first to the last moment at 5 % of the greatest thrust. [N]
    Validity
        Straight lines between the points, as everywhere here.
    Source
        [nfpa1125] burn time from 5 % of the greatest thrust, seen second-hand.
    Example
        >>> round(rated_mean_n(Motor("m", (0, 1, 2), (0, 10, 0), 0.01, 0.03, 0.1, 0.024, 5.0)), 3)
        5.25
    """
    times, thrusts = np.asarray(motor.times_s, float), np.asarray(motor.thrusts_n, float)
    least = BURN_SHARE * float(thrusts.max())
    above = np.flatnonzero(thrusts >= least)
    first, last = int(above[0]), int(above[-1])
    start, end = times[first], times[last]
    if first > 0:
        start -= (
            (thrusts[first] - least)
            / (thrusts[first] - thrusts[first - 1])
            * (times[first] - times[first - 1])
        )
    if last < len(times) - 1:
        end += (
            (thrusts[last] - least)
            / (thrusts[last] - thrusts[last + 1])
            * (times[last + 1] - times[last])
        )
    given = impulse_ns(motor, np.array([start, end]))
    return float((given[1] - given[0]) / (end - start))


def impulse_class(impulse_ns: float) -> ImpulseClass:
    """The class of a total impulse, for codes and names.

    Parameters
        impulse_ns : float - total impulse. [N s]
    Returns
        impulse_class : ImpulseClass - letter, bounds [N s] and the certification usually asked.
    Raises
        ValueError - not above zero, or above class O
    Validity
        Published bounds stand at 160.00 / 160.01 N s and so on; between them the lower class is
        taken up to the bound itself.
    Source
        NFPA 1125 designation, held from memory; the doubling series makes the whole table.
    Example
        >>> impulse_class(256.9).letter
        'H'
    """
    for row in IMPULSE_CLASSES:
        if row.above_ns < impulse_ns <= row.up_to_ns:
            return row
    raise ValueError(
        f"total impulse {impulse_ns:g} N s has no class letter here; allowed is above 0 up to "
        f"{IMPULSE_CLASSES[-1].up_to_ns:g} N s (class O). Check the curve's units."
    )


def motor_class(impulse_ns: float) -> str:
    """Class letter of a total impulse in N s, e.g. "H"; see impulse_class.

    Parameters
        impulse_ns : float - total impulse. [N s]
    Returns
        letter : str - of the class. [-]
    Source
        see impulse_class.
    """
    return impulse_class(impulse_ns).letter
