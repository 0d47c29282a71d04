"""The demo project "Fieldfare": rocket, motors, field and weather are invented, and say so.

The rocket was planned on the middle motor in calm air, came out heavier and more tail-heavy when
weighed, got ballast in the nose, and meets a rising wind on a field with one bad side.
"""

import json
from pathlib import Path
from typing import Final

_ROCKET: Final = """\
#:schema ./.schema/rocket.json
# Fieldfare: everything in this project is invented. No real motor, kit or place is meant.
# A station is the distance aft of the nose tip. "±" is one standard deviation.

name = "Fieldfare"
invented = true
about = "White body, tomato-red nose and fins, one fin black as roll reference, orange canopy."
lengths = "measured"          # lengths below are as measured on the finished rocket
separates_at = "460 mm"       # joint of coupler and main tube

[finish]
roughness = "30 um"           # two coats of spray paint, sanded
# the paint film is weighed as a part of its own, "paint", below

# --- outer body, front to back: stations follow from the lengths ---

[[part]]
kind = "nose"
name = "nose"
shape = "tangent_ogive"
length = "240 mm"
base_diameter = "79.0 mm"
wall = "2.0 mm"
shoulder_length = "60 mm"
shoulder_diameter = "75.8 mm"
material = "pla_printed"
mass = "144 g measured"       # planned 150 g
balance = "150 mm"
note = "printed, plate with closed eyebolt"

[[part]]
kind = "tube"
name = "payload tube"
length = "220 mm"
outer_diameter = "79.0 mm"
inner_diameter = "76.0 mm"
material = "kraft_tube_glassed"
mass = "68 g label"
balance = "350 mm"

[[part]]
kind = "tube"
name = "main tube"
length = "760 mm"
outer_diameter = "79.0 mm"
inner_diameter = "76.0 mm"
material = "kraft_tube_glassed"
mass = "236 g label"
balance = "840 mm"

# --- fins ---

[[part]]
kind = "fins"
name = "fins"
count = 3
station = "1060 mm"           # front of the root; the root ends 10 mm ahead of the tail
root = "150 mm"
tip = "60 mm"
span = "80 mm"
sweep = "70 mm"
thickness = "4 mm"
section = "rounded"
material = "birch_plywood_4mm"
mass = "92 g label"
balance = "1140 mm"
tab_length = "118 mm"
tab_depth = "19 mm"
tab_offset = "24 mm"
alignment = "0.5 deg"         # of one fin
# the glue fillets are weighed as a part of their own below

[[part]]
kind = "lump"
name = "fillets and internal epoxy"
station = "1065 mm"
length = "150 mm"
radius = "40 mm"
mass = "104 g measured"       # planned 60 g
balance = "1140 mm"

# --- inside, front to back ---

[[part]]
kind = "lump"
name = "nose ballast"
station = "60 mm"
length = "20 mm"
radius = "12 mm"
mass = "45 g measured"        # not planned: added after weighing
balance = "70 mm"

[[part]]
kind = "bay"
name = "payload bay"
station = "300 mm"
length = "85 mm"
inner_diameter = "76.0 mm"
vents = 3
vent_diameter = "2.7 mm"      # for 0.91 L with the hollow of the nose
holds = ["sled, logger, battery, camera"]

[[part]]
kind = "lump"
name = "rivets"
station = "298 mm"
length = "4 mm"
radius = "38 mm"
mass = "4 g label"
balance = "300 mm"

[[part]]
kind = "lump"
name = "sled, logger, battery, camera"
station = "330 mm"
length = "140 mm"
radius = "30 mm"
mass = "95 g label"
balance = "400 mm"

[[part]]
kind = "coupler"
name = "coupler"
station = "385 mm"
length = "150 mm"
outer_diameter = "75.8 mm"
inner_diameter = "72.8 mm"
material = "kraft_tube"
mass = "95 g"                 # with both bulkheads and the eyebolt
balance = "460 mm"
note = "fixed in the payload tube; bulkheads and eyebolt are weighed with it"

[[part]]
kind = "bay"
name = "parachute bay"
station = "545 mm"
length = "400 mm"
inner_diameter = "76.0 mm"
vents = 1
vent_diameter = "3 mm"
holds = ["blanket", "plan A", "cord", "links"]

[[part]]
kind = "canopy"
name = "plan A"
station = "580 mm"
shape = "flat_hexagonal"
diameter = "1.00 m"           # across the corners
drag_coefficient = "0.75 ± 0.08"   # on the cloth area
cloth = "48 g/m2 label"
lines = 6
line_length = "1.1 m"
line_strength = "450 N label"
packed_length = "180 mm"
packed_diameter = "72 mm"
mass = "96 g measured"        # plan A, cord, blanket and links: 318 g together, planned 290 g
balance = "680 mm"

[[part]]
kind = "canopy"
name = "plan B"
station = "590 mm"
shape = "flat_hexagonal"
diameter = "0.85 m"
drag_coefficient = "0.75 ± 0.08"
cloth = "48 g/m2 label"
lines = 6
line_length = "0.95 m"
line_strength = "450 N label"
packed_length = "150 mm"
packed_diameter = "72 mm"
mass = "74 g measured"
balance = "680 mm"
note = "flown instead of plan A, not beside it"

[[part]]
kind = "cord"
name = "cord"
station = "600 mm"
length = "5.5 m"
strength = "6500 N ± 10 % label"   # 14 mm tubular nylon, new and straight; aramid leader
joint_efficiency = 0.5
elongation = 0.25
packed_length = "160 mm"
mass = "150 g measured"
balance = "680 mm"

[[part]]
kind = "lump"
name = "blanket"
station = "620 mm"
length = "120 mm"
radius = "35 mm"
mass = "48 g measured"        # heat blanket, 0.3 m square
balance = "680 mm"

[[part]]
kind = "lump"
name = "links"
station = "670 mm"
length = "20 mm"
radius = "15 mm"
mass = "24 g measured"
balance = "680 mm"

[[part]]
kind = "lump"
name = "U-bolt"
station = "952 mm"
length = "20 mm"
radius = "15 mm"
mass = "25 g label"
balance = "962 mm"

[[part]]
kind = "motor_tube"
name = "motor tube"
station = "960 mm"
length = "260 mm"
outer_diameter = "41.0 mm"
inner_diameter = "38.4 mm"
motor_aft = "1220 mm"
material = "kraft_tube"
mass = "32 g label"
balance = "1090 mm"

[[part]]
kind = "ring"
name = "forward ring"
station = "963 mm"
thickness = "4 mm"
outer_diameter = "75.9 mm"
inner_diameter = "41.2 mm"
material = "birch_plywood_4mm"
mass = "20 g"
balance = "965 mm"

[[part]]
kind = "ring"
name = "middle ring"
station = "1078 mm"
thickness = "4 mm"
outer_diameter = "75.9 mm"
inner_diameter = "41.2 mm"
material = "birch_plywood_4mm"
mass = "20 g"
balance = "1080 mm"

[[part]]
kind = "ring"
name = "rear ring"
station = "1203 mm"
thickness = "4 mm"
outer_diameter = "75.9 mm"
inner_diameter = "41.2 mm"
material = "birch_plywood_4mm"
mass = "20 g"
balance = "1205 mm"

[[part]]
kind = "buttons"
name = "rail guides"
station = "900 mm"            # forward guide
aft_station = "1190 mm"
height = "10 mm"
frontal_area = "1.2 cm2"      # of one guide, for 25 mm slotted rail
mass = "16 g label"
balance = "1045 mm"

[[part]]
kind = "lump"
name = "retainer"
station = "1205 mm"
length = "20 mm"
radius = "23 mm"
mass = "35 g label"
balance = "1215 mm"

[[part]]
kind = "lump"
name = "paint"
station = "200 mm"
length = "1020 mm"
radius = "40 mm"
mass = "92 g measured"        # planned 60 g
balance = "740 mm"
"""

_PLANS_HEAD: Final = """\
#:schema ./.schema/plans.json
# Planned flights. The first one is shown when no plan is named. Weather is invented.
"""

_PLAN: Final = """
[[plan]]
name = "{name}"
motor = "{motor}"
trim = "{trim} s"                  # taken out of the delay
canopy = "plan A"
site = "larkrise"
rail = "{rail} m"
tilt = "{tilt} deg"
lean = "into wind"
deployment = "delay"
level = "L1"
note = "{note}"

[plan.day]
time = "{time}"
wind = "{wind}"   # mean at 2 m
wind_from = "230 deg ± 12 deg"
gust_factor = 1.6
temperature = "{temperature} degC"
cloud_base = "{base} m"
cloud_cover = {cover}
"""

_PLANS: Final = (
    ("calm", "H-b", 2, 2.4, 0, "1.0 m/s ± 0.3 m/s", 12, 950, 0.2, "09:00",
     "the flight as it was hoped for: a still, clear morning"),
    ("cloudy", "H-b", 2, 2.4, 3, "2.5 m/s ± 0.3 m/s measured", 9, 500, 0.7, "10:00",
     "the morning as it came"),
    ("midday", "H-b", 2, 2.4, 3, "3.5 m/s ± 0.3 m/s measured", 12, 950, 0.4, "12:30",
     "the same after the cloud has lifted"),
    ("breezy", "H-b", 2, 2.4, 3, "4.5 m/s ± 0.3 m/s measured", 13, 950, 0.4, "13:15",
     "the wind has risen while waiting"),
    ("small motor", "H-a", 3, 3.0, 0, "4.5 m/s ± 0.3 m/s measured", 13, 950, 0.4, "13:15",
     "lower, upright, on the longer rail"),
    ("big motor", "I-c", 4, 2.4, 3, "4.5 m/s ± 0.3 m/s measured", 13, 950, 0.4, "13:15",
     "what the ceiling and level say"),
)  # fmt: skip

_MOTOR: Final = """\
#:schema ../.schema/motor.json
# Invented motor; no real one is meant. The curve stands in {name}.csv beside this file.
name = "{name}"
invented = true
source = "demo data"
diameter = "38 mm"
length = "{length} mm"
propellant = "{propellant} g"
loaded = "{loaded} g"
impulse = "{impulse} N s"
delay = "{delay} s"            # longest, counted from burnout
trims = [{trims}]
delay_spread = "8 %"
"""

# name: length mm, propellant g, loaded g, impulse N s, delay s, most trimmed s, curve
_MOTORS: Final = {
    "H-a": (
        (167, 92, 252, 168.0, 10, 6),
        "0,0 0.03,118 0.10,146 0.35,139 0.75,122 1.10,98 1.35,70 1.52,30 1.60,0",
    ),
    "H-b": (
        (203, 128, 305, 256.9, 11, 7),
        "0,0 0.04,165 0.12,205 0.40,188 0.90,158 1.30,124 1.60,82 1.75,35 1.82,0",
    ),
    "I-c": (
        (258, 204, 418, 394.3, 14, 10),
        "0,0 0.04,230 0.12,268 0.45,252 0.95,226 1.40,192 1.75,120 1.92,45 2.00,0",
    ),
}

_SITE: Final = """\
#:schema ../.schema/site.json
# Invented field: wheat stubble, 640 m east-west by 560 m north-south. The outline beside this
# file is in metres east and north of the pad.
name = "Larkrise stubble"
invented = true
about = "Maize beyond the east edge, ditch in the north, poplars north-west, track in the west."
elevation = "12 m measured"
ceiling = "760 m"              # agreed, above ground
outline = "larkrise.geojson"
coordinates = "metres"
rails = ["2.4 m", "2.4 m", "3.0 m"]   # the longest has the longer queue
code = "us"                    # the rules this project is checked against; the field's own go first
people = "600 m"               # farmhouse in the south-west
spectators = "60 m"            # flight line to the pad
wind_exponent = 0.16
"""

_POLYGONS: Final = (
    ("field", "stubble", (-140, -110, 500, 450)),
    ("keep_out", "standing maize", (500, -110, 700, 450)),
    ("keep_out", "drainage ditch", (-140, 446, 500, 450)),
    ("keep_out", "poplar row", (-140, 400, -60, 446)),
)

_WEIGHINGS: Final = """\
#:schema ./.schema/weighings.json
# Measurements of the finished rocket (invented). "all" is the whole rocket without its motor.

[[weighing]]
what = ["plan A", "cord", "blanket", "links"]
mass = "318 g ± 1 g"

[[weighing]]
what = ["all"]
mass = "1461 g ± 2 g"
balance = "699 mm ± 2 mm"
note = "with 45 g of ballast in the nose"
"""


def _polygon(role: str, name: str, box: tuple[int, int, int, int]) -> dict[str, object]:
    west, south, east, north = box
    ring = [[west, south], [east, south], [east, north], [west, north], [west, south]]
    return {
        "type": "Feature",
        "properties": {"role": role, "name": name},
        "geometry": {"type": "Polygon", "coordinates": [ring]},
    }


def _outline() -> str:
    features = [json.dumps(_polygon(*each)) for each in _POLYGONS]
    rows = ",\n    ".join(features)
    return f'{{\n  "type": "FeatureCollection",\n  "features": [\n    {rows}\n  ]\n}}\n'


def _plans() -> str:
    keys = (
        "name", "motor", "trim", "rail", "tilt", "wind", "temperature", "base", "cover", "time",
        "note",
    )  # fmt: skip
    return _PLANS_HEAD + "".join(
        _PLAN.format(**dict(zip(keys, plan, strict=True))) for plan in _PLANS
    )


def _motor_files() -> dict[str, str]:
    files = {}
    for name, (figures, curve) in _MOTORS.items():
        length, propellant, loaded, impulse, delay, most = figures
        trims = ", ".join(f'"{trim} s"' for trim in range(most + 1))
        files[f"motors/{name}.toml"] = _MOTOR.format(
            name=name,
            length=length,
            propellant=propellant,
            loaded=loaded,
            impulse=impulse,
            delay=delay,
            trims=trims,
        )
        rows = "\n".join(curve.split())
        files[f"motors/{name}.csv"] = f"# invented motor {name}\ntime_s,thrust_n\n{rows}\n"
    return files


def demo_files() -> dict[str, str]:
    """Return the texts of the demo project by path inside its folder."""
    return {
        "rocket.toml": _ROCKET,
        "plans.toml": _plans(),
        **_motor_files(),
        "sites/larkrise.toml": _SITE,
        "sites/larkrise.geojson": _outline(),
        "weighings.toml": _WEIGHINGS,
    }


def write_demo(folder: Path) -> None:
    """Write the demo project into a new or empty folder.

    Raises
    ------
    SaveRefused - the folder holds something already.
    """
    from goodflight.project.saving import write_project

    write_project(folder, demo_files())
