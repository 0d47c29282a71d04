"""From what was typed at the pad to what the board is asked."""

from typing import Final

from goodflight.project.day_file import HourTable
from goodflight.project.day_typed import NowTable
from goodflight.project.defaults import spread_of
from goodflight.quantity import Quantity
from goodflight.studies.field.aloft import seen_of
from goodflight.studies.field.checks import WEATHER
from goodflight.studies.field.conditions import Conditions
from goodflight.studies.field.day import Asked

MEASURED: Final = (*WEATHER, "temperature")
_FIELDS: Final = {
    "wind": "wind_m_s", "gust": "gust_m_s", "at": "wind_height_m", "wind_from": "wind_from_rad",
    "temperature": "temperature_k", "pressure": "pressure_pa", "cloud_base": "cloud_base_m",
    "queue": "pad_wait_s", "rail": "rail_m", "tilt": "tilt_rad", "delay_out": "delay_out_s",
}  # fmt: skip


def asked_of(now: NowTable, told: tuple[HourTable, ...] | None = None) -> Asked:
    """What the board is asked, from what was typed and a forecast told instead of day.toml's."""
    values = {
        field: getattr(now, key).value
        for key, field in _FIELDS.items()
        if getattr(now, key) is not None
    }
    if now.cloud_cover is not None:
        values["cloud_cover_tenths"] = 10.0 * now.cloud_cover.value
    if isinstance(now.lean, Quantity):
        values["azimuth_rad"] = now.lean.value
    conditions = Conditions(
        **values,
        wind_sigma_m_s=_spread(now.wind, "wind"),
        wind_from_sigma_rad=_spread(now.wind_from, "bearing"),
        into_wind=now.lean == "into wind",
        motor=now.motor,
        canopy=now.canopy,
        confirmed=tuple(now.confirmed),
    )
    return Asked(
        conditions=conditions,
        measured=frozenset(key for key in MEASURED if getattr(now, key) is not None),
        hour=now.hour,
        told=told,
        seen=tuple(map(seen_of, now.seen)),
        motors=tuple(now.motors) or None,
        rails=tuple(each.value for each in now.rails) or None,
    )


def _spread(figure: Quantity | None, kind: str) -> float | None:
    """One standard deviation of a figure read just now: as stated, else as a measured one's."""
    if figure is None:
        return None
    return spread_of(kind, figure.value, "measured") if figure.sigma is None else figure.sigma
