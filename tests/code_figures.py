"""Figures of a code set: their dimensions, and all that a set holds under one name."""

from typing import Final

from goodflight.project.codes import CodeSet

UNITS: Final = ("metric", "imperial")
DIMENSIONS: Final = {
    "level_impulse_ns": "impulse",
    "rail_tilt_rad": "angle",
    "wind_m_s": "wind",
    "mass_to_thrust": "ratio",
    "property_m": "length",
    "property_share": "ratio",
    "site_m": "length",
    "site_share": "ratio",
    "people_m": "length",
    "cloud_cover_tenths": "ratio",
    "airport_m": "length",
    "site_steps_m": "length",
}


def figures_in(code: CodeSet, name: str) -> set[float]:
    """Every figure of a set under one of its names, SI; bounds of its steps included."""
    held = getattr(code, name)
    if held is None:
        return set()
    if isinstance(held, dict):
        return {each.value for each in held.values()}
    return (
        {v for up, each in held for v in (up, each.value)}
        if isinstance(held, tuple)
        else {held.value}
    )
