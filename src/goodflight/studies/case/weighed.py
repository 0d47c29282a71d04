"""The rocket as built: the design's masses and places, corrected by what was weighed.

One generalised least-squares estimate over the mass and balance point of every part and one factor
of the inertia. What is known beforehand is the design with its spreads; every weighing, balance
point and swing of parts, groups or the whole is a reading of it. A weighed whole is the whole: the
parts share the difference by their spreads. What the design cannot explain is either what nobody
entered (more than the parts can weigh) or a reading that contradicts the rest: that is refused.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import permutations
from typing import Final

import numpy as np

from goodflight.physics.estimate import Estimate, generalised_least_squares
from goodflight.physics.vehicle import MassItem, body_length_m, mass_items
from goodflight.physics.vehicle.parts import MotorTube
from goodflight.project import Project
from goodflight.project.bench_files import SwingTable
from goodflight.project.building import build_rocket
from goodflight.quantity.said import Said, literal, said
from goodflight.studies.case.planned import Joint
from goodflight.studies.case.weighed_model import NOT_ENTERED, Array, AsBuilt, Prior, Reading
from goodflight.studies.case.weighed_prior import (
    motors_weighed,
    prior_of,
    wider,
    with_not_entered,
)
from goodflight.studies.case.weighed_readings import contradiction, lengths_add_s, readings_of
from goodflight.studies.sampling import airframe

DOUBTED: Final = 3.0  # spreads from the rest: the design is looked at again
REFUSED: Final = 4.0  # ... and no rocket explains it


def as_built(project: Project) -> AsBuilt | None:
    """The project's masses as designed and weighed; None where nothing was weighed.

    Parameters
        project : Project - as loaded from its folder. [-]
    Returns
        built : AsBuilt or None - every mass with its spread, and every reading. [SI]
    Raises
        StudyRefused - a reading no rocket explains, with file, line, found, expected, advice.
    Validity
        Normal errors; first order in places. Weighings are of one and the same rocket.
    Source
        `generalised_least_squares`.
    """
    if not project.weighings.weighing:
        return None
    project = project.as_weighed()
    rocket = build_rocket(project.head, project.parts, {})
    tail = next((part.motor_aft_m for part in rocket.of_kind(MotorTube)), None)
    items = [
        *mass_items(rocket),
        *motors_weighed(project, body_length_m(rocket) if tail is None else tail),
    ]
    readings, swings = readings_of(project, items, body_length_m(rocket))
    return estimated(project, prior_of(project, items, swings), readings)


def estimated(project: Project, prior: Prior, readings: tuple[Reading, ...]) -> AsBuilt:
    """The estimate from a prior and readings; wider guesses where these do not agree."""
    readings, found = _solved(prior, readings, project)
    if _worst(readings) > DOUBTED:
        return _again(project, prior, readings)
    return _built(prior, prior, readings, found, False)


def _again(project: Project, prior: Prior, readings: tuple[Reading, ...]) -> AsBuilt:
    """The estimate where design and readings do not agree: wider guesses, then what is missing."""
    wide = wider(prior, _worst(readings))
    tries = [(wide, _solved(wide, readings, project))]
    more = with_not_entered(wide, readings)
    if more is not None:
        taken = tuple(
            replace(each, items=(*each.items, NOT_ENTERED)) if each.whole else each
            for each in readings
        )
        tries.append((more, _solved(more, taken, project)))
    for used, (then, estimate) in tries:
        if _worst(then) <= DOUBTED:
            return _built(prior, used, then, estimate, True)
    used, (then, estimate) = min(tries, key=lambda each: _worst(each[1][0]))
    if _worst(then) > REFUSED:
        raise contradiction(project, then)
    return _built(prior, used, then, estimate, True)


def doubted(built: AsBuilt | None) -> tuple[Said, ...]:
    """Readings far from what the design and all others say: every answer stands on them."""
    return tuple(
        replace(
            said(
                f"{literal(each.words)}: this {each.kind} is {abs(each.apart):.1f} times what the "
                "errors allow from all others; read it again"
            ),
            home=each.path,
        )
        for each in (() if built is None else built.readings)
        if abs(each.apart) > DOUBTED
    )


def _worst(readings: Iterable[Reading]) -> float:
    return max(abs(reading.apart) for reading in readings)


def _solved(
    prior: Prior, readings: tuple[Reading, ...], project: Project
) -> tuple[tuple[Reading, ...], Estimate]:
    observed = np.array([reading.value for reading in readings])
    try:
        found = generalised_least_squares(
            prior.mean,
            prior.covariance,
            observed,
            _errors(project, readings, prior.swings),
            lambda here: prior.read(here, readings),
        )
    except (ValueError, ArithmeticError, np.linalg.LinAlgError):
        raise contradiction(project, _against_design(prior, readings)) from None
    told = tuple(
        replace(
            reading,
            rest=reading.value - float(found.apart[i]),
            apart=float(found.apart[i] / found.apart_sigma[i]),
        )
        for i, reading in enumerate(readings)
    )
    return told, found


def _against_design(prior: Prior, readings: tuple[Reading, ...]) -> tuple[Reading, ...]:
    """Every reading against the design alone, where nothing settles."""
    would, slopes = prior.read(prior.mean, readings)
    spread = np.sqrt(np.einsum("ij,jk,ik->i", slopes, prior.covariance, slopes))
    return tuple(
        replace(r, rest=float(w), apart=(r.value - float(w)) / float(np.hypot(s, r.sigma)))
        for r, w, s in zip(readings, would, spread, strict=True)
    )


def _errors(
    project: Project, readings: tuple[Reading, ...], swings: Mapping[str, SwingTable]
) -> Array:
    """Covariance of the readings: their own errors, and what readings of one instrument share.

    Swings share the errors of the wires' spacing and length where these are the same figures:
    they were measured once.
    """
    found = np.diag([reading.sigma**2 for reading in readings])
    rows = project.weighings.weighing
    used = [rows[_number(reading.path)].instrument for reading in readings]
    for instrument in project.weighings.instrument:
        for kind in ("mass", "balance"):
            share = [
                instrument.calibration.value * reading.value
                if name == instrument.name and reading.kind == kind
                else 0.0
                for name, reading in zip(used, readings, strict=True)
            ]
            found += np.outer(share, share)
    return found + _by_wires(readings, swings)


def _by_wires(readings: tuple[Reading, ...], swings: Mapping[str, SwingTable]) -> Array:
    """What swings share beside what each has of it already, by length and what it adds."""
    found = np.zeros((len(readings), len(readings)))
    places = [i for i, reading in enumerate(readings) if reading.kind == "swing"]
    for i, k in permutations(places, 2):
        one, other = (swings[readings[each].path] for each in (i, k))
        added = zip(lengths_add_s(one), lengths_add_s(other), strict=True)
        same = (_measured_as(one), _measured_as(other))
        found[i, k] = sum(a * b for (a, b), x, y in zip(added, *same, strict=True) if x == y)
    return found


def _measured_as(swing: SwingTable) -> tuple[tuple[float, float | None], ...]:
    """Spacing and length of the wires as they were measured."""
    return tuple((each.value, each.sigma) for each in (swing.spacing, swing.wires))


def _number(path: str) -> int:
    return int(path.split("[#")[1].split("]", maxsplit=1)[0]) - 1


def built_items(built: AsBuilt, designed: Sequence[MassItem]) -> tuple[MassItem, ...]:
    """The masses of one plan's rocket as built, with what nobody entered.

    A part that was changed after the weighing takes what the weighing said along.
    """
    found = tuple(
        _since(item, built) if item != built.design.get(item.name) else built.items[item.name]
        for item in designed
    )
    return found if built.not_entered is None else (*found, built.not_entered)


def _since(item: MassItem, built: AsBuilt) -> MassItem:
    then = built.design.get(item.name)
    return item if then is None else remade(built.items[item.name], then, item)


def remade(item: MassItem, old: MassItem | None, new: MassItem) -> MassItem:
    """A changed part; what a weighing said about the part before is carried over."""
    if old is None or item == old:
        return new
    scale = item.mass_kg / old.mass_kg if old.mass_kg > 0.0 else 1.0
    return replace(
        item,
        mass_kg=new.mass_kg * scale,
        station_m=item.station_m + new.station_m - old.station_m,
        pitch_inertia_kg_m2=new.pitch_inertia_kg_m2 * scale,
        roll_inertia_kg_m2=new.roll_inertia_kg_m2 * scale,
    )


def not_negative(found: Estimate, masses: int) -> Array:
    """The middle nearest to an estimate at which none of its first figures lies below nothing.

    Those that do are held at 0 and all others follow as they hang together with them, so a weighed
    whole stays the whole: x - C_A (C_AA)^-1 x_A, the least of the sum of squares with x_A = 0.
    """
    mean, held = found.mean.copy(), np.zeros(found.mean.size, dtype=bool)
    while (low := np.flatnonzero((mean < 0.0) & ~held & (np.arange(mean.size) < masses))).size:
        held[low] = True
        across = found.covariance[:, held]
        mean = found.mean - across @ np.linalg.solve(across[held], found.mean[held])
        mean[held] = 0.0
    return mean


def _built(
    prior: Prior, used: Prior, readings: tuple[Reading, ...], found: Estimate, wider: bool
) -> AsBuilt:
    count = len(used.items)
    spreads = np.sqrt(np.maximum(np.diag(found.covariance), 0.0))
    alone = {each.items[0] for each in readings if each.kind == "mass" and len(each.items) == 1}
    items, mean = {}, not_negative(found, count)
    for i, item in enumerate(used.items):
        mass = float(mean[i])
        scale = mass / item.mass_kg if item.mass_kg > 0.0 else 0.0
        items[item.name] = replace(
            item,
            mass_kg=mass,
            station_m=float(mean[count + i]),
            mass_sigma_kg=float(spreads[i]),
            station_sigma_m=float(spreads[count + i]),
            pitch_inertia_kg_m2=item.pitch_inertia_kg_m2 * scale,
            roll_inertia_kg_m2=item.roll_inertia_kg_m2 * scale,
            known="measured" if item.name in alone else item.known,
        )
    names = [item.name for item in used.items]
    keys = (
        *(f"{airframe.mass.key}{name}" for name in names),
        *(f"{airframe.balance.key}{name}" for name in names),
        airframe.inertia.key,
    )
    safe = np.where(spreads > 0.0, spreads, 1.0)
    correlation = found.covariance / np.outer(safe, safe)
    correlation[spreads <= 0.0] = 0.0
    correlation[:, spreads <= 0.0] = 0.0
    np.fill_diagonal(correlation, 1.0)
    return AsBuilt(
        items=items,
        design={item.name: item for item in prior.items},
        readings=readings,
        joint=Joint(keys, correlation),
        inertia=(float(mean[-1]), float(spreads[-1])),
        wider=wider,
        misfit=found.chi_square,
    )
