"""Rows of workmanship: glue cured and warm enough, working time, paint, fins straight, order.

They stand on `build.toml`. A joint, coat or check that is not entered leaves its row unknown.
"""

from collections.abc import Callable

import numpy as np

from goodflight.physics.sources import Constant
from goodflight.physics.structure import MAX_HUMIDITY, min_surface_k, recoat_error_s
from goodflight.physics.structure.cure import EPOXY_J_MOL, LABEL_K, STOPS_BELOW_K
from goodflight.physics.structure.moisture import DEW_MARGIN_K
from goodflight.studies.case.planned import fins_of
from goodflight.studies.case.workshop import Coat, GluedJoint
from goodflight.studies.rows.model import (
    Array,
    Evaluation,
    LimitState,
    Missing,
    View,
    full,
)
from goodflight.studies.rows.structure import worst_cant_rad
from goodflight.studies.sampling import airframe, workshop
from goodflight.studies.sampling.glue import GlueState

_NO_JOINTS = (
    "write the glue joints into build.toml: parts, glue with the times of its sheet, and where "
    "each "
    "joint lay how long until the flight"
)


def _worst(demands: list[Array], capacities: list[Array]) -> tuple[Array, Array]:
    """Demand and capacity of the case with the least capacity - demand, flight by flight."""
    demand, capacity = np.stack(demands), np.stack(capacities)
    place = np.argmin(capacity - demand, axis=0)
    flights = np.arange(demand.shape[1])
    return demand[place, flights], capacity[place, flights]


def _joints(
    view: View, figure: Callable[[GlueState], Array | None], needs: str
) -> list[tuple[GluedJoint, Array]] | Missing:
    """Joints with a drawn figure; missing when there are none or one lacks it."""
    found = []
    for joint, state in zip(view.case.workshop.joints, view.trials.glue):
        values = figure(state)
        if values is None:
            return Missing(f"joint {joint.name} in build.toml lacks a figure: {needs}")
        found.append((joint, values))
    return found or Missing(_NO_JOINTS)


def _cure(view: View) -> Evaluation | Missing:
    joints = _joints(
        view, lambda state: state.cured,
        "the cure time of its glue (from the sheet) and where it lay (stay)",
    )  # fmt: skip
    if isinstance(joints, Missing):
        return joints
    share = np.min([values for _, values in joints], axis=0)
    return Evaluation(full(view, 1.0), share)


def _glue_cold(view: View) -> Evaluation | Missing:
    joints = _joints(view, lambda state: state.glued_at_k, "where it lay (stay)")
    if isinstance(joints, Missing):
        return joints
    least = [full(view, joint.min_k) for joint, _ in joints]
    return Evaluation(*_worst(least, [values for _, values in joints]))


def _working_time(view: View) -> Evaluation | Missing:
    joints = _joints(
        view, lambda state: state.working_s,
        "the working time of its glue (from the sheet) and where it lay (stay)",
    )  # fmt: skip
    if isinstance(joints, Missing):
        return joints
    untimed = [joint.name for joint, _ in joints if joint.work_s is None]
    if untimed:
        return Missing(f"time a dry run of the glue-up of {', '.join(untimed)} and enter it (work)")
    pace = view.of(workshop.glue_pace)
    work = [(joint.work_s or 0.0) * pace for joint, _ in joints]
    return Evaluation(*_worst(work, [values for _, values in joints]))


_NO_COATS = "if the rocket is painted, write each coat into build.toml: where, humidity, times"


def _surface(view: View, coat: Coat) -> tuple[Array, Array] | None:
    """Temperature of the surface and the least it must have, or None when a figure is missing."""
    air, humidity = view.given(workshop.warmth, coat.place), coat.humidity
    if air is None or humidity is None:
        return None
    surface = air if coat.surface_k is None else full(view, coat.surface_k)
    return surface, min_surface_k(air, humidity, view.of(workshop.humidity))


def _paint_dew(view: View) -> Evaluation | Missing:
    coats = view.case.workshop.coats
    found = [_surface(view, coat) for coat in coats]
    if not coats or any(each is None for each in found):
        return Missing(_NO_COATS)
    damp = [c.name for c in coats if c.humidity is not None and c.humidity > MAX_HUMIDITY]
    warnings = tuple(f"{name}: more than 85 % humidity, wait" for name in damp)
    pairs = [each for each in found if each is not None]
    demand, capacity = _worst([least for _, least in pairs], [s for s, _ in pairs])
    return Evaluation(demand, capacity, warnings=warnings, valid=not warnings)


def _recoat(view: View) -> Evaluation | Missing:
    gaps, windows = [], []
    for coat in view.case.workshop.coats:
        least, most = coat.recoat_least_s, coat.recoat_most_s
        if least is None or most is None or coat.interval_s is None:
            return Missing(
                f"give the recoat times of {coat.name} from the can, and the interval you plan"
            )
        off, half = recoat_error_s(coat.interval_s, least, most)
        gaps.append(full(view, off))
        windows.append(full(view, half))
    return Evaluation(*_worst(gaps, windows)) if gaps else Missing(_NO_COATS)


def _alignment(view: View) -> Evaluation | Missing:
    limit, fins = view.case.workshop.fin_limit_rad, fins_of(view.case.rocket)
    if limit is None:
        return Missing("state the limit you hold the fins to in build.toml (fin_limit, e.g. 1 deg)")
    if fins is None:
        return Missing("add the fins as a part")
    return Evaluation(worst_cant_rad(view, fins, fins.cant_rad), full(view, limit))


def _closed_in(view: View) -> Evaluation | Missing:
    early = view.case.workshop.early
    if early is None:
        return Missing(
            "write the steps of the build into build.toml: what each one fits and what it closes"
        )
    named = tuple(f"{part} is closed in by '{step}' before it is fitted" for step, part in early)
    return Evaluation(full(view, float(len(early))), full(view, 0.5), warnings=named)


def _fasteners(view: View) -> Evaluation | Missing:
    checks = view.case.workshop.checks
    left = [name for name, state in checks if state == "open"]
    loose = [name for name, state in checks if state == "loose"]
    if not checks or (left and not loose):
        what = ", ".join(left) or "every screw, nut and link"
        return Missing(f"check by hand and enter in build.toml as tight: {what}")
    warnings = tuple(f"{name} is loose" for name in loose)
    return Evaluation(full(view, float(len(loose))), full(view, 0.5), warnings=warnings)


ROWS = (
    LimitState(
        "cure",
        "Glue not cured by flight day",
        "workmanship",
        "ratio",
        True,
        _cure,
        "1 (what the label calls cured), against the least over the joints of the sum of hours / "
        "exp(Ea/R (1/T - 1/T_label)) over the label's hours; Ea {ea} J/mol and T_label "
        "{label} where "
        "the project says nothing; nothing below the least temperature",
        ("derived", "sheet"),
        (workshop.warmth, workshop.cure_speed),
        {
            "ea": Constant(
                EPOXY_J_MOL,
                "count",
                "memory",
                note="amine-epoxy, abstract seen; others 55 to 70 kJ/mol",
            ),
            "label": Constant(LABEL_K, "temperature", "practice"),
        },
    ),
    LimitState(
        "glue_cold",
        "Glued too cold",
        "workmanship",
        "temperature",
        True,
        _glue_cold,
        "least temperature the glue's sheet allows ({least} where it says nothing), against "
        "the one the "
        "joint was glued at",
        ("sheet",),
        (workshop.warmth,),
        {
            "least": Constant(STOPS_BELOW_K, "temperature", "sheet", note="a coating text, seen"),
        },
    ),
    LimitState(
        "working_time",
        "Glue sets before the parts are together",
        "workmanship",
        "time",
        True,
        _working_time,
        "time the glue-up takes, against the working time of the sheet x the slowing in the cold",
        ("sheet", "derived"),
        (workshop.glue_pace, workshop.working_time, workshop.warmth),
    ),
    LimitState(
        "paint_dew",
        "Paint on a damp surface",
        "workmanship",
        "temperature",
        True,
        _paint_dew,
        "dew point + {margin} K, against the temperature of the surface",
        ("iso2017", "alduchov1996"),
        (workshop.warmth, workshop.humidity),
        {
            "margin": Constant(DEW_MARGIN_K, "count", "iso2017"),
        },
    ),
    LimitState(
        "recoat",
        "Next coat too soon or too late",
        "workmanship",
        "time",
        True,
        _recoat,
        "distance of the planned interval from the middle of the can's window, against half of it",
        ("sheet",),
    ),
    LimitState(
        "alignment",
        "Fins out of line by more than your limit",
        "workmanship",
        "angle",
        True,
        _alignment,
        "highest error of any fin, against the limit that you state in build.toml",
        ("builder",),
        (airframe.cant,),
        kind="rule",
    ),
    LimitState(
        "closed_in",
        "Sealed before everything inside was fitted",
        "workmanship",
        "count",
        True,
        _closed_in,
        "parts that a step closes in before another step fits them, against none",
        ("builder",),
        kind="statement",
    ),
    LimitState(
        "fasteners",
        "A fastener is loose",
        "workmanship",
        "count",
        True,
        _fasteners,
        "fasteners found loose, against none; unknown until all are checked",
        ("builder",),
        kind="statement",
    ),
)
