"""A thrust table as it was copied from somewhere, made into the curve file of a motor.

Columns may be parted by comma, semicolon, tab or blanks; lines that hold no numbers at the head
are taken as column names or remarks and shown as left out. Nothing is guessed about units: times
are seconds, thrusts newtons.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from goodflight.project.curves import HEADER, Curve, read_curve
from goodflight.project.faults import Fault
from goodflight.project.records import Project
from goodflight.project.saving import write_files

LONGEST = 200_000  # characters
_NUMBER = r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
_ROW = re.compile(rf"^\s*({_NUMBER})\s*(?:[,;\t]|\s)\s*({_NUMBER})\s*[,;]?\s*$")
_COMMA = re.compile(r"^\s*[0-9]+,[0-9]+\s*[;\t ]\s*[0-9]+(?:,[0-9]+)?\s*$")
ENTRIES = (
    ("name", "name of the motor", "H-b"),
    ("diameter", "outside diameter", "38 mm"),
    ("length", "length", "203 mm"),
    ("propellant", "mass of propellant", "128 g"),
    ("loaded", "mass ready to fly", "305 g"),
    ("delay", "delay as sold; empty when plugged", "11 s"),
)


@dataclass(frozen=True)
class Preview:
    """What was read: the curve file as it would be written, or what is wrong with it."""

    text: str
    curve: Curve | None
    left_out: tuple[str, ...]
    faults: tuple[Fault, ...]


def preview(text: str) -> Preview:
    """Read a pasted thrust table.

    Parameters
    ----------
    text : str - rows of time and thrust. [s, N]

    Returns
    -------
    preview : Preview - the curve, or every fault with its line. [-]
    """
    if len(text) > LONGEST:
        fault = Fault("table", 0, "", f"{len(text)} characters", f"at most {LONGEST}",
                      "take fewer points from the curve")  # fmt: skip
        return Preview("", None, (), (fault,))
    rows, left_out, faults = [], [], []
    for number, line in enumerate(text.lstrip("\ufeff").splitlines(), start=1):
        match = _ROW.match(line)
        if match:
            rows.append((number, match[1], match[2]))
        elif _COMMA.match(line):
            faults.append(Fault("table", number, "", f'"{line.strip()}"', "decimals with a point",
                                "write 0.12 and not 0,12"))  # fmt: skip
        elif line.strip() and rows:
            faults.append(Fault("table", number, "", f'"{line.strip()[:60]}"',
                                "two numbers, time and thrust",
                                "correct or remove this line"))  # fmt: skip
        elif line.strip():
            left_out.append(line.strip()[:80])
    if rows and float(rows[0][1]) > 0.0:
        rows.insert(0, (rows[0][0], "0", "0"))
        left_out.append("added the row 0,0 at ignition")
    plain = HEADER + "\n" + "".join(f"{t},{f}\n" for _, t, f in rows)
    curve, found = read_curve("table", plain)
    lines = {i + 2: number for i, (number, _, _) in enumerate(rows)}
    for f in found if not faults else ():
        faults.append(
            Fault("table", lines.get(f.line, f.line), f.key, f.found, f.expected, f.advice)
        )
    return Preview(plain, None if faults else curve, tuple(left_out), tuple(faults))


def add_motor(project: Project, entries: Mapping[str, str], table: str) -> Project:
    """Write a new motor: its head and its curve, from a table that `preview` can read.

    Raises
    ------
    SaveRefused - a file changed on disk.
    ProjectErrors - an entry is missing or wrong; nothing is written.
    """
    name = re.sub(r"[^A-Za-z0-9_-]+", "-", entries.get("name", "")).strip("-")[:40] or "motor"
    while name in project.motor_files:
        name += "-2"
    lines = []
    for key, _, _ in ENTRIES:
        text = " ".join(entries.get(key, "").split()).replace("\\", "").replace('"', "")
        if text:
            lines.append(f'{key} = "{text}"')
    files = {
        f"motors/{name}.toml": "#:schema ../.schema/motor.json\n" + "\n".join(lines) + "\n",
        f"motors/{name}.csv": preview(table).text,
    }
    return write_files(project, files)
