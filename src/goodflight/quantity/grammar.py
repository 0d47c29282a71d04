"""The strict grammar of quantities: `212 g ± 5 g measured`, `1 1/2 in`, `-3 degC`, `15 mph ± 10 %`.

    quantity := number [unit] [ ("±" | "+-" | "+/-") number [unit | "%"] ] [known]
    number   := [sign] (decimal | fraction | integer fraction)
    known    := "guess" | "label" | "measured" | "flight"

What can be read in two ways is refused: decimal commas, thousands separators, a missing unit,
a unit of another kind. "±" is one standard deviation, always.
"""

import re
from dataclasses import dataclass
from difflib import get_close_matches
from fractions import Fraction
from functools import lru_cache
from typing import Final, NoReturn

from goodflight.quantity.refusal import Refused
from goodflight.quantity.showing import show
from goodflight.quantity.units import Dimension, Unit, dimension_of, dimensions_with

KNOWN: Final = ("guess", "label", "measured", "flight")
LONGEST: Final = 120  # characters of one quantity


@dataclass(frozen=True)
class Quantity:
    """A value in SI with its spread, how it is known, and what the builder wrote.

    `sigma` is one standard deviation in SI, None when none was stated. `unit` is the symbol of
    the unit written, `stated` says whether the text itself named how the value is known.
    """

    value: float
    sigma: float | None
    known: str
    unit: str
    text: str
    dimension: str = ""
    stated: bool = False


class QuantityError(Refused, ValueError):
    """A text that is no quantity of the wanted kind: what was found, expected, and what to do."""


_DECIMAL: Final = r"(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
_NUMBER: Final = rf"[+-]?(?:[0-9]+ +[0-9]+/[0-9]+|[0-9]+/[0-9]+|{_DECIMAL})"
_START: Final = re.compile(rf"({_NUMBER})(?![0-9.,'_/])")
_MINUS: Final = str.maketrans({"−": "-", "–": "-", "\u00a0": " ", "\u202f": " ", "\u2009": " "})
_EIGHTHS: Final = ("1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8")
_VULGAR: Final = dict(zip("⅛¼⅜½⅝¾⅞", _EIGHTHS, strict=True))
_COMMA: Final = re.compile(r"([0-9]+),([0-9]+)")
_GROUPED: Final = re.compile(r"[0-9]{1,3}(?:[ '_][0-9]{3})+(?![0-9/])")

_EXAMPLE: Final = {
    "length": "12.5 mm or 1 1/2 in",
    "size": "12.5 mm or 1 1/2 in",
    "mass": "212 g or 7.5 oz",
    "powder": "1.2 g",
    "time": "8 s",
    "speed": "3.5 m/s or 8 mph",
    "wind": "4.5 m/s or 10 mph",
    "acceleration": "9.8 m/s2",
    "angle": "3 deg",
    "angular_rate": "90 deg/s",
    "force": "105 N or 24 lbf",
    "pressure": "1013 hPa or 29.9 inHg",
    "temperature": "9 degC or 48 degF",
    "area": "25 cm2 or 4 in2",
    "volume": "0.9 L or 55 in3",
    "density": "680 kg/m3",
    "area_density": "48 g/m2 or 1.4 oz/yd2",
    "energy": "20 J",
    "impulse": "256 N s",
    "moment": "1.2 N m",
    "inertia": "0.22 kg m2",
    "frequency": "50 Hz",
    "power": "2 W",
    "calibre": "1.5 cal",
    "ratio": "0.75 or 8 %",
    "count": "3",
}


@lru_cache(maxsize=4096)
def parse(text: str, dimension: str, default_known: str = "guess") -> Quantity:
    """Read one quantity of a given kind from a builder's text.

    The only way in for numbers with units; anything ambiguous is refused, never guessed.

    Parameters
    ----------
    text : str - what the builder wrote, e.g. "212 g ± 5 g measured". [-]
    dimension : str - the wanted kind, e.g. "mass". [-]
    default_known : str - how it is known when the text does not say. [-]

    Returns
    -------
    quantity : Quantity - value and spread in SI; spread None when none is stated. [SI]

    Raises
    ------
    QuantityError - the text is no quantity of that kind.

    Validity
    --------
    Finite decimal numbers and fractions; others are refused.

    Example
    -------
    >>> parse("1 1/2 in", "length").value
    0.0381
    """
    kind = dimension_of(dimension)
    line = _plain(text, kind)
    known, rest, stated = _known(line, default_known)
    head, mark, tail = _split_spread(rest, kind)
    number, unit_text = _number(head, kind)
    unit = _unit(unit_text, number, kind)
    value = _si(number, unit)
    sigma = _spread(tail, number, unit, unit_text, kind) if mark else None
    if dimension == "temperature" and value < 0:
        _refuse(head, kind, "this is below absolute zero; check the sign and the unit")
    return Quantity(
        value=value,
        sigma=sigma,
        known=known,
        unit=unit.symbol,
        text=text,
        dimension=dimension,
        stated=stated,
    )


def expected(dimension: str) -> str:
    """Return the sentence part that says what a quantity of this kind looks like.

    Parameters
        dimension : str - e.g. "mass". [-]
    Returns
        words : str - e.g. "a mass like 212 g or 7.5 oz". [-]
    """
    kind = dimension_of(dimension)
    name = kind.name.replace("_", " ")
    article = "an" if name[0] in "aei" else "a"
    return f"{article} {name} like {_EXAMPLE[kind.name]}"


def _refuse(found: str, kind: Dimension, advice: str) -> NoReturn:
    raise QuantityError(f'"{found.strip()}"', expected(kind.name), advice)


def _plain(text: str, kind: Dimension) -> str:
    if len(text) > LONGEST:
        _refuse(text[:40] + "...", kind, f"keep it under {LONGEST} characters")
    line = text.translate(_MINUS)
    for sign, fraction in _VULGAR.items():
        line = re.sub(rf"([0-9]) ?{sign}", rf"\g<1> {fraction}", line).replace(sign, fraction)
    line = line.replace("+/-", "±").replace("+-", "±").strip()
    if not line:
        _refuse(text, kind, f"write {_EXAMPLE[kind.name]}")
    comma = _COMMA.search(line)
    if comma:
        _refuse_comma(text, comma[1], comma[2], kind)
    grouped = _GROUPED.search(line)
    if grouped:
        joined = re.sub(r"[ '_]", "", grouped[0])
        _refuse(text, kind, f"write the number without separators: {joined}")
    if re.search(r"\b(nan|inf|infinity)\b", line, re.IGNORECASE):
        _refuse(text, kind, "write a number; leave the key out if it is not known")
    return line


def _refuse_comma(text: str, whole: str, part: str, kind: Dimension) -> NoReturn:
    if len(part) == 3 and whole.lstrip("0"):
        advice = f"write {whole}.{part} for a decimal or {whole}{part} for thousands, no comma"
    else:
        advice = f"write {whole}.{part} with a decimal point, not a comma"
    _refuse(text, kind, advice)


def _known(line: str, default_known: str) -> tuple[str, str, bool]:
    match = re.search(r"[ ,;(]+([a-z]+)\)?$", line)
    if match and match[1] in KNOWN:
        return match[1], line[: match.start()].strip(), True
    return default_known, line, False


def _split_spread(rest: str, kind: Dimension) -> tuple[str, bool, str]:
    head, mark, tail = rest.partition("±")
    if "±" in tail:
        _refuse(rest, kind, "write one ± only")
    return head.strip(), bool(mark), tail.strip()


def _number(text: str, kind: Dimension) -> tuple[Fraction, str]:
    match = _START.match(text)
    if match is None:
        _refuse(text, kind, f"begin with a number, then the unit: {_EXAMPLE[kind.name]}")
    number = _exact(match[1], text, kind)
    unit = text[match.end() :].strip()
    if re.match(r"[0-9]|-[0-9]+/", unit):
        _refuse(text, kind, "write one number with one unit (a fraction as 1 1/2 in)")
    return number, unit


def _exact(digits: str, text: str, kind: Dimension) -> Fraction:
    if "/" in digits:
        sign = -1 if digits.startswith("-") else 1
        try:
            parts = [Fraction(part) for part in digits.lstrip("+-").split()]
        except ZeroDivisionError:
            _refuse(text, kind, "a fraction needs a lower number other than 0")
        return sign * sum(parts, Fraction(0))
    size = abs(float(digits))
    if size > 1e30:
        _refuse(text, kind, "the number is too large")
    if size < 1e-30:
        if re.search("[1-9]", digits.lower().split("e")[0]):
            _refuse(text, kind, "the number is too small; write 0 or use a smaller unit")
        return Fraction(0)
    return Fraction(digits)


def _unit(text: str, number: Fraction, kind: Dimension) -> Unit:
    if not text and not kind.bare:
        shown = _plain_number(number)
        first = kind.units[0]
        size = float(number) * first.scale + first.offset
        other = show(size, kind.name, "imperial").partition(" ")[2]
        example = f"[[{shown} {first.symbol}|{shown} {other}]]"
        _refuse(shown, kind, f"add the unit, for example {example}")
    if not text:
        return kind.units[0]
    spelt = " ".join(text.split())
    unit = kind.unit(spelt)
    if unit is not None:
        return unit
    _refuse_unit(spelt, number, kind)


def _refuse_unit(spelt: str, number: Fraction, kind: Dimension) -> NoReturn:
    shown = f"{_plain_number(number)} {spelt}"
    symbols = [unit.symbol for unit in kind.units if unit.symbol]
    allowed = f"units here: {', '.join(symbols)}" if symbols else "no unit belongs here"
    force = kind.unit(spelt + "f")
    if force is not None:
        _refuse(shown, kind, f'"{spelt}" is a mass; write {spelt}f for a force')
    others = dimensions_with(spelt)
    if others:
        other = others[0].replace("_", " ")
        article = "an" if other[0] in "aei" else "a"
        _refuse(shown, kind, f'"{spelt}" is the unit of {article} {other}; {allowed}')
    spellings = {word.lower(): word for u in kind.units for word in (u.symbol, *u.also) if word}
    close = get_close_matches(spelt.lower(), list(spellings), n=1, cutoff=0.6)
    if close:
        _refuse(
            shown, kind, f'the unit "{spelt}" is not known; did you mean {spellings[close[0]]}?'
        )
    _refuse(shown, kind, f'the unit "{spelt}" is not known; {allowed}')


def _spread(tail: str, number: Fraction, unit: Unit, unit_text: str, kind: Dimension) -> float:
    if not tail:
        _refuse("±", kind, "write a number after ±, for example ± 5 %")
    size, size_unit = _number(tail, kind)
    if size < 0:
        _refuse(f"± {tail}", kind, "a spread is never negative; write it without the sign")
    if not size_unit:
        return _difference(size, unit)
    if size_unit == "%" and unit.symbol != "%":
        if unit.offset:
            _refuse(f"± {tail}", kind, f"write the spread in {unit.symbol}, not in per cent")
        if not unit_text:
            plain = f"{float(number) * float(size) / 100:.4g}"
            _refuse(f"± {tail}", kind, f"per cent is unclear here; write ± {plain}")
        return _difference(abs(number) * size / 100, unit)
    return _difference(size, _unit(size_unit, size, kind))


def _si(number: Fraction, unit: Unit) -> float:
    """Turn a number in `unit` into SI with one rounding only."""
    return float(number * Fraction(str(unit.scale)) + Fraction(str(unit.offset)))


def _difference(number: Fraction, unit: Unit) -> float:
    return float(number * Fraction(str(unit.scale)))


def _plain_number(number: Fraction) -> str:
    if number.denominator in (2, 4, 8, 16, 32, 64) and abs(number) < 1000:
        return f"{float(number):.10g}"
    return f"{float(number):g}"
