"""What `build.toml` says of the workshop: places, glues, joints, coats, checks; and devices.

A joint says which parts it holds, with which glue, and where it lay how long until the flight.
"""

import re
from typing import Annotated, Final, Literal

from pydantic import ConfigDict, Field

from goodflight.physics.structure.cure import EPOXY_J_MOL
from goodflight.project.calendar_files import (
    DeliveryTable,
    PersonTable,
    RangeDayTable,
    WorkplaceTable,
    check_calendar,
)
from goodflight.project.fields import (
    Angle,
    Date,
    Hours,
    Key,
    Name,
    Ratio,
    Share,
    Table,
    Temperature,
    Text,
    ToDo,
)
from goodflight.project.first_asked import First
from goodflight.project.sheets import Sheet, nearest
from goodflight.project.zones import ZoneField

_CHANGE: Final = re.compile(r"[\w./-]+\.toml:[^=]+=.+")
ACTIVATION_SPREAD_KJ_MOL: Final = 4.0  # others 55 to 70, seen


class GlueTable(Table):
    """A glue by its data sheet. `reference` is the temperature the sheet's times hold at."""

    name: Annotated[Name, Key("name of the glue")]
    working_time: Annotated[
        Hours | None, Key("time it can be worked at the reference temperature")
    ] = None
    handling: Annotated[
        Hours | None,
        Key("until the joint may be handled, at the reference", example="8 h"),
    ] = None
    cure: Annotated[Hours | None, Key("time to cure at the reference temperature")] = None
    reference: Annotated[
        Temperature | None, Key("temperature for which the sheet gives its times")
    ] = None
    activation_kj_mol: Annotated[
        float, Field(ge=20.0, le=150.0), Key("activation energy in kJ/mol")
    ] = EPOXY_J_MOL / 1e3
    activation_spread_kj_mol: Annotated[
        float, Field(ge=0.0, le=30.0), Key("its spread, kJ/mol")
    ] = ACTIVATION_SPREAD_KJ_MOL
    min_temperature: Annotated[Temperature | None, Key("below this it does not cure")] = None
    max_humidity: Annotated[
        Share | None, Key("highest relative humidity it may be used in", left_out="none")
    ] = None
    note: Annotated[Text, Key("a remark; nothing reads it")] = ""


class StayTable(Table):
    """Where a joint lay for how long while it cured."""

    workplace: Annotated[Name | None, Key("name of the workplace")] = None
    temperature: Annotated[Temperature | None, Key("mean temperature there")] = None
    time: Annotated[Hours, Key("how long")]


class GluedTable(Table):
    """One glue-up: parts, glue, how long the work takes, and where it lay until the flight."""

    name: Annotated[Name, Key("name, used by other entries")]
    parts: Annotated[list[Name], Field(min_length=1), Key("names of the parts")]
    glue: Annotated[Name, Key("name of the glue")]
    work: Annotated[Hours | None, Key("time the joint takes to make")] = None
    stay: Annotated[list[StayTable], Key("where it was kept while curing, and how long")] = Field(
        default_factory=list
    )
    note: Annotated[Text, Key("a remark; nothing reads it")] = ""


class PaintTable(Table):
    """A coat of paint: where it goes on, and the time to the next coat."""

    name: Annotated[Name, Key("name, used by other entries")]
    workplace: Annotated[Name | None, Key("name of the workplace")] = None
    temperature: Annotated[Temperature | None, Key("mean temperature there")] = None
    humidity: Annotated[Ratio | None, Key("relative humidity there")] = None
    surface: Annotated[Temperature | None, Key("temperature of the surface")] = None
    recoat_min: Annotated[Hours | None, Key("shortest time to the next coat")] = None
    recoat_max: Annotated[Hours | None, Key("longest time to the next coat")] = None
    interval: Annotated[Hours | None, Key("time waited, or planned")] = None
    coats: Annotated[
        Annotated[int, Field(ge=1, le=20)],
        Key("how many coats of it, each a step of its own", left_out="1", example="2"),
    ] = 1
    dry: Annotated[
        Hours | None,
        Key("until the last coat may be handled, at the reference", example="24 h"),
    ] = None
    reference: Annotated[
        Temperature | None, Key("temperature the can's times hold at", left_out="25 degC")
    ] = None
    min_temperature: Annotated[
        Temperature | None, Key("lowest temperature of air and surface", left_out="5 degC")
    ] = None
    note: Annotated[Text, Key("a remark; nothing reads it")] = ""


class CheckTable(Table):
    """A fastener or a thing to check before the flight."""

    name: Annotated[Name, Key("name, used by other entries")]
    state: Annotated[Literal["open", "tight", "loose"], Key("result of the check")] = "open"
    note: Annotated[Text, Key("a remark; nothing reads it")] = ""


class StepTable(Table):
    """A step of the build in its order; more keys are allowed and kept."""

    model_config = ConfigDict(extra="allow", frozen=True, strict=True)
    name: Annotated[Name, Key("name, used by other entries")]
    done: Annotated[bool, Key("true when it is done")] = False
    fits: Annotated[list[Name], Key("parts fitted in this step")] = Field(default_factory=list)
    closes: Annotated[list[Name], Key("parts that can no longer be reached afterwards")] = Field(
        default_factory=list
    )
    does: Annotated[
        list[Name], Key("keys of the steps of `goodflight order` that are done with this one")
    ] = Field(default_factory=list)
    takes: Annotated[
        Hours | None,
        Key("time at the bench", left_out="as `goodflight order` has it", example="40 min"),
    ] = None
    workplace: Annotated[
        Name | None, Key("where it is done and left to cure", left_out="a place that fits")
    ] = None
    with_glue: Annotated[
        Name | None, Key("which [[glue]] it takes", left_out="the [[joint]]'s, or the only glue")
    ] = None
    may_be_cut: Annotated[bool, Key("whether the rocket may fly without it", left_out="false")] = (
        False
    )
    without: Annotated[
        list[Annotated[str, Field(min_length=1, max_length=200)]],
        Field(max_length=20),
        Key(
            "what the files hold where it is left out, so that the ledger can say what that costs",
            example='["rocket.toml:part[main tube].material = kraft_tube"]',
        ),
    ] = Field(default_factory=list)
    note: Annotated[Text, Key("a remark; nothing reads it")] = ""


class DeviceTable(Table):
    """A battery-run device on board: how long it runs, and how long it can record."""

    name: Annotated[Name, Key("name of the device")]
    kind: Annotated[
        Literal["on_board", "no_recorder", "none"],
        Key(
            '"no_recorder": it records nothing that must come back; "none": the rocket has no '
            "device"
        ),
    ] = "on_board"
    run_time: Annotated[
        Hours | None,
        Key(
            "how long the battery lasts, warm",
            first=First(
                280,
                "Run time of the battery on board",
                "or: none",
                key="battery",
                instead=("none", "kind", "none"),
            ),
        ),
    ] = None
    recording: Annotated[Hours | None, Key("how long it can record")] = None
    records_from: Annotated[
        Literal["switched_on", "lift_off"] | None,
        Key(
            'when it begins to record: "lift_off" where it does so by itself, or "switched_on"',
            left_out="not known: the wait at the pad counts",
        ),
    ] = None
    cold_loss: Annotated[Share | None, Key("share of the run time lost at 0 degC")] = None
    temperature: Annotated[
        Temperature | None, Key("temperature at which it waits", left_out="the day's")
    ] = None
    note: Annotated[Text, Key("a remark; nothing reads it")] = ""


class TodoTable(Table):
    """A change that was kept and is still to be bought or done, until it is ticked."""

    name: Annotated[ToDo, Key("name, used by other entries")]
    cost: Annotated[
        Literal["free", "minutes", "evening", "purchase", "another_day"], Key("what it takes")
    ] = "minutes"
    done: Annotated[bool, Key("true when it is bought or done")] = False
    note: Annotated[Text, Key("a remark; nothing reads it")] = ""


class WorkshopTables(Table):
    """The tables of `build.toml` that speak of the workshop."""

    launch_day: Annotated[Date, Key("day of the flight")] = ""
    starts: Annotated[
        Date, Key("first day of work that may be planned", left_out="the day it is asked")
    ] = ""
    zone: Annotated[
        Annotated[float | str, ZoneField()] | None,
        Key("hours of your clock ahead of universal time, or its zone, for sunrise and sunset"),
    ] = None
    fin_limit: Annotated[
        Angle | None,
        Key(
            "how far out of line a fin may be",
            first=First(300, "Limit you hold the fins to", "like 1 deg"),
        ),
    ] = None
    painted: Annotated[
        bool | None,
        Key(
            "false says that the rocket is not painted",
            first=First(
                310,
                "Paint",
                "its coats are entered in the ledger",
                key="paint",
                words=(("false", "not painted"),),
            ),
        ),
    ] = None
    tube_kept: Annotated[
        Literal["dry room", "damp shed"] | None,
        Key(
            "where the paper tubes lay before the flight; dry room keeps their strength, "
            "damp shed 0.7",
            left_out="not known, anything between",
        ),
    ] = None
    person: Annotated[list[PersonTable], Key("who builds, one [[person]] each")] = Field(
        default_factory=list
    )
    workplace: Annotated[
        list[WorkplaceTable], Key("places where glue or paint dries, one [[workplace]] each")
    ] = Field(default_factory=list)
    glue: Annotated[list[GlueTable], Key("glues, one [[glue]] each")] = Field(default_factory=list)
    joint: Annotated[list[GluedTable], Key("glue-ups, one [[joint]] each")] = Field(
        default_factory=list
    )
    paint: Annotated[list[PaintTable], Key("coats, one [[paint]] each")] = Field(
        default_factory=list
    )
    delivery: Annotated[
        list[DeliveryTable], Field(max_length=60), Key("what is ordered, one [[delivery]] each")
    ] = Field(default_factory=list)
    range_day: Annotated[
        list[RangeDayTable],
        Field(max_length=60),
        Key("days the range is open, one [[range_day]] each"),
    ] = Field(default_factory=list)
    step: Annotated[list[StepTable], Key("steps of the build, one [[step]] each")] = Field(
        default_factory=list
    )
    check: Annotated[list[CheckTable], Key("things to check, one [[check]] each")] = Field(
        default_factory=list
    )
    todo: Annotated[
        list[TodoTable], Key("what was kept and is still to be bought or done, one [[todo]] each")
    ] = Field(default_factory=list)


def check_workshop(sheet: Sheet, build: WorkshopTables, parts: list[str]) -> None:
    """Note joints, coats and steps that name glues, places or parts nothing has."""
    glues = [glue.name for glue in build.glue]
    places = [place.name for place in build.workplace]
    for i, joint in enumerate(build.joint):
        _known(
            sheet,
            path=("joint", i, "glue"),
            name=joint.glue,
            known=glues,
            kind="a glue of build.toml",
            where="[[glue]]",
        )
        for j, part in enumerate(joint.parts):
            _part(sheet, ("joint", i, "parts", j), part, parts)
        for j, stay in enumerate(joint.stay):
            _place(sheet, ("joint", i, "stay", j), stay, places)
    for i, coat in enumerate(build.paint):
        _place(sheet, ("paint", i), coat, places)
    check_calendar(sheet, build.workplace)
    for i, step in enumerate(build.step):
        for j, change in enumerate(step.without):
            if not _CHANGE.fullmatch(change):
                advice = "name the file and the key, and give the value as in that file"
                wanted = 'like "rocket.toml:part[main tube].material = kraft_tube"'
                sheet.add(("step", i, "without", j), f'"{change}"', wanted, advice)
        for key in ("fits", "closes"):
            for j, part in enumerate(getattr(step, key)):
                _part(sheet, ("step", i, key, j), part, parts)
        for key, known, kind in (
            ("workplace", places, "[[workplace]]"),
            ("with_glue", glues, "[[glue]]"),
        ):
            name = getattr(step, key)
            if name is not None:
                _known(
                    sheet,
                    path=("step", i, key),
                    name=name,
                    known=known,
                    kind=f"a {kind} of build.toml",
                    where=kind,
                )


def _part(sheet: Sheet, path: tuple[str | int, ...], name: str, parts: list[str]) -> None:
    if parts:
        _known(sheet, path, name, known=parts, kind="a part of rocket.toml", where="[[part]] there")


def _place(
    sheet: Sheet, path: tuple[str | int, ...], table: StayTable | PaintTable, places: list[str]
) -> None:
    if table.workplace is not None:
        where = (*path, "workplace")
        _known(
            sheet,
            path=where,
            name=table.workplace,
            known=places,
            kind="a workplace of build.toml",
            where="[[workplace]]",
        )
    elif table.temperature is None and isinstance(table, StayTable):
        advice = "add workplace, or the temperature it had"
        sheet.add((*path, "workplace"), "nothing", "a workplace or a temperature", advice)


def _known(
    sheet: Sheet, path: tuple[str | int, ...], name: str, known: list[str], kind: str, where: str
) -> None:
    if name in known:
        return
    there = ", ".join(known) if 0 < len(known) <= 8 else ""
    advice = nearest(name, known, f"add it as {where}")
    sheet.add(path, f'"{name}"', kind + (f" (there: {there})" if there else ""), advice)
