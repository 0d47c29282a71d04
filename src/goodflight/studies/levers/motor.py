"""Levers of the motor: which one, and how much of its delay is taken out."""

from dataclasses import replace
from functools import lru_cache
from typing import Final

import numpy as np

from goodflight.physics.flight import fly_ensemble, registry
from goodflight.physics.motor import burn_time_s
from goodflight.physics.motor.model import Motor
from goodflight.project.fit_checks import not_fitting
from goodflight.quantity.said import literal, said
from goodflight.studies.case.planned import Case
from goodflight.studies.levers.launch import plan
from goodflight.studies.levers.lever import Lever, Offer, Setting, names, numbers, steps
from goodflight.studies.sampling.trials import nominal


def coast_s(case: Case) -> float | None:
    """Time from burnout to apogee of the middle flight [s], None when it has no apogee."""
    sample = nominal(case)
    parameters = sample.parameters.copy()
    parameters[:, registry.PARAMETER_INDEX["delay_s"]] = 1000.0
    still = replace(case.launch, deployment=registry.BY_DELAY, turbulence=False)
    flown = fly_ensemble(still, parameters, sample.seeds)
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
    return min(motor.delay_out_allowed_s, key=lambda trim: abs(delay - trim - coast))


def motor_key(case: Case) -> str:
    """Name of the flight's motor among those of the folder; empty when it is none of them."""
    return next((k for k, m in case.motors.items() if m.name == case.motor.name), "")


def _fitting(case: Case) -> dict[str, Motor]:
    flown = motor_key(case)
    return {k: m for k, m in case.motors.items() if k == flown or not not_fitting(case.rocket, m)}


def _motor(base: Case, _now: Case) -> Offer | None:
    """Motors of the folder that fit, each with the delay nearest to its coast."""
    stem = motor_key(base)
    if not stem:
        return None
    fitting = _fitting(base)
    others = {name: _swapped(_Same(base), name) for name in fitting if name != stem}
    settings = [_swap(base, name, case) for name, case in others.items()]
    there = [n for n in others if burn_time_s(fitting[n]) > 0.0 and _to_be_had(base, n)]
    return names(stem, settings, [(name,) for name in there])


def _to_be_had(case: Case, key: str) -> bool:
    """Whether a motor may be advised: an invented one only in an invented project."""
    return case.origin.invented or key not in case.origin.invented_motors


def to_motor(case: Case, motor: Motor) -> Case:
    """The flight on another motor, its delay as sold."""
    return case if motor.name == case.motor.name else case.with_motor(motor, 0.0)


class _Same:
    """A case by its identity: a what-if asks for the same one again and again."""

    def __init__(self, case: Case) -> None:
        self.case = case

    def __hash__(self) -> int:
        return id(self.case)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.case is self.case


@lru_cache(maxsize=64)
def _swapped(base: _Same, name: str) -> Case:
    """The flight on another motor of the folder, its delay nearest to the coast."""
    other = base.case.with_motor(base.case.motors[name], 0.0)
    return other.with_delay_out(nearest_delay_out_s(other))


def _swap(base: Case, name: str, other: Case) -> Setting:
    """Another motor, its delay nearest to the coast that it makes on this rocket."""
    motor, delay_out_s = other.motor, other.deployment.delay_out_s
    title = f"fly motor {literal(motor.name)}"
    if delay_out_s > 0.0:
        title += " with {cut} taken out of its delay"
    return Setting(
        name,
        None,
        said(title, cut=(delay_out_s, "time")),
        ((plan(base, "motor"), name), (plan(base, "delay_out"), f"{delay_out_s:g} s")),
        lambda now: to_motor(now, motor).with_delay_out(delay_out_s),
    )


def _sold(_base: Case, now: Case) -> Offer | None:
    """The delay as sold, for a motor that comes with several."""
    delay = now.motor.delay_s
    if delay is None or now.deployment.by != registry.BY_DELAY:
        return None
    least = max([*now.motor.delay_out_allowed_s, 0.0]) + 1.0
    path, spread = f"motors/{motor_key(now)}.toml:delay", 100.0 * now.motor.delay_sigma
    return numbers(
        delay,
        (v for v in steps(2.0, delay + 4.0, 1.0) if v >= least),
        make=lambda case, sold: replace(case, motor=replace(case.motor, delay_s=sold)),
        writes=lambda sold: ((path, f"{sold:g} s ± {spread:.3g} % label"),),
        title=lambda sold: said("buy it with a delay of {sold}", sold=(sold, "time")),
        towards="none" if [cut for cut in now.motor.delay_out_allowed_s if cut > 0.0] else "both",
    )


def _out(base: Case, now: Case) -> Offer | None:
    if now.motor.delay_s is None or now.deployment.by != registry.BY_DELAY:
        return None
    planned, allowed = base.deployment.delay_out_s, now.motor.delay_out_allowed_s
    return numbers(
        planned,
        (0.0, *allowed),
        lambda case, out: case.with_delay_out(out),
        lambda out: ((plan(base, "delay_out"), f"{out:g} s"),),
        lambda out: (
            said("take {cut} out of the delay", cut=(out, "time"))
            if out > 0.0
            else said("leave the delay as sold")
        ),
    )


EJECTION_ROWS: Final = (  # what the moment of ejection moves
    "too_early", "too_late", "nothing_opens", "opening_cord", "opening_canopy", "snatch_cord",
    "snatch_anchor", "zipper", "booster_overtakes", "anchor", "off_field", "keep_out",
)  # fmt: skip
LEVERS: Final = (
    Lever(
        "motor",
        "motor",
        dimension="",
        cost="purchase",
        offer=_motor,
        note="if available",
        slider=True,
        alone="no other motor of motors/ goes in; import one on the drawing page",
        caution="motor",
        touches=("motor_class", "ceiling", "site_size", "motor_room"),
    ),
    Lever(
        "delay",
        "delay as sold",
        dimension="time",
        cost="purchase",
        offer=_sold,
        note="only if the motor is sold with that delay: ask before you plan on it",
        helps=EJECTION_ROWS,
        slider=True,
        caution="motor",
        touches=EJECTION_ROWS,
    ),
    Lever(
        "delay_out",
        "taken out of the delay",
        dimension="time",
        cost="minutes",
        offer=_out,
        note="what is taken out cannot be put back",
        helps=EJECTION_ROWS,
        slider=True,
        caution="delay",
        alone="nothing may be taken out: the motor's file says what may, by its maker's sheet",
        touches=EJECTION_ROWS,
    ),
)
