"""What is wrong in a text that is no TOML: every line that cannot be read, without false alarms.

The reader stops at the first fault. That line is taken out and the text is read again, as long as
taking it out cannot make a sound line look wrong.
"""

import re
import tomllib
from typing import Final

from goodflight.project.faults import Fault

DEEP: Final = "brackets are nested too deeply"
MOST: Final = 20  # faults named in one file
LONG: Final = 50_000  # characters, from which on one fault is enough
_PLACE: Final = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")
_HEADER: Final = re.compile(r"\[\[? *[A-Za-z0-9_.\" -]+\]?\]?$")
_ENDLESS: Final = re.compile(r"[0-9_]{4000}")
_STRING: Final = re.compile(r'"(?:[^"\\]|\\.)*"|\'[^\']*\'')
_STAND_IN: Final = "[goodflight_unread_{}]"  # keeps what follows out of the table before


def syntax_faults(file: str, text: str) -> list[Fault]:
    """Return one fault for each line that cannot be read; at least one."""
    lines = text.replace("\r\n", "\n").split("\n")
    faults: list[Fault] = []
    moved = False  # a header was taken out, so tables may seem to stand twice
    most = MOST if len(text) < LONG else 1  # each further fault reads the text once more
    while len(faults) < most:
        error = _error("\n".join(lines))
        if error is None:
            break
        message, number = error
        line = min(number or len(lines), len(lines))
        here = lines[line - 1].strip()
        twice = _twice(message)
        if faults and (number is None or (twice and moved) or not (twice or _bad_alone(here))):
            break  # may follow from what was taken out
        faults.append(_fault(file, line, message, here))
        if number is None or not here:
            break
        if _HEADER.match(here):
            lines[line - 1] = _STAND_IN.format(line)
            moved = True
        elif _closed(here):
            lines[line - 1] = ""
        else:
            break
    if not faults:  # the reader takes it, the walk that finds the lines does not
        faults.append(_fault(file, 1, DEEP, ""))
    return faults


def _error(text: str) -> tuple[str, int | None] | None:
    try:
        tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        place = _PLACE.search(str(error))
        number = int(place[1]) if place and place[1] else None
        return _PLACE.sub("", str(error)), number
    except ValueError:  # the one limit the reader leaves to Python: digits of a whole number
        rows = text.split("\n")
        return "a number has too many digits", next(
            (i for i, row in enumerate(rows, 1) if _ENDLESS.search(row)), None
        )
    except RecursionError:
        return DEEP, None
    return None


def _twice(message: str) -> bool:
    lower = message.lower()
    return "overwrite" in lower or "twice" in lower or "already" in lower


def _bad_alone(line: str) -> bool:
    return _error(line) is not None


def _closed(line: str) -> bool:
    """Say whether a line opens nothing that later lines close."""
    if '"""' in line or "'''" in line:
        return False
    rest = _STRING.sub("", line).split("#")[0]
    return all(rest.count(left) == rest.count(right) for left, right in ("[]", "{}"))


def _fault(file: str, line: int, message: str, here: str) -> Fault:
    found = f'the line "{here[:60]}"' if here else "the end of the file"
    return Fault(
        file, line, "", found=found, expected="a valid TOML line", advice=_advice(message, here)
    )


def _advice(message: str, here: str) -> str:
    quoted = re.match(r"[A-Za-z_]+ *= *[0-9][0-9.,]* *[A-Za-z%±]", here)
    if quoted:
        return 'put values with a unit in quotes, like "12.5 mm"'
    lower = message.lower()
    if _twice(message):
        return "this key or table stands twice; keep one of them"
    if "illegal character" in lower or "unterminated" in lower:
        return "close the quotes on the same line"
    if "after a key" in lower:
        return "write key = value"
    return f"the reader says: {message[0].lower()}{message[1:]}"
