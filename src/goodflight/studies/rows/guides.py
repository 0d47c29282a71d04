"""The row of the rail guides: the cross-wind as the last one leaves may tear it off."""

import numpy as np

from goodflight.physics.aero.reading import scalar
from goodflight.physics.structure import (
    crosswind_force_n,
    guide_load_n,
)
from goodflight.physics.vehicle.parts import Buttons
from goodflight.studies.asking import asked, entry
from goodflight.studies.case.planned import guides_of
from goodflight.studies.rows.air import EXIT_MACH, density, slopes
from goodflight.studies.rows.model import Evaluation, LimitState, Missing, View
from goodflight.studies.rows.rail import NO_GUIDES
from goodflight.studies.sampling import air, motor, structure


def _no_guides(guides: Buttons | None) -> Missing:
    if guides is None:
        return NO_GUIDES
    how = "hang weights on one until it tears out of a scrap of the same tube"
    return asked(
        f"{how}, and give the guides' strength (strength)",
        entry(
            f"rocket.toml:part[{guides.name}].strength",
            "strength of a rail guide",
            how=how,
            dimension="force",
            instrument="weights",
            minutes=30.0,
        ),
    )


def _guides(view: View) -> Evaluation | Missing:
    guides = guides_of(view.case.rocket)
    if guides is None or guides.strength_n is None:
        return _no_guides(guides)
    exit_slopes = slopes(view, EXIT_MACH)
    side = crosswind_force_n(
        view.outcome("rail_exit_m_s"),
        view.outcome("rail_exit_wind_m_s"),
        density(view, np.zeros(view.count)),
        scalar(view.case.tables, "area_m2") * exit_slopes.total,
    )
    load = guide_load_n(
        side,
        cp_m=exit_slopes.cp_m,
        weight_n=view.outcome("liftoff_mass_kg") * view.case.site.gravity_m_s2,
        rail_tilt_rad=view.parameter("rail_tilt_rad"),
        fore_m=guides.station_m,
        aft_m=guides.aft_station_m,
    )
    return Evaluation(load, guides.strength_n * view.of(structure.guide_strength))


ROWS = (
    LimitState(
        "guides",
        "Rail guide tears off",
        phase="pad",
        unit="force",
        more_is_worse=True,
        evaluate=_guides,
        formula=(
            "cross-wind load q A CNa atan(w / v) as the last guide leaves, shared between the "
            "guides by levers, and the lean of the rocket; against the strength of one guide"
        ),
        sources=("derived", "builder"),
        needs=(structure.guide_strength, air.wind, air.gustiness, motor.impulse),
        look="both rail guides: loose, cracked, worn by the rail",
    ),
)
