"""What `day.toml` may hold: own limits, the forecast, what others' flights showed.

The same rows may come as a CSV table of a forecast, its first line naming the keys.
"""

import csv
import io
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any, Final

from pydantic import Field
from pydantic.annotated_handlers import GetJsonSchemaHandler
from pydantic_core import CoreSchema

from goodflight.project.faults import Fault, ProjectErrors
from goodflight.project.fields import (
    Bearing,
    Date,
    Distance,
    Height,
    Key,
    Seconds,
    Share,
    Speed,
    Table,
    Temperature,
    Text,
)
from goodflight.project.flight_files import DayTable
from goodflight.project.places import input_text
from goodflight.project.sheets import Sheet, read_sheet
from goodflight.project.text_fields import TextField, fault, show_found

FILE: Final = "day.toml"
MOST_HOURS: Final = 48
MOST_BYTES: Final = 100_000
_CLOCK: Final = re.compile(r"([01]?[0-9]|2[0-3]):[0-5][0-9]")
_UNIT: Final = re.compile(r"^\s*([a-z_]+)\s*(?:[\[(]([^\])]*)[\])])?\s*$")


@dataclass(frozen=True)
class ClockField(TextField):
    """A time of day: "13:15"."""

    @property
    def wanted(self) -> str:
        """What an entry looks like, as a sentence part."""
        return "a time of day like 13:15"

    @property
    def words(self) -> str:
        """The kind and its units."""
        return "time of day: hours:minutes"

    @property
    def example(self) -> str:
        """An entry that is taken, in quotes."""
        return '"13:15"'

    def read(self, value: Any) -> str:
        """Turn a value into a time of day, two digits each, or refuse."""
        if not isinstance(value, str) or not _CLOCK.fullmatch(value.strip()):
            raise fault(show_found(value), self.wanted, "write hours and minutes, 24 hours a day")
        return value.strip().rjust(5, "0")

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"type": "string", "description": self.wanted}


Clock = Annotated[str, ClockField()]


class OwnLimitsTable(Table):
    """Your own limits, agreed and signed before the day: beyond one of them nobody flies."""

    wind: Annotated[Speed | None, Key("highest mean wind", example="5 m/s")] = None
    gust: Annotated[Speed | None, Key("highest gust", example="8 m/s")] = None
    wind_height: Annotated[
        Height | None, Key("height at which both are meant", left_out="2 m", example="2 m")
    ] = None
    cloud_base: Annotated[
        Height | None, Key("lowest cloud base above the ground", example="700 m")
    ] = None
    chance: Annotated[
        Share | None,
        Key("highest chance that anything fails, 0 to 1", left_out="as the ledger judges"),
    ] = None
    coldest: Annotated[Temperature | None, Key("lowest air temperature", example="2 degC")] = None
    warmest: Annotated[Temperature | None, Key("highest air temperature", example="30 degC")] = None
    wait: Annotated[
        Seconds | None, Key("longest wait on the pad, switched on", example="60 min")
    ] = None
    signed_by: Annotated[Text, Key("who agreed to them beside you", hint="a name")] = ""
    signed_on: Annotated[Date, Key("the day they were signed, before the launch day")] = ""


class HourTable(DayTable):
    """The weather forecast for one hour of the launch day; entries as in a plan's day."""

    time: Annotated[Clock, Key("time of day", example="13:15")]
    gust: Annotated[
        Speed | None,
        Key(
            "gust, in place of gust_factor; at the wind's height",
            label="gust",
            hint="in place of the factor, like 7 m/s or 16 mph",
            example="7 m/s",
        ),
    ] = None


class SeenTable(Table):
    """What another flight of the day showed: which way it drifted under its canopy, and how far."""

    time: Annotated[Clock | None, Key("time of day", example="13:15")] = None
    bearing: Annotated[Bearing, Key("bearing from the pad to where it landed", example="60 deg")]
    distance: Annotated[
        Distance | None, Key("from the pad to where it landed", example="300 m")
    ] = None
    descent: Annotated[
        Seconds | None, Key("time from the open canopy to the ground", example="75 s")
    ] = None
    height: Annotated[Height | None, Key("height at which it opened", example="400 m")] = None
    speed: Annotated[
        Speed | None, Key("its speed of descent, in place of the height", example="5 m/s")
    ] = None


class DayFile(Table):
    """The launch day: own limits, forecast, what others' flights showed."""

    limits: Annotated[OwnLimitsTable | None, Key("own limits, agreed beforehand, in [limits]")] = (
        None
    )
    hour: Annotated[
        list[HourTable], Field(max_length=MOST_HOURS), Key("the forecast, one [[hour]] each")
    ] = Field(default_factory=list)
    seen: Annotated[
        list[SeenTable], Field(max_length=MOST_HOURS), Key("others' flights, one [[seen]] each")
    ] = Field(default_factory=list)


def read_day(sheet: Sheet) -> DayFile | None:
    """The day of a project; what is wrong is noted on the sheet."""
    found: DayFile | None = sheet.check((), sheet.data, DayFile) if sheet.readable else None
    return found


def forecast(file: str, text: str) -> tuple[HourTable, ...]:
    """Read a forecast: CSV whose first line names the keys, or TOML with [[hour]] tables.

    A unit may stand in the first line, "wind [m/s]", or with each figure, "3.5 m/s".

    Raises
    ------
    ProjectErrors - with every fault, file and line.
    """
    sheet = read_sheet(file, text) if file.endswith(".toml") else csv_sheet(file, text, "hour")
    hours = [sheet.check(("hour", i), row, HourTable) for i, row in enumerate(_rows(sheet))]
    if not hours and not sheet.faults:
        sheet.add((), "no hours", "one row for each hour", "write the time and the wind of each")
    if sheet.faults:
        raise ProjectErrors(sheet.faults)
    return tuple(hour for hour in hours if hour is not None)


def read_forecast(path: Path) -> tuple[HourTable, ...]:
    """Read a forecast from a file.

    Raises
    ------
    ProjectErrors - it cannot be read, or holds faults.
    """
    return forecast(str(path), forecast_text(path))


def forecast_text(path: Path) -> str:
    """The text of a forecast's file; PlaceRefused if it cannot be read."""
    return input_text(path, MOST_BYTES, "check the name, or save it again as CSV")


def _rows(sheet: Sheet) -> list[dict[str, Any]]:
    return sheet.rows("hour", "hour")[:MOST_HOURS] if sheet.readable else []


def csv_sheet(file: str, text: str, table: str) -> Sheet:
    """A CSV text as the sheet that TOML would have made of it, its rows under the name `table`."""
    lines = [(n, row) for n, row in enumerate(csv.reader(io.StringIO(text)), 1) if any(row)]
    if not lines:
        return Sheet(file, text)
    first, names = lines[0]
    heads = [_UNIT.match(name) for name in names]
    wrong = [name for name, head in zip(names, heads) if head is None]
    if wrong:
        advice = "write time,wind [m/s],wind_from [deg],temperature [degC],cloud_base [m]"
        said = Fault(
            file,
            first,
            "",
            found=show_found(wrong[0]),
            expected="the name of a key, its unit",
            advice=advice,
        )
        return Sheet(file, text, faults=[said], readable=False)
    rows: list[dict[str, str]] = []
    places: dict[tuple[str | int, ...], int] = {}
    for i, (line, cells) in enumerate(lines[1:]):
        row = {}
        for head, cell in zip(heads, cells):
            if head is None or not cell.strip():
                continue
            unit = head[2] or ""
            row[head[1]] = f"{cell.strip()} {unit}".strip()
            places[(table, i, head[1])] = line
        places[(table, i)] = line
        rows.append(row)
    return Sheet(file, text, {table: rows}, places, in_columns=True)
