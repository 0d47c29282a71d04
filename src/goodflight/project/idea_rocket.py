"""`rocket.toml` of one design of an idea. What no idea can know (pulls, strengths) is left out."""

import json
from math import pi
from typing import Final

from goodflight.project.idea import Idea
from goodflight.project.idea_design import (
    BLANKET_KG_M2,
    FIN_AHEAD_M,
    LINKS_KG,
    SWEEP_SHARE,
    TIP_SHARE,
    Design,
    Laid,
)
from goodflight.quantity import write

Value = str | float | int | bool | list[str] | None
NOSE, NOSE_WALL_M = "pla_printed", 0.002
EDGES: Final = {
    "kraft_tube": "kraft",
    "kraft_tube_glassed": "kraft_glassed",
    "paper_phenolic": "phenolic",
    "glass_epoxy": "glass",
}
ALIGNMENT: Final = "0.3 deg"  # of fins set in a guide; common practice
GLUE_KG_M: Final = 1.1  # epoxy for each metre of diameter; common practice
PAINT_KG_M2: Final = 0.075
GUIDE_KG: Final = 0.014
U_BOLT_KG: Final = 0.025


def _mm(value: float) -> str:
    return write(value, "length", "mm", digits=5)


def _g(value: float) -> str:
    return write(value, "mass", "g", known="guess", digits=4)


def toml_table(head: str, **keys: Value) -> str:
    """One table of TOML; a key that is None is left out."""
    rows = [
        f"{key} = {json.dumps(value, ensure_ascii=False)}"
        for key, value in keys.items()
        if value is not None
    ]
    return "\n".join([*([head] if head else []), *rows, ""])


def _part(kind: str, name: str, **keys: Value) -> str:
    return toml_table("[[part]]", kind=kind, name=name, **keys)


def _added(name: str, role: str, at: float, long: float, radius: float, mass: float) -> str:
    return _part(
        "added_mass",
        name,
        role=role,
        station=_mm(at),
        length=_mm(long),
        radius=_mm(radius),
        mass=_g(mass),
    )


def rocket_text(idea: Idea, design: Design, laid: Laid) -> str:
    """Return rocket.toml for a design.

    Parameters
    ----------
    idea : Idea - what is at hand. [-]
    design : Design - what is chosen of it. [SI]
    laid : Laid - where everything lies. [SI]
    """
    head = (
        "#:schema ./.schema/rocket.json\n"
        "# Worked out from idea.toml. Nothing is built yet, so every figure is a guess; weigh and\n"
        "# measure as it grows. A station is the distance aft of the nose tip.\n\n"
        + toml_table("", name=idea.said.name, separates_at=_mm(laid.separates_m))
    )
    tables = [
        toml_table("[separation]", coupler_in="fore", edge=EDGES.get(laid.tube.material)),
        toml_table("[charge]", blanket=f"{laid.blanket_m2:g} m2 guess"),
        toml_table("[retention]", kind="cap"),
    ]
    if idea.said.carry is None:
        tables.insert(0, toml_table("[[device]]", name="none", kind="none"))
    return (
        head
        + "\n"
        + "\n".join(
            [
                *tables,
                *_outer(design, laid),
                *_fins(idea, design, laid),
                *_mount(laid),
                *_carry(idea, design, laid),
                *_gear(idea, laid),
            ]
        )
    )


def _outer(design: Design, laid: Laid) -> list[str]:
    tube = laid.tube
    pieces = [("payload tube", laid.payload_m)] if laid.payload_m else []
    pieces.append(("main tube", laid.length_m - laid.separates_m))
    return [
        _part(
            "nose",
            "nose",
            length=_mm(design.nose_m),
            diameter=_mm(laid.outer_m),
            wall=_mm(NOSE_WALL_M),
            outline="tangent_ogive",
            plate=True,
            shoulder=f"{1e3 * laid.shoulder_m:g} mm x {1e3 * laid.bore_m - 0.2:g} mm",
            material=NOSE,
        ),
        *(
            _part(
                "tube",
                name,
                length=_mm(long),
                outer_diameter=_mm(laid.outer_m),
                inner_diameter=_mm(laid.bore_m),
                material=tube.material,
            )
            for name, long in pieces
        ),
    ]


def _fins(idea: Idea, design: Design, laid: Laid) -> list[str]:
    sheet = idea.said.sheet[design.sheet]
    station = laid.length_m - FIN_AHEAD_M - design.root_m
    depth = (laid.outer_m - laid.mount.outer_diameter.value) / 2
    skin = pi * laid.outer_m * laid.length_m
    found = [
        _part(
            "fins",
            "fins",
            count=design.fin_count,
            station=_mm(station),
            thickness=_mm(sheet.thickness.value),
            span=_mm(design.span_m),
            root=_mm(design.root_m),
            tip=_mm(TIP_SHARE * design.root_m),
            sweep=_mm(SWEEP_SHARE * design.root_m),
            edges="rounded",
            material=sheet.material,
            tab=f"{750 * design.root_m:.0f} mm x {1e3 * depth:.4g} mm",
            tab_behind=f"{125 * design.root_m:.0f} mm",
            alignment=ALIGNMENT,
        ),
        _added(
            "fillets and epoxy",
            role="fillets",
            at=station,
            long=design.root_m,
            radius=laid.outer_m / 2,
            mass=GLUE_KG_M * laid.outer_m,
        ),
    ]
    if laid.painted:
        found.append(
            _added(
                "paint",
                role="paint",
                at=0.2 * laid.length_m,
                long=0.8 * laid.length_m,
                radius=laid.outer_m / 2,
                mass=PAINT_KG_M2 * skin,
            )
        )
    return found


def _mount(laid: Laid) -> list[str]:
    bore, front, tail = laid.bore_m, laid.mount_from_m, laid.length_m
    out, inner = laid.mount.outer_diameter.value, laid.mount.inner_diameter.value
    rings = (("forward ring", front + 0.004), ("rear ring", tail - 0.014))
    return [
        _part(
            "motor_tube",
            "motor tube",
            station=_mm(front),
            length=_mm(laid.mount_m),
            outer_diameter=_mm(out),
            inner_diameter=_mm(inner),
            motor_aft=_mm(tail),
            material="kraft_tube",
        ),
        *(
            _part(
                "ring",
                name,
                station=_mm(at),
                thickness="6 mm",
                outer_diameter=_mm(bore - 2e-4),
                inner_diameter=_mm(out + 2e-4),
                material="birch_plywood",
            )
            for name, at in rings
        ),
        _part(
            "buttons",
            "rail guides",
            station=_mm(tail - 4.2 * laid.outer_m),
            aft_station=_mm(tail - 0.03),
            height="10 mm",
            frontal_area="1.2 cm2",
            mass=_g(GUIDE_KG),
        ),
        _part(
            "retainer",
            "retainer",
            station=_mm(tail - 0.018),
            length="18 mm",
            outer_diameter=_mm(out + 0.006),
            mass=_g(0.7 * out),
        ),
        _added("U-bolt", role="u_bolt", at=front - 0.016, long=0.02, radius=0.015, mass=U_BOLT_KG),
    ]


def _carry(idea: Idea, design: Design, laid: Laid) -> list[str]:
    """Ballast in the nose, the payload, and the coupler it stands on."""
    found = []
    if design.ballast_kg > 0.0:
        found.append(
            _added(
                "nose ballast",
                role="ballast",
                at=0.25 * design.nose_m,
                long=0.03,
                radius=0.012,
                mass=design.ballast_kg,
            )
        )
    carry = idea.said.carry
    if carry is None:
        return found
    inside = laid.bore_m - 0.0032
    start = design.nose_m + laid.shoulder_m + 0.005
    return [
        *found,
        _part(
            "coupler",
            "coupler",
            station=_mm(laid.separates_m - laid.coupler_m / 2),
            length=_mm(laid.coupler_m),
            outer_diameter=_mm(laid.bore_m - 2e-4),
            inner_diameter=_mm(inside),
            bulkheads=True,
            material=laid.tube.material,
        ),
        _added(
            "eyebolt",
            role="other",
            at=laid.separates_m + laid.coupler_m / 2 - 0.01,
            long=0.02,
            radius=0.015,
            mass=U_BOLT_KG,
        ),
        _added(
            carry.name,
            role="other",
            at=start,
            long=carry.length.value,
            radius=laid.bore_m / 3,
            mass=carry.mass.value,
        ),
    ]


def _gear(idea: Idea, laid: Laid) -> list[str]:
    canopy, cord, start = laid.canopy, laid.cord, laid.bay_from_m
    lines = canopy.lines
    return [
        _part(
            "bay",
            "recovery bay",
            station=_mm(start),
            length=_mm(laid.bay_m),
            inner_diameter=_mm(laid.bore_m),
            vents=1,
            vent_diameter="3 mm",
            holds=["blanket", "canopy", "cord", "links"],
        ),
        _part(
            "canopy",
            "canopy",
            station=_mm(start + 0.02),
            shape=canopy.shape,
            across=canopy.across.text,
            mass=_g(laid.canopy_kg),
            note=canopy.name,
            lines=None if lines is None else lines.text,
            line_strength=None if canopy.line_strength is None else canopy.line_strength.text,
            roll=f"{1e3 * laid.roll_m:.0f} mm x {1e3 * laid.bore_m - 4:g} mm",
        ),
        _part(
            "cord",
            "cord",
            station=_mm(start + 0.04),
            length=cord.length.text,
            strength=cord.strength.text,
            elongation="0.25" if cord.elongation is None else cord.elongation.text,
            stowed_length=_mm(laid.stowed_m),
            note=cord.name,
            width=None if cord.width is None else cord.width.text,
            canopy_at=write(cord.length.value / 3, "length", "m", digits=3),
            mass=_g(laid.cord_kg),
        ),
        _added(
            "blanket",
            role="wrap",
            at=start + 0.03,
            long=0.03,
            radius=0.45 * laid.bore_m,
            mass=BLANKET_KG_M2 * laid.blanket_m2,
        ),
        _added("links", role="other", at=start + 0.06, long=0.02, radius=0.015, mass=LINKS_KG),
    ]
