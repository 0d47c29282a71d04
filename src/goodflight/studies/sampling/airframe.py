"""What is uncertain about the airframe: masses, balance, lengths, how straight the fins stand."""

import math
from collections.abc import Iterator
from typing import Final

from goodflight.physics.vehicle.fins import shaped_unsaid
from goodflight.physics.vehicle.parts import FinEdges, Fins
from goodflight.studies.case.planned import Case, fins_of, whole_of
from goodflight.studies.sampling import model
from goodflight.studies.sampling.quantity import (
    KNOWLEDGE,
    Family,
    Measured,
    Quantity,
    Shown,
    Stated,
    shown_over,
)
from goodflight.studies.sampling.spread import Even, Normal, Positive, Relative

ROUGHNESS: Final = ("surface", "roughness")  # table and key
BY_EYE: Final = "a finish is judged by eye; a roughness gauge is a workshop's"
_TOLD = "as the project says, or by how the figure is known"


def _masses(case: Case) -> Iterator[Stated]:
    for item in case.items:
        path = case.origin.mass_paths.get(item.name, "")
        yield Stated(item.mass_kg, item.mass_sigma_kg, item.known, path, name=item.name)


def _balances(case: Case) -> Iterator[Stated]:
    for item in case.items:
        path = case.origin.mass_paths.get(item.name, "")
        yield Stated(item.station_m, item.station_sigma_m, item.known, path, name=item.name)


def _figures(case: Case) -> Iterator[Stated]:
    for each in case.uncertainty.sensitivities:
        yield Stated(
            each.value,
            each.sigma,
            each.known,
            each.path,
            name=each.path,
            label=each.label,
            dimension=each.dimension,
            unmeasured=BY_EYE if (each.table, each.key) == ROUGHNESS else "",
        )


def _cants(case: Case) -> Iterator[Stated]:
    fins = fins_of(case.rocket)
    for number in range(1, fins.count + 1 if fins is not None else 1):
        assert fins is not None
        sigma = case.uncertainty.cant_sigma_rad or None
        yield Stated(fins.cant_rad, sigma, fins.known, reason=cant.reason, name=str(number))


def _shear_modulus(case: Case) -> float | None:
    fins = fins_of(case.rocket)
    return None if fins is None or fins.material is None else fins.material.shear_modulus_pa


mass = Family(
    "mass:",
    "mass of {}",
    "mass",
    Positive(0.0),
    nature=KNOWLEDGE,
    because="builder",
    reason=_TOLD,
    members=_masses,
    measured_by=Measured("weigh it, and balance it on an edge", 5.0, "kitchen scale", 0.001),
)
balance = Family(
    "place:",
    "balance of {}",
    "length",
    Normal(0.0),
    nature=KNOWLEDGE,
    because="builder",
    reason=_TOLD,
    members=_balances,
    group_as="mass:",
    measured_by=Measured("weigh it, and balance it on an edge", 5.0, "edge and ruler", 0.002),
)


def _in_one_mass(case: Case) -> bool:
    return whole_of(case.rocket) is not None


_PARTS_ALONE: Final = Measured(
    "weigh the parts ahead of the separation one by one: each comes out of the whole",
    15.0,
    "kitchen scale",
    0.02,
)
fore_lies = Quantity(
    "fore_lies",
    "where the mass ahead of the separation lies",
    "ratio",
    Normal(0.15),
    nature=KNOWLEDGE,
    because="guess",
    reason="known as one mass for the whole: each side of the separation balances where its parts "
    "do by shape and material, give or take a share of its length; of the twelve well-built "
    "rockets and the demo the side ahead is off by 0.15 of it (ballast, bulkheads, bay)",
    exists=_in_one_mass,
    at="weighings.toml:weighing",
    measured_by=_PARTS_ALONE,
)
aft_lies = Quantity(
    "aft_lies",
    "where the mass behind the separation lies",
    "ratio",
    Normal(0.05),
    nature=KNOWLEDGE,
    because="guess",
    reason="as ahead of it; the side behind is off by 0.04 of its length in those rockets",
    exists=_in_one_mass,
    at="weighings.toml:weighing",
    measured_by=_PARTS_ALONE,
)
SECTIONS: Final = (mass, fore_lies, aft_lies)  # what each side of a separation weighs
inertia = Quantity(
    "pitch_inertia",
    "pitch inertia beside what the parts give",
    "ratio",
    Relative(0.03),
    nature=KNOWLEDGE,
    because="guess",
    reason="parts are taken as even rods on the axis; own inertias are a small share of the whole",
    given=lambda case: case.uncertainty.inertia and Stated(*case.uncertainty.inertia, "measured"),
    middle=1.0,
    at="weighings.toml:weighing",
    measured_by=Measured(
        "hang it level on two equal wires and time ten swings about the upright axis",
        20.0,
        "two wires, tape and watch",
        0.02,
    ),
)
figure = Family(
    "figure:",
    "{}",
    "length",
    Normal(0.0),
    nature=KNOWLEDGE,
    because="builder",
    reason=_TOLD,
    members=_figures,
    measured_by=Measured("measure it with a calliper or rule", 3.0, "calliper or rule", 0.0005),
)
cant = Family(
    "cant:",
    "alignment of the fins",
    "angle",
    Normal(math.radians(0.5)),
    nature=KNOWLEDGE,
    because="guess",
    members=_cants,
    group="fin_alignment",
    reason="fins set by hand on a marked line, when the project says nothing: [[1 mm]] over a "
    "[[115 mm]] root",
    measured_by=Measured(
        "measure every fin against a straight edge",
        15.0,
        "straight edge and calliper",
        math.radians(0.1),
        Shown("angle", lambda _case, angle: angle, once=True),
    ),
)
shear_modulus = Quantity(
    "shear_modulus",
    "stiffness of the fin material",
    "ratio",
    Relative(0.15),
    nature=KNOWLEDGE,
    because="guess",
    reason="plywood panels scatter 10 to 20 %",
    measured_by=Measured(
        "twist a strip of the sheet with a weight",
        45.0,
        "weight, protractor and calliper",
        0.08,
        shown_over("pressure", _shear_modulus),
    ),
)


def _unsaid_edges(case: Case) -> str:
    sets = (p for p in case.rocket.of_kind(Fins) if shaped_unsaid(p.edges, p.bevel_m))
    key: dict[FinEdges | None, str] = {None: "edges", "bevelled": "bevel"}
    return next((f"rocket.toml:part[{x.name}].{key[x.edges]}" for x in sets), "")


fin_edges = Quantity(
    "fin_edges",
    "shape of the fins' edges",
    "ratio",
    Even(1.0),
    nature=KNOWLEDGE,
    because="hoerner1965",
    reason="a square edge meets 0.85 of the air's pressure, a faired one next to none; not said "
    "how they are shaped, or how wide a bevel is: anything from the least drag to the most",
    exists=lambda case: bool(_unsaid_edges(case)),
    at=_unsaid_edges,
    measured_by=Measured(
        "look at the edges of a fin; write down their shape, of a bevel its width",
        1.0,
        "calliper",
        0.01,
    ),
)
DRAG: Final = (model.axial, fin_edges)  # what moves the rocket's drag
landing_stands = Quantity(
    "landing_stands",
    "how hard a landing the airframe survives",
    "ratio",
    Normal(1.0),
    nature=KNOWLEDGE,
    because="practice",
    reason="between practice's upper descent speed and the [[101.7 J]] landing energy limit",
    measured_by=Measured(
        "drop a weighted piece of the same tube on the field's ground from the "
        "height that gives the landing speed",
        45.0,
        "tape and scale",
        0.5,
    ),
)
