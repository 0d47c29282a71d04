"""Whether a day's pressure is the field's own, or the sea-level setting typed in its place."""

from typing import Final

from goodflight.constants import SEA_LEVEL_PRESSURE_PA
from goodflight.physics.air.atmosphere import (
    SEA_LEVEL_RECORDS_PA,
    sea_level_setting_pa,
    station_pressure_pa,
)
from goodflight.project.flight_files import DayTable, SiteFile
from goodflight.project.sheets import Sheet
from goodflight.quantity import show
from goodflight.quantity.said import Said, both, literal, said

USUAL_PA: Final = (96_000.0, 104_000.0)  # at sea level outside storms; common practice, no source
Path = tuple[str | int, ...]


def check_pressure(sheet: Sheet, path: Path, day: DayTable, site: SiteFile) -> None:
    """Note two pressures, and one that no weather makes at the field's height."""
    if day.pressure is not None and day.sea_level_pressure is not None:
        advice = "keep pressure when a barometer was read at the pad, else sea_level_pressure"
        found = f'"{day.sea_level_pressure.text}" beside pressure'
        sheet.add((*path, "sea_level_pressure"), found, "one of the two", advice)
        return
    low, high = SEA_LEVEL_RECORDS_PA
    if day.sea_level_pressure is not None:
        if not low <= day.sea_level_pressure.value <= high:
            wanted = f"a pressure at sea level, {_hpa(low)} to {_hpa(high)}"
            advice = "is it what a barometer shows at the pad? Then write it as pressure"
            found = f'"{day.sea_level_pressure.text}"'
            sheet.add((*path, "sea_level_pressure"), found, wanted, advice)
        return
    if day.pressure is None:
        return
    height = site.elevation.value
    if low <= sea_level_setting_pa(day.pressure.value, height) <= high:
        return
    typical = station_pressure_pa(SEA_LEVEL_PRESSURE_PA, height)
    wanted = f"a pressure that the air has there, about {_hpa(typical)}"
    found = f'"{day.pressure.text}" at a field {_m(height)} above the sea'
    sheet.add((*path, "pressure"), found, wanted, _question(day.pressure.text))


def pressure_doubt(day: DayTable, site: SiteFile) -> Said | None:
    """Return the question that an unusual pressure asks, None when it is usual or not given."""
    if day.pressure is None:
        return None
    height = site.elevation.value
    low, high = USUAL_PA
    setting = sea_level_setting_pa(day.pressure.value, height)
    if low <= setting <= high:
        return None
    question = literal(_question(day.pressure.text))
    return said(
        f"air pressure of the day: {literal(day.pressure.text)} at a field {{height}} above the "
        "sea would be {setting} at sea level; usual there is about {usual}. "
        f"{question[0].upper()}{question[1:]}",
        height=(height, "length"),
        setting=(setting, "pressure"),
        usual=(station_pressure_pa(SEA_LEVEL_PRESSURE_PA, height), "pressure"),
    )


def _question(text: str) -> str:
    return (
        "is it the sea-level setting (QNH) of an airfield or a weather report? Then write "
        f'sea_level_pressure = "{text}" instead; pressure is what a barometer shows at the pad'
    )


def _hpa(value_pa: float) -> str:
    return both(value_pa, "pressure", show(value_pa, "pressure", unit="hPa", digits=4))


def _m(value_m: float) -> str:
    return both(value_m, "length", show(value_m, "length", unit="m", digits=4))
