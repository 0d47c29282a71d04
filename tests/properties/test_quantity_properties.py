"""Quantities against an independent unit library (pint), and round trips of text and value."""

import math
from fractions import Fraction

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from goodflight.quantity import DIMENSIONS, QuantityError, parse, show, show_spread, write

REGISTRY: pint.UnitRegistry = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)

# our spelling -> theirs, where they differ; None = they have no such unit
THEIRS: dict[str, str | None] = {
    "in": "inch", "mil": "thou", "um": "micrometer", "yd": "yard", "mi": "mile", "ft": "foot",
    "oz": "ounce", "lb": "pound", "gr": "grain", "d": "day", "h": "hour", "min": "minute",
    "mph": "mile/hour", "kt": "knot", "ft/s": "foot/second", "gee": "standard_gravity",
    "m/s2": "m/s**2", "ft/s2": "foot/s**2", "deg": "degree", "rad": "radian", "turn": "turn",
    "deg/s": "degree/s", "rad/s": "radian/s", "turn/s": "turn/s", "rpm": "turn/minute",
    "lbf": "force_pound", "ozf": "force_ounce", "kgf": "force_kilogram", "mbar": "millibar",
    "inHg": None, "atm": "atmosphere", "degC": "degC", "degF": "degF", "K": "kelvin",
    "mm2": "mm**2", "cm2": "cm**2", "m2": "m**2", "in2": "inch**2", "ft2": "foot**2",
    "mm3": "mm**3", "cm3": "cm**3", "m3": "m**3", "in3": "inch**3", "ft3": "foot**3",
    "mL": "milliliter", "L": "liter", "kg/m3": "kg/m**3", "g/cm3": "g/cm**3",
    "lb/ft3": "pound/foot**3", "oz/in3": "ounce/inch**3", "g/m2": "g/m**2", "kg/m2": "kg/m**2",
    "oz/yd2": "ounce/yard**2", "oz/ft2": "ounce/foot**2", "ft lbf": "foot*force_pound",
    "N s": "N*s", "lbf s": "force_pound*s", "N m": "N*m", "lbf ft": "force_pound*foot",
    "lbf in": "force_pound*inch", "kg m2": "kg*m**2", "g cm2": "g*cm**2",
    "lb ft2": "pound*foot**2", "lb in2": "pound*inch**2", "cal": None, "": None, "%": "percent",
}  # fmt: skip
SI = {
    "length": "m", "size": "m", "mass": "kg", "powder": "kg", "time": "s", "speed": "m/s",
    "wind": "m/s", "acceleration": "m/s**2",
    "angle": "radian", "angular_rate": "radian/s", "force": "N", "pressure": "Pa",
    "temperature": "kelvin", "area": "m**2", "volume": "m**3", "density": "kg/m**3",
    "area_density": "kg/m**2", "energy": "J", "impulse": "N*s", "moment": "N*m",
    "inertia": "kg*m**2", "frequency": "Hz", "power": "W", "ratio": "dimensionless",
}  # fmt: skip
PAIRS = [
    (name, unit.symbol)
    for name, kind in DIMENSIONS.items()
    for unit in kind.units
    if THEIRS.get(unit.symbol, unit.symbol) is not None
]
NUMBERS = st.decimals(
    min_value=-10000, max_value=10000, places=3, allow_nan=False, allow_infinity=False
)
POSITIVE = st.decimals(min_value="0.001", max_value=10000, places=3)


@pytest.mark.parametrize(("dimension", "unit"), PAIRS)
@settings(max_examples=25)
@given(number=NUMBERS)
def test_every_unit_agrees_with_an_independent_library(
    dimension: str, unit: str, number: object
) -> None:
    theirs = REGISTRY.Quantity(float(str(number)), THEIRS.get(unit, unit))
    si = theirs.to(SI[dimension]).magnitude
    if dimension == "temperature" and si < 0:
        with pytest.raises(QuantityError):
            parse(f"{number} {unit}", dimension)
        return
    ours = parse(f"{number} {unit}", dimension).value
    assert ours == pytest.approx(si, rel=1e-11, abs=1e-11)


def test_the_inch_of_mercury_is_the_conventional_one() -> None:
    """3386.389 Pa (NIST SP 811, memory); an ideal column at 0 degC is within 1e-5 of it."""
    column = 0.0254 * 13595.1 * 9.80665
    assert parse("1 inHg", "pressure").value == pytest.approx(column, rel=1e-5)


@given(
    whole=st.integers(0, 200),
    part=st.sampled_from([(n, d) for d in (2, 4, 8, 16, 32, 64) for n in range(1, d)]),
    minus=st.sampled_from(["", "-", "−"]),
)
def test_fractions(whole: int, part: tuple[int, int], minus: str) -> None:
    upper, lower = part
    text = f"{minus}{whole} {upper}/{lower} in" if whole else f"{minus}{upper}/{lower} in"
    exact = (whole + Fraction(upper, lower)) * Fraction("0.0254")
    assert parse(text, "length").value == float(-exact if minus else exact)


@settings(max_examples=25)
@given(value=POSITIVE, spread=POSITIVE, known=st.sampled_from(["guess", "label", "measured"]))
@pytest.mark.parametrize(("dimension", "unit"), [p for p in PAIRS if p[0] != "count"])
def test_what_is_written_is_read_again(
    dimension: str, unit: str, value: object, spread: object, known: str
) -> None:
    first = parse(f"{value} {unit} ± {spread} {unit} {known}", dimension)
    text = write(first.value, dimension, unit, first.sigma, first.known, digits=12)
    again = parse(text, dimension)
    assert again.value == pytest.approx(first.value, rel=1e-11)
    assert again.sigma == pytest.approx(first.sigma, rel=6e-3)
    assert again.known == known


@given(
    value=st.floats(1e-3, 1e5),
    dimension=st.sampled_from(sorted(set(DIMENSIONS) - {"count"})),
    system=st.sampled_from(["metric", "imperial"]),
)
def test_what_is_shown_is_read_again(value: float, dimension: str, system: str) -> None:
    """Shown with three digits (temperatures to a tenth of a degree), so read back within 0.6 %."""
    again = parse(show(value, dimension, system), dimension).value
    slack = 0.06 if dimension == "temperature" else 0.0
    assert again == pytest.approx(value, rel=6e-3, abs=slack)


@given(value=st.floats(-1e4, 1e4), sigma=st.floats(1e-3, 1e3))
def test_a_shown_spread_is_rounded_by_no_more_than_a_third_of_it(
    value: float, sigma: float
) -> None:
    text = show_spread(value, sigma, "force")
    again = parse(text, "force")
    assert again.sigma == pytest.approx(sigma, rel=0.34)
    assert abs(again.value - value) <= 0.34 * sigma + 1e-9


@given(text=st.text(max_size=30), dimension=st.sampled_from(sorted(DIMENSIONS)))
def test_any_text_is_read_or_refused_never_anything_else(text: str, dimension: str) -> None:
    try:
        quantity = parse(text, dimension)
    except QuantityError as error:
        assert error.advice
        return
    assert math.isfinite(quantity.value)


@given(whole=st.integers(0, 99999), part=st.integers(0, 99999))
def test_a_comma_is_never_read(whole: int, part: int) -> None:
    with pytest.raises(QuantityError, match="comma"):
        parse(f"{whole},{part} g", "mass")
