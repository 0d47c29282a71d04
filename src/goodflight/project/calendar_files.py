"""What `build.toml` says for the calendar: people's hours, places by night and month, deliveries.

What is left out stays unknown and is asked for; only what says so has a value by default.
"""

from datetime import date
from pathlib import Path
from typing import Annotated, Final, Literal

from pydantic import Field

from goodflight.project.day_file import Clock, csv_sheet, forecast_text
from goodflight.project.faults import ProjectErrors
from goodflight.project.fields import Date, Hours, Key, Name, Ratio, Table, Temperature, Text
from goodflight.project.sheets import Sheet
from goodflight.project.text_fields import QuantityField
from goodflight.quantity import Quantity

EVENING_FROM: Final = "19:00"
WEEKEND_FROM: Final = "10:00"
WEEKDAYS: Final = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
MOST_DAYS: Final = 200
DayHours = Annotated[Quantity, QuantityField("time", least=0.0, most=57600.0)]  # 16 h of a day
Weekday = Literal["mon", "tue", "wed", "thu", "fri", "sat", "sun"]


class PersonTable(Table):
    """Someone who builds, and when."""

    name: Annotated[Name, Key("name, used by other entries")]
    hours_per_week: Annotated[
        Hours | None,
        Key(
            "hours a week, even over `weekdays` where no evening or weekend is given", example="6 h"
        ),
    ] = None
    evening: Annotated[
        DayHours | None, Key("time at the bench on an evening from Monday to Friday", example="2 h")
    ] = None
    weekend: Annotated[
        DayHours | None, Key("time at the bench on a Saturday or Sunday", example="4 h")
    ] = None
    late: Annotated[
        DayHours | None,
        Key("how much longer an evening may get if it must", left_out="0 h", example="1 h"),
    ] = None
    evening_from: Annotated[
        Clock | None, Key("when an evening's work begins", left_out=EVENING_FROM)
    ] = None
    weekend_from: Annotated[
        Clock | None, Key("when work begins on a weekend", left_out=WEEKEND_FROM)
    ] = None
    weekdays: Annotated[
        list[Weekday], Key("days of the week with time at the bench", left_out="all seven")
    ] = Field(default_factory=list)
    off: Annotated[
        list[Date], Field(max_length=MOST_DAYS), Key("days without time at the bench")
    ] = Field(default_factory=list)
    note: Annotated[Text, Key("a remark; nothing reads it")] = ""


class MonthTable(Table):
    """Climate figures of a workplace for one month."""

    month: Annotated[int, Field(ge=1, le=12), Key("1 is January, 12 is December")]
    temperature: Annotated[Temperature, Key("mean of day and night", example="9 degC ± 2 degC")]
    night: Annotated[
        Temperature | None, Key("lowest of an ordinary night", left_out="as the mean")
    ] = None
    humidity: Annotated[Ratio | None, Key("relative humidity, 0 to 1", example="0.75")] = None


class ForecastTable(Table):
    """The forecast of one day for a workplace."""

    date: Annotated[Date, Key("the day")]
    temperature: Annotated[Temperature, Key("mean of day and night", example="9 degC")]
    night: Annotated[Temperature | None, Key("lowest of the night", left_out="the mean")] = None
    humidity: Annotated[Ratio | None, Key("relative humidity, 0 to 1")] = None


class WorkplaceTable(Table):
    """A place where glue and paint dry, with the temperature it keeps."""

    name: Annotated[Name, Key("name, used by other entries")]
    kind: Annotated[
        Literal["indoor", "shed", "outdoor"] | None,
        Key("heated room, unheated roof, or open air, where work needs daylight"),
    ] = None
    temperature: Annotated[Temperature | None, Key("mean temperature there")] = None
    night: Annotated[
        Temperature | None,
        Key("lowest of the night, where it differs from the mean", left_out="as temperature"),
    ] = None
    humidity: Annotated[Ratio | None, Key("relative humidity there")] = None
    day: Annotated[
        list[ForecastTable],
        Field(max_length=MOST_DAYS),
        Key("forecast, before all other figures; one [[workplace.day]] each"),
    ] = Field(default_factory=list)
    month: Annotated[
        list[MonthTable],
        Field(max_length=12),
        Key("climate figures, for the days no forecast reaches; one [[workplace.month]] each"),
    ] = Field(default_factory=list)
    note: Annotated[Text, Key("a remark; nothing reads it")] = ""


class DeliveryTable(Table):
    """Something ordered that steps of the build wait for."""

    name: Annotated[Name, Key("what comes")]
    day: Annotated[Date, Key("the day it is promised for")]
    spread: Annotated[
        Hours | None,
        Key("one standard deviation of the day it comes", left_out="not known", example="2 d"),
    ] = None
    steps: Annotated[
        list[Annotated[str, Field(min_length=1, max_length=120)]],
        Key("keys of the steps that need it, as `goodflight order` lists them"),
    ]
    arrived: Annotated[bool, Key("whether it is there", left_out="false")] = False


class RangeDayTable(Table):
    """A day on which the range is open."""

    day: Annotated[Date, Key("the day")]
    note: Annotated[Text, Key("a remark; nothing reads it")] = ""


def check_calendar(sheet: Sheet, workplaces: list[WorkplaceTable]) -> None:
    """Note months told twice."""
    for i, place in enumerate(workplaces):
        months = [each.month for each in place.month]
        for j, month in enumerate(months):
            if month in months[:j]:
                advice = "keep one [[workplace.month]] for each month"
                sheet.add(("workplace", i, "month", j), f"{month} again", "another month", advice)


def place_forecast(path: Path) -> tuple[ForecastTable, ...]:
    """Read the forecast of a workplace: CSV, its first line "date,temperature [degC],night [degC]".

    Raises
    ------
    ProjectErrors - with every fault, file and line.
    """
    sheet = csv_sheet(str(path), forecast_text(path), "day")
    rows = sheet.rows("day", "day")[:MOST_DAYS] if sheet.readable else []
    days = [sheet.check(("day", i), row, ForecastTable) for i, row in enumerate(rows)]
    if not days and not sheet.faults:
        sheet.add((), "no days", "one row for each day", "write its date and temperature")
    if sheet.faults:
        raise ProjectErrors(sheet.faults)
    return tuple(day for day in days if day is not None)


def day_of(text: str) -> date | None:
    """A day as written in a file; None = not given."""
    return date.fromisoformat(text) if text else None
