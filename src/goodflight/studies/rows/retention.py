"""Rows of the motor's retention: what the charge may push out, what clips can grip."""

import numpy as np

from goodflight.physics.recovery.charge import separation_push_n
from goodflight.physics.recovery.separation import (
    OVERHANG_M,
    overhang_error_m,
)
from goodflight.physics.sources import Constant
from goodflight.physics.vehicle.parts import MotorTube
from goodflight.quantity.said import said
from goodflight.studies.asking import asked, choice, together
from goodflight.studies.case.planned import motor_aft_m, one_part
from goodflight.studies.rows.applies import not_here
from goodflight.studies.rows.model import Evaluation, LimitState, Missing, View, full
from goodflight.studies.rows.opening import nearest_motor
from goodflight.studies.rows.parting import GAS_NEEDS, Gas, gas_of
from goodflight.studies.rows.separation import HEAT, POWDER
from goodflight.studies.rows.structure import NO_MOTOR_TUBE
from goodflight.studies.sampling import separation


def no_retention(view: View) -> Missing:
    """What is missing where nobody says what keeps the motor in."""
    kind, found = view.case.rocket.separation.retention, separation.retention.missing(view.case)
    how = choice(
        "rocket.toml:retention.kind",
        "what keeps the motor in",
        "look at the tail",
        [
            ("cap", "a cap or ring that is screwed on"),
            ("clips", "clips over its rim"),
            ("friction", "tape alone, friction"),
        ],
    )
    return asked(found.advice, *([how] if kind is None else []), *found.asks)


def _kicked(view: View) -> Evaluation | Missing:
    opening = nearest_motor(view.case)
    gas, held = gas_of(view, opening), view.given(separation.retention)
    lacks = together(gas, no_retention(view) if held is None else None)
    if lacks is not None:
        return lacks
    assert isinstance(gas, Gas) and held is not None
    tube = one_part(view.case.rocket, MotorTube)
    bore = tube.inner_diameter_m if tube is not None else view.case.motor.diameter_m
    fired = np.isfinite(view.outcome(opening.height))
    return Evaluation(separation_push_n(gas.pressure_pa, bore), held, fired)


def _overhang(view: View) -> Evaluation | Missing:
    kind = view.case.rocket.separation.retention
    if kind is None:
        only = [each for each in no_retention(view).asks if each.kind == "choice"]
        return asked("say what keeps the motor in: cap, clips or friction (retention.kind)", *only)
    if kind != "clips":
        return not_here(view, f"retention by {kind} needs no overhang")
    tube, aft = one_part(view.case.rocket, MotorTube), motor_aft_m(view.case.rocket)
    if tube is None or aft is None:
        return NO_MOTOR_TUBE
    out = full(view, aft - tube.station_m - tube.length_m)
    off, half = overhang_error_m(out)
    told = said(
        "motor sticks out {out}; clips need {least} to {most}",
        out=(float(out[0]), "length"),
        least=(OVERHANG_M[0], "length"),
        most=(OVERHANG_M[1], "length"),
    )
    return Evaluation(off, full(view, half), warnings=(told,))


ROWS = (
    LimitState(
        "motor_pushed_out",
        "Motor pushed out instead of the nose",
        phase="deployment",
        unit="force",
        more_is_worse=True,
        evaluate=_kicked,
        formula=(
            "pressure of the charge, with {heat} of the trade's work, x section of the motor "
            "tube, against what the retention stands"
        ),
        sources=(*POWDER, "builder"),
        needs=(*GAS_NEEDS, separation.retention),
        constants=HEAT,
        look="retainer and its glue or screws",
    ),
    LimitState(
        "retainer_overhang",
        "Motor clips have nothing to grip",
        phase="deployment",
        unit="length",
        more_is_worse=True,
        evaluate=_overhang,
        formula=(
            "distance of the motor's overhang from the middle of {least} to {most}, against half "
            "of that range"
        ),
        sources=("practice",),
        constants={
            "least": Constant(OVERHANG_M[0], "length", "practice"),
            "most": Constant(OVERHANG_M[1], "length", "practice"),
        },
    ),
)
