"""Rows of boost and coast: stability, weathercocking, flutter, ceiling, and the model's range."""

import math

import numpy as np

from goodflight.physics.aero.geometry import rocket_shape
from goodflight.physics.aero.reading import scalar
from goodflight.physics.aero.short_form import PRACTICE_MARGIN_CAL, short_form_cp_m
from goodflight.physics.aero.upset import speed_at_top_m_s
from goodflight.physics.aero.validity import INCIDENCE_LIMIT_RAD, MACH_LIMIT, TRANSONIC, range_used
from goodflight.physics.air import atmosphere
from goodflight.physics.flight.registry import GAVE_UP
from goodflight.physics.recovery.opening import DEPLOY_SPEED_M_S, deploy_speed_stood_m_s
from goodflight.physics.sources import Constant
from goodflight.physics.structure import flutter_at_height
from goodflight.physics.structure.flutter import PRESSURE_FACTOR
from goodflight.physics.vehicle.fit import coupler_depths_m
from goodflight.physics.vehicle.parts import Coupler
from goodflight.studies.asking import asked, material, of_site
from goodflight.studies.case.planned import fins_of
from goodflight.studies.results import Figured
from goodflight.studies.rows.air import cg_at_exit_m
from goodflight.studies.rows.applies import not_here, point
from goodflight.studies.rows.model import Array, Evaluation, LimitState, Missing, View, full
from goodflight.studies.rows.structure import NO_FINS
from goodflight.studies.sampling import air, airframe, model, motor, rail, recovery, structure

NEUTRAL_CAL = 0.0
DEEP_CAL = 0.5  # that a coupler reaches into each tube: the floor of practice, 1 the aim
DEEP_AIM_CAL = 1.0
LEAN_RAD = math.radians(20.0)  # from vertical at burnout; what observers let pass


def short_margin_cal(view: View) -> Array:
    """Lowest margin of the burn by the short form, CG of each flight, (n,) [calibre]."""
    cp = short_form_cp_m(rocket_shape(view.case.rocket))
    aft = np.fmax(cg_at_exit_m(view), view.parameter("dry_cg_m"))
    return np.asarray((cp - aft) / scalar(view.case.tables, "diameter_m"))


def _margin_small(view: View) -> Evaluation | Missing:
    demand, gust = view.outcome("min_margin_cal"), view.outcome("min_margin_incidence_cal")
    if view.masks_only:
        return Evaluation(demand, full(view, NEUTRAL_CAL))
    short = point(short_margin_cal(view), 50.0)
    long, flown = point(demand, 50.0), point(gust, 50.0)
    low = min((each for each in (short, flown) if np.isfinite(each)), default=np.inf)
    warnings: tuple[str, ...] = ()
    if low < PRACTICE_MARGIN_CAL:
        warnings = (
            f"low margin: {short:.2f} cal by the short form, {long:.2f} with the fins' lift on the "
            f"body, {flown:.2f} at the angle of attack flown; practice asks for "
            f"{PRACTICE_MARGIN_CAL:g} calibre by the short form",
        )
    limits = {
        "short": Figured(short, "calibre", "middle of the flights; Barrowman 1967, at rest"),
        "long": Figured(long, "calibre", "middle of the flights; what is flown"),
        "gust": Figured(flown, "calibre", "middle of the flights"),
    }
    return Evaluation(
        demand, full(view, NEUTRAL_CAL), warnings=warnings, valid=not warnings, limits=limits
    )


def _margin_gust(view: View) -> Evaluation | Missing:
    return Evaluation(view.outcome("min_margin_incidence_cal"), full(view, 0.0))


def _weathercock(view: View) -> Evaluation | Missing:
    left = speed_at_top_m_s(
        view.outcome("ejection_m_s"), view.outcome("ejection_climb_m_s"), view.outcome("apogee_m_s")
    )
    return Evaluation(left, deploy_speed_stood_m_s(view.of(recovery.deploy_speed)))


def _burnout_lean(view: View) -> Evaluation | Missing:
    lean = view.outcome("burnout_tilt_rad")
    return Evaluation(lean, full(view, LEAN_RAD), np.isfinite(lean))


def _coupler_short(view: View) -> Evaluation | Missing:
    rocket, diameter = view.case.rocket, scalar(view.case.tables, "diameter_m")
    couplers = list(rocket.of_kind(Coupler))
    depths = [each for part in couplers if (each := coupler_depths_m(rocket, part)) is not None]
    if not depths:
        return not_here(view, "no coupler joins two tubes")
    deep, needed = min(map(min, depths)) / diameter, DEEP_CAL * view.of(structure.coupler_need)
    below = f"{deep:.2f} cal: below the {DEEP_AIM_CAL:g} that practice aims at (no source)"
    return Evaluation(full(view, deep), needed, warnings=(below,) if deep < DEEP_AIM_CAL else ())


def _flutter(view: View) -> Evaluation | Missing:
    nominal = view.case.uncertainty.features.get("flutter_m_s")
    if not nominal:
        return _no_flutter(view)
    height = np.nan_to_num(view.outcome("max_speed_height_m"))
    air = atmosphere(height, view.case.day.temperature_k, view.case.day.pressure_pa)
    stands = flutter_at_height(nominal, air.pressure_pa, air.sound_m_s)
    return Evaluation(view.outcome("max_speed_m_s"), stands * view.trials.flutter_factor)


def _no_flutter(view: View) -> Missing:
    fins = fins_of(view.case.rocket)
    if fins is None:
        return NO_FINS
    return asked(
        "name a fin material from the library, or give its shear modulus",
        material(fins.name, "material of the fins", "shear_modulus_pa"),
    )


def _ceiling(view: View) -> Evaluation | Missing:
    ceiling = view.case.site.ceiling_m
    if ceiling is None:
        how = "ask the range safety officer, or take it from the permission"
        return asked(
            "enter the height agreed for this field",
            of_site(view.case, "ceiling", "ceiling agreed for the field", how, 5.0),
        )
    return Evaluation(view.outcome("apogee_m"), full(view, ceiling))


def _model_range(view: View) -> Evaluation | Missing:
    mach = view.outcome("max_mach")
    gave_up = view.outcome("status") == GAVE_UP  # fail without figures, see `judging.evaluate`
    demand = np.where(gave_up, np.nan, range_used(mach, view.outcome("max_incidence_rad")))
    warnings = []
    if float(np.nanmax(mach, initial=0.0)) > TRANSONIC:
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
        phase="boost",
        unit="calibre",
        more_is_worse=False,
        evaluate=_margin_small,
        formula=(
            "least small-angle (CP - CG) / d from rail exit to burnout, the fins' lift on the "
            "body counted ({long}), against neutral, {neutral}; beside it by the short form, "
            "without that lift ({short}), and at the angle of attack flown ({gust}). The "
            "{practice} of practice goes with the short form (our inference) and is a warning, "
            "no limit"
        ),
        sources=("barrowman1967", "pitts1957", "practice"),
        needs=(
            airframe.mass,
            airframe.balance,
            model.cp,
            model.fin_slope,
            airframe.figure,
        ),
        constants={
            "neutral": Constant(NEUTRAL_CAL, "calibre", "definition"),
            "practice": Constant(PRACTICE_MARGIN_CAL, "calibre", "practice"),
        },
    ),
    LimitState(
        "margin_gust",
        "Unstable in a gust",
        phase="boost",
        unit="calibre",
        more_is_worse=False,
        evaluate=_margin_gust,
        formula=(
            "least (CP - CG) / d at the angle of attack flown, rail exit to burnout, against 0"
        ),
        sources=("allen1951", "jorgensen1977", "kernel"),
        needs=(air.wind, air.gustiness, airframe.mass, model.cp, model.crossflow),
    ),
    LimitState(
        "flutter",
        "Fins flutter",
        phase="boost",
        unit="speed",
        more_is_worse=True,
        evaluate=_flutter,
        formula=(
            "highest speed, against the flutter speed of the fin in the air at that height: G / "
            "p with the factor {factor}, which corresponds to 39.3 psi at sea level"
        ),
        sources=("martin1958",),
        needs=(
            airframe.shear_modulus,
            model.flutter_model,
            motor.impulse,
            *airframe.DRAG,
            airframe.figure,
        ),
        constants={
            "factor": Constant(PRESSURE_FACTOR, "ratio", "martin1958", note="re-derived"),
        },
        look="fins: cracks along the root, a layer that lifts, a tip that rattles",
    ),
    LimitState(
        "model_range",
        "Outside the model's valid range",
        phase="boost",
        unit="ratio",
        more_is_worse=True,
        evaluate=_model_range,
        formula=(
            "greater of highest Mach / {mach} and highest angle of attack / {angle}, against 1"
        ),
        sources=("derived",),
        needs=(air.wind, air.gustiness),
        constants={
            "mach": Constant(MACH_LIMIT, "ratio", "derived", note="validity of the methods"),
            "angle": Constant(
                INCIDENCE_LIMIT_RAD, "angle", "derived", note="past the stall of the fins"
            ),
        },
    ),
    LimitState(
        "burnout_lean",
        "Leans too far over at burnout",
        phase="boost",
        unit="angle",
        more_is_worse=True,
        evaluate=_burnout_lean,
        formula=(
            "angle between the rocket's axis and the vertical as the motor burns out, against "
            "{lean}; what the lean then does is judged by rows of apogee, opening and landing"
        ),
        sources=("kernel", "practice"),
        needs=(
            air.wind,
            air.gustiness,
            rail.lean_along,
            rail.lean_across,
            motor.thrust_angle_y,
            motor.thrust_angle_z,
            model.cp,
        ),
        constants={
            "lean": Constant(
                LEAN_RAD,
                "angle",
                "practice",
                note="as far as codes let a rail lean; one country certifies nothing beyond",
            ),
        },
        kind="rule",
        thumb=True,
    ),
    LimitState(
        "coupler_short",
        "Coupler too short to keep the body straight",
        phase="boost",
        unit="calibre",
        more_is_worse=False,
        evaluate=_coupler_short,
        formula=(
            "least length that a coupler reaches into the tube on either side of its joint / "
            "diameter of the rocket, against {deep}; how far its wall and its play let the body "
            "bend is not computed"
        ),
        sources=("builder", "practice"),
        needs=(structure.coupler_need,),
        constants={
            "deep": Constant(
                DEEP_CAL,
                "calibre",
                "practice",
                note="the floor, 1 to 1.5 the aim; a student programme takes 0.5 of a nose's "
                "shoulder and 1 of a coupler",
            ),
        },
        kind="rule",
        thumb=True,
    ),
    LimitState(
        "weathercock",
        "Weathercocks: still too fast at apogee",
        phase="coast",
        unit="speed",
        more_is_worse=True,
        evaluate=_weathercock,
        formula="air speed left at apogee, against the speed at which the gear may open, {speed}",
        sources=("practice",),
        needs=(air.wind, air.gustiness, rail.lean_along, recovery.deploy_speed),
        constants={
            "speed": Constant(
                DEPLOY_SPEED_M_S,
                "speed",
                "practice",
                note="safe to [[20 m/s]], alarm from [[25 to 30 m/s]]",
            ),
        },
        kind="rule",
        thumb=True,
    ),
    LimitState(
        "ceiling",
        "Above the agreed ceiling",
        phase="coast",
        unit="length",
        more_is_worse=True,
        evaluate=_ceiling,
        formula="apogee above the pad, against the ceiling agreed for the field",
        sources=("builder",),
        needs=(motor.impulse, *airframe.DRAG, airframe.mass),
    ),
)
