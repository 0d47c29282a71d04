"""What is uncertain about the air of the day."""

from collections.abc import Callable
from typing import Final

from goodflight.physics.air.model import Day
from goodflight.studies.case.planned import Case
from goodflight.studies.sampling.quantity import CHANCE, KNOWLEDGE, Measured, Quantity, Stated
from goodflight.studies.sampling.spread import Folded, Normal, Relative

_METER: Final = "read a hand-held meter at the rail for ten minutes"
_AT_PAD: Final = "read thermometer and barometer at the pad"
_TOLD: Final = "as the plan says, or by how the figure is known"


def _of_day(
    key: str, value: Callable[[Day], float], sigma: Callable[[Day], float]
) -> Callable[[Case], Stated]:
    """Where the plan's day states a figure; a guess when it is not written."""

    def given(case: Case) -> Stated:
        path = f"{case.origin.plan_path}.day.{key}"
        known = case.origin.known.get(path)
        found = ("guess", "") if known is None else (known, path)
        return Stated(value(case.day), sigma(case.day), *found)

    return given


wind = Quantity(
    "wind",
    "wind",
    "wind",
    Folded(0.0),
    nature=CHANCE,
    because="builder",
    reason=_TOLD,
    given=_of_day("wind", lambda day: day.wind_m_s, lambda day: day.wind_sigma_m_s),
    at=lambda case: f"{case.origin.plan_path}.day.wind",
    measured_by=Measured(_METER, 10.0, "hand-held wind meter", 0.3),
)
wind_from = Quantity(
    "wind_from",
    "wind direction",
    "angle",
    Normal(0.0),
    nature=CHANCE,
    because="builder",
    reason=_TOLD,
    given=_of_day("wind_from", lambda day: day.wind_from_rad, lambda day: day.wind_from_sigma_rad),
    at=lambda case: f"{case.origin.plan_path}.day.wind_from",
    measured_by=Measured("watch a streamer for ten minutes", 10.0, "streamer and compass", 0.1),
)
wind_exponent = Quantity(
    "wind_exponent",
    "growth of the wind with height",
    "ratio",
    Normal(0.0, low=0.0, high=0.6),
    nature=KNOWLEDGE,
    because="kaltschmitt2007",
    reason="exponents printed for one terrain differ by this much",
    given=_of_day(
        "wind_exponent", lambda day: day.wind_exponent, lambda day: day.wind_exponent_sigma
    ),
    at=lambda case: f"{case.origin.plan_path}.day.wind_exponent",
    measured_by=Measured(
        "read the wind at [[2 m]] and on a pole or kite", 30.0, "hand-held wind meter", 0.03
    ),
)
temperature = Quantity(
    "temperature",
    "temperature",
    "temperature",
    Normal(0.0),
    nature=CHANCE,
    because="builder",
    reason=_TOLD,
    group="air",
    given=_of_day(
        "temperature", lambda day: day.temperature_k, lambda day: day.temperature_sigma_k
    ),
    at=lambda case: f"{case.origin.plan_path}.day.temperature",
    measured_by=Measured(_AT_PAD, 2.0, "thermometer", 0.5),
)
pressure = Quantity(
    "pressure",
    "air pressure",
    "pressure",
    Normal(0.0),
    nature=CHANCE,
    because="builder",
    reason=_TOLD,
    group="air",
    given=_of_day("pressure", lambda day: day.pressure_pa, lambda day: day.pressure_sigma_pa),
    at=lambda case: f"{case.origin.plan_path}.day.pressure",
    measured_by=Measured(_AT_PAD, 2.0, "barometer", 100.0),
)
gustiness = Quantity(
    "gust_factor",
    "gustiness",
    "ratio",
    Relative(0.20),
    nature=CHANCE,
    because="practice",
    reason="gust over mean read from minutes of a hand-held meter",
    measured_by=Measured(_METER, 10.0, "hand-held wind meter", 0.1),
)
