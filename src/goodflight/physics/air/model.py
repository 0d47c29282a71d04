"""The air over the field on one day: temperature, pressure, wind and its turbulence."""

from dataclasses import dataclass

from goodflight.constants import (
    SEA_LEVEL_PRESSURE_PA,
    SEA_LEVEL_TEMPERATURE_K,
    STANDARD_GRAVITY_M_S2,
)


@dataclass(frozen=True)
class Day:
    """Weather at the pad. Spreads are one standard deviation."""

    wind_m_s: float = 0.0  # mean over ten minutes at `wind_height_m`
    wind_sigma_m_s: float = 0.0
    wind_from_rad: float = 0.0  # clockwise from north, where it comes from
    wind_from_sigma_rad: float = 0.0
    wind_height_m: float = 2.0
    gust_factor: float = 1.6  # 3 s gust over mean
    wind_exponent: float = 0.16  # power law
    wind_exponent_sigma: float = 0.03
    temperature_k: float = SEA_LEVEL_TEMPERATURE_K
    temperature_sigma_k: float = 1.5
    pressure_pa: float = SEA_LEVEL_PRESSURE_PA  # at the pad
    pressure_sigma_pa: float = 300.0
    cloud_base_m: float | None = None  # above the pad; None = not known
    cloud_cover_tenths: float | None = None


@dataclass(frozen=True)
class Site:
    """A flying field. Coordinates are metres east and north of the pad."""

    name: str
    elevation_m: float = 0.0
    ceiling_m: float | None = None  # agreed, above the pad
    outline_m: tuple[tuple[float, float], ...] = ()  # polygon of the field
    keep_outs_m: tuple[tuple[str, tuple[tuple[float, float], ...]], ...] = ()  # (name, polygon)
    keep_out_kinds: tuple[str, ...] = ()  # of each keep-out: water, trees ...; "" = not said
    rail_lengths_m: tuple[float, ...] = (2.4,)
    code: str = ""  # name of the code set, "" = none chosen
    gravity_m_s2: float = STANDARD_GRAVITY_M_S2
    people_areas_m: tuple[tuple[str, tuple[tuple[float, float], ...]], ...] = ()  # and property
