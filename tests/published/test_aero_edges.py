"""Drag of the fins' edges: exact gas dynamics, Ackeret, and the sources' own formulas by hand.

Rounded and square edges: [barrowman1967] section 4 and [hoerner1965] 15-4, 16-3 (memory). Faired
fins: [datcom1978] 4.1.5.1, the formula in the head of its table (seen).
"""

from dataclasses import replace

import numpy as np
import pytest

from goodflight.physics import aero
from goodflight.physics.aero import fin_drag as model
from goodflight.physics.aero.fin_drag import fin_drag
from goodflight.physics.vehicle.parts import FinEdges

ROOT2 = float(np.sqrt(2.0))


def stagnation(mach: float) -> float:
    """Pressure coefficient where air of 1.4 comes to rest; behind its own shock above Mach 1
    (Rayleigh). Exact."""
    m2 = mach * mach
    if mach < 1.0:
        ratio = (1.0 + 0.2 * m2) ** 3.5
    else:
        ratio = (1.2 * m2) ** 3.5 * (2.4 / (2.8 * m2 - 0.4)) ** 2.5
    return float((ratio - 1.0) / (0.7 * m2))


@pytest.mark.parametrize(("mach", "within"), [(0.3, 1e-4), (0.6, 1e-4), (0.9, 5e-4)])
def test_square_edge_has_its_share_of_the_stagnation_pressure(mach: float, within: float) -> None:
    """0.85 of it; the series leaves M^6 / 1600 out."""
    assert float(model.square_edge_drag(mach)) / 0.85 == pytest.approx(stagnation(mach), abs=within)


@pytest.mark.parametrize("mach", [1.0, 1.05, 1.3, 1.6, 2.0])
def test_square_edge_behind_a_shock(mach: float) -> None:
    """Hoerner's fit (memory), and the exact pressure within a hundredth."""
    fit = 1.84 - 0.76 / mach**2 + 0.166 / mach**4 + 0.035 / mach**6
    found = float(model.square_edge_drag(mach)) / 0.85
    assert found == pytest.approx(fit)
    assert found == pytest.approx(stagnation(mach), rel=0.01)


@pytest.mark.parametrize(
    ("mach", "expected"),
    [
        (0.8, 0.36**-0.417 - 1.0),
        (0.95, 1.0 - 1.785 * 0.05),
        (1.05, 1.214 - 0.502 / 1.1025 + 0.1095 / 1.21550625),
        (1.5, 1.214 - 0.502 / 2.25 + 0.1095 / 5.0625),
    ],
)
def test_rounded_edge(mach: float, expected: float) -> None:
    assert float(model.rounded_edge_drag(mach)) == pytest.approx(expected)


def test_blunt_trailing_edge_above_the_speed_of_sound() -> None:
    """(1 - 0.52 M^-1.19) / M^2, [barrowman1967] after Love (memory); half-way at Mach 0.95, where
    the other half is 0.135 / 0.2^(1/3) and the one above is taken at Mach 1."""
    found = model.trailing_base_drag(0.004, [0.8, 0.95, 1.1, 1.3], 25.0)
    low = 0.135 / 0.2 ** (1.0 / 3.0)
    high = [(1.0 - 0.52 / m**1.19) / m**2 for m in (1.1, 1.3)]
    assert found == pytest.approx([low, 0.5 * (low + 0.48), *high])


def test_wedge_by_ackeret_and_by_the_transonic_limit() -> None:
    """2 d / beta on the frontal area; at Mach 1 1.5 d^(2/3) (memory), half of it at 0.925."""
    found = model.wedge_wave_drag([0.85, 0.925, 1.0, ROOT2], 0.04, 0.08)
    limit = 1.5 * np.cbrt(0.04**2) * 0.08
    assert found == pytest.approx([0.0, 0.5 * limit, limit, 2.0 * 0.04 * 0.08])


def test_faired_fin() -> None:
    """A tenth thick, cosine 0.9 at Mach 0.6: 2 Cf (1 + 0.12 + 0.01) 1.14, of the table."""
    assert float(model.faired_fin_drag(0.003, 0.6, 0.1, 0.9)) == pytest.approx(0.006 * 1.13 * 1.14)


# ---- a whole set, swept, added up by hand ----
OUTLINE = [(0.0, 0.0), (0.07, 0.1), (0.17, 0.1), (0.1, 0.0)]
FINS = aero.fin_shape(3, 0.9, OUTLINE, 0.05, thickness_m=0.004)
FRICTION, AREA = 0.004, 0.03  # as large as the three fins


def cost(mach: float, edges: FinEdges, bevel_m: float = 0.0) -> float:
    return float(fin_drag(replace(FINS, edges=edges, bevel_m=bevel_m), mach, FRICTION, AREA))


@pytest.mark.parametrize("mach", [0.5, 0.95, 1.3])
def test_edges_add_up(mach: float) -> None:
    """Both faces rub: 0.008; edges look 0.04 of the plan; across a sweep of tangent 0.7 the stream
    has the cosine of it, its pressure the square. Bevels of 20 mm stand 0.1 steep at both edges and
    have 1 / 101 of a square edge's pressure; faired ones have twice a wedge's over the chord."""
    cosine = 1.0 / np.sqrt(1.49)
    trail = 0.04 * float(model.trailing_base_drag(FRICTION, mach, 25.0))
    square = 0.04 * float(model.square_edge_drag(mach * cosine)) / 1.49
    rounded = 0.04 * float(model.rounded_edge_drag(mach * cosine)) / 1.49
    bevel, faired = (
        float(model.wedge_wave_drag(mach, angle, 0.04)) for angle in (np.arctan(0.1), 0.04)
    )
    rubbing = float(model.faired_fin_drag(FRICTION, mach, 0.04, cosine))
    assert cost(mach, "blunt") == pytest.approx(0.008 + square + trail)
    assert cost(mach, "rounded") == pytest.approx(0.008 + rounded + 0.5 * trail)
    assert cost(mach, "bevelled", 0.02) == pytest.approx(0.008 + max(bevel, square / 101.0) + bevel)
    assert cost(mach, "faired") == pytest.approx(rubbing + 2.0 * faired)


def test_a_bevel_lies_between_a_square_edge_and_none() -> None:
    """Hoerner's sin^2 (memory): 4 mm of sheet, 2 mm wide is 45 deg, a half; 4 mm a fifth. The flow
    leaves a trailing bevel of the thickness, half of one 1.75 times as wide, none at 2.5 (ours).

    Ends are exact: no width is the square edge, wide ones rub only; each wider one costs less.
    """
    trail = 0.04 * float(model.trailing_base_drag(FRICTION, 0.3, 25.0))
    square = 0.04 * float(model.square_edge_drag(0.3 / np.sqrt(1.49))) / 1.49
    assert cost(0.3, "bevelled", 0.002) == pytest.approx(0.008 + 0.5 * square + trail)
    assert cost(0.3, "bevelled", 0.004) == pytest.approx(0.008 + 0.2 * square + trail)
    half = cost(0.3, "bevelled", 0.007)
    assert half == pytest.approx(0.008 + square / (1.0 + 3.5**2) + 0.5 * trail)
    assert cost(0.3, "bevelled", 1e-6) == pytest.approx(cost(0.3, "blunt"), rel=1e-5)
    assert cost(0.3, "bevelled", 0.05) == pytest.approx(0.008, rel=0.01)
    wider = [cost(0.3, "bevelled", width) for width in (0.001, 0.003, 0.006, 0.01, 0.03, 0.05)]
    assert wider == sorted(wider, reverse=True)


@pytest.mark.parametrize("mach", [0.3, 1.3])
def test_bevels_of_unknown_width_and_one_wedge(mach: float) -> None:
    """Half way from 45 deg on each face to bevels that meet; wider than half the chord: one wedge,
    half the thickness over 100 mm steep, its trailing edge blunt."""
    unsaid = cost(mach, "bevelled")
    assert unsaid == pytest.approx(
        (cost(mach, "bevelled", 0.002) + cost(mach, "bevelled", 0.05)) / 2.0
    )
    trail = 0.04 * float(model.trailing_base_drag(FRICTION, mach, 25.0))
    wedge = float(model.wedge_wave_drag(mach, np.arctan(0.02), 0.04))
    just = cost(mach, "bevelled", 0.052)
    assert just > cost(mach, "bevelled", 0.05) + 0.9 * trail - 0.01 * (mach > 1.0)
    assert cost(mach, "bevelled", 0.1) == pytest.approx(0.008 + wedge + trail, rel=2e-3)
