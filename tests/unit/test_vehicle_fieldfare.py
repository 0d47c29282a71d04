"""The invented rocket of the demo against a hand check of its mass table.

The table gives mass and balance point of every part in whole grams and millimetres, and for the
whole rocket 1.461 kg dry, 1.766 kg and 771.1 mm with the 305 g motor flush with the tail, pitch
inertia 0.224 kg m2. Held: derived by hand from the same table. Mass and CG are therefore met to
the printed digit. The lengths over which parts are spread are not in the table (those of tubes,
nose, fins and motor are known; recovery, sled, ballast, paint are estimated here), and their own
inertias make an eighth of the total: the hand figure is met within 3 %.
"""

import pytest

from goodflight.physics.motor import Motor, grain_item, motor_case_item
from goodflight.physics.vehicle import combine, mass_items, part_item
from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Material

# name, grams, balance point in mm, length in mm over which it is spread
TABLE = (
    ("nose", 144, 150, 240),
    ("payload tube", 68, 350, 220),
    ("rivets", 4, 300, 0),
    ("coupler, bulkheads, eyebolt", 95, 460, 150),
    ("sled, logger, battery, camera", 95, 400, 140),
    ("main tube", 236, 840, 760),
    ("parachute, cord, blanket, links", 318, 680, 400),
    ("motor tube", 32, 1090, 260),
    ("rings", 60, 1083, 240),
    ("fins", 92, 1140, 150),
    ("fillets and internal epoxy", 104, 1140, 150),
    ("retainer", 35, 1215, 0),
    ("guides", 16, 1045, 290),
    ("U-bolt", 25, 962, 0),
    ("paint", 92, 740, 1220),
    ("nose ballast", 45, 70, 20),
)
MOTOR = Motor(
    "H-b (invented)",
    (0.0, 0.04, 0.12, 0.40, 0.90, 1.30, 1.60, 1.75, 1.82),
    (0.0, 165.0, 205.0, 188.0, 158.0, 124.0, 82.0, 35.0, 0.0),
    propellant_kg=0.128,
    loaded_kg=0.305,
    length_m=0.203,
    diameter_m=0.038,
    delay_s=11.0,
)


def rocket() -> p.Rocket:
    parts = tuple(
        p.AddedMass(
            name,
            (middle - length / 2) / 1000,
            mass_kg=grams / 1000,
            length_m=length / 1000,
            radius_m=0.038,
        )
        for name, grams, middle, length in TABLE
    )
    return p.Rocket("Fieldfare (invented)", parts)


def test_dry_mass() -> None:
    assert combine(mass_items(rocket())).mass_kg == pytest.approx(1.461, abs=0.0005)


def test_ready_to_fly_mass_cg_and_inertia() -> None:
    motor = [motor_case_item(MOTOR, 1.220), grain_item(MOTOR, 1.220)]
    whole = combine([*mass_items(rocket()), *motor])
    assert whole.mass_kg == pytest.approx(1.766, abs=0.0005)
    assert whole.cg_m == pytest.approx(0.7711, abs=0.00005)
    assert whole.pitch_inertia_kg_m2 == pytest.approx(0.224, rel=0.03)


def test_shapes_agree_with_the_weighed_parts() -> None:
    """By hand: pi/4 (79^2 - 76^2) mm2 x 760 mm = 277.6 cm3; 236 g means 850 kg/m3."""
    wall = Material("kraft paper with glass cloth", 850.0)
    tube = p.Tube("main", 0.46, wall, length_m=0.76, outer_diameter_m=0.079, inner_diameter_m=0.076)
    found = part_item(tube)
    assert found is not None
    assert found.mass_kg == pytest.approx(0.236, abs=0.0002)
    assert found.station_m == pytest.approx(0.840)
    outline = ((0.0, 0.0), (0.07, 0.08), (0.13, 0.08), (0.15, 0.0))
    fins = p.Fins(
        "fins",
        1.06,
        Material("birch plywood", 680.0),
        count=3,
        outline_m=outline,
        thickness_m=0.004,
        body_radius_m=0.0395,
        tab_length_m=0.12,
        tab_depth_m=0.019,
        tab_offset_m=0.015,
        edges="blunt",
    )
    panels = part_item(fins)
    assert panels is not None
    # 68.5 g of panel and 18.6 g of tab; the table says 92 g: glue-soaked ply weighs a little more
    assert panels.mass_kg == pytest.approx(0.0871, abs=0.0002)
