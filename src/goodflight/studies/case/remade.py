"""A planned flight with a part of its rocket changed: what follows from it is worked out again.

A changed part takes its new mass, balance and inertia; where its shape matters, the tables of the
air and the rocket's features follow. What one standard deviation of a length does is kept.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from goodflight.physics.vehicle import mass_items
from goodflight.physics.vehicle.part import Outer, Part
from goodflight.physics.vehicle.parts import Bay, Canopy
from goodflight.physics.vehicle.profile import SEAM_M
from goodflight.project.designed import DesignedRocket
from goodflight.project.parts.table import resized
from goodflight.studies.case.planned import (
    Case,
    Read,
    Sensitivity,
    canopy_of,
    fins_of,
    main_name,
    separation_of,
)
from goodflight.studies.case.project_case import features_of, items_moved, model_spreads
from goodflight.studies.case.weighed import remade
from goodflight.studies.sampling import airframe


@dataclass(frozen=True)
class Stated:
    """A figure as it is written into the project, and its value and spread as they are read."""

    text: str
    value: float
    sigma: float


def stated(
    value: float, sigma: float, unit: str, per: float = 1.0, digits: int = 4, known: str = ""
) -> Stated:
    """Return a figure with its spread as text, rounded, and what that text says.

    Parameters
        value, sigma : float - the figure and one standard deviation. [SI]
        unit : str - written behind both. [-]
        per : float - SI value of one such unit. [SI]
        digits : int - significant digits of the value. [-]
        known : str - label or measured; empty = a guess. [-]
    Returns
        stated : Stated - text, and value and sigma as the text is read. [SI]
    """
    shown, spread = f"{value / per:.{digits}g}", f"{sigma / per:.2g}"
    number, wide = float(shown), float(spread)
    text = f"{number:g} {unit}"
    if wide > 0.0:
        text += f" ± {wide:g} {unit}"
    return Stated(text + (f" {known}" if known else ""), number * per, wide * per)


def with_rocket(case: Case, rocket: DesignedRocket, shape: bool = False) -> Case:
    """Return the flight with another rocket; masses the what-if has added stay.

    shape : whether the outer shape moved, so that the air's tables are made again.
    """
    old = {item.name: item for item in mass_items(case.rocket)}
    new = {item.name: item for item in mass_items(rocket)}
    items = [
        remade(item, old.get(item.name), new[item.name])
        if new.get(item.name) != old.get(item.name)
        else item
        for item in case.items
        if item.name in new or item.name not in old
    ]
    items += [item for name, item in new.items() if name not in old]
    tables, spreads = case.tables, case.uncertainty.model_spreads
    if shape and case.retable is not None:
        tables = case.retable(rocket, case.motor)
    if shape and spreads:
        spreads = model_spreads(rocket, case.motor)
    uncertainty = replace(
        case.uncertainty,
        features=features_of(rocket, main_name(case), None if shape else case.uncertainty.features),
        model_spreads=spreads,
        read=_still(case, rocket),
    )
    return replace(case, rocket=rocket, items=tuple(items), tables=tables, uncertainty=uncertainty)


def _still(case: Case, rocket: DesignedRocket) -> Mapping[str, Read]:
    """What was measured and still holds: not how other fins stand."""
    read = case.uncertainty.read
    if fins_of(rocket) == fins_of(case.rocket):
        return read
    return {key: each for key, each in read.items() if not airframe.cant.holds(key)}


def with_separation(case: Case, main: bool = False, **changes: Any) -> Case:
    """Return the flight with figures of the rocket's separation replaced; `main`: of its second."""
    changed = replace(separation_of(case, main), **changes)
    if main:
        return replace(case, rocket=replace(case.rocket, main_separation=changed))
    return replace(case, rocket=replace(case.rocket, separation=changed))


def with_part(case: Case, old: Part, new: Part, shape: bool = False) -> Case:
    """Return the flight with one part of the rocket replaced."""
    return with_rocket(case, _with(case.rocket, old, new), shape)


def with_length(
    case: Case, old: Part, new: Part, key: str, length: Stated, shape: bool = False
) -> Case:
    """Return the flight with a part of another length, whose spread acts anew on the rocket.

    key : the entry of the project; the part's field has the same name and `_m`.
    """
    changed = with_part(case, old, new, shape)
    path = f"rocket.toml:part[{new.name}].{key}"
    figure = Sensitivity(
        path=path,
        label=f"{key.replace('_', ' ')} of {new.name}",
        dimension="length",
        value=length.value,
        sigma=length.sigma,
        known="guess",
        table="part",
        part=new.name,
        key=key,
    )
    figure = _acting(
        changed, figure, _resized(changed, new, key, length.value + length.sigma), shape
    )
    others = tuple(each for each in case.uncertainty.sensitivities if each.path != path)
    return _with_sensitivities(changed, (*others, figure))


def with_figures(
    case: Case, old: Part, new: Part, figures: Mapping[str, tuple[Stated, Part]]
) -> Case:
    """Return the flight with a part of another shape, on which the spreads of lengths act anew.

    figures : by project path, a length of it as written, and the part with that one spread longer.
    """
    changed = with_part(case, old, new, shape=True)

    def acts(figure: Sensitivity) -> Sensitivity:
        if figure.path in figures:
            length, other = figures[figure.path]
            figure = replace(figure, value=length.value, sigma=length.sigma)
            rocket: DesignedRocket | None = _with(changed.rocket, new, other)
        else:
            rocket = _longer(changed.rocket, figure)
        if rocket is None:
            return figure
        return _acting(changed, figure, rocket)

    return _with_sensitivities(changed, tuple(map(acts, case.uncertainty.sensitivities)))


def _with(rocket: DesignedRocket, old: Part, new: Part) -> DesignedRocket:
    return replace(rocket, parts=tuple(new if each is old else each for each in rocket.parts))


def _longer(rocket: DesignedRocket, figure: Sensitivity) -> DesignedRocket | None:
    """The rocket with one length a spread longer; None where that is no field of it."""
    longer = figure.value + figure.sigma
    if (figure.table, figure.key) == ("surface", "roughness"):
        return replace(rocket, roughness_m=longer)
    for part in rocket.parts:
        if part.name == figure.part:
            new = resized(part, figure.key, longer)
            return None if new is None else _moved_on(_with(rocket, part, new), part, new)
    return None


def _moved_on(rocket: DesignedRocket, old: Part, new: Part) -> DesignedRocket:
    """The rocket with the outer parts behind a longer one moved aft, as a project builds them."""
    outer, further = tuple(rocket.of_kind(Outer)), new.along_m - old.along_m
    if further == 0.0 or all(each is not new for each in outer):
        return rocket
    end = old.station_m + old.along_m
    moved = {each.name for each in outer if each is not new and each.station_m >= end - SEAM_M}
    parts = (
        replace(each, station_m=each.station_m + further) if each.name in moved else each
        for each in rocket.parts
    )
    return replace(rocket, parts=tuple(parts))


def _with_sensitivities(case: Case, figures: tuple[Sensitivity, ...]) -> Case:
    return replace(case, uncertainty=replace(case.uncertainty, sensitivities=figures))


def _resized(case: Case, part: Part, key: str, length_m: float) -> DesignedRocket:
    """The rocket with another length of a part."""
    new = resized(part, key, length_m)
    assert new is not None  # the caller names a length of the part
    return _moved_on(_with(case.rocket, part, new), part, new)


def _acting(
    case: Case, figure: Sensitivity, rocket: DesignedRocket, shape: bool = True
) -> Sensitivity:
    """A figure with what it does: how far another rocket is from that of the flight's."""
    before = case.uncertainty.features
    now = features_of(rocket, main_name(case), None if shape else before)
    effects = {feature: now[feature] - before[feature] for feature in before}
    return replace(figure, effects=effects, items=items_moved(case.rocket, rocket))


def with_changes(case: Case, part: Part, **changes: Any) -> Case:
    """Return the flight with some fields of one part changed."""
    return with_part(case, part, replace(part, **changes))


def with_canopy(case: Case, canopy: Canopy) -> Case:
    """Return the flight on another canopy, packed where the one of the plan is."""
    old = canopy_of(case)
    if old is None:
        return replace(case, deployment=replace(case.deployment, canopy=canopy))

    def held(part: Part) -> Part:
        if not isinstance(part, Bay) or old.name not in part.holds:
            return part
        return replace(part, holds=tuple(canopy.name if n == old.name else n for n in part.holds))

    there = any(part.name == canopy.name for part in case.rocket.parts)
    parts = [
        held(part) if part.name != old.name else canopy
        for part in case.rocket.parts
        if part.name != old.name or not there
    ]
    changed = with_rocket(case, replace(case.rocket, parts=tuple(parts)))
    paths = {**case.origin.mass_paths, canopy.name: f"rocket.toml:part[{canopy.name}].mass"}
    before = case.uncertainty.sensitivities
    figures = tuple(_of_canopy(changed, figure, old, canopy) for figure in before)
    deployment = replace(changed.deployment, canopy=canopy)
    origin = replace(changed.origin, mass_paths=paths)
    return replace(_with_sensitivities(changed, figures), deployment=deployment, origin=origin)


def _of_canopy(case: Case, figure: Sensitivity, old: Canopy, new: Canopy) -> Sensitivity:
    """A figure of the canopy that stays at home, as one of the canopy that is flown."""
    if figure.part != old.name:
        return figure
    label = figure.label.replace(f" of {old.name}", f" of {new.name}")
    path = f"rocket.toml:part[{new.name}].{figure.key}"
    named = replace(figure, path=path, label=label, part=new.name)
    if figure.key != "across":
        return named
    wider = _resized(case, new, "across", new.across_m + figure.sigma)
    return _acting(case, replace(named, value=new.across_m), wider, shape=False)
