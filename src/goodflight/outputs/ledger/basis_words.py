"""What a row stands on, in words: the formula with its figures, and where each comes from."""

import re
from typing import Final

from goodflight.outputs.figures import figure
from goodflight.quantity.said import told
from goodflight.studies.results import Basis, Figured

NAME: Final = re.compile(r"\{([a-z_0-9]+)\}")


def formula(basis: Basis, units: str = "metric") -> str:
    """The formula with its figures in the reader's units; a figure that is not stated says so."""

    def said(match: re.Match[str]) -> str:
        found = basis.figures.get(match[1])
        return "a figure that is not stated" if found is None else _shown(found.value, found, units)

    return NAME.sub(said, basis.formula)


def sources(basis: Basis, units: str = "metric") -> tuple[str, ...]:
    """Every source of the formula, then every figure in it with its own."""
    figures = (
        f"{_shown(f.value, f, units)}: {told(f.source, units)}" for f in basis.figures.values()
    )
    return (*basis.sources, *dict.fromkeys(figures))


def _shown(value: float, found: Figured, units: str) -> str:
    return figure(value, found.dimension, units)
