"""Rows of workmanship: glue cured and warm enough, working time, paint, fins straight, order.

They stand on `build.toml`. A joint, coat or check that is not entered leaves its row unknown.
"""

from collections.abc import Callable

import numpy as np

from goodflight.physics.sources import Constant
from goodflight.physics.structure import MAX_HUMIDITY, min_surface_k, recoat_error_s
from goodflight.physics.structure.cure import EPOXY_J_MOL, LABEL_K, STOPS_BELOW_K
from goodflight.physics.structure.moisture import DEW_MARGIN_K
from goodflight.studies.asking import together
from goodflight.studies.case.joints import GluedJoint
from goodflight.studies.case.planned import fins_of
from goodflight.studies.case.workshop import Coat
from goodflight.studies.rows.applies import not_here
from goodflight.studies.rows.model import (
    Array,
    Evaluation,
    LimitState,
    Missing,
    View,
    full,
)
from goodflight.studies.rows.structure import NO_FINS, worst_cant_rad
from goodflight.studies.rows.workshop_asks import (
    damp_coats,
    no_coats,
    no_joints,
    no_limit,
    no_steps,
    of_joint,
    to_check,
    untimed_coats,
)
from goodflight.studies.sampling import airframe, workshop
from goodflight.studies.sampling.glue import GlueState


def _worst(demands: list[Array], capacities: list[Array]) -> tuple[Array, Array]:
    """Demand and capacity of the case with the least capacity - demand, flight by flight."""
    demand, capacity = np.stack(demands), np.stack(capacities)
    place = np.argmin(capacity - demand, axis=0)
    flights = np.arange(demand.shape[1])
    return demand[place, flights], capacity[place, flights]


def _joints(
    view: View, figure: Callable[[GlueState], Array | None], cure: bool = False, work: bool = False
) -> list[tuple[GluedJoint, Array]] | Missing:
    """Joints with a drawn figure; missing when there are none, or all that they lack for it."""
    joints = view.case.workshop.joints
    if not joints:
        return no_joints(view.case)
    lacks = together(*(of_joint(joint, cure, work) for joint in joints))
    if lacks is not None:
        return lacks
    drawn = [(joint, figure(state)) for joint, state in zip(joints, view.trials.glue)]
    return [(joint, values) for joint, values in drawn if values is not None]


def _cure(view: View) -> Evaluation | Missing:
    joints = _joints(view, lambda state: state.cured, cure=True)
    if isinstance(joints, Missing):
        return joints
    share = np.min([values for _, values in joints], axis=0)
    return Evaluation(full(view, 1.0), share)


def _glue_cold(view: View) -> Evaluation | Missing:
    joints = _joints(view, lambda state: state.glued_at_k)
    if isinstance(joints, Missing):
        return joints
    least = [full(view, joint.min_k) for joint, _ in joints]
    return Evaluation(*_worst(least, [values for _, values in joints]))


def _working_time(view: View) -> Evaluation | Missing:
    joints = _joints(view, lambda state: state.working_s, work=True)
    if isinstance(joints, Missing):
        return joints
    pace = view.of(workshop.glue_pace)
    work = [(joint.work_s or 0.0) * pace for joint, _ in joints]
    return Evaluation(*_worst(work, [values for _, values in joints]))


def _unpainted(view: View) -> Evaluation | Missing:
    """No coat is entered: there is none, as the builder says, or it is not known."""
    says = view.case.workshop.painted
    return not_here(view, "you said that it is not painted") if says is False else no_coats()


def _surface(view: View, coat: Coat) -> tuple[Array, Array]:
    """Temperature of the surface and the least it must have."""
    air, humidity = view.of(workshop.warmth, coat.place), coat.humidity or 0.0
    surface = air if coat.surface_k is None else full(view, coat.surface_k)
    return surface, min_surface_k(air, humidity, view.of(workshop.humidity))


def _paint_dew(view: View) -> Evaluation | Missing:
    coats = view.case.workshop.coats
    lacks = damp_coats(coats)
    if lacks is not None or not coats:
        return lacks or _unpainted(view)
    pairs = [_surface(view, coat) for coat in coats]
    damp = [c.name for c in coats if c.humidity is not None and c.humidity > MAX_HUMIDITY]
    warnings = tuple(f"{name}: more than 85 % humidity, wait" for name in damp)
    demand, capacity = _worst([least for _, least in pairs], [s for s, _ in pairs])
    return Evaluation(demand, capacity, warnings=warnings, valid=not warnings)


def _recoat(view: View) -> Evaluation | Missing:
    coats = view.case.workshop.coats
    lacks = untimed_coats(coats)
    if lacks is not None or not coats:
        return lacks or _unpainted(view)
    gaps, windows = [], []
    for coat in coats:
        least, most, interval = coat.recoat_least_s, coat.recoat_most_s, coat.interval_s
        assert least is not None and most is not None and interval is not None
        off, half = recoat_error_s(interval, least, most)
        gaps.append(full(view, off))
        windows.append(full(view, half))
    return Evaluation(*_worst(gaps, windows))


def _alignment(view: View) -> Evaluation | Missing:
    limit, fins = view.case.workshop.fin_limit_rad, fins_of(view.case.rocket)
    lacks = together(None if limit is not None else no_limit(), None if fins else NO_FINS)
    if lacks is not None:
        return lacks
    assert limit is not None and fins is not None
    return Evaluation(worst_cant_rad(view, fins, fins.cant_rad), full(view, limit))


def _closed_in(view: View) -> Evaluation | Missing:
    early = view.case.workshop.early
    if early is None:
        return no_steps(view.case)
    named = tuple(f"{part} is closed in by '{step}' before it is fitted" for step, part in early)
    return Evaluation(full(view, float(len(early))), full(view, 0.5), warnings=named)


def _fasteners(view: View) -> Evaluation | Missing:
    checks = view.case.workshop.checks
    left = [name for name, state in checks if state == "open"]
    loose = [name for name, state in checks if state == "loose"]
    if not checks or (left and not loose):
        return to_check(left)
    warnings = tuple(f"{name} is loose" for name in loose)
    return Evaluation(full(view, float(len(loose))), full(view, 0.5), warnings=warnings)


ROWS = (
    LimitState(
        "cure",
        "Glue not cured by flight day",
        phase="workmanship",
        unit="ratio",
        more_is_worse=True,
        evaluate=_cure,
        formula=(
            "1 (what the label calls cured), against the least over the joints of the sum of "
            "hours / exp(Ea/R (1/T - 1/T_label)) over the label's hours; Ea {ea} J/mol and "
            "T_label {label} where the project says nothing; nothing below the least temperature"
        ),
        sources=("derived", "sheet"),
        needs=(workshop.warmth, workshop.cure_speed),
        constants={
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
        phase="workmanship",
        unit="temperature",
        more_is_worse=True,
        evaluate=_glue_cold,
        formula=(
            "least temperature the glue's sheet allows ({least} where it says nothing), against "
            "the one the joint was glued at"
        ),
        sources=("sheet",),
        needs=(workshop.warmth,),
        constants={
            "least": Constant(STOPS_BELOW_K, "temperature", "sheet", note="a coating text, seen"),
        },
    ),
    LimitState(
        "working_time",
        "Glue sets before the parts are together",
        phase="workmanship",
        unit="time",
        more_is_worse=True,
        evaluate=_working_time,
        formula=(
            "time the glue-up takes, against the working time of the sheet x the slowing in the "
            "cold"
        ),
        sources=("sheet", "derived"),
        needs=(workshop.glue_pace, workshop.working_time, workshop.warmth),
    ),
    LimitState(
        "paint_dew",
        "Paint on a damp surface",
        phase="workmanship",
        unit="temperature",
        more_is_worse=True,
        evaluate=_paint_dew,
        formula="dew point + {margin} K, against the temperature of the surface",
        sources=("iso2017", "alduchov1996"),
        needs=(workshop.warmth, workshop.humidity),
        constants={
            "margin": Constant(DEW_MARGIN_K, "count", "iso2017"),
        },
    ),
    LimitState(
        "recoat",
        "Next coat too soon or too late",
        phase="workmanship",
        unit="time",
        more_is_worse=True,
        evaluate=_recoat,
        formula=(
            "distance of the planned interval from the middle of the can's window, against half "
            "of it"
        ),
        sources=("sheet",),
    ),
    LimitState(
        "alignment",
        "Fins out of line by more than your limit",
        phase="workmanship",
        unit="angle",
        more_is_worse=True,
        evaluate=_alignment,
        formula="highest error of any fin, against the limit that you state",
        sources=("builder",),
        needs=(airframe.cant,),
        kind="rule",
    ),
    LimitState(
        "closed_in",
        "Sealed before everything inside was fitted",
        phase="workmanship",
        unit="count",
        more_is_worse=True,
        evaluate=_closed_in,
        formula="parts that a step closes in before another step fits them, against none",
        sources=("builder",),
        kind="statement",
    ),
    LimitState(
        "fasteners",
        "A fastener is loose",
        phase="workmanship",
        unit="count",
        more_is_worse=True,
        evaluate=_fasteners,
        formula="fasteners found loose, against none; unknown until all are checked",
        sources=("builder",),
        kind="statement",
    ),
)
