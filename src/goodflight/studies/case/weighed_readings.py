"""What was read off scale, edge and watch: rows of the file resolved, or refused in their place."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from goodflight.constants import INCH_M
from goodflight.physics.vehicle import MassItem, mass_items
from goodflight.physics.vehicle.weighing import bifilar_slopes_s_m
from goodflight.project import Project
from goodflight.project.bench_files import WHOLE, SwingTable, WeighingTable
from goodflight.project.defaults import sigma_of
from goodflight.project.parts.added_mass import whole_entry
from goodflight.quantity import Units, brief
from goodflight.quantity.units import OUNCE_KG
from goodflight.studies.case.weighed_model import Kind, Prior, Reading
from goodflight.studies.refusal import StudyRefused, refused_at

FILE: Final = "weighings.toml"
_READ_IN: Final[Mapping[Units, Mapping[Kind, tuple[str, int, float]]]] = {  # unit, decimals, SI
    "metric": {"mass": ("g", 0, 1e-3), "balance": ("mm", 1, 1e-3)},
    "imperial": {"mass": ("oz", 1, OUNCE_KG), "balance": ("in", 2, INCH_M)},
}
_KINDS: Final[tuple[Kind, ...]] = ("mass", "balance", "swing")


def readings_of(
    project: Project, items: Sequence[MassItem], length_m: float
) -> tuple[tuple[Reading, ...], dict[str, SwingTable]]:
    flown = [item.name for item in mass_items(project.rocket())]
    found: list[Reading] = []
    swings: dict[str, SwingTable] = {}
    for number, row in enumerate(project.weighings.weighing):
        names = _on_the_scale(row, flown, [item.name for item in items])
        base = Reading(
            path=f"{FILE}:weighing[#{number + 1}]",
            kind="mass",
            words=in_words(row),
            date=row.date,
            value=0.0,
            sigma=0.0,
            items=names,
            whole=row.whole,
        )
        _check_names(project, base, items)
        for kind in _KINDS:
            figure = getattr(row, kind)
            if figure is None:
                continue
            path = f"{base.path}.{kind}"
            if kind == "swing":
                swings[path] = figure
                value, sigma = figure.period.value, _swing_sigma(figure)
            else:
                value, sigma = figure.value, max(sigma_of(kind, figure), 1e-6)
            found.append(replace(base, path=path, kind=kind, value=value, sigma=sigma))
    for reading in found:
        _check_possible(project, reading, length_m, {i.name: i for i in items})
    design = {item.name: item for item in items}
    blank = Prior(
        tuple(items),
        np.array([*(i.mass_kg for i in items), *(i.station_m for i in items), 1.0]),
        np.empty(0),
        swings,
    )
    would = [
        blank.read(blank.mean, [each])[0][0] if _heavy(each, design) else 0.0 for each in found
    ]
    return tuple(replace(r, design=float(w)) for r, w in zip(found, would, strict=True)), swings


def _heavy(reading: Reading, items: Mapping[str, MassItem]) -> bool:
    return reading.kind == "mass" or sum(items[name].mass_kg for name in reading.items) > 0.0


def lengths_add_s(swing: SwingTable) -> tuple[float, float]:
    """What one standard deviation of the wires' spacing and length adds to the time of a swing."""
    by_spacing, by_wires = bifilar_slopes_s_m(
        swing.period.value, swing.spacing.value, swing.wires.value
    )
    return (
        by_spacing * sigma_of("spacing", swing.spacing, "measured"),
        by_wires * sigma_of("wires", swing.wires, "measured"),
    )


def _swing_sigma(swing: SwingTable) -> float:
    """Of the time, with what the wires' spacing and length add."""
    return float(np.hypot(sigma_of("period", swing.period), np.hypot(*lengths_add_s(swing))))


def _on_the_scale(
    row: WeighingTable, flown: Sequence[str], known: Sequence[str]
) -> tuple[str, ...]:
    names = list(flown) if row.whole else []
    names += [name for name in row.what if name not in (WHOLE, *names)]
    left = {each for name in row.without for each in (name, f"{name}: fillets")}
    names = [name for name in names if name not in left and name in known]
    return (*names, f"motor {row.motor}") if row.motor else tuple(names)


def in_words(row: WeighingTable) -> str:
    """What was on the scale, in words."""
    named = [name for name in row.what if name != WHOLE]
    words = ["whole rocket" if row.motor or row.without else "whole rocket without motor"]
    parts = words + [f"and {', '.join(named)}"] * bool(named) if row.whole else [", ".join(named)]
    if row.motor:
        parts.append(f"with {row.motor}")
    elif row.without and row.whole:
        parts.append("without motor")
    if row.without:
        parts.append(f"without {', '.join(row.without)}")
    return ", ".join(parts)


def _check_names(project: Project, base: Reading, items: Sequence[MassItem]) -> None:
    if not base.items:
        raise refused_at(
            project,
            base.path,
            "nothing on the scale",
            "parts that have a mass",
            "a bay is empty room: name what is in it",
        )
    light = {item.name for item in items if item.mass_kg <= 0.0}
    if set(base.items) <= light:
        raise refused_at(
            project,
            base.path,
            f"{base.words}: the design gives 0 g",
            "a part with a mass",
            _heavier(project),
        )


def _heavier(project: Project) -> str:
    """How a part that is given 0 g comes to have a mass of its own."""
    whole = whole_entry(project.parts)
    if whole is None:
        return (
            'take out mass = "0 g" where it stands for part of another entry, so that it is '
            "worked out from shape and material"
        )
    return (
        f"its mass is within {whole.name}: weigh the rocket as a whole (all), or each such part "
        f"alone (goodflight weigh, page Scale), which takes its mass out of {whole.name}"
    )


def _check_possible(
    project: Project, reading: Reading, length_m: float, items: Mapping[str, MassItem]
) -> None:
    if reading.kind == "balance" and not 0.0 < reading.value < length_m:
        raise refused_at(
            project,
            reading.path,
            f"balance at {brief(reading.value, 'length', project.head.units)}",
            f"a point on the rocket, 0 to {brief(length_m, 'length', project.head.units)} from the "
            "nose tip",
            "measure from the nose tip, not from the tail",
        )
    if not _heavy(reading, items):
        raise refused_at(
            project,
            reading.path,
            f"{reading.words}: no mass in the design",
            "parts with a mass",
            "weigh them as well",
        )


def contradiction(project: Project, readings: tuple[Reading, ...]) -> StudyRefused:
    """The reading that stands farthest from the rest, and those it may be a mistake with."""
    worst = max(readings, key=lambda each: abs(each.apart))
    others = [
        each.path.partition(":")[2]
        for each in readings
        if each is not worst and abs(each.apart) > 0.9 * abs(worst.apart)
    ]
    units = project.head.units
    found = f"{worst.words}: {_told(worst, worst.value, units)}"
    wanted = f"{_told(worst, worst.rest, units)}, as the design and all other weighings have it"
    off = abs(worst.value - worst.rest)
    way = "more" if worst.value > worst.rest else "less"
    advice = (
        f"{_told(worst, off, units)} {way} is {abs(worst.apart):.0f} times what the errors allow"
    )
    if worst.kind == "mass" and way == "less":
        advice += "; was something left off the scale (name it in without), or a digit lost?"
    else:
        advice += "; read it again, and check what was on the scale (what, without, motor)"
    if others:
        advice += f"; or the fault is in {', '.join(others)}"
    return refused_at(project, worst.path, found, wanted, advice)


def _told(reading: Reading, value: float, units: Units) -> str:
    if reading.kind == "swing":
        return f"{value:.3f} s"
    unit, digits, per = _READ_IN[units][reading.kind]
    return f"{value / per:.{digits}f} {unit}"
