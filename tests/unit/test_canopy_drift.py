"""How far a canopy drifts in the mean wind: by hand and in fine slices."""

import math

import numpy as np
import pytest

from goodflight.physics.flight.drift import (
    Hanging,
    Landed,
    canopy_drift_m,
    landing_from_m,
    moved_apogee,
)
from goodflight.physics.flight.fall import MeanWind, Start

G = 9.80665


def one(value: float) -> np.ndarray:
    return np.array([value])


WIND = MeanWind(one(5.0), one(math.radians(270.0)), one(2.0), one(0.16))
SINGLE = Hanging(
    mass_kg=one(1.5),
    first_area_m2=one(0.7),
    second_area_m2=one(0.0),
    second_below_m=one(0.0),
    ground_temperature_k=one(288.15),
    ground_pressure_pa=one(101325.0),
)


def density(height_m: float) -> float:
    """US Standard Atmosphere 1976, eqs 23 and 33: 1.225 kg/m3 at the ground."""
    temperature = 288.15 - 0.0065 * height_m
    return 1.225 * (temperature / 288.15) ** (9.80665 * 0.0289644 / (8.31432 * 0.0065) - 1.0)


def slices(low: float, high: float, area_m2: float) -> float:
    """Drift of 1.5 kg in slices of 0.1 m: wind 5 m/s at 2 m to the power 0.16, over the descent."""
    heights = np.arange(low, high, 0.1) + 0.05
    falls = [math.sqrt(2.0 * 1.5 * G / (density(z) * area_m2)) for z in heights]
    return float(np.sum(5.0 * (heights / 2.0) ** 0.16 / np.array(falls)) * 0.1)


def test_drift_by_hand() -> None:
    """In air as at the ground: 300 m / 5.857 m/s x 5 m/s x 150^0.16 / 1.16 = 492.2 m, derived.

    Thinner air aloft lets it fall faster, at most by the root of its density there: 0.9715."""
    east, north = canopy_drift_m(one(300.0), WIND, SINGLE, G)
    by_hand = 300.0 / 5.857 * 5.0 * 150.0**0.16 / 1.16
    assert by_hand == pytest.approx(492.2, abs=0.1)
    assert by_hand * math.sqrt(0.9715) < float(east[0]) < by_hand
    assert float(east[0]) == pytest.approx(slices(0.0, 300.0, 0.7), rel=1e-4)  # the slices' own
    assert float(north[0]) == pytest.approx(0.0, abs=1e-9)


def test_second_canopy_opens_beside_the_first() -> None:
    """Below 150 m both carry, above it the first alone, derived."""
    both = SINGLE._replace(first_area_m2=one(0.1), second_area_m2=one(0.6))
    east, _ = canopy_drift_m(one(400.0), WIND, both._replace(second_below_m=one(150.0)), G)
    expected = slices(150.0, 400.0, 0.1) + slices(0.0, 150.0, 0.7)
    assert float(east[0]) == pytest.approx(expected, rel=1e-3)  # steep wind in the lowest slices
    low, _ = canopy_drift_m(one(100.0), WIND, both._replace(second_below_m=one(150.0)), G)
    assert float(low[0]) == pytest.approx(slices(0.0, 100.0, 0.7), rel=1e-3)


def test_a_second_canopy_of_a_handkerchief_counts() -> None:
    """0.05 m2 beside 0.65 m2 from 300 m down: 0.7 m2 all the way."""
    both = SINGLE._replace(first_area_m2=one(0.65), second_area_m2=one(0.05))
    east, _ = canopy_drift_m(one(300.0), WIND, both._replace(second_below_m=one(300.0)), G)
    assert float(east[0]) == pytest.approx(slices(0.0, 300.0, 0.7), rel=1e-4)


OWN = Start(one(400.0), one(60.0), one(-20.0), one(8.0), one(2.0))


def test_another_apogee_by_hand() -> None:
    """A quarter of the height: ways a quarter, speeds a half (v^2 goes with height), derived."""
    low = moved_apogee(OWN, one(100.0))
    assert [float(each[0]) for each in low] == pytest.approx([100.0, 15.0, -5.0, 4.0, 1.0])


def test_landing_from_another_apogee_by_hand() -> None:
    """No wind: 60 + 8 x 1.5 = 72 m east when it opens at 380 m, the flown 91 m is 19 m besides.

    From 100 m it opens at 80 m: 15 + 4 x 1.5 + 19 x 80 / 380 = 25 m; north -5 + 1.5 + 7 x 80 / 380.
    From 20 m and less it would open below the ground: not known."""
    calm = WIND._replace(speed_m_s=one(0.0))
    landed = Landed(one(380.0), one(1.5), one(91.0), one(-10.0))
    east, north = landing_from_m(one(100.0), OWN, landed, calm, SINGLE, G)
    assert (float(east[0]), float(north[0])) == pytest.approx((25.0, -3.5 + 7.0 * 80.0 / 380.0))
    assert np.isnan(landing_from_m(one(20.0), OWN, landed, calm, SINGLE, G)[0]).all()


def test_its_own_apogee_gives_its_own_landing() -> None:
    landed = Landed(one(380.0), one(1.5), one(391.0), one(-10.0))
    east, north = landing_from_m(OWN.height_m, OWN, landed, WIND, SINGLE, G)
    assert (float(east[0]), float(north[0])) == pytest.approx((391.0, -10.0))


def test_a_canopy_that_opens_a_hand_above_the_ground_lands_there() -> None:
    """Flown: open at 5 cm, 60 + 8 x 1.5 m and the way of 5 cm. From 2 cm more of apogee: 7 cm.

    The ground's own air carries it h / v x 5 m/s x (h / 2 m)^0.16 / 1.16; the other path is longer
    by 2 cm in 400 m. Nothing besides.
    """

    def way(height_m: float) -> float:
        falls = math.sqrt(2.0 * 1.5 * G / (1.225 * 0.7))
        return height_m / falls * 5.0 * (height_m / 2.0) ** 0.16 / 1.16

    landed = Landed(one(0.05), one(1.5), one(72.0 + way(0.05)), one(-17.0))
    east, north = landing_from_m(one(400.02), OWN, landed, WIND, SINGLE, G)
    longer = 400.02 / 400.0
    flown = 60.0 * longer + 12.0 * math.sqrt(longer)
    assert float(east[0]) == pytest.approx(flown + way(0.07), abs=1e-6)
    assert float(north[0]) == pytest.approx(-20.0 * longer + 3.0 * math.sqrt(longer), abs=1e-6)
