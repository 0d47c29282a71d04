"""Rows of the code: certificate level, rail angle, wind, thrust, distances, field, cloud.

Every limit comes from the code set the site names. No code set, or a limit it does not hold:
unknown. The local authority, the organisation's current text and the range safety officer decide.
"""

from collections.abc import Callable

import numpy as np

from goodflight.physics.motor import mean_thrust_n, total_impulse_ns
from goodflight.physics.polygon import min_width_m
from goodflight.studies.asking import asked, choice, entry, field_outline, of_plan, of_site
from goodflight.studies.case.codes import CodeSet, Limit
from goodflight.studies.results import Figured
from goodflight.studies.rows.answers import answered, no_code, people_away, to_answer
from goodflight.studies.rows.model import Array, Evaluation, LimitState, Missing, View, full
from goodflight.studies.sampling import air, airframe, motor, rail


def _coded(
    rule: Callable[[View, CodeSet], Evaluation | Missing],
) -> Callable[[View], Evaluation | Missing]:
    def evaluate(view: View) -> Evaluation | Missing:
        code = view.case.rules.code
        return no_code(view.case) if code is None else rule(view, code)

    return evaluate


def _stated(code: CodeSet, **limits: tuple[Limit, str]) -> dict[str, Figured]:
    """Figures of the code set by the name the formula has: (limit, dimension)."""
    return {
        name: Figured(
            limit.value, dimension, f"{limit.source} ({limit.how}), code set '{code.key}'"
        )
        for name, (limit, dimension) in limits.items()
    }


def _absent(view: View, code: CodeSet, key: str, what: str) -> Evaluation | Missing:
    """A limit that the code set does not state: what the builder was told, or to be asked."""
    told = f"not stated in the code set '{code.key}': {what}; ask the range safety officer"
    return answered(view, key, told) or asked(told, to_answer(view, key, what, told))


def _motor_class(view: View, code: CodeSet) -> Evaluation | Missing:
    limit = code.level_impulse_ns.get(view.case.rules.level)
    if limit is None:
        known = ", ".join(code.level_impulse_ns)
        if not known:
            return _absent(view, code, "levels", "certificate levels")
        return asked(
            f"write the certificate level of this flight into the plan: one of {known}",
            choice(
                of_plan(view.case, "level"),
                "certificate level of this flight",
                "that you hold, or fly for",
                ((each, each) for each in code.level_impulse_ns),
            ),
        )
    # the label counts, not the flight
    impulse = full(view, total_impulse_ns(view.case.motor))
    stated = _stated(code, level=(limit, "impulse"))
    return Evaluation(impulse, full(view, limit.value), limits=stated)


def _rail_angle(view: View, code: CodeSet) -> Evaluation | Missing:
    limit = code.rail_tilt_rad
    if limit is None:
        return _absent(view, code, "rail_angle", "highest rail angle")
    stated = _stated(code, limit=(limit, "angle"))
    return Evaluation(view.parameter("rail_tilt_rad"), full(view, limit.value), limits=stated)


def _wind(view: View, code: CodeSet) -> Evaluation | Missing:
    limit = code.wind_m_s
    if limit is None:
        return _absent(view, code, "wind", "highest wind")
    stated = _stated(code, limit=(limit, "wind"))
    return Evaluation(view.parameter("wind_m_s"), full(view, limit.value), limits=stated)


def _thrust(view: View, code: CodeSet) -> Evaluation | Missing:
    limit = code.mass_to_thrust
    if limit is None:
        return _absent(view, code, "thrust", "lowest thrust for the weight")
    weight = view.outcome("liftoff_mass_kg") * view.case.site.gravity_m_s2
    stands = full(view, mean_thrust_n(view.case.motor) * limit.value)
    return Evaluation(weight, stands, limits=_stated(code, share=(limit, "ratio")))


def _expected_height(view: View) -> Array:
    """The height the ensemble expects (its median), the same for every flight."""
    apogee = view.outcome("apogee_m")
    known = apogee[np.isfinite(apogee)]
    return full(view, float(np.median(known)) if known.size else 0.0)


def _property(view: View, code: CodeSet) -> Evaluation | Missing:
    if code.property_m is None or code.property_share is None:
        return _absent(view, code, "people", "distance to people and property")
    away = view.case.field_says.people
    if away is None:
        return asked(
            "measure the distance from the pad to the nearest person, house or road that has no "
            "part in the launch, and enter it",
            people_away(view.case),
        )
    needed = np.maximum(code.property_m.value, code.property_share.value * _expected_height(view))
    stated = _stated(
        code, distance=(code.property_m, "length"), share=(code.property_share, "ratio")
    )
    return Evaluation(full(view, away.value), needed, limits=stated)


def _crew(view: View, code: CodeSet) -> Evaluation | Missing:
    impulse, away = total_impulse_ns(view.case.motor), view.case.field_says.spectators
    limit = next((limit for up_to, limit in code.people_m if impulse <= up_to), None)
    if limit is None:
        return _absent(view, code, "flight_line", "distance to the flight line for this motor")
    if away is None:
        how = "pace or measure it, from where everybody stands"
        return asked(
            "enter the distance from the pad to the flight line",
            of_site(view.case, "spectators", "pad to the flight line", how, 10.0),
        )
    stated = _stated(code, distance=(limit, "length"))
    return Evaluation(full(view, away.value), full(view, limit.value), limits=stated)


def _site_size(view: View, code: CodeSet) -> Evaluation | Missing:
    if code.site_m is None or code.site_share is None:
        return _absent(view, code, "field_size", "smallest size of the field")
    if len(view.case.site.outline_m) < 3:
        return asked("draw the field's outline", field_outline(view.case))
    height = _expected_height(view)
    needed = np.maximum(code.site_m.value, code.site_share.value * height)
    if code.site_steps_m:
        steps = (limit.value for up_to, limit in code.site_steps_m if height[0] <= up_to)
        step = next(steps, None)
        if step is None:
            what = "smallest size of the field for this height, case by case"
            return _absent(view, code, "field_size", what)
        needed = np.maximum(needed, step)
    stated = _stated(code, width=(code.site_m, "length"), share=(code.site_share, "ratio"))
    return Evaluation(full(view, min_width_m(view.case.site.outline_m)), needed, limits=stated)


def _cloud(view: View) -> Evaluation | Missing:
    base = view.case.day.cloud_base_m
    if base is None:
        at, how = of_plan(view.case, "day.cloud_base"), "look it up that morning; above the pad"
        return asked(
            "write the cloud base of the day (above the pad); look it up that morning",
            entry(
                at,
                "cloud base of the day",
                how=how,
                dimension="length",
                instrument="weather report",
                minutes=5.0,
            ),
        )
    return Evaluation(view.outcome("apogee_m"), full(view, base))


def _cover(view: View, code: CodeSet) -> Evaluation | Missing:
    if code.cloud_cover_tenths is None:
        return _absent(view, code, "cloud_cover", "highest cloud cover")
    cover = view.case.day.cloud_cover_tenths
    if cover is None:
        at, how = of_plan(view.case, "day.cloud_cover"), "share of the sky, from 0 to 1"
        return asked(
            "write the cloud cover of the day, the share of the sky",
            entry(
                at,
                "cloud cover of the day",
                how=how,
                dimension="ratio",
                instrument="weather report",
                minutes=5.0,
            ),
        )
    limit = code.cloud_cover_tenths
    stated = _stated(code, limit=(limit, "ratio"))
    return Evaluation(full(view, cover), full(view, limit.value), limits=stated)


ROWS = (
    LimitState(
        "motor_class",
        "Motor above the certificate",
        phase="code",
        unit="impulse",
        more_is_worse=True,
        evaluate=_coded(_motor_class),
        formula="total impulse of the label, against the limit of the level, {level}",
        sources=("code",),
        kind="rule",
    ),
    LimitState(
        "code_thrust",
        "Too heavy for the motor by the code",
        phase="code",
        unit="force",
        more_is_worse=True,
        evaluate=_coded(_thrust),
        formula="lift-off weight, against {share} of the mean thrust",
        sources=("code",),
        needs=(airframe.mass,),
        kind="rule",
    ),
    LimitState(
        "rail_angle",
        "Rail leans more than the code allows",
        phase="code",
        unit="angle",
        more_is_worse=True,
        evaluate=_coded(_rail_angle),
        formula="lean of the rail from vertical, against {limit}",
        sources=("code",),
        needs=(rail.lean_along, rail.lean_across),
        kind="rule",
    ),
    LimitState(
        "wind_limit",
        "Wind above the code's limit",
        phase="code",
        unit="wind",
        more_is_worse=True,
        evaluate=_coded(_wind),
        formula="mean wind near the ground, against {limit}",
        sources=("code",),
        needs=(air.wind,),
        kind="rule",
    ),
    LimitState(
        "property_distance",
        "Too close to people or property",
        phase="code",
        unit="length",
        more_is_worse=False,
        evaluate=_coded(_property),
        formula=(
            "distance from the pad, against the greater of {distance} and {share} of the "
            "expected height"
        ),
        sources=("code",),
        kind="rule",
    ),
    LimitState(
        "crew_distance",
        "Flight line too close to the pad",
        phase="code",
        unit="length",
        more_is_worse=False,
        evaluate=_coded(_crew),
        formula=(
            "distance from the pad to the flight line, against {distance} for a motor of this "
            "impulse"
        ),
        sources=("code",),
        kind="rule",
    ),
    LimitState(
        "site_size",
        "Field too small for the height",
        phase="code",
        unit="length",
        more_is_worse=False,
        evaluate=_coded(_site_size),
        formula=(
            "least width of the field, against the greatest of {width}, {share} of the expected "
            "height and the code set's own steps by height"
        ),
        sources=("code",),
        kind="rule",
    ),
    LimitState(
        "cloud_base",
        "Flies into cloud",
        phase="code",
        unit="length",
        more_is_worse=True,
        evaluate=_cloud,
        formula="apogee above the pad, against the cloud base of the day",
        sources=("practice", "builder"),
        needs=(motor.impulse, *airframe.DRAG, airframe.mass),
        kind="rule",
    ),
    LimitState(
        "cloud_cover",
        "Too much cloud",
        phase="code",
        unit="ratio",
        more_is_worse=True,
        evaluate=_coded(_cover),
        formula="cloud cover in tenths of the sky, against {limit}",
        sources=("code",),
        kind="rule",
    ),
)
