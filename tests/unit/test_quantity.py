"""Quantities: what is read, what is refused and why, how values are shown."""

import math
import subprocess
import sys

import pytest

from goodflight.quantity import (
    DIMENSIONS,
    QuantityError,
    expected,
    parse,
    show,
    show_spread,
    write,
)


@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        ("1 1/2 in", "length", 0.0381),
        ("1½ in", "length", 0.0381),
        ("1 ½ in", "length", 0.0381),
        ("1/2 in", "length", 0.0127),
        ("½ in", "length", 0.0127),
        ("-1 1/2 in", "length", -0.0381),
        ("12.5 mm", "length", 0.0125),
        ("12.5mm", "length", 0.0125),
        (".5 in", "length", 0.0127),
        ("1e3 g", "mass", 1.0),
        ("12.5 oz", "mass", 12.5 * 0.45359237 / 16),
        ("15 mph", "speed", 6.7056),
        ("10 kt", "speed", 18520 / 3600),
        ("-3 degC", "temperature", 270.15),
        ("−3 °C", "temperature", 270.15),
        ("32 degF", "temperature", 273.15),
        ("-40 degF", "temperature", 233.15),
        ("230 deg", "angle", math.radians(230)),
        ("29.92 inHg", "pressure", 29.92 * 3386.389),
        ("8 %", "ratio", 0.08),
        ("0.75", "ratio", 0.75),
        ("3", "count", 3.0),
        ("256.9 N s", "impulse", 256.9),
        ("256.9  N  s", "impulse", 256.9),
        ("48 g/m2", "area_density", 0.048),
        ("48 g/m²", "area_density", 0.048),
    ],
)
def test_read(text: str, dimension: str, value: float) -> None:
    """Values by hand from the exact inch, pound, mile, knot and the scales' fixed points."""
    assert parse(text, dimension).value == pytest.approx(value, rel=1e-14)


def test_an_inch_and_a_half_is_exactly_38_1_mm() -> None:
    assert parse("1 1/2 in", "length").value == 0.0381


@pytest.mark.parametrize(
    ("text", "dimension", "sigma"),
    [
        ("212 g ± 5 g", "mass", 0.005),
        ("212 g ± 5", "mass", 0.005),
        ("212 g +- 5 g", "mass", 0.005),
        ("212 g +/- 5 g", "mass", 0.005),
        ("212 g ± 5 %", "mass", 0.0106),
        ("212 g ± 1/2 oz", "mass", 0.45359237 / 32),
        ("1 1/2 in ± 1/16", "length", 0.0254 / 16),
        ("12 degC ± 2", "temperature", 2.0),
        ("12 degC ± 2 K", "temperature", 2.0),
        ("50 degF ± 9", "temperature", 5.0),  # a difference: no offset
        ("8 % ± 1 %", "ratio", 0.01),  # percentage points, the value's own unit
        ("0.75 ± 0.08", "ratio", 0.08),
        ("230 deg ±12", "angle", math.radians(12)),
        ("-3 m ± 10 %", "length", 0.3),
        ("5 g", "mass", None),
    ],
)
def test_spread_is_one_standard_deviation(text: str, dimension: str, sigma: float | None) -> None:
    found = parse(text, dimension).sigma
    assert found == (None if sigma is None else pytest.approx(sigma, rel=1e-12))


def test_how_known() -> None:
    assert parse("5 g", "mass").known == "guess"
    assert parse("5 g", "mass", "label").known == "label"
    assert parse("5 g ± 1 g measured", "mass", "label").known == "measured"
    assert parse("5 g (label)", "mass").known == "label"
    assert not parse("5 g", "mass").stated
    assert parse("5 g guess", "mass").stated


@pytest.mark.parametrize(
    ("text", "dimension", "advice"),
    [
        ("12,5 oz", "mass", "write 12.5 with a decimal point, not a comma"),
        ("0,125 kg", "mass", "write 0.125 with a decimal point, not a comma"),
        ("1,250 g", "mass", "write 1.250 for a decimal or 1250 for thousands, no comma"),
        ("1 250 g", "mass", "write the number without separators: 1250"),
        ("1'250 g", "mass", "write the number without separators: 1250"),
        ("1_250 g", "mass", "write the number without separators: 1250"),
        ("1\u202f250 g", "mass", "write the number without separators: 1250"),
        ("212 g ± 0,5 g", "mass", "write 0.5 with a decimal point, not a comma"),
        ("12", "length", "add the unit, for example 12 mm"),
        ("12 g", "length", '"g" is the unit of a mass'),
        ("3 lb", "force", '"lb" is a mass; write lbf for a force'),
        ("3 KG", "mass", "did you mean kg?"),
        ("3 parsnips", "mass", "units here: g, kg"),
        ("3 g", "count", '"g" is the unit of a mass; no unit belongs here'),
        ("nan g", "mass", "leave the key out if it is not known"),
        ("inf m", "length", "leave the key out if it is not known"),
        ("1e999 g", "mass", "the number is too large"),
        ("1e-999 g", "mass", "the number is too small"),
        ("1/0 in", "length", "a fraction needs a lower number other than 0"),
        ("4 ft 6 in", "length", 'the unit "ft 6 in" is not known'),
        ("1-1/2 in", "length", "write one number with one unit (a fraction as 1 1/2 in)"),
        ("about 3 g", "mass", "begin with a number, then the unit"),
        ("1.2.3 m", "length", "begin with a number, then the unit"),
        ("0x10 g", "mass", 'the unit "x10 g" is not known'),
        ("5 g ± -1 g", "mass", "a spread is never negative"),
        ("5 g ±", "mass", "write a number after ±"),
        ("5 g ± 1 g ± 1 g", "mass", "write one ± only"),
        ("5 g ± 1 mm", "mass", '"mm" is the unit of a length'),
        ("12 degC ± 5 %", "temperature", "write the spread in degC, not in per cent"),
        ("0.75 ± 10 %", "ratio", "per cent is unclear here; write ± 0.075"),
        ("-500 degC", "temperature", "below absolute zero"),
        ("", "mass", "write 212 g or 7.5 oz"),
        ("1" * 200 + " g", "mass", "keep it under 120 characters"),
        ("١٢ g", "mass", "begin with a number, then the unit"),
    ],
)
def test_refused_with_advice(text: str, dimension: str, advice: str) -> None:
    with pytest.raises(QuantityError) as caught:
        parse(text, dimension)
    assert advice in caught.value.advice
    assert caught.value.expected == expected(dimension)


def test_programmer_faults_are_not_hidden() -> None:
    with pytest.raises(KeyError, match="no dimension 'lenght'"):
        parse("1 m", "lenght")
    with pytest.raises(KeyError, match="has no unit"):
        show(1.0, "length", unit="kg")


@pytest.mark.parametrize(
    ("value", "dimension", "metric", "imperial"),
    [
        (0.079, "length", "79.0 mm", "3.11 in"),
        (1.22, "length", "1220 mm", "48.0 in"),
        (612.0, "length", "612 m", "2008 ft"),
        (30e-6, "length", "30.0 um", "1.18 mil"),
        (0.0, "length", "0 mm", "0 in"),
        (0.144, "mass", "144 g", "5.08 oz"),
        (1.461, "mass", "1461 g", "3.22 lb"),
        (270.15, "temperature", "-3.0 °C", "26.6 °F"),
        (101325.0, "pressure", "1013 hPa", "29.9 inHg"),
        (0.62e9, "pressure", "620 MPa", "89923 psi"),
        (19.9, "speed", "19.9 m/s", "65.3 ft/s"),
        (math.radians(3), "angle", "3.00 deg", "3.00 deg"),
        (256.9, "impulse", "257 N s", "257 N s"),
        (1.62, "calibre", "1.62 cal", "1.62 cal"),
        (3.0, "count", "3", "3"),
        (0.00091, "volume", "910 mL", "55.5 in3"),
    ],
)
def test_shown(value: float, dimension: str, metric: str, imperial: str) -> None:
    assert show(value, dimension) == metric
    assert show(value, dimension, "imperial") == imperial


def test_shown_with_spread() -> None:
    assert show_spread(612.2, 31.4, "length") == "612 m ±31"
    assert show_spread(0.144, 0.002, "mass") == "144 g ±2"
    assert show_spread(1.62, 0.15, "calibre") == "1.62 cal ±0.15"
    assert show_spread(0.079, 0.0005, "length") == "79.0 mm ±0.5"
    assert show_spread(282.15, 2.0, "temperature", "imperial") == "48 °F ±4"
    assert show_spread(0.079, None, "length") == "79.0 mm"
    assert show(None, "mass") == show(math.nan, "mass") == "not known"


def test_written() -> None:
    assert write(0.212, "mass", "g", 0.005, "measured") == "212 g ± 5 g measured"
    assert write(270.15, "temperature", "degC", 2.0) == "-3 degC ± 2 degC"
    assert write(0.75, "ratio", "") == "0.75"


def test_tables() -> None:
    for name, kind in DIMENSIONS.items():
        assert parse(f"1 {kind.units[0].symbol}".strip(), name) is not None
        assert expected(name)
        for steps in (kind.metric, kind.imperial):
            assert [least for least, _ in steps] == sorted(least for least, _ in steps)


def test_import_is_light() -> None:
    code = "import sys, goodflight.quantity; print(*sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        check=True,
        env={"PYTHONPATH": ":".join(sys.path)},
    )
    assert not {"numpy", "pydantic", "tomlkit", "pint"} & set(done.stdout.split())
