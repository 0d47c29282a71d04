"""The wiring of what is on board, as a diagram: cell, switch, device, and the charges it fires.

Symbols after the common open standard for diagrams (IEC 60617: cell as a long and a short stroke,
make contact, rectangle for a device, filled dot for a joint of wires; from memory). What is on
board is the project's; what no file says is a blank. Left out: plugs, wire sizes, fuses.
"""

from collections.abc import Sequence
from typing import Final

from goodflight.physics.vehicle import parts as p
from goodflight.studies.bench.places import of_kind
from goodflight.studies.bench.shapes import Line, Point, Shape, Template, Words, rectangle
from goodflight.studies.lists.step import BLANK

LETTER_M: Final = 0.0022
ROW_M: Final = 0.028  # from one device to the next
CELL_X, SWITCH_X, BOX_X, CHARGE_X, WIDE_M = 0.016, 0.042, 0.074, 0.128, 0.158
HALF_M: Final = 0.008  # from the middle of a row to its wires
BOX_M: Final = 0.030  # length of a device


def wiring(
    rocket: p.Rocket, devices: Sequence[str], by_altimeter: bool, main: bool
) -> Template | None:
    """The diagram, or None where the files name no device and no charge that one fires.

    Parameters
        rocket : Rocket - its charge cups. [-]
        devices : sequence of str - names of the devices on board. [-]
        by_altimeter : bool - an altimeter fires the charge of this plan. [-]
        main : bool - a second charge lets out a main canopy. [-]
    Returns
        diagram : Template or None - not to size. [m]
    Raises
        nothing
    Validity
        One cell and one switch for each device; the maker's sheet decides.
    Source
        IEC 60617, from memory; own layout.
    Example
        >>> wiring(p.Rocket("r", ()), (), False, False) is None
        True
    """
    named = list(devices)
    fires = _altimeter(named) if by_altimeter else None
    if by_altimeter and fires is None:
        named, fires = [*named, f"fires the charge: {BLANK}"], len(named)
    if not named:
        return None
    cups = [part.name for part in of_kind(rocket, p.AddedMass) if part.role == "charge_cup"]
    shapes: list[Shape] = []
    for number, name in enumerate(named):
        charges = (_charges(cups, main)) if number == fires else []
        shapes += _row(name, -ROW_M * number, charges)
    low = -ROW_M * (len(named) - 1) - HALF_M - 0.008
    frame = rectangle(0.0, low, WIDE_M, HALF_M + 0.010, "mark")
    other = ("Where one of the named devices fires the charge: strike its row out.",)
    sheet = "Not to size. The maker's sheet of every device decides over its terminals."
    notes = (*(other if fires else ()), sheet)
    return Template(
        key="wiring",
        title="Wiring, not to size",
        shapes=(frame, *shapes),
        count=1,
        material="",
        thickness_m=None,
        notes=notes,
        flat=False,
        reduced=True,
    )


def _altimeter(names: Sequence[str]) -> int | None:
    """The device that fires the charge: the only one; of several the files do not say which."""
    return 0 if len(names) == 1 else None


def _charges(cups: Sequence[str], main: bool) -> list[str]:
    """Names of the charges: cups as the file names them, else by what they let out."""
    wanted = ["charge at apogee", *(["charge of the main"] if main else [])]
    return [*cups[: len(wanted)], *wanted[len(cups) :]]


def _row(name: str, y: float, charges: Sequence[str]) -> list[Shape]:
    """One device with its cell and switch, and the charges it fires."""
    top, low, end = y + HALF_M, y - HALF_M, BOX_X + BOX_M
    found: list[Shape] = [*_cell((CELL_X, y), top, low), *_switch((SWITCH_X, top))]
    found += [
        _wire((CELL_X, top), (SWITCH_X - 0.005, top)),
        _wire((SWITCH_X + 0.005, top), (BOX_X, top)),
        _wire((CELL_X, low), (BOX_X, low)),
        rectangle(BOX_X, low - 0.003, end, top + 0.003, "cut"),
        *_named(name, (BOX_X + BOX_M / 2.0, y)),
        Words("+", (BOX_X + 0.002, top - 0.0022), LETTER_M),
        Words("-", (BOX_X + 0.002, low + 0.0022), LETTER_M),
    ]
    for number, charge in enumerate(charges):
        middle = y + (HALF_M / 2.0 + 0.001) * (0 if len(charges) == 1 else 1 - 2 * number)
        up, down = middle + 0.0018, middle - 0.0018
        found += [
            _wire((end, up), (CHARGE_X, up)),
            _wire((end, down), (CHARGE_X, down)),
            rectangle(CHARGE_X, down - 0.001, CHARGE_X + 0.010, up + 0.001, "cut"),
            Words(charge, (CHARGE_X - 0.001, up + 0.0028), LETTER_M),
            Words(f"{BLANK} ohm", (CHARGE_X + 0.019, middle), LETTER_M),
        ]
    return found


def _named(name: str, at: Point) -> list[Words]:
    """A name in a device, on two lines where it is long."""
    words = name.split()
    if len(name) <= 16 or len(words) < 2:
        return [Words(name[:22], at, LETTER_M)]
    half = (len(words) + 1) // 2
    lines = (" ".join(words[:half])[:20], " ".join(words[half:])[:20])
    return [
        Words(line, (at[0], at[1] + s * 0.0018), LETTER_M)
        for line, s in zip(lines, (1.0, -1.0), strict=True)
    ]


def _wire(start: Point, end: Point) -> Line:
    return Line((start, end), "cut")


def _cell(at: Point, top: float, low: float) -> list[Shape]:
    """A cell: the long stroke is plus."""
    x, y = at
    gap = 0.0012
    return [
        _wire((x, top), (x, y + gap)),
        _wire((x - 0.005, y + gap), (x + 0.005, y + gap)),
        _wire((x - 0.0025, y - gap), (x + 0.0025, y - gap)),
        _wire((x, y - gap), (x, low)),
        Words("+", (x + 0.0035, y + gap + 0.0022), LETTER_M),
        Words(f"{BLANK} V", (x + 0.0125, y), LETTER_M),
    ]


def _switch(at: Point) -> list[Shape]:
    """A switch that closes, drawn open."""
    x, y = at
    return [
        _wire((x - 0.005, y), (x + 0.0045, y + 0.0048)),
        Words("switch, from outside", (x, y + 0.0068), LETTER_M),
    ]
