"""What the builder can change about a planned flight, as changed cases with what each costs.

A change is built from a case and gives another case; the ledger flies both on the same flights.
What would be written into the project stands beside it.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import numpy as np

from goodflight.physics.flight import fly_ensemble, registry
from goodflight.physics.motor import burn_time_s
from goodflight.physics.motor.model import Motor
from goodflight.physics.vehicle import MassItem
from goodflight.physics.vehicle.parts import Cord, Nose
from goodflight.studies.case.canopies import opening_numbers
from goodflight.studies.case.planned import Case, canopy_of, cord_of
from goodflight.studies.case.remade import Stated, stated, with_canopy
from goodflight.studies.results import Cost
from goodflight.studies.sampling.trials import nominal

DEPLOYMENT_ROWS = ("too_early", "too_late", "nothing_opens", "opening_cord", "opening_canopy")
NOSE_BALLAST_KG = (0.020, 0.040, 0.060)
BALLAST_PLACE = 0.25  # of the nose's length
BALLAST_NAME = "added nose ballast"


@dataclass(frozen=True)
class Change:
    """One change: the case it makes, what it costs, what would be written where."""

    key: str
    title: str
    cost: Cost
    cost_note: str
    case: Case
    writes: tuple[tuple[str, str], ...]  # (project path, new text)
    flies: bool = True  # False: the flights stay as they are, only capacities move
    helps: tuple[str, ...] = ()  # rows it is meant for; not tried when none of them fails


def changes_of(case: Case) -> tuple[Change, ...]:
    """Every change that makes sense for a planned flight, cheapest kinds first."""
    from goodflight.studies.levers import recovery_changes as recovery
    from goodflight.studies.levers.code_changes import MAKERS as CODE
    from goodflight.studies.levers.structure_changes import MAKERS as STRUCTURE
    from goodflight.studies.levers.workshop_changes import MAKERS as WORKSHOP

    makers = (
        *CHANGES, recovery.pulls, recovery.stronger, recovery.powder, recovery.cords,
        recovery.bays, recovery.alignments, *STRUCTURE, *WORKSHOP, *CODE,
    )  # fmt: skip
    return tuple(change for make in makers for change in make(case))


def _plan(case: Case, key: str) -> str:
    return f"{case.plan_path}.{key}"


def _seconds(value: float) -> str:
    return f"{value:g} s"


def _delays(case: Case) -> Iterator[Change]:
    motor = case.motor
    if motor.delay_s is None or case.deployment != registry.BY_DELAY:
        return
    near = sorted(
        (t for t in motor.delay_out_allowed_s if t != case.delay_out_s),
        key=lambda t: abs(t - case.delay_out_s),
    )
    for out in near[:4]:
        more = out - case.delay_out_s
        title = f"drill {abs(more):g} s {'more' if more > 0 else 'less'} out of the delay"
        yield Change(
            f"delay_out_{out:g}", title, "minutes", "what is drilled out stays out",
            replace(case, delay_out_s=out), ((_plan(case, "delay_out"), _seconds(out)),),
        )  # fmt: skip


def _rails(case: Case) -> Iterator[Change]:
    for length in sorted(set(case.site.rail_lengths_m)):
        if length > case.rail_length_m + 1e-6:
            yield Change(
                f"rail_{length:g}", f"use the {length:g} m rail", "free", "longer queue, ask early",
                replace(case, rail_length_m=length), ((_plan(case, "rail"), f"{length:g} m"),),
            )  # fmt: skip


def _tilts(case: Case) -> Iterator[Change]:
    limit = math.radians(20.0)
    if case.code is not None and case.code.rail_tilt_rad is not None:
        limit = case.code.rail_tilt_rad.value
    now = math.degrees(case.rail_tilt_rad)
    for degrees in (0.0, 3.0, 5.0, 8.0):
        if abs(degrees - now) < 0.5 or math.radians(degrees) > limit:
            continue
        title = "stand the rail upright" if degrees == 0 else f"lean the rail {degrees:g} deg"
        if degrees and case.rail_azimuth_rad is None:
            title += " into the wind"
        yield Change(
            f"tilt_{degrees:g}", title, "free", "",
            replace(case, rail_tilt_rad=math.radians(degrees)),
            ((_plan(case, "tilt"), f"{degrees:g} deg"),),
        )  # fmt: skip


def _ballast(case: Case) -> Iterator[Change]:
    there = next((i for i in case.items if i.name == BALLAST_NAME), None)
    if there is not None:
        yield from _more_ballast(case, there)
        return
    for mass in NOSE_BALLAST_KG:
        item, write = nose_ballast(case, mass, "measured")
        grams = round(1000 * mass)
        yield Change(
            f"ballast_{grams}", f"add {grams} g in the nose", "minutes",
            "weigh it, glue it in, balance the rocket again",
            replace(case, items=(*case.items, item)), (write,),
        )  # fmt: skip


def _more_ballast(case: Case, there: MassItem) -> Iterator[Change]:
    """Heavier ballast where there is some; at a station of its own it would be drawn twice."""
    for mass in NOSE_BALLAST_KG:
        item = replace(there, mass_kg=there.mass_kg + mass, mass_sigma_kg=0.001, known="measured")
        items = tuple(item if each is there else each for each in case.items)
        grams = round(1000 * item.mass_kg)
        yield Change(
            f"ballast_{grams}", f"add {1000 * mass:.0f} g more in the nose", "minutes",
            "weigh it, glue it in, balance the rocket again", replace(case, items=items),
            ((f"rocket.toml:part[{BALLAST_NAME}].mass", f"{grams} g ± 1 g measured"),),
        )  # fmt: skip


def nose_ballast(case: Case, mass_kg: float, known: str) -> tuple[MassItem, tuple[str, str]]:
    """Ballast glued into the nose: the mass it is, and the part that would be written."""
    nose = next((p for p in case.rocket.parts if isinstance(p, Nose)), None)
    place = BALLAST_PLACE * (nose.length_m if nose is not None else 0.2)
    item = MassItem(BALLAST_NAME, mass_kg, place, 0.0, 0.0, 0.001, 0.003, known, "lump")
    text = (
        f'kind = "lump", name = "{BALLAST_NAME}", station = "{1000 * place:.0f} mm", '
        f'mass = "{round(1000 * mass_kg)} g ± 1 g {known}"'
    )
    return item, ("rocket.toml:part", text)


def _canopies(case: Case) -> Iterator[Change]:
    now = canopy_of(case)
    if now is None:
        return
    for canopy in case.canopies:
        if canopy.name == now.name:
            continue
        larger = opening_numbers(canopy).cloth_area_m2 > opening_numbers(now).cloth_area_m2
        yield Change(
            f"canopy_{canopy.name}",
            f"use the {'larger' if larger else 'smaller'} canopy {canopy.name}", "minutes",
            "pack it again", with_canopy(case, canopy),
            ((_plan(case, "canopy"), canopy.name),),
        )  # fmt: skip


def coast_s(case: Case) -> float | None:
    """Time from burnout to apogee of the middle flight [s], None when it has no apogee."""
    sample = nominal(case)
    parameters = sample.parameters.copy()
    parameters[:, registry.PARAMETER_INDEX["delay_s"]] = 1000.0
    flown = fly_ensemble(
        parameters, case.motor, case.tables, sample.seeds, registry.BY_DELAY, False
    )
    coast = (
        flown[0, registry.OUTCOME_INDEX["apogee_s"]] - flown[0, registry.OUTCOME_INDEX["burnout_s"]]
    )
    return float(coast) if np.isfinite(coast) else None


def nearest_delay_out_s(case: Case) -> float:
    """The cut of the delay that comes nearest to the coast of the middle flight [s]."""
    motor = case.motor
    coast = coast_s(case)
    if motor.delay_s is None or coast is None:
        return motor.delay_out_allowed_s[0] if motor.delay_out_allowed_s else 0.0
    delay = motor.delay_s
    return min(motor.delay_out_allowed_s, key=lambda out: abs(delay - out - coast))


def _motors(case: Case) -> Iterator[Change]:
    for name, motor in case.motors.items():
        if motor.name == case.motor.name or not _fits(case, motor):
            continue
        other = case.with_motor(motor, 0.0)
        out = nearest_delay_out_s(other)
        cut = f", {out:g} s out of its delay" if out > 0.0 else ""
        yield Change(
            f"motor_{name}", f"fly motor {motor.name}{cut}", "purchase", "if it is to be had",
            replace(other, delay_out_s=out),
            ((_plan(case, "motor"), name), (_plan(case, "delay_out"), _seconds(out))),
        )  # fmt: skip


def _fits(case: Case, motor: Motor) -> bool:
    return abs(motor.diameter_m - case.motor.diameter_m) < 5e-4 and burn_time_s(motor) > 0.0


def _less_wind(case: Case) -> Iterator[Change]:
    wind = case.day.wind_m_s
    for speed in (round(0.75 * wind * 2) / 2, round(0.5 * wind * 2) / 2):
        if 0.5 <= speed < wind:
            other = other_wind(case, speed)
            yield Change(
                f"wind_{speed:g}", f"wait until the wind is {speed:g} m/s or less", "another_day",
                "go / no-go limit at the pad", with_wind(case, other),
                ((_plan(case, "day.wind"), other.text),),
            )  # fmt: skip


def other_wind(case: Case, speed_m_s: float) -> Stated:
    """Another mean wind, as far off in its share as the planned one; a guess: nobody read it."""
    wind, sigma = case.day.wind_m_s, case.day.wind_sigma_m_s
    return stated(speed_m_s, sigma * speed_m_s / wind if wind > 0.0 else sigma, "m/s")


def with_wind(case: Case, wind: Stated) -> Case:
    """The same flight on a day with another mean wind."""
    return replace(case, day=replace(case.day, wind_m_s=wind.value, wind_sigma_m_s=wind.sigma))


def _stronger_cord(case: Case) -> Iterator[Change]:
    cord = cord_of(case.rocket)
    if cord is None or cord.strength_n <= 0.0:
        return
    for factor in (1.5, 2.5):
        strength = cord.strength_n * factor
        parts = tuple(
            replace(p, strength_n=strength) if isinstance(p, Cord) and p is cord else p
            for p in case.rocket.parts
        )
        yield Change(
            f"cord_{factor:g}", f"use a cord of {strength:.0f} N", "purchase", "",
            replace(case, rocket=replace(case.rocket, parts=parts)),
            ((f"rocket.toml:part[{cord.name}].strength", f"{strength:.0f} N label"),), False,
        )  # fmt: skip


CHANGES: tuple[Callable[[Case], Iterator[Change]], ...] = (
    _rails, _tilts, _delays, _ballast, _canopies, _stronger_cord, _motors, _less_wind,
)  # fmt: skip
