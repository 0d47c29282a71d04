"""The 35 questions an inspector asks, in our own words, each with its answer.

They are one list: the sheet, the page sent to a mentor and the tests take them from here.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from goodflight.studies.evidence import field, flight, recovery
from goodflight.studies.evidence.reply import Reply
from goodflight.studies.evidence.seen import Seen


@dataclass(frozen=True)
class Asked:
    """One question: its number and key, the subject in two words, the question, who answers."""

    number: int
    key: str
    subject: str
    question: str
    answer: Callable[[Seen], Reply]


_ALL: Final = (
    ("member", "Flyer", "Are you a member in good standing, what for, who signs?", field.member),
    ("built", "Built by", "What did you make yourself, what did you buy?", field.built),
    ("first", "First flight", "Has it flown before?", field.first_flight),
    ("motor", "Motor", "Which motor, is it permitted, within your level?", flight.motor),
    ("assembled", "Assembly", "Who assembled it, is everything in it?", flight.assembled),
    ("mass", "Mass", "What does it weigh ready to fly?", flight.mass),
    ("thrust", "Thrust", "How much thrust for its weight?", flight.thrust),
    ("rail_speed", "Off the rail", "How fast does it leave our rail?", flight.rail_speed),
    ("marks", "CG and CP", "Where are CG and CP, how do you know?", flight.marks),
    ("margin", "Margin", "How stable is it, early, late and in a gust?", flight.margin),
    ("straight", "Fins", "Are the fins straight, tight and sound?", flight.straight),
    ("strong", "Speed", "Do fins and tube stand the speed?", flight.strong),
    ("guides", "Rail guides", "Do the guides fit, slide and hold?", flight.guides),
    ("retention", "Motor held", "What holds the motor, forward and back?", flight.retention),
    ("height", "Height", "How high, under the ceiling and the cloud?", flight.height),
    ("delay", "Opening", "What opens it, when, and who set it?", recovery.delay),
    ("pull", "Separation", "Why does it open, and not too early?", recovery.pull),
    ("canopy", "Canopy", "How large is the canopy, how fast does it come down?", recovery.canopy),
    ("protected", "Protection", "What keeps the charge off the canopy?", recovery.protected),
    ("packed", "Packing", "Packed today, does it slide out?", recovery.packed),
    ("cord", "Cord", "Which cord, how strong, how is it fixed?", recovery.cord),
    ("edge", "Tube edge", "Can the cord slit the tube?", recovery.edge),
    ("electronics", "Electronics", "What is armed, when, who disarms it?", recovery.electronics),
    ("fire", "Fire", "Does anything spark, how dry is it?", field.fire),
    ("wind", "Wind", "In which wind does it stay down?", field.wind_limit),
    ("unopened", "If unopened", "Where does it fall when nothing opens?", field.unopened),
    ("landing", "Landing", "Where does it land, may we go there?", field.landing),
    ("ballast", "Ballast", "Is any mass loose, is ballast fixed?", field.ballast),
    ("materials", "Materials", "Is there metal, is the tip hard?", field.materials),
    ("label", "Label", "Are name and phone on it?", field.label),
    ("igniter", "Igniter", "Is the igniter out?", field.igniter),
    ("announced", "Announce", "What shall be said and watched?", field.announced),
    ("misfire", "Misfire", "What if it does not start?", field.misfire),
    ("stops", "No-go", "What keeps you on the ground today?", field.stops),
    ("after", "Afterwards", "What has to come back, and how?", field.after),
)
ASKED: Final = tuple(Asked(number, *each) for number, each in enumerate(_ALL, 1))
