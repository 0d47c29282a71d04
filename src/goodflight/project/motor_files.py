"""The head beside a thrust curve: `motors/*.toml`, as a typed table."""

from typing import Annotated

from pydantic import Field

from goodflight.project.designation import Designation
from goodflight.project.fields import (
    Delay,
    Impulse,
    Key,
    LabelLength,
    LabelMass,
    Name,
    Share,
    Table,
    Text,
)
from goodflight.project.first_asked import First


class AdapterTable(Table):
    """What makes a motor fit a wider tube; it flies with the motor and weighs with it."""

    outer_diameter: Annotated[
        LabelLength, Key("outside diameter, where it lies in the motor tube", example="54 mm")
    ]
    mass: Annotated[LabelMass, Key("its mass, thrust ring and spacer included")]


class MotorFile(Table):
    """The head beside a thrust curve: masses, size, delay and what may be taken out of it."""

    name: Annotated[Name, Key("name of the motor")]
    invented: Annotated[bool, Key("says that it is made up; every screen repeats it")] = False
    source: Annotated[Text, Key("where the figures come from")] = ""
    diameter: Annotated[LabelLength, Key("diameter of the case")]
    length: Annotated[LabelLength, Key("length of the case")]
    propellant_length: Annotated[
        LabelLength | None, Key("length of the propellant", left_out="from mass and case")
    ] = None
    propellant_diameter: Annotated[
        LabelLength | None, Key("outside diameter of the propellant")
    ] = None
    core_diameter: Annotated[LabelLength | None, Key("diameter of the propellant's core")] = None
    propellant_aft: Annotated[
        LabelLength | None,
        Key("distance from the case's aft end to the rear end of the propellant"),
    ] = None
    propellant: Annotated[LabelMass, Key("mass of the propellant")]
    loaded: Annotated[LabelMass, Key("mass ready to fly")]
    impulse: Annotated[
        Impulse | None, Key("total impulse on the label; checked against the curve")
    ] = None
    designation: Annotated[
        Designation | None,
        Key("class letter and mean thrust as on the label; checked against the curve"),
    ] = None
    max_liftoff_mass: Annotated[
        LabelMass | None,
        Key(
            "heaviest rocket that the maker lets this motor lift, motor included",
            left_out="not known",
            first=First(
                120, "Heaviest rocket for the motor", "on the maker's sheet", key="motor_lifts"
            ),
        ),
    ] = None
    adapter: Annotated[
        AdapterTable | None,
        Key(
            "what makes the motor fit a wider tube: outside diameter and mass; it flies with "
            "the motor"
        ),
    ] = None
    delay: Annotated[
        Delay | None, Key("longest delay, from burnout; leave out for a plugged motor")
    ] = None
    delay_out_allowed: Annotated[
        list[Delay], Key("seconds that may be taken out of the delay", left_out="none")
    ] = Field(default_factory=list)
    delay_spread: Annotated[Share | None, Key("relative scatter of the delay", left_out="8 %")] = (
        None
    )
    impulse_spread: Annotated[
        Share | None, Key("relative scatter of the impulse", left_out="2 %")
    ] = None
    burn_time_spread: Annotated[
        Share | None, Key("relative scatter of the burn time", left_out="3 %")
    ] = None
    charge: Annotated[
        LabelMass | None,
        Key(
            "mass of the motor's own ejection powder",
            first=First(
                110,
                "Powder of the motor's ejection charge",
                "on the maker's sheet",
                key="motor_charge",
            ),
        ),
    ] = None
