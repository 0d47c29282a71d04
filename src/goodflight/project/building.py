"""Turn the typed tables of a project into the records of physics, any figure overridden.

An override names a figure by its path, `rocket.toml:part[nose].mass`, and gives its SI value.
"""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from goodflight.physics.air import standard_atmosphere
from goodflight.physics.air.atmosphere import STANDARD_GRAVITY_M_S2
from goodflight.physics.air.model import Day, Site
from goodflight.physics.motor.model import Motor
from goodflight.physics.recovery.canopy_kinds import canopy_kind
from goodflight.physics.vehicle import parts as p
from goodflight.project import defaults
from goodflight.project import rocket_file as r
from goodflight.project.curves import Curve
from goodflight.project.fields import MaterialTable
from goodflight.project.flight_files import DayTable, MotorFile, SiteFile
from goodflight.project.materials import library
from goodflight.project.outlines import Outline
from goodflight.project.separation import build_separation
from goodflight.project.values import Values, part_path
from goodflight.quantity import Quantity


def fin_outline(
    root_m: float, tip_m: float, span_m: float, sweep_m: float
) -> tuple[tuple[float, float], ...]:
    """Return the corners of a trapezoid or triangle fin: aft of the root's front, outward."""
    corners = ((0.0, 0.0), (sweep_m, span_m), (sweep_m + tip_m, span_m), (root_m, 0.0))
    return corners if tip_m > 0 else (corners[0], corners[1], corners[3])


def body_stations(parts: Iterable[r.PartTable], values: Values) -> dict[str, float]:
    """Return the front station of each outer body part, placed front to back where left out."""
    found: dict[str, float] = {}
    end = 0.0
    for part in parts:
        if isinstance(part, (r.NoseTable, r.TubeTable, r.TransitionTable)):
            base = part_path(part.name)
            found[part.name] = values.of(base, part, "station", end)
            end = found[part.name] + values.of(base, part, "length")
    return found


def body_radius(parts: Iterable[r.PartTable], stations: Mapping[str, float], at_m: float) -> float:
    """Return the outer radius of the body at a station, 0 outside it."""
    for part in parts:
        front = stations.get(part.name)
        if front is None or not isinstance(part, (r.NoseTable, r.TubeTable, r.TransitionTable)):
            continue
        share = (at_m - front) / part.length.value
        if -1e-9 <= share <= 1 + 1e-9:
            if isinstance(part, r.TubeTable):
                return part.outer_diameter.value / 2
            if isinstance(part, r.NoseTable):
                return part.diameter.value / 2
            fore, aft = part.fore_diameter.value, part.aft_diameter.value
            return (fore + (aft - fore) * share) / 2
    return 0.0


def _material(base: str, entry: Any, values: Values) -> p.Material | None:
    if entry is None:
        return None
    path = f"{base}.material"
    if isinstance(entry, MaterialTable):
        return p.Material(
            name=entry.name,
            density_kg_m3=values.of(path, entry, "density"),
            shear_modulus_pa=values.maybe(f"{path}.shear_modulus", entry.shear_modulus),
            bending_strength_pa=values.maybe(f"{path}.bending_strength", entry.bending_strength),
            elastic_modulus_pa=values.maybe(f"{path}.elastic_modulus", entry.elastic_modulus),
            family=entry.family,
            source=entry.source,
        )
    known = library()[entry].material
    return p.Material(
        name=known.name,
        density_kg_m3=values.get(f"{path}.density", None, known.density_kg_m3),
        shear_modulus_pa=values.overrides.get(f"{path}.shear_modulus", known.shear_modulus_pa),
        bending_strength_pa=known.bending_strength_pa,
        elastic_modulus_pa=known.elastic_modulus_pa,
        family=known.family,
        source=known.source,
    )


def _common(part: r.PartTable, station_m: float, values: Values) -> dict[str, Any]:
    base = part_path(part.name)
    found: dict[str, Any] = {
        "name": part.name,
        "station_m": station_m,
        "material": _material(base, part.material, values),
        "mass_kg": values.maybe(f"{base}.mass", part.mass),
        "balance_m": values.maybe(f"{base}.balance", part.balance),
    }
    if part.mass is not None:
        found["mass_sigma_kg"] = defaults.sigma_of("mass", part.mass)
        found["known"] = part.mass.known
    if part.balance is not None:
        found["balance_sigma_m"] = defaults.sigma_of("balance", part.balance)
    return found


def _nose(part: r.NoseTable, base: str, v: Values) -> dict[str, Any]:
    key, plain = r.OUTLINE_FIGURES.get(part.outline, ("", 0.0))
    long, wide = v.pair(base, part, "shoulder")
    return {
        "shape": part.outline,
        "outline_constant": v.of(base, part, key, plain) if key else 0.0,
        "length_m": v.of(base, part, "length"),
        "diameter_m": v.of(base, part, "diameter"),
        "wall_m": v.of(base, part, "wall"),
        "shoulder_length_m": long,
        "shoulder_diameter_m": wide,
        "plate": part.plate,
    }


def _sized(part: Any, base: str, v: Values, keys: str) -> dict[str, Any]:
    return {f"{key}_m": v.of(base, part, key) for key in keys.split()}


def _fins(part: r.FinsTable, base: str, v: Values, radius_m: float) -> dict[str, Any]:
    if part.outline is not None:
        outline = tuple(
            (
                v.get(f"{base}.outline[#{i + 1}][#1]", pair[0]),
                v.get(f"{base}.outline[#{i + 1}][#2]", pair[1]),
            )
            for i, pair in enumerate(part.outline)
        )
    else:
        outline = fin_outline(*(v.of(base, part, key) for key in ("root", "tip", "span", "sweep")))
    long, deep = v.pair(base, part, "tab")
    return {
        "count": part.count,
        "outline_m": outline,
        "edges": part.edges,
        "body_radius_m": radius_m,
        "cant_rad": v.of(base, part, "cant"),
        "cant_sigma_rad": v.of(base, part, "alignment", defaults.ALIGNMENT_RAD),
        "fillet_density_kg_m3": v.of(base, part, "fillet_density", 1150.0),
        "roll_phase_rad": v.of(base, part, "roll_phase"),
        "tab_length_m": long,
        "tab_depth_m": deep,
        "tab_offset_m": v.of(base, part, "tab_behind"),
        **_sized(part, base, v, "thickness fillet_radius"),
    }


def _canopy(part: r.CanopyTable, base: str, v: Values) -> dict[str, Any]:
    cd, usual = part.drag_coefficient, canopy_kind(part.shape).usual_drag_coefficient
    long, wide = v.pair(base, part, "roll")
    found = {
        "kind": part.shape,
        "across_m": v.of(base, part, "across"),
        "way": "" if part.across is None else part.across.way,
        "drag_coefficient": v.of(base, part, "drag_coefficient", usual),
        "drag_coefficient_sigma": defaults.sigma_of("drag_coefficient", cd)
        if cd is not None
        else defaults.DRAG_COEFFICIENT_SIGMA,
        "cloth_area_m2": v.of(base, part, "cloth_area"),
        "spill_hole_diameter_m": v.of(base, part, "spill_hole"),
        "line_count": 0 if part.lines is None else int(part.lines["count"].value),
        "line_length_m": v.pair(base, part, "lines")[1],
        "line_strength_n": v.maybe(f"{base}.line_strength", part.line_strength),
        "strength_n": v.maybe(f"{base}.strength", part.strength),
        "strength_sigma": _relative(part.strength, defaults.CANOPY_STRENGTH_SIGMA),
    }
    return found | {"packed_length_m": long, "packed_diameter_m": wide}


def _relative(quantity: Quantity | None, otherwise: float) -> float:
    if quantity is None or quantity.sigma is None or quantity.value == 0:
        return otherwise
    return quantity.sigma / quantity.value


def _cord(part: r.CordTable, base: str, v: Values) -> dict[str, Any]:
    return {
        "length_m": v.of(base, part, "length"),
        "strength_n": v.of(base, part, "strength"),
        "strength_sigma": _relative(part.strength, defaults.CORD_STRENGTH_SIGMA),
        "joint_efficiency": v.of(base, part, "joint_efficiency", 0.5),
        "elongation_at_break": v.of(base, part, "elongation", 0.25),
        "packed_length_m": v.of(base, part, "stowed_length"),
        "width_m": v.of(base, part, "width"),
        "canopy_at_m": v.maybe(f"{base}.canopy_at", part.canopy_at),
        "leader_length_m": v.of(base, part, "leader"),
        "leader_strength_n": v.of(base, part, "leader_strength"),
        "leader_elongation": v.of(base, part, "leader_elongation", 0.04),
    }


def build_part(
    part: r.PartTable, station_m: float, radius_m: float, tail_m: float, v: Values
) -> p.Part:
    """Return one part as a record of physics; `radius_m` is the body's at its station."""
    base, common = part_path(part.name), _common(part, station_m, v)
    two = "outer_diameter inner_diameter"
    match part:
        case r.NoseTable():
            return p.Nose(**common, **_nose(part, base, v))
        case r.TubeTable():
            return p.Tube(**common, **_sized(part, base, v, f"length {two}"))
        case r.TransitionTable():
            spans = "length fore_diameter aft_diameter wall"
            return p.Transition(**common, **_sized(part, base, v, spans))
        case r.FinsTable():
            return p.Fins(**common, **_fins(part, base, v, radius_m))
        case r.CouplerTable():
            sizes = _sized(part, base, v, f"length {two}")
            return p.Coupler(**common, **sizes, bulkheads=part.bulkheads)
        case r.RingTable():
            return p.Ring(**common, **_sized(part, base, v, f"thickness {two}"))
        case r.BulkheadTable():
            return p.Bulkhead(**common, **_sized(part, base, v, "thickness diameter"))
        case r.MotorTubeTable():
            aft = v.of(base, part, "motor_aft", tail_m)
            return p.MotorTube(**common, **_sized(part, base, v, f"length {two}"), motor_aft_m=aft)
        case r.BayTable():
            room = _sized(part, base, v, "length inner_diameter vent_diameter")
            room["free_volume_m3"] = v.maybe(f"{base}.free_volume", part.free_volume)
            room["electronics"] = part.electronics
            return p.Bay(**common, **room, vent_count=part.vents, holds=tuple(part.holds))
        case r.ButtonsTable():
            aft = v.of(base, part, "aft_station")
            height = v.of(base, part, "height", 0.010)
            area = v.of(base, part, "frontal_area")
            strength = v.maybe(f"{base}.strength", part.strength)
            return p.Buttons(
                **common, aft_station_m=aft, height_m=height, frontal_area_m2=area,
                strength_n=strength,
            )  # fmt: skip
        case r.CanopyTable():
            return p.Canopy(**common, **_canopy(part, base, v))
        case r.CordTable():
            return p.Cord(**common, **_cord(part, base, v))
        case r.AddedMassTable():
            sizes = _sized(part, base, v, "length radius")
            return p.AddedMass(**common, **sizes, role=part.role)
    raise TypeError(f"no record of physics for {type(part).__name__}")


def build_rocket(
    head: r.RocketHead,
    parts: tuple[r.PartTable, ...],
    overrides: Mapping[str, float],
    without: frozenset[str] = frozenset(),
) -> p.Rocket:
    """Return the rocket; parts named in `without` stay at home (canopies of other plans)."""
    values = Values(overrides)
    stations = body_stations(parts, values)
    tail = max(
        (front + values.of(part_path(name), _named(parts, name), "length"))
        for name, front in stations.items()
    )
    built = []
    for part in parts:
        if part.name in without:
            continue
        path = f"{part_path(part.name)}.station"
        at = stations[part.name] if part.name in stations else values.get(path, part.station)
        radius = body_radius(parts, stations, at)
        built.append(build_part(part, at, radius, tail, values))
    built = [_holding_flown(part, built, without) for part in built]
    surface = head.surface
    return p.Rocket(
        name=head.name,
        parts=tuple(built),
        roughness_m=values.get("rocket.toml:surface.roughness", surface.roughness, 20e-6),
        paint_kg_m2=values.get("rocket.toml:surface.paint", surface.paint),
        separation_station_m=values.maybe("rocket.toml:separates_at", head.separates_at),
        separation=build_separation(head, values.overrides),
    )


def _holding_flown(part: p.Part, built: Iterable[p.Part], without: frozenset[str]) -> p.Part:
    """Return a bay that holds a canopy left at home with the one that is flown in its place."""
    if not isinstance(part, p.Bay) or not without & set(part.holds):
        return part
    flown = [each.name for each in built if isinstance(each, p.Canopy)]
    if len(flown) != 1 or flown[0] in part.holds:
        return part
    holds = tuple(flown[0] if name in without else name for name in part.holds)
    return replace(part, holds=holds)


def _named(parts: tuple[r.PartTable, ...], name: str) -> r.PartTable:
    return next(part for part in parts if part.name == name)


def build_motor(stem: str, head: MotorFile, curve: Curve, overrides: Mapping[str, float]) -> Motor:
    """Return a motor from its head and its curve."""
    v, base = Values(overrides), f"motors/{stem}.toml"
    delays = tuple(sorted({0.0, *(out.value for out in head.delay_out_allowed)}))
    delay_sigma = _relative(head.delay, 0.08)
    if head.delay_spread is not None:
        delay_sigma = head.delay_spread.value
    return Motor(
        name=head.name,
        times_s=curve.times_s,
        thrusts_n=curve.thrusts_n,
        propellant_kg=v.get(f"{base}:propellant", head.propellant),
        loaded_kg=v.get(f"{base}:loaded", head.loaded),
        length_m=v.get(f"{base}:length", head.length),
        diameter_m=v.get(f"{base}:diameter", head.diameter),
        delay_s=v.maybe(f"{base}:delay", head.delay),
        delay_out_allowed_s=delays,
        delay_sigma=delay_sigma,
        impulse_sigma=v.get(f"{base}:impulse_spread", head.impulse_spread, 0.02),
        burn_time_sigma=v.get(f"{base}:burn_time_spread", head.burn_time_spread, 0.03),
        source=("invented; " if head.invented else "") + head.source,
        known=head.loaded.known,
        propellant_length_m=v.maybe(f"{base}:propellant_length", head.propellant_length),
        propellant_diameter_m=v.maybe(f"{base}:propellant_diameter", head.propellant_diameter),
        core_diameter_m=v.maybe(f"{base}:core_diameter", head.core_diameter),
        propellant_aft_m=v.maybe(f"{base}:propellant_aft", head.propellant_aft),
        charge_kg=v.maybe(f"{base}:charge", head.charge),
        charge_sigma_kg=0.0 if head.charge is None else _charge_sigma(head.charge),
    )


def _charge_sigma(charge: Quantity) -> float:
    """Return the spread of a motor's charge: as stated, or a tenth, as makers measure by volume."""
    return 0.10 * charge.value if charge.sigma is None else charge.sigma


def build_site(
    stem: str, head: SiteFile, outline: Outline | None, overrides: Mapping[str, float]
) -> Site:
    """Return a field from its head and its outline."""
    v, base = Values(overrides), f"sites/{stem}.toml"
    return Site(
        name=head.name,
        elevation_m=v.get(f"{base}:elevation", head.elevation),
        ceiling_m=v.maybe(f"{base}:ceiling", head.ceiling),
        outline_m=outline.field_m if outline else (),
        keep_outs_m=outline.keep_outs_m if outline else (),
        rail_lengths_m=tuple(sorted({rail.value for rail in head.rails})),
        code=head.code,
        gravity_m_s2=v.get(f"{base}:gravity", head.gravity, STANDARD_GRAVITY_M_S2),
    )


def pressure_at(elevation_m: float) -> float:
    """Return the standard pressure at an elevation, for a day without a pressure [Pa]."""
    return float(standard_atmosphere(elevation_m).pressure_pa)


def build_day(base: str, table: DayTable, site: SiteFile, overrides: Mapping[str, float]) -> Day:
    """Return the day's air; what the plan leaves out comes from the site or a default."""
    v = Values(overrides)
    pressure = table.pressure
    exponent, where = table.wind_exponent, f"{base}.wind_exponent"
    if exponent is None:
        exponent = site.wind_exponent
    cover = v.maybe(f"{base}.cloud_cover", table.cloud_cover)
    plain_sigma = defaults.WIND_EXPONENT_SIGMA
    return Day(
        wind_m_s=v.of(base, table, "wind"),
        wind_sigma_m_s=defaults.sigma_of("wind", table.wind),
        wind_from_rad=v.of(base, table, "wind_from"),
        wind_from_sigma_rad=defaults.sigma_of("wind_from", table.wind_from),
        wind_height_m=v.of(base, table, "wind_height", 2.0),
        gust_factor=v.of(base, table, "gust_factor", 1.6),
        wind_exponent=v.get(where, exponent, 0.16),
        wind_exponent_sigma=plain_sigma
        if exponent is None or exponent.sigma is None
        else exponent.sigma,
        temperature_k=v.of(base, table, "temperature"),
        temperature_sigma_k=defaults.sigma_of("temperature", table.temperature),
        pressure_pa=v.of(base, table, "pressure", pressure_at(site.elevation.value)),
        pressure_sigma_pa=1000.0 if pressure is None else defaults.sigma_of("pressure", pressure),
        cloud_base_m=v.maybe(f"{base}.cloud_base", table.cloud_base),
        cloud_cover_tenths=None if cover is None else cover * 10,
    )
