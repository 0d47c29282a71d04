"""The way of the pack out of its tube, against closed forms worked here."""

import math

import numpy as np
import pytest

from goodflight.physics.recovery import parting_lane as at
from goodflight.physics.recovery.parting import PARTING_INPUTS
from goodflight.physics.recovery.parting_slide import slide
from parted_bodies import BASE, part

# straight ahead, nothing pulls or rubs, no air
FREE = {"pack_friction_n": 0.0, "axis_rad": 0.0, "turn_rad_s": 0.0, "gravity_m_s2": 0.0,
        "density_kg_m3": 0.0, "fore_cord_m": 1e4, "aft_cord_m": 1e4}  # fmt: skip


def slid(**changes: float) -> tuple[bool, np.ndarray]:
    """Whether the pack came out, and the lane then."""
    w = np.zeros(at.PLACES)
    figures = BASE | changes
    return slide(np.array([figures[name] for name in PARTING_INPUTS]), w, 0), w


def test_a_free_pack_is_out_when_it_has_gone_its_length() -> None:
    """0.36 m at 12 m/s; the last step ends on the mouth."""
    assert part(**FREE)["cleared_s"] == pytest.approx(0.36 / 12.0, abs=5e-6)


def test_the_air_does_not_reach_a_pack_in_its_tube() -> None:
    still = FREE | {"density_kg_m3": 1.2, "parting_m_s": 2.0}
    small, vast = part(**still, gear_m2=0.006), part(**still, gear_m2=50.0, canopy_m2=100.0)
    assert vast["cleared_s"] == small["cleared_s"]
    assert vast["stretch_m_s"] < small["stretch_m_s"]


@pytest.mark.parametrize(
    ("rides", "cord_m", "stiff_n_m", "has_been", "is_now"),
    [
        (1.0, 0.1, 14000.0, 0.0, 0.0),
        (0.0, 0.2, 14000.0, 1.0, 0.0),
        (0.0, 0.1, 14000.0, 1.0, 1.0),
        (0.0, 0.1, 500.0, 1.0, 1.0),
        (0.0, 0.1, 0.2, 1.0, 1.0),
    ],
    ids=["goes with it", "a jerk", "a jerk and back again", "a rubber band", "a thread"],
)
def test_it_is_known_whether_the_nose_has_pulled_and_still_does(
    rides: float, cord_m: float, stiff_n_m: float, has_been: float, is_now: float
) -> None:
    """A nose that draws the pack; how far apart they are says if it is tight.

    Which they are was worked out along one line by an integration with scipy: 0.2 m of stiff cord
    are slack again when the pack is out, 0.1 m are tight the other way round, by 1.1 mm.
    """
    cord = {"fore_cord_m": cord_m, "fore_stiffness_n_m": stiff_n_m, "gear_rides": rides}
    out, w = slid(**FREE | cord)
    assert out
    apart_m = math.hypot(w[at.NX] - w[at.PX], w[at.NY] - w[at.PY])  # its front is where its rear is
    assert (apart_m > cord_m) == (is_now > 0.0)
    assert (w[at.FORE_ON], w[at.FORE_NOW], w[at.STEP]) == (has_been, is_now, 0.0)
    assert (w[at.FORE] > 0.0) == (has_been > 0.0)


@pytest.mark.parametrize("cord_m", [0.3, 0.45, 0.6])
@pytest.mark.parametrize("damping", [0.0, 0.1, 0.3])
def test_a_nose_that_draws_the_pack_pulls_as_a_damped_spring_does(
    cord_m: float, damping: float
) -> None:
    """k x + c v from x = 0 at v is greatest at w t = atan(d (1 - 4 z2) / (z (3 - 4 z2))) / d.

    z the damping, d = sqrt(1 - z2): v sqrt(k mu) exp(-z w t), derived from the solution of the
    oscillator. The sampled peak and the steps may miss 0.25 %.
    """
    cord = {"fore_cord_m": cord_m, "fore_stiffness_n_m": 8000.0, "cord_damping": damping}
    _, w = slid(**FREE | cord, gear_rides=0.0)
    swings = math.sqrt(1.0 - damping**2)
    phase = math.atan2(swings * (1.0 - 4.0 * damping**2), damping * (3.0 - 4.0 * damping**2))
    undamped = 12.0 * math.sqrt(0.46 * 0.32 / (0.46 + 0.32) * 8000.0)
    assert w[at.FORE] == pytest.approx(undamped * math.exp(-damping * phase / swings), rel=0.0025)


def test_a_pack_that_stays_goes_with_its_booster() -> None:
    """Stopped in a booster as heavy as a mountain: 10 m/s along, and what 5 s of fall add."""
    found = part(
        **FREE | {"gravity_m_s2": 9.81, "pack_friction_n": 6.0, "speed_m_s": 10.0},
        booster_kg=1e6,
        parting_m_s=2.0,
        climb_rad=0.0,
    )
    assert found["cleared_s"] == math.inf
    assert found["stretch_m_s"] == pytest.approx(math.hypot(10.0, 5.0 * 9.81), rel=1e-3)


def test_a_pack_that_is_pressed_on_what_it_lies_on_is_slowed_with_its_booster() -> None:
    """Tail first at 20 m/s: 1 / v = 1 / v0 + 1/2 rho Cd S t / (m1 + m2) of both together."""
    bare = {"tube_side_m2": 0.0, "fins_side_m2": 0.0, "fins_lift_m2": 0.0, "booster_start_m2": 0.04}
    found = part(
        **FREE | bare | {"density_kg_m3": 1.2, "axis_rad": math.pi, "speed_m_s": 20.0},
        parting_m_s=0.0,
        gear_rides=0.0,
    )
    assert found["reach_m"] == pytest.approx(0.0, abs=1e-6)
    per_s = 0.5 * 1.2 * 0.04 / (1.0 + 0.32)
    assert found["stretch_m_s"] == pytest.approx(1.0 / (1.0 / 20.0 + per_s * 5.0), rel=1e-3)


def test_a_pack_that_nothing_holds_runs_on_as_the_air_slows_its_booster() -> None:
    """Nose first at 1 m/s: the pack goes 5 m in 5 s, its booster ln(1 + c v t) / c, c = 1/2 rho
    Cd S / m = 0.024 per m: 0.278 m less. However little it is, what it lies on lets it go."""
    found = part(
        **FREE | {"density_kg_m3": 1.2, "booster_start_m2": 0.04, "speed_m_s": 1.0},
        parting_m_s=0.0,
        gear_rides=0.0,
    )
    assert found["reach_m"] == pytest.approx(5.0 - math.log(1.12) / 0.024, rel=1e-3)
