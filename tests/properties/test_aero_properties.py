"""What must hold for any rocket: scale, direction of change, smoothness, signs."""

from dataclasses import replace
from typing import Any

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from goodflight.physics import aero
from goodflight.physics.flight.registry import AERO_INDEX, AERO_SCALAR_INDEX
from goodflight.physics.vehicle.parts import Fins, Nose, Rocket, Tube

SIZES = st.fixed_dictionaries(
    {
        "diameter": st.floats(0.03, 0.2),
        "fineness": st.floats(8.0, 25.0),
        "nose": st.floats(2.0, 6.0),
        "root": st.floats(1.0, 2.5),
        "taper": st.floats(0.0, 1.0),
        "span": st.floats(0.5, 2.0),
        "sweep": st.floats(0.0, 2.0),
        "count": st.sampled_from([3, 4, 5, 6]),
        "shape": st.sampled_from(["cone", "tangent_ogive", "ellipsoid", "haack"]),
        "edges": st.sampled_from(["blunt", "rounded", "bevelled", "faired"]),
    }
)


def build(size: dict[str, Any], scale: float = 1.0) -> Rocket:
    d = float(size["diameter"]) * scale  # type: ignore[arg-type]
    root, span = float(size["root"]) * d, float(size["span"]) * d  # type: ignore[arg-type]
    tip, sweep = float(size["taper"]) * root, float(size["sweep"]) * d  # type: ignore[arg-type]
    length, nose = float(size["fineness"]) * d, float(size["nose"]) * d  # type: ignore[arg-type]
    outline = ((0.0, 0.0), (sweep, span), (sweep + tip, span), (root, 0.0))
    return Rocket(
        "any",
        (
            Nose("nose", 0.0, shape=size["shape"], length_m=nose, diameter_m=d),  # type: ignore[arg-type]
            Tube("tube", nose, length_m=length - nose, outer_diameter_m=d, inner_diameter_m=d / 2),
            Fins(
                "fins",
                length - root,
                count=size["count"],
                outline_m=outline,  # type: ignore[arg-type]
                thickness_m=0.04 * d,
                edges=size["edges"],
                body_radius_m=d / 2,  # type: ignore[arg-type]
            ),
        ),
        roughness_m=1e-9,
    )


def column(tables: aero.AeroTables, name: str) -> np.ndarray:
    return tables.mach_table[:, AERO_INDEX[name]]


@settings(max_examples=60, deadline=None)
@given(SIZES)
def test_signs_and_finiteness(size: dict[str, Any]) -> None:
    tables = aero.aero_tables(build(size), 0.02)
    assert np.all(np.isfinite(tables.mach_table))
    for name in ("body_slope", "fin_slope", "axial_low", "axial_high", "roll_force", "fin_side"):
        assert np.all(column(tables, name) > 0.0), name
    assert np.all(column(tables, "axial_burn") >= 0.0)
    assert np.all(column(tables, "axial_low") > column(tables, "axial_burn"))
    assert np.all(column(tables, "roll_damp") < 0.0)


@settings(max_examples=40, deadline=None)
@given(SIZES, st.floats(0.2, 5.0))
def test_shape_alone_sets_slopes_and_centres(size: dict[str, Any], scale: float) -> None:
    small, large = aero.aero_tables(build(size)), aero.aero_tables(build(size, scale))
    for name in ("body_slope", "fin_slope", "roll_force", "roll_damp", "fin_side"):
        assert np.allclose(column(small, name), column(large, name), rtol=1e-9)
    for name in ("body_moment_m", "fin_cp_m"):
        assert np.allclose(scale * column(small, name), column(large, name), rtol=1e-9)
    assert np.allclose(
        scale**2 * column(small, "body_second_m2"), column(large, "body_second_m2"), rtol=1e-9
    )


@settings(max_examples=40, deadline=None)
@given(SIZES)
def test_tables_are_smooth_in_mach(size: dict[str, Any]) -> None:
    """Slopes and CP: second differences under 3 % of the greatest value per row squared, reached
    only on fins of aspect ratio 6 to 8, whose slope peaks sharply near Mach 1.1."""
    tables = aero.aero_tables(build(size))
    for name in ("body_slope", "fin_slope", "fin_cp_m", "roll_damp"):
        values = column(tables, name)[:76]
        assert np.max(np.abs(np.diff(values, 2))) < 0.03 * np.max(np.abs(values)), name


@settings(max_examples=40, deadline=None)
@given(SIZES, st.floats(0.05, 1.4))
def test_more_span_moves_the_centre_aft(size: dict[str, Any], mach: float) -> None:
    wider = {**size, "span": float(size["span"]) * 1.2}  # type: ignore[arg-type]
    small, large = aero.summary(build(size), mach), aero.summary(build(wider), mach)
    assert large.fin_slope > small.fin_slope
    assert large.cp_m > small.cp_m


@settings(max_examples=30, deadline=None)
@given(SIZES)
def test_rougher_is_never_slipperier(size: dict[str, Any]) -> None:
    smooth = build(size)
    rough = replace(smooth, roughness_m=1e-4)
    a, b = aero.aero_tables(smooth), aero.aero_tables(rough)
    # base drag falls a little as friction grows (below Mach 0.9), never by more than it gains
    assert np.all(column(b, "axial_low") >= column(a, "axial_low") - 1e-9)


@settings(max_examples=40, deadline=None)
@given(SIZES, st.floats(0.0, 0.6), st.floats(0.05, 1.2))
def test_moving_every_station_moves_the_centre_by_as_much(
    size: dict[str, Any], incidence: float, mach: float
) -> None:
    rocket = build(size)
    moved = replace(
        rocket, parts=tuple(replace(p, station_m=p.station_m + 0.3) for p in rocket.parts)
    )
    here = aero.normal_force(aero.aero_tables(rocket), mach, incidence)
    there = aero.normal_force(aero.aero_tables(moved), mach, incidence)
    assert np.isclose(there.coefficient, here.coefficient, rtol=1e-9, atol=1e-12)
    assert np.isclose(there.cp_m, here.cp_m + 0.3, rtol=1e-9)


@settings(max_examples=30, deadline=None)
@given(SIZES)
def test_normal_force_is_odd_and_the_centre_even(size: dict[str, Any]) -> None:
    tables = aero.aero_tables(build(size))
    for a in (0.05, 0.3):
        plus, minus = aero.normal_force(tables, 0.3, a), aero.normal_force(tables, 0.3, -a)
        assert np.isclose(plus.coefficient, -minus.coefficient)
        assert np.isclose(plus.cp_m, minus.cp_m)


def test_scalars_are_those_of_the_outline() -> None:
    size = {
        "diameter": 0.1, "fineness": 12.0, "nose": 4.0, "root": 1.5, "taper": 0.5, "span": 1.0,
        "sweep": 0.5, "count": 3, "shape": "cone", "edges": "blunt",
    }  # fmt: skip
    found = aero.aero_tables(build(size)).scalars
    expected = {
        "area_m2": np.pi * 0.0025, "diameter_m": 0.1, "length_m": 1.2,
        "planform_m2": 0.02 + 0.08, "planform_cp_m": (0.02 * 0.8 / 3 + 0.08 * 0.8) / 0.1,
        "crossflow_eta": 0.71,
    }  # fmt: skip
    for name, value in expected.items():
        assert np.isclose(found[AERO_SCALAR_INDEX[name]], value, rtol=1e-6), name
