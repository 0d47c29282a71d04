"""Mutated logs: a log as it might reach a person who opened it, sent it, or lost half of it."""

from typing import Final

import numpy as np

from made_logs import made, table

JUNK: Final = (
    b"", b"nan", b"-inf", b"1e400", b"1e308", b"-1", b"0", b"99999999999999999999", b"\xff\xfe",
    b"\0", b"APOGEE", b"1,5", b"12:34:56.7", b"24:61:99", b"--", b'"', b"\xc3\xa9", b"1_000",
    b"0x1f", b"\n", b",", b";;;", b"\t", b"#", b"T", b"2026-10-17T12:00:00Z", b"\r", b"1e-320",
)  # fmt: skip
_FLIGHT: Final = made(0.4)
_COLUMNS: Final = (
    {"time_s": _FLIGHT["time"], "pressure_Pa": _FLIGHT["pressure"], "az_g": _FLIGHT["axial"]},
    {"t": 1e3 * _FLIGHT["time"], "alt": _FLIGHT["height"]},
    {"time_s": _FLIGHT["time"], "p1_hPa": _FLIGHT["pressure"] / 100, "p2_Pa": _FLIGHT["pressure"],
     "t2_C": 20 + 0 * _FLIGHT["time"], "ax": _FLIGHT["axial"], "ay": 0 * _FLIGHT["axial"]},
)  # fmt: skip
SOUND: Final = tuple(
    table(columns, delimiter, decimal, head).encode()
    for columns in _COLUMNS
    for delimiter, decimal, head in ((",", ".", True), (";", ",", True), ("\t", ".", False))
)


def mutated(number: int) -> bytes:
    """The log of this number: a sound one with up to a dozen changes."""
    random = np.random.default_rng(number)
    raw = bytearray(SOUND[number % len(SOUND)])
    for _ in range(int(random.integers(1, 13))):
        raw = _changed(raw, random)
    return bytes(raw)


def _changed(raw: bytearray, random: np.random.Generator) -> bytearray:
    at = int(random.integers(len(raw) + 1))
    kind = int(random.integers(10))
    if kind == 0:
        raw[at:at] = JUNK[int(random.integers(len(JUNK)))]
    elif kind == 1:
        del raw[at : at + int(random.integers(1, 200))]
    elif kind == 2 and at < len(raw):
        raw[at] = int(random.integers(256))
    elif kind == 3:
        del raw[at:]
    elif kind == 4:
        del raw[:at]
    elif kind == 5:
        raw[at:at] = raw[at : at + int(random.integers(1, 3000))]  # written twice
    else:
        return _line_changed(raw, random, kind)
    return raw


def _line_changed(raw: bytearray, random: np.random.Generator, kind: int) -> bytearray:
    rows = bytes(raw).split(b"\n")
    start = int(random.integers(len(rows)))
    some = slice(start, start + int(random.integers(1, 60)))
    junk = JUNK[int(random.integers(len(JUNK)))]
    if kind == 6:
        rows[some] = [junk] * len(rows[some])
    elif kind == 7:
        rows[some] = rows[some][::-1]
    elif kind == 8:  # a column stands still, or holds something else
        delimiter = (b",", b";", b"\t")[int(random.integers(3))]
        column = int(random.integers(6))
        for i in range(len(rows))[some]:
            cells = rows[i].split(delimiter)
            if column < len(cells):
                cells[column] = junk
            rows[i] = delimiter.join(cells)
    else:
        rows = rows[start:] + rows[:start]
    return bytearray(b"\n".join(rows))
