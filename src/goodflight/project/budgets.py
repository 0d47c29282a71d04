"""How much one project may hold, and how far its figures may reach: every limit, with its reason.

No rocket that is built comes near a limit. What goes past one is a wrong file or a slip of the
pen, and is refused in words before it can take the machine's time.
"""

import re
from collections.abc import Callable
from typing import Any, Final

from goodflight.project.faults import Fault

# --- how much may be written -------------------------------------------------------------------
MAX_FILES: Final = 400  # of one project: a hundred motors and fields; each is read at every look
MAX_CHARACTERS: Final = 400_000  # of one TOML file: forty demonstration rockets
MAX_LINES: Final = 10_000  # of one TOML file: the largest project known has 400
DEEPEST_KEY: Final = 30  # dots in one key: the reader's time grows with their square
MAX_KEYS: Final = 200  # of one table: the widest table has 30
MAX_PARTS: Final = 200  # of one rocket: a two-stage scale model has about 60
MAX_PLANS: Final = 100  # intended flights of one rocket
MAX_ROWS: Final = 1_000  # of any other list of tables: weighings, joints, stays, coats
MAX_FIN_CORNERS: Final = 200  # of one fin: more is finer than a saw cuts
MAX_FIELD_POINTS: Final = 5_000  # of all outlines of one field: a metre apart round a square mile
MAX_KEEP_OUTS: Final = 200  # of one field; each is compared with every landing
MAX_THRUST_POINTS: Final = 5_000  # of one motor: a test stand's thousand a second for 5 s
MAX_ARCHIVED: Final = 1_000  # files of an archive: those of a project and the logs of its flights
MAX_ARCHIVE_BYTES: Final = 64_000_000  # packed and unpacked: two logs at their longest
MAX_PATH: Final = 200  # characters of a name in an archive: what every system can hold
MAX_FAULTS: Final = 100  # told at once, of all files: nobody mends more before looking again
MAX_COMPARED: Final = 3_000  # lines of two texts compared: the time grows with their product
MAX_FAULTS_OF_A_TABLE: Final = 50  # turned into words, before the rest is counted only

# --- how far figures reach, where the type of an entry does not say so already ------------------
LONGEST_BURN_S: Final = 60.0  # of a thrust curve: solid motors of these classes end within 15 s
STRONGEST_N: Final = 100_000.0  # of a thrust curve: ten times the largest certified class

# --- how wide a figure may be spread: one standard deviation as a share of the value -----------
WIDEST_LENGTH: Final = 0.25  # its effect is taken as even over three standard deviations
WIDEST_SHARE: Final = 1.0  # of masses, strengths and the rest: as likely double as half
# --- and in units of its own, where zero is not "nothing" --------------------------------------
WIDEST: Final = {
    "temperature": (30.0, "30 K"),  # a day in the temperate zone, night included
    "angle": (3.14159265359, "180 deg"),  # any bearing at all
    "wind": (20.0, "20 m/s"),  # of wind: more than any field flies in
}
FULL_TURN_RAD: Final = 6.2831853072  # a bearing goes no further, an angle no further either way
WIDEST_ANGLE_RAD: Final = 0.17453292520  # 10 deg of a fin, or of the rail: seen by eye
WIDEST_OF_NOTHING_M: Final = 0.01  # of a length that is 0 by design
WIDEST_STATION_M: Final = 0.10  # of a place on the rocket: a hand's breadth


_NAME: Final = r"(?:[A-Za-z0-9_-]+|\"[^\"\n]*\"|'[^'\n]*')"
_DOTTED: Final = re.compile(rf"(?<![A-Za-z0-9_-])(?:{_NAME}[ \t]*\.[ \t]*){{{DEEPEST_KEY}}}")
_LISTS: Final = {
    "part": (MAX_PARTS, "parts"),
    "plan": (MAX_PLANS, "plans"),
    "outline": (MAX_FIN_CORNERS, "corners"),
}
Path = tuple[str | int, ...]


def widest_spread(dimension: str, value: float, own: float | None = None) -> tuple[float, str]:
    """Return the greatest standard deviation of a figure in SI, and in words when they differ.

    own : float or None - what this kind of entry allows, whatever its value. [SI]
    """
    if own is not None:
        return own, ""
    if dimension in WIDEST:
        return WIDEST[dimension]
    share = WIDEST_LENGTH if dimension == "length" else WIDEST_SHARE
    if value == 0.0:
        wide = WIDEST_OF_NOTHING_M if dimension == "length" else 0.0
        return wide, f"[[{1000 * wide:g} mm]]" if wide else "0, as the figure itself is 0,"
    return share * abs(value), f"{100 * share:g} %"


def long_text(file: str, text: str) -> Fault | None:
    """Return the fault of a text that is too long to be read as TOML, before it is."""
    if len(text) > MAX_CHARACTERS:
        return too_much(file, "", f"{len(text)} characters", MAX_CHARACTERS, "characters")
    count = text.count("\n") + 1
    if count > MAX_LINES:
        return too_much(file, "", f"{count} lines", MAX_LINES, "lines")
    deep = _DOTTED.search(text)
    if deep is not None:
        line = text.count("\n", 0, deep.start()) + 1
        return too_much(
            file,
            key="",
            found=f"{DEEPEST_KEY} names or more in one key",
            most=10,
            what="names",
            line=line,
        )
    return None


def wide_tables(file: str, data: Any, line: Callable[[Path], int]) -> list[Fault]:
    """Return one fault for each list or table of a file that holds more than is read."""
    faults: list[Fault] = []
    ahead: list[tuple[Path, Any]] = [((), data)]
    while ahead:
        path, here = ahead.pop()
        if isinstance(here, dict):
            most, what = MAX_KEYS, "keys in one table"
            inside = [((*path, key), value) for key, value in here.items()]
        else:
            last = next((step for step in reversed(path) if isinstance(step, str)), "")
            most, what = _LISTS.get(last, (MAX_ROWS, "entries in one list"))
            inside = [((*path, i), value) for i, value in enumerate(here)]
        if len(inside) > most:
            name = ".".join(str(step) for step in path)[:80]
            faults.append(
                too_much(
                    file,
                    key=name,
                    found=f"{len(inside)} of them",
                    most=most,
                    what=what,
                    line=line(path),
                )
            )
            continue
        ahead += [each for each in inside if isinstance(each[1], dict | list)]
    return faults


def too_much(file: str, key: str, found: str, most: int, what: str, line: int = 1) -> Fault:
    """Return the fault of an input that holds more than is read."""
    advice = "check that this is the right file, and take out what is not needed"
    return Fault(file, line, key, found=found, expected=f"at most {most} {what}", advice=advice)


def shortened(faults: list[Fault]) -> list[Fault]:
    """Return the first of sorted faults, and one that counts the rest."""
    if len(faults) <= MAX_FAULTS:
        return faults
    last = faults[MAX_FAULTS]
    found = f"{len(faults) - MAX_FAULTS} more faults from here on"
    advice = "mend those above first, then look again"
    return [
        *faults[:MAX_FAULTS],
        Fault(last.file, last.line, "", found=found, expected="none", advice=advice),
    ]
