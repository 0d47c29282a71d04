"""The lines of a pasted thrust table: rows, comments, words; and the figures that words state.

A comment stands anywhere: a line, or the end of a row, behind one of `MARKS`. Unmarked words stand
before the first row and after the last; a number in them needs a word before and a unit behind it,
so that no row is taken for words.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from goodflight.quantity import QuantityError, parse

LONGEST_ROW = 200  # characters of two numbers; a longer line is none, and would be slow to match
MARKS: Final = ("#", ";", "//", "%", '"', "'")
_NUMBER = r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
_NO_FIGURE = r"(?!\s*[-+.0-9;,])"  # else a third column would pass for a comment
_TAIL = rf"\s*[,;]?\s*((?:#|//|%|[;\"']{_NO_FIGURE}).*)?$"
_ROW = re.compile(rf"^\s*({_NUMBER})\s*(?:[,;\t]|\s)\s*({_NUMBER}){_TAIL}")
_COMMA = re.compile(rf"^\s*[0-9]+,[0-9]+\s*[;\t ]\s*[0-9]+(?:,[0-9]+)?{_TAIL}")
_LIKE_ROW = re.compile(rf"^[\s;]*{_NUMBER}\s*[,;\t\s]\s*{_NUMBER}\s*(?:[,;]|$)")
_FIGURE = re.compile(
    rf"([A-Za-z][A-Za-z _-]*?)\s*[:=]?\s*({_NUMBER})\s*((?:N|lbf)\s?s|[A-Za-z]+|%)(?![\w/])"
)
_DELAY = re.compile(
    rf"\b(delays?)\s*[:=]?\s*({_NUMBER}(?:\s*(?:-|,|/|\bto\b|\bor\b)\s*[0-9]+(?:\.[0-9]+)?)*)"
    r"\s*(?:s|sec|seconds?)?(?![\w./-])",
    re.IGNORECASE,
)
_BARE = re.compile(r"(?<![\w-])[+-]?\.?[0-9]|\b(?:nan|inf)\b", re.IGNORECASE)
_OF_A_ROW: Final = ("time", "thrust", "force")  # "time 0.1 s, thrust 200 N" is a row in words
_MASS, _SIZE = ("", " mass", " weight"), ("", "motor ", "case ", "casing ")
LABELS: Final[Mapping[str, tuple[str, str]]] = {
    **{each + "diameter": ("diameter", "length") for each in (*_SIZE, "outside ")},
    **{each + "length": ("length", "length") for each in _SIZE},
    **{"propellant" + each: ("propellant", "mass") for each in _MASS},
    "mass of propellant": ("propellant", "mass"),
    **{"loaded" + each: ("loaded", "mass") for each in _MASS},
    "mass ready to fly": ("loaded", "mass"),
    "impulse": ("impulse", "impulse"), "total impulse": ("impulse", "impulse"),
}  # fmt: skip


@dataclass(frozen=True)
class Line:
    """What one line is: a row, a remark, or what was wanted where it is neither."""

    row: tuple[str, str] | None = None
    remark: str = ""
    marked: bool = False
    wanted: str = ""
    advice: str = ""


def line_of(text: str) -> Line:
    """Say what one line of a thrust table is, by itself."""
    bare = text.strip()
    marked = bare.startswith(MARKS)
    plain = re.sub("[\"']", "", bare) if bare[:1] in ('"', "'") else bare
    if len(text) <= LONGEST_ROW:
        for each in (bare, plain):
            if match := _ROW.match(each):
                return Line(row=(match[1], match[2]), remark=match[3] or "", marked=True)
            if _COMMA.match(each):
                return Line(wanted="decimals with a point", advice="write 0.12 and not 0,12")
        columns = bare[:1] in (";", '"', "'") and (";" in bare[1:] or plain != bare)
        if marked and not (columns and _LIKE_ROW.match(plain)):
            return Line(remark=bare, marked=True)
        if not marked and _readable(bare):
            return Line(remark=bare)
    elif marked:
        return Line(remark=bare, marked=True)
    advice = "correct or remove this line, or put # before a remark"
    return Line(wanted="two numbers, time and thrust", advice=advice)


def _readable(text: str) -> bool:
    """Whether a line is words, each number in it with its word and its unit."""
    if any(_label(match[1]) in _OF_A_ROW for match in _FIGURE.finditer(text)):
        return False
    rest = without_figures(text)
    return not _BARE.search(rest) and bool(re.search("[A-Za-z]", text))


def without_figures(text: str) -> str:
    """Return the words of a line without the figures it states, and their units."""
    return _FIGURE.sub(lambda match: match[1] + " ", _DELAY.sub("delay ", text[:LONGEST_ROW]))


def _label(text: str) -> str:
    return " ".join(re.sub("[_-]", " ", text).lower().split())


def stated(remarks: Sequence[str]) -> dict[str, str]:
    """Return the figures of a motor's head that remarks state in plain words with units.

    Parameters
    ----------
    remarks : sequence - lines like "propellant 92 g, delays 6-10". [-]

    Returns
    -------
    found : dict - text by key of the head; what is said in two ways is left out. [-]
    """
    found = dict[str, set[str]]()
    for remark in remarks:
        text = remark[:LONGEST_ROW]
        for match in _FIGURE.finditer(text):
            key, dimension = LABELS.get(_label(match[1]), ("", ""))
            unit = re.sub(r"^(N|lbf)\s?s$", r"\1 s", match[3])
            if key and _above_0(value := f"{match[2]} {unit}", dimension):
                found.setdefault(key, set()).add(value)
        for match in _DELAY.finditer(text):
            for key, value in _delays(match[2]).items():
                found.setdefault(key, set()).add(value)
    return {key: values.pop() for key, values in found.items() if len(values) == 1}


def _above_0(text: str, dimension: str) -> bool:
    try:
        return parse(text, dimension).value > 0.0
    except QuantityError:
        return False


def _delays(text: str) -> dict[str, str]:
    """Return the longest delay, and what the shorter ones take out of it."""
    seconds = sorted({float(each) for each in re.findall(r"[0-9]+(?:\.[0-9]+)?", text)})
    if seconds[-1] <= 0.0:
        return {}
    out = [f"{round(seconds[-1] - each, 3):g} s" for each in reversed(seconds[:-1])]
    found = {"delay": f"{seconds[-1]:g} s"}
    return found | ({"delay_out_allowed": ", ".join(out)} if out else {})
