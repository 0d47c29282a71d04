"""Outlines out of GeoJSON, GPX and KML; a hostile file is refused, not read."""

import json
from typing import Any

import pytest

from goodflight.project.outline_read import DEEPEST, LONGEST, corners_in
from goodflight.project.outline_typed import corners_of

PAD = (9.0, 50.0)
# by hand, WGS 84 at 50 deg: a degree of longitude is 71.70 km, of latitude 111.23 km
# (columns of the ellipsoid's table: National Geospatial-Intelligence Agency TR 8350.2; from memory)
EAST, NORTH = 71_695.0, 111_229.0
RING = [(8.998, 49.999), (9.004, 49.999), (9.004, 50.003), (8.998, 50.003)]
METRES = [((x - 9.0) * EAST, (y - 50.0) * NORTH) for x, y in RING]
GPX = (
    '<?xml version="1.0"?><gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1">{pad}'
    "<trk><trkseg>{points}</trkseg></trk></gpx>"
)
KML = (
    '<kml xmlns="http://www.opengis.net/kml/2.2"><Document>{pad}<Placemark><Polygon>'
    "<outerBoundaryIs><LinearRing><coordinates>{points}</coordinates></LinearRing>"
    "</outerBoundaryIs>{hole}</Polygon></Placemark></Document></kml>"
)
CLOSED = [*RING, RING[0]]


def gpx(pad: str = '<wpt lon="9.0" lat="50.0"><name>pad</name></wpt>') -> str:
    points = "".join(f'<trkpt lon="{x}" lat="{y}"><ele>3</ele></trkpt>' for x, y in CLOSED)
    return GPX.format(pad=pad, points=points)


def kml(
    pad: str = "<Placemark><Point><coordinates>9,50,3</coordinates></Point></Placemark>",
) -> str:
    points = "\n ".join(f"{x},{y},0" for x, y in CLOSED)
    hole = "<innerBoundaryIs><LinearRing><coordinates>9,50 9.001,50 9.001,50.001</coordinates>"
    return KML.format(pad=pad, points=points, hole=hole + "</LinearRing></innerBoundaryIs>")


def geojson(pad: bool = True) -> str:
    shapes: list[dict[str, Any]] = [
        {"type": "Polygon", "coordinates": [[list(each) for each in CLOSED]]}
    ]
    shapes += [{"type": "Point", "coordinates": list(PAD)}] if pad else []
    features = [{"type": "Feature", "properties": None, "geometry": each} for each in shapes]
    return json.dumps({"type": "FeatureCollection", "features": features})


@pytest.mark.parametrize("text", [gpx(), kml(), geojson()], ids=["gpx", "kml", "geojson"])
def test_a_file_with_its_pad_gives_metres(text: str) -> None:
    for corners in (corners_in(text, None), corners_of(" ".join(text.split()))[1]):
        assert len(corners) == 4
        for found, wanted in zip(corners, METRES, strict=True):
            assert found == pytest.approx(wanted, rel=1e-3, abs=0.05)


@pytest.mark.parametrize(
    "text", [gpx(""), kml(""), geojson(pad=False)], ids=["gpx", "kml", "geojson"]
)
def test_the_pad_is_the_fields_own_or_asked_for(text: str) -> None:
    assert corners_in(text, PAD)[0] == pytest.approx(METRES[0], rel=1e-3)
    with pytest.raises(ValueError, match="mark the pad"):
        corners_in(text, None)


BOMB = '<!DOCTYPE kml [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;">]>'


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (BOMB + kml(), "document type"),
        ('<!DOCTYPE gpx SYSTEM "file:///etc/passwd">' + gpx(), "document type"),
        (gpx().replace("<trk>", "<trk>&b;"), "cannot be read"),
        ("<a>" * (DEEPEST + 1), "inside each other"),
        ("<gpx>" + " " * LONGEST + "</gpx>", "characters"),
        (gpx().replace('lat="49.999"', ""), "longitude and latitude"),
        (gpx().replace('lat="49.999"', 'lat="nan"'), "a coordinate"),
        (gpx().replace('lat="49.999"', 'lat="north"'), "a coordinate 'north'"),
        (kml().replace("8.998,49.999,0", "8.998"), "longitude and latitude"),
        (kml().replace("9.004", "190"), "beyond 180"),
        (kml().replace("9.004", "19.004"), "50 km"),
        ("<gpx></gpx>", "without an outline"),
        (gpx().replace("<trk>", "<rte><rtept lon='9' lat='50'/></rte><trk>"), "2 outlines"),
        ("{not json", "no GeoJSON"),
        ('{"type": "Feature", "geometry": {"type": "Polygon"}}', "cannot be read"),
        ("{" * 5000, "no GeoJSON"),
        ("<kml>" + "<Point><coordinates>9,50</coordinates></Point>" * 20_001, "more than"),
    ],
)
def test_what_cannot_be_read_is_named(text: str, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        corners_in(text, None)
