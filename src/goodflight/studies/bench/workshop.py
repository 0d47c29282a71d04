"""What the workshop needs beside templates and order: tools, glue, surfaces, paint, tests, wiring.

Figures are the project's own; what is customary is marked PRACTICE. What no file says is a blank.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.fins import fillet_solid
from goodflight.physics.vehicle.separation import Figure
from goodflight.project import Project
from goodflight.project.bench_files import BuildFile
from goodflight.project.workshop_files import PaintTable
from goodflight.quantity import Quantity, brief
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
        Topic("Wiring and arming", _wiring(project), before_flight=True),
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
        mass = fins.fillet_density_kg_m3 * volume
        yield (
            f"Fillets of {fins.name}: radius {brief(fins.fillet_radius_m, 'length')}, two to a "
            f"fin; {brief(volume, 'volume')} of glue for all, {brief(mass, 'mass')}."
        )


def _shaping(fins: p.Fins) -> str:
    edges = fins.edges.replace("_", " ")
    wide = f", {brief(fins.bevel_m, 'length')} wide" if fins.bevel_m > 0.0 else ""
    shaped = (
        " Draw a line along the middle of each edge, take both faces off alike up to it, lay the "
        f"fins on each other to compare ({PRACTICE})."
    )
    return (
        f"{fins.name}: {fins.count} pieces, {brief(fins.thickness_m, 'length')} thick, edges "
        f"{edges}{wide}. Root and tab stay square.{'' if fins.edges == 'blunt' else shaped}"
    )


def _paint(build: BuildFile) -> tuple[str, ...]:
    tail = (
        "Mask: glue faces, shoulder and coupler, vents, threads, the inside of the tubes. Pull the "
        f"tape off while the last coat is still soft ({PRACTICE}; the can's label decides).",
        *cautions_of(("paint",)),
    )
    if not build.paint:
        return (
            f"No coat is in build.toml. Next coat after {BLANK}, not later than {BLANK}.",
            *tail,
        )
    return (*(_coat(each) for each in build.paint), *tail)


def _coat(coat: PaintTable) -> str:
    place = f" in the {coat.workplace}" if coat.workplace else ""
    at = _said(coat.reference, "temperature") if coat.reference else "the label's temperature"
    return (
        f"{coat.name}{place}: next coat after {_said(coat.recoat_min, 'time')}, not later than "
        f"{_said(coat.recoat_max, 'time')}, dry after {_said(coat.dry, 'time')}, at {at}. "
        f"Coats put on: {BLANK}."
    )


def _said(found: Quantity | None, kind: str) -> str:
    return BLANK if found is None else brief(found.value, kind)


def _force(found: Figure | None) -> str:
    return BLANK if found is None else brief(found.value, "force")


def _pull(rocket: p.Rocket) -> tuple[str, ...]:
    held = rocket.separation
    pins = f"{held.pins} pins {held.pin_thread}" if held.pins else "no shear pins"
    return (
        f"The separation has {pins}. Joint of the nose: stands {_force(held.fixed_joint_n)}; what "
        "holds it is checked from outside before every flight.",
        f"Pull test: luggage scale on the cord's anchor, pull straight until the separation moves. "
        f"The file says {_force(held.pull_n)}, without pins. Measured today: "
        f"{BLANK} {BLANK} {BLANK}; "
        "enter the mean as pull of [separation] when they differ.",
        f"It slides by its own weight and does not rattle; a tight one is sanded, a loose one gets "
        f"tape, and the pull is measured again ({PRACTICE}).",
    )


def _wiring(project: Project) -> tuple[str, ...]:
    names = ", ".join(device.name for device in project.head.device)
    return (
        (f"On board by the file: {names}. " if names else "No device is in the file. ")
        + "Draw the wires on this sheet, every plug named. Wires are twisted, tied down, and "
        f"pulled on by hand once; the switch is reached from outside ({PRACTICE}).",
        "Try it with a lamp in place of every igniter. Fresh or fully charged cells, weighed in.",
        *cautions_of(("switches", "cells")),
    )
