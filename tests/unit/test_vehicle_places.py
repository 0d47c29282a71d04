"""Where things of a rocket stand, by hand: couplers, motor, ballast, fins, rail guides, vents."""

import math

import pytest
from pytest import approx

from goodflight.physics.vehicle.ballast import ballast_kg
from goodflight.physics.vehicle.fins import fin_angles_rad, rail_guide_angle_rad
from goodflight.physics.vehicle.fit import (
    ahead_of_motor,
    coupler_depths_m,
    held_m,
    motor_room_m,
)
from goodflight.physics.vehicle.mass import MassItem
from goodflight.physics.vehicle.part import Part
from goodflight.physics.vehicle.parts import (
    AddedMass,
    Bay,
    Bulkhead,
    Cord,
    Coupler,
    Fins,
    MotorTube,
    Nose,
    Ring,
    Rocket,
    Tube,
)
from goodflight.physics.vehicle.sections import ahead_by_coupler, share_aft
from goodflight.physics.vehicle.vents import apart_rad, vent_angles_rad, vent_station_m


def test_how_deep_a_coupler_sits() -> None:
    """Stations of the sketch, by hand; a switch band of 25 mm round the middle holds nothing."""
    fore, aft = Tube("fore", 0.2, length_m=0.3), Tube("aft", 0.525, length_m=0.4)
    band, bay = Tube("band", 0.5, length_m=0.025), Coupler("bay", 0.41, length_m=0.2)
    assert coupler_depths_m(Rocket("banded", (fore, band, aft)), bay) == approx((0.09, 0.085))
    # a separation inside one tube is a joint too, as a rocket drawn in one piece has it
    whole = Tube("whole", 0.2, length_m=0.7)
    assert coupler_depths_m(Rocket("one", (whole,), separation_station_m=0.45), bay) == approx(
        (0.04, 0.16)
    )
    assert coupler_depths_m(Rocket("liner", (whole,)), bay) is None


def test_the_way_ahead_of_a_motor_by_hand() -> None:
    """Plate 500 to 506 mm, open coupler with a bore of 60, ring with a bore of 30 at 700 mm."""
    parts = (
        Bulkhead("plate", 0.500, thickness_m=0.006, diameter_m=0.07),
        Coupler("open", 0.600, length_m=0.1, outer_diameter_m=0.07, inner_diameter_m=0.06),
        Ring("stop", 0.700, thickness_m=0.004, outer_diameter_m=0.07, inner_diameter_m=0.03),
    )
    rocket = Rocket("made up", parts)
    assert [e.part.name for e in ahead_of_motor(rocket, 0.029, 1.0)] == ["plate"]
    assert [e.part.name for e in ahead_of_motor(rocket, 0.038, 1.0)] == ["stop", "plate"]
    assert [e.part.name for e in ahead_of_motor(rocket, 0.065, 1.0)] == ["stop", "open", "plate"]
    assert motor_room_m(ahead_of_motor(rocket, 0.038, 1.0), 1.0) == pytest.approx(0.296)
    assert motor_room_m((), 1.2) == 1.2  # nothing ahead: to the tip
    tube = MotorTube("tube", 0.8, length_m=0.2, inner_diameter_m=0.038, motor_aft_m=1.01)
    assert held_m(tube, 0.3) == pytest.approx(0.2)
    assert held_m(tube, 0.1) == pytest.approx(0.09)
    assert held_m(tube, 0.005) == 0.0  # it ends behind the tube


def test_grams_by_hand() -> None:
    """Worked by hand: 1.721 kg balance at 789.4 mm; 45 g at 70 mm are put in.

    (1.721 x 789.4 + 0.045 x 70) / 1.766 = 1361.707 / 1.766 = 771.069 mm. Asked the other way
    round, 771.069 mm must want 45 g: m = 1.721 (789.4 - 771.069) / (771.069 - 70) = 0.0450.
    """
    assert ballast_kg(1.721, 0.7894, 0.070, 0.771069) == pytest.approx(0.0450, abs=5e-6)
    assert ballast_kg(1.721, 0.7894, 0.070, 0.7894) == 0.0  # it balances there
    assert ballast_kg(1.721, 0.7894, 0.070, 0.9) == 0.0
    assert ballast_kg(1.721, 0.7894, 0.070, 0.070) == math.inf  # no mass there is enough
    assert ballast_kg(1.721, 0.7894, 0.070, 0.05) == math.inf


def test_share_of_the_mass_behind_a_cut() -> None:
    """Of 1, 2 and 5 kg at 0, 1 and 2 m the last two lie at or behind 1 m."""
    items = [MassItem(str(kg), kg, at, 0.0, 0.0) for kg, at in ((1.0, 0.0), (2.0, 1.0), (5.0, 2.0))]
    assert share_aft(items, 1.0) == approx(7.0 / 8.0)
    light = [MassItem("a", 0.01, 0.0, 0.0, 0.0), MassItem("b", 0.03, 1.0, 0.0, 0.0)]
    assert share_aft(light, 0.5) == approx(0.75)
    assert share_aft([], 1.0) == 1.0


def test_what_lies_in_a_coupler_goes_where_the_coupler_goes() -> None:
    """A coupler from 400 to 600 mm over a cut at 450 mm; by the sketch, not by the place.

    Within it: a sled, its rear plate, a nut whose middle lies 4 mm ahead of its end. Beside or
    behind it: glue round it, a bolt behind its end, a mass longer than it, cloth, a wrap. In the
    nose's shoulder, from 100 to 160 mm and 96 mm wide: an eye bolt, a ballast of 92 mm.
    """
    parts: tuple[Part, ...] = (
        Nose("nose", 0.0, length_m=0.1, shoulder_length_m=0.06, shoulder_diameter_m=0.096),
        AddedMass("eye bolt", 0.14, length_m=0.01, radius_m=0.01),
        AddedMass("ballast", 0.11, length_m=0.01, radius_m=0.046),
        Coupler("bay", 0.40, length_m=0.2, outer_diameter_m=0.096),
        AddedMass("long nut", 0.546, length_m=0.1, radius_m=0.01),
        AddedMass("sled", 0.45, length_m=0.12, radius_m=0.04),
        Bulkhead("rear plate", 0.594, thickness_m=0.006, diameter_m=0.09),
        AddedMass("glue", 0.5, length_m=0.02, radius_m=0.05),
        AddedMass("bolt behind", 0.6, length_m=0.02, radius_m=0.01),
        AddedMass("along it all", 0.3, length_m=0.4, radius_m=0.01),
        AddedMass("blanket", 0.58, length_m=0.01, radius_m=0.03, role="wrap"),
        Cord("cord", 0.55),
    )
    rocket = Rocket("made up", parts)
    inside = ("bay", "long nut", "sled", "rear plate")
    in_nose = dict.fromkeys(("eye bolt", "ballast"), True)
    fixed = in_nose | dict.fromkeys(inside, True)
    assert ahead_by_coupler(rocket, 0.45, True) == fixed
    assert ahead_by_coupler(rocket, 0.45, False) == fixed | dict.fromkeys(inside, False)
    assert ahead_by_coupler(rocket, 0.65, False) == in_nose  # it spans no such cut
    items = [MassItem(each, 1.0, 0.5, 0.0, 0.0) for each in ("sled", "glue")]
    assert share_aft(items, 0.45) == 1.0
    assert share_aft(items, 0.45, fixed) == approx(0.5)


def set_of(count: int, phase_deg: float = 0.0) -> Fins:
    """Fins with a root of 200 mm from 1 m on."""
    outline = ((0.0, 0.0), (0.1, 0.1), (0.2, 0.0))
    phase = math.radians(phase_deg)
    return Fins("fins", 1.0, count=count, outline_m=outline, roll_phase_rad=phase)


def test_fins_are_spread_evenly_from_the_first() -> None:
    found = [math.degrees(angle) for angle in fin_angles_rad(set_of(4, 10.0))]
    assert found == approx([10.0, 100.0, 190.0, 280.0])


@pytest.mark.parametrize(
    ("sets", "angle_deg"),
    [
        ([], 180.0),
        ([set_of(3)], 180.0),
        ([set_of(3, 10.0)], 190.0),  # gaps at 70, 190, 310
        ([set_of(4)], 135.0),  # 135 and 225 are as near to down: the first
        ([set_of(4), set_of(4, 30.0)], 195.0),  # gaps at 150 and 195 beside down
        ([set_of(1, 170.0)], 350.0),  # its one gap
    ],
)
def test_the_guides_stand_in_the_gap_nearest_to_down(sets: list[Fins], angle_deg: float) -> None:
    assert math.degrees(rail_guide_angle_rad(sets)) == approx(angle_deg)


@pytest.mark.parametrize(
    ("one", "other", "apart"), [(350, 10, 20), (10, 350, 20), (0, 180, 180), (90, 45, 45)]
)
def test_two_directions_are_half_a_turn_apart_at_most(one: int, other: int, apart: int) -> None:
    assert math.degrees(apart_rad(math.radians(one), math.radians(other))) == approx(apart)


def bay_at(station_m: float, vents: int, length_m: float = 0.1) -> Bay:
    return Bay("bay", station_m, length_m=length_m, inner_diameter_m=0.076, vent_count=vents)


def test_vents_are_drilled_near_the_front_of_their_bay() -> None:
    """20 mm behind it, a declared place, and in a short bay at its middle."""
    assert vent_station_m(bay_at(0.3, 3)) == approx(0.32)
    assert vent_station_m(bay_at(0.3, 3, 0.03)) == approx(0.315)


@pytest.mark.parametrize(
    ("station_m", "vents", "fins", "angles_deg"),
    [
        (0.3, 0, 3, []),
        (0.3, 1, 3, [0.0]),  # opposite to the guides
        (0.3, 2, 4, [45.0, 225.0]),  # guides at 135
        (0.3, 3, 3, [0.0, 120.0, 240.0]),  # guides at 180, midway between two
        # beside fins: vents at t + 120 k are t or 120 - t off a fin and 60 - t off the guides
        (1.0, 3, 3, [30.0, 150.0, 270.0]),
        (0.9801, 3, 3, [30.0, 150.0, 270.0]),  # vents at 1.0001 m, the roots from 1 m
        (1.1799, 3, 3, [30.0, 150.0, 270.0]),  # at 1.1999 m, they end at 1.2 m
        (1.1801, 3, 3, [0.0, 120.0, 240.0]),
    ],
)
def test_vents_keep_clear_of_guides_and_fins(
    station_m: float, vents: int, fins: int, angles_deg: list[float]
) -> None:
    rocket = Rocket("r", (set_of(fins), bay_at(station_m, vents)))
    found = vent_angles_rad(rocket, bay_at(station_m, vents))
    assert [math.degrees(angle) for angle in found] == approx(angles_deg, abs=1e-9)
