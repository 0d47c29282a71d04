"""The demo with an altimeter bay: a coupler, two lids, a sled between them, bolt and charge cup."""

from goodflight.project import Project, read_project
from goodflight.project.demo import demo_files

LID = """[[part]]
kind = "bulkhead"
name = "{} lid"
station = "{} mm"
thickness = "4 mm"
diameter = "72.6 mm"
material = "birch_plywood_4mm"
{}
"""
HARDWARE = """[[part]]
kind = "added_mass"
name = "{}"
role = "{}"
station = "{} mm"
length = "20 mm"
radius = "8 mm"
mass = "20 g"

"""


def bay_files(front: str = "", rear: str = "", build: str = "") -> dict[str, str]:
    """Files of the rocket; front, rear : a line more of each lid, as `removable = true`."""
    files = demo_files()
    blocks = files["rocket.toml"].split("[[part]]")
    for i, block in enumerate(blocks):
        if 'name = "coupler"' in block:
            plain = "\n".join(x for x in block.splitlines() if not x.startswith("bulkheads"))
            lids = LID.format("front", 385, front) + LID.format("rear", 531, rear)
            bolt = HARDWARE.format("rear bolt", "u_bolt", 530)
            blocks[i] = plain + "\n" + lids + bolt + HARDWARE.format("cup", "charge_cup", 536)
        if 'role = "sled"' in block:
            inside = block.replace('"330 mm"', '"395 mm"').replace('"140 mm"', '"120 mm"')
            blocks[i] = inside.replace('"400 mm"', '"450 mm"')
    files["rocket.toml"] = "[[part]]".join(blocks).replace("\n[[part]]", "\n\n[[part]]")
    files["build.toml"] = build
    files.pop("weighings.toml")
    return files


def bay_project(front: str = "", rear: str = "", build: str = "") -> Project:
    """The rocket as a project."""
    return read_project(bay_files(front, rear, build))
