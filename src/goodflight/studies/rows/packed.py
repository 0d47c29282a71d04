"""How long the packed gear is in each flight: as rolled again, and as heavy as it was drawn."""

from collections.abc import Iterator
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.recovery.packing import DEFAULT_DENSITY_KG_M3
from goodflight.physics.sources import Constant
from goodflight.studies.case.planned import Case
from goodflight.studies.packing import Piece, Stack, stack_of
from goodflight.studies.rows.model import View
from goodflight.studies.sampling import airframe, recovery

Array = NDArray[np.float64]
DENSITY: Final = {
    "density": Constant(
        DEFAULT_DENSITY_KG_M3, "density", "practice", note="folded and rolled, loose in the tube"
    )
}
STACK = (recovery.pack_room, airframe.mass)  # what the length of a stack needs


def stack_m(view: View, stack: Stack) -> Array:
    """Length of a stack in each flight, (n,) [m]."""
    masses = ((each.name, view.given(airframe.mass, each.name)) for each in stack.pieces)
    drawn = {name: kg for name, kg in masses if kg is not None}
    return stack.drawn_m(view.of(recovery.pack_room), drawn)


def piece_m(view: View, piece: Piece) -> Array:
    """Length of one piece in each flight, by the mass that was drawn, (n,) [m]."""
    drawn = view.given(airframe.mass, piece.name)
    return piece.drawn_m(drawn) if drawn is not None else np.full(view.count, piece.length_m)


def packed(case: Case, main: bool = False) -> Iterator[str]:
    """Names of what lies with a canopy and whose packed length goes by its mass."""
    stack = stack_of(case, main)
    if isinstance(stack, Stack):
        yield from (each.name for each in stack.pieces if each.by_mass_kg > 0.0)


def packed_main(case: Case) -> Iterator[str]:
    """The same of the main canopy."""
    return packed(case, main=True)
