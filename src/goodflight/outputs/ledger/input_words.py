"""The inputs of a row in words: value with its spread, and why it scatters so much."""

from collections.abc import Sequence
from typing import Final

from goodflight.outputs.words import weigh_command
from goodflight.quantity import show, show_spread
from goodflight.quantity.said import Convertible, marked
from goodflight.studies.results import Entry, Input

CHOICES: Final = 8  # that a line names


def value(item: Input, units: str = "metric") -> str:
    """Value and one standard deviation; the spread alone of a factor or an error."""
    if item.share:
        return f"±{100 * item.sigma:.0f} %"
    if item.dimension == "ratio":
        spread = f"±{item.sigma:.2g}"
        return spread if not item.value else f"{item.value:.3g} {spread}"
    if item.value is None and item.dimension == "calibre":
        return f"±{item.sigma:.2g} cal"
    if item.value is None:
        return f"±{show(item.sigma, item.dimension, units)}"
    return show_spread(item.value, item.sigma, item.dimension, units)


def reason(item: Input) -> str:
    """Why it scatters so much and what that stands on; empty where the project says it."""
    return Convertible(f"{marked(item.reason)}; {item.source}") if item.reason else ""


def with_homes(advice: str, asks: Sequence[Entry]) -> str:
    """What to do, and where that is written: the page has a box instead."""
    written = [_home(each) for each in asks if each.kind != "part"]
    if not written:
        return advice
    more = f" and {len(written) - 1} more, see --why" if len(written) > 1 else ""
    return f"{advice} ({written[0]}{more})"


def _home(entry: Entry) -> str:
    """Where an entry is written, or the command that enters it."""
    if entry.kind == "weighing":
        return weigh_command(entry.choices[0][0])
    return f"{entry.place} in {entry.file}"


def asked(entry: Entry) -> str:
    """Something to enter: where it goes, what may stand there, how it is measured."""
    home = f"{entry.label}: {_home(entry)}"
    if entry.kind == "choice":
        home += f" = {' | '.join(text for text, _ in entry.choices[:CHOICES])}"
    if entry.kind == "part":
        home = f"{entry.label}: a [[part]] of kind {entry.choices[0][0]} in {entry.file}"
    if entry.minutes is None:
        return f"{home}; {entry.how}"
    return f"{home}; {entry.how} ({entry.instrument}, {entry.minutes:g} min)"
