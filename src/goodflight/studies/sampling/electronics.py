"""What is uncertain about batteries and the wait at the pad."""

from goodflight.studies.case.planned import Case
from goodflight.studies.sampling.quantity import CHANCE, KNOWLEDGE, Measured, Quantity, Stated
from goodflight.studies.sampling.spread import Normal, Relative


def _has_devices(case: Case) -> bool:
    return bool(case.deployment.devices)


def _wait(case: Case) -> Stated | None:
    if case.deployment.pad_wait_s is None:
        return None
    return Stated(
        case.deployment.pad_wait_s,
        case.deployment.pad_wait_sigma_s,
        "guess",
        f"{case.origin.plan_path}.pad_wait",
    )


battery_life = Quantity(
    "battery_life",
    "run time of the battery",
    "ratio",
    Relative(0.10),
    nature=KNOWLEDGE,
    because="guess",
    reason="age of the cell",
    exists=_has_devices,
    measured_by=Measured("run it flat once with a clock beside it", 10.0, "clock", 0.03),
)
cold_loss = Quantity(
    "cold_loss",
    "loss of the battery in the cold",
    "ratio",
    Relative(0.30),
    nature=KNOWLEDGE,
    because="practice",
    reason="a fifth at [[0 degC]]",
    exists=_has_devices,
    measured_by=Measured(
        "run it flat once in the refrigerator with a clock beside it",
        15.0,
        "clock and thermometer",
        0.1,
    ),
)
pad_wait = Quantity(
    "pad_wait",
    "wait at the pad",
    "time",
    Normal(0.0, low=0.0),
    nature=CHANCE,
    because="practice",
    reason="queues and holds",
    given=_wait,
    at=lambda case: f"{case.origin.plan_path}.pad_wait",
    advice="say in the plan how long the rocket waits switched on, a queue included",
    measured_by=Measured("ask how long the queue is", 5.0, "clock", 300.0),
)
