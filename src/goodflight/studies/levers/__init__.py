"""What the builder can change: every lever, once. A module of levers names them in `LEVERS`."""

from typing import Final

from goodflight.studies.levers import (
    balance,
    bays,
    canopy,
    cord,
    field,
    fins,
    launch,
    motor,
    second,
    separation,
    structure,
    workshop,
)
from goodflight.studies.levers.lever import Lever, Offer, Setting, Write

LEVERS: Final = (
    *motor.LEVERS,
    *balance.LEVERS,
    *launch.LEVERS,
    *canopy.LEVERS,
    *separation.LEVERS,
    *second.LEVERS,
    *cord.LEVERS,
    *bays.LEVERS,
    *fins.LEVERS,
    *structure.LEVERS,
    *workshop.LEVERS,
    *field.LEVERS,
)
BY_KEY: Final = {lever.key: lever for lever in LEVERS}
if len(BY_KEY) != len(LEVERS):
    raise RuntimeError("two levers share a key")

__all__ = ["BY_KEY", "LEVERS", "Lever", "Offer", "Setting", "Write"]
