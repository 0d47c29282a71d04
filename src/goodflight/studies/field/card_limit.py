"""The card's wind to refuse above, in the day board's steps and on flights enough to tell."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

from goodflight.project.day_file import OwnLimitsTable
from goodflight.studies.case.planned import Case
from goodflight.studies.field.checks import forbids
from goodflight.studies.field.grid import Checked, FieldGrid, GridCell, Over, grid_of
from goodflight.studies.field.surer import MORE_FLIGHTS, cannot_tell, first_refused

STEP_M_S: Final = 0.5  # the day board's


@dataclass(frozen=True, eq=False)
class Edge:
    """What is needed to look again at the winds beside the limit.

    best : chooses the cell of a wind.
    """

    case: Case
    limits: OwnLimitsTable | None
    checked: Checked
    best: Callable[[FieldGrid, float], GridCell]


def refused_at(cell: GridCell) -> bool:
    """Whether something known forbids it, whatever the sky."""
    return bool(forbids(cell.forbidden))


def to_half_steps(grid: FieldGrid, edge: Edge) -> FieldGrid:
    """The grid with the half step between the last wind allowed and the first refused."""
    grid, low, high = at_limit(grid, edge)
    if high is None or high - low <= STEP_M_S:
        return grid
    half = grid_of(
        edge.case,
        Over(
            (low + STEP_M_S,),
            delays_s=sorted({cell.delay_out_s for cell in grid.cells}),
            tilts_rad=grid.tilts_rad,
            motors=grid.motors,
        ),
        flights=grid.flights,
        seed=grid.seed,
        checked=edge.checked,
    )
    cells = sorted(
        (*grid.cells, *half.cells), key=lambda c: (grid.motors.index(c.motor), c.wind_m_s)
    )
    winds = tuple(sorted((*grid.winds_m_s, *half.winds_m_s)))
    return at_limit(replace(grid, winds_m_s=winds, cells=tuple(cells)), edge)[0]


def at_limit(grid: FieldGrid, edge: Edge) -> tuple[FieldGrid, float, float | None]:
    """The grid, sure beside the limit; the last wind allowed, 0 = none, and the first refused."""
    winds = sorted(grid.winds_m_s)
    now = grid

    def again(wind: float) -> float:
        nonlocal now
        now = _settled(now, wind, edge)
        return wind

    def bad(wind: float) -> bool:
        return refused_at(edge.best(now, wind))

    start = next((i for i, wind in enumerate(winds) if bad(wind)), len(winds))
    _, at = first_refused(winds, start, bad, again)
    return now, winds[at - 1] if at else 0.0, winds[at] if at < len(winds) else None


def _settled(grid: FieldGrid, wind_m_s: float, edge: Edge) -> FieldGrid:
    """The grid with the best of a wind on more flights, until those tell or another is best."""
    while True:
        best = edge.best(grid, wind_m_s)
        wrong = forbids(best.forbidden)
        if best.flights >= MORE_FLIGHTS or not cannot_tell(best.low, best.high, wrong, edge.limits):
            return grid
        (more,) = grid_of(
            edge.case,
            Over((wind_m_s,), (best.delay_out_s,), (best.tilt_rad,), (best.motor,)),
            flights=MORE_FLIGHTS,
            seed=grid.seed,
            checked=edge.checked,
        ).cells
        grid = replace(grid, cells=tuple(more if each is best else each for each in grid.cells))
