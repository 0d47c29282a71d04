"""The burning motor: thrust, propellant left, and the mass, CG and inertia that follow.

Thrust is linear between the points of the curve, so the impulse so far is an exact quadratic;
propellant leaves in step with it. The rows of the curve are (time, thrust, impulse so far,
slope of the thrust), the last row is burnout.
"""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.flight.compiled import compiled_inside
from goodflight.physics.flight.record import (
    BURNING,
    CURVE,
    GONE,
    GONE_RATE,
    LAST_SEGMENT,
    THRUST_NOW,
)
from goodflight.physics.flight.registry import PARAMETER_INDEX
from goodflight.physics.motor.model import Motor

_DRY = PARAMETER_INDEX["dry_mass_kg"]
_DRY_CG = PARAMETER_INDEX["dry_cg_m"]
_DRY_PITCH = PARAMETER_INDEX["dry_pitch_inertia_kg_m2"]
_DRY_ROLL = PARAMETER_INDEX["dry_roll_inertia_kg_m2"]
_PROP = PARAMETER_INDEX["propellant_kg"]
_PROP_CG = PARAMETER_INDEX["propellant_cg_m"]
_PROP_LENGTH = PARAMETER_INDEX["propellant_length_m"]
_PROP_RADIUS = PARAMETER_INDEX["propellant_radius_m"]
_NOZZLE = PARAMETER_INDEX["nozzle_m"]
_THRUST = PARAMETER_INDEX["thrust_factor"]
_TIME = PARAMETER_INDEX["burn_time_factor"]


def burn_curve(motor: Motor) -> NDArray[np.float64]:
    """Thrust curve as the kernel reads it.

    Parameters
        motor : Motor - times rising from 0. [s, N]
    Returns
        curve : (n, 4) - time, thrust, impulse so far, slope. [s, N, N s, N/s]
    Source
        trapezoid rule, exact for the piecewise linear curve.
    """
    times = np.asarray(motor.times_s, dtype=float)
    thrusts = np.asarray(motor.thrusts_n, dtype=float)
    steps = np.diff(times)
    impulse = np.concatenate([[0.0], np.cumsum(0.5 * (thrusts[1:] + thrusts[:-1]) * steps)])
    slopes = np.concatenate([np.diff(thrusts) / steps, [0.0]])
    return np.column_stack([times, thrusts, impulse, slopes])


@compiled_inside
def thrust_at(w: Any, segment: int, time_s: float) -> tuple[float, float, float]:
    """Thrust N, share of the propellant gone, and its rate 1/s, inside one segment of the curve.

    The segment is negative before ignition and at least the last one after burnout.
    """
    last = int(w[LAST_SEGMENT])
    if segment < 0:
        return 0.0, 0.0, 0.0
    if segment >= last:
        return 0.0, 1.0, 0.0
    at = CURVE + 4 * segment
    tau = time_s / w[_TIME] - w[at]
    thrust = w[at + 1] + w[at + 3] * tau
    impulse = w[at + 2] + (w[at + 1] + 0.5 * w[at + 3] * tau) * tau
    total = w[CURVE + 4 * last + 2]
    return thrust * w[_THRUST] / w[_TIME], impulse / total, thrust / (total * w[_TIME])


@compiled_inside
def read_thrust(w: Any, q: Any, s: int, n: int, segment: int, time_s: float) -> None:
    """Thrust and propellant of flight n of s side by side, from the curve of its record."""
    thrust, gone, rate = thrust_at(w, segment, time_s)
    q[THRUST_NOW * s + n], q[GONE * s + n], q[GONE_RATE * s + n] = thrust, gone, rate
    q[BURNING * s + n] = 1.0 if 0 <= segment < w[LAST_SEGMENT] else 0.0


@compiled_inside
def mass_at(
    p: Any, s: int, n: int, gone: float, rate: float
) -> tuple[float, float, float, float, float]:
    """Mass kg, CG m, pitch and roll inertia kg m2, and jet damping N m s of flight n of s.

    The jet damping is what multiplies the pitch rate: mdot l^2 + dI/dt, with l from the CG to the
    nozzle exit (Thomson, Introduction to Space Dynamics, 1961, ch. 7; from memory).
    """
    dry, dry_cg, prop_cg = p[_DRY * s + n], p[_DRY_CG * s + n], p[_PROP_CG * s + n]
    radius, length = p[_PROP_RADIUS * s + n], p[_PROP_LENGTH * s + n]
    left = p[_PROP * s + n] * (1.0 - gone)
    mass = dry + left
    cg = (dry * dry_cg + left * prop_cg) / mass
    radius2, off2 = radius * radius, (prop_cg - cg) * (prop_cg - cg)
    own = (3.0 * radius2 + length * length) / 12.0
    pitch = p[_DRY_PITCH * s + n] + dry * (dry_cg - cg) * (dry_cg - cg) + left * (own + off2)
    roll = p[_DRY_ROLL * s + n] + 0.5 * left * radius2
    arm = p[_NOZZLE * s + n] - cg
    jet = p[_PROP * s + n] * rate * (arm * arm - own - off2)
    return mass, cg, pitch, roll, jet
