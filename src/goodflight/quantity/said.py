"""Sentences whose figures are told in the units of whoever reads them."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from goodflight.quantity.showing import brief


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
    return words.told(units) if isinstance(words, Said) else words


def literal(text: str) -> str:
    """The text as part of a `Said`, whose figures stand in braces."""
    return text.replace("{", "{{").replace("}", "}}")
