"""What is typed at the pad: the weather measured now, the choices, what others' flights showed."""

import re
from collections.abc import Mapping
from typing import Annotated, Any, Final

from pydantic import Field

from goodflight.project.codes import AnswerKey
from goodflight.project.day_file import Clock, SeenTable
from goodflight.project.faults import ProjectErrors
from goodflight.project.fields import (
    Bearing,
    Height,
    Key,
    Lean,
    Length,
    Name,
    Pressure,
    Seconds,
    Share,
    Speed,
    Table,
    Temperature,
    Tilt,
    key_words,
)
from goodflight.project.sheets import Sheet
from goodflight.quantity import QuantityError, parse

TYPED: Final = "what was typed"
_KINDS: Final = (  # of a flight seen: dimension -> keys, in the order they may come
    ("angle", ("bearing",)),
    ("length", ("distance", "height")),
    ("time", ("descent",)),
    ("wind", ("speed",)),
)


class NowTable(Table):
    """The weather as measured now, and the choices as they stand; left out = as the plan says."""

    wind: Annotated[
        Speed | None, Key("mean wind measured now, like 3.5 m/s ± 0.3 m/s or 8 mph")
    ] = None
    gust: Annotated[
        Speed | None, Key("highest gust measured now, at the same height, like 5 m/s or 11 mph")
    ] = None
    at: Annotated[Height | None, Key("height of both above the ground", left_out="2 m")] = None
    wind_from: Annotated[Bearing | None, Key("bearing the wind comes from, like 230 deg")] = None
    temperature: Annotated[
        Temperature | None, Key("air temperature at the pad, like 9 degC or 48 degF")
    ] = None
    pressure: Annotated[
        Pressure | None, Key("what a barometer shows at the pad, like 1008 hPa or 29.8 inHg")
    ] = None
    cloud_base: Annotated[
        Height | None, Key("cloud base above the ground, like 950 m or 3000 ft")
    ] = None
    cloud_cover: Annotated[
        Share | None, Key("share of the sky that is covered, from 0 to 1, like 0.4")
    ] = None
    queue: Annotated[Seconds | None, Key("wait on the pad, switched on, like 20 min")] = None
    motor: Annotated[Name | None, Key("motor to be flown, its file name")] = None
    delay_out: Annotated[Seconds | None, Key("seconds taken out of its delay, like 2 s")] = None
    canopy: Annotated[Name | None, Key("canopy that opens first")] = None
    rail: Annotated[Length | None, Key("length of the rail, like 2.4 m or 8 ft")] = None
    tilt: Annotated[Tilt | None, Key("lean of the rail from vertical, like 5 deg")] = None
    lean: Annotated[Lean | None, Key('bearing its top leans to, like 230 deg, or "into wind"')] = (
        None
    )
    hour: Annotated[Clock | None, Key("hour of the forecast that now starts from")] = None
    confirmed: Annotated[list[AnswerKey], Key("rules of the code that are met, by key")] = Field(
        default_factory=list
    )
    motors: Annotated[list[Name], Key("motors at hand", left_out="all in motors/")] = Field(
        default_factory=list
    )
    rails: Annotated[list[Length], Key("rails at hand", left_out="the field's")] = Field(
        default_factory=list
    )
    seen: Annotated[
        list[SeenTable],
        Key("another flight: bearing and distance of its landing, time of descent, height"),
    ] = Field(default_factory=list)


def entries() -> dict[str, tuple[str, bool]]:
    """What may be typed: key -> words, and whether it may be typed several times."""
    found = {}
    for key, field in NowTable.model_fields.items():
        words = key_words(NowTable, key)
        assert words is not None
        left = f"; left out: {words.left_out}" if words.left_out else ""
        told = f"{words.meaning[0].upper()}{words.meaning[1:]}{left}."
        found[key] = told, field.default_factory is not None
    return found


def typed_now(texts: Mapping[str, Any]) -> NowTable:
    """Read what was typed, by key; empty texts are left out, lists may be tuples of texts.

    Raises
    ------
    ProjectErrors - with everything that is wrong.
    """
    data = {
        key: list(text) if isinstance(text, tuple) else text
        for key, text in texts.items()
        if text not in (None, "", [], ())
    }
    sheet = Sheet(TYPED, "", {**data, "seen": []}, {(): 0})
    rows = [seen_row(sheet, i, each) for i, each in enumerate(data.get("seen", [])) if each.strip()]
    table = sheet.check((), {**data, "seen": rows}, NowTable)
    if sheet.faults or table is None:
        raise ProjectErrors(sheet.faults)
    return table


def seen_row(sheet: Sheet, number: int, text: str) -> dict[str, str]:
    """A flight told in one line, "60 deg, 350 m, 75 s, 400 m": each figure by its unit."""
    row: dict[str, str] = {}
    for piece in filter(None, (part.strip() for part in re.split("[,;]", text))):
        key = _key(piece, row)
        if not key:
            wanted = (
                "bearing, distance, time of descent and height, like 60 deg, 350 m, 75 s, 400 m"
            )
            sheet.add(("seen", number), f'"{piece}"', wanted, "write each with its unit")
        row[key or "bearing"] = piece
    return row


def _key(piece: str, row: Mapping[str, str]) -> str:
    for dimension, keys in _KINDS:
        try:
            parse(piece, dimension)
        except QuantityError:
            continue
        return next((key for key in keys if key not in row), "")
    return ""
