"""Mass, balance point and inertia of every part and of the whole rocket.

A part's shape and material give its mass; a mass that was weighed or printed on a label replaces
it (the inertia scales along), and a balance point that was found replaces the computed one. Glue
fillets and the paint film are parts of their own. The motor is not in here.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.vehicle import fins as fin_shapes
from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle import profile, solids
from goodflight.physics.vehicle.part import Part
from goodflight.physics.vehicle.solids import Solid

Array = NDArray[np.float64]
Values = NDArray[np.float64] | float

# what closes a coupler or a nose where nobody weighed it: a disc of birch plywood with an eyebolt
BULKHEAD_M, PLY_KG_M3, BOLT_KG = 0.006, 680.0, 0.025  # common practice, no source
FITTINGS_SIGMA = 0.4  # relative: discs of 4 to 9 mm, bolts of 10 to 50 g; our guess


@dataclass(frozen=True)
class MassItem:
    """One mass on the rocket's axis: how heavy, where it balances, inertia about its own CG."""

    name: str
    mass_kg: float
    station_m: float  # of its CG, aft of the nose tip
    pitch_inertia_kg_m2: float
    roll_inertia_kg_m2: float
    mass_sigma_kg: float = 0.0
    station_sigma_m: float = 0.0
    known: str = "guess"
    kind: str = "added_mass"  # part kind, or fillet, paint, motor_case


@dataclass(frozen=True)
class MassProperties:
    """Several masses taken together; inertias about the common CG. Spreads: one sigma."""

    mass_kg: float
    cg_m: float
    pitch_inertia_kg_m2: float
    roll_inertia_kg_m2: float
    mass_sigma_kg: float
    cg_sigma_m: float


@dataclass(frozen=True, eq=False)
class MassTrials:
    """Mass properties of many flights, one entry of each array per flight."""

    mass_kg: Array
    cg_m: Array
    pitch_inertia_kg_m2: Array
    roll_inertia_kg_m2: Array


def kind_of(part: Part) -> str:
    """Name of the part's kind as the project files write it, e.g. "motor_tube".

    Parameters
        part : Part - any. [-]
    Returns
        kind : str - as the files write it. [-]
    Source
        Definition.
    """
    return _kind_word(type(part).__name__)


@cache
def _kind_word(name: str) -> str:
    words = ("_" + sign if sign.isupper() else sign for sign in name)
    return "".join(words).lower().lstrip("_")


def _with_fittings(part: Part, density_kg_m3: float, solid: Solid) -> tuple[Solid, float]:
    """A part whose mass is worked out, with what closes it, and the spread of that mass [kg]."""
    at = part.closed_at_m
    if not at:
        return solid, density_kg_m3 * part.shaped_sigma_m3
    disc = solids.cylinder(BULKHEAD_M, part.diameters_m[0] / 2.0, 0.0)
    kg = BOLT_KG / len(at) + PLY_KG_M3 * disc.amount
    share = kg / density_kg_m3 / disc.amount
    fitted = Solid(disc.amount * share, 0.0, disc.pitch * share, disc.roll * share)
    pieces = [(solid, 0.0), *((fitted, station) for station in at)]
    return solids.join(pieces), FITTINGS_SIGMA * kg * len(at)


def part_item(part: Part) -> MassItem | None:
    """Mass, CG and inertia of one part, or None for a bay, which is empty room.

    Computed mass = density x volume; a given mass replaces it and scales the inertia; a given
    balance point moves it.

    Parameters
        part : Part - any part kind. [-]
    Returns
        item : MassItem or None - as used by `combine`. [kg, m, kg m2]
    Raises
        ValueError - neither a mass nor a material that would give one; negative mass
    Validity
        Masses lie on the rocket's axis: side-by-side placing is not modelled.
    Source
        Geometry.
    Example
        >>> part_item(p.AddedMass("ballast", 0.06, mass_kg=0.045, length_m=0.02)).station_m
        0.06999999999999999
    """
    if part.room and part.mass_kg is None:
        return None
    found: MassItem | None = part.kept.get(part_item)
    if found is None:
        found = part.kept[part_item] = _item(part)
    return found


def _item(part: Part) -> MassItem:
    solid, sigma = part.solid(), part.mass_sigma_kg
    if part.mass_kg is not None:
        mass = part.mass_kg
    elif part.material is not None and solid.amount > 0.0:
        solid, sigma = _with_fittings(part, part.material.density_kg_m3, solid)
        mass = part.material.density_kg_m3 * solid.amount
    else:
        raise ValueError(
            f"part '{part.name}' ({kind_of(part)}) has no mass and nothing to compute one from; "
            "weigh it and give its mass, or give a material and all its sizes."
        )
    if mass < 0.0:
        raise ValueError(f"part '{part.name}': mass {mass:g} kg is below zero; weigh it again.")
    if solid.amount <= 0.0:
        solid = part.even_solid()
    station = part.station_m + solid.centroid_m if part.balance_m is None else part.balance_m
    return MassItem(
        name=part.name,
        mass_kg=mass,
        station_m=station,
        pitch_inertia_kg_m2=mass * solid.pitch / solid.amount,
        roll_inertia_kg_m2=mass * solid.roll / solid.amount,
        mass_sigma_kg=sigma,
        station_sigma_m=part.balance_sigma_m,
        known=part.known,
        kind=kind_of(part),
    )


def _fillet_item(part: p.Fins) -> MassItem | None:
    if part.fillet_radius_m <= 0.0 or part.fillet_density_kg_m3 <= 0.0 or part.mass_kg == 0.0:
        return None  # none, or with the fins within another entry
    solid = fin_shapes.fillet_solid(part)
    density = part.fillet_density_kg_m3
    mass = fin_shapes.fillet_kg(part)
    return MassItem(
        name=f"{part.name}: fillets",
        mass_kg=mass,
        station_m=part.station_m + solid.centroid_m,
        pitch_inertia_kg_m2=density * solid.pitch,
        roll_inertia_kg_m2=density * solid.roll,
        mass_sigma_kg=part.fillet_sigma * mass,
        known="guess",
        kind="fillet",
    )


def _paint_item(rocket: p.Rocket) -> MassItem | None:
    """The paint film on the outer body and both faces of all fins, as one skin."""
    if rocket.paint_kg_m2 <= 0.0:
        return None
    pieces = [
        (solids.skin(part.meridian(), part.length_m), part.station_m)
        for part in profile.outer_parts(rocket)
    ]
    pieces += [(fin_shapes.fin_faces(part), part.station_m) for part in rocket.of_kind(p.Fins)]
    skin = solids.join(pieces)
    film = rocket.paint_kg_m2
    mass = film * skin.amount
    return MassItem(
        name="paint film",
        mass_kg=mass,
        station_m=skin.centroid_m,
        pitch_inertia_kg_m2=film * skin.pitch,
        roll_inertia_kg_m2=film * skin.roll,
        mass_sigma_kg=rocket.paint_sigma * mass,
        known="guess",
        kind="paint",
    )


def mass_items(rocket: p.Rocket) -> tuple[MassItem, ...]:
    """Every mass of the rocket without its motor: parts, glue fillets, paint film.

    Parameters
        rocket : Rocket - all parts. [-]
    Returns
        items : tuple of MassItem - in the order of the parts; fillets follow their fins, the
        paint comes last. [kg, m, kg m2]
    Raises
        ValueError - see part_item
    Validity
        A weighed fin set with fillets on it must have `fillet_radius_m` 0 in its mass (or its
        mass would be counted twice); the project layer says so to the builder.
    Source
        Geometry.
    Example
        >>> [i.name for i in mass_items(p.Rocket("r", (p.AddedMass("a", 0.1, mass_kg=0.2),)))]
        ['a']
    """
    items: list[MassItem | None] = []
    for part in rocket.parts:
        items.append(part_item(part))
        if isinstance(part, p.Fins):
            items.append(_fillet_item(part))
    items.append(_paint_item(rocket))
    return tuple(item for item in items if item is not None)


def ring_inertia_kg_m2(mass_kg: Values, radius_m: float) -> Array:
    """Inertia of a thin tube about its axis: m r^2 [kg m2].

    Parameters
        mass_kg : float or array - of the tube. [kg]
        radius_m : float - of its wall. [m]
    Returns
        inertia : array. [kg m2]
    Source
        Mechanics.
    """
    return np.asarray(mass_kg, dtype=np.float64) * radius_m**2


def combine(items: Sequence[MassItem]) -> MassProperties:
    """Mass, CG and inertia of several masses taken together (parallel axes).

    M = sum m, X = sum m x / M, I = sum (I_own + m (x - X)^2); spreads of independent masses and
    stations: sigma_X^2 = sum ((x - X)/M)^2 sigma_m^2 + (m/M)^2 sigma_x^2.

    Parameters
        items : sequence of MassItem - at least one with mass. [kg, m, kg m2]
    Returns
        properties : MassProperties - inertias about the common CG. [kg, m, kg m2]
    Raises
        ValueError - no mass at all
    Validity
        Exact; spreads to first order.
    Source
        Parallel-axis theorem; first-order propagation.
    Example
        >>> combine([MassItem("a", 1.0, 0.0, 0.0, 0.0), MassItem("b", 1.0, 2.0, 0.0, 0.0)])
        ... # doctest: +ELLIPSIS
        MassProperties(mass_kg=2.0, cg_m=1.0, pitch_inertia_kg_m2=2.0, ...)
    """
    mass = sum(i.mass_kg for i in items)
    if mass <= 0.0:
        raise ValueError("these parts weigh nothing together; give at least one part a mass.")
    cg = sum(i.mass_kg * i.station_m for i in items) / mass
    cg_variance = sum(
        ((i.station_m - cg) / mass * i.mass_sigma_kg) ** 2
        + (i.mass_kg / mass * i.station_sigma_m) ** 2
        for i in items
    )
    return MassProperties(
        mass_kg=mass,
        cg_m=cg,
        pitch_inertia_kg_m2=sum(
            i.pitch_inertia_kg_m2 + i.mass_kg * (i.station_m - cg) ** 2 for i in items
        ),
        roll_inertia_kg_m2=sum(i.roll_inertia_kg_m2 for i in items),
        mass_sigma_kg=sqrt(sum(i.mass_sigma_kg**2 for i in items)),
        cg_sigma_m=sqrt(cg_variance),
    )


def combine_trials(items: Sequence[MassItem], masses_kg: Array, stations_m: Array) -> MassTrials:
    """`combine` for many flights at once; own inertias scale with each drawn mass.

    Parameters
        items : sequence of MassItem, k of them - the nominal masses. [kg, m, kg m2]
        masses_kg : array (n, k) - drawn masses. [kg]
        stations_m : array (n, k) - drawn CG stations. [m]
    Returns
        flights : MassTrials - arrays (n,). [kg, m, kg m2]
    Raises
        ValueError - an array has not one column per item
    Validity
        As `combine`.
    Source
        As `combine`.
    Example
        >>> item = MassItem("a", 1.0, 0.5, 0.1, 0.0)
        >>> combine_trials([item], np.array([[2.0]]), np.array([[0.5]])).pitch_inertia_kg_m2
        array([0.2])
    """
    count = len(items)
    if masses_kg.shape[-1] != count or stations_m.shape[-1] != count:
        raise ValueError(
            f"{count} mass items but {masses_kg.shape[-1]} columns of masses and "
            f"{stations_m.shape[-1]} of stations; give one column per item."
        )
    nominal = np.array([i.mass_kg for i in items])
    scale = np.divide(1.0, nominal, out=np.zeros(count), where=nominal > 0.0)
    pitch = np.array([i.pitch_inertia_kg_m2 for i in items]) * scale
    roll = np.array([i.roll_inertia_kg_m2 for i in items]) * scale
    mass = masses_kg.sum(axis=1)
    cg = (masses_kg * stations_m).sum(axis=1) / mass
    arms = (stations_m - cg[:, None]) ** 2
    return MassTrials(
        mass_kg=mass,
        cg_m=cg,
        pitch_inertia_kg_m2=(masses_kg * pitch).sum(axis=1) + (masses_kg * arms).sum(axis=1),
        roll_inertia_kg_m2=(masses_kg * roll).sum(axis=1),  # no product: a part has the same bits
    )
