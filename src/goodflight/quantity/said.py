"""Sentences whose figures are told in the units of whoever reads them."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final, Self

from goodflight.quantity.showing import brief, show
from goodflight.quantity.units import DIMENSIONS, Unit

_MARK: Final = re.compile(r"\[\[([0-9±][^\[\]|]*)(?:\|([^\[\]|]*))?\]\]")
_NUMBER: Final = re.compile(r"[0-9]+(?:\.[0-9]+)?")
FEWEST_DIGITS: Final = 2  # of a figure that is told in another unit than it was written in


@dataclass(frozen=True)
class Said:
    """A sentence that names figures, each as {name}, told in the units of whoever reads it.

    figures : name -> (value in SI, dimension).
    imperial : the whole sentence in inches and pounds, where its figures are round in both.
    home : "file:key" of what it speaks of, for whoever edits files; a page links to its box.
    """

    text: str
    figures: Mapping[str, tuple[float, str]] = field(default_factory=dict)
    imperial: str = ""
    home: str = ""

    def told(self, units: str = "metric") -> str:
        """The sentence with its figures: "use the 3 m rail"."""
        if self.imperial and units == "imperial":
            return self.imperial
        shown = {name: brief(value, kind, units) for name, (value, kind) in self.figures.items()}
        return self.text.format(**shown)

    def __str__(self) -> str:
        return self.told()


class Convertible(str):
    """A sentence of metric figures, each written as [[20 m/s]] or [[15 to 17 m/s]].

    To whoever takes it as text it is the metric sentence; `told` gives the reader's units. Where a
    rounded figure reads better both are written: [[4 g|1/8 oz]]. Text laid around it loses
    that, save in another `Convertible` of its `marked`.
    """

    marked: str

    def __new__(cls, marked: str) -> Self:
        """The metric sentence, which keeps what was marked in it."""
        made = super().__new__(cls, _MARK.sub(r"\1", marked))
        made.marked = marked
        return made

    def __getnewargs__(self) -> tuple[str]:
        """What a copy is made of."""
        return (self.marked,)

    def told(self, units: str = "metric") -> str:
        """The sentence with its figures: "safe up to 66 ft/s"."""
        return _MARK.sub(_imperial, self.marked) if units == "imperial" else str(self)


def _imperial(mark: re.Match[str]) -> str:
    metric, imperial = mark.groups()
    if imperial is not None:
        return imperial
    numbers = _NUMBER.findall(metric)
    dimension, unit = _unit_of(metric[metric.rindex(numbers[-1]) + len(numbers[-1]) :].strip())
    values = [float(each) * unit.scale + unit.offset for each in numbers]
    symbol = show(max(values), dimension, "imperial").partition(" ")[2]

    def shown(number: str) -> str:
        digits = max(FEWEST_DIGITS, len(number.replace(".", "").lstrip("0")))
        value = float(number) * unit.scale + unit.offset
        wanted = symbol.replace("°", "deg")
        text = show(value, dimension, digits=digits, unit=wanted).partition(" ")[0]
        return text.rstrip("0").rstrip(".") if "." in text else text

    before = metric[: metric.rindex(numbers[-1])]
    return f"{_NUMBER.sub(lambda each: shown(each[0]), before)}{shown(numbers[-1])} {symbol}"


def _unit_of(symbol: str) -> tuple[str, Unit]:
    """The first dimension that has the unit, and the unit."""
    for dimension in DIMENSIONS.values():
        unit = dimension.unit(symbol)
        if unit is not None:
            return dimension.name, unit
    raise ValueError(f"{symbol!r} is no unit")


def both(value: float, dimension: str, metric: str) -> str:
    """A figure as part of what a `Convertible` is made of: in metric as it is written there."""
    return f"[[{metric}|{brief(value, dimension, 'imperial')}]]"


def marked(words: str) -> str:
    """Words as part of what a `Convertible` is made of."""
    return words.marked if isinstance(words, Convertible) else words


def said(text: str, **figures: tuple[float, str]) -> Said:
    """A sentence with its figures: said("use the {length} rail", length=(3.0, "length"))."""
    return Said(text, figures)


def either(metric: str, imperial: str) -> Said:
    """Words with round figures of either system: either("like 150 m", "like 500 ft")."""
    return Said(literal(metric), imperial=imperial)


Words = str | Said  # the same with or without figures


def placed(words: Words, units: str = "metric") -> str:
    """The same, with what is to be edited behind it: "2 mm of play (part[ring].bore in x.toml)"."""
    sentence = told(words, units)
    if not isinstance(words, Said) or not words.home:
        return sentence
    file, _, key = words.home.partition(":")
    return f"{sentence} ({key} in {file})"


def told(words: Words, units: str = "metric") -> str:
    """Words as they are, or a sentence with its figures in the units of the reader."""
    return words.told(units) if isinstance(words, (Said, Convertible)) else words


def literal(text: str) -> str:
    """The text as part of a `Said`, whose figures stand in braces."""
    return text.replace("{", "{{").replace("}", "}}")
