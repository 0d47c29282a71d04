"""What the drawing shows, as data: the figures, without the outlines that they are drawn from."""

from typing import Any, Final

from goodflight.outputs.record import More, Mores, record
from goodflight.studies.questions.layout import Layout, Piece

_OUTLINES: Final = (
    "outline_m", "body", "contents", "fins", "guides_m", "guide_height_m", "separation_m",
    "main_separation_m", "guide_angle_rad", "guides", "burnout_mass_kg",
)  # fmt: skip

MORE: Final[Mores] = {
    Layout: dict.fromkeys(_OUTLINES)
    | {
        "cg_liftoff": None,
        "cg_burnout": None,
        "cp": None,
        "cp_travel_m": None,
        "cg_liftoff_m": More(
            "centre of gravity ready to fly, from the nose tip [m]",
            lambda layout: layout.cg_liftoff.station_m,
        ),
        "cg_liftoff_sigma_m": More(
            "its spread, one standard deviation [m]", lambda layout: layout.cg_liftoff.sigma_m
        ),
        "cg_burnout_m": More(
            "centre of gravity without propellant [m]", lambda layout: layout.cg_burnout.station_m
        ),
        "cp_m": More("centre of pressure at small angle [m]", lambda layout: layout.cp.station_m),
        "cp_sigma_m": More(
            "its spread, one standard deviation [m]", lambda layout: layout.cp.sigma_m
        ),
        "cp_at_10_deg_m": More(
            "centre of pressure at 10 degrees of angle of attack [m]",
            lambda layout: layout.cp_travel_m,
        ),
        "parts": More(
            "body and contents front to back",
            lambda layout: (*layout.body, *layout.contents),
            Piece,
        ),
    },
    Piece: {"outer_radius_m": None, "inner_radius_m": None},
}


def layout_record(layout: Layout) -> dict[str, Any]:
    """What the drawing shows, as figures."""
    return record(layout, MORE)
