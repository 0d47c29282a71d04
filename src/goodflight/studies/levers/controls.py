"""The controls of a what-if: the few things a builder can still change, each a row of options.

An option has an id (its value in SI, or a name) and what would be written into the project. The
value that the plan has is always among the options of its control.
"""

import math
from collections.abc import Iterable
from dataclasses import replace
from typing import Final

from goodflight.physics.flight import registry
from goodflight.physics.motor.model import Motor
from goodflight.studies.case.planned import Case, canopy_of
from goodflight.studies.case.remade import with_canopy
from goodflight.studies.levers.changes import nose_ballast, other_wind, with_wind
from goodflight.studies.levers.gear_controls import MAKERS as GEAR
from goodflight.studies.levers.option import Control, Option, steps

MOST_TILT_RAD: Final = math.radians(20.0)  # when no code set names a limit
_SAME_BORE_M: Final = 5e-4


def _control(
    key: str, label: str, dimension: str, now: float, values: Iterable[float], path: str,
    unit: str, scale: float = 1.0, known: str = "",
) -> Control:  # fmt: skip
    """A control of numbers; the value that is planned is always among them."""
    kept = sorted({round(v, 6) for v in values} | {round(now, 6)})
    options = []
    for value in kept:
        shown = round(value / scale, 3)
        options.append(Option(f"{value:g}", shown * scale, ((path, f"{shown:g} {unit}{known}"),)))
    return Control(key, label, dimension, tuple(options), f"{round(now, 6):g}")


def _fitting(case: Case) -> dict[str, Motor]:
    bore = case.motor.diameter_m
    return {k: m for k, m in case.motors.items() if abs(m.diameter_m - bore) < _SAME_BORE_M}


def _motor(base: Case, _now: Case) -> Control | None:
    fitting = _fitting(base)
    stem = next((k for k, m in fitting.items() if m.name == base.motor.name), "")
    path = f"{base.plan_path}.motor"
    options = tuple(Option(name, None, ((path, name),)) for name in fitting)
    return Control("motor", "motor", "", options, stem) if stem else None


def _set_motor(case: Case, option: Option) -> Case:
    motor = case.motors[option.id]
    return case if motor.name == case.motor.name else case.with_motor(motor, case.delay_out_s)


def _stem(case: Case) -> str:
    return next((k for k, m in case.motors.items() if m.name == case.motor.name), "")


def _delay(_base: Case, now: Case) -> Control | None:
    delay = now.motor.delay_s
    if delay is None or now.deployment != registry.BY_DELAY:
        return None
    least = max([*now.motor.delay_out_allowed_s, 0.0]) + 1.0
    path = f"motors/{_stem(now)}.toml:delay"
    values = (v for v in steps(2.0, delay + 4.0, 1.0) if v >= least)
    known = f" ± {100.0 * now.motor.delay_sigma:.3g} % label"
    return _control("delay", "delay as sold", "time", delay, values, path, "s", known=known)


def _set_delay(case: Case, option: Option) -> Case:
    return replace(case, motor=replace(case.motor, delay_s=option.value))


def _delay_out(base: Case, now: Case) -> Control | None:
    if now.motor.delay_s is None or now.deployment != registry.BY_DELAY:
        return None
    path = f"{now.plan_path}.delay_out"
    return _control(
        "delay_out", "drilled out of the delay", "time", base.delay_out_s,
        (0.0, *now.motor.delay_out_allowed_s), path, "s",
    )  # fmt: skip


def _set_delay_out(case: Case, option: Option) -> Case:
    return replace(case, delay_out_s=option.value or 0.0)


def _ballast(base: Case, _now: Case) -> Control | None:
    options = [Option("0", 0.0, ())]
    for grams in range(5, 125, 5):
        mass = grams / 1000
        options.append(Option(f"{mass:g}", mass, (nose_ballast(base, mass, "guess")[1],)))
    return Control("ballast", "ballast added in the nose", "mass", tuple(options), "0")


def _set_ballast(case: Case, option: Option) -> Case:
    if not option.value:
        return case
    return replace(case, items=(*case.items, nose_ballast(case, option.value, "guess")[0]))


def _rail(base: Case, _now: Case) -> Control:
    """The rails of the field: a plan cannot name another one."""
    path = f"{base.plan_path}.rail"
    rails = base.site.rail_lengths_m
    return _control("rail", "rail of the field", "length", base.rail_length_m, rails, path, "m")


def _set_rail(case: Case, option: Option) -> Case:
    return replace(case, rail_length_m=option.value or case.rail_length_m)


def _tilt(base: Case, _now: Case) -> Control:
    limit = MOST_TILT_RAD
    if base.code is not None and base.code.rail_tilt_rad is not None:
        limit = base.code.rail_tilt_rad.value
    degree = math.radians(1.0)
    values = (v * degree for v in steps(0.0, round(limit / degree), 1.0))
    return _control(
        "tilt", "rail leans", "angle", base.rail_tilt_rad, values, f"{base.plan_path}.tilt", "deg",
        degree,
    )  # fmt: skip


def _set_tilt(case: Case, option: Option) -> Case:
    return replace(case, rail_tilt_rad=option.value or 0.0)


def _wind(base: Case, _now: Case) -> Control:
    """Winds as far off in their share as the planned one, each a guess; the planned as it is."""
    path, planned = f"{base.plan_path}.day.wind", base.day.wind_m_s
    values = sorted({round(v, 6) for v in (*steps(0.0, 10.0, 0.25), planned)})
    options = tuple(Option(f"{v:g}", v, ((path, other_wind(base, v).text),)) for v in values)
    return Control("wind", "mean wind", "speed", options, f"{round(planned, 6):g}")


def _set_wind(case: Case, option: Option) -> Case:
    wind = option.value or 0.0
    return case if wind == round(case.day.wind_m_s, 6) else with_wind(case, other_wind(case, wind))


def _canopy(base: Case, _now: Case) -> Control | None:
    now = canopy_of(base)
    if now is None or len(base.canopies) < 2:
        return None
    path = f"{base.plan_path}.canopy"
    options = tuple(Option(c.name, None, ((path, c.name),)) for c in base.canopies)
    return Control("canopy", "canopy", "", options, now.name)


def _set_canopy(case: Case, option: Option) -> Case:
    old = canopy_of(case)
    new = next((c for c in case.canopies if c.name == option.id), None)
    if old is None or new is None or new.name == old.name:
        return case
    return with_canopy(case, new)


MAKERS: Final = {
    "motor": (_motor, _set_motor),
    "delay": (_delay, _set_delay),
    "delay_out": (_delay_out, _set_delay_out),
    "ballast": (_ballast, _set_ballast),
    "rail": (_rail, _set_rail),
    "tilt": (_tilt, _set_tilt),
    "wind": (_wind, _set_wind),
    "canopy": (_canopy, _set_canopy),
    **GEAR,
}
