"""What the workshop needs beside templates and order: tools, glue, surfaces, paint, tests, wiring.

Figures are the project's own; what is customary is marked PRACTICE. What no file says is a blank.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from goodflight.physics.structure import time_factor
from goodflight.physics.structure.cure import LABEL_K, STOPS_BELOW_K
from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.figure import Figure
from goodflight.physics.vehicle.fins import fillet_kg, fillet_solid
from goodflight.project import Project
from goodflight.project.bench_files import BuildFile
from goodflight.project.designed import DesignedRocket
from goodflight.project.workshop_files import (
    PaintTable,
)
from goodflight.quantity import Quantity, brief, show
from goodflight.studies.bench.order import Order
from goodflight.studies.bench.places import of_kind
from goodflight.studies.cautions import cautions_of
from goodflight.studies.lists.step import BLANK

PRACTICE: Final = "common practice, no source"


@dataclass(frozen=True)
class Topic:
    """A heading with its lines."""

    title: str
    lines: tuple[str, ...]
    before_flight: bool = False  # else of the building


def workshop(project: Project, order: Order, plan: str | None = None) -> tuple[Topic, ...]:
    """Tools, glue, surfaces, fins, paint, nose, pull test and wiring of a project's rocket.

    Parameters
    ----------
    project : Project - as loaded. [-]
    order : Order - its steps, for their tools. [-]
    plan : str or None - whose rocket; None takes the first. [-]

    Returns
    -------
    topics : tuple of Topic - in the order in which they are needed. [-]
    """
    rocket = project.rocket(plan=plan)
    build = project.build or BuildFile()
    found = (
        Topic("Tools", (_tools(order),)),
        Topic("Glue and fillets", (*_glue(rocket, build), *_fillets(rocket), *_mixing())),
        Topic(
            "Surfaces before glue and paint",
            (
                "Where glue goes: sand with 120 grit until nothing shines, wipe off the dust, "
                "glue the same day; do not touch it with bare fingers. Before paint: fill, sand "
                f"with 240 then 400 grit, wipe, let it dry ({PRACTICE}).",
                *cautions_of(("dust",)),
            ),
        ),
        Topic("Shaping the fins", tuple(_shaping(fins) for fins in of_kind(rocket, p.Fins))),
        Topic("Masking and paint", _paint(build)),
        Topic("Nose, pins and pull test", _pull(rocket), before_flight=True),
        Topic("Wiring and arming", _wiring(project, plan), before_flight=True),
    )
    return tuple(topic for topic in found if topic.lines)


def _tools(order: Order) -> str:
    tools = dict.fromkeys(tool for placed in order.steps for tool in placed.step.tools)
    return "For the steps of this rocket: " + "; ".join(tools) + "." if tools else "None named."


def _glue(rocket: p.Rocket, build: BuildFile) -> Iterable[str]:
    for glue in dict.fromkeys(joint.glue for joint in build.joint):
        names = [joint.name for joint in build.joint if joint.glue == glue]
        yield f"{glue}: {'; '.join(names)}."
    if not build.joint:
        yield f"No joint is in build.toml. Glue: {BLANK}."
    for mass in of_kind(rocket, p.AddedMass):
        if mass.role in ("fillets", "paint"):
            yield f"{mass.name}: {brief(mass.mass_kg, 'mass')} in the rocket's file."


def _mixing() -> tuple[str, ...]:
    return (
        "Mix a fifth more than is needed; weigh resin and hardener, do not count drops "
        f"({PRACTICE}; the glue's sheet decides).",
        *cautions_of(("epoxy",)),
    )


def _fillets(rocket: p.Rocket) -> Iterable[str]:
    for fins in of_kind(rocket, p.Fins):
        if fins.fillet_radius_m <= 0.0:
            yield f"Radius of the fillets of {fins.name}: not in the file, write it here {BLANK}."
            continue
        volume = fillet_solid(fins).amount
        mass = fillet_kg(fins)
        yield (
            f"Fillets of {fins.name}: radius {brief(fins.fillet_radius_m, 'length')}, two to a "
            f"fin; {brief(volume, 'volume')} of glue for all, {brief(mass, 'mass')}."
        )


def _shaping(fins: p.Fins) -> str:
    edges = f"edges {fins.edges or 'as you shape them: write it down (edges)'}"
    wide = f", {brief(fins.bevel_m, 'length')} wide" if fins.bevel_m > 0.0 else ""
    shaped = (
        " Draw a line along the middle of each edge, take both faces off alike up to it, lay the "
        f"fins on each other to compare ({PRACTICE})."
    )
    return (
        f"{fins.name}: {fins.count} pieces, {brief(fins.thickness_m, 'length')} thick, "
        f"{edges}{wide}. Root and tab stay square.{'' if fins.edges in (None, 'blunt') else shaped}"
    )


def _paint(build: BuildFile) -> tuple[str, ...]:
    tail = (
        "Mask: glue faces, shoulder and coupler, threads, the inside of the tubes, the end of the "
        "motor tube; a roll of tape in every vent and hole. Pull the tape off while the last coat "
        f"is still soft ({PRACTICE}; the can's label decides). When dry: the shank of the drill "
        "still goes through every vent, and shoulder and coupler slide as before.",
        *cautions_of(("paint",)),
    )
    if not build.paint:
        return (
            f"No coat is in build.toml. Next coat after {BLANK}, not later than {BLANK}.",
            *tail,
        )
    places = {place.name: place.temperature for place in build.workplace}
    return (*(line for each in build.paint for line in _coat(each, places)), *tail)


def _coat(coat: PaintTable, places: Mapping[str, Quantity | None]) -> Iterable[str]:
    """Times of the can, and those where it is painted; the stricter of both where they differ."""
    label_k = LABEL_K if coat.reference is None else coat.reference.value
    many = f", {coat.coats} coats" if coat.coats > 1 else ""
    yield (
        f"{coat.name}{many}: by the can at {brief(label_k, 'temperature')} next coat after "
        f"{_said(coat.recoat_min, 'time')}, not later than {_said(coat.recoat_max, 'time')}, dry "
        f"after {_said(coat.dry, 'time')}. Coats put on: {BLANK}, at {BLANK} and {BLANK} o'clock."
    )
    warm = coat.temperature or places.get(coat.workplace or "")
    where = f"In the {coat.workplace}" if coat.workplace else "Where it is painted"
    if warm is None:
        yield f"{where} it is {BLANK} degC: not in the file, so its times are not worked out."
        return
    least_k = STOPS_BELOW_K if coat.min_temperature is None else coat.min_temperature.value
    at = brief(warm.value, "temperature")
    if warm.value < least_k:
        yield f"{where} it is {at}, below the least {brief(least_k, 'temperature')}: do not paint."
        return
    factor = float(time_factor(warm.value, label_temperature_k=label_k))
    longer, shorter = max(factor, 1.0), min(factor, 1.0)
    yield (
        f"{where} at {at}: next coat after {_times(coat.recoat_min, longer)}, not later than "
        f"{_times(coat.recoat_max, shorter)}, dry after {_times(coat.dry, longer)} (rate law of "
        "the glue, factor "
        f"{factor:.2f}, only where it makes you wait longer or come sooner; the can decides)."
    )


def _times(found: Quantity | None, factor: float) -> str:
    return BLANK if found is None else show(found.value * factor, "time", digits=2)


def _said(found: Quantity | None, kind: str) -> str:
    return BLANK if found is None else brief(found.value, kind)


def _force(found: Figure | None) -> str:
    return BLANK if found is None else brief(found.value, "force")


def _pull(rocket: DesignedRocket) -> tuple[str, ...]:
    held = rocket.separation
    pins = f"{held.pins} pins {held.pin_thread}" if held.pins else "no shear pins"
    return (
        f"The separation has {pins}. Joint of the nose: stands {_force(held.fixed_joint_n)}; what "
        "holds it is checked from outside before every flight.",
        "Pull test, after the paint, no motor and no powder in the rocket: one holds the rear, the "
        "other pulls straight with a luggage scale on the anchor ahead of the separation until it "
        f"moves; the highest figure counts (1 kg is 9.8 N). The file says {_force(held.pull_n)}, "
        f"without pins. Measured today: {BLANK} {BLANK} {BLANK} N; enter the mean as pull of "
        "[separation] when they differ.",
        f"It slides by its own weight and does not rattle; a tight one is sanded, a loose one gets "
        f"tape, and the pull is measured again ({PRACTICE}).",
    )


def _wiring(project: Project, name: str | None) -> tuple[str, ...]:
    names = ", ".join(device.name for device in project.head.device if device.kind == "on_board")
    fired = project.plan(name).deployment == "altimeter"
    on_board = f"On board by the file: {names}." if names else "No device is in the file."
    motor = "" if fired else " The motor fires the charge: no wire leads to it."
    found = [
        f"{on_board}{motor} Wires are twisted, tied down and pulled on by hand once; a switch is "
        f"reached from outside and cannot shake open ({PRACTICE}).",
        f"Cells are fresh or fully charged, weighed in, held so that they cannot slide: {BLANK} V "
        "today.",
    ]
    if fired:
        found.append(
            "Before any powder is near: a lamp in place of each igniter, switch on, let the device "
            "report, and run its own test of the outputs. The right lamp lights, the other stays "
            f"dark ({PRACTICE}). Power off before an igniter is wired in."
        )
    keys = ("switches", "powder", "cells") if fired else ("motor", "cells")
    order = "The order of arming is on the pad list (print --what lists): the igniter is last."
    return (*found, order, *cautions_of(keys))
