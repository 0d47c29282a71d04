"""The demo with everything taken out that a flight can be computed without."""

import tomlkit

from goodflight.project import Project, read_project
from goodflight.project.demo import demo_files

KEEP = {
    "nose": ("length", "diameter", "wall", "shoulder", "outline"),
    "tube": ("length", "outer_diameter", "inner_diameter"),
    "fins": ("count", "station", "thickness", "span", "root", "tip", "sweep"),
    "canopy": ("station", "shape", "across"),
    "buttons": ("station", "aft_station"),
    "motor_tube": ("station", "length", "outer_diameter", "inner_diameter", "motor_aft"),
}
OTHERS = ("build.toml", "sites/larkrise.geojson", "motors/H-a.toml", "motors/H-a.csv",
          "motors/I-c.toml", "motors/I-c.csv")  # fmt: skip
OF_MOTOR = ("name", "diameter", "length", "propellant", "loaded", "delay")


def emptied() -> Project:
    """A rocket that flies, with nothing measured, confirmed or ticked."""
    files = {name: text for name, text in demo_files().items() if name not in OTHERS}
    parts = [
        {"mass": "150 g"} | {key: part[key] for key in ("kind", "name", *KEEP[part["kind"]])}
        for part in tomlkit.parse(files["rocket.toml"]).unwrap()["part"]
        if part["kind"] in KEEP and part["name"] != "small"
    ]
    files["rocket.toml"] = tomlkit.dumps({"name": "Bare", "part": parts})
    plan = tomlkit.parse(files["plans.toml"]).unwrap()["plan"][0]
    day = {key: plan["day"][key] for key in ("wind", "wind_from", "temperature")}
    kept = {key: plan[key] for key in ("name", "motor", "canopy", "site")}
    files["plans.toml"] = tomlkit.dumps({"plan": [kept | {"day": day}]})
    files["weighings.toml"] = ""
    for name, keys in (
        ("sites/larkrise.toml", ("name", "elevation", "rails")), ("motors/H-b.toml", OF_MOTOR)
    ):  # fmt: skip
        table = tomlkit.parse(files[name]).unwrap()
        files[name] = tomlkit.dumps({key: table[key] for key in keys})
    return read_project(files)
