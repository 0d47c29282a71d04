"""Where everything is: outline, contents, fins, guides, balance and air force, for the drawing.

Answers "what does the rocket look like in section, and how far is the centre of gravity from the
centre of pressure?" Uses the same masses and tables as the flight; nothing is simulated here.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Final

import numpy as np

from goodflight.physics.aero import cp_spread, rocket_shape
from goodflight.physics.aero.margin import normal_force
from goodflight.physics.aero.short_form import short_form_cp_m
from goodflight.physics.air import gust_incidence_rad
from goodflight.physics.flight import OUTCOME_INDEX, fly_ensemble
from goodflight.physics.motor import grain_item, motor_case_item
from goodflight.physics.vehicle import (
    MassItem,
    combine,
    fin_angles_rad,
    outer_profile,
    rail_guide_angle_rad,
)
from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.mass import kind_of
from goodflight.physics.vehicle.part import Part
from goodflight.project import Project
from goodflight.studies.case.planned import (
    Case,
    Joint,
    guides_of,
    joint_m,
    main_name,
    motor_aft_m,
)
from goodflight.studies.case.project_case import case_of
from goodflight.studies.case.weighed_model import NOT_ENTERED
from goodflight.studies.sampling import airframe
from goodflight.studies.sampling.trials import nominal

CP_MACH: Final = 0.3
TRAVEL_RAD: Final = math.radians(10.0)  # incidence for which the travel of the CP is shown
SKIN: Final = 0.95  # a mass at this share of the radius lies on the body: paint, fillets

Built = Mapping[str, MassItem]  # masses as built, by the name of their part


@dataclass(frozen=True)
class Mark:
    """A station with its spread (one standard deviation)."""

    station_m: float
    sigma_m: float


@dataclass(frozen=True)
class Piece:
    """A part of the body or something inside it, as a solid of revolution in section."""

    name: Annotated[str, "name of the part"]
    kind: Annotated[str, "kind of the part, motor, or skin for a mass on the body"]
    fore_m: Annotated[float, "front end, from the nose tip [m]"]
    aft_m: Annotated[float, "aft end [m]"]
    outer_radius_m: float
    inner_radius_m: float = 0.0
    mass_kg: Annotated[float | None, "mass as built [kg]; null = none, or within another entry"] = (
        None
    )
    balance_m: Annotated[float | None, "its own centre of gravity [m]"] = None
    known: Annotated[str, "guess, label, measured or flight"] = "guess"


@dataclass(frozen=True)
class FinSet:
    """Equal fins: outline of one as (station, radius), the angles of all."""

    name: str
    outline_m: tuple[tuple[float, float], ...]
    angles_rad: tuple[float, ...]
    thickness_m: float
    tab_m: tuple[float, float, float] | None  # fore, aft, depth
    mass_kg: float | None
    known: str


@dataclass(frozen=True)
class Layout:
    """One rocket with one motor, ready to be drawn. Stations from the nose tip, SI."""

    rocket: Annotated[str, "name of the rocket"]
    plan: Annotated[str, "name of the planned flight"]
    motor: Annotated[str, "name of the motor"]
    length_m: Annotated[float, "length of the body [m]"]
    diameter_m: Annotated[float, "largest diameter of the body [m]"]
    outline_m: tuple[tuple[float, float], ...]  # (station, radius)
    body: tuple[Piece, ...]
    contents: tuple[Piece, ...]
    fins: tuple[FinSet, ...]
    guides_m: tuple[float, ...]
    guide_height_m: float
    separation_m: float | None
    liftoff_mass_kg: Annotated[float, "mass ready to fly [kg]"]
    cg_liftoff: Mark
    cg_burnout: Mark
    cp: Mark
    cp_travel_m: float  # CP at 10 degrees of incidence
    margin_liftoff_cal: Annotated[
        float, "static margin ready to fly, the fins' lift on the body counted [calibres]"
    ]
    margin_burnout_cal: Annotated[float, "static margin without propellant [calibres]"]
    margin_short_cal: Annotated[
        float,
        "the same ready to fly by the short form, the fins' lift on the body left out; the 1 "
        "calibre of practice goes with it [calibres]",
    ] = math.nan
    gust_rad: Annotated[float, "angle of attack of the day's gust at rail exit [rad]"] = 0.0
    margin_gust_cal: Annotated[float, "static margin ready to fly at that angle [calibres]"] = (
        math.nan
    )
    burnout_mass_kg: float = 0.0
    measured: Annotated[int, "how many figures are measured"] = 0
    figures: Annotated[int, "of how many figures in the project"] = 0
    invented: Annotated[bool, "true when the project says that its figures are invented"] = False
    main_separation_m: float | None = None
    guide_angle_rad: float = math.pi  # about the axis, as the angles of the fins
    guides: Piece | None = None  # both rail guides, as one entry of the parts list


def layout(project: Project, plan: str | None = None) -> Layout:
    """Lay out the rocket of a plan: what `draw` shows, as figures.

    Parameters
    ----------
    project : Project - as loaded from its folder. [-]
    plan : str or None - which plan; None takes the first. [-]

    Returns
    -------
    layout : Layout - stations, outline, contents, CG, CP and margin. [SI]

    Raises
    ------
    NoSuchPlan; StudyRefused - the rocket lacks what a flight needs.

    Validity
    --------
    As `layout_of`.

    Example
    -------
    >>> found = goodflight.layout(goodflight.load("fieldfare"))
    >>> found.cp.station_m > found.cg_liftoff.station_m
    True
    """
    return layout_of(case_of(project, plan))


def layout_of(case: Case) -> Layout:
    """Lay out one planned rocket with its motor.

    Parameters
    ----------
    case : Case - the planned flight, resolved. [-]

    Returns
    -------
    layout : Layout - stations, outline, contents, CG, CP and margin. [SI]

    Validity
    --------
    CP at Mach 0.3; its spread is the model's own with its slopes, not that of the lengths.
    """
    profile = outer_profile(case.rocket)
    built = {item.name: item for item in case.items}
    aft = motor_aft_m(case.rocket)
    aft = profile.end_m if aft is None else aft
    case_item, grain = motor_case_item(case.motor, aft), grain_item(case.motor, aft)
    ready, empty = [*case.items, case_item, grain], [*case.items, case_item]
    joint = case.uncertainty.joint
    cg, cg_empty = balance(ready, joint), balance(empty, joint)
    cp = slow_cp_m(case)
    diameter = profile.reference_diameter_m
    guides = guides_of(case.rocket)
    sets = list(case.rocket.of_kind(p.Fins))
    gust = gust_angle_rad(case)
    at_gust = normal_force(case.tables, CP_MACH, gust).cp_m
    return Layout(
        rocket=case.rocket.name,
        plan=case.plan,
        motor=case.motor.name,
        length_m=profile.length_m,
        diameter_m=diameter,
        outline_m=tuple(zip(profile.stations_m.tolist(), profile.radii_m.tolist(), strict=True)),
        body=tuple(_body(case.rocket, built, diameter)),
        contents=(*_contents(case.rocket, built, diameter), *_forgotten(built), _motor(case, aft)),
        fins=tuple(_fins(part, built) for part in sets),
        guides_m=() if guides is None else (guides.station_m, guides.aft_station_m),
        guide_height_m=0.0 if guides is None else guides.height_m,
        guide_angle_rad=rail_guide_angle_rad(sets),
        guides=None if guides is None else _guides(guides, built),
        separation_m=joint_m(case),
        main_separation_m=joint_m(case, main=True) if main_name(case) else None,
        liftoff_mass_kg=combine(ready).mass_kg,
        cg_liftoff=cg,
        cg_burnout=cg_empty,
        cp=Mark(cp, cp_spread(case.rocket).whole_m),
        cp_travel_m=normal_force(case.tables, CP_MACH, TRAVEL_RAD).cp_m,
        margin_liftoff_cal=(cp - cg.station_m) / diameter,
        margin_burnout_cal=(cp - cg_empty.station_m) / diameter,
        margin_short_cal=(short_form_cp_m(rocket_shape(case.rocket)) - cg.station_m) / diameter,
        gust_rad=gust,
        margin_gust_cal=(at_gust - cg.station_m) / diameter,
        burnout_mass_kg=combine(empty).mass_kg,
        measured=case.origin.measured,
        figures=case.origin.figures,
        invented=case.origin.invented,
    )


def slow_cp_m(case: Case) -> float:
    """Centre of pressure of slow flight at a small angle: that of drawing, labels and `fly` [m]."""
    return normal_force(case.tables, CP_MACH, 0.0).cp_m


def gust_angle_rad(case: Case) -> float:
    """Angle of attack of the day's gust as the nominal flight leaves the rail; 0 if it never does.

    atan(mean wind x gust factor / speed at rail exit in still air).
    """
    sample = nominal(replace(case, day=replace(case.day, wind_m_s=0.0)))
    seeds = np.ones(1, dtype=np.uint64)
    flown = fly_ensemble(replace(case.launch, turbulence=False), sample.parameters, seeds)
    speed = float(flown[0, OUTCOME_INDEX["rail_exit_m_s"]])
    gust = case.day.wind_m_s * max(case.day.gust_factor, 1.0)
    return gust_incidence_rad(gust, speed)


def balance(items: Sequence[MassItem], joint: Joint | None = None) -> Mark:
    """Centre of gravity with its spread, to first order in the spreads of masses and places.

    What was weighed together scatters together, as `joint` says: a weighed whole is known better
    than the sum of its parts.
    """
    whole = combine(items)
    moved = {
        f"{airframe.mass.key}{item.name}": (item.station_m - whole.cg_m) * item.mass_sigma_kg
        for item in items
    }
    moved |= {
        f"{airframe.balance.key}{item.name}": item.mass_kg * item.station_sigma_m for item in items
    }
    shared = () if joint is None else tuple(key for key in joint.keys if key in moved)
    variance = sum(each**2 for key, each in moved.items() if key not in shared)
    if joint is not None:
        places = [joint.keys.index(key) for key in shared]
        together = np.array([moved[key] for key in shared])
        variance += float(together @ joint.correlation[np.ix_(places, places)] @ together)
    return Mark(whole.cg_m, math.sqrt(max(variance, 0.0)) / whole.mass_kg)


def _own(part: Part, built: Built) -> MassItem | None:
    """A part's mass as built; None where it has none, or is within another entry."""
    item = built.get(part.name)
    return item if item is not None and item.mass_kg > 0.0 else None


def _piece(part: Part, built: Built, aft_m: float, outer_m: float, inner_m: float = 0.0) -> Piece:
    item = _own(part, built)
    return Piece(
        name=part.name,
        kind=kind_of(part),
        fore_m=part.station_m,
        aft_m=aft_m,
        outer_radius_m=outer_m,
        inner_radius_m=inner_m,
        mass_kg=item.mass_kg if item else None,
        balance_m=item.station_m if item else None,
        known=item.known if item else part.known,
    )


def _drawn(part: Part, built: Built, diameter_m: float) -> Piece:
    outer, bore = part.diameters_m
    wide = (outer or diameter_m * part.drawn_wide) / 2
    return _piece(part, built, part.end_m, wide, bore / 2)


def _body(rocket: p.Rocket, built: Built, diameter_m: float) -> list[Piece]:
    pieces = [_drawn(part, built, diameter_m) for part in rocket.parts if part.stands == "body"]
    return sorted(pieces, key=lambda piece: piece.fore_m)


def _guides(part: p.Buttons, built: Built) -> Piece:
    """Both rail guides; their dot is the forward one's."""
    return _piece(part, built, part.station_m, part.height_m)


def _contents(rocket: p.Rocket, built: Built, diameter_m: float) -> list[Piece]:
    pieces = []
    for part in rocket.parts:
        if part.stands != "inside":
            continue
        piece = _drawn(part, built, diameter_m)
        if piece.kind == "added_mass" and 2 * piece.outer_radius_m >= SKIN * diameter_m:
            piece = replace(piece, kind="skin", inner_radius_m=piece.outer_radius_m)
        pieces.append(piece)
    return sorted(pieces, key=lambda piece: (piece.fore_m, piece.aft_m))


def _forgotten(built: Built) -> list[Piece]:
    """What the whole weighs more than all that was entered, where it balances."""
    item = built.get(NOT_ENTERED)
    if item is None:
        return []
    at = item.station_m
    mass = {"mass_kg": item.mass_kg, "balance_m": at}
    return [Piece(item.name, item.kind, at, at, outer_radius_m=0.0, known=item.known, **mass)]


def _motor(case: Case, aft_m: float) -> Piece:
    motor = case.motor
    item = combine([motor_case_item(motor, aft_m), grain_item(motor, aft_m)])
    return Piece(
        name=f"motor {motor.name}",
        kind="motor",
        fore_m=aft_m - motor.length_m,
        aft_m=aft_m,
        outer_radius_m=motor.diameter_m / 2,
        inner_radius_m=0.0,
        mass_kg=item.mass_kg,
        balance_m=item.cg_m,
        known=motor.known,
    )


def _fins(part: p.Fins, built: Built) -> FinSet:
    item = _own(part, built)
    front = part.station_m + part.tab_offset_m
    tab = (front, front + part.tab_length_m, part.tab_depth_m) if part.tab_length_m else None
    return FinSet(
        name=part.name,
        outline_m=tuple((part.station_m + x, part.body_radius_m + y) for x, y in part.outline_m),
        angles_rad=tuple(float(angle) for angle in fin_angles_rad(part)),
        thickness_m=part.thickness_m,
        tab_m=tab,
        mass_kg=item.mass_kg if item else None,
        known=item.known if item else part.known,
    )
