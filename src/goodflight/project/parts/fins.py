"""The part kind `fins`: a set of equal fins."""

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Part
from goodflight.physics.vehicle.parts import FinEdges, FinGrain
from goodflight.project import defaults
from goodflight.project.fields import (
    Angle,
    Coordinate,
    DensityOrZero,
    FinSize,
    Key,
    Length,
    LengthOrZero,
    Station,
)
from goodflight.project.first_asked import First
from goodflight.project.measures import Tab
from goodflight.project.not_computed import TWO_FINS
from goodflight.project.outlines import crossing
from goodflight.project.parts.table import WHICH, Making, PartKind, PartTable, Placed, mm
from goodflight.project.sheets import Sheet
from goodflight.project.text_fields import fault


def _enough(count: Any) -> Any:
    """Refuse one fin, or two, with the reason."""
    if isinstance(count, int) and count < 3:
        raise fault(f"{count}", TWO_FINS, "add fins")
    return count


class FinsTable(PartTable):
    """A set of equal fins."""

    kind: Annotated[Literal["fins"], WHICH]
    station: Annotated[Station | None, Key("front of the root chord")] = None
    count: Annotated[int, Field(ge=3, le=8), BeforeValidator(_enough), Key("number of fins")]
    thickness: Annotated[Length, Key("thickness")]
    span: Annotated[FinSize | None, Key("how far a fin stands out from the body")] = None
    root: Annotated[FinSize | None, Key("length at the body")] = None
    tip: Annotated[LengthOrZero | None, Key("length at the outer edge")] = None
    sweep: Annotated[
        Coordinate | None, Key("how far the front of the tip lies behind the front of the root")
    ] = None
    cant: Annotated[Angle | None, Key("angle of all fins, on purpose", left_out="0")] = None
    tab: Annotated[Tab | None, Key("tab through the wall, length x depth", left_out="no tab")] = (
        None
    )
    tab_behind: Annotated[
        LengthOrZero | None, Key("front of the tab behind the front of the root", left_out="0")
    ] = None
    edges: Annotated[
        FinEdges | None,
        Key(
            "how the free edges are shaped",
            left_out="not known, anything from least to most drag",
            first=First(
                230, "Edges of the fins", "look at them: they set much of the drag", key="fin_edges"
            ),
        ),
    ] = None
    grain: Annotated[
        FinGrain | None,
        Key(
            "way the face grain runs: outward = root to tip, along = along the root",
            left_out="not known, anything between",
        ),
    ] = None
    bevel: Annotated[
        LengthOrZero | None,
        Key(
            "only for bevelled: width of the bevel on both faces",
            left_out="not known: drag and mass of anything up to bevels that meet; "
            "more than half the chord is one wedge",
        ),
    ] = None
    outline: Annotated[
        Annotated[list[list[Coordinate]], Field(min_length=3)] | None,
        Key("corners of any other shape: pairs aft of the root's front, outward"),
    ] = None
    alignment: Annotated[
        Angle | None,
        Key(
            "how true one fin stands, one standard deviation",
            left_out="0.5 deg",
            first=First(
                30,
                "Fins from straight, one standard deviation",
                "spin",
                key="fin_alignment",
                default="0.5 deg",
            ),
        ),
    ] = None
    fillet_radius: Annotated[
        LengthOrZero | None,
        Key("radius of the glue fillets", left_out="none, or a part of its own"),
    ] = None
    fillet_density: Annotated[
        DensityOrZero | None, Key("density of the fillets", left_out="1150 kg/m3")
    ] = None
    roll_phase: Annotated[
        Angle | None, Key("angle of the first fin about the axis", left_out="0")
    ] = None


def fin_outline(
    root_m: float, tip_m: float, span_m: float, sweep_m: float
) -> tuple[tuple[float, float], ...]:
    """Return the corners of a trapezoid or triangle fin: aft of the root's front, outward."""
    corners = ((0.0, 0.0), (sweep_m, span_m), (sweep_m + tip_m, span_m), (root_m, 0.0))
    return corners if tip_m > 0 else (corners[0], corners[1], corners[3])


def _check(sheet: Sheet, part: Placed) -> None:
    fins = part.table
    if fins.bevel is not None and fins.edges != "bevelled":
        advice = 'remove bevel, or write edges = "bevelled"'
        said = f'edges = "{fins.edges}"' if fins.edges else "no edges said"
        found = f"bevel of fins with {said}"
        sheet.add((*part.path, "bevel"), found, "bevel only with edges bevelled", advice)
    sizes = ("root", "tip", "span", "sweep")
    given = [key for key in sizes if getattr(fins, key) is not None]
    if fins.outline is not None:
        if given:
            advice = "keep the outline, or root, tip, span and sweep"
            found = f"{given[0]} beside an outline"
            sheet.add((*part.path, given[0]), found, "one of the two", advice)
        elif _outline(sheet, part):
            _tab(sheet, part, fins.outline[-1][0].value)
        return
    for key in sizes:
        if key not in given:
            advice = f"add {key}, or give the corners as outline"
            sheet.add((*part.path, key), "nothing", "a length like 80 mm", advice)
    if len(given) == len(sizes):
        _tab(sheet, part, fins.root.value)


def _outline(sheet: Sheet, part: Placed) -> bool:
    path = (*part.path, "outline")
    corners = part.table.outline
    for i, pair in enumerate(corners):
        if len(pair) != 2:
            advice = "write each corner as [aft, outward]"
            sheet.add((*path, i), f"{len(pair)} numbers", "two lengths", advice)
            return False
    points = tuple((pair[0].value, pair[1].value) for pair in corners)
    first, last = corners[0], corners[-1]
    if points[0] != (0.0, 0.0):
        found = f'["{first[0].text}", "{first[1].text}"]'
        advice = "measure all corners from the front end of the root"
        sheet.add((*path, 0), found, '["0 mm", "0 mm"], the front end of the root', advice)
    elif abs(points[-1][1]) > 1e-9 or points[-1][0] <= 0:
        found = f'["{last[0].text}", "{last[1].text}"]'
        advice = "end the outline at the rear end of the root"
        sheet.add((*path, len(points) - 1), found, "a last corner on the root line", advice)
    elif any(y < 0 for _, y in points) or max(y for _, y in points) <= 0:
        advice = "corners stand outward of the body; put what is inside under tab"
        sheet.add(path, "corners inside the body", "corners at 0 or outward", advice)
    elif crossing(points) is not None:
        advice = "put the corners in order around the fin"
        sheet.add(path, "edges that cross", "a simple outline", advice)
    else:
        return True
    return False


def _tab(sheet: Sheet, part: Placed, root_m: float) -> None:
    fins = part.table
    if fins.tab is None:
        return
    end = fins.tab["length"].value + (fins.tab_behind.value if fins.tab_behind else 0.0)
    if end > root_m + 1e-9:
        advice = "shorten tab or tab_behind"
        wanted = f"a tab that ends on the root, within {mm(root_m)}"
        found = f"a tab that ends {mm(end)} behind the root's front"
        sheet.add((*part.path, "tab"), found, wanted, advice)


def _build(m: Making) -> Part:
    if m.table.outline is not None:
        outline = tuple(
            (
                m.values.get(f"{m.base}.outline[#{i + 1}][#1]", pair[0]),
                m.values.get(f"{m.base}.outline[#{i + 1}][#2]", pair[1]),
            )
            for i, pair in enumerate(m.table.outline)
        )
    else:
        outline = fin_outline(*(m.of(key) for key in ("root", "tip", "span", "sweep")))
    long, deep = m.pair("tab")
    return p.Fins(
        **m.common,
        count=m.table.count,
        outline_m=outline,
        edges=m.table.edges,
        grain=m.table.grain,
        body_radius_m=m.radius_m,
        cant_rad=m.of("cant"),
        cant_sigma_rad=m.of("alignment", defaults.ALIGNMENT_RAD),
        fillet_density_kg_m3=m.of("fillet_density", 1150.0),
        roll_phase_rad=m.of("roll_phase"),
        tab_length_m=long,
        tab_depth_m=deep,
        tab_offset_m=m.of("tab_behind"),
        **m.sized("thickness fillet_radius bevel"),
    )


KIND = PartKind(
    FinsTable,
    "fin can",
    3,
    _build,
    check=_check,
)
