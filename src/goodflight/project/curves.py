"""Read a thrust curve: a CSV with the columns time_s and thrust_n, checked row by row."""

import math
from dataclasses import dataclass

from goodflight.project.budgets import (
    LONGEST_BURN_S,
    MAX_FAULTS_OF_A_TABLE,
    MAX_THRUST_POINTS,
    STRONGEST_N,
    too_much,
)
from goodflight.project.faults import Fault

HEADER = "time_s,thrust_n"


@dataclass(frozen=True)
class Curve:
    times_s: tuple[float, ...]
    thrusts_n: tuple[float, ...]

    @property
    def impulse_ns(self) -> float:
        """Area under the curve, thrust linear between the points."""
        t, f = self.times_s, self.thrusts_n
        return sum((t[i + 1] - t[i]) * (f[i + 1] + f[i]) / 2 for i in range(len(t) - 1))


class _Reader:
    def __init__(self, file: str) -> None:
        self.file = file
        self.faults: list[Fault] = []
        self.times: list[float] = []
        self.thrusts: list[float] = []
        self.last_line = 0
        self.spoilt = False

    def add(self, line: int, key: str, found: str, wanted: str, advice: str) -> None:
        self.faults.append(Fault(self.file, line, key, found=found, expected=wanted, advice=advice))

    def row(self, line: int, text: str) -> None:
        cells = [cell.strip() for cell in text.split(",")]
        if len(cells) != 2 or ";" in text or "\t" in text:
            advice = "use a comma between the two numbers and a point for decimals"
            self.spoilt = True
            self.add(line, "", f'"{text}"', "two numbers, time and thrust", advice)
            return
        numbers = [self._number(line, key, cell) for key, cell in zip(HEADER.split(","), cells)]
        time, thrust = numbers
        if time is None or thrust is None:
            self.spoilt = True
            return
        self.last_line = line
        if self.times and time <= self.times[-1]:
            wanted = f"a time after {self.times[-1]:g} s"
            self.add(line, "time_s", f"{time:g} s", wanted, "put the rows in order, each time once")
            return
        if thrust < 0:
            self.add(line, "thrust_n", f"{thrust:g} N", "0 N or more", "write 0 for no thrust")
        self.times.append(time)
        self.thrusts.append(thrust)

    def _number(self, line: int, key: str, cell: str) -> float | None:
        try:
            number = float(cell)
        except ValueError:
            number = math.nan
        if math.isfinite(number) and "_" not in cell:
            return number
        self.add(line, key, f'"{cell}"', "a plain number", "write digits only, like 0.12 or 146")
        return None

    def ends(self) -> None:
        if self.spoilt or self.faults:
            return
        first = self.last_line
        if len(self.times) < 3:
            advice = "take more points from the curve"
            self.add(first, "", f"{len(self.times)} rows", "3 rows or more", advice)
        elif self.times[0] != 0:
            advice = "let the curve begin with the row 0,0 at ignition"
            self.add(1, "time_s", f"{self.times[0]:g} s in the first row", "0 s", advice)
        elif self.thrusts[-1] != 0:
            advice = "add a last row with thrust 0 at burnout"
            self.add(first, "thrust_n", f"{self.thrusts[-1]:g} N at the end", "0 N", advice)
        elif max(self.thrusts) <= 0:
            self.add(first, "thrust_n", "no thrust anywhere", "a thrust curve", "check the column")


def read_curve(file: str, text: str) -> tuple[Curve | None, list[Fault]]:
    """Return the curve, or None with everything that is wrong in it."""
    reader = _Reader(file)
    seen_header = False
    count = text.count("\n")
    if count > MAX_THRUST_POINTS:
        return None, [too_much(file, "", f"{count} lines", MAX_THRUST_POINTS, "lines")]
    for number, raw in enumerate(text.lstrip("\ufeff").splitlines(), start=1):
        line = raw.strip()
        if not line or line.startswith("#"):
            continue
        if not seen_header:
            seen_header = True
            if line.replace(" ", "") != HEADER:
                reader.spoilt = True
                advice = f"write {HEADER} as the first line; times in s, thrust in N"
                reader.add(number, "", f'"{line}"', f"the column names {HEADER}", advice)
                break
            continue
        reader.row(number, line)
        if len(reader.faults) > MAX_FAULTS_OF_A_TABLE:
            break
    if not seen_header:
        reader.add(1, "", "an empty file", f"the column names {HEADER} and rows", "add the curve")
        reader.spoilt = True
    reader.ends()
    if reader.faults:
        return None, reader.faults
    return Curve(tuple(reader.times), tuple(reader.thrusts)), []


def too_far(file: str, curve: Curve) -> list[Fault]:
    """Return what no motor of these classes does: its units are wrong."""
    faults = []
    if curve.times_s[-1] > LONGEST_BURN_S:
        found, wanted = f"{curve.times_s[-1]:g} s at the end", f"at most {LONGEST_BURN_S:g} s"
        faults.append(
            Fault(
                file, 1, "time_s", found=found, expected=wanted, advice="write the times in seconds"
            )
        )
    if max(curve.thrusts_n) > STRONGEST_N:
        found, wanted = f"up to {max(curve.thrusts_n):g} N", f"at most {STRONGEST_N:g} N"
        faults.append(
            Fault(
                file,
                1,
                "thrust_n",
                found=found,
                expected=wanted,
                advice="write the thrust in newtons",
            )
        )
    return faults
