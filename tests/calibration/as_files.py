"""The files of a project from what the builder decided: parts weighed, pulls and gear measured."""

import json
from math import pi

from built import EDGE, PLY, WALL_KG_M3, Built, Canopy, Cord

from goodflight.physics.vehicle.edges import EDGES

Value = str | float | int | bool | list[str] | None
FIELD = ((-600.0, -600.0), (1400.0, -600.0), (1400.0, 1400.0), (-600.0, 1400.0))
POND = ((-500.0, 1000.0), (-300.0, 1000.0), (-300.0, 1200.0), (-500.0, 1200.0))
GLASS_SHEET, PLY_KG_M3, GLASS_KG_M3 = "glass_epoxy", 680.0, 1835.0


def mm(value: float) -> str:
    """A length as it is written."""
    return f"{value:g} mm"


def grams(value: float) -> str:
    """A mass read off a kitchen scale."""
    return f"{value:.0f} g measured"


def tested(value: float, share: float, unit: str = "N") -> str:
    """Mean of a few pulls, with their scatter."""
    return f"{value:g} {unit} ± {share * value:.3g} {unit} measured"


def table(head: str, **keys: Value) -> str:
    """One table of TOML; a key that is None is left out."""
    lines = [f"{key} = {json.dumps(value)}" for key, value in keys.items() if value is not None]
    return "\n".join([head, *lines, ""])


def part(kind: str, name: str, **keys: Value) -> str:
    """One [[part]]."""
    return table("[[part]]", kind=kind, name=name, **keys)


def files_of(built: Built) -> dict[str, str]:
    """Every text of the project, by its path."""
    found = {
        "rocket.toml": _rocket(built),
        "build.toml": _build(built),
        "plans.toml": _plan(built),
        "motors/m.toml": _motor(built),
        "motors/m.csv": "time_s,thrust_n\n" + "".join(f"{t},{f}\n" for t, f in built.motor.curve),
        "sites/f.toml": _site(built),
        "sites/f.geojson": _outline(built),
    }
    for file, text, becomes in built.swaps:
        if text not in found[file]:
            raise ValueError(f"{file} of {built.key} has no {text!r}")
        found[file] = found[file].replace(text, becomes)
    return found


def wall_g(built: Built, length_mm: float) -> float:
    """A piece of the body tube."""
    ring = pi / 4.0 * (built.outer_mm**2 - built.inner_mm**2) * 1e-6
    return ring * length_mm * 1e-3 * WALL_KG_M3[built.wall] * 1e3


def fin_g(built: Built) -> float:
    """All fins."""
    fins = built.fins
    area = (fins.root_mm + fins.tip_mm) / 2.0 * fins.span_mm
    density = GLASS_KG_M3 if fins.glass else PLY_KG_M3
    return fins.count * area * fins.thickness_mm * density * 1e-6


def _rocket(built: Built) -> str:
    head = table(
        "", name=built.title, invented=True, lengths="measured", separates_at=mm(built.joint_mm)
    ).lstrip()
    return head + "\n".join([*_tables(built), *_outer(built), *_inner(built), *_gear(built)])


def _tables(built: Built) -> list[str]:
    tables = [table("[surface]", roughness="40 um")]
    if built.electronics:
        tables.append(
            table("[[device]]", name="altimeter", run_time=built.run_time, recording="2 h label")
        )
    else:
        tables.append(table("[[device]]", name="none", kind="none"))
    edge = EDGES[EDGE[built.wall]].strength_pa * 1e-6 if built.edge_mpa is None else built.edge_mpa
    tables.append(
        table(
            "[separation]",
            pull=None if built.pull_n is None else tested(built.pull_n, 0.1),
            pins=built.pins or None,
            clearance=f"{mm(built.clearance_mm)} ± 0.05 mm measured",
            coupler_in="fore",
            fore_anchor=tested(built.anchor_n, 0.1),
            aft_anchor=tested(built.anchor_n, 0.1),
            bulkhead=tested(built.bulkhead_n, 0.1),
            fixed_joint=None if built.dual else tested(built.fixed_n, 0.1),
            edge=EDGE[built.wall],
            edge_strength=tested(edge, 0.1, "MPa"),
        )
    )
    powder = None if built.powder_g is None else f"{built.powder_g:g} g ± 0.03 g measured"
    tables.append(
        table(
            "[charge]",
            powder=powder,
            blanket=f"{built.blanket_m2:g} m2 measured",
            pack_pull="6 N ± 1 N measured",
        )
    )
    if built.dual:
        tables += _main_tables(built)
    if built.retention is not None:
        holds = None if built.retention_n is None else f"{built.retention_n:g} N label"
        tables.append(table("[retention]", kind=built.retention, holds=holds))
    return tables


def _main_tables(built: Built) -> list[str]:
    """The nose slides off its tube by its shoulder, held by pins; the charge is on the coupler."""
    powder, blanket = built.main_powder_g, built.main_blanket_m2
    return [
        table(
            "[main_separation]",
            at=mm(built.nose_mm),
            pull=None if built.main_pull_n is None else tested(built.main_pull_n, 0.1),
            pins=built.main_pins or None,
            clearance=f"{mm(built.clearance_mm)} ± 0.05 mm measured",
            fore_anchor=tested(built.anchor_n, 0.1),
            aft_anchor=tested(built.anchor_n, 0.1),
            bulkhead=tested(built.bulkhead_n, 0.1),
        ),
        table(
            "[main_charge]",
            powder=None if powder is None else f"{powder:g} g ± 0.03 g measured",
            blanket=None if blanket is None else f"{blanket:g} m2 measured",
        ),
    ]


def _outer(built: Built) -> list[str]:
    shoulder = min(1.0 * built.inner_mm, 100.0)
    parts = [
        part(
            "nose",
            "nose",
            length=mm(built.nose_mm),
            diameter=mm(built.outer_mm),
            wall=mm(built.nose_wall_mm),
            outline="tangent_ogive",
            plate=True,
            shoulder=f"{shoulder:g} mm x {built.inner_mm - 0.2:g} mm",
            material=built.nose_made,
            mass=grams(built.nose_g),
            balance=mm(round(0.62 * built.nose_mm)),
        ),
    ]
    tubes = [("payload tube", built.payload_mm)] if built.payload_mm else []
    tubes.append(("main tube", built.tube_mm))
    for name, length in tubes:
        parts.append(
            part(
                "tube",
                name,
                length=mm(length),
                outer_diameter=mm(built.outer_mm),
                inner_diameter=mm(built.inner_mm),
                material=built.wall,
                mass=grams(wall_g(built, length)),
            )
        )
    fins, length = built.fins, built.length_mm
    station = length - fins.ahead_mm - fins.root_mm
    depth = (built.inner_mm - built.mount_outer_mm) / 2.0 + (built.outer_mm - built.inner_mm) / 2.0
    sheet = GLASS_SHEET if fins.glass else PLY.get(fins.thickness_mm, PLY[4.0])
    parts.append(
        part(
            "fins",
            "fins",
            count=fins.count,
            station=mm(station),
            root=mm(fins.root_mm),
            tip=mm(fins.tip_mm),
            span=mm(fins.span_mm),
            sweep=mm(fins.sweep_mm),
            thickness=mm(fins.thickness_mm),
            edges="rounded",
            grain=None if fins.glass else "outward",
            material=sheet,
            cant=f"{fins.cant_deg:g} deg" if fins.cant_deg else None,
            tab=f"{round(0.75 * fins.root_mm)} mm x {depth:.1f} mm",
            tab_behind=mm(round(0.15 * fins.root_mm)),
            mass=grams(fin_g(built)),
            alignment=f"{fins.alignment_deg:g} deg",
        )
    )
    skin = pi * built.outer_mm * built.length_mm * 1e-6
    parts += [
        added(
            "fillets and epoxy", "fillets", station, fins.root_mm, built.outer_mm / 2, built.epoxy_g
        ),
        added(
            "paint",
            "paint",
            0.2 * length,
            0.8 * length,
            built.outer_mm / 2,
            built.paint_g_m2 * skin,
        ),
    ]
    return parts


def added(name: str, role: str, at: float, long: float, radius: float, mass: float) -> str:
    """An added mass, balanced in its middle."""
    return part(
        "added_mass",
        name,
        role=role,
        station=mm(round(at)),
        length=mm(round(long)),
        radius=mm(round(radius)),
        mass=grams(mass),
    )


def _inner(built: Built) -> list[str]:
    length, bore = built.length_mm, built.inner_mm
    front = length - built.mount_mm
    parts = [
        part(
            "motor_tube",
            "motor tube",
            station=mm(front),
            length=mm(built.mount_mm),
            outer_diameter=mm(built.mount_outer_mm),
            inner_diameter=mm(built.mount_inner_mm),
            motor_aft=mm(length),
            material="kraft_tube",
            mass=grams(
                pi
                / 4
                * (built.mount_outer_mm**2 - built.mount_inner_mm**2)
                * built.mount_mm
                * 725e-6
            ),
        ),
    ]
    ring = pi / 4 * (bore**2 - built.mount_outer_mm**2) * 6.0 * 680e-6
    tail = built.fins.ahead_mm + built.fins.root_mm
    for name, at in (
        ("forward ring", front + 4),
        ("middle ring", length - tail - 8),
        ("rear ring", length - 14),
    ):
        parts.append(
            part(
                "ring",
                name,
                station=mm(at),
                thickness="6 mm",
                outer_diameter=mm(bore - 0.2),
                inner_diameter=mm(built.mount_outer_mm + 0.2),
                material="birch_plywood",
                mass=grams(ring),
            )
        )
    guides = 24.0 if built.outer_mm > 90.0 else 14.0
    parts += [
        part(
            "buttons",
            "rail guides",
            station=mm(round(length - 4.2 * built.outer_mm)),
            aft_station=mm(round(length - 30)),
            height="10 mm",
            frontal_area="1.2 cm2",
            made_for="25 mm, slot 6 mm",
            strength=tested(built.guide_n, 0.15),
            mass=grams(guides),
        ),
        part(
            "retainer",
            "retainer",
            station=mm(length - 18),
            length="18 mm",
            outer_diameter=mm(built.mount_outer_mm + 6),
            mass=grams(0.7 * built.mount_outer_mm),
        ),
        added("U-bolt", "u_bolt", front - 16, 20, 15, built.hardware_g),
    ]
    if built.ballast_g:
        parts.append(
            added("nose ballast", "ballast", 0.25 * built.nose_mm, 30, 12, built.ballast_g)
        )
    if built.extra_g:
        parts.append(added("extra", "other", built.extra_at * length, 40, 20, built.extra_g))
    if built.payload_mm:
        parts += _coupler(built)
    return parts


def _coupler(built: Built) -> list[str]:
    """Coupler with two bulkheads, the electronics in it or in the tube ahead of it."""
    long, bore = built.coupler_mm, built.inner_mm
    at = built.joint_mm - round(long / 2)
    inside = bore - 0.2 - 3.0
    tube = pi / 4 * ((bore - 0.2) ** 2 - inside**2) * long * WALL_KG_M3[built.wall] * 1e-6
    discs = 2 * pi / 4 * bore**2 * 6.0 * 680e-6
    parts = [
        part(
            "coupler",
            "coupler",
            station=mm(at),
            length=mm(long),
            outer_diameter=f"{bore - 0.2:.1f} mm",
            inner_diameter=f"{inside:.1f} mm",
            bulkheads=True,
            material=built.wall,
            mass=grams(tube + discs + built.hardware_g),
        ),
    ]
    if built.electronics:
        room = round(0.9 * long) if built.dual else 85
        start = at + 6 if built.dual else built.nose_mm + min(bore, 100.0) + 5
        parts += [
            part(
                "bay",
                "electronics bay",
                station=mm(start),
                length=mm(room),
                inner_diameter=f"{inside if built.dual else bore:.1f} mm",
                vents=3,
                vent_diameter=mm(built.vent_mm),
                free_volume=f"{built.air_l:g} L measured",
                electronics=True,
                holds=["sled, altimeter, battery"],
            ),
            added("sled, altimeter, battery", "sled", start, room, bore / 3, built.payload_g),
        ]
    return parts


def _canopy(built: Built, name: str, canopy: Canopy, at: float, packed: float | None = None) -> str:
    roll = (built.packed if packed is None else packed) * canopy.roll_mm(built.inner_mm)
    return part(
        "canopy",
        name,
        station=mm(round(at)),
        shape="flat_hexagonal",
        across=f"{canopy.across_m:g} m across flats",
        cloth="48 g/m2 label",
        drag_coefficient="0.75 ± 0.06",
        lines=f"{canopy.lines} x {1.15 * canopy.across_m:.2f} m",
        line_strength=f"{canopy.line_n:g} N label",
        roll=f"{roll:.0f} mm x {built.inner_mm - 4:g} mm",
        mass=grams(canopy.mass_g),
    )


def _cord(built: Built, name: str, cord: Cord, at: float, packed: float) -> str:
    section = pi / 4 * built.inner_mm**2 * 1e-6
    stowed = packed * max(60.0, cord.mass_g * 1e-3 / 190.0 / section * 1e3)
    return part(
        "cord",
        name,
        station=mm(round(at)),
        length=f"{cord.length_m:g} m",
        strength=f"{cord.strength_n:g} N ± 5 % measured",
        joint_efficiency=cord.joint,
        elongation=cord.elongation,
        stowed_length=mm(round(stowed)),
        width=f"{cord.width_mm:g} mm measured",
        canopy_at=f"{cord.length_m / 3:.2f} m",
        leader=f"{cord.leader_m:g} m",
        leader_strength=f"{cord.leader_n:g} N label",
        mass=grams(cord.mass_g),
    )


def _gear(built: Built) -> list[str]:
    bore, shoulder = built.inner_mm, min(built.inner_mm, 100.0)
    engaged = built.coupler_mm / 2 if built.payload_mm else shoulder
    start = built.joint_mm + engaged
    room = built.length_mm - built.mount_mm - start - 10
    wrap = 530.0 * built.blanket_m2
    parts = [
        part(
            "bay",
            "recovery bay",
            station=mm(start),
            length=mm(round(room)),
            inner_diameter=mm(bore),
            vents=built.bay_vents or None,
            vent_diameter=mm(built.bay_vent_mm) if built.bay_vents else None,
            holds=["blanket", "canopy", "cord", "links"],
        ),
        _canopy(built, "canopy", built.canopy, start + 20),
        _cord(built, "cord", built.cord, start + 40, built.packed),
        added("blanket", "wrap", start + 30, 30, 0.45 * bore, wrap),
        added("links", "other", start + 60, 20, 15, 24.0),
    ]
    if built.main is not None:
        front = built.nose_mm + shoulder
        behind = built.joint_mm - round(built.coupler_mm / 2)
        parts += [
            part(
                "bay",
                "main bay",
                station=mm(front),
                length=mm(behind - front),
                inner_diameter=mm(bore),
                vents=1,
                vent_diameter="3 mm",
                holds=["main", "main cord", "main blanket"],
            ),
            _canopy(built, "main", built.main, front + 30, built.main_packed),
            added(
                "main blanket",
                "wrap",
                front + 30,
                30,
                0.45 * bore,
                530.0 * (built.main_blanket_m2 or 0.1),
            ),
        ]
        if built.main_cord is not None:
            parts.append(_cord(built, "main cord", built.main_cord, front + 60, built.main_packed))
    return parts


def _build(built: Built) -> str:
    stay = f'stay = [{{ workplace = "workshop", time = "{built.cure_d:g} d" }}]\n'
    joints = (
        ("rings on the motor tube", ["motor tube", "forward ring", "middle ring", "rear ring"]),
        ("fins and fillets", ["fins", "motor tube", "main tube"]),
    )
    text = [
        'fin_limit = "1 deg"\ntube_kept = "dry room"\n',
        table(
            "[[workplace]]",
            name="workshop",
            temperature=f"{built.glue_degc:g} degC ± 1 degC measured",
            humidity=0.55,
        ),
        table(
            "[[glue]]",
            name="slow epoxy",
            working_time="40 min label",
            cure="24 h label",
            reference="25 degC label",
            activation_kj_mol=58.6,
            min_temperature="5 degC label",
        ),
        *(
            table(
                "[[joint]]",
                name=name,
                parts=parts,
                glue="slow epoxy",
                work=f"{built.work_min:g} min ± 4 min",
            )
            + stay
            for name, parts in joints
        ),
        table(
            "[[paint]]",
            name="coats",
            workplace="workshop",
            recoat_min="1 h label",
            recoat_max="48 h label",
            interval="20 h",
        ),
        *(
            table("[[check]]", name=name, state=built.checks)
            for name in ("nut of the U-bolt", "links of the cord", "screws of the guides")
        ),
    ]
    fitted = [
        table("[[step]]", name="U-bolt fitted", fits=["U-bolt"], done=True),
        table("[[step]]", name="fin can glued in", closes=["U-bolt"], done=True),
    ]
    if built.ballast_g:
        steps = [
            table("[[step]]", name="ballast potted", fits=["nose ballast"], done=True),
            table("[[step]]", name="plate glued in", closes=["nose ballast"], done=True),
        ]
        fitted += steps if built.ballast_sealed else steps[::-1]
    return "\n".join(text + fitted)


def _plan(built: Built) -> str:
    altimeter = built.delay_out_s is None
    first, second = ("main", "canopy") if built.wired_wrong else ("canopy", "main")
    dual = {"main": second, "main_height": f"{built.main_height_m:g} m"} if built.dual else {}
    return table(
        "[[plan]]",
        name="first flight",
        motor="m",
        delay_out=None if altimeter else f"{built.delay_out_s:g} s",
        canopy=first,
        **dual,
        site="f",
        rail=f"{built.rail_m:g} m",
        tilt=f"{built.tilt_deg:g} deg",
        lean="into wind",
        deployment="altimeter" if altimeter else "delay",
        level="L1",
        pad_wait="30 min ± 10 min",
        confirmed=list(built.confirmed),
    ) + table(
        "[plan.day]",
        wind=f"{built.wind_m_s:g} m/s ± 0.3 m/s measured",
        wind_from="225 deg ± 10 deg",
        gust_factor=1.6,
        temperature=f"{built.temperature_degc:g} degC",
        cloud_base=f"{built.cloud_base_m:g} m",
        cloud_cover=built.cloud_cover,
    )


def _motor(built: Built) -> str:
    motor = built.motor
    delay = motor.delay_s
    text = table(
        "",
        name=motor.name,
        invented=True,
        source="calibration",
        diameter=mm(motor.diameter_mm),
        length=mm(motor.length_mm),
        propellant=f"{motor.propellant_g:g} g",
        loaded=f"{motor.loaded_g:g} g",
        impulse=f"{motor.impulse_ns:g} N s",
        delay=None if delay is None else f"{delay:g} s",
        delay_out_allowed=None if delay is None else [f"{out} s" for out in range(10)],
        max_liftoff_mass=f"{motor.impulse_ns / motor.burn_s / 5.0 / 9.81:.2f} kg label",
        charge=None if delay is None else f"{motor.charge_g:g} g",
    )
    return text.lstrip()


def _site(built: Built) -> str:
    rails = [f"{length:g} m" for length in sorted({2.4, 3.0, 3.6, built.rail_m})]
    return table(
        "",
        name="Long Meadow",
        invented=True,
        elevation="60 m measured",
        ceiling="1500 m",
        outline="f.geojson",
        coordinates="metres",
        rails=rails,
        rail_kind="25 mm, slot 6 mm",
        code="us",
        people="900 m",
        spectators="100 m",
        airport="12 km",
        wind_exponent=0.16,
        not_there=["trees", "lines", "road", "crop"],
    ).lstrip()


def _outline(built: Built) -> str:
    areas = (("field", "grass", FIELD, {}), ("keep_out", "pond", POND, {"kind": "water"}))
    found = []
    for role, name, corners, kind in areas:
        ring = [[east * built.field_scale, north * built.field_scale] for east, north in corners]
        found.append(
            {
                "type": "Feature",
                "properties": {"role": role, "name": name, **kind},
                "geometry": {"type": "Polygon", "coordinates": [[*ring, ring[0]]]},
            }
        )
    return json.dumps({"type": "FeatureCollection", "features": found})
