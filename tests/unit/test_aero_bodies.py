"""Bodies that narrow, widen or end oddly: slopes and drag against sums worked out by hand."""

import numpy as np
import pytest

from goodflight.physics.aero import base, body, curves, drag
from goodflight.physics.aero.geometry import BodyShape
from plain_body import body_shape

ROOT2 = float(np.sqrt(2.0))  # Mach number at which beta is one


# ---- tails ----
@pytest.mark.parametrize(("length", "share"), [(0.009, 1.0), (0.0175, 0.5), (0.025, 0.0)])
def test_separated_share_of_a_drop_of_ten_millimetres(length: float, share: float) -> None:
    """All at once its drop, none at 2.5 times it, straight between: common practice, no source."""
    assert base.separated_share(length, 0.01) == pytest.approx(share)


@pytest.mark.parametrize(("ring_m", "counts"), [(0.057, False), (0.063, True)])
def test_a_cylinder_as_long_as_it_is_wide_ends_the_body(ring_m: float, counts: bool) -> None:
    """60 mm wide behind the tail."""
    ringed = body_shape([0, 0.2, 1.0, 1.2, 1.2 + ring_m], [0, 0.05, 0.05, 0.03, 0.03], 0.2)
    assert (base.tail_of(ringed) is None) == counts


def test_a_body_that_only_narrows_is_all_tail() -> None:
    assert base.tail_of(body_shape([0, 1.0], [0.05, 0.03], 0.0)) == (0.0, 0.05, 1.0, 0.0)


def test_a_narrowing_further_ahead_is_not_of_the_tail() -> None:
    shape = body_shape([0, 0.2, 0.3, 0.6, 0.7], [0, 0.05, 0.04, 0.04, 0.03], 0.2)
    found = base.tail_of(shape)
    assert found is not None
    assert found.start_m == 0.6


def test_base_of_a_nose_without_a_body_behind() -> None:
    """No length behind the nose: p = 1 / (1 + 0.1875 M^2 + 0.0531 M^4), [mccoy1981]."""
    m2 = 0.6**2
    expected = (1.0 - 1.0 / (1.0 + 0.1875 * m2 + 0.0531 * m2**2)) / (0.7 * m2)
    assert float(base.base_drag(0.6, body_shape([0, 0.3], [0, 0.05], 0.3))) == pytest.approx(
        expected
    )


def boat_tail(mach: float, t: float, length: float, straight: float) -> float:
    """Supersonic boat-tail behind an ogive, step by step as its author gives it (memory)."""
    beta = (mach * mach - 1.0) ** 0.5
    behind_ogive = 5.0 * t / (6.0 * beta) + (0.5 * t) ** 2 - 0.7435 / mach**2 * t**1.6
    behind_ogive *= 1.0 - 0.6 / mach
    pressure = behind_ogive * np.exp(-1.1952 / mach * straight)
    pressure -= (2.4 * mach**4 - 4.0 * beta**2) * t * t / (2.0 * beta**4)
    pressure += 2.0 * t / beta
    k = beta / 0.85
    gone = np.exp(-length / k)
    return float(4.0 * pressure * t * (1.0 - gone + 2.0 * t * (gone * (length + k) - k)) * k)


@pytest.mark.parametrize("mach", [1.12, 1.3, 2.0])
@pytest.mark.parametrize("straight", [0.0, 1.0])
def test_boat_tail_close_behind_the_nose(mach: float, straight: float) -> None:
    found = float(base.boat_tail_drag(mach, 0.2, 0.5, straight))
    assert found == pytest.approx(boat_tail(mach, 0.2, 0.5, straight))


@pytest.mark.parametrize(
    ("x", "r", "straight", "share"),
    [
        ([0, 0.2, 0.3, 0.4], [0, 0.05, 0.05, 0.04], 1.0, 1.0),
        ([0, 0.2, 0.3], [0, 0.05, 0.04], 0.0, 1.0),
        ([0, 0.2, 0.3, 0.5, 0.6], [0, 0.05, 0.04, 0.04, 0.03], 3.75, 0.64),
    ],
)
def test_tail_drag_is_that_of_the_tail_on_the_greatest_section(
    x: list[float], r: list[float], straight: float, share: float
) -> None:
    """A tail of tangent 0.1 that the flow follows; the cylinder ahead in its own calibres."""
    found = float(base.tail_drag(1.3, body_shape(x, r, 0.2)))
    long = 0.1 / (2.0 * r[-2])
    assert found == pytest.approx(share * boat_tail(1.3, 0.1, long, straight))


# ---- lift ----
def test_mach_numbers_are_held_where_each_theory_ends() -> None:
    """Linear theory fails where beta^2 is under (t / c)^(2/3): 1.07 for fins 5 % thick."""
    assert float(body.subsonic_mach(1.5)) == pytest.approx(0.98)
    held = float(body.supersonic_mach(0.5))
    assert held == pytest.approx(np.sqrt(1.0 + 0.05 ** (2.0 / 3.0)), abs=0.005)
    assert held == pytest.approx(1.07) == float(body.supersonic_mach(0.8))


def test_potential_flow_ends_by_the_piece_that_loses_area_fastest() -> None:
    """r^2 falls by 9 and 12 cm2 over 0.1 m each: the second, at 0.4 m of 1 m; [datcom1978]."""
    shape = body_shape([0, 0.2, 0.3, 0.4, 0.5, 1.0], [0, 0.05, 0.04, 0.04, 0.02, 0.02], 0.2)
    assert body.potential_end_m(shape) == pytest.approx(0.378 + 0.527 * 0.4)


def test_a_body_that_never_narrows_has_potential_flow_to_its_end() -> None:
    shape = body_shape([0, 0.2, 0.7, 1.0], [0, 0.05, 0.05, 0.05], 0.2)
    assert body.potential_end_m(shape) == 1.0


def subsonic(shape: BodyShape) -> float:
    """Slope over 2 (k2 - k1)."""
    lift = 2.0 * float(body.apparent_mass_factor(shape.fineness))
    return float(body.body_slope(shape, 0.3).slope[0]) / lift


def test_a_long_tail_loses_lift_to_the_end_of_potential_flow() -> None:
    """It narrows from 0.5 m; x0 = 0.6415 m, where its radius is 50 - 30 x 0.283 mm."""
    shape = body_shape([0, 0.2, 0.5, 1.0], [0, 0.05, 0.05, 0.02], 0.2)
    left = 0.05 - 0.03 * (0.378 + 0.527 * 0.5 - 0.5) / 0.5
    assert subsonic(shape) == pytest.approx((left / 0.05) ** 2)


def test_a_flare_behind_a_narrow_piece_lifts() -> None:
    """50, 40, 50 mm: what was lost is gained again, though potential flow ends at 0.48 m."""
    shape = body_shape([0, 0.2, 0.3, 0.8, 1.0], [0, 0.05, 0.04, 0.04, 0.05], 0.2)
    assert subsonic(shape) == pytest.approx(1.0)


def test_a_flare_close_behind_a_cone_above_the_speed_of_sound() -> None:
    """Cone of 3.75 calibres: 2.08 - 0.12 x 0.2613 / 0.4 in the figure, on 0.64 of the section, at
    two thirds; the flare from 40 to 50 mm slender, dA = 2 pi r dr summed over it by hand."""
    found = body.body_slope(body_shape([0, 0.3, 0.4, 1.0], [0, 0.04, 0.05, 0.05], 0.3, "cone"), 1.4)
    nose = 0.64 * (2.08 - 0.12 * np.sqrt(0.96) / 3.75 / 0.4)
    assert float(found.slope[0]) == pytest.approx(nose + 2.0 * 0.36)
    moment = 0.2 * (0.0012 + 0.00035 + 0.0001 / 3.0) / 0.0025  # of (0.3 + u) (0.04 + 0.1 u) du
    assert float(found.moment_m[0]) == pytest.approx(0.2 * nose + 2.0 * moment)


def test_lift_of_a_cylinder_of_five_nose_lengths() -> None:
    """The last row of [datcom1978] fig 4.2.1.1-21b counts: 3.40 at beta / f = 1 / 1.25."""
    shape = body_shape([0, 0.3, 1.8], [0, 0.12, 0.12], 0.3, "cone")
    assert float(body.body_slope(shape, ROOT2).slope[0]) == pytest.approx(3.40)


def test_carried_over_lift_has_its_second_moment_where_it_acts() -> None:
    """0.4 nose lengths of cylinder are one step: at 1.2 nose lengths, 0.36 m."""
    bare = body.body_slope(body_shape([0, 0.3], [0, 0.05], 0.3), 1.4)
    short = body.body_slope(body_shape([0, 0.3, 0.42], [0, 0.05, 0.05], 0.3), 1.4)
    place2 = (short.second_m2 - bare.second_m2) / (short.slope - bare.slope)
    assert float(place2[0]) == pytest.approx(0.36**2)


# ---- drag of the outline ----
def test_a_tube_without_a_nose_has_the_drag_of_a_flat_face() -> None:
    """0.8: [hoerner1965] 3-12 (memory)."""
    assert float(drag.nose_drag(body_shape([0, 1.0], [0.05, 0.05], 0.0), 0.3)) == 0.8


def test_corner_between_a_cone_and_a_wider_cone() -> None:
    """1 / 6 and 0.1: the corner is the difference of both angles, on (100 / 160)^2."""
    shape = body_shape([0, 0.3, 0.6], [0, 0.05, 0.08], 0.3, "cone")
    corner = np.arctan(1.0 / 6.0) - np.arctan(0.1)
    expected = 0.8 * np.sin(corner) ** 2 * (0.1 / 0.16) ** 2
    assert float(drag.nose_drag(shape, 0.3)) == pytest.approx(expected)


def test_wave_drag_of_cones_is_read_at_their_similarity() -> None:
    """3 calibres at beta 1: 2 f / beta = 6, ordinate 3.72 of [datcom1978] fig 4.2.3.1-28."""
    assert float(drag.nose_wave_drag("cone", 3.0, ROOT2)) == pytest.approx(3.72 / 36.0)


def test_least_drag_nose_against_its_theorem() -> None:
    """Slender bodies have no less than 4 A / (pi l^2), which is 1 / f^2: Haack's own."""
    haack = float(drag.nose_wave_drag("haack", 4.0, 1.3))
    assert haack == pytest.approx(1.0 / 16.0, rel=0.01)


def test_drag_rise_of_a_nose() -> None:
    """Four calibres: divergence at Mach 0.907, [raymer1992] fig 12.28; ours begins 0.1 before, is
    over at 1.1 and is a smooth step, half of it in the middle."""
    x = 0.4 * np.linspace(0, 1, 21)
    rho = (0.05**2 + 0.4**2) / 0.1
    r = np.sqrt(rho**2 - (0.4 - x) ** 2) + 0.05 - rho
    shape = body_shape(np.append(x, 1.0), np.append(r, 0.05), 0.4)
    before, after, middle, end = drag.nose_drag(shape, np.array([0.806, 0.808, 0.9535, 1.1]))
    assert before == 0.0 < after
    assert (middle, end) == pytest.approx((4.68 / 64.0 / 2.0, 4.68 / 64.0))


WIDENING = [
    ([0, 0.1, 0.5], [0.03, 0.05, 0.05], 0.0, 0.02, 0.1, 0.64),
    ([0, 0.3, 0.4, 1.0], [0, 0.03, 0.05, 0.05], 0.3, 0.02, 0.1, 0.64),
    ([0, 0.3, 0.6, 0.7, 1.0], [0, 0.04, 0.04, 0.05, 0.05], 0.3, 0.01, 0.1, 0.36),
]


@pytest.mark.parametrize(("x", "r", "nose", "rise", "length", "share"), WIDENING)
def test_widening_piece(
    x: list[float], r: list[float], nose: float, rise: float, length: float, share: float
) -> None:
    """0.8 sin^2 of its angle below, [hoerner1965] 3-12 (memory); above, a cone of length over
    twice its rise, on the area gained."""
    found = drag.outline_drag(body_shape(x, r, nose), np.array([0.3, ROOT2]))
    assert found[0] == pytest.approx(share * 0.8 * np.sin(np.arctan(rise / length)) ** 2)
    fineness = length / (2.0 * rise)
    wave = float(curves.CONE_WAVE(2.0 * fineness)) / (4.0 * fineness**2)
    assert found[1] == pytest.approx(share * wave)


def test_two_widening_pieces_each_count_for_themselves() -> None:
    """30, 45, 50 mm over 0.1 and 0.2 m: 0.45 and 0.19 of the section at 0.15 and 0.025."""
    shape = body_shape([0, 0.3, 0.4, 0.6, 1.0], [0, 0.03, 0.045, 0.05, 0.05], 0.3)
    expected = sum(
        area * 0.8 * np.sin(np.arctan(slope)) ** 2 for area, slope in ((0.45, 0.15), (0.19, 0.025))
    )
    assert float(drag.outline_drag(shape, 0.3)) == pytest.approx(expected)


def test_square_step_up_above_the_speed_of_sound_is_nearly_a_flat_face() -> None:
    """0.85 of the stagnation pressure (Rayleigh, Mach 1.3: 1.4485), [hoerner1965] 16-3 (memory)."""
    step = body_shape([0, 0.3, 0.6, 0.6, 1.0], [0, 0.03, 0.03, 0.05, 0.05], 0.3)
    assert float(drag.outline_drag(step, 1.3)) == pytest.approx(0.64 * 0.85 * 1.4485, rel=0.1)


def test_half_separated_narrowing_piece_costs_half_a_base() -> None:
    """A drop of 20 mm in diameter over 35 mm, a third of the section lost and more."""
    shape = body_shape([0, 0.2, 0.3, 0.335, 1.0], [0, 0.05, 0.05, 0.04, 0.04], 0.2)
    square = float(base.square_base_pressure(shape, 0.3))
    assert float(drag.outline_drag(shape, 0.3)) == pytest.approx(0.5 * 0.36 * square)
