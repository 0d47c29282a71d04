"""A thrust table as it was copied from somewhere, made into the curve file of a motor.

Columns may be parted by comma, semicolon, tab or blanks; comments and column names are shown as
left out, and figures that they state are offered for the head. Nothing is guessed about units:
times are seconds, thrusts newtons. What looks like other units is said, never converted.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Final

from goodflight.physics.motor.curve import impulse_class
from goodflight.project.curves import HEADER, Curve, read_curve
from goodflight.project.faults import Fault
from goodflight.project.motor_lines import LONGEST_ROW, line_of, stated, without_figures
from goodflight.project.records import Project
from goodflight.project.saving import write_files
from goodflight.quantity import QuantityError, parse

LONGEST = 200_000  # characters
LONGEST_BURN_S: Final = 30.0  # no motor of these classes burns longer; milliseconds do
SPECIFIC_NS_KG: Final = (500.0, 3000.0)  # impulse of a kilogram of solid propellant, with room
OTHER_UNITS: Final = {
    "ms": "milliseconds; divide the times by 1000",
    "msec": "milliseconds; divide the times by 1000",
    "min": "minutes; multiply the times by 60",
    "lb": "pounds; 1 lb is 4.448 N", "lbs": "pounds; 1 lb is 4.448 N",
    "lbf": "pounds; 1 lbf is 4.448 N", "pounds": "pounds; 1 lb is 4.448 N",
    "kgf": "kilograms; 1 kgf is 9.807 N", "kg": "kilograms; 1 kgf is 9.807 N",
    "kp": "kilograms; 1 kp is 9.807 N", "kn": "kilonewtons; 1 kN is 1000 N",
    "oz": "ounces; 1 ozf is 0.278 N", "ozf": "ounces; 1 ozf is 0.278 N",
}  # fmt: skip
ENTRIES = (
    ("name", "name of the motor", "H-b"),
    ("diameter", "outside diameter", "38 mm"),
    ("length", "length", "203 mm"),
    ("propellant", "mass of propellant", "128 g"),
    ("loaded", "mass ready to fly", "305 g"),
    ("impulse", "total impulse on its label; may stay empty", "257 N s"),
    ("delay", "delay as sold; empty when plugged", "11 s"),
    ("delay_out_allowed", "what may be taken out of the delay, on the maker's sheet", "2 s, 4 s"),
)
ADAPTER: Final = (  # written as [adapter]
    ("adapter.outer_diameter", "its adapter, outside diameter; empty without one", "38 mm"),
    ("adapter.mass", "its adapter, mass", "45 g measured"),
)


@dataclass(frozen=True)
class Figures:
    """What a thrust curve says of its motor."""

    impulse_ns: float
    mean_n: float
    peak_n: float
    burn_s: float
    letter: str


@dataclass(frozen=True)
class Preview:
    """What was read: the curve file as it would be written, or what is wrong with it.

    stated : what words in the table say of the motor's head, by key.
    """

    text: str
    curve: Curve | None
    left_out: tuple[str, ...]
    faults: tuple[Fault, ...]
    figures: Figures | None = None
    warnings: tuple[str, ...] = ()
    stated: Mapping[str, str] = field(default_factory=dict)


def preview(text: str, propellant: str = "") -> Preview:
    """Read a pasted thrust table.

    Parameters
    ----------
    text : str - rows of time and thrust. [s, N]
    propellant : str - its mass, as it was typed; empty when not yet. [-]

    Returns
    -------
    preview : Preview - the curve, or every fault with its line. [-]
    """
    if len(text) > LONGEST:
        fault = Fault(
            "table",
            0,
            "",
            found=f"{len(text)} characters",
            expected=f"at most {LONGEST}",
            advice="take fewer points from the curve",
        )
        return Preview("", None, (), (fault,))
    rows, left_out, faults = _rows(text)
    said = stated(left_out)
    if rows and float(rows[0][1]) > 0.0:
        rows.insert(0, (rows[0][0], "0", "0"))
        left_out.append("added the row 0,0 at ignition")
    plain = HEADER + "\n" + "".join(f"{t},{f}\n" for _, t, f in rows)
    curve, found = read_curve("table", plain)
    lines = {i + 2: number for i, (number, _, _) in enumerate(rows)}
    for f in found if not faults else ():
        faults.append(
            Fault(
                "table",
                lines.get(f.line, f.line),
                f.key,
                found=f.found,
                expected=f.expected,
                advice=f.advice,
            )
        )
    warnings = _units_named(text.splitlines()[: rows[0][0]] if rows else [])
    if faults or curve is None:
        swapped = _swapped([(float(t), float(f)) for _, t, f in rows])
        wrong = tuple(faults)
        return Preview(
            text=plain,
            curve=None,
            left_out=tuple(left_out),
            faults=wrong,
            figures=None,
            warnings=warnings + swapped,
            stated=said,
        )
    figures = figures_of(curve)
    doubts = warnings + _doubts(figures, propellant)
    return Preview(
        text=plain,
        curve=curve,
        left_out=tuple(left_out),
        faults=(),
        figures=figures,
        warnings=doubts,
        stated=said,
    )


Row = tuple[int, str, str]


def _rows(text: str) -> tuple[list[Row], list[str], list[Fault]]:
    """Return the rows with their lines, what was left out, and what is neither row nor remark."""
    rows, left_out, faults = list[Row](), list[str](), list[Fault]()
    between = list[tuple[int, str]]()  # unmarked words since the last row; after all rows a remark
    for number, line in enumerate(text.lstrip("\ufeff").splitlines(), start=1):
        if not line.strip():
            continue
        read = line_of(line)
        if read.row:
            rows.append((number, *read.row))
            wanted, advice = "two numbers, time and thrust", "correct or remove this line"
            faults += [_no_row(n, words, wanted, advice) for n, words in between]
            between.clear()
        elif read.wanted:
            faults.append(_no_row(number, line, read.wanted, read.advice))
        if read.remark:
            left_out.append(read.remark[:LONGEST_ROW])
            if rows and not read.marked:
                between.append((number, line))
    return rows, left_out, sorted(faults, key=lambda each: each.line)


def _no_row(number: int, line: str, wanted: str, advice: str) -> Fault:
    return Fault(
        "table", number, "", found=f'"{line.strip()[:60]}"', expected=wanted, advice=advice
    )


def figures_of(curve: Curve) -> Figures:
    """Return impulse, mean and greatest thrust, burn time and class letter of a curve."""
    impulse, burn = curve.impulse_ns, curve.times_s[-1]
    try:
        letter = impulse_class(impulse).letter
    except ValueError:  # more than the last class holds: the units are wrong, and doubted
        letter = "none has so much"
    return Figures(impulse, impulse / burn, max(curve.thrusts_n), burn, letter)


def _units_named(head: Sequence[str]) -> tuple[str, ...]:
    """Say which other units the lines above the rows name."""
    words = re.findall(r"[A-Za-z]+", " ".join(map(without_figures, head)).lower())
    found = dict.fromkeys(OTHER_UNITS[word] for word in words if word in OTHER_UNITS)
    return tuple(
        f"The head of the table speaks of {each}. Here the numbers are taken as s and N."
        for each in found
    )


def _swapped(rows: Sequence[tuple[float, float]]) -> tuple[str, ...]:
    """Say that thrust seems to stand before time."""
    rising = all(b[1] > a[1] for a, b in pairwise(rows))
    if len(rows) < 3 or not rising or all(b[0] > a[0] for a, b in pairwise(rows)):
        return ()
    return ("The second column rises from row to row: time seems to stand there. Put time first.",)


def _doubts(figures: Figures, propellant: str) -> tuple[str, ...]:
    """Say what makes the units of a curve doubtful."""
    found = []
    if figures.burn_s > LONGEST_BURN_S:
        found.append(
            f"It would burn {figures.burn_s:g} s, longer than any motor of its kind: the times may "
            "be milliseconds. Divide them by 1000, then paste the table again."
        )
    try:
        mass_kg = parse(propellant, "mass").value if propellant.strip() else 0.0
    except QuantityError:
        mass_kg = 0.0  # said at its field once the motor is added
    least, most = SPECIFIC_NS_KG
    if mass_kg > 0.0 and not least <= figures.impulse_ns / mass_kg <= most:
        each = figures.impulse_ns / mass_kg
        found.append(
            f"Each kilogram of propellant would give {each:.0f} N s; solid motors give {least:.0f} "
            f"to {most:.0f}. The thrust may be in pounds (times 4.448) or kilograms (times 9.807), "
            "or the mass of propellant may be wrong."
        )
    return tuple(found)


def file_name(name: str) -> str:
    """Return what a motor's files are called, from the name it is given."""
    return re.sub(r"[^A-Za-z0-9_-]+", "-", name).strip("-")[:40] or "motor"


def _one_line(text: str) -> str:
    """A text as it can stand between quotes."""
    return " ".join(text.split()).replace("\\", "").replace('"', "")


def add_motor(project: Project, entries: Mapping[str, str], table: str) -> Project:
    """Write a new motor: its head and its curve, from a table that `preview` can read.

    Raises
    ------
    SaveRefused - a file changed on disk.
    ProjectErrors - an entry is missing or wrong; nothing is written.
    """
    name = file_name(entries.get("name", ""))
    while name in project.motor_files:
        name += "-2"
    lines = []
    for key, _, _ in ENTRIES:
        text = _one_line(entries.get(key, ""))
        if text and key == "delay_out_allowed":
            each = ", ".join(f'"{one.strip()}"' for one in text.split(",") if one.strip())
            lines.append(f"{key} = [{each}]")
        elif text:
            lines.append(f'{key} = "{text}"')
    sizes = [
        (key.removeprefix("adapter."), _one_line(entries.get(key, ""))) for key, _, _ in ADAPTER
    ]
    if any(text for _, text in sizes):
        lines += ["", "[adapter]", *(f'{key} = "{text}"' for key, text in sizes if text)]
    files = {
        f"motors/{name}.toml": "#:schema ../.schema/motor.json\n" + "\n".join(lines) + "\n",
        f"motors/{name}.csv": preview(table).text,
    }
    return write_files(project, files)
