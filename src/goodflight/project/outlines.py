"""Read a field outline: a GeoJSON FeatureCollection, in metres or in longitude and latitude.

Features are polygons; `properties.role` is "field" (exactly one), "keep_out" with a `name`, or
"people" with a `name`: where people are or property stands, on the field or off it. A keep-out may
say its `kind`, one of `KINDS`.
Coordinates are metres east and north of `pad` (0, 0 when left out), or WGS 84 degrees with the
pad's longitude and latitude given; degrees become metres on the local tangent plane, which is
within 0.1 % out to 5 km.
"""

import json
import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

from goodflight.project.budgets import MAX_FIELD_POINTS, MAX_KEEP_OUTS, too_much
from goodflight.project.faults import Fault

Point = tuple[float, float]
Polygon = tuple[Point, ...]
SEMI_MAJOR_M: Final = 6378137.0  # WGS 84, exact
FLATTENING: Final = 1 / 298.257223563  # WGS 84, exact
FARTHEST_M: Final = 50_000.0  # of a corner from the pad: beyond it the unit is wrong
KINDS: Final = {  # of a keep-out: what lies there
    "water": "water", "trees": "trees", "lines": "power lines", "road": "a road or track",
    "crop": "standing crop",
}  # fmt: skip
NONE_OF: Final = {kind: f"no {words}" for kind, words in KINDS.items()} | {
    "road": "no road or track"
}
_FEATURE: Final = re.compile(r'"type"\s*:\s*"Feature"')


@dataclass(frozen=True)
class Outline:
    field_m: Polygon
    keep_outs_m: tuple[tuple[str, Polygon], ...]
    people_m: tuple[tuple[str, Polygon], ...] = ()
    kinds: tuple[str, ...] = ()  # of each keep-out; "" = not said


def metres_per_degree(latitude_deg: float) -> Point:
    """Return metres per degree of longitude and of latitude on the WGS 84 ellipsoid."""
    squared = FLATTENING * (2 - FLATTENING)
    sine = math.sin(math.radians(latitude_deg))
    root = math.sqrt(1 - squared * sine * sine)
    meridian = SEMI_MAJOR_M * (1 - squared) / root**3
    normal = SEMI_MAJOR_M / root
    return math.radians(normal * math.cos(math.radians(latitude_deg))), math.radians(meridian)


def inside(point: Point, polygon: Polygon) -> bool:
    """Say whether a point lies inside a polygon (even-odd rule)."""
    x, y = point
    found = False
    for i, (x2, y2) in enumerate(polygon):
        x1, y1 = polygon[i - 1]
        if (y1 > y) != (y2 > y) and x < x1 + (y - y1) / (y2 - y1) * (x2 - x1):
            found = not found
    return found


def crossing(polygon: Sequence[Point]) -> Point | None:
    """Return a place where a closed polygon crosses or touches itself; None when it does not.

    In near-linear time, by a kept library. Its area must not be empty either.
    """
    import shapely.geometry  # not before an outline is read: a fresh process may need none
    import shapely.validation

    area: Any = shapely.geometry
    told: Any = shapely.validation
    shape = area.Polygon(polygon)
    if shape.is_valid and shape.area > 0.0:
        return None
    place = re.search(r"\[([^ \]]+) ([^ \]]+)\]", told.explain_validity(shape))
    return (float(place[1]), float(place[2])) if place else polygon[0]


class _Reader:
    def __init__(self, file: str, text: str, lonlat: bool, pad: Point) -> None:
        self.file, self.lonlat, self.pad = file, lonlat, pad
        self.places = _lines_of_features(text)
        self.faults: list[Fault] = []

    def add(self, number: int, key: str, found: str, wanted: str, advice: str) -> None:
        line = self.places[number] if 0 <= number < len(self.places) else 1
        key = f"features[#{number + 1}]{key}" if number >= 0 else key
        self.faults.append(Fault(self.file, line, key, found=found, expected=wanted, advice=advice))

    def ring(self, number: int, feature: dict[str, Any]) -> Polygon | None:
        geometry = feature.get("geometry")
        kind = geometry.get("type") if isinstance(geometry, dict) else None
        if not isinstance(geometry, dict) or kind != "Polygon":
            found = f'"{kind}"' if kind else "no geometry"
            self.add(number, ".geometry", found, '"Polygon"', "draw the outline as one polygon")
            return None
        rings = geometry.get("coordinates")
        if not isinstance(rings, list) or len(rings) != 1 or not isinstance(rings[0], list):
            advice = "write one ring of [x, y] pairs, without holes"
            self.add(number, ".geometry.coordinates", "no single ring", "one ring", advice)
            return None
        return self.points(number, rings[0])

    def points(self, number: int, ring: list[Any]) -> Polygon | None:
        key = ".geometry.coordinates"
        points: list[Point] = []
        for i, pair in enumerate(ring):
            if not _is_pair(pair):
                wanted = "a pair of numbers [x, y]"
                self.add(number, f"{key}[#{i + 1}]", json.dumps(pair), wanted, "check this point")
                return None
            points.append((float(pair[0]), float(pair[1])))
        if len(points) < 4:
            advice = "give at least three corners and repeat the first at the end"
            self.add(number, key, f"{len(points)} points", "4 points or more", advice)
        elif points[0] != points[-1]:
            advice = "repeat the first point at the end"
            self.add(number, key, "an open ring", "a closed ring", advice)
        elif self.lonlat and any(abs(x) > 180 or abs(y) > 85 for x, y in points):
            advice = 'write longitude first; for metres set coordinates = "metres"'
            self.add(number, key, "numbers beyond 180 or 85", "longitude and latitude", advice)
        elif not self.lonlat and any(abs(x) > FARTHEST_M or abs(y) > FARTHEST_M for x, y in points):
            wanted = f"metres east and north of the pad, at most {FARTHEST_M:g}"
            self.add(number, key, "points farther away", wanted, "check the unit and the origin")
        else:
            found = tuple(self.metres(point) for point in points[:-1])
            return found if self.simple(number, found) else None
        return None

    def simple(self, number: int, ring: Polygon) -> bool:
        place = crossing(ring)
        if place is not None:
            advice = f"put the corners in order around the edge; look {place[0]:.0f} m east and "
            advice += f"{place[1]:.0f} m north of the pad"
            key = ".geometry.coordinates"
            self.add(number, key, "edges that cross", "a simple outline", advice)
        return place is None

    def metres(self, point: Point) -> Point:
        east, north = point[0] - self.pad[0], point[1] - self.pad[1]
        if not self.lonlat:
            return east, north
        per_lon, per_lat = metres_per_degree(self.pad[1])
        return east * per_lon, north * per_lat


def _lines_of_features(text: str) -> list[int]:
    """Return the line of each feature, in one walk through the text."""
    lines, line, seen = [], 1, 0
    for match in _FEATURE.finditer(text):
        line += text.count("\n", seen, match.start())
        seen = match.start()
        lines.append(line)
    return lines


def _is_pair(pair: Any) -> bool:
    if not isinstance(pair, list) or len(pair) < 2:
        return False
    return all(
        isinstance(x, (int, float)) and not isinstance(x, bool) and math.isfinite(x)
        for x in pair[:2]
    )


def read_outline(
    file: str, text: str, lonlat: bool, pad: Point
) -> tuple[Outline | None, list[Fault]]:
    """Return the outline in metres east and north of the pad, or None with all its faults."""
    try:
        data = json.loads(text)
    except json.JSONDecodeError as error:
        row = text.split("\n")[error.lineno - 1]
        found = f'"{row.strip()[:60]}"'
        advice = f"the reader says: {error.msg[0].lower()}{error.msg[1:]}"
        return None, [
            Fault(file, error.lineno, "", found=found, expected="valid GeoJSON", advice=advice)
        ]
    except (RecursionError, ValueError):  # brackets, or digits of a number, without end
        found, advice = "brackets nested too deeply, or a number too long", "draw the outline anew"
        return None, [Fault(file, 1, "", found=found, expected="valid GeoJSON", advice=advice)]
    reader = _Reader(file, text, lonlat, pad)
    features = data.get("features") if isinstance(data, dict) else None
    if not isinstance(features, list) or data.get("type") != "FeatureCollection":
        advice = 'write {"type": "FeatureCollection", "features": [...]}'
        reader.add(-1, "type", "another shape of file", "a FeatureCollection", advice)
        return None, reader.faults
    large = _too_large(file, features)
    if large is not None:
        return None, [large]
    fields, named, kinds = _sort(reader, features)
    if len(fields) != 1 and not reader.faults:
        advice = 'give one feature the property "role": "field"'
        reader.add(-1, "features", f"{len(fields)} fields", "exactly one field", advice)
    elif fields and not reader.faults and not inside((0.0, 0.0), fields[0]):
        advice = "check pad in the site's TOML file and the corners here"
        reader.add(-1, "features", "the pad outside the field", "the pad inside", advice)
    if reader.faults:
        return None, reader.faults
    return Outline(fields[0], tuple(named["keep_out"]), tuple(named["people"]), kinds), []


def _too_large(file: str, features: list[Any]) -> Fault | None:
    """Return the fault of an outline that holds more than is read, before it is."""
    if len(features) > MAX_KEEP_OUTS + 1:
        count = f"{len(features)} features"
        return too_much(file, "features", count, MAX_KEEP_OUTS + 1, "features")
    points = 0
    for feature in features:
        geometry = feature.get("geometry") if isinstance(feature, dict) else None
        rings = geometry.get("coordinates") if isinstance(geometry, dict) else None
        for ring in rings if isinstance(rings, list) else ():
            points += len(ring) if isinstance(ring, list) else 0
    if points > MAX_FIELD_POINTS:
        return too_much(
            file,
            "features",
            f"{points} points",
            MAX_FIELD_POINTS,
            "points in all outlines together; a point every few metres is enough",
        )
    return None


Named = dict[str, list[tuple[str, Polygon]]]  # by role


def _sort(reader: _Reader, features: list[Any]) -> tuple[list[Polygon], Named, tuple[str, ...]]:
    fields: list[Polygon] = []
    kinds: list[str] = []
    named: Named = {"keep_out": [], "people": []}
    for number, feature in enumerate(features):
        if not isinstance(feature, dict):
            reader.add(number, "", "no feature", "a Feature", "write a GeoJSON Feature here")
            continue
        properties = feature.get("properties")
        properties = properties if isinstance(properties, dict) else {}
        role, name = properties.get("role"), properties.get("name")
        ring = reader.ring(number, feature)
        if role not in ("field", *named):
            found = f'"{role}"' if role is not None else "nothing"
            advice = "say what this polygon is"
            reader.add(number, ".properties.role", found, '"field", "keep_out" or "people"', advice)
        elif role in named and not isinstance(name, str):
            advice, what = 'add a "name", for example "maize"', "a name for the keep-out"
            if role == "people":
                advice, what = 'add a "name", for example "farmhouse"', "a name for who is there"
            reader.add(number, ".properties.name", "nothing", what, advice)
        elif role == "keep_out" and properties.get("kind") not in (None, *KINDS):
            found, wanted = json.dumps(properties["kind"])[:60], ", ".join(KINDS)
            reader.add(
                number, ".properties.kind", found, wanted, "say what lies there, or leave out"
            )
        elif ring is not None and role == "field":
            fields.append(ring)
        elif ring is not None:
            named[role].append((str(name), ring))
            kinds += [properties.get("kind") or ""] if role == "keep_out" else []
    return fields, named, tuple(kinds)


def rectangle(east_west_m: float, north_south_m: float) -> str:
    """Return the outline of a field that is a rectangle with the pad in its middle, as GeoJSON.

    Parameters
    ----------
    east_west_m, north_south_m : float - its sides. [m]
    """
    east, north = east_west_m / 2, north_south_m / 2
    ring = [[-east, -north], [east, -north], [east, north], [-east, north], [-east, -north]]
    feature = {
        "type": "Feature",
        "properties": {"role": "field", "name": "field"},
        "geometry": {"type": "Polygon", "coordinates": [ring]},
    }
    return json.dumps({"type": "FeatureCollection", "features": [feature]}, indent=1) + "\n"
