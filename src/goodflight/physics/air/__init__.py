"""The air on the day: state with height, gusts, the day and the field."""

from goodflight.physics.air.atmosphere import (
    Air,
    atmosphere,
    dynamic_pressure_pa,
    geopotential_height,
    sea_level_setting_pa,
    standard_atmosphere,
    station_pressure_pa,
    viscosity,
)
from goodflight.physics.air.gusts import gust_incidence_rad, gust_sigma_m_s
from goodflight.physics.air.model import Day, Site

__all__ = [
    "Air",
    "Day",
    "Site",
    "atmosphere",
    "dynamic_pressure_pa",
    "geopotential_height",
    "gust_incidence_rad",
    "gust_sigma_m_s",
    "sea_level_setting_pa",
    "standard_atmosphere",
    "station_pressure_pa",
    "viscosity",
]
