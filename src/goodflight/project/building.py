"""Turn the typed tables of a project into the records of physics, any figure overridden.

An override names a figure by its path, `rocket.toml:part[nose].mass`, and gives its SI value.
"""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import lru_cache
from typing import Any

from goodflight.constants import STANDARD_GRAVITY_M_S2
from goodflight.physics.air import standard_atmosphere, station_pressure_pa
from goodflight.physics.air.model import Day, Site
from goodflight.physics.motor.model import Motor
from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Material, Part, of_kind
from goodflight.project import defaults
from goodflight.project.curves import Curve
from goodflight.project.day_file import HourTable
from goodflight.project.designed import DesignedRocket
from goodflight.project.fields import MaterialTable
from goodflight.project.flight_files import DayTable, SiteFile
from goodflight.project.head.hatch import build_hatch
from goodflight.project.head.separation import build_main_separation, build_separation
from goodflight.project.materials import library
from goodflight.project.motor_files import MotorFile
from goodflight.project.outlines import Outline
from goodflight.project.parts import OUTER, kind_of
from goodflight.project.parts.added_mass import whole_entry
from goodflight.project.parts.packed import lying
from goodflight.project.parts.table import Making, PartTable, relative
from goodflight.project.rocket_file import RocketHead
from goodflight.project.values import This, Values, part_path
from goodflight.quantity import Quantity


def body_stations(parts: Iterable[Any], values: Values) -> dict[str, float]:
    """Return the front station of each outer body part, placed front to back where left out."""
    found: dict[str, float] = {}
    end = 0.0
    for part in parts:
        if part.kind in OUTER:
            base = part_path(part.name)
            found[part.name] = values.of(base, part, "station", end)
            end = found[part.name] + values.of(base, part, "length")
    return found


def body_radius(parts: Iterable[Any], stations: Mapping[str, float], at_m: float) -> float:
    """Return the outer radius of the body at a station, 0 outside it."""
    for part in parts:
        front = stations.get(part.name)
        if front is None or part.kind not in OUTER:
            continue
        ends, share = kind_of(part).ends, (at_m - front) / part.length.value
        if ends is not None and -1e-9 <= share <= 1 + 1e-9:
            fore, aft = ends(part)
            begin = aft.value if fore is None else fore.value  # a nose carries at its base
            return float(begin + (aft.value - begin) * share) / 2
    return 0.0


def _material(base: str, entry: Any, values: Values) -> Material | None:
    if entry is None:
        return None
    path = f"{base}.material"
    if isinstance(entry, MaterialTable):
        return Material(
            name=entry.name,
            density_kg_m3=values.of(path, entry, "density"),
            shear_modulus_pa=values.maybe(f"{path}.shear_modulus", entry.shear_modulus),
            bending_strength_pa=values.maybe(f"{path}.bending_strength", entry.bending_strength),
            family=entry.family,
            source=entry.source,
        )
    known = library()[entry].material
    return Material(
        name=known.name,
        density_kg_m3=values.get(f"{path}.density", None, known.density_kg_m3),
        shear_modulus_pa=values.overrides.get(f"{path}.shear_modulus", known.shear_modulus_pa),
        bending_strength_pa=known.bending_strength_pa,
        family=known.family,
        across_share=known.across_share,
        source=known.source,
    )


def _common(part: PartTable, station_m: float, values: Values) -> dict[str, Any]:
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


def build_part(
    part: PartTable, station_m: float, radius_m: float, tail_m: float, v: Values
) -> Part:
    """Return one part as a record of physics; `radius_m` is the body's at its station.

    A part that no override touches is the same record in every rocket.
    """
    own = f"{part_path(part.name)}."
    figures = tuple(each for each in v.overrides.items() if each[0].startswith(own))
    return _built(This(part), station_m, radius_m, tail_m, figures)


@lru_cache(maxsize=999)  # a rocket is built anew for each of its lengths
def _built(
    this: This[PartTable],
    station_m: float,
    radius_m: float,
    tail_m: float,
    figures: tuple[tuple[str, float], ...],
) -> Part:
    part, v = this.one, Values(dict(figures))
    making = Making(
        table=part,
        base=part_path(part.name),
        common=_common(part, station_m, v),
        values=v,
        radius_m=radius_m,
        tail_m=tail_m,
    )
    built = kind_of(part).build(making)
    if part.balance is not None or built.even or built.mass_kg == 0.0:
        return built
    return replace(built, balance_sigma_m=defaults.unbalanced_m(built.along_m))


def build_rocket(
    head: RocketHead,
    parts: tuple[PartTable, ...],
    overrides: Mapping[str, float],
    without: frozenset[str] = frozenset(),
) -> DesignedRocket:
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
    one = whole_entry(parts) is not None
    built = [_within(part) for part in built] if one else built
    built = [lying(part, built) for part in built]
    surface = head.surface
    return DesignedRocket(
        name=head.name,
        parts=tuple(built),
        roughness_m=values.get(
            "rocket.toml:surface.roughness", surface.roughness, defaults.ROUGHNESS_M
        ),
        paint_kg_m2=0.0 if one else values.get("rocket.toml:surface.paint", surface.paint),
        separation_station_m=values.maybe("rocket.toml:separates_at", head.separates_at),
        separation=build_separation(head.separation, head.charge, head.retention, values.overrides),
        main_station_m=values.maybe("rocket.toml:main_separation.at", head.main_separation.at),
        main_separation=build_main_separation(
            head.main_separation, head.main_charge, values.overrides
        ),
        hatch=build_hatch(head.hatch, "hatch" in head.model_fields_set, values.overrides),
    )


def _within(part: Part) -> Part:
    """Return a part of a rocket known as one mass: without a mass of its own it is within that."""
    own = part.mass_kg is not None or part.soft or part.room
    return part if own else replace(part, mass_kg=0.0)


def _holding_flown(part: Part, built: list[Part], without: frozenset[str]) -> Part:
    """Return a bay that holds a canopy left at home with the one that is flown in its place."""
    if not isinstance(part, p.Bay) or not without & set(part.holds):
        return part
    packed = {name for each in of_kind(built, p.Bay) for name in each.holds}
    canopies = (each.name for each in of_kind(built, p.Canopy))
    flown = [name for name in canopies if name not in packed]
    if len(flown) != 1:
        return part
    holds = tuple(flown[0] if name in without else name for name in part.holds)
    return replace(part, holds=holds)


def _named(parts: tuple[PartTable, ...], name: str) -> PartTable:
    return next(part for part in parts if part.name == name)


def build_motor(stem: str, head: MotorFile, curve: Curve, overrides: Mapping[str, float]) -> Motor:
    """Return a motor from its head and its curve."""
    v, base = Values(overrides), f"motors/{stem}.toml"
    delays = tuple(sorted({0.0, *(out.value for out in head.delay_out_allowed)}))
    delay_sigma = relative(head.delay, 0.08)
    if head.delay_spread is not None:
        delay_sigma = head.delay_spread.value
    adapter, named, limit = head.adapter, head.designation, head.max_liftoff_mass
    adapter_kg = 0.0 if adapter is None else v.get(f"{base}:adapter.mass", adapter.mass)
    return Motor(
        name=head.name,
        times_s=curve.times_s,
        thrusts_n=curve.thrusts_n,
        propellant_kg=v.get(f"{base}:propellant", head.propellant),
        loaded_kg=v.get(f"{base}:loaded", head.loaded) + adapter_kg,
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
        adapter_diameter_m=None if adapter is None else adapter.outer_diameter.value,
        max_liftoff_kg=None if limit is None else limit.value,
        label_impulse_ns=None if head.impulse is None else head.impulse.value,
        label_mean_n=None if named is None else named.mean_n,
        label_letter="" if named is None else named.letter,
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
        keep_out_kinds=outline.kinds if outline else (),
        people_areas_m=outline.people_m if outline else (),
        rail_lengths_m=tuple(sorted({rail.value for rail in head.rails})),
        code=head.code,
        gravity_m_s2=v.get(f"{base}:gravity", head.gravity, STANDARD_GRAVITY_M_S2),
    )


def pressure_at(elevation_m: float) -> float:
    """Return the standard pressure at an elevation, for a day without a pressure [Pa]."""
    return float(standard_atmosphere(elevation_m).pressure_pa)


def build_hour(base: str, table: HourTable, site: SiteFile) -> Day:
    """Return the air of one hour of a forecast; a gust in speed says the gusts' factor."""
    day = build_day(base, table, site, {})
    if table.gust is None or day.wind_m_s <= 0.0:
        return day
    return replace(day, gust_factor=max(table.gust.value / day.wind_m_s, 1.0))


def build_day(base: str, table: DayTable, site: SiteFile, overrides: Mapping[str, float]) -> Day:
    """Return the day's air; what the plan leaves out comes from the site or a default."""
    v = Values(overrides)
    pressure, setting = table.pressure, table.sea_level_pressure
    elevation, where_set = site.elevation.value, f"{base}.sea_level_pressure"
    at_pad = pressure_at(elevation)
    if setting is not None:
        at_pad = station_pressure_pa(v.get(where_set, setting), elevation)
        pressure = pressure or setting  # whose spread it is
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
        pressure_pa=v.of(base, table, "pressure", at_pad),
        pressure_sigma_pa=1000.0 if pressure is None else defaults.sigma_of("pressure", pressure),
        cloud_base_m=v.maybe(f"{base}.cloud_base", table.cloud_base),
        cloud_cover_tenths=None if cover is None else cover * 10,
    )
