"""What the builder can do about glue, paint and devices, as changed cases.

None of these changes a flight: only strengths, temperatures and times move.
"""

from collections.abc import Iterator
from dataclasses import replace

from goodflight.studies.case.planned import Case
from goodflight.studies.case.remade import stated
from goodflight.studies.case.workshop import GluedJoint, Stay, Workshop
from goodflight.studies.levers.changes import Change
from goodflight.studies.results import Cost

ZERO_K = 273.15
WARM_K = 303.15
WARM_HOURS = 10.0
ROOM_K = 293.15
DRY_SIGMA = 0.05  # a tenth of 50 %: the project's spread of a share that is a guess
_NEW_GLUE = "the old joint cannot be made twice: on the next one, or before it is glued"


def _change(
    key: str, title: str, cost: Cost, note: str, case: Case, helps: tuple[str, ...],
    *writes: tuple[str, str],
) -> Change:  # fmt: skip
    return Change(key, title, cost, note, case, writes, flies=False, helps=helps)


def _own_place(joint: GluedJoint, number: int) -> str:
    """The name a stay has that says its temperature itself."""
    return f"{joint.name} {number + 1}"


def _own_stay(
    joint: GluedJoint, number: int, hours: float, temperature_k: float, sigma_k: float
) -> Stay:
    return Stay(_own_place(joint, number), hours, temperature_k, sigma_k)


def _warm_stay(joint: GluedJoint) -> Stay:
    return _own_stay(joint, len(joint.stays), WARM_HOURS, WARM_K, 2.0)


def _stay_list(joint: GluedJoint) -> str:
    """The stays of a joint as the project writes them."""
    rows = []
    for number, stay in enumerate(joint.stays):
        where = f'workplace = "{stay.place}"'
        if stay.place == _own_place(joint, number):
            warm = f"{stay.temperature_k - ZERO_K:g} degC ± {stay.sigma_k:g} degC"
            where = f'temperature = "{warm}"'
        rows.append(f'{{ {where}, time = "{stay.hours:g} h" }}')
    return f"[{', '.join(rows)}]"


def _cold(joint: GluedJoint) -> bool:
    return bool(joint.stays) and joint.stays[0].temperature_k < ROOM_K


def _middle_s(least_s: float, most_s: float) -> float:
    """The middle of a window, to the minute."""
    return 60.0 * round(0.5 * (least_s + most_s) / 60.0)


def _bench(case: Case, workshop: Workshop) -> Case:
    return replace(case, workshop=workshop)


def warmth(case: Case) -> Iterator[Change]:
    """Finish the cure in the warm; glue in a heated room; mix half at a time."""
    workshop = case.workshop
    if not workshop.joints:
        return
    joints = workshop.joints
    warmed = tuple(replace(joint, stays=(*joint.stays, _warm_stay(joint))) for joint in joints)
    writes = tuple((f"build.toml:joint[{j.name}].stay", _stay_list(j)) for j in warmed)
    yield _change(
        "warm_cure", f"hold the joints at 30 degC for {WARM_HOURS:g} h", "evening",
        "box, blanket, low heater; below what the motor tube and paint stand",
        _bench(case, replace(workshop, joints=warmed)),
        ("cure", "fin_bond", "thrust_ring", "anchor", "fin_strike"), *writes,
    )  # fmt: skip
    room = tuple(
        replace(
            joint,
            stays=(_own_stay(joint, 0, joint.stays[0].hours, ROOM_K, 1.0), *joint.stays[1:]),
        ) if _cold(joint) else joint
        for joint in joints
    )  # fmt: skip
    writes = tuple(
        (f"build.toml:joint[{joint.name}].stay[#1].temperature", "20 degC ± 1 degC")
        for joint in joints if _cold(joint)
    )  # fmt: skip
    yield _change(
        "warm_glue", "glue in a room of 20 degC", "evening", _NEW_GLUE,
        _bench(case, replace(workshop, joints=room)), ("glue_cold", "cure"), *writes,
    )  # fmt: skip
    halves = tuple(
        joint if joint.work_s is None else replace(joint, work_s=30.0 * round(joint.work_s / 60.0))
        for joint in joints
    )
    yield _change(
        "glue_halves", "mix half, glue half, twice", "free", _NEW_GLUE,
        _bench(case, replace(workshop, joints=halves)), ("working_time",),
        *((f"build.toml:joint[{j.name}].work", f"{j.work_s / 60.0:g} min")
          for j in halves if j.work_s is not None),
    )  # fmt: skip


def paint(case: Case) -> Iterator[Change]:
    """Paint in a warm, dry room."""
    coats = case.workshop.coats
    if not coats:
        return
    dry = tuple(
        replace(coat, place=f"coat {coat.name}", temperature_k=ROOM_K, sigma_k=1.0, humidity=0.5,
                humidity_sigma=DRY_SIGMA)
        for coat in coats
    )  # fmt: skip
    yield _change(
        "paint_indoors", "let the paint dry at 20 degC and 50 % humidity", "minutes",
        "air the room",
        _bench(case, replace(case.workshop, coats=dry)), ("paint_dew",),
        *(write for coat in coats for write in (
            (f"build.toml:paint[{coat.name}].temperature", "20 degC ± 1 degC"),
            (f"build.toml:paint[{coat.name}].humidity", "0.5"))),
    )  # fmt: skip
    timed = tuple(
        coat if coat.recoat_least_s is None or coat.recoat_most_s is None
        else replace(coat, interval_s=_middle_s(coat.recoat_least_s, coat.recoat_most_s))
        for coat in coats
    )  # fmt: skip
    yield _change(
        "recoat_middle", "put the next coat in the middle of the can's window", "free", "",
        _bench(case, replace(case.workshop, coats=timed)), ("recoat",),
        *((f"build.toml:paint[{coat.name}].interval", f"{coat.interval_s / 60.0:g} min")
          for coat in timed if coat.interval_s is not None),
    )  # fmt: skip


def devices(case: Case) -> Iterator[Change]:
    """Switch on later; a larger battery; keep the cells warm."""
    helps = ("battery", "recording")
    if case.pad_wait_s is not None:
        wait = stated(case.pad_wait_s / 3.0, case.pad_wait_sigma_s / 3.0, "min", 60.0, 2)
        yield _change(
            "switch_late", f"switch on at the pad, {wait.value / 60:.0f} min before the flight",
            "free", "a switch that is reached on the rail",
            replace(case, pad_wait_s=wait.value, pad_wait_sigma_s=wait.sigma), helps,
            (f"{case.plan_path}.pad_wait", wait.text),
        )  # fmt: skip
    if case.devices:
        warm = tuple(replace(device, temperature_k=ROOM_K) for device in case.devices)
        yield _change(
            "cells_warm", "keep the cells in a pocket until the pad", "free", "",
            replace(case, devices=warm), ("battery",),
            *((f"rocket.toml:device[{d.name}].temperature", "20 degC") for d in case.devices),
        )  # fmt: skip
        larger = tuple(
            device if device.run_s is None
            else replace(device, run_s=60.0 * round(1.6 * device.run_s / 60.0))
            for device in case.devices
        )  # fmt: skip
        yield _change(
            "battery_larger", "use batteries of 1.6 times the run time", "purchase",
            "heavier: weigh and balance again", replace(case, devices=larger), ("battery",),
            *((f"rocket.toml:device[{d.name}].run_time", f"{d.run_s / 60.0:.0f} min label")
              for d in larger if d.run_s is not None),
        )  # fmt: skip


MAKERS = (warmth, paint, devices)
