"""Levers of glue, paint, checks and devices. None of them changes a flight."""

from collections.abc import Callable
from dataclasses import replace
from typing import Final

from goodflight.physics.power import ROOM_K
from goodflight.quantity import write
from goodflight.quantity.said import said
from goodflight.studies.case.joints import GluedJoint, Stay
from goodflight.studies.case.planned import Case
from goodflight.studies.case.remade import Stated, stated
from goodflight.studies.case.workshop import Coat, Device, Workshop
from goodflight.studies.levers.lever import Lever, Offer, Write, numbers, once, steps
from goodflight.studies.levers.sizes import WARM

WARM_K: Final = 303.15
WARM_SIGMA_K: Final = 2.0
WARM_HOURS: Final = (2.0, 4.0, 6.0, 8.0, 10.0, 12.0, 16.0, 24.0, 36.0, 48.0)
DRY_SIGMA: Final = 0.05  # a tenth of 50 %: the project's spread of a share that is a guess
LARGER_BATTERIES: Final = (1.25, 1.5, 2.0, 3.0)  # times the run time
SHORTEST_WAIT_S: Final = 300.0
_NEW_GLUE: Final = "only for joints not glued yet"


def _own_place(joint: GluedJoint, number: int) -> str:
    """The name a stay has that says its temperature itself."""
    return f"{joint.name} {number + 1}"


def _degrees(case: Case, at_k: float, sigma_k: float | None = None) -> str:
    return write(at_k, "temperature", WARM.unit(case)[0], sigma_k)


def _stay_list(case: Case, joint: GluedJoint) -> str:
    """The stays of a joint as the project writes them."""
    rows = []
    for number, stay in enumerate(joint.stays):
        where = f'workplace = "{stay.place}"'
        if stay.place == _own_place(joint, number):
            where = f'temperature = "{_degrees(case, stay.temperature_k, stay.sigma_k)}"'
        rows.append(f'{{ {where}, time = "{stay.hours:g} h" }}')
    return f"[{', '.join(rows)}]"


def _joints(case: Case, change: Callable[[GluedJoint], GluedJoint]) -> Case:
    workshop = case.workshop
    changed = tuple(change(joint) for joint in workshop.joints)
    return replace(case, workshop=replace(workshop, joints=changed))


def _coats(case: Case, change: Callable[[Coat], Coat]) -> Case:
    workshop = case.workshop
    return replace(case, workshop=replace(workshop, coats=tuple(map(change, workshop.coats))))


def _warmed(joint: GluedJoint, hours: float) -> GluedJoint:
    place = _own_place(joint, len(joint.stays))
    return replace(joint, stays=(*joint.stays, Stay(place, hours, WARM_K, WARM_SIGMA_K)))


def _warm_cure(base: Case, _now: Case) -> Offer | None:
    if not base.workshop.joints:
        return None
    joints = base.workshop.joints
    return numbers(
        0.0,
        WARM_HOURS,
        make=lambda case, hours: _joints(case, lambda joint: _warmed(joint, hours)),
        writes=lambda hours: tuple(
            (f"build.toml:joint[{j.name}].stay", _stay_list(base, _warmed(j, hours)))
            for j in joints
        ),
        title=lambda hours: said(
            f"hold the joints at {{warm}} for {hours:g} h", warm=(WARM_K, "temperature")
        ),
        towards="up",
    )


def _cold(joint: GluedJoint) -> bool:
    return bool(joint.stays) and joint.stays[0].temperature_k < ROOM_K


def _in_a_room(joint: GluedJoint) -> GluedJoint:
    if not _cold(joint):
        return joint
    first = Stay(_own_place(joint, 0), joint.stays[0].hours, ROOM_K, 1.0)
    return replace(joint, stays=(first, *joint.stays[1:]))


def _warm_glue(base: Case, _now: Case) -> Offer | None:
    cold = [joint for joint in base.workshop.joints if _cold(joint)]
    if not cold:
        return None
    writes = (
        (f"build.toml:joint[{joint.name}].stay[#1].temperature", _degrees(base, ROOM_K, 1.0))
        for joint in cold
    )
    title = said("glue in a room of {warm}", warm=(ROOM_K, "temperature"))
    return once(title, lambda case: _joints(case, _in_a_room), *writes)


def _half(joint: GluedJoint) -> GluedJoint:
    if joint.work_s is None:
        return joint
    return replace(joint, work_s=30.0 * round(joint.work_s / 60.0))


def _halves(base: Case, _now: Case) -> Offer | None:
    halves = [_half(joint) for joint in base.workshop.joints]
    writes = tuple(
        (f"build.toml:joint[{j.name}].work", f"{j.work_s / 60.0:g} min")
        for j in halves
        if j.work_s is not None
    )
    if not writes:
        return None
    title = said("mix half, glue half, twice")
    return once(title, lambda case: _joints(case, _half), *writes)


def _dried(coat: Coat) -> Coat:
    return replace(
        coat,
        place=f"coat {coat.name}",
        temperature_k=ROOM_K,
        sigma_k=1.0,
        humidity=0.5,
        humidity_sigma=DRY_SIGMA,
    )


def _indoors(base: Case, _now: Case) -> Offer | None:
    coats = base.workshop.coats
    if not coats:
        return None
    writes = (
        each
        for coat in coats
        for each in (
            (f"build.toml:paint[{coat.name}].temperature", _degrees(base, ROOM_K, 1.0)),
            (f"build.toml:paint[{coat.name}].humidity", "0.5"),
        )
    )
    title = said("let the paint dry at {warm} and 50 % humidity", warm=(ROOM_K, "temperature"))
    return once(title, lambda case: _coats(case, _dried), *writes)


def _timed(coat: Coat) -> Coat:
    if coat.recoat_least_s is None or coat.recoat_most_s is None:
        return coat
    middle = 60.0 * round(0.5 * (coat.recoat_least_s + coat.recoat_most_s) / 60.0)
    return replace(coat, interval_s=middle)


def _recoat(base: Case, _now: Case) -> Offer | None:
    writes = tuple(
        (f"build.toml:paint[{coat.name}].interval", f"{coat.interval_s / 60.0:g} min")
        for coat in map(_timed, base.workshop.coats)
        if coat.interval_s is not None
    )
    if not writes:
        return None
    title = said("put the next coat in the middle of the can's window")
    return once(title, lambda case: _coats(case, _timed), *writes)


def _with(case: Case, workshop: Workshop) -> Case:
    return replace(case, workshop=workshop)


def _tighten(base: Case, _now: Case) -> Offer | None:
    loose = [name for name, state in base.workshop.checks if state != "tight"]
    if not loose:
        return None

    def make(case: Case) -> Case:
        tight = tuple((name, "tight") for name, _ in case.workshop.checks)
        return _with(case, replace(case.workshop, checks=tight))

    title = said("tighten it, secure it, check again")
    return once(title, make, *((f"build.toml:check[{name}].state", "tight") for name in loose))


def _fit_first(base: Case, _now: Case) -> Offer | None:
    if not base.workshop.early:
        return None
    title = said("fit it before it is closed in: change the order of the steps")
    return once(title, lambda case: _with(case, replace(case.workshop, early=())))


def _switch(base: Case, _now: Case) -> Offer | None:
    planned = base.deployment
    if planned.pad_wait_s is None:
        return None
    now, share = planned.pad_wait_s, planned.pad_wait_sigma_s / max(planned.pad_wait_s, 1.0)

    def told(wait_s: float) -> Stated:
        return stated(wait_s, share * wait_s, "min", 60.0, 2)

    def make(case: Case, wait_s: float) -> Case:
        wait = told(wait_s)
        later = replace(case.deployment, pad_wait_s=wait.value, pad_wait_sigma_s=wait.sigma)
        return replace(case, deployment=later)

    return numbers(
        now,
        (wait for wait in steps(SHORTEST_WAIT_S, 7200.0, 300.0) if wait < now),
        make=make,
        writes=lambda wait_s: ((f"{base.origin.plan_path}.pad_wait", told(wait_s).text),),
        title=lambda wait_s: said(f"switch on at the pad, {wait_s / 60:.0f} min before the flight"),
        towards="down",
    )


def _powered(case: Case, devices: tuple[Device, ...]) -> Case:
    return replace(case, deployment=replace(case.deployment, devices=devices))


def _warm_cells(base: Case, _now: Case) -> Offer | None:
    if not base.deployment.devices:
        return None

    def make(case: Case) -> Case:
        warm = tuple(replace(d, temperature_k=ROOM_K) for d in case.deployment.devices)
        return _powered(case, warm)

    writes: list[Write] = [
        (f"rocket.toml:device[{d.name}].temperature", _degrees(base, ROOM_K))
        for d in base.deployment.devices
    ]
    return once(said("keep the cells warm in a pocket until the pad"), make, *writes)


def _batteries(base: Case, _now: Case) -> Offer | None:
    runs = {d.name: d.run_s for d in base.deployment.devices if d.run_s is not None}
    if not runs:
        return None

    def longer(factor: float) -> dict[str, float]:
        return {name: 60.0 * round(factor * run_s / 60.0) for name, run_s in runs.items()}

    def make(case: Case, factor: float) -> Case:
        now, old = longer(factor), case.deployment.devices
        return _powered(case, tuple(replace(d, run_s=now.get(d.name, d.run_s)) for d in old))

    return numbers(
        1.0,
        LARGER_BATTERIES,
        make=make,
        writes=lambda factor: tuple(
            (f"rocket.toml:device[{name}].run_time", f"{run_s / 60.0:.0f} min label")
            for name, run_s in longer(factor).items()
        ),
        title=lambda factor: said(f"use batteries of {factor:g} times the run time"),
        towards="up",
    )


LEVERS: Final = (
    Lever(
        "warm_cure",
        "hours of warm cure",
        dimension="count",
        cost="evening",
        offer=_warm_cure,
        note="box, blanket, low heater; below what the motor tube and paint stand",
        helps=("cure", "fin_bond", "thrust_ring", "anchor", "fin_strike"),
        flies=False,
        caution="warm_cure",
    ),
    Lever(
        "warm_glue",
        "warm room for gluing",
        dimension="",
        cost="evening",
        offer=_warm_glue,
        note=_NEW_GLUE,
        helps=("glue_cold", "cure"),
        flies=False,
    ),
    Lever(
        "glue_halves",
        "glue in two batches",
        dimension="",
        cost="free",
        offer=_halves,
        note=_NEW_GLUE,
        helps=("working_time",),
        flies=False,
        caution="epoxy",
    ),
    Lever(
        "paint_indoors",
        "paint indoors",
        dimension="",
        cost="minutes",
        offer=_indoors,
        note="air the room",
        helps=("paint_dew",),
        flies=False,
    ),
    Lever("recoat", "time of the next coat", "", "free", _recoat, helps=("recoat",), flies=False),
    Lever(
        "tighten",
        "fasteners tightened",
        dimension="",
        cost="minutes",
        offer=_tighten,
        note="thread lock or safety wire",
        helps=("fasteners",),
        flies=False,
    ),
    Lever(
        "fit_first",
        "order of the steps",
        dimension="",
        cost="free",
        offer=_fit_first,
        note="only if it is not closed yet; edit build.toml by hand",
        helps=("closed_in",),
        flies=False,
    ),
    Lever(
        "switch_on",
        "wait from switching on to the flight",
        dimension="time",
        cost="free",
        offer=_switch,
        note="needs a switch you can reach on the rail",
        helps=("battery", "recording"),
        flies=False,
    ),
    Lever(
        "cells_warm",
        "warm cells",
        "",
        "free",
        _warm_cells,
        helps=("battery",),
        flies=False,
        caution="cells",
    ),
    Lever(
        "batteries",
        "run time of the batteries",
        dimension="ratio",
        cost="purchase",
        offer=_batteries,
        note="heavier: weigh and balance again; by the label until it is tried",
        helps=("battery",),
        flies=False,
    ),
)
