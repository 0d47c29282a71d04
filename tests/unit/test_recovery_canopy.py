"""Canopy areas, opening and descent by hand; the opening's equation of motion integrated apart."""

from dataclasses import replace
from math import cos, pi, sin

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from goodflight.physics import recovery
from goodflight.physics.recovery import opening
from goodflight.physics.vehicle.parts import Canopy

ONE_METRE = Canopy("canopy", 0.5, across_m=1.0)


def polygon_area(sides: int, across_flats: float) -> float:
    """Shoelace of the corners; the corner radius is half the flats over cos(pi/n)."""
    r = across_flats / 2 / cos(pi / sides)
    corners = [(r * cos(2 * pi * k / sides), r * sin(2 * pi * k / sides)) for k in range(sides)]
    return 0.5 * sum(
        x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(corners, corners[1:] + corners[:1])
    )


@pytest.mark.parametrize(
    ("kind", "area"),
    [
        ("flat_circular", pi / 4),
        ("flat_hexagonal", polygon_area(6, 1.0)),
        ("flat_octagonal", polygon_area(8, 1.0)),
        ("flat_square", 1.0),
        ("hemispherical", pi / 2),  # half of pi D^2
        ("cross", 2 / 3 - 1 / 9),  # 2 D W - W^2 with W = D/3
        ("conical", pi / 4 / 0.94**2),
        ("extended_skirt", pi / 4 / 0.86**2),
    ],
)
def test_cloth_area_by_kind(kind: str, area: float) -> None:
    assert recovery.cloth_area_m2(replace(ONE_METRE, kind=kind)) == pytest.approx(area, rel=1e-12)


def test_hemisphere_has_the_tabled_ratio_of_diameters() -> None:
    """Dc/Do 0.71 (Knacke 1991, memory): mouth 1 m against Do of its cloth."""
    area = recovery.cloth_area_m2(replace(ONE_METRE, kind="hemispherical"))
    assert 1.0 / float(recovery.nominal_diameter_m(area)) == pytest.approx(0.71, abs=0.005)


def test_area_grows_as_the_square_of_the_size_and_a_given_area_holds() -> None:
    """k D^2: pi/4 of 0.05 m and of 2 m across, by hand; 0.02 m2 of cloth as given."""
    for across in (0.05, 2.0):
        canopy = replace(ONE_METRE, kind="flat_circular", across_m=across)
        assert recovery.cloth_area_m2(canopy) == pytest.approx(pi / 4.0 * across * across)
    assert recovery.cloth_area_m2(replace(ONE_METRE, cloth_area_m2=0.02)) == 0.02


def test_spill_hole_and_given_area() -> None:
    holed = replace(ONE_METRE, kind="flat_square", spill_hole_diameter_m=0.2)
    assert recovery.cloth_area_m2(holed) == pytest.approx(1.0 - pi * 0.01)
    given = replace(holed, cloth_area_m2=0.8)
    assert recovery.cloth_area_m2(given) == pytest.approx(0.8 - pi * 0.01)
    assert recovery.drag_area_m2(replace(given, drag_coefficient=0.7)) == pytest.approx(
        0.7 * (0.8 - pi * 0.01)
    )


def test_what_cannot_be_a_canopy_is_refused() -> None:
    with pytest.raises(ValueError, match="canopy kind 'kite' is not known; allowed are flat_circ"):
        recovery.cloth_area_m2(replace(ONE_METRE, kind="kite"))
    with pytest.raises(ValueError, match=r"has no size; give its width \(across flats"):
        recovery.cloth_area_m2(replace(ONE_METRE, across_m=0.0))
    with pytest.raises(ValueError, match="give its cloth area"):
        recovery.cloth_area_m2(replace(ONE_METRE, kind="streamer"))
    with pytest.raises(ValueError, match="spill hole of 1.2 m is as large".replace(".", r"\.")):
        recovery.cloth_area_m2(replace(ONE_METRE, spill_hole_diameter_m=1.2))


def test_every_kind_names_its_area_and_its_source() -> None:
    for key, kind in recovery.CANOPY_KINDS.items():
        assert kind.key == key
        assert kind.area and kind.source
        assert kind.drag_low <= kind.drag_coefficient <= kind.drag_high
    with pytest.raises(ValueError, match="drag coefficients out of order"):
        replace(recovery.canopy_kind("cross"), drag_low=0.9, drag_high=0.8)
    with pytest.raises(ValueError, match="opening figures out of range"):
        replace(recovery.canopy_kind("cross"), opening_factor=0.9)


@pytest.mark.parametrize("growth", [0.5, 1.0, 1.7, 2.0, 3.0])
@pytest.mark.parametrize("ratio", [0.05, 0.4, 1.0, 3.0, 30.0])
def test_force_reduction_against_the_integrated_motion(ratio: float, growth: float) -> None:
    """dv/ds = -s^j v^2 / A with v(0) = 1; greatest s^j v^2 on a fine dense output."""
    s = np.linspace(0.0, 1.0, 20001)
    solution = solve_ivp(
        lambda t, v: [-(t**growth) * v[0] ** 2 / ratio],
        (0.0, 1.0),
        [1.0],
        rtol=1e-11,
        atol=1e-12,
        t_eval=s,
    )
    force = s**growth * solution.y[0] ** 2
    assert float(recovery.force_reduction(ratio, growth)) == pytest.approx(force.max(), rel=1e-6)


def test_force_reduction_limits_and_arrays() -> None:
    assert float(recovery.force_reduction(np.inf, 2.0)) == 1.0
    assert float(recovery.force_reduction(1e-9, 2.0)) < 1e-5
    both = recovery.force_reduction(np.array([0.5, 1.0, 5.0]), np.array([1.0, 2.0, 2.0]))
    assert both.shape == (3,)
    assert np.all(np.diff(recovery.force_reduction(np.geomspace(0.01, 100, 50), 2.0)) > 0)
    assert recovery.mass_ratio(1.0, 0.5, 1.2, 20.0, np.array([0.0, 0.1])).tolist() == [
        np.inf,
        pytest.approx(2.0 / (1.2 * 0.5 * 20.0 * 0.1)),
    ]
    # a gram of air met while filling is met all the same: 2 x 1 kg / 0.06 kg
    assert float(recovery.mass_ratio(1.0, 0.5, 1.2, 1.0, 0.1)) == pytest.approx(2.0 / 0.06)


def test_a_drop_tells_the_drag_area_and_gear_opens_at_walking_pace_at_least() -> None:
    """3 kg come down at 5 m/s in air of 1.2 kg/m3 with g 10: 2 x 30 / (1.2 x 25) = 2 m2."""
    assert float(opening.dropped_drag_area_m2(3.0, 5.0, 1.2, 10.0)) == pytest.approx(2.0)
    stood = opening.deploy_speed_stood_m_s(np.array([-30.0, 1.5]))  # about 25, never below 1 m/s
    assert stood.tolist() == pytest.approx([1.0, 26.5])


def test_streamer_feels_the_whole_force() -> None:
    kind = recovery.canopy_kind("streamer")
    force = recovery.opening_force_n(
        1.0,
        0.05,
        nominal_diameter_m=0.3,
        filling=recovery.Filling(kind.fill_constant, kind.growth, kind.opening_factor),
        speed_m_s=np.array([10.0, 20.0]),
        density_kg_m3=1.2,
    )
    assert force.tolist() == pytest.approx([3.0, 12.0])


def test_terminal_speed_by_hand() -> None:
    """1.638 kg on 0.65 m2 at 1.225: sqrt(2 x 1.638 x 9.80665 / 0.79625) = sqrt(40.347) = 6.352."""
    assert float(recovery.terminal_speed_m_s(1.638, 0.65, 1.225)) == pytest.approx(6.352, abs=5e-4)
    assert recovery.terminal_speed_m_s(np.ones(3), 1.0, 1.0, 2.0).tolist() == [2.0] * 3
