"""A rocket's sums by hand: columns and scalars, spreads, the short form, shares of drag."""

import math
from dataclasses import replace
from typing import Final

import numpy as np
import pytest

from goodflight.physics import aero
from goodflight.physics.aero import drag, fins, friction, share
from goodflight.physics.aero.build import cp_spread, edges_share, summary
from goodflight.physics.aero.fin_drag import fin_drag
from goodflight.physics.aero.reading import slopes_at
from goodflight.physics.aero.short_form import short_form_cp_m
from goodflight.physics.air.atmosphere import atmosphere
from goodflight.physics.flight.registry import AERO_INDEX, AERO_SCALAR_INDEX, MACH_STEP
from goodflight.physics.vehicle.parts import Buttons, FinEdges, Fins, Nose, Rocket, Tube

SQUARE = ((0.0, 0.0), (0.0, 0.1), (0.1, 0.1), (0.1, 0.0))
WING = Fins(
    "fins", 0.9, count=3, outline_m=SQUARE, thickness_m=0.004, edges="blunt", body_radius_m=0.05
)
BODY = (
    Nose("nose", 0.0, shape="cone", length_m=0.3, diameter_m=0.1),
    Tube("tube", 0.3, length_m=0.7, outer_diameter_m=0.1, inner_diameter_m=0.09),
)
ROCKET = Rocket("round numbers", (*BODY, WING))
BARE = Rocket("bare", BODY)
PIPE = Rocket("pipe", (replace(BODY[1], station_m=0.0, length_m=1.0),))
AREA = math.pi * 0.05**2
TABLES = aero.aero_tables(ROCKET)


def column(name: str, tables: aero.AeroTables = TABLES) -> np.ndarray:
    return tables.mach_table[:, AERO_INDEX[name]]


def scalars(tables: aero.AeroTables) -> dict[str, float]:
    return {name: float(tables.scalars[i]) for name, i in AERO_SCALAR_INDEX.items()}


# ---- tables ----
@pytest.mark.parametrize(("name", "height_m"), [("axial_low", 0.0), ("axial_high", 3000.0)])
def test_both_axial_columns_have_the_air_of_their_height(name: str, height_m: float) -> None:
    """Reynolds number a metre in the air above a standard pad; at rest that of Mach 0.02."""
    air = atmosphere(height_m, 288.15, 101325.0)
    unit = float(air.density_kg_m3 * air.sound_m_s / air.viscosity_pa_s)
    mach, speed = np.array([0.0, 0.3, 0.9]), np.array([0.02, 0.3, 0.9])
    expected = aero.axial_force(aero.rocket_shape(ROCKET), mach, speed * unit).total
    assert column(name)[[0, 15, 45]] == pytest.approx(expected, rel=1e-9)


def test_two_equal_sets_turn_and_push_twice_as_much() -> None:
    both = aero.aero_tables(Rocket("two", (*BODY, WING, replace(WING, name="fore", station_m=0.5))))
    for name in ("fin_side", "roll_force", "roll_damp"):
        assert column(name, both) == pytest.approx(2.0 * column(name)), name


def test_stall_of_a_rocket_is_that_of_its_fins() -> None:
    start, end, plate = fins.fin_stall(aero.rocket_shape(ROCKET).fins[0])
    found = scalars(TABLES)
    assert found["fin_stall_start_sin2"] == pytest.approx(start)
    assert found["fin_stall_end_sin2"] == pytest.approx(end)
    assert found["fin_plate_m2"] == pytest.approx(plate)


def test_summary_is_taken_at_mach_0_3_unless_said() -> None:
    assert summary(ROCKET) == summary(ROCKET, 0.3)
    assert cp_spread(ROCKET) == cp_spread(ROCKET, 0.3)


# ---- reading ----
def test_force_lies_between_two_rows_and_is_held_at_the_last() -> None:
    """Small incidence: the slopes alone, straight between rows."""
    slope = column("body_slope") + column("fin_slope")
    small = 1e-6

    def found(mach: float) -> float:
        return aero.normal_force(TABLES, mach, small).coefficient / small

    assert found(15.5 * MACH_STEP) == pytest.approx((slope[15] + slope[16]) / 2.0, rel=1e-5)
    assert found(99.5 * MACH_STEP) == pytest.approx((slope[99] + slope[100]) / 2.0, rel=1e-5)
    assert found(9.0) == pytest.approx(slope[100], rel=1e-5)


def test_a_pipe_at_no_incidence_has_no_centre_of_pressure() -> None:
    assert math.isnan(aero.normal_force(aero.aero_tables(PIPE), 0.3, 0.0).cp_m)


def test_slopes_of_many_flights_are_held_at_both_ends() -> None:
    found = slopes_at(TABLES, np.array([0.0, 9.0]))
    assert found.fin.tolist() == column("fin_slope")[[0, 100]].tolist()


# ---- spreads ----
def test_spread_of_the_centre_of_pressure_by_moving_the_slopes() -> None:
    """Body and fin slopes 10 % each, by themselves: differences of the sum of moments; the rest
    fills up to 4 % of the length, at least a quarter calibre."""
    one = summary(ROCKET)
    body_cp, whole = 0.2, one.fin_slope + one.body_slope
    fin_cp = (one.cp_m * whole - one.body_slope * body_cp) / one.fin_slope

    def cp(body: float, fin: float) -> float:
        b, f = one.body_slope * body, one.fin_slope * fin
        return (b * body_cp + f * fin_cp) / (b + f)

    step = 1e-4
    moved = math.hypot(
        cp(1.0 + step, 1.0) - cp(1.0 - step, 1.0), cp(1.0, 1.0 + step) - cp(1.0, 1.0 - step)
    )
    found = cp_spread(ROCKET)
    assert found.slopes_m == pytest.approx(0.10 * moved / (2.0 * step), rel=1e-6)
    assert found.whole_m == pytest.approx(0.04 * 1.0)
    stub = replace(BODY[1], length_m=0.2)
    short = Rocket("stub", (BODY[0], stub, replace(WING, station_m=0.4)))
    assert cp_spread(short).rest_m == pytest.approx(0.25 * 0.1)


WAYS: Final[tuple[tuple[FinEdges, float], ...]] = (
    ("blunt", 0.0), ("rounded", 0.0), ("faired", 0.0),
    ("bevelled", 0.5 * WING.thickness_m), ("bevelled", 0.05),
)  # fmt: skip


def test_bevels_of_unknown_width_move_the_drag_half_the_way() -> None:
    """From 45 deg on each face to those that meet, the chord 100 mm; told, nothing is drawn."""
    unsaid = replace(ROCKET, parts=(*BODY, replace(WING, edges="bevelled")))
    most, least = (
        summary(replace(ROCKET, parts=(*BODY, replace(WING, edges=edges, bevel_m=wide)))).axial
        for edges, wide in WAYS[3:]
    )
    assert edges_share(unsaid) == pytest.approx((most - least) / (most + least), rel=1e-9)
    told = replace(ROCKET, parts=(*BODY, replace(WING, edges="bevelled", bevel_m=0.01)))
    assert edges_share(told) == 0.0


def test_edges_that_are_not_said_move_the_drag_half_the_way() -> None:
    unsaid = replace(ROCKET, parts=(*BODY, replace(WING, edges=None)))
    costs = [
        summary(replace(ROCKET, parts=(*BODY, replace(WING, edges=edges, bevel_m=wide)))).axial
        for edges, wide in WAYS
    ]
    middle = (max(costs) + min(costs)) / 2.0
    expected = (max(costs) - min(costs)) / 2.0 / middle
    assert edges_share(unsaid) == pytest.approx(expected, rel=1e-9)
    assert edges_share(ROCKET) == 0.0


# ---- short form ----
def test_short_form_by_hand() -> None:
    """Cone 2 per rad at 0.2 m; a pair of panels of aspect ratio 2 2 pi 2 / (2 + root 8), one and a
    half of it, on 0.01 m2, times 1 + 1 / 3, at 0.925 m."""
    fin = 1.5 * 4.0 * math.pi / (2.0 + math.sqrt(8.0)) * 0.01 / AREA * (4.0 / 3.0)
    expected = (2.0 * 0.2 + fin * 0.925) / (2.0 + fin)
    assert short_form_cp_m(aero.rocket_shape(ROCKET)) == pytest.approx(expected, rel=1e-9)


# ---- shares ----
@pytest.mark.parametrize(
    ("station", "rubbed"), [(0.3, 0.3 / 1.7), (0.65, 1.0 / 1.7), (1.0, 1.0), (2.0, 1.0)]
)
def test_drag_ahead_of_a_joint(station: float, rubbed: float) -> None:
    """Cone 0.3 m and tube 0.7 m: skin as 0.3 to 1.4 m of width; nose pressure is all ahead. Mach
    0.3 at 100 m/s and sea level, 7 million a metre; polished, so that it counts."""
    shape, mach = aero.rocket_shape(replace(BARE, roughness_m=1e-7)), np.array([0.3])
    reynolds = np.array([7e6])
    cf = friction.friction_coefficient(reynolds, mach, 1.0 / shape.roughness_m)
    body = shape.body
    skin = float(drag.body_friction(cf, 10.0, body.wetted_m2, AREA)[0])
    pressure = 0.8 * math.sin(math.atan(1.0 / 6.0)) ** 2  # [hoerner1965] 3-12 (memory)
    whole = float(aero.axial_force(shape, mach, reynolds).total[0])
    expected = (skin * rubbed + pressure) / whole
    assert share.drag_share_ahead(shape, station) == pytest.approx(expected, rel=1e-9)


def test_all_but_the_base_is_ahead_of_the_end() -> None:
    """An ogive has no pressure drag at Mach 0.3, so that a tenfold speed would show."""
    nose = Nose("nose", 0.0, length_m=0.3, diameter_m=0.1)
    shape = aero.rocket_shape(Rocket("ogive", (nose, BODY[1])))
    whole = aero.axial_force(shape, np.array([0.3]), np.array([7e6]))
    expected = 1.0 - float(whole.base[0] / whole.total[0])
    assert share.drag_share_ahead(shape, 1.0) == pytest.approx(expected, rel=1e-9)


def test_a_tube_broadside() -> None:
    """Ten calibres: eta 0.685, [datcom1978] fig 4.2.1.2-35a; 1.2 of a cylinder, 35b."""
    assert share.tube_side_m2(1.0, 0.1) == pytest.approx(1.2 * 0.685 * 0.1)


def test_a_section_is_no_shorter_than_a_twentieth() -> None:
    """A joint 40 mm from the tip of a nose of 0.3 m, rocket 1.3 m: 65 mm of 1.2 m of side."""
    found = share.section_drag(
        0.003, 0.4, 0.05, area_m2=0.005, length_m=1.3, joint_m=0.04, nose_length_m=0.3
    )
    assert float(found.nose_m2) == pytest.approx(0.05 * 0.065 / 1.2)


# ---- parts as the air sees them ----
def test_guides_without_a_front_get_a_square_of_their_height() -> None:
    shape = aero.rocket_shape(Rocket("r", (*BODY, Buttons("guides", 0.5, height_m=0.012))))
    assert shape.guides == (aero.GuideShape(2, 0.012**2),)


def test_a_rocket_without_a_nose_has_none() -> None:
    assert aero.rocket_shape(PIPE).body.nose_length_m == 0.0


def test_fins_without_a_thickness_only_rub() -> None:
    flat = aero.fin_shape(3, 0.9, SQUARE, 0.05)
    assert float(fin_drag(flat, 0.3, 0.004, 0.03)) == pytest.approx(0.008)
