"""A measured flight: pitch frequency and coast drag of a three-fin vehicle, 2015-07-19.

Worked out from the vehicle's own gyro and accelerometer log (computed from seen raw data, see the
heads of the tables); geometry read from its drawing within 1.5 %.
"""

import csv
from pathlib import Path

import numpy as np
import pytest

from goodflight.physics import aero
from goodflight.physics.aero.fins import subsonic_slope
from goodflight.physics.flight.forces import pitch_rate2
from goodflight.physics.flight.registry import AERO_INDEX, MACH_STEP
from plain_body import body_shape

DATA = Path(__file__).parent / "data"


def rows(name: str) -> list[dict[str, str]]:
    lines = (DATA / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


GIVEN = {row["quantity"]: float(row["value"]) for row in rows("threefin_vehicle.csv")}
DIAMETER = GIVEN["body diameter"]
PITCH = [
    {k: float(v) for k, v in r.items() if k != "how_known"}
    for r in rows("threefin_2015_pitch_frequency.csv")
]
COAST = [
    {k: float(v) for k, v in r.items() if k != "how_known"}
    for r in rows("threefin_2015_coast_drag.csv")
]


def shape() -> aero.Shape:
    """Body and fins only; edges and finish are not known: bevelled, a painted 20 micrometres."""
    nose, radius = GIVEN["nose ogive length"], DIAMETER / 2.0
    x = np.linspace(0.0, nose, 60)
    rho = (radius**2 + nose**2) / (2.0 * radius)
    r = np.sqrt(rho**2 - (nose - x) ** 2) - (rho - radius)
    body = body_shape(
        np.append(x, GIVEN["length without motor overhang"]), np.append(r, radius), nose
    )
    span, sweep = GIVEN["fin exposed semispan"], GIVEN["fin leading-edge sweep distance"]
    outline = [
        (0.0, 0.0), (sweep, span), (sweep + GIVEN["fin tip chord"], span),
        (GIVEN["fin root chord"], 0.0),
    ]  # fmt: skip
    fins = aero.fin_shape(
        3,
        GIVEN["fin root leading edge from nose"],
        outline,
        radius,
        thickness_m=0.006,
        edges="bevelled",
        bevel_m=0.02,
    )
    return aero.Shape(body, (fins,), (), 20e-6)


SHAPE = shape()
TABLES = aero.shape_tables(SHAPE)


def column(name: str, mach: float) -> float:
    values = TABLES.mach_table[:, AERO_INDEX[name]]
    return float(np.interp(mach, MACH_STEP * np.arange(len(values)), values))


def frequency_hz(slope: float, cp_m: float, pressure_pa: float) -> float:
    lever = cp_m - GIVEN["burnout centre of gravity"]
    stiffness = pressure_pa * SHAPE.body.area_m2 * slope * lever
    rate2 = pitch_rate2(stiffness, GIVEN["burnout pitch inertia"], GIVEN["roll inertia at burnout"])
    return float(rate2) ** 0.5 / (2.0 * np.pi)


MEAN = [r for r in PITCH if 12.0 < r["t_s"] < 21.0]  # the windows of the table's own mean


@pytest.mark.parametrize("row", MEAN, ids=lambda r: f"M{r['mach']}")
def test_pitch_frequency_within_its_scatter(row: dict[str, float]) -> None:
    """8 % in k: inertia and CG are known within 10 %, which is 5 % in k; single windows scatter by
    2.4 %."""
    m = row["mach"]
    slope = column("body_slope", m) + column("fin_slope", m)
    moment = column("body_moment_m", m) + column("fin_slope", m) * column("fin_cp_m", m)
    found = frequency_hz(slope, moment / slope, row["q_Pa"])
    assert found == pytest.approx(row["k_Hz_per_sqrtPa"] * row["q_Pa"] ** 0.5, rel=0.08)


def test_fins_lift_on_the_body_is_needed() -> None:
    """The short form's 1 + r/s in place of both interferences: far below what was measured."""
    m, (fins,) = 0.5, SHAPE.fins
    plain = float(subsonic_slope(fins.aspect, fins.tan_half, m)) * 1.5 * fins.area_m2
    fin = plain / SHAPE.body.area_m2 * (1.0 + 1.0 / fins.tau)
    slope = column("body_slope", m) + fin
    moment = column("body_moment_m", m) + fin * fins.quarter_m
    mean = np.mean([r["k_Hz_per_sqrtPa"] for r in MEAN])
    assert frequency_hz(slope, moment / slope, 1.0) < 0.85 * mean


def drag(row: dict[str, float]) -> float:
    """Axial coefficient at the row's own air, Sutherland's viscosity."""
    kelvin = 297.6 - 0.0065 * row["h_m"]
    viscosity = 1.458e-6 * kelvin**1.5 / (kelvin + 110.4)
    reynolds = np.array([row["rho"] * row["V_ms"] / viscosity])
    return float(aero.axial_force(SHAPE, np.array([row["mach"]]), reynolds).total[0])


SURE = [r for r in COAST if r["mach"] > 0.4 and not 0.75 < r["mach"] < 0.85]


@pytest.mark.xfail(
    strict=True,
    reason="body and fins alone: launch lugs, camera fairing, canards, gap rings and the motor's "
    "overhang are in the measurement and their sizes are not known; 23 to 31 % too low, in step",
)
def test_coast_drag_above_mach_0_4() -> None:
    ratios = [drag(row) / row["CD_bias_removed"] for row in SURE]
    assert all(abs(ratio - 1.0) < 0.06 for ratio in ratios)


def test_coast_drag_of_body_and_fins_lies_below_the_measured() -> None:
    """What is left out only adds: never above the measured, and never less than two thirds of it
    (protuberances of a third of the drag would be seen on the drawing)."""
    ratios = [drag(row) / row["CD_bias_removed"] for row in SURE]
    assert min(ratios) > 0.66
    assert max(ratios) < 1.0
