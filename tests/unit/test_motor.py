"""Thrust curve integrals, burn times and motor masses, by hand on simple and invented motors."""

from dataclasses import replace
from math import pi

import numpy as np
import pytest

from goodflight.physics import motor as m
from goodflight.physics.motor.label import MEAN_ALLOWED, label_gaps, letter_of_curve

# triangle up over 1 s to 100 N, then flat for 1 s, then down over 2 s: 50 + 100 + 100 N s
TRAPEZE = m.Motor(
    "trapeze (invented)",
    (0.0, 1.0, 2.0, 4.0),
    (0.0, 100.0, 100.0, 0.0),
    propellant_kg=0.10,
    loaded_kg=0.25,
    length_m=0.20,
    diameter_m=0.038,
    delay_s=10.0,
)
INVENTED = {
    "H-a": (
        (0.0, 0.03, 0.10, 0.35, 0.75, 1.10, 1.35, 1.52, 1.60),
        (0.0, 118.0, 146.0, 139.0, 122.0, 98.0, 70.0, 30.0, 0.0),
        168.0,
        105.0,
    ),
    "H-b": (
        (0.0, 0.04, 0.12, 0.40, 0.90, 1.30, 1.60, 1.75, 1.82),
        (0.0, 165.0, 205.0, 188.0, 158.0, 124.0, 82.0, 35.0, 0.0),
        256.9,
        141.0,
    ),
    "I-c": (
        (0.0, 0.04, 0.12, 0.45, 0.95, 1.40, 1.75, 1.92, 2.00),
        (0.0, 230.0, 268.0, 252.0, 226.0, 192.0, 120.0, 45.0, 0.0),
        394.3,
        197.0,
    ),
}


def test_impulse_is_exact_inside_each_piece() -> None:
    """t <= 1: 50 t^2; t = 1.5: 100; t = 3: 150 + 100 - 25; after 4: 250 (areas by hand)."""
    times = np.array([-1.0, 0.5, 1.0, 1.5, 3.0, 4.0, 9.0])
    expected = [0.0, 12.5, 50.0, 100.0, 225.0, 250.0, 250.0]
    assert m.impulse_ns(TRAPEZE, times).tolist() == pytest.approx(expected, rel=1e-14)
    assert m.total_impulse_ns(TRAPEZE) == pytest.approx(250.0)
    assert m.mean_thrust_n(TRAPEZE) == pytest.approx(62.5)
    # by hand: 62.5 N over 1.25 kg x 10 m/s2
    assert m.thrust_to_weight(TRAPEZE, 1.25, 10.0) == pytest.approx(5.0)


def test_impulse_is_the_integral_of_thrust_on_an_uneven_curve() -> None:
    times, thrusts, *_ = INVENTED["H-b"]
    motor = replace(TRAPEZE, times_s=times, thrusts_n=thrusts)
    fine = np.linspace(0.0, 1.0, 20001)
    by_rule = float(np.trapezoid(np.interp(fine, motor.times_s, motor.thrusts_n), fine))
    assert float(m.impulse_ns(motor, 1.0)) == pytest.approx(by_rule, rel=1e-7)


def test_burn_time() -> None:
    assert m.burn_time_s(TRAPEZE) == 4.0


@pytest.mark.parametrize("name", INVENTED)
def test_invented_motors_have_their_stated_impulse_and_mean(name: str) -> None:
    """Stated to 0.1 N s and 1 N with the curve (derived by hand: trapezium areas)."""
    times, thrusts, impulse, mean = INVENTED[name]
    motor = replace(TRAPEZE, times_s=times, thrusts_n=thrusts)
    assert m.total_impulse_ns(motor) == pytest.approx(impulse, abs=0.05)
    assert m.mean_thrust_n(motor) == pytest.approx(mean, abs=0.5)
    assert m.motor_class(impulse) == name[0]


def test_default_propellant_cylinder() -> None:
    """Outside 0.84 x 38 = 31.92 mm, core a third of it, 100 g at 1700 kg/m3: 82.7 mm long."""
    grain = m.propellant_grain(TRAPEZE, 1.22)
    assert grain.outer_radius_m == pytest.approx(0.01596)
    assert grain.core_radius_m == pytest.approx(0.00532)
    assert grain.length_m == pytest.approx(0.1 / 1700 / (pi / 4 * 0.03192**2 * 8 / 9), rel=1e-12)
    assert grain.length_m == pytest.approx(0.0827, abs=5e-5)
    assert grain.cg_m == pytest.approx(1.12)
    assert grain.inertia_radius_m**2 == pytest.approx(0.01596**2 + 0.00532**2)


def test_propellant_never_longer_than_the_motor_and_given_sizes_win() -> None:
    short = replace(TRAPEZE, length_m=0.05)
    assert m.propellant_grain(short, 1.0).length_m == 0.05
    known = replace(
        TRAPEZE,
        propellant_length_m=0.12,
        propellant_diameter_m=0.034,
        core_diameter_m=0.010,
        propellant_aft_m=0.09,
    )
    grain = m.propellant_grain(known, 1.22)
    assert (grain.length_m, grain.outer_radius_m, grain.core_radius_m) == (0.12, 0.017, 0.005)
    assert grain.cg_m == pytest.approx(1.13)
    with pytest.raises(ValueError, match="the core must be smaller than the propellant"):
        m.propellant_grain(replace(known, core_diameter_m=0.04), 1.22)


def test_case_and_propellant_masses() -> None:
    case, full = m.motor_case_item(TRAPEZE, 1.22), m.grain_item(TRAPEZE, 1.22)
    assert case.mass_kg == pytest.approx(0.15)
    assert case.mass_kg + full.mass_kg == pytest.approx(TRAPEZE.loaded_kg)
    assert case.station_m == full.station_m == pytest.approx(1.12)
    assert (case.kind, full.kind) == ("motor_case", "propellant")
    assert case.roll_inertia_kg_m2 == pytest.approx(0.15 * 0.019**2)
    assert case.pitch_inertia_kg_m2 == pytest.approx(0.15 * (0.019**2 / 2 + 0.04 / 12))
    squares = 0.01596**2 + 0.00532**2
    assert full.roll_inertia_kg_m2 == pytest.approx(0.1 * squares / 2)
    length = 0.1 / 1700 / (pi / 4 * 0.03192**2 * 8 / 9)
    assert full.pitch_inertia_kg_m2 == pytest.approx(0.1 * (squares / 4 + length**2 / 12))


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"times_s": (0.0, 1.0, 2.0)}, "3 times and 4 thrusts; give pairs"),
        ({"times_s": (0.1, 1.0, 2.0, 4.0)}, "its first time must be 0"),
        ({"times_s": (0.0, 2.0, 1.0, 4.0)}, "do not rise from point to point"),
        ({"times_s": (0.0, 1.0, 2.0, float("nan"))}, "must be a finite number"),
        ({"thrusts_n": (0.0, -1.0, 100.0, 0.0)}, "never be below zero"),
        ({"thrusts_n": (0.0, 0.0, 0.0, 0.0)}, "somewhere above it"),
        ({"propellant_kg": 0.3}, "less than the loaded motor"),
        ({"length_m": 0.0}, "length and diameter must be above zero"),
        ({"delay_out_allowed_s": (0.0, 12.0)}, "no step may take out more than there is"),
    ],
)
def test_impossible_motors_are_refused(change: dict[str, object], words: str) -> None:
    m.check_motor(TRAPEZE)
    with pytest.raises(ValueError, match=words):
        m.check_motor(replace(TRAPEZE, **change))  # type: ignore[arg-type]


def test_all_faults_of_a_motor_come_at_once() -> None:
    bad = replace(TRAPEZE, length_m=-1.0, propellant_kg=0.0, thrusts_n=(0.0, 0.0, 0.0, 0.0))
    with pytest.raises(ValueError, match="motor 'trapeze") as caught:
        m.check_motor(bad)
    assert str(caught.value).count(";") >= 2


def test_class_outside_the_table_is_refused() -> None:
    for impulse in (0.0, -5.0, 50000.0):
        with pytest.raises(ValueError, match="allowed is above 0 up to 40960 N s"):
            m.impulse_class(impulse)


def test_each_class_begins_where_the_one_below_ends() -> None:
    """Down to nothing: 0.05 N s is of the smallest."""
    above = [each.above_ns for each in m.IMPULSE_CLASSES]
    assert above == [0.0, *(each.up_to_ns for each in m.IMPULSE_CLASSES[:-1])]
    assert m.motor_class(0.05) == "1/4A"


def test_the_smallest_motors_are_motors() -> None:
    """Two points, a twentieth of a newton, 70 mm long, a charge without delay."""
    m.check_motor(replace(TRAPEZE, times_s=(0.0, 1.0), thrusts_n=(0.05, 0.0)))
    m.check_motor(replace(TRAPEZE, length_m=0.07))
    m.check_motor(replace(TRAPEZE, delay_s=0.0))


def test_where_a_late_curve_starts_is_said() -> None:
    with pytest.raises(ValueError, match=r"the curve starts at 0\.1 s"):
        m.check_motor(replace(TRAPEZE, times_s=(0.1, 1.0, 2.0, 4.0)))


PLAIN = m.Motor(
    "plain",
    times_s=(0.0, 0.1, 1.0, 1.1),
    thrusts_n=(0, 100, 100, 0),
    propellant_kg=0.05,
    loaded_kg=0.1,
    length_m=0.1,
    diameter_m=0.038,
    delay_s=None,
)


def test_mean_thrust_counts_from_a_twentieth_of_the_peak() -> None:
    """NFPA 1125 (seen second-hand): burn time from 5 % of the greatest thrust.

    5 N is reached at 0.005 s and left at 1.095 s; 100 N s less 0.5 x 5 N x 0.005 s at each end.
    """
    assert m.rated_mean_n(PLAIN) == pytest.approx((100.0 - 0.025) / 1.090)


def test_curve_and_label() -> None:
    """Curve of 100 N s and 91.7 N; the letter of 100 N s is G."""
    assert label_gaps(replace(PLAIN, label_impulse_ns=101.0, label_mean_n=90.0)) == ()
    (gap,) = label_gaps(replace(PLAIN, label_impulse_ns=95.0))
    assert gap.share == pytest.approx(100.0 / 95.0 - 1.0)
    (gap,) = label_gaps(replace(PLAIN, label_mean_n=120.0))
    assert gap.share == pytest.approx(91.720 / 120.0 - 1.0, abs=1e-4)
    assert letter_of_curve(replace(PLAIN, label_letter="G")) == ""
    assert letter_of_curve(replace(PLAIN, label_letter="H")) == "G"


@pytest.mark.parametrize(("off", "count"), [(0.019, 0), (0.021, 1), (-0.021, 1)])
def test_impulse_off_by_more_than_a_batch_scatters(off: float, count: int) -> None:
    """2 %, our guess of a batch's own scatter."""
    assert len(label_gaps(replace(PLAIN, label_impulse_ns=100.0 / (1.0 + off)))) == count


@pytest.mark.parametrize(("off", "count"), [(0.095, 0), (0.105, 1)])
def test_mean_thrust_off_by_half_of_what_the_standard_allows(off: float, count: int) -> None:
    """20 % for a label, NFPA 1125 (seen second-hand)."""
    mean = m.rated_mean_n(PLAIN)
    assert len(label_gaps(replace(PLAIN, label_mean_n=mean / (1.0 + off)))) == count
    assert MEAN_ALLOWED == 0.20


def test_mean_thrust_of_uneven_ramps() -> None:
    """Up to 100 N in 0.1 s, past a shoulder of 2 N at 0.02 s: 5 N at 0.02 + 0.08 x 3 / 98 s;
    down from 100 N at 1 s by 20 N at 1.2 s to nothing at 1.4 s: 5 N at 1.35 s. Areas by hand."""
    times, thrusts = (0.0, 0.02, 0.1, 1.0, 1.2, 1.4), (0.0, 2.0, 100.0, 100.0, 20.0, 0.0)
    start = 0.02 + 0.08 * 3.0 / 98.0
    head = 0.02 + 0.5 * (2.0 + 5.0) * (start - 0.02)
    whole = 0.02 + 0.5 * 102.0 * 0.08 + 90.0 + 12.0 + 2.0
    found = m.rated_mean_n(replace(PLAIN, times_s=times, thrusts_n=thrusts))
    assert found == pytest.approx((whole - head - 0.5 * 5.0 * 0.05) / (1.35 - start))
