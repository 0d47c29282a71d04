"""Rows of boost and coast: stability, weathercocking, flutter, ceiling, and the model's range."""

import numpy as np

from goodflight.physics.aero.upset import speed_at_top_m_s
from goodflight.physics.aero.validity import INCIDENCE_LIMIT_RAD, MACH_LIMIT, TRANSONIC, range_used
from goodflight.physics.air import atmosphere
from goodflight.physics.flight.registry import GAVE_UP
from goodflight.physics.recovery.opening import DEPLOY_SPEED_M_S, deploy_speed_stood_m_s
from goodflight.physics.sources import Constant
from goodflight.physics.structure import flutter_at_height
from goodflight.physics.structure.flutter import PRESSURE_FACTOR
from goodflight.studies.rows.model import Evaluation, LimitState, Missing, View, full
from goodflight.studies.sampling import air, airframe, model, motor, rail, recovery

MARGIN_MIDDLE_CAL = 0.5  # half-way between neutral and the 1 calibre of practice
PRACTICE_MARGIN_CAL = 1.0


def _margin_small(view: View) -> Evaluation | Missing:
    demand = view.outcome("min_margin_cal")
    middle = float(np.nanmedian(demand)) if np.isfinite(demand).any() else 0.0
    warnings: tuple[str, ...] = ()
    if middle < PRACTICE_MARGIN_CAL:
        warnings = (
            f"lowest margin {middle:.2f} cal is below the 1 calibre that common practice asks for",
        )
    capacity = np.maximum(MARGIN_MIDDLE_CAL + view.of(model.stable_margin), 0.0)
    return Evaluation(demand, capacity, warnings=warnings)


def _margin_gust(view: View) -> Evaluation | Missing:
    return Evaluation(view.outcome("min_margin_incidence_cal"), full(view, 0.0))


def _weathercock(view: View) -> Evaluation | Missing:
    left = speed_at_top_m_s(
        view.outcome("ejection_m_s"), view.outcome("ejection_climb_m_s"), view.outcome("apogee_m_s")
    )
    return Evaluation(left, deploy_speed_stood_m_s(view.of(recovery.deploy_speed)))


def _flutter(view: View) -> Evaluation | Missing:
    nominal = view.case.uncertainty.features.get("flutter_m_s")
    if not nominal:
        return Missing("name a fin material from the library, or give its shear modulus")
    height = np.nan_to_num(view.outcome("max_speed_height_m"))
    air = atmosphere(height, view.case.day.temperature_k, view.case.day.pressure_pa)
    stands = flutter_at_height(nominal, air.pressure_pa, air.sound_m_s)
    return Evaluation(view.outcome("max_speed_m_s"), stands * view.trials.flutter_factor)


def _ceiling(view: View) -> Evaluation | Missing:
    ceiling = view.case.site.ceiling_m
    if ceiling is None:
        return Missing("write the height agreed for this field into its site file (ceiling)")
    return Evaluation(view.outcome("apogee_m"), full(view, ceiling))


def _model_range(view: View) -> Evaluation | Missing:
    mach = view.outcome("max_mach")
    gave_up = view.outcome("status") == GAVE_UP  # fail without figures, see `judging.evaluate`
    demand = np.where(gave_up, np.nan, range_used(mach, view.outcome("max_incidence_rad")))
    warnings = []
    if float(np.nanmax(mach, initial=0.0)) > TRANSONIC[0]:
        warnings.append("some flights pass Mach 0.8: drag and CP are less certain there")
    if gave_up.any():
        warnings.append(
            f"{int(gave_up.sum())} flights could not be computed to the ground: they count as "
            "failed here, without figures"
        )
    return Evaluation(demand, full(view, 1.0), warnings=tuple(warnings), valid=not warnings)


ROWS = (
    LimitState(
        "margin_small",
        "Stability used up over the burn",
        "boost",
        "calibre",
        False,
        _margin_small,
        "least small-angle (CP - CG) / d from rail exit to burnout, against the margin a "
        "rocket needs, "
        "{needed}: between 0 and the 1 calibre of practice",
        ("barrowman1967", "practice"),
        (
            airframe.mass,
            airframe.balance,
            model.cp,
            model.fin_slope,
            airframe.figure,
            model.stable_margin,
        ),
        {
            "needed": Constant(MARGIN_MIDDLE_CAL, "calibre", "guess"),
        },
    ),
    LimitState(
        "margin_gust",
        "Unstable in a gust",
        "boost",
        "calibre",
        False,
        _margin_gust,
        "least (CP - CG) / d at the angle of attack flown, rail exit to burnout, against 0",
        ("allen1951", "jorgensen1977", "kernel"),
        (air.wind, air.gustiness, airframe.mass, model.cp, model.crossflow),
    ),
    LimitState(
        "flutter",
        "Fins flutter",
        "boost",
        "speed",
        True,
        _flutter,
        "highest speed, against the flutter speed of the fin in the air at that height: G / "
        "p with the "
        "factor {factor}, which corresponds to 39.3 psi at sea level",
        ("martin1958",),
        (airframe.shear_modulus, model.flutter_model, motor.impulse, model.axial, airframe.figure),
        {
            "factor": Constant(PRESSURE_FACTOR, "ratio", "martin1958", note="re-derived"),
        },
    ),
    LimitState(
        "model_range",
        "Outside the model's valid range",
        "boost",
        "ratio",
        True,
        _model_range,
        "greater of highest Mach / {mach} and highest angle of attack / {angle}, against 1",
        ("derived",),
        (air.wind, air.gustiness),
        {
            "mach": Constant(MACH_LIMIT, "ratio", "derived", note="validity of the methods"),
            "angle": Constant(
                INCIDENCE_LIMIT_RAD, "angle", "derived", note="past the stall of the fins"
            ),
        },
    ),
    LimitState(
        "weathercock",
        "Weathercocks: still too fast at apogee",
        "coast",
        "speed",
        True,
        _weathercock,
        "air speed left at apogee, against the speed at which the gear may open, {speed}",
        ("practice",),
        (air.wind, air.gustiness, rail.lean_along, recovery.deploy_speed),
        {
            "speed": Constant(
                DEPLOY_SPEED_M_S,
                "speed",
                "practice",
                note="safe to 20 m/s, alarm from 25 to 30 m/s",
            ),
        },
        kind="rule",
        thumb=True,
    ),
    LimitState(
        "ceiling",
        "Above the agreed ceiling",
        "coast",
        "length",
        True,
        _ceiling,
        "apogee above the pad, against the ceiling agreed for the field",
        ("builder",),
        (motor.impulse, model.axial, airframe.mass),
    ),
)
