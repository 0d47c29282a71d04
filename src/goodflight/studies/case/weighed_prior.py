"""What is known of every mass and place before anything is weighed: the design with its spreads."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from goodflight.physics.motor import grain_item, motor_case_item
from goodflight.physics.vehicle import MassItem, combine, mass_items
from goodflight.project import Project, Uncertain
from goodflight.project.bench_files import SwingTable
from goodflight.project.building import build_rocket
from goodflight.studies.case.alike import Alike
from goodflight.studies.case.weighed_model import NOT_ENTERED, Array, Prior, Reading
from goodflight.studies.sampling import airframe

_WIDER_SHARE: Final = {"guess": 0.20, "label": 0.08}  # of a mass: the most it may be off by
_WIDER_PLACE_M: Final = 0.05
_MOST_FORGOTTEN: Final = 0.5  # of all that was entered; more is a slip of a digit: our guess
_DRAWN: Final = ("mass", "balance")
_SPREAD: Final = Alike[Array]()


def motors_weighed(project: Project, aft_m: float) -> list[MassItem]:
    """Motors that were weighed in the rocket, each as one mass."""
    names = dict.fromkeys(row.motor for row in project.weighings.weighing if row.motor)
    return [_motor(project, name, aft_m) for name in names]


def _motor(project: Project, name: str, aft_m: float) -> MassItem:
    """A loaded motor, exactly as its file has it: so flights take it, and the whole stays whole."""
    motor = project.motor(name)
    whole = combine([motor_case_item(motor, aft_m), grain_item(motor, aft_m)])
    return MassItem(
        f"motor {name}",
        whole.mass_kg,
        whole.cg_m,
        whole.pitch_inertia_kg_m2,
        whole.roll_inertia_kg_m2,
        known=motor.known,
        kind="motor",
    )


def prior_of(
    project: Project, items: Sequence[MassItem], swings: Mapping[str, SwingTable]
) -> Prior:
    """Middle and covariance of masses, places and the inertia's factor, as designed."""
    masses, places = np.array([i.mass_kg for i in items]), np.array([i.station_m for i in items])
    lengths = _lengths(project)
    covariance = _SPREAD.of(
        (project.head, project.parts, lengths, tuple(items)),
        lambda: _covariance(project, lengths, items),
    )
    return Prior(tuple(items), np.array([*masses, *places, 1.0]), covariance, swings)


def _covariance(project: Project, lengths: Sequence[Uncertain], items: Sequence[MassItem]) -> Array:
    own = [i.mass_sigma_kg**2 for i in items] + [i.station_sigma_m**2 for i in items]
    covariance = np.diag([*own, airframe.inertia.spread.sigma**2])
    names = [item.name for item in items]
    for figure in lengths:
        moved = _moved(project, figure, dict(zip(names, items, strict=True)))
        covariance += np.outer(moved, moved)
    covariance.setflags(write=False)
    return covariance


def _lengths(project: Project) -> tuple[Uncertain, ...]:
    """Lengths, densities and the like of all plans' rockets; masses are known by themselves."""
    found = {
        figure.path: figure
        for table in project.plan_tables
        for figure in project.uncertain(table.name)
        if figure.table in ("part", "surface") and figure.key not in _DRAWN
    }
    return tuple(found.values())


def _moved(project: Project, figure: Uncertain, items: Mapping[str, MassItem]) -> Array:
    """What one standard deviation of a figure does to every mass and place."""
    for sign in (1.0, -1.0):
        try:
            rocket = build_rocket(project.head, project.parts, figure.moved(sign))
            there = {item.name: item for item in mass_items(rocket)}
        except ValueError:
            continue
        now = [there.get(name, item) for name, item in items.items()]
        pairs = list(zip(now, items.values(), strict=True))
        masses = [sign * (new.mass_kg - old.mass_kg) for new, old in pairs]
        return np.array([*masses, *(sign * (n.station_m - o.station_m) for n, o in pairs), 0.0])
    return np.zeros(2 * len(items) + 1)


def wider(prior: Prior, times: float) -> Prior:
    """The same with guesses and labels as far off as the readings say, within reason."""
    count = len(prior.items)
    scale = np.ones(2 * count + 1)
    spreads = np.sqrt(np.diag(prior.covariance))
    for i, item in enumerate(prior.items):
        share = _WIDER_SHARE.get(item.known, 0.0) if item.kind != "motor" else 0.0
        if share * item.mass_kg > 0.0:
            for at, most in ((i, share * item.mass_kg), (count + i, _WIDER_PLACE_M)):
                if spreads[at] > 0.0:
                    scale[at] = max(1.0, min(times, most / spreads[at]))
    return replace(prior, covariance=prior.covariance * np.outer(scale, scale))


def with_not_entered(prior: Prior, readings: tuple[Reading, ...]) -> Prior | None:
    """The same with one mass more, anywhere along the body, where a whole weighs more than it."""
    heavier = [r.value - r.rest for r in readings if r.whole and r.kind == "mass"]
    designed = sum(item.mass_kg for item in prior.items if item.kind != "motor")
    if not heavier or not 0.0 < max(heavier) < _MOST_FORGOTTEN * designed:
        return None
    most, count = max(heavier), len(prior.items)
    ends = max(item.station_m for item in prior.items)
    item = MassItem(NOT_ENTERED, most, 0.5 * ends, most * ends**2 / 1200.0, 0.0)
    mean = np.insert(prior.mean, [count, 2 * count], [most, 0.5 * ends])
    covariance = np.insert(
        np.insert(prior.covariance, [count, 2 * count], 0.0, 0), [count, 2 * count], 0.0, 1
    )
    covariance[count, count] = most**2
    covariance[2 * count + 1, 2 * count + 1] = ends**2 / 12.0
    return Prior((*prior.items, item), mean, covariance, prior.swings)
