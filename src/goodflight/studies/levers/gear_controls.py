"""Further controls of a what-if: how the rocket comes apart, when the project has the figure."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Final

from goodflight.physics.vehicle.separation import Figure
from goodflight.studies.case.planned import Case, cord_of
from goodflight.studies.case.remade import Stated, stated, with_changes
from goodflight.studies.levers.option import Control, Option, Write, steps
from goodflight.studies.levers.recovery_changes import PULLS, cord_writes, longer_cord_m

MOST_PINS: Final = 6
PULL_SHARE: Final = 0.1  # of a pull that is set by tape and luggage scale, but not read yet


def _figures(
    key: str, label: str, dimension: str, now: float, values: Iterable[float],
    writes: Callable[[float], tuple[Write, ...]],
) -> Control:  # fmt: skip
    """A control of numbers; the one that is planned is always among them, and writes nothing."""
    kept = sorted({round(v, 6) for v in values} | {round(now, 6)})
    options = tuple(Option(f"{v:g}", v, writes(v)) for v in kept)
    return Control(key, label, dimension, options, f"{round(now, 6):g}")


def _read(figure: Figure, said: Stated) -> Figure:
    return replace(figure, value=said.value, sigma=said.sigma, known="guess")


def _with_separation(case: Case, **changes: object) -> Case:
    separation = replace(case.rocket.separation, **changes)  # type: ignore[arg-type]
    return replace(case, rocket=replace(case.rocket, separation=separation))


def _said_pull(newton: float) -> Stated:
    return stated(newton, max(1, round(PULL_SHARE * newton)), "N")


def pull(base: Case, _now: Case) -> Control | None:
    """Pull that opens the separation, in whole newtons."""
    given = base.rocket.separation.pull_n
    if given is None:
        return None
    path = given.path or "rocket.toml:separation.pull"
    values = [*steps(5.0, 80.0, 1.0), *(float(round(given.value * factor)) for factor in PULLS)]
    return _figures(
        "pull", "pull that separates the rocket", "force", given.value, values,
        lambda newton: ((path, _said_pull(newton).text),),
    )  # fmt: skip


def set_pull(case: Case, option: Option) -> Case:
    """The separation as tight as the option says."""
    given = case.rocket.separation.pull_n
    if given is None or option.value is None:
        return case
    return _with_separation(case, pull_n=_read(given, _said_pull(option.value)))


def pins(base: Case, _now: Case) -> Control | None:
    """Shear pins in the separation."""
    separation = base.rocket.separation
    if separation.pull_n is None:
        return None
    counts = sorted({*range(MOST_PINS + 1), separation.pins})
    options = tuple(
        Option(str(count), float(count), (("rocket.toml:separation.pins", str(count)),))
        for count in counts
    )
    return Control("pins", f"shear pins {separation.pin_thread}", "", options, str(separation.pins))


def set_pins(case: Case, option: Option) -> Case:
    """So many pins."""
    return _with_separation(case, pins=round(option.value or 0.0))


def _said_powder(own: Figure, powder_kg: float) -> Stated:
    return stated(powder_kg, own.sigma * powder_kg / own.value, "g", 1e-3)


def powder(base: Case, _now: Case) -> Control | None:
    """Powder of the rocket's own charge, from half to twice."""
    own = base.rocket.separation.powder_kg
    if own is None or own.value <= 0.0:
        return None
    values = [v * 1e-3 for v in steps(round(500 * own.value, 1), round(2000 * own.value, 1), 0.1)]
    values += [round(factor * own.value, 6) for factor in PULLS]
    return _figures(
        "powder", "powder of the own charge", "mass", own.value, values,
        lambda mass_kg: ((own.path, _said_powder(own, mass_kg).text),),
    )  # fmt: skip


def set_powder(case: Case, option: Option) -> Case:
    """So much powder."""
    own = case.rocket.separation.powder_kg
    if own is None or option.value is None:
        return case
    return _with_separation(case, powder_kg=_read(own, _said_powder(own, option.value)))


def cord_length(base: Case, _now: Case) -> Control | None:
    """Length of the cord; it packs longer in proportion."""
    cord = cord_of(base.rocket)
    if cord is None or cord.length_m <= 0.0:
        return None
    values = [*steps(2.0, 15.0, 0.5), longer_cord_m(cord)]
    return _figures(
        "cord", "length of the cord", "length", cord.length_m, values,
        lambda length_m: tuple(cord_writes(cord, length_m)[1]),
    )  # fmt: skip


def set_cord_length(case: Case, option: Option) -> Case:
    """A cord of that length."""
    cord = cord_of(case.rocket)
    if cord is None or option.value is None:
        return case
    return with_changes(case, cord, **cord_writes(cord, option.value)[0])


MAKERS: Final = {
    "pull": (pull, set_pull),
    "pins": (pins, set_pins),
    "powder": (powder, set_powder),
    "cord": (cord_length, set_cord_length),
}
