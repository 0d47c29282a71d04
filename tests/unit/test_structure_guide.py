"""A keyed fin guide with figures coarse enough to see every term, each worked here."""

import math

import pytest

from goodflight.physics.structure.fin_guide import (
    KeyedPlates,
    guided_cant_rad,
    guided_spread_rad,
    key_turn_rad,
)


@pytest.mark.parametrize("clearance_m, sine", [(0.05, 2.0 / 3.0), (0.02, 2.0 / 9.0), (0.0, 0.0)])
def test_a_loose_key_lets_its_plate_turn(clearance_m: float, sine: float) -> None:
    """R sin p = c (1 + sin p / 2) at 0.1 m; up to half the radius it is told."""
    assert key_turn_rad(clearance_m, 0.1) == pytest.approx(math.asin(sine))
    assert 0.1 * sine == pytest.approx(clearance_m * (1.0 + sine / 2.0))


def test_a_key_that_is_too_loose_is_told_in_mm() -> None:
    with pytest.raises(ValueError, match=r"of 51\.0 mm .* at 100\.0 mm"):
        key_turn_rad(0.051, 0.1)


def test_cant_by_clearance_and_by_turn() -> None:
    """(2 mm + 0.03 x 100 mm) over 200 mm."""
    assert guided_cant_rad(0.002, 0.03, 0.1, 0.2) == pytest.approx(0.025)


@pytest.mark.parametrize(
    "stacked, clearance_m, turn_rad, single, common",
    [
        # two slots, each its middle 3 mm either way and even: 3 / sqrt 3 mm each, over 200 mm
        (True, 0.006, 0.0, math.sqrt(2.0) * 0.003 / math.sqrt(3.0) / 0.2, None),
        # turned by 0.03 either way and even, at 50 mm over 200 mm
        (True, 0.0, 0.03, 0.0, math.hypot(0.03 / math.sqrt(3.0), 0.01 / math.sqrt(3.0)) * 0.25),
        # of three keys at 100 mm one edge strays by 1 mm each: 0.01 rad / sqrt 3
        (True, 0.0, 0.0, 0.0, 0.01 / math.sqrt(3.0) * 0.25),
        # cut one by one three edges stray, and the two slots of a fin: 1 mm each over 200 mm
        (False, 0.0, 0.0, math.sqrt(2.0) * 0.001 / 0.2, 0.01 * 0.25),
    ],
)
def test_spread_out_of_a_guide(
    stacked: bool, clearance_m: float, turn_rad: float, single: float, common: float | None
) -> None:
    plates = KeyedPlates(3, 0.1, 0.2, 0.001, stacked=stacked)
    found = guided_spread_rad(plates, clearance_m, turn_rad, 0.05)
    assert found[0] == pytest.approx(single)
    if common is not None:
        assert found[1] == pytest.approx(common)
