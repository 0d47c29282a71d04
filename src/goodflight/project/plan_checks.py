"""Whether plans name motors, canopies, fields, rails and delays that exist."""

from typing import Any

from goodflight.project.flight_files import PlanTable, SiteFile
from goodflight.project.motor_files import MotorFile
from goodflight.project.sheets import Sheet, nearest
from goodflight.quantity import show
from goodflight.quantity.said import both

Path = tuple[str | int, ...]


def check_reference(
    sheet: Sheet, path: Path, name: Any, known: list[str], kind: str, where: str
) -> None:
    """Note a name that nothing has."""
    if not isinstance(name, str) or not name or name in known:
        return
    there = ", ".join(known) if known else "none yet"
    advice = nearest(name, known, f"add it to {where}, or name another {kind}")
    few = f" (there: {there})" if len(known) <= 8 or not advice.endswith("?") else ""
    sheet.add(path, f'"{name}"', f"a {kind} of {where}{few}", advice)


def check_motor(sheet: Sheet, path: Path, plan: PlanTable, motor: MotorFile) -> None:
    """Note a delay the motor does not allow, and ejection by a delay that there is not."""
    if plan.deployment == "delay" and motor.delay is None:
        advice = 'choose a motor with a delay, or deployment = "altimeter"'
        found = f'"delay" with the plugged motor {motor.name}'
        sheet.add((*path, "deployment"), found, "a motor that has a delay", advice)
        return
    allowed = sorted({0.0, *(out.value for out in motor.delay_out_allowed)})
    if plan.delay_out is None:
        return
    if all(abs(plan.delay_out.value - each) > 1e-6 for each in allowed):
        wanted = "one of the motor's delay_out_allowed: " + ", ".join(
            f"{each:g} s" for each in allowed
        )
        advice = f"choose one of them, or add it to the motor {plan.motor}"
        sheet.add((*path, "delay_out"), f'"{plan.delay_out.text}"', wanted, advice)


def check_site(sheet: Sheet, path: Path, plan: PlanTable, site: SiteFile) -> None:
    """Note a rail that the field does not have."""
    _check_stop(sheet, path, plan, site)
    if plan.rail is None:
        return
    rail = plan.rail.value
    if all(abs(rail - each.value) > 0.005 for each in site.rails):
        metric = {show(each.value, "length", unit="m"): each.value for each in site.rails}
        rails = ", ".join(both(metric[each], "length", each) for each in sorted(metric))
        advice = f"choose one of them, or add it under rails in sites/{plan.site}.toml"
        sheet.add((*path, "rail"), f'"{plan.rail.text}"', f"a rail of the field: {rails}", advice)


def _check_stop(sheet: Sheet, path: Path, plan: PlanTable, site: SiteFile) -> None:
    rail = plan.rail or site.rails[0]
    stop = plan.rail_stop or site.rail_stop
    if stop is not None and stop.value >= rail.value:
        wanted = f"less than the rail, {rail.text}"
        advice = "it is the height of the tail above the rail's lower end"
        sheet.add((*path, "rail_stop"), f'"{stop.text}"', wanted, advice)


def check_main(sheet: Sheet, path: Path, plan: PlanTable) -> None:
    """Note a second canopy or its height without the other, or one that a delay cannot open."""
    if plan.main is not None and plan.main_height is None:
        advice = "add the height above the pad at which it opens"
        sheet.add((*path, "main_height"), "nothing", "a length like 150 m", advice)
    if plan.main is None and plan.main_height is not None:
        advice = "name the canopy that opens there as main, or remove main_height"
        sheet.add((*path, "main"), "nothing, beside main_height", "a canopy of the rocket", advice)
    if plan.main is not None and plan.deployment == "delay":
        advice = 'write deployment = "altimeter", or remove main'
        sheet.add((*path, "deployment"), '"delay" with a second canopy', '"altimeter"', advice)
    if plan.main is not None and plan.main == plan.canopy:
        advice = "name another canopy, or remove main"
        sheet.add((*path, "main"), f'"{plan.main}"', "a canopy other than the first", advice)
