"""Lines of the cut list and of what to buy, in words."""

from collections.abc import Sequence
from typing import Final

from goodflight.outputs.bench.dimension_lines import figure, limits
from goodflight.outputs.figures import LIGHT_UNIT, SIZE_UNIT_NAME
from goodflight.quantity import show
from goodflight.studies.bench.cutlist import Buy, CutList, sized
from goodflight.studies.bench.fits import Fit
from goodflight.studies.lists.step import BLANK

FITS: Final = ("part", "into", "outside", "bore", "fit")


def fit_note(units: str) -> str:
    """What the figures of the fits are, and their unit."""
    return (
        f"Outside as drawn with its limits, and bore, in {SIZE_UNIT_NAME[units]}; limits: common "
        "practice, no source."
    )


def fit_rows(cuts: CutList, units: str) -> list[tuple[str, ...]]:
    """What goes into what along the body, a row of FITS for each."""
    return [
        (x.name, x.into, _outside(x, units), size_words(x.bore_m, units), x.how.told(units))
        for x in cuts.fits
    ]


def _outside(fit: Fit, units: str) -> str:
    """`dia. 75.8 +0.1 -0.2`."""
    return f"dia. {size_words(fit.outside_m, units)}{limits(fit.limits_m, units)}"


def size_words(value_m: float | None, units: str) -> str:
    """A length of a table without its unit: tenths of a millimetre, or inches; empty for none."""
    if value_m is None:
        return ""
    return f"{1e3 * value_m:.1f}" if units == "metric" else figure(value_m, units)


def bought(what: str, sizes_m: Sequence[float], units: str) -> str:
    """What to buy or to cut from, with its sizes in the units of the sheet."""
    if units == "metric":
        return sized(what, [f"{1e3 * size:.4g}" for size in sizes_m], "mm")
    return sized(what, [figure(size, units) for size in sizes_m], "in")


def amount(value: float, unit: str, units: str = "metric") -> str:
    """How much to buy, as one says it: "1.04 m", "1 panel", "2"."""
    if unit == "m":
        return show(value, "length", unit="ft") if units == "imperial" else f"{value:.2f} m"
    if value <= 0.0:
        return f"{BLANK} {LIGHT_UNIT[units] if unit == 'kg' else unit}"
    if unit == "kg":
        return show(value, "mass", unit=LIGHT_UNIT[units], digits=3)
    panels = "panel" if value == 1.0 else "panels"
    return f"{value:.0f} {panels}" if unit == "sheets" else f"{value:.0f}"


def bought_line(buy: Buy, units: str) -> tuple[str, str, str]:
    """How much of what to buy, and what for."""
    told = bought(buy.what, buy.sizes_m, units)
    return amount(buy.amount, buy.unit, units), told, buy.why.told(units)


def total(cuts: CutList) -> str:
    """What the lines with a price come to, and how many have none."""
    cost, known = cuts.cost
    if not known:
        return "No price is entered yet: [[bench.price]] of build.toml takes them (of, each)."
    money = f" {cuts.money}" if cuts.money else ""
    left = len(cuts.buys) - known
    return f"{known} lines with your prices: {cost:.2f}{money}; lines without one: {left}."
