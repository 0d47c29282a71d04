"""The conditions of an hour and the choices at the pad, and the plan remade under them.

What is left at None is as the plan says. Nothing else of the plan moves: the same rocket, the same
scores of every uncertain quantity, so flights under two conditions differ by the conditions alone.
"""

from dataclasses import dataclass, replace
from typing import Any

from goodflight.physics.aero import aero_tables
from goodflight.physics.motor.model import Motor
from goodflight.physics.vehicle.parts import Canopy, Rocket
from goodflight.project.defaults import PAD_WAIT_SPREAD, spread_of
from goodflight.project.fit_checks import not_fitting
from goodflight.studies.case.planned import Case, canopy_of
from goodflight.studies.case.remade import with_canopy
from goodflight.studies.levers.launch import other_wind
from goodflight.studies.levers.motor import motor_key, nearest_delay_out_s
from goodflight.studies.refusal import StudyRefused


@dataclass(frozen=True)
class Conditions:
    """One hour's weather and one set of choices; None = as the plan says.

    wind_sigma_m_s : None = as far off in its share as the plan's. into_wind : the rail leans into
    the wind of each flight, whatever the plan says; `azimuth_rad` then says nothing. motor : its
    key in the folder; with another motor and no `delay_out_s`, the delay nearest to its coast.
    """

    wind_m_s: float | None = None  # mean, at `wind_height_m`
    wind_sigma_m_s: float | None = None
    gust_m_s: float | None = None  # at the same height
    wind_height_m: float | None = None
    wind_from_rad: float | None = None
    wind_from_sigma_rad: float | None = None
    wind_exponent: float | None = None
    wind_exponent_sigma: float | None = None
    temperature_k: float | None = None
    pressure_pa: float | None = None  # as a barometer at the pad shows it
    cloud_base_m: float | None = None  # above the pad
    cloud_cover_tenths: float | None = None
    pad_wait_s: float | None = None
    rail_m: float | None = None
    tilt_rad: float | None = None
    azimuth_rad: float | None = None
    into_wind: bool = False
    motor: str | None = None
    delay_out_s: float | None = None
    canopy: str | None = None
    confirmed: tuple[str, ...] = ()  # rules of the code met, beside the plan's


def under(case: Case, conditions: Conditions) -> Case:
    """The plan remade under other conditions.

    Parameters
        case : Case - the planned flight. [SI]
        conditions : Conditions - what differs. [SI]
    Returns
        case : Case - the same plan on that hour, with those choices. [SI]
    Raises
        StudyRefused - no such motor, canopy or delay; a motor that does not go in.
    Validity
        As a plan whose file says the same; a test holds the two against each other.
    Source
        The project's own reading of a day.
    """
    found = _chosen(_on_day(case, conditions), conditions)
    rail = {
        "length_m": conditions.rail_m,
        "tilt_rad": conditions.tilt_rad,
        "azimuth_rad": conditions.azimuth_rad,
    }
    changed: dict[str, Any] = {key: value for key, value in rail.items() if value is not None}
    if conditions.into_wind:
        changed["azimuth_rad"] = None
    return replace(found, rail=replace(found.rail, **changed))


def _on_day(case: Case, c: Conditions) -> Case:
    """The plan in other air."""
    day = case.day
    changed: dict[str, Any] = {}
    if c.wind_m_s is not None:
        sigma = c.wind_sigma_m_s
        spread = other_wind(case, c.wind_m_s).sigma if sigma is None else sigma
        changed |= {"wind_m_s": c.wind_m_s, "wind_sigma_m_s": spread}
    for key in (
        "wind_height_m",
        "wind_from_rad",
        "wind_from_sigma_rad",
        "wind_exponent",
        "wind_exponent_sigma",
        "temperature_k",
        "pressure_pa",
        "cloud_base_m",
        "cloud_cover_tenths",
    ):
        value = getattr(c, key)
        if value is not None:
            changed[key] = value
    if c.temperature_k is not None:
        changed["temperature_sigma_k"] = spread_of("temperature", c.temperature_k, "measured")
    if c.pressure_pa is not None:
        changed["pressure_sigma_pa"] = spread_of("pressure", c.pressure_pa, "measured")
    wind = changed.get("wind_m_s", day.wind_m_s)
    if c.gust_m_s is not None and wind > 0.0:
        changed["gust_factor"] = max(c.gust_m_s / wind, 1.0)
    return with_day(case, **changed)


def with_day(case: Case, **changed: Any) -> Case:
    """The same flight in other air; the tables of the air are made again where it is denser."""
    day = replace(case.day, **changed)
    found = replace(case, day=day)
    if (day.temperature_k, day.pressure_pa) == (case.day.temperature_k, case.day.pressure_pa):
        return found

    def retable(rocket: Rocket, motor: Motor) -> Any:
        return aero_tables(rocket, motor.diameter_m, day.temperature_k, day.pressure_pa)

    return replace(found, tables=retable(case.rocket, case.motor), retable=retable)


def _chosen(case: Case, c: Conditions) -> Case:
    """The plan on another motor, delay or canopy, after another wait."""
    found = case
    canopy, flown = c.canopy, canopy_of(case)
    if canopy is not None and (flown is None or flown.name != canopy):
        found = with_canopy(found, _canopy(case, canopy))
    if c.motor is not None and c.motor != motor_key(case):
        found = found.with_motor(_motor(case, c.motor), 0.0)
        if c.delay_out_s is None and found.motor.delay_s is not None:
            found = found.with_delay_out(nearest_delay_out_s(found))
    if c.delay_out_s is not None:
        found = found.with_delay_out(_allowed(found, c.delay_out_s))
    if c.confirmed:
        says = found.plan_says
        met = sorted({*says.confirmed, *c.confirmed})
        left = [key for key in says.denied if key not in met]
        found = replace(found, plan_says=says.changed(confirmed=met, denied=left))
    if c.pad_wait_s is not None:
        deployment = replace(
            found.deployment,
            pad_wait_s=c.pad_wait_s,
            pad_wait_sigma_s=PAD_WAIT_SPREAD * c.pad_wait_s,
        )
        found = replace(found, deployment=deployment)
    return found


def delays_of(case: Case) -> tuple[float, ...]:
    """Seconds that may be taken out of the flight's motor, the motor as sold among them."""
    return tuple(sorted({0.0, *case.motor.delay_out_allowed_s}))


def _allowed(case: Case, out_s: float) -> float:
    if out_s in delays_of(case):
        return out_s
    allowed = ", ".join(f"{each:g} s" for each in delays_of(case))
    raise StudyRefused(
        f"{out_s:g} s out of the delay of {case.motor.name}",
        allowed,
        "take what the motor maker's sheet allows",
        "delay_out",
    )


def _motor(case: Case, key: str) -> Motor:
    motor = case.motors.get(key)
    if motor is None:
        names = ", ".join(sorted(case.motors))
        raise StudyRefused(f"no motor {key!r} in motors/", names, "name one of these", "motor")
    why = not_fitting(case.rocket, motor)
    if why:
        raise StudyRefused(
            f"motor {motor.name}: {why.told()}", "", "choose one that goes in", "motor"
        )
    return motor


def canopies_of(case: Case) -> tuple[Canopy, ...]:
    """Canopies the plan may open, its own first."""
    now = canopy_of(case)
    others = [each for each in case.deployment.canopies if now is None or each.name != now.name]
    return (*(() if now is None else (now,)), *others)


def _canopy(case: Case, name: str) -> Canopy:
    found = next((each for each in canopies_of(case) if each.name == name), None)
    if found is None:
        names = ", ".join(each.name for each in canopies_of(case))
        raise StudyRefused(f"no canopy {name!r}", names, "name one of these", "canopy")
    return found
