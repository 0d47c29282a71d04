"""Patch and lanes as GPX 1.1, the open exchange format for routes and waypoints."""

from xml.sax.saxutils import escape

from goodflight.outputs.field_map.field_words import bearing_words
from goodflight.outputs.find.find_words import headline
from goodflight.studies.finding.asked import lonlat_of
from goodflight.studies.questions.find import FindStudy

Point = tuple[float, float]


def find_gpx(study: FindStudy) -> str:
    """Waypoints of the pad and the middle, one route a lane, the patches as tracks.

    Parameters
        study : FindStudy - with the pad's longitude and latitude. [-]
    Returns
        xml : str - GPX 1.1. [-]
    Raises
        ValueError - the pad's longitude and latitude are not known
    Validity
        Local tangent plane, within 0.1 % out to 5 km.
    Source
        GPX 1.1, the GPS exchange format of 2004, from memory.
    Example
        >>> find_gpx.__name__
        'find_gpx'
    """
    pad = study.pad_lonlat
    if pad is None:
        raise ValueError("longitude and latitude of the pad are not known")

    def at(place: Point, tag: str, name: str = "") -> str:
        east, north = lonlat_of(pad, place)
        named = f"<name>{escape(name)}</name>" if name else ""
        return f'<{tag} lat="{north:.7f}" lon="{east:.7f}">{named}</{tag}>'

    rows = [at((0.0, 0.0), "wpt", "pad"), at(study.middle_m, "wpt", "middle of the patch")]
    for lane in study.lanes:
        name = f"lane {lane.number}, {bearing_words(study.lane_bearing_rad)}"
        points = at(lane.start_m, "rtept") + at(lane.end_m, "rtept")
        rows.append(f"<rte><name>{name}</name>{points}</rte>")
    for patch in study.patches:
        rings = ((*line, line[0]) for line in patch.lines_m)
        pieces = "".join(
            f"<trkseg>{''.join(at(place, 'trkpt') for place in ring)}</trkseg>" for ring in rings
        )
        rows.append(f"<trk><name>{100 * patch.share:.0f} % patch</name>{pieces}</trk>")
    about = f"<desc>{escape(headline(study))}</desc>"
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n<gpx version="1.1" creator="goodflight" '
        'xmlns="http://www.topografix.com/GPX/1/1">\n'
        f"<metadata><name>{escape(study.rocket)}</name>{about}</metadata>\n"
        + "\n".join(rows)
        + "\n</gpx>\n"
    )
