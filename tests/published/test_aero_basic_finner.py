"""A finned missile in free flight: Army-Navy Basic Finner, drag and pitching moment.

DREV-TM-9703 (1997) table VII, held: seen at second hand (a transcription). Geometry as in its head:
10 degree cone of 2.836 calibres, 10 calibres long, four square fins of one calibre at the base,
wedge section 0.08 calibres thick at the trailing edge, smooth, 20 degC, sea level. Only shots of
our Mach range (to 1.5) count; the moment is about 5.5 calibres. CNa of single shots is not compared
shot by shot, because small-angle shots scatter (11 to 22 per rad between neighbours).
"""

import csv
from pathlib import Path

import numpy as np
import pytest

from goodflight.physics import aero
from goodflight.physics.flight.registry import AERO_INDEX, MACH_STEP
from plain_body import body_shape

DATA = Path(__file__).parent / "data" / "basic_finner_freeflight_1997.csv"
DIAMETER_M = 0.030
SHOTS = [
    {k: float(v) for k, v in row.items()}
    for row in csv.DictReader(
        line for line in DATA.read_text(encoding="utf-8").splitlines() if not line.startswith("#")
    )
]
IN_RANGE = [s for s in SHOTS if s["mach"] <= 1.5]


def tables() -> aero.AeroTables:
    d, nose = DIAMETER_M, 2.836 * DIAMETER_M
    body = body_shape([0, nose, 10 * d], [0, d / 2, d / 2], nose, "cone")
    square = [(0, 0), (0, d), (d, d), (d, 0)]
    fins = aero.fin_shape(
        4, 9 * d, square, d / 2, thickness_m=0.08 * d, edges="bevelled", bevel_m=d
    )
    return aero.shape_tables(aero.Shape(body, (fins,), (), 1e-6), None, 293.15, 101325.0)


TABLES = tables()


def column(name: str, mach: float) -> float:
    values = TABLES.mach_table[:, AERO_INDEX[name]]
    return float(np.interp(mach, MACH_STEP * np.arange(len(values)), values))


def slope_and_moment(mach: float) -> tuple[float, float]:
    """CNa per rad and Cma per rad about 5.5 calibres."""
    slope = column("body_slope", mach) + column("fin_slope", mach)
    moment = column("body_moment_m", mach) + column("fin_slope", mach) * column("fin_cp_m", mach)
    return slope, 5.5 * slope - moment / DIAMETER_M


def test_six_shots_are_in_range() -> None:
    assert len(IN_RANGE) == 6


@pytest.mark.parametrize("shot", IN_RANGE, ids=lambda s: f"M{s['mach']}")
def test_pitching_moment(shot: dict[str, float]) -> None:
    """Within 12 %: neighbouring shots (Mach 1.33 and 1.38) differ by 16 %; ours is on the high side
    in the mean by 6 %."""
    assert slope_and_moment(shot["mach"])[1] == pytest.approx(shot["cma_per_rad"], rel=0.12)


def test_pitching_moment_in_the_mean() -> None:
    """Scatter averages out: mean ratio of six shots within 8 %."""
    ratios = [slope_and_moment(s["mach"])[1] / s["cma_per_rad"] for s in IN_RANGE]
    assert np.mean(ratios) == pytest.approx(1.0, abs=0.08)


def test_centre_of_pressure_of_shots_with_usable_slope() -> None:
    """CP from shots marked usable, without the one at Mach 1.33 whose slope (11.4 between 18.5 and
    15.4) is an outlier: within 0.15 calibres."""
    for shot in IN_RANGE:
        if shot["usable_cna"] and shot["mach"] != 1.332:
            slope, moment = slope_and_moment(shot["mach"])
            assert 5.5 - moment / slope == pytest.approx(shot["xcp_cal_from_nose"], abs=0.15)


@pytest.mark.parametrize("shot", IN_RANGE, ids=lambda s: f"M{s['mach']}")
def test_drag_at_zero_incidence(shot: dict[str, float]) -> None:
    """Within 15 %: the model's own spread from Mach 0.9 is 18 %, the shots scatter by about 6 %.
    Ours is low in five of six (8 to 12 %): blunt trailing edges and base share one wake, which
    the sum of two separate bases does not see."""
    assert column("axial_low", shot["mach"]) == pytest.approx(shot["cd0"], rel=0.15)


def test_body_lift_by_the_fins_is_needed() -> None:
    """Without the carried-over lift on the body the moment is 30 % short, far outside the scatter:
    the measurement itself says that both interference factors belong in."""
    kw, kb = float(aero.fin_on_body(3.0)), float(aero.body_by_fin(3.0))
    for shot in IN_RANGE:
        m = shot["mach"]
        lost = column("fin_slope", m) * kb / (kw + kb)
        short = slope_and_moment(m)[1] + lost * (column("fin_cp_m", m) / DIAMETER_M - 5.5)
        assert short / shot["cma_per_rad"] < 0.85
