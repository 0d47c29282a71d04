"""Limits of the rules that hold at a field, as data files: value, where it is written, how sure.

A code set answers with a number or with nothing; nothing is shown as not stated, never as ok. The
local authority, the organisation's current text and the range safety officer decide. Sets ship
with the package (`data/codes/`); a project may hold its own in `codes/`, which goes first.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Annotated, Final, Literal

from pydantic import Field, StringConstraints

from goodflight.project.fields import (
    Distance,
    Height,
    Impulse,
    Key,
    Share,
    Speed,
    Table,
    Text,
    Tilt,
)
from goodflight.project.sheets import Sheet, read_sheet

How = Literal["seen", "derived", "practice", "memory"]
ConfirmKey = Literal[
    "night", "airport", "visibility", "notice", "airspace", "permission", "responsible", "fire"
]
LimitKey = Literal[
    "levels", "rail_angle", "wind", "thrust", "people", "flight_line", "field_size", "cloud_cover"
]
AnswerKey = Literal[ConfirmKey, LimitKey]
CONFIRM_KEYS: Final[tuple[str, ...]] = ConfirmKey.__args__  # type: ignore[attr-defined]


class _Sourced:
    """What stands in a source, read there or held from memory."""

    source: str
    how: str  # seen | derived | practice | memory

    @property
    def cited(self) -> str:
        """Its source, with the word to confirm it where it was not read there."""
        return f"{self.source}; from memory, confirm it" if self.how == "memory" else self.source


@dataclass(frozen=True)
class Limit(_Sourced):
    """One figure of a code."""

    value: float  # SI
    source: str
    how: str


@dataclass(frozen=True)
class Clause(_Sourced):
    """One rule that no figure shows: the builder says whether it is met."""

    text: str
    source: str
    how: str


@dataclass(frozen=True)
class CodeSet:
    """The limits of one country or organisation; a missing limit is None: not stated."""

    key: str
    title: str
    level_impulse_ns: dict[str, Limit]
    rail_tilt_rad: Limit | None = None
    wind_m_s: Limit | None = None
    mass_to_thrust: Limit | None = None  # lift-off weight over average thrust, at most
    property_m: Limit | None = None  # to uninvolved persons and property, at least
    property_share: Limit | None = None  # or this share of the greatest height
    site_m: Limit | None = None  # least dimension of the site, at least
    site_share: Limit | None = None  # or this share of the greatest height
    people_m: tuple[tuple[float, Limit], ...] = ()  # (impulse up to, distance of the crew)
    cloud_cover_tenths: Limit | None = None
    airport_m: Limit | None = None  # to an airport's boundary, at least
    site_steps_m: tuple[tuple[float, Limit], ...] = ()  # (height up to, least width of the site)
    clauses: Mapping[str, Clause] | None = None  # by confirm key
    about: str = ""

    def not_stated(self) -> tuple[str, ...]:
        """What this set says nothing about, in words."""
        found = [words for name, words in _FIGURES.items() if not getattr(self, name)]
        held = self.clauses or {}
        return (*found, *(words for key, words in CONFIRM_WORDS.items() if key not in held))


_FIGURES: Final = {
    "level_impulse_ns": "certificate levels",
    "rail_tilt_rad": "highest rail angle",
    "wind_m_s": "highest wind",
    "mass_to_thrust": "lowest thrust for the weight",
    "property_m": "distance to people and property",
    "people_m": "distance of the flight line",
    "site_m": "size of the field",
    "cloud_cover_tenths": "highest cloud cover",
    "airport_m": "distance to an airport",
}
CONFIRM_WORDS: Final = {
    "night": "flight at night",
    "airport": "airports",
    "visibility": "visibility",
    "notice": "notice to air traffic control",
    "airspace": "controlled airspace",
    "permission": "permission or waiver",
    "responsible": "responsible person",
    "fire": "fire precautions",
}
if tuple(CONFIRM_WORDS) != CONFIRM_KEYS:
    raise RuntimeError("every key to confirm needs its words")


class _Source(Table):
    source: Annotated[Text, Key("where the figures come from")]
    how: Annotated[How, Key("how the source was read")]


class _AngleTable(_Source):
    value: Annotated[Tilt, Key("the limit")]


class _SpeedTable(_Source):
    value: Annotated[Speed, Key("the limit")]


class _LengthTable(_Source):
    value: Annotated[Distance, Key("the limit")]


class _ShareTable(_Source):
    value: Annotated[Share, Key("the limit")]


class _LevelTable(_Source):
    name: Annotated[Literal["none", "L1", "L2", "L3"], Key("certificate")]
    impulse: Annotated[Impulse, Key("highest total impulse")]


class _CrewTable(_Source):
    up_to: Annotated[Impulse, Key("up to this impulse")]
    distance: Annotated[Distance, Key("shortest distance")]


class _SiteSizeTable(_Source):
    up_to: Annotated[Height, Key("up to this height")]
    width: Annotated[Distance, Key("width")]


class _ConfirmTable(_Source):
    key: Annotated[ConfirmKey, Key("key used by confirmed and denied of a plan")]
    text: Annotated[Text, Key("the rule, in words")]


class LimitsTable(Table):
    """The single figures a code may state."""

    rail_tilt: Annotated[_AngleTable | None, Key("highest lean of the rail")] = None
    wind: Annotated[_SpeedTable | None, Key("highest wind")] = None
    weight_share: Annotated[_ShareTable | None, Key("highest lift-off weight over mean thrust")] = (
        None
    )
    property: Annotated[_LengthTable | None, Key("shortest distance to people and property")] = None
    property_share: Annotated[_ShareTable | None, Key("or this share of the expected altitude")] = (
        None
    )
    site: Annotated[_LengthTable | None, Key("smallest size of the site")] = None
    site_share: Annotated[_ShareTable | None, Key("or this share of the expected altitude")] = None
    cloud_cover: Annotated[_ShareTable | None, Key("highest cloud cover")] = None
    airport: Annotated[
        _LengthTable | None, Key("shortest distance to an airport", example="8 km")
    ] = None


class CodeFile(Table):
    """What a file in `codes/` may hold; everything but the title may be left out."""

    title: Annotated[
        str, StringConstraints(min_length=1, max_length=200), Key("whose rules, and of what date")
    ]
    about: Annotated[Text, Key("a remark, shown in title blocks")] = ""
    level: Annotated[
        list[_LevelTable], Key("certificates and their impulse, one [[level]] each")
    ] = Field(default_factory=list)
    limit: Annotated[LimitsTable, Key("single figures, in [limit]")] = LimitsTable()
    crew: Annotated[list[_CrewTable], Key("distance of the crew by impulse, one [[crew]] each")] = (
        Field(default_factory=list)
    )
    site_size: Annotated[
        list[_SiteSizeTable], Key("size of the site by height, one [[site_size]] each")
    ] = Field(default_factory=list)
    confirm: Annotated[
        list[_ConfirmTable], Key("rules that you confirm yourself, one [[confirm]] each")
    ] = Field(default_factory=list)


def _limit(
    table: _AngleTable | _SpeedTable | _LengthTable | _ShareTable | None, scale: float = 1.0
) -> Limit | None:
    return None if table is None else Limit(table.value.value * scale, table.source, table.how)


def build_code(key: str, file: CodeFile) -> CodeSet:
    """Return a code set from its file; tables by impulse or height are put in order."""
    limit = file.limit
    crew = sorted(file.crew, key=lambda row: row.up_to.value)
    sizes = sorted(file.site_size, key=lambda row: row.up_to.value)
    return CodeSet(
        key=key,
        title=file.title,
        level_impulse_ns={
            row.name: Limit(row.impulse.value, row.source, row.how) for row in file.level
        },
        rail_tilt_rad=_limit(limit.rail_tilt),
        wind_m_s=_limit(limit.wind),
        mass_to_thrust=_limit(limit.weight_share),
        property_m=_limit(limit.property),
        property_share=_limit(limit.property_share),
        site_m=_limit(limit.site),
        site_share=_limit(limit.site_share),
        people_m=tuple(
            (row.up_to.value, Limit(row.distance.value, row.source, row.how)) for row in crew
        ),
        cloud_cover_tenths=_limit(limit.cloud_cover, 10.0),
        airport_m=_limit(limit.airport),
        site_steps_m=tuple(
            (row.up_to.value, Limit(row.width.value, row.source, row.how)) for row in sizes
        ),
        clauses={row.key: Clause(row.text, row.source, row.how) for row in file.confirm},
        about=file.about,
    )


def read_code(sheet: Sheet, key: str) -> CodeSet | None:
    """Return the code set of a sheet; None with faults noted when it cannot be read."""
    file = sheet.check((), sheet.data, CodeFile) if sheet.readable else None
    return None if file is None else build_code(key, file)


@cache
def packaged_codes() -> Mapping[str, CodeSet]:
    """Return the code sets that ship with the package, by name."""
    folder = files("goodflight.project").joinpath("data/codes")
    found = {}
    for entry in sorted(folder.iterdir(), key=lambda each: each.name):
        if entry.name.endswith(".toml"):
            key = entry.name.removesuffix(".toml")
            sheet = read_sheet(entry.name, entry.read_text(encoding="utf-8"))
            code = read_code(sheet, key)
            if code is None:
                raise RuntimeError(f"{entry.name}: {[fault.sentence for fault in sheet.faults]}")
            found[key] = code
    return found
