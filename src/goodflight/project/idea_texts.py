"""The files of a project from one design of an idea; what no idea can know is left out of them."""

from collections.abc import Mapping
from itertools import pairwise
from pathlib import Path
from typing import Final

from goodflight.project.faults import Fault, ProjectErrors
from goodflight.project.idea import Idea, beside_idea, load_idea, weight_of
from goodflight.project.idea_design import Design, Laid
from goodflight.project.idea_file import IdeaMotor, IdeaWind
from goodflight.project.idea_rocket import rocket_text, toml_table
from goodflight.project.motor_files import MotorFile
from goodflight.project.outlines import rectangle
from goodflight.project.sheets import read_sheet
from goodflight.quantity import write

# share of the burn, share of the peak: rises quickly, then burns down; our guess
CURVE: Final = (
    (0.0, 0.0),
    (0.03, 0.9),
    (0.08, 1.0),
    (0.3, 0.95),
    (0.6, 0.8),
    (0.85, 0.5),
    (1.0, 0.0),
)


def wind_name(wind: IdeaWind, winds: tuple[IdeaWind, ...]) -> str:
    """Name of the plan for a wind of the season."""
    names = [f"wind {each.mean.value:.3g}" for each in winds]
    place = next(i for i, each in enumerate(winds) if each is wind)
    return names[place] + (f" ({place + 1})" if names.count(names[place]) > 1 else "")


def texts_of(idea: Idea, design: Design, laid: Laid, winds: int | None = None) -> dict[str, str]:
    """Return the texts of a project, by path inside its folder.

    Parameters
    ----------
    idea : Idea - what is at hand. [-]
    design : Design - what is chosen of it. [SI]
    laid : Laid - where everything lies. [SI]
    winds : int or None - plans that are written, those of the most frequent winds; None: all. [-]

    Returns
    -------
    files : dict - rocket, plans (one for each wind), motors, field, and the idea itself. [-]
    """
    found = {
        "rocket.toml": rocket_text(idea, design, laid),
        "plans.toml": _plans(idea, design, winds),
        **shared_texts(idea),
    }
    if idea.text:
        found["idea.toml"] = idea.text
    return found


def shared_texts(idea: Idea) -> dict[str, str]:
    """Return the texts that all designs of an idea share: motors and field."""
    found = dict(idea.beside)
    for motor in idea.said.motor:
        found[f"motors/{motor.name}.toml"] = _motor(motor)
        found[f"motors/{motor.name}.csv"] = label_curve(motor.impulse.value, motor.burn_time.value)
    if idea.said.field is not None:
        found["sites/field.toml"], found["sites/field.geojson"] = _field(idea), _outline(idea)
    return found


def motors_at_hand(folder: Path) -> dict[str, str]:
    """Return the texts of the motors in a folder and of those its idea tells, by path."""
    try:
        texts: Mapping[str, str] = shared_texts(load_idea(folder))
    except ProjectErrors:
        texts = beside_idea(folder)
    return {file: text for file, text in texts.items() if file.startswith("motors/")}


def motor_heads(idea: Idea) -> dict[str, MotorFile]:
    """Return the heads of all motors at hand, by name.

    Raises
    ------
    ProjectErrors - with every fault of the files in motors/.
    """
    texts, found, faults = shared_texts(idea), dict[str, MotorFile](), list[Fault]()
    for name in idea.motors:
        sheet = read_sheet(f"motors/{name}.toml", texts[f"motors/{name}.toml"])
        head = sheet.check((), sheet.data, MotorFile) if sheet.readable else None
        faults += sheet.faults
        if head is not None:
            found[name] = head
    if faults:
        raise ProjectErrors(faults)
    return found


def _plans(idea: Idea, design: Design, count: int | None) -> str:
    winds = idea.winds
    most = sorted(winds, key=weight_of, reverse=True)[:count]
    rails = idea.said.field.rails if idea.said.field is not None else None
    rail = None if rails is None else max(rails, key=lambda each: each.value).text
    tilt = write(design.tilt_rad, "angle", "deg", digits=3) if design.tilt_rad else None
    tables = []
    for wind in most:
        out = f"{design.delay_out_s:g} s" if design.delay_out_s else None
        tables.append(
            toml_table(
                "[[plan]]",
                name=wind_name(wind, winds),
                motor=design.motor,
                delay_out=out,
                canopy="canopy",
                site=idea.said.site or "field",
                rail=rail,
                tilt=tilt,
                lean="into wind",
                deployment="delay",
                level=idea.said.level,
            )
        )
        tables.append(
            toml_table(
                "[plan.day]",
                wind=wind.mean.text,
                wind_from=_wind_from(idea, wind),
                temperature="15 degC guess",
            )
        )
    return "#:schema ./.schema/plans.json\n# One plan for each wind of the season.\n\n" + "\n".join(
        tables
    )


def _wind_from(idea: Idea, wind: IdeaWind) -> str:
    if wind.come_from is not None:
        return wind.come_from.text
    if idea.said.field is not None:
        size = idea.said.field.size
        if size["north_south"].value < size["east_west"].value:
            return "180 deg guess"
    return "270 deg guess"


def _motor(motor: IdeaMotor) -> str:
    allowed = [each.text for each in motor.delay_out_allowed]
    return (
        "#:schema ../.schema/motor.json\n"
        "# From its label; the curve beside this file is made up from impulse and burn time. Put\n"
        "# the maker's in its place.\n"
        + toml_table(
            "",
            name=motor.name,
            source="label, told in idea.toml",
            diameter=motor.diameter.text,
            length=motor.length.text,
            propellant=motor.propellant.text,
            loaded=motor.loaded.text,
            impulse=motor.impulse.text,
            delay=None if motor.delay is None else motor.delay.text,
            delay_out_allowed=allowed or None,
            charge=None if motor.charge is None else motor.charge.text,
        )
    )


def label_curve(impulse_ns: float, burn_s: float) -> str:
    """Return a thrust curve made up from what a label says, as the text of its file."""
    area = sum((b[0] - a[0]) * (a[1] + b[1]) / 2 for a, b in pairwise(CURVE))
    peak = impulse_ns / (burn_s * area)
    rows = "\n".join(f"{burn_s * at:.4f},{peak * share:.3f}" for at, share in CURVE)
    return f"# made up from impulse and burn time\ntime_s,thrust_n\n{rows}\n"


def _field(idea: Idea) -> str:
    field = idea.said.field
    assert field is not None
    return (
        "#:schema ../.schema/site.json\n"
        "# The field of idea.toml: a rectangle, the pad in its middle. Draw the true outline.\n"
        + toml_table(
            "",
            name="field",
            elevation="100 m guess" if field.elevation is None else field.elevation.text,
            ceiling=None if field.ceiling is None else field.ceiling.text,
            outline="field.geojson",
            coordinates="metres",
            rails=[each.text for each in field.rails],
            code=field.code or None,
        )
    )


def _outline(idea: Idea) -> str:
    assert idea.said.field is not None
    size = idea.said.field.size
    return rectangle(size["east_west"].value, size["north_south"].value)
