"""Corners of a field typed as text, and put into its GeoJSON file.

A text holds corners in metres east and north of the pad, one a line or parted by `;`, with a name
and a colon before them where it is no field: "maize: 500 -110; 700 -110; 700 450". Or it holds how
far the edges lie from the pad: "west 140 m, east 500 m, south 110 m, north 450 m". Or it is the
text of a file, see `outline_read`.
"""

import json
import re
from collections.abc import Mapping, Sequence
from typing import Any, Final, NoReturn

from goodflight.project.faults import Fault, ProjectErrors
from goodflight.project.outline_read import corners_in, is_file
from goodflight.project.outlines import KINDS, Point, metres_per_degree
from goodflight.project.records import Project
from goodflight.quantity import QuantityError, parse

WANTED: Final = (
    "west 140 m, east 500 m, south 110 m, north 450 m; or corners in metres east and north of the "
    "pad, like 500 -110; 700 -110; 700 450; or a GPX, KML or GeoJSON file"
)
_EDGES: Final = ("west", "east", "south", "north")
_NUMBER: Final = r"[-+−]?\d+(?:\.\d+)?"
_PAIR: Final = re.compile(rf"\(?\s*({_NUMBER})\s*m?[\s,]+({_NUMBER})\s*m?\s*\)?")


def corners_of(text: str, pad: Sequence[float] | None = None) -> tuple[str, tuple[Point, ...]]:
    """Return the name that was typed, or none, and the corners [m].

    Parameters
    ----------
    text : str - corners, distances, or a file's text. [-]
    pad : sequence or None - longitude and latitude of the pad, for a file. [deg]

    Raises
    ------
    ValueError - the text holds neither corners nor distances; its words name the piece.
    """
    if is_file(text):
        return "", corners_in(text, pad)
    name, colon, rest = text.partition(":")
    name, rest = (" ".join(name.split()), rest) if colon else ("", text)
    if any(edge in rest.lower() for edge in _EDGES):
        return name, _rectangle(rest)
    found = []
    for piece in (each.strip() for each in re.split(r"[;\n]", rest)):
        pair = _PAIR.fullmatch(piece)
        if piece and pair is None:
            raise ValueError(piece)
        if pair is not None:
            east, north = (float(each.replace("−", "-")) for each in pair.groups())
            found.append((east, north))
    if len(found) > 1 and found[0] == found[-1]:
        found.pop()
    if len(found) < 3:
        raise ValueError(f"{len(found)} corners")
    return name, tuple(found)


def _rectangle(text: str) -> tuple[Point, ...]:
    far = {}
    for piece in re.split(r"[;,\n]", text.lower()):
        edge, _, size = piece.strip().partition(" ")
        if not piece.strip():
            continue
        try:
            far[edge] = parse(size.strip(), "length").value
        except QuantityError:
            raise ValueError(piece.strip()) from None
    if set(far) != set(_EDGES):
        raise ValueError(", ".join(far))
    west, east, south, north = (-far["west"], far["east"], -far["south"], far["north"])
    return ((west, south), (east, south), (east, north), (west, north))


def with_outline(
    project: Project, texts: Mapping[str, str], file: str, role: str, typed: str
) -> dict[str, str]:
    """Return the field's two files with the corners put in.

    Raises
    ------
    ProjectErrors - the text holds no corners, or a field has no outline to put them beside.
    """
    from goodflight.project.editing import with_entry

    stem = file.removeprefix("sites/").removesuffix(".toml")
    site = project.site_files[stem][0]
    try:
        name, corners = corners_of(typed, site.pad if site.coordinates == "lonlat" else None)
    except ValueError as error:
        _refuse(file, role, f'"{str(error)[:100]}"', WANTED, "correct it")
    path = f"sites/{site.outline or stem + '.geojson'}"
    data: dict[str, Any] = {"type": "FeatureCollection", "features": []}
    if site.outline is not None:
        data = json.loads(texts[path])
    elif role != "field" and path not in texts:
        advice = "enter the outline of the field first, in its own row"
        _refuse(file, role, "no outline of the field", "the field's outline beside it", advice)
    elif path in texts:  # written with this very answer
        data = json.loads(texts[path])
    kept = [f for f in data["features"] if role != "field" or f["properties"]["role"] != "field"]
    ring = [_in_file(site.coordinates == "lonlat", site.pad, corner) for corner in corners]
    says = {"role": role} if role == "field" else {"role": role, "name": name or role}
    if role in KINDS:
        says = {"role": "keep_out", "kind": role, "name": name or KINDS[role]}
    new = {
        "type": "Feature",
        "properties": says,
        "geometry": {"type": "Polygon", "coordinates": [[*ring, ring[0]]]},
    }
    found = {path: _lines({**data, "features": [*kept, new]})}
    if site.outline is None:
        found[file] = with_entry(texts[file], f"{file}:outline", path.removeprefix("sites/"))
    return found


def _refuse(file: str, role: str, found: str, wanted: str, advice: str) -> NoReturn:
    raise ProjectErrors(
        [Fault(file, 0, f"outline[{role}]", found=found, expected=wanted, advice=advice)]
    )


def _in_file(lonlat: bool, pad: list[float] | None, corner: Point) -> list[float]:
    """A corner as the outline's file has it."""
    east, north = pad or (0.0, 0.0)
    across, up = metres_per_degree(north) if lonlat else (1.0, 1.0)
    digits = 7 if lonlat else 2
    return [round(east + corner[0] / across, digits), round(north + corner[1] / up, digits)]


def _lines(data: Mapping[str, Any]) -> str:
    """A feature a line."""
    rows = ",\n".join(f"  {json.dumps(each)}" for each in data["features"])
    rest = "".join(
        f' "{key}": {json.dumps(value)},\n' for key, value in data.items() if key != "features"
    )
    return f'{{\n{rest} "features": [\n{rows}\n ]\n}}\n'
