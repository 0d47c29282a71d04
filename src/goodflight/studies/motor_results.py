"""What the studies of motors and of delays answer with, as plain records."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated

from goodflight.quantity.said import Said, Words
from goodflight.studies.results import State


@dataclass(frozen=True)
class MotorRow:
    """One motor of the project's folder on this rocket and field, at the best delay it allows."""

    key: Annotated[str, "file name of the motor"]
    name: Annotated[str, "name of the motor"]
    motor_class: Annotated[str, "letter by total impulse"]
    impulse_ns: Annotated[float, "total impulse of the label [N s]"]
    level: Annotated[str, "certificate it needs by the code set; empty = not known"]
    can: Annotated[State, "ok, marginal, fails, unknown: as the state of a ledger"]
    delay_out_s: Annotated[
        float | None, "seconds out with the lowest chance [s]; null = none to choose"
    ]
    chance: Annotated[float | None, "share of flights that fail, 0 to 1; null = cannot be flown"]
    low: Annotated[float | None, "lower end of the 95 % Wilson interval"]
    high: Annotated[float | None, "upper end of the 95 % Wilson interval"]
    apogee_m: Annotated[float | None, "median apogee [m]; null = cannot be flown"]
    why_not: Annotated[tuple[Words, ...], "what can fail, most first"]
    unknown: Annotated[int, "failures of the flight not known; the chance is a lower bound"] = 0
    chances: Annotated[Mapping[str, float], "chance of each row that is named there, by key"] = (
        field(default_factory=dict)
    )


@dataclass(frozen=True)
class MotorStudy:
    """Every motor of the folder, the lowest chance of failing first."""

    rocket: Annotated[str, "name of the rocket"]
    plan: Annotated[str, "plan whose field, day, rail and canopy hold"]
    site: Annotated[str, "name of the field"]
    level: Annotated[str, "certificate of the plan"]
    flights: Annotated[int, "flights simulated for each motor"]
    seed: Annotated[int, "same seed, same answer on one machine"]
    rows: Annotated[tuple[MotorRow, ...], "every motor of the folder, the lowest chance first"]
    growth: Annotated[tuple[Said, ...], "what the next certificate level would need, in sentences"]
    warnings: Annotated[tuple[Words, ...], "what to mind about this answer"] = ()
    invented: Annotated[bool, "true when the project says that its figures are invented"] = False


@dataclass(frozen=True)
class DelayRow:
    """One delay that the motor allows."""

    delay_out_s: Annotated[float, "seconds taken out of the delay [s]"]
    delay_s: Annotated[float, "delay that is left, from burnout [s]"]
    chance: Annotated[float, "share of flights that fail, 0 to 1, all rows; null = not known"]
    low: Annotated[float, "lower end of the 95 % Wilson interval"]
    high: Annotated[float, "upper end of the 95 % Wilson interval"]
    chances: Annotated[
        dict[str, float], "chance of each deployment row, and of each that the delay moves, by key"
    ]
    ejection_m_s_5_50_95: Annotated[
        tuple[float, float, float], "air speed at ejection, 5, 50, 95 % points [m/s]"
    ]
    ejection_m_5_50_95: Annotated[
        tuple[float, float, float], "height at ejection, 5, 50, 95 % points [m]"
    ]
    after_apogee_s_5_50_95: Annotated[
        tuple[float, float, float], "ejection after apogee, 5, 50, 95 % points [s]"
    ]
    state: Annotated[State, "ok, marginal, fails or unknown: as the state of a ledger"] = "unknown"
    unknown: Annotated[
        int, "failures of the flight not known; the chance is then a lower bound"
    ] = 0
    spread_s: Annotated[
        float, "standard deviation of what is left, the drilling's error included [s]"
    ] = 0.0
    tied: Annotated[
        bool, "true: the same flights cannot tell its chance from the lowest; the lowest itself no"
    ] = False


@dataclass(frozen=True)
class DelayStudy:
    """Every delay the motor allows, the least total chance first."""

    rocket: Annotated[str, "name of the rocket"]
    plan: Annotated[str, "name of the planned flight"]
    motor: Annotated[str, "name of the motor"]
    flights: Annotated[int, "flights simulated"]
    seed: Annotated[int, "same seed, same answer on one machine"]
    planned_delay_out_s: Annotated[float, "seconds that the plan takes out [s]"]
    rows: Annotated[
        tuple[DelayRow, ...], "every delay the motor allows, the lowest total chance first"
    ]
    warnings: Annotated[tuple[Words, ...], "cautions about this answer"] = ()
    invented: Annotated[bool, "true when the project says that its figures are invented"] = False
    sold_s: Annotated[float, "delay as sold, from burnout, as the label has it [s]"] = 0.0
    sold_spread: Annotated[float, "its scatter, one standard deviation as a share of it"] = 0.0
