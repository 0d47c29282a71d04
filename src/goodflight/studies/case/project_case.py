"""From a project and the name of a plan to the case that is flown."""

import hashlib
import math
import threading
from collections import deque
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from goodflight.constants import SEA_LEVEL_PRESSURE_PA, SEA_LEVEL_SOUND_M_S
from goodflight.physics.aero import MODEL_SPREAD, aero_tables, cp_spread, summary
from goodflight.physics.aero.tables import AeroTables
from goodflight.physics.flight import registry
from goodflight.physics.motor import total_impulse_ns
from goodflight.physics.motor.model import Motor
from goodflight.physics.structure import equivalent_trapezoid, flutter_speed_tn4197
from goodflight.physics.vehicle import combine, mass_items
from goodflight.physics.vehicle.part import Part
from goodflight.physics.vehicle.parts import Canopy, Rocket
from goodflight.project import Plan, Project, Uncertain
from goodflight.project.building import build_rocket
from goodflight.project.disk import PREDICTION
from goodflight.project.head_figures import FIGURE_TABLES
from goodflight.project.outlines import metres_per_degree
from goodflight.quantity import Refused
from goodflight.quantity.said import Words
from goodflight.studies.case.alike import Alike
from goodflight.studies.case.canopies import opening_numbers
from goodflight.studies.case.measured import as_measured
from goodflight.studies.case.openings import in_order
from goodflight.studies.case.planned import (
    Case,
    Deployment,
    Feature,
    Origin,
    Rail,
    Rules,
    Sensitivity,
    Uncertainty,
    fins_of,
)
from goodflight.studies.case.readings import MeasuredFigure
from goodflight.studies.case.unwritten import with_read
from goodflight.studies.case.weighed import as_built, built_items, doubted
from goodflight.studies.case.workshop import devices_of, workshop_of
from goodflight.studies.refusal import NoMotorChosen, StudyRefused, refused_at

DEPLOYMENTS: Final = {"delay": registry.BY_DELAY, "altimeter": registry.BY_ALTIMETER}
FEATURE_MACH: Final = 0.3
_DRAWN: Final = ("mass", "balance", "drag_coefficient", "strength", "line_strength")
_MIN_EFFECT: Final = 1e-6  # smaller relative effects of one sigma are dropped
KEPT: Final = deque[tuple[Project, str, tuple[Case, tuple[MeasuredFigure, ...]]]](maxlen=8)
_GATE: Final = threading.Lock()
_MOVED: Final = Alike[tuple[Sensitivity, ...]]()  # a changed plan, motor or field moves none


def features_of(
    rocket: Rocket, main: str = "", outside: Mapping[Feature, float] | None = None
) -> dict[Feature, float]:
    """Numbers of a rocket that a changed length moves; `main` names its second canopy.

    outside : those of a rocket of the same outer shape, so that the air's need not be worked out.
    """
    whole = combine(mass_items(rocket))
    air = outside or _outside(rocket)
    canopies = list(rocket.of_kind(Canopy))
    canopy = next((part for part in canopies if part.name != main), None)
    found: dict[Feature, float] = {
        "mass_kg": whole.mass_kg,
        "cg_m": whole.cg_m,
        "fin_slope": air["fin_slope"],
        "body_slope": air["body_slope"],
        "cp_m": air["cp_m"],
        "axial": air["axial"],
        "canopy_area": opening_numbers(canopy).cloth_area_m2 if canopy is not None else 0.0,
        "flutter_m_s": flutter_m_s(rocket),
    }
    for second in canopies:
        if second.name == main:
            found["main_area"] = opening_numbers(second).cloth_area_m2
    return found


def items_moved(before: Rocket, now: Rocket, sign: float = 1.0) -> dict[str, tuple[float, float]]:
    """Share of every mass by which another rocket has more of it, and how far it balances aft.

    sign : -1 for a rocket with a figure less, told as for that figure more. [-, m]
    """
    old = {item.name: item for item in mass_items(before)}
    found = {}
    for item in mass_items(now):
        was = old.get(item.name)
        if was is not None and item != was:
            share = item.mass_kg / was.mass_kg - 1.0 if was.mass_kg > 0.0 else 0.0
            found[item.name] = (sign * share, sign * (item.station_m - was.station_m))
    return found


def _outside(rocket: Rocket) -> dict[Feature, float]:
    """What the air does to its outer shape."""
    told = summary(rocket, FEATURE_MACH)
    return {
        "fin_slope": told.fin_slope,
        "body_slope": told.body_slope,
        "cp_m": told.cp_m,
        "axial": told.axial,
    }


def _skin(rocket: Rocket) -> tuple[float, list[Part]]:
    """All that the air meets of a rocket."""
    return rocket.roughness_m, [part for part in rocket.parts if part.stands != "inside"]


def flutter_m_s(rocket: Rocket) -> float:
    """Flutter speed of the fins at standard sea level [m/s]; 0 when the stiffness is not known."""
    fins = fins_of(rocket)
    if fins is None or fins.material is None or fins.material.shear_modulus_pa is None:
        return 0.0
    shape = equivalent_trapezoid(fins.outline_m)
    return float(
        flutter_speed_tn4197(
            fins.material.shear_modulus_pa,
            fins.thickness_m,
            root_chord_m=shape.root_chord_m,
            tip_chord_m=shape.tip_chord_m,
            semi_span_m=shape.semi_span_m,
            pressure_pa=SEA_LEVEL_PRESSURE_PA,
            sound_m_s=SEA_LEVEL_SOUND_M_S,
        )
    )


def case_of(
    project: Project, plan_name: str | None = None, like: Sequence[Sensitivity] | None = None
) -> Case:
    """Resolve one plan of a project.

    Parameters
        project : Project - as loaded from its folder. [-]
        plan_name : str or None - which plan; None = the first. [-]
        like : sequence of Sensitivity or None - of a rocket much like this one, which then hold
            here, too, for a search among many rockets; None = worked out for this one. [-]
    Returns
        case : Case - everything the flight and the rows need. [SI]
    Raises
        NoSuchPlan - no plan has this name; StudyRefused - a rocket that cannot be flown.
    Validity
        Finite differences of one standard deviation: lengths that move things smoothly.
    Source
        First-order propagation of small changes.
    """
    return measured_case(project, plan_name, like)[0]


def measured_case(
    project: Project, plan_name: str | None = None, like: Sequence[Sensitivity] | None = None
) -> tuple[Case, tuple[MeasuredFigure, ...]]:
    """The case as `case_of`, and every figure that was measured one at a time.

    Of the projects asked for last it is remembered: no project changes, and no case.
    """
    plan = project.plan(plan_name)
    if not plan.motor:
        raise NoMotorChosen(plan.name)
    with _GATE:
        found = next((r for p, name, r in KEPT if p is project and name == plan.name), None)
    if found is not None and like is None:
        return found
    try:
        measured, figures = as_measured(project)
        case, others = with_read(project, _case(measured, plan, like))
    except ValueError as error:  # physics says what it cannot take; the builder has to act on it
        if isinstance(error, Refused):
            raise
        raise _refused(project, plan, str(error)) from error
    if like is None:
        with _GATE:
            KEPT.append((project, plan.name, (case, figures + others)))
    return case, figures + others


def _refused(project: Project, plan: Plan, words: str) -> StudyRefused:
    """What physics cannot take, at the part it names, else at the plan."""
    for part in project.parts:
        if f"'{part.name}'" in words:
            return _refused_at(project, f"rocket.toml:part[{part.name}]", words)
    return _refused_at(project, f"plans.toml:plan[{plan.name}]", words)


def _refused_at(project: Project, path: str, words: str) -> StudyRefused:
    wanted = "figures that the flight model can take"
    return refused_at(project, path, words, wanted, "check this figure and its spread")


def _case(project: Project, plan: Plan, like: Sequence[Sensitivity] | None) -> Case:
    motor, site, day = project.motor(plan.motor), project.site(plan.site), plan.day
    rocket = in_order(project.rocket(plan=plan.name), plan.canopy, plan.main)
    tables = aero_tables(rocket, motor.diameter_m, day.temperature_k, day.pressure_pa)
    features = features_of(rocket, plan.main or "")
    _check_finite(tables, features)
    figures = project.uncertain(plan)
    fins = fins_of(rocket)
    built = as_built(project)
    items = mass_items(rocket)
    sensitivities = tuple(like or ()) or sensitivities_of(project, plan.name, rocket, figures)
    if built is not None:
        items = built_items(built, items)
        then = {(each.path, each.value) for each in project.as_weighed().uncertain(plan)}
        sensitivities = tuple(
            _lengths_apart(each) if (each.path, each.value) in then else each
            for each in sensitivities
        )
    return Case(
        plan=plan.name,
        rocket=rocket,
        motor=motor,
        tables=tables,
        items=items,
        site=site,
        day=day,
        rail=Rail(
            length_m=plan.rail_length_m,
            tilt_rad=plan.rail_tilt_rad,
            azimuth_rad=plan.rail_azimuth_rad,
            base_m=plan.rail_base_m,
            stop_height_m=plan.rail_stop_m,
        ),
        deployment=_deployment(project, plan),
        rules=Rules(
            level=plan.level,
            code=project.codes.get(site.code),
        ),
        plan_says=plan.says,
        field_says=plan.field_says,
        workshop=workshop_of(project),
        motors=project.motors,
        uncertainty=Uncertainty(
            sensitivities=tuple(each for each in sensitivities if each.effects),
            features=features,
            model_spreads=model_spreads(rocket, motor),
            cant_sigma_rad=fins.cant_sigma_rad if fins is not None else 0.0,
            inertia=built.inertia if built is not None and built.swung else None,
            joint=built.joint if built is not None else None,
            weighed=built is not None and built.whole,
        ),
        origin=_origin(project, plan, figures, (*project.doubts(plan), *doubted(built))),
        retable=lambda r, m: aero_tables(r, m.diameter_m, day.temperature_k, day.pressure_pa),
    )


def _lengths_apart(figure: Sensitivity) -> Sensitivity:
    """A length's effects without those on mass and balance, which the weighings carry."""
    kept = {key: each for key, each in figure.effects.items() if key not in ("mass_kg", "cg_m")}
    return replace(figure, effects=kept, items={})


def _deployment(project: Project, plan: Plan) -> Deployment:
    canopies = {
        part.name: part for part in build_rocket(project.head, project.parts, {}).of_kind(Canopy)
    }
    return Deployment(
        canopy=canopies.get(plan.canopy),
        delay_out_s=plan.delay_out_s,
        by=DEPLOYMENTS[plan.deployment],
        apogee_lag_s=plan.apogee_lag_s,
        main_height_m=plan.main_height_m,
        main_canopy=canopies.get(plan.main) if plan.main else None,
        canopies=tuple(c for name, c in canopies.items() if name != plan.main),
        devices=devices_of(project),
        pad_wait_s=plan.pad_wait_s,
        pad_wait_sigma_s=plan.pad_wait_sigma_s,
    )


def _origin(
    project: Project, plan: Plan, figures: Sequence[Uncertain], doubts: tuple[Words, ...]
) -> Origin:
    counts = project.figures_of(plan.name)
    site = project.site_files[plan.site][0]
    pad = (site.pad[0], site.pad[1]) if site.pad is not None else (0.0, 0.0)
    return Origin(
        plan_path=f"plans.toml:plan[{plan.name}]",
        site_path=f"sites/{plan.site}.toml",
        units=project.head.units,
        mass_paths=_mass_paths(figures),
        known={figure.path: figure.known for figure in figures},
        measured=counts["measured"],
        figures=sum(counts.values()),
        invented=project.invented,
        inputs_hash=inputs_hash(project),
        invented_motors=tuple(k for k, (head, _) in project.motor_files.items() if head.invented),
        pad=pad,
        pad_unit_m=metres_per_degree(pad[1]) if site.coordinates == "lonlat" else (1.0, 1.0),
        warnings=doubts,
    )


def _check_finite(tables: AeroTables, features: Mapping[Feature, float]) -> None:
    wrong: list[str] = [name for name, value in features.items() if not math.isfinite(value)]
    if not (np.isfinite(tables.mach_table).all() and np.isfinite(tables.scalars).all()):
        wrong.append("the air's tables")
    if wrong:
        raise ValueError(f"the rocket's shape and masses give no figure for {', '.join(wrong)}")


def inputs_hash(project: Project) -> str:
    """One short hash of all the project's files; a kept prediction is an answer, not an input."""
    files = "\n".join(
        f"{file} {text}"
        for file, text in sorted(project.hashes.items())
        if not file.endswith(f"/{PREDICTION}")
    )
    return hashlib.sha256(files.encode()).hexdigest()[:16]


def _drawn_by_itself(figure: Uncertain) -> bool:
    """Whether a figure is drawn elsewhere, so that it needs no finite difference."""
    return figure.key in _DRAWN or figure.table in FIGURE_TABLES


def sensitivities_of(
    project: Project, plan: str, rocket: Rocket, figures: Sequence[Uncertain]
) -> tuple[Sensitivity, ...]:
    """What one standard deviation of every length (and other shape figure) does to the rocket.

    Masses and balance points are drawn exactly and are left out here.
    """
    main = project.plan(plan).main or ""
    lengths = tuple(each for each in figures if each.table and not _drawn_by_itself(each))
    asked = (project.head.surface, project.parts, rocket.parts, lengths, main)
    return _MOVED.of(asked, lambda: _sensitivities(project, plan, rocket, lengths, main))


def _sensitivities(
    project: Project, plan: str, rocket: Rocket, lengths: Sequence[Uncertain], main: str
) -> tuple[Sensitivity, ...]:
    base = features_of(rocket, main)
    found = []
    for figure in lengths:
        moved, items = _effects(project, plan, figure, (rocket, base), main)
        effects = {
            key: effect
            for key, effect in moved.items()
            if abs(effect) > _MIN_EFFECT * max(1e-3, abs(base[key]))
        }
        if effects:
            found.append(Sensitivity(**vars(figure), effects=effects, items=items))
    return tuple(found)


def _effects(
    project: Project,
    plan: str,
    figure: Uncertain,
    before: tuple[Rocket, Mapping[Feature, float]],
    main: str,
) -> tuple[dict[Feature, float], dict[str, tuple[float, float]]]:
    """Change of every feature and mass for one standard deviation up; where that cannot be, down.

    Raises
        StudyRefused - the rocket can be built neither way: the figure, its file and line.
    """
    words, (rocket, base) = "", before
    for sign in (1.0, -1.0):
        try:
            made = project.rocket(figure.moved(sign), plan)
            moved = features_of(made, main, base if _skin(made) == _skin(rocket) else None)
        except ValueError as error:
            words = words or str(error)
            continue
        effects = {key: sign * (moved[key] - base[key]) for key in base}
        if all(math.isfinite(effect) for effect in effects.values()):
            return effects, items_moved(rocket, made, sign)
    words = words or "it moves the rocket beyond what can be worked out"
    found = f"{figure.label}, one standard deviation more or less: {words}"
    raise _refused_at(project, figure.path, found)


def model_spreads(rocket: Rocket, motor: Motor) -> tuple[tuple[str, str, float, str], ...]:
    """Spreads of the model: key, words, sigma, reason. CP in metres, the rest relative."""
    model = MODEL_SPREAD
    # the speed an unbraked rocket would reach: above Mach 1.1 drag makes it about Mach 0.9
    vacuum = total_impulse_ns(motor) / (combine(mass_items(rocket)).mass_kg + motor.loaded_kg)
    axial = model.axial_transonic if vacuum > 1.1 * SEA_LEVEL_SOUND_M_S else model.axial
    return (
        ("cp", "centre of pressure of the model", cp_spread(rocket).rest_m, model.cp_reason),
        ("axial", "drag of the model", axial, model.axial_reason),
        ("body_slope", "body lift of the model", model.slope, model.slope_reason),
        ("fin_slope", "fin lift of the model", model.slope, model.slope_reason),
        ("crossflow", "cross-flow lift of the model", model.crossflow, model.crossflow_reason),
    )


def _mass_paths(figures: Sequence[Uncertain]) -> dict[str, str]:
    """Project path of every part's mass, by the part's name."""
    return {each.part: each.path for each in figures if each.part and each.key == "mass"}
