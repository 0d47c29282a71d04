"""Solid motors: thrust curve, impulse, class letter, and where their masses sit."""

from goodflight.physics.motor.curve import (
    IMPULSE_CLASSES,
    ImpulseClass,
    burn_time_s,
    check_motor,
    impulse_class,
    impulse_ns,
    mean_thrust_n,
    motor_class,
    rated_mean_n,
    thrust_to_weight,
    total_impulse_ns,
)
from goodflight.physics.motor.grain import (
    Grain,
    grain_item,
    motor_case_item,
    propellant_grain,
)
from goodflight.physics.motor.model import Motor

__all__ = [
    "IMPULSE_CLASSES",
    "Grain",
    "ImpulseClass",
    "Motor",
    "burn_time_s",
    "check_motor",
    "grain_item",
    "impulse_class",
    "impulse_ns",
    "mean_thrust_n",
    "motor_case_item",
    "motor_class",
    "propellant_grain",
    "rated_mean_n",
    "thrust_to_weight",
    "total_impulse_ns",
]
