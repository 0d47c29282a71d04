"""The texts of a first project, with the answers and what follows from them to be filled in."""

from typing import Final

ROCKET: Final = """\
#:schema ./.schema/rocket.json
# Made from {count} answers. What is marked guess is a guess: weigh and measure, then correct it.
# A station is the distance aft of the nose tip. "±" is one standard deviation.

name = "{name}"
about = "{about}"
{units}separates_at = "{separation}"

[[part]]
kind = "nose"
name = "nose"
length = "{nose_length}"
diameter = "{diameter}"
wall = "{nose_wall} guess"
outline = "tangent_ogive"
material = "{nose_material}"
mass = "0 g guess"             # within the whole, below

[[part]]
kind = "tube"
name = "fore tube"
length = "{fore_length}"
outer_diameter = "{diameter}"
inner_diameter = "{inner_diameter}"
material = "{wall}"
mass = "0 g guess"             # within the whole, below

[[part]]
kind = "tube"
name = "aft tube"
length = "{aft_length}"
outer_diameter = "{diameter}"
inner_diameter = "{inner_diameter}"
material = "{wall}"
mass = "0 g guess"             # within the whole, below

[[part]]
kind = "fins"
name = "fins"
count = {fin_count}
station = "{fin_station}"
thickness = "{fin_thickness}"
span = "{fin_span}"
root = "{fin_root}"
tip = "{fin_tip}"
sweep = "{fin_sweep}"
material = "{fin_material}"
mass = "0 g guess"             # within the whole, below
alignment = "0.5 deg"

[[part]]
kind = "coupler"
name = "coupler"
station = "{coupler_station}"
length = "{coupler_length} guess"
outer_diameter = "{coupler_outer} guess"
inner_diameter = "{coupler_inner} guess"
bulkheads = false
material = "kraft_tube"
mass = "0 g guess"             # within the whole, below
{rings}
# Everything but the canopy and the cord, until the parts are weighed one by one: then give each
# part its mass and take this one out.
[[part]]
kind = "added_mass"
name = "whole rocket"
role = "whole"
station = "{spread_station}"
length = "{spread_length}"
radius = "{radius}"
mass = "{rest_mass}"
balance = "{balance}"

[[part]]
kind = "bay"
name = "parachute bay"
station = "{bay_station}"
length = "{bay_length}"
inner_diameter = "{inner_diameter}"
vents = 1
vent_diameter = "{vent_diameter} guess"
holds = ["canopy", "cord"]

[[part]]
kind = "canopy"
name = "canopy"
station = "{separation}"
shape = "flat_hexagonal"
across = "{canopy}"
lines = "6 x {line_length}"
mass = "{canopy_mass} guess"
balance = "{pack_balance}"

[[part]]
kind = "cord"
name = "cord"
station = "{separation}"
length = "{cord_length}"
strength = "{cord_strength}"
elongation = 0.25             # of nylon; aramid 0.04
mass = "{cord_mass} guess"
balance = "{pack_balance}"

[[part]]
kind = "motor_tube"
name = "motor tube"
station = "{motor_station}"
length = "{motor_length} guess"
outer_diameter = "{motor_outer} guess"
inner_diameter = "{motor_tube}"
material = "kraft_tube"
mass = "0 g guess"             # within the whole, above

[[part]]
kind = "buttons"
name = "rail guides"
station = "{guide_fore}"
aft_station = "{guide_aft}"
mass = "0 g guess"             # within the whole, above

[separation]
coupler_in = "fore"
{edge}
"""
RINGS: Final = ("forward", "middle", "rear")  # on the motor tube
RING: Final = """
[[part]]
kind = "ring"
name = "{place} ring"
station = "{station}"
thickness = "{ring_thickness} guess"
outer_diameter = "{outer}"
inner_diameter = "{inner} guess"
material = "birch_plywood_4mm"
mass = "0 g guess"             # within the whole, below
"""
PLANS: Final = """\
#:schema ./.schema/plans.json

[[plan]]
name = "first flight"
{motor}
canopy = "canopy"
site = "field"
rail = "{rail}"
tilt = "3 deg"
lean = "into wind"
deployment = "{deployment}"
level = "{level}"

[plan.day]
wind = "{wind}"
wind_from = "270 deg guess"
gust_factor = 1.6
temperature = "{temperature} guess"
"""

NO_MOTOR: Final = '# motor = "NAME" of its file in motors/; while none is chosen nothing is flown'
SITE: Final = """\
#:schema ../.schema/site.json
# Add outline = "field.geojson", the edge of the field, so that drift can be judged.
name = "field"
elevation = "{elevation}"
rails = ["{rail}"]
"""
