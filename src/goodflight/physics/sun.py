"""Where the sun stands: sunrise, sunset and the last light of a search.

Low-accuracy theory, about 0.01 deg; both are good to a minute or two, hills and cloud left out.
"""

import math
from typing import Final

SUNSET_RAD: Final = math.radians(-0.8333)  # upper edge on the horizon, mean refraction
LAST_LIGHT_RAD: Final = math.radians(-6.0)  # end of civil twilight
J2000: Final = 2451545.0  # Julian day of 2000 January 1, 12 h
_NOON: Final = 0.5


def julian_day(year: int, month: int, day: int) -> float:
    """Julian day at 0 h universal time of a day of the Gregorian calendar.

    Parameters
        year, month, day : int - of the calendar, from 1583. [-]
    Returns
        day : float - ends in .5. [-]
    Raises
        nothing
    Validity
        Gregorian calendar.
    Source
        Meeus, Astronomical Algorithms 1998, eq. 7.1, memory [meeus1998].
    Example
        >>> julian_day(2000, 1, 1)
        2451544.5
    """
    if month < 3:
        year, month = year - 1, month + 12
    century = year // 100
    leap = 2 - century + century // 4
    return int(365.25 * (year + 4716)) + int(30.6001 * (month + 1)) + day + leap - 1524.5


def sun_place_rad(julian: float) -> tuple[float, float]:
    """Right ascension and declination of the sun.

    Parameters
        julian : float - Julian day with its fraction. [-]
    Returns
        ascension, declination : floats - apparent. [rad]
    Raises
        nothing
    Validity
        1900 to 2100, 0.01 deg.
    Source
        [meeus1998] chapter 25, low accuracy; coefficients from memory, held by example 25.a.
    Example
        >>> [round(math.degrees(x), 3) for x in sun_place_rad(2448908.5)]
        [-161.619, -7.785]
    """
    t = (julian - J2000) / 36525.0
    mean = math.radians(280.46646 + 36000.76983 * t + 0.0003032 * t * t)
    anomaly = math.radians(357.52911 + 35999.05029 * t - 0.0001537 * t * t)
    centre = (
        (1.914602 - 0.004817 * t) * math.sin(anomaly)
        + 0.019993 * math.sin(2.0 * anomaly)
        + 0.000289 * math.sin(3.0 * anomaly)
    )
    node = math.radians(125.04 - 1934.136 * t)
    longitude = mean + math.radians(centre - 0.00569 - 0.00478 * math.sin(node))
    tilt = math.radians(23.439291 - 0.0130042 * t + 0.00256 * math.cos(node))
    ascension = math.atan2(math.cos(tilt) * math.sin(longitude), math.cos(longitude))
    return ascension, math.asin(math.sin(tilt) * math.sin(longitude))


def sidereal_rad(julian: float) -> float:
    """Mean sidereal time at Greenwich [rad].

    Parameters
        julian : float - Julian day, universal time. [d]
    Returns
        angle : float - mean sidereal time. [rad]
    Source
        [meeus1998] eq. 12.4, held by example 12.a.
    """
    days = julian - J2000
    return math.radians((280.46061837 + 360.98564736629 * days) % 360.0)


def sun_sinks_s(
    julian_day: float, latitude_rad: float, longitude_rad: float, height_rad: float = SUNSET_RAD
) -> float | None:
    """When the sun sinks to a height in the evening of a day.

    cos H = (sin h - sin lat sin dec) / (cos lat cos dec), iterated at the time found.

    Parameters
        julian_day : float - at 0 h universal time of the day. [-]
        latitude_rad : float - north positive. [rad]
        longitude_rad : float - east positive. [rad]
        height_rad : float - of the sun's middle. [rad]
    Returns
        time : float or None - after 0 h universal time, perhaps below 0 or above a day;
            None = it does not sink so far, or stays below. [s]
    Raises
        nothing
    Validity
        A level horizon at sea level; two minutes between 60 deg north and south.
    Source
        [meeus1998] eq. 15.1.
    Example
        >>> round(sun_sinks_s(2451623.5, 0.0, 0.0) / 3600.0, 1)  # an equinox on the equator
        18.2
    """
    return _passes_s(julian_day, latitude_rad, longitude_rad, height_rad, 1.0)


def sun_rises_s(
    julian_day: float, latitude_rad: float, longitude_rad: float, height_rad: float = SUNSET_RAD
) -> float | None:
    """When the sun climbs to a height in the morning of a day.

    cos H = (sin h - sin lat sin dec) / (cos lat cos dec), before noon, iterated at the time found.

    Parameters
        julian_day : float - at 0 h universal time of the day. [-]
        latitude_rad : float - north positive. [rad]
        longitude_rad : float - east positive. [rad]
        height_rad : float - of the sun's middle. [rad]
    Returns
        time : float or None - after 0 h universal time, perhaps below 0 or above a day;
            None = it does not climb so far, or stays above. [s]
    Raises
        nothing
    Validity
        A level horizon at sea level; two minutes between 60 deg north and south.
    Source
        [meeus1998] eq. 15.1.
    Example
        >>> round(sun_rises_s(2451623.5, 0.0, 0.0) / 3600.0, 1)  # an equinox on the equator
        6.1
    """
    return _passes_s(julian_day, latitude_rad, longitude_rad, height_rad, -1.0)


def _passes_s(
    julian_day: float, latitude_rad: float, longitude_rad: float, height_rad: float, side: float
) -> float | None:
    """When the sun passes a height, before noon (side -1) or after it (side 1)."""
    local_noon = _NOON - longitude_rad / (2.0 * math.pi)
    share = local_noon + 0.25 * side
    for _ in range(5):
        ascension, declination = sun_place_rad(julian_day + share)
        above = math.sin(height_rad) - math.sin(latitude_rad) * math.sin(declination)
        cosine = above / (math.cos(latitude_rad) * math.cos(declination))
        if abs(cosine) > 1.0:
            return None
        now = sidereal_rad(julian_day + share) + longitude_rad - ascension
        off = math.remainder(side * math.acos(cosine) - now, 2.0 * math.pi)
        share += off / (2.0 * math.pi)
    return 86400.0 * share
