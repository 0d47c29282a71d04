"""What is uncertain about the motor: its thrust, its delay, its charge, how it sits."""

import math
from collections.abc import Callable
from typing import Final

from goodflight.studies.case.planned import Case
from goodflight.studies.sampling.quantity import CHANCE, KNOWLEDGE, Measured, Quantity, Stated
from goodflight.studies.sampling.spread import Normal, Positive, Relative

_FIRED: Final = "only firing it would show, and a motor fires once"


def file_key(key: str) -> Callable[[Case], str]:
    """Where the file of the flight's motor writes a figure."""

    def at(case: Case) -> str:
        named = (stem for stem, motor in case.motors.items() if motor.name == case.motor.name)
        return f"motors/{next(named, '*')}.toml:{key}"

    return at


def _has_delay(case: Case) -> bool:
    return case.motor.delay_s is not None


impulse = Quantity(
    "impulse",
    "impulse of the motor",
    "ratio",
    Relative(0.0),
    nature=CHANCE,
    because="builder",
    reason="spread of the motor's file",
    group="motor",
    given=lambda case: Stated(None, case.motor.impulse_sigma, case.motor.known),
    at=file_key("impulse_spread"),
    not_measurable=_FIRED,
)
burn_time = Quantity(
    "burn_time",
    "burn time of the motor",
    "ratio",
    Relative(0.0),
    nature=CHANCE,
    because="builder",
    reason="spread of the motor's file",
    group="motor",
    given=lambda case: Stated(None, case.motor.burn_time_sigma, case.motor.known),
    at=file_key("burn_time_spread"),
    not_measurable=_FIRED,
)
delay = Quantity(
    "delay",
    "delay of the motor",
    "ratio",
    Relative(0.0),
    nature=CHANCE,
    because="builder",
    reason="spread of the motor's file",
    group="delay",
    given=lambda case: Stated(None, case.motor.delay_sigma, case.motor.known),
    exists=_has_delay,
    at=file_key("delay_spread"),
    not_measurable=_FIRED,
)
trim_depth = Quantity(
    "trim_depth",
    "depth of the delay drilling",
    "time",
    Normal(0.12),
    nature=CHANCE,
    because="practice",
    reason="a hand-turned drill stop is good to about [[0.1 mm]], delay grain burns near 1 mm/s",
    group="delay",
    exists=_has_delay,
    measured_by=Measured(
        "measure the depth of the hole with the calliper's depth rod", 3.0, "calliper", 0.05
    ),
)

_LINE: Final = Measured(
    "roll the loaded motor in its tube over a flat table with a dial or a ruler beside the nozzle",
    20.0,
    "dial or ruler",
    math.radians(0.1),
)
_CENTRE: Final = Measured(
    "measure from the motor tube to the airframe at four sides", 10.0, "calliper", 0.0002
)
thrust_angle_y = Quantity(
    "thrust_angle_y",
    "thrust line",
    "angle",
    Normal(math.radians(0.20)),
    nature=CHANCE,
    because="guess",
    reason="motor [[0.5 mm]] loose over [[200 mm]] of motor tube, nozzle throat 0.1 deg",
    group="thrust_line",
    measured_by=_LINE,
)
thrust_angle_z = Quantity(
    "thrust_angle_z",
    "thrust line",
    "angle",
    Normal(math.radians(0.20)),
    nature=CHANCE,
    because="guess",
    reason="as across",
    group="thrust_line",
    measured_by=_LINE,
)
thrust_offset_y = Quantity(
    "thrust_offset_y",
    "thrust line",
    "length",
    Normal(0.0005),
    nature=KNOWLEDGE,
    because="guess",
    reason="motor tube glued [[0.5 mm]] off centre",
    group="thrust_line",
    measured_by=_CENTRE,
)
thrust_offset_z = Quantity(
    "thrust_offset_z",
    "thrust line",
    "length",
    Normal(0.0005),
    nature=KNOWLEDGE,
    because="guess",
    reason="as across",
    group="thrust_line",
    measured_by=_CENTRE,
)


def _charge(case: Case) -> Stated | None:
    motor = case.motor
    if motor.charge_kg is None:
        return None
    return Stated(
        motor.charge_kg,
        motor.charge_sigma_kg or 0.10 * motor.charge_kg,
        motor.known,
        "",
        charge.reason,
    )


charge = Quantity(
    "motor_charge",
    "powder of the motor's charge",
    "powder",
    Positive(0.0),
    nature=CHANCE,
    because="guess",
    reason="measured by volume; a tenth when the sheet gives no spread",
    given=_charge,
    at=file_key("charge"),
    advice=lambda case: (
        f"look up the ejection charge of motor {case.motor.name} on its maker's "
        "sheet and enter it, in grams"
    ),
    not_measurable="it is sealed in the motor; never open one. The maker's sheet gives it",
)
