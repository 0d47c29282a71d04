"""What is uncertain about strength in flight and at touch-down, and about the touch-down itself."""

import math
from typing import Final

from goodflight.physics.structure import (
    FILLET_SHARE,
    KRAFT_PLY_PA,
    PLY_ROLLING_SHEAR_PA,
    equivalent_trapezoid,
)
from goodflight.physics.structure.crush import crush_pa
from goodflight.physics.vehicle.parts import Tube
from goodflight.studies.case.planned import Case, fins_of, guides_of
from goodflight.studies.sampling.quantity import CHANCE, KNOWLEDGE, Measured, Quantity, shown_over
from goodflight.studies.sampling.spread import Even, Folded, Relative

_LANDING: Final = "it differs from landing to landing; nothing on the ground shows it"


def _bending(case: Case) -> float | None:
    fins = fins_of(case.rocket)
    return None if fins is None or fins.material is None else fins.material.bending_strength_pa


def grain_share(case: Case) -> float | None:
    """Share of the fins' bending strength that their grain leaves; None = not said.

    A strip broken as the fin stands has it in its strength.
    """
    fins = fins_of(case.rocket)
    if fins is None or fins.material is None or fin_bending.key in case.uncertainty.read:
        return 1.0
    across = fins.material.across_share
    return {"outward": 1.0, "along": across, None: 1.0 if across >= 1.0 else None}[fins.grain]


def _plies(case: Case) -> float:
    """What the plies of the tube hold, as measured where they were."""
    read = case.uncertainty.read.get(kraft_ply.key)
    return KRAFT_PLY_PA * (1.0 if read is None else read.value)


def _fillet(case: Case) -> float | None:
    fins = fins_of(case.rocket)
    if fins is None:
        return None
    chord = equivalent_trapezoid(fins.outline_m).root_chord_m
    return fins.fillet_radius_m or FILLET_SHARE * chord


def _guide(case: Case) -> float | None:
    guides = guides_of(case.rocket)
    return None if guides is None else guides.strength_n


def crush_of(case: Case) -> float | None:
    """Crushing strength that is taken for the last tube, whose edge meets the ground."""
    tubes = list(case.rocket.of_kind(Tube))
    material = max(tubes, key=lambda tube: tube.station_m).material if tubes else None
    return None if material is None else crush_pa(material.family, material.bending_strength_pa)


fin_bending = Quantity(
    "fin_bending",
    "bending strength of the fins",
    "ratio",
    Relative(0.15),
    nature=KNOWLEDGE,
    because="guess",
    reason="plywood panels scatter 10 to 20 %",
    measured_by=Measured(
        "break a strip of the sheet, cut as a fin stands, with a bucket of water",
        45.0,
        "bucket, scale and calliper",
        0.06,
        shown_over("pressure", _bending),
    ),
)
fin_grain = Quantity(
    "fin_grain",
    "way of the fins' face grain",
    "ratio",
    Even(1.0),
    nature=KNOWLEDGE,
    because="memory",
    reason="[[4 mm]] birch plywood keeps 0.16 of its bending strength across the face grain, "
    "[[6.5 mm]] 0.57, [[9 mm]] 0.70 (handbook); not said which way it runs",
    exists=lambda case: grain_share(case) is None,
    measured_by=Measured(
        "look which way the face grain of a fin runs, root to tip or along the "
        "root, photograph it, write it down (grain of the fins)",
        1.0,
        "camera",
        0.01,
    ),
)
tube_damp = Quantity(
    "tube_damp",
    "moisture of the paper tubes",
    "ratio",
    Even(1.0),
    nature=KNOWLEDGE,
    because="correa2004",
    reason="8 % of its crushing strength for each per cent of moisture (seen): 0.7 left after a "
    "damp shed; not said where the body was kept",
    exists=lambda case: case.workshop.tube_kept is None,
    measured_by=Measured(
        "say where the body lay before the flight; two days in a dry room dry it",
        1.0,
        "hygrometer",
        0.05,
    ),
)
ply_shear = Quantity(
    "ply_shear",
    "rolling shear of the plywood",
    "ratio",
    Relative(0.12),
    nature=KNOWLEDGE,
    because="memory",
    reason="[[2 to 3 MPa]] for birch plywood, handbooks",
    measured_by=Measured(
        "glue a block across a strip of the sheet and shear it off with a lever",
        60.0,
        "lever and scale",
        0.08,
        shown_over("pressure", lambda _case: PLY_ROLLING_SHEAR_PA),
    ),
)
kraft_ply = Quantity(
    "kraft_ply",
    "plies of the paper tube",
    "ratio",
    Relative(0.20),
    nature=KNOWLEDGE,
    because="memory",
    reason="[[0.3 to 0.6 MPa]]",
    measured_by=Measured(
        "tear a glued block off a scrap of the tube",
        45.0,
        "lever and scale",
        0.1,
        shown_over("pressure", lambda _case: KRAFT_PLY_PA),
    ),
)
bond_work = Quantity(
    "bond_work",
    "workmanship of the bonds",
    "ratio",
    Relative(0.15),
    nature=KNOWLEDGE,
    because="practice",
    reason="sanding, wetting and gaps of a hand-made joint",
    measured_by=Measured(
        "glue a test piece and tear it",
        60.0,
        "lever and scale",
        0.1,
        shown_over("pressure", _plies),
    ),
)
load_share = Quantity(
    "load_share",
    "uneven share of the load",
    "ratio",
    Relative(0.15),
    nature=KNOWLEDGE,
    because="guess",
    reason="the aft part of a swept root and the foremost ring carry more",
    not_measurable="it takes strain gauges along the joint",
)
fillet_size = Quantity(
    "fillet_size",
    "size of the fillets",
    "ratio",
    Relative(0.20),
    nature=KNOWLEDGE,
    because="practice",
    reason="drawn by finger; 4 to 8 % of the root chord where nothing is given",
    measured_by=Measured(
        "measure the fillets with a coin of known radius",
        5.0,
        "coins",
        0.08,
        shown_over("length", _fillet),
    ),
)
coupler_need = Quantity(
    "coupler_need",
    "length of coupler that a joint needs",
    "ratio",
    Relative(0.25),
    nature=KNOWLEDGE,
    because="practice",
    reason="how little does depends on fit, wall and length of the body",
    not_measurable="no test tells it for all joints; of one, hold both ends and bend: no gap opens",
)
guide_strength = Quantity(
    "guide_strength",
    "strength of the rail guides",
    "ratio",
    Relative(0.25),
    nature=KNOWLEDGE,
    because="practice",
    reason="screw in wood or plastic",
    measured_by=Measured(
        "hang weights on one guide in a scrap of tube",
        45.0,
        "weights",
        0.1,
        shown_over("force", _guide),
    ),
)
fin_gust = Quantity(
    "fin_gust",
    "gust at greatest speed",
    "ratio",
    Relative(0.40),
    nature=CHANCE,
    because="guess",
    reason="2 standard deviations of the gusts; the strongest second is not known",
    not_measurable="the gust that meets the rocket is not known before it flies",
)
touch_tilt = Quantity(
    "touch_tilt",
    "tilt at touch-down",
    "angle",
    Folded(math.radians(12.0)),
    nature=CHANCE,
    because="guess",
    reason="a tail hung from its forward end swings and drifts",
    not_measurable=_LANDING,
)
touch_roll = Quantity(
    "touch_roll",
    "which way the fins point at touch-down",
    "ratio",
    Even(1.0),
    nature=CHANCE,
    because="derived",
    reason="any way: even between two fins",
    not_measurable=_LANDING,
)
ground_gives = Quantity(
    "ground_gives",
    "how far the ground gives",
    "ratio",
    Relative(0.25),
    nature=KNOWLEDGE,
    because="guess",
    reason="[[30 mm]] of soft soil or stubble",
    measured_by=Measured(
        "drop a weighted offcut of the tube from [[1.8 m]] onto the field and measure the dent",
        20.0,
        "tape",
        0.12,
    ),
)
bedding = Quantity(
    "bedding",
    "hardness of the ground",
    "ratio",
    Relative(0.40),
    nature=KNOWLEDGE,
    because="derived",
    reason="fields differ by a factor 2 to 3, moisture most of it; 12 to 32 % across one (seen)",
    measured_by=Measured(
        "drop a weighted offcut of the tube from [[1.8 m]] onto the field and "
        "measure the dent: modulus = mass x (speed / dent)^2 / edge area",
        20.0,
        "tape and scale",
        0.20,
    ),
)
crush = Quantity(
    "crush",
    "crushing strength of the tube's edge",
    "ratio",
    Relative(0.25),
    nature=KNOWLEDGE,
    because="tezuka1990",
    reason="3 % within one make, 25 % between makes of paper tube",
    measured_by=Measured(
        "crush a ring of the tube on bathroom scales",
        30.0,
        "bathroom scales and lever",
        0.08,
        shown_over("pressure", crush_of),
    ),
)
