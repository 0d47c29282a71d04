"""A made-up rocket for the workbench tests: one tube, fins with tabs, no motor."""

from goodflight.physics.vehicle import parts as p
from goodflight.project.designed import DesignedRocket
from goodflight.studies.bench.places import FinCan, fin_can

INCH = 0.0254


def rocket(count: int = 4, diameter_m: float = 4 * INCH) -> DesignedRocket:
    fins = p.Fins(
        "fins",
        0.8,
        count=count,
        outline_m=((0, 0), (0.05, 0.08), (0.10, 0.08), (0.15, 0)),
        thickness_m=0.004,
        body_radius_m=diameter_m / 2,
        tab_length_m=0.10,
        tab_depth_m=0.02,
        tab_offset_m=0.02,
        edges="bevelled",
        bevel_m=0.008,
    )
    tube = p.Tube(
        "tube", 0.2, length_m=0.76, outer_diameter_m=diameter_m, inner_diameter_m=diameter_m - 0.003
    )
    nose = p.Nose("nose", 0.0, length_m=0.2, diameter_m=diameter_m, wall_m=0.002)
    return DesignedRocket("made up", (nose, tube, fins))


def can_of(made: p.Rocket) -> FinCan:
    """The fins on their tube; there are some."""
    found = fin_can(made)
    assert found is not None
    return found
