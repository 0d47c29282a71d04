"""Corners of a field out of a file somebody drew or walked: GeoJSON, GPX or KML, as text.

GeoJSON [RFC 7946] and KML 2.2 [OGC 12-007r2] by their polygon, or their line; GPX 1.1 by its track
or route. Longitude and latitude become metres from the pad, which is the field's own, or the one
point (waypoint) of the file. XML with a document type or entities is refused, so nothing in a file
can grow or reach for another file.
"""

import json
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any, Final
from xml.parsers import expat

from goodflight.project.budgets import MAX_FIELD_POINTS
from goodflight.project.outlines import FARTHEST_M, Point, metres_per_degree

LONGEST: Final = 900_000  # characters
DEEPEST: Final = 40  # elements inside each other
_LINES: Final = ("trkseg", "rte")
_POINTS: Final = {"trkpt": "line", "rtept": "line", "wpt": "pad"}


def is_file(text: str) -> bool:
    """Whether a text looks like one of these files, not like typed corners."""
    return text.lstrip("\ufeff \t\r\n")[:1] in ("<", "{")


def corners_in(text: str, pad: Sequence[float] | None) -> tuple[Point, ...]:
    """Return the corners of the field in a file, in metres east and north of the pad.

    Parameters
    ----------
    text : str - of the file. [-]
    pad : sequence or None - longitude and latitude of the pad, where they are known. [deg]

    Returns
    -------
    corners : tuple - in the file's order, the first not repeated. [m]

    Raises
    ------
    ValueError - what the file lacks, in words.
    """
    if len(text) > LONGEST:
        raise ValueError(f"a file of {len(text)} characters, more than {LONGEST}")
    text = text.lstrip("\ufeff \t\r\n")
    drawn = _of_geojson(text) if text.startswith("{") else _of_xml(text)
    if not drawn.lines:
        raise ValueError("a file without an outline: no polygon, track or route in it")
    if len(drawn.lines) > 1:
        raise ValueError(f"a file with {len(drawn.lines)} outlines; leave the field's alone in it")
    ring = drawn.lines[0]
    if len(ring) > 1 and ring[0] == ring[-1]:
        ring.pop()
    if pad is None and len(drawn.points) != 1:
        raise ValueError(
            f"a file with {len(drawn.points)} points beside the outline; mark the pad, and only it"
        )
    if not 3 <= len(ring) <= MAX_FIELD_POINTS:
        raise ValueError(f"an outline of {len(ring)} corners")
    east, north = pad if pad is not None else drawn.points[0]
    if any(abs(x) > 180.0 or abs(y) > 85.0 for x, y in [*ring, (east, north)]):
        raise ValueError("degrees beyond 180 or 85; longitude and latitude are wanted")
    per_lon, per_lat = metres_per_degree(north)
    found = tuple(
        (round((x - east) * per_lon, 2), round((y - north) * per_lat, 2)) for x, y in ring
    )
    if any(abs(x) > FARTHEST_M or abs(y) > FARTHEST_M for x, y in found):
        raise ValueError("corners more than 50 km from the pad")
    return found


@dataclass
class _Drawn:
    lines: list[list[Point]] = field(default_factory=list)
    points: list[Point] = field(default_factory=list)

    @property
    def count(self) -> int:
        return len(self.points) + sum(map(len, self.lines))


def _of_geojson(text: str) -> _Drawn:
    try:
        data = json.loads(text)
    except (ValueError, RecursionError):
        raise ValueError("a text in braces that is no GeoJSON") from None
    drawn = _Drawn()
    try:
        for geometry in _geometries(data):
            kind, at = geometry["type"], geometry["coordinates"]
            if kind == "Point":
                drawn.points.append(_pair(at))
            elif kind in ("Polygon", "LineString"):
                drawn.lines.append([_pair(each) for each in (at[0] if kind == "Polygon" else at)])
    except (KeyError, IndexError, TypeError, AttributeError):
        raise ValueError("GeoJSON with a geometry that cannot be read") from None
    return drawn


def _geometries(data: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """The field's own of a collection, where features say their role."""
    features = data["features"] if data.get("type") == "FeatureCollection" else [data]
    roles = [(each.get("properties") or {}).get("role") for each in features]
    for each, role in zip(features, roles, strict=True):
        if "field" not in roles or role in ("field", "pad"):
            yield each["geometry"] if each.get("type") == "Feature" else each


def _pair(at: Sequence[Any]) -> Point:
    return _number(at[0]), _number(at[1])


def _number(text: Any) -> float:
    try:
        value = float(text)
    except ValueError:
        value = math.nan
    if not abs(value) < 1e6:  # nor anything that is no number
        raise ValueError(f"a coordinate {text!r}"[:60])
    return value


class _Reader:
    """Elements as they come; nothing is kept but the points."""

    def __init__(self) -> None:
        self.drawn, self.open, self.text = _Drawn(), list[str](), ""

    def start(self, name: str, said: dict[str, str]) -> None:
        self.open.append(name.rpartition(":")[2])
        here, self.text = self.open[-1], ""
        if len(self.open) > DEEPEST:
            raise ValueError(f"XML with more than {DEEPEST} elements inside each other")
        if here in _LINES:
            self.drawn.lines.append([])
        elif here in _POINTS:
            point = _number(said.get("lon")), _number(said.get("lat"))
            line = _POINTS[here] == "line" and self.drawn.lines
            (self.drawn.lines[-1] if line else self.drawn.points).append(point)
        self.check()

    def end(self, _: str) -> None:
        if self.open[-1] == "coordinates" and "innerBoundaryIs" not in self.open:
            points = [_pair(each.split(",")) for each in self.text.split()]
            if "Point" in self.open:
                self.drawn.points += points
            else:
                self.drawn.lines.append(points)
            self.check()
        self.open.pop()

    def data(self, text: str) -> None:
        if self.open[-1] == "coordinates":
            self.text += text

    def check(self) -> None:
        if self.drawn.count > MAX_FIELD_POINTS:
            raise ValueError(f"a file of more than {MAX_FIELD_POINTS} points")

    def refuse(self, *_: object) -> None:
        raise ValueError("XML with a document type or entities, which are not read")


def _of_xml(text: str) -> _Drawn:
    reader, parser = _Reader(), expat.ParserCreate("utf-8")
    parser.StartElementHandler, parser.EndElementHandler = reader.start, reader.end
    parser.CharacterDataHandler = reader.data
    parser.StartDoctypeDeclHandler = parser.EntityDeclHandler = reader.refuse
    try:
        parser.Parse(text.encode("utf-8"), True)
    except expat.ExpatError as error:
        raise ValueError(f"XML that cannot be read: {error}") from None
    except (TypeError, IndexError):
        raise ValueError("a point without longitude and latitude") from None
    reader.drawn.lines = [line for line in reader.drawn.lines if line]
    return reader.drawn
