"""Rows of where it comes down: on what kind of ground, and whether it is seen at the top."""

from collections.abc import Callable

import numpy as np

from goodflight.physics.aero.reading import scalar
from goodflight.physics.bearings import distance_m
from goodflight.physics.polygon import signed_distance_m
from goodflight.physics.sightings import SEEN_RAD, seen_to_m
from goodflight.physics.sources import Constant
from goodflight.project.outlines import KINDS, NONE_OF
from goodflight.studies.asking import asked, choice, outline
from goodflight.studies.rows.applies import not_here
from goodflight.studies.rows.model import Evaluation, LimitState, Missing, View, full
from goodflight.studies.sampling import air, motor, rail, recovery, search


def _on(kind: str) -> Callable[[View], Evaluation | Missing]:
    """The row of one kind of ground."""

    def evaluate(view: View) -> Evaluation | Missing:
        site, says = view.case.site, view.case.field_says
        mapped = zip(site.keep_outs_m, site.keep_out_kinds)
        rings = [ring for (_, ring), each in mapped if each == kind]
        if not rings:
            if kind in says.not_there or (says.nothing_to_avoid and not site.keep_outs_m):
                return not_here(view, f"the field's file says: {NONE_OF[kind]} here")
            return _unmapped(view, kind)
        east, north = view.outcome("landing_east_m"), view.outcome("landing_north_m")
        gap = np.min([signed_distance_m(east, north, ring) for ring in rings], axis=0)
        return Evaluation(gap, full(view, 0.0), np.isfinite(east))

    return evaluate


def _unmapped(view: View, kind: str) -> Missing:
    site = view.case.origin.site_path
    return asked(
        f"map {KINDS[kind]} on the field or beside it, to be kept out of; where there is none, "
        "say so",
        outline(view.case, kind, KINDS[kind], "its corners, each in metres"),
        choice(
            f"{site}:not_there[{kind}]",
            NONE_OF[kind],
            "look at a map and walk the downwind side",
            [("yes", "nothing of the kind")],
        ),
    )


def _sight(view: View) -> Evaluation | Missing:
    away = distance_m(
        view.outcome("apogee_m"),
        distance_m(view.outcome("apogee_east_m"), view.outcome("apogee_north_m")),
    )
    reach = seen_to_m(scalar(view.case.tables, "length_m"), view.of(search.eyesight))
    return Evaluation(away, reach, np.isfinite(away))


_DRIFT = (
    air.wind, air.wind_from, air.wind_exponent, recovery.canopy_drag, motor.impulse,
    rail.lean_along,
)  # fmt: skip

ROWS = (
    *(
        LimitState(
            f"on_{kind}",
            f"Can land on {words}",
            phase="descent",
            unit="length",
            more_is_worse=False,
            evaluate=_on(kind),
            formula=(
                "distance of the landing point from the nearest keep-out of that kind, against 0; "
                "as a failure of the flight it counts once, among all keep-outs"
            ),
            sources=("builder", "hellmann", "kernel"),
            needs=_DRIFT,
            kind="rule",
        )
        for kind, words in KINDS.items()
    ),
    LimitState(
        "lost_from_sight",
        "Too small to be seen at the top",
        phase="coast",
        unit="length",
        more_is_worse=True,
        evaluate=_sight,
        formula=(
            "distance of the rocket from the pad at apogee, against the one at which its length "
            "is {small}; haze and colour are not counted"
        ),
        sources=("memory",),
        needs=(motor.impulse, search.eyesight),
        constants={"small": Constant(SEEN_RAD, "angle", "memory", note="what an eye resolves")},
        kind="rule",
        thumb=True,
    ),
)
