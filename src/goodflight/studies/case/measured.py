"""Figures measured one at a time: pulls, sizes, crooked fins, offcuts torn, a canopy dropped.

Each `[[reading]]` is of a figure of `rocket.toml`, or of one that no file has: a declared quantity
whose `Measured` says what its instrument shows. Both come into the flight before anything is drawn.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from goodflight.constants import SEA_LEVEL_DENSITY_KG_M3
from goodflight.physics.recovery import cloth_area_m2, dropped_drag_area_m2
from goodflight.physics.vehicle.parts import Canopy
from goodflight.project import Project, defaults
from goodflight.project.building import build_rocket
from goodflight.project.head_figures import given_as
from goodflight.project.measured_keys import (
    DROPPED,
    Place,
    figure_at,
    in_file,
    place_of,
    read_as,
    with_figure,
)
from goodflight.quantity import parse
from goodflight.studies.case.readings import Before, MeasuredFigure, Readings
from goodflight.studies.case.shown import (
    add_shown,
    by_figure,
    calibration,
    error_of,
    figure_of,
    path_of,
)

AIR_KG_M3: Final = (SEA_LEVEL_DENSITY_KG_M3, 0.03)  # share: 0 to 25 degC, 300 m of height: derived
_ANOTHER: Final = frozenset({"force", "pressure"})  # each reading of another pull, another offcut


def as_measured(project: Project) -> tuple[Project, tuple[MeasuredFigure, ...]]:
    """The project with the figures of its rocket as they were measured, and what was read of them.

    Raises
        StudyRefused - a reading that contradicts the others or the design, in its place.
    """
    found = []
    head, parts, weighed = project.head, project.parts, project.weighed
    for of, numbers in by_figure(project, in_file).items():
        place = place_of(project.head, project.parts, of)
        if isinstance(place, str):
            continue  # a fault of the file, told when it was read
        figure = _of_file(project, place, numbers)
        found.append(figure)
        head, parts = with_figure(
            head, parts, place, value=figure.value, sigma=figure.sigma, known=figure.known
        )
        then = place if weighed is None else place_of(*weighed, of)
        if weighed is not None and isinstance(then, Place):
            weighed = with_figure(*weighed, then, figure.value, figure.sigma, figure.known)
    if not found:
        return project, ()
    return replace(project, head=head, parts=parts, weighed=weighed), tuple(found)


# --- figures of rocket.toml ---


def _of_file(project: Project, place: Place, numbers: Sequence[int]) -> MeasuredFigure:
    before, readings = _before(project, place), Readings()
    for number in numbers:
        row = project.weighings.reading[number]
        kinds = read_as(row, place.key, place.dimension)
        assert not isinstance(kinds, str)  # a fault of the file
        if row.hung is not None:
            _dropped(project, place, number, readings)
            continue
        for text in row.read:
            shown = parse(text, kinds[0], "measured")
            error = 0.0
            if not before.usual and row.over:
                error = defaults.spread_of(place.dimension, 1.0, "measured")
            elif not before.usual:
                error = defaults.sigma_of(place.key, shown, "measured")
            add_shown(project, number, readings, shown, kinds=kinds, usual=error)
    return figure_of(project, place.of, numbers, before, readings)


def _before(project: Project, place: Place) -> Before:
    """The design's figure, and how such a figure scatters."""
    label = f"{place.key.replace('_', ' ')} {place.sub}".strip()
    label += f" of {place.part or place.table}"
    now = figure_at(project.head, project.parts, place)
    value, sigma, known = None, 0.0, "guess"
    if now is not None:
        known = now.known
        if now.dimension == "length" and not now.stated and place.key != "balance":
            known = project.head.lengths
        value, sigma = now.value, defaults.sigma_of(place.key, now, known)
    elif place.table:
        figure = given_as(project.head, place.table, place.key)
        if figure is not None:
            value, sigma, known = figure.value, figure.sigma, figure.known
    elif place.key == DROPPED:
        value, sigma = _canopy(project, place).drag_coefficient, defaults.DRAG_COEFFICIENT_SIGMA
    if place.dimension not in _ANOTHER:
        return Before(label, place.dimension, value, sigma, known)
    kind = defaults.kind_of(place.key, place.dimension)
    usual, guess = (defaults.spread_of(kind, 1.0, how) for how in ("measured", "guess"))
    return Before(
        label=label,
        dimension=place.dimension,
        value=value,
        sigma=sigma,
        known=known,
        usual=usual,
        guess=guess,
    )


def _canopy(project: Project, place: Place) -> Canopy:
    rocket = build_rocket(project.head, project.parts, {})
    return next(p for p in rocket.of_kind(Canopy) if p.name == place.part)


def _dropped(project: Project, place: Place, number: int, readings: Readings) -> None:
    """Drag coefficients from a drop: time over a height, or the speed itself."""
    row = project.weighings.reading[number]
    assert row.hung is not None
    area = cloth_area_m2(_canopy(project, place))
    air, wide = AIR_KG_M3
    if row.air is not None:
        air, wide = row.air.value, defaults.sigma_of("air", row.air, "measured") / row.air.value
    shared = {f"air {number}": wide}
    shared[f"hung {number}"] = defaults.sigma_of("mass", row.hung, "measured") / row.hung.value
    if row.height is not None:
        tall = defaults.sigma_of("height", row.height, "measured") / row.height.value
        shared[f"height {number}"] = 2.0 * tall
    for text in row.read:
        shown = parse(text, "time" if row.height is not None else "speed", "measured")
        speed = shown.value if row.height is None else row.height.value / shown.value
        value = float(dropped_drag_area_m2(row.hung.value, speed, air)) / area
        if row.instrument:
            shared[row.instrument] = 2.0 * calibration(project, row.instrument)
        error = error_of(row, shown) or defaults.sigma_of("read", shown, "measured")
        own = 2.0 * value * error / shown.value
        readings.add(path_of(number), value, own, {k: value * share for k, share in shared.items()})
