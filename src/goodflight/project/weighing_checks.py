"""Whether weighings name parts, motors and instruments that exist, and say what was measured."""

from datetime import date

from goodflight.project.bench_files import WeighingsFile, WeighingTable
from goodflight.project.plan_checks import check_reference
from goodflight.project.sheets import Sheet

WHOLE = "all"  # in `what`: everything the first plan flies, without the motor
Path = tuple[str | int, ...]


def part_names(rocket: Sheet | None) -> list[str]:
    """Return the names of the rocket's parts as written, none when its file cannot be read."""
    if rocket is None or not rocket.readable:
        return []
    rows = [p for p in rocket.data.get("part", []) if isinstance(p, dict)]
    return [str(row.get("name")) for row in rows]


def check_weighings(sheet: Sheet, read: WeighingsFile, parts: list[str], motors: list[str]) -> None:
    """Note what cannot be meant; `parts` is empty where the rocket cannot be read."""
    instruments = [each.name for each in read.instrument]
    for number, row in enumerate(read.weighing):
        path: Path = ("weighing", number)
        if parts:
            _names(sheet, path, row, parts)
        check_reference(sheet, (*path, "motor"), row.motor, motors, "motor", "motors/")
        where = "the [[instrument]] tables of weighings.toml"
        check_reference(sheet, (*path, "instrument"), row.instrument, instruments, "name", where)
        if row.mass is None and row.balance is None and row.swing is None:
            advice = "add what was measured: mass, balance or swing"
            sheet.add(path, "no measurement", "mass, balance or swing", advice)
        _date(sheet, (*path, "date"), row.date)


def _names(sheet: Sheet, path: Path, row: WeighingTable, parts: list[str]) -> None:
    for key, names in (("what", row.what), ("without", row.without)):
        for place, name in enumerate(names):
            if name == WHOLE and key == "what":
                continue
            check_reference(sheet, (*path, key, place), name, parts, "part", "rocket.toml")
            if name in names[:place]:
                sheet.add((*path, key, place), f'"{name}" twice', "each part once", "take one out")
    if row.without and WHOLE not in row.what:
        advice = "name in what the parts that were on the scale, and no others"
        sheet.add((*path, "without"), "parts left out of parts named", 'what = ["all"]', advice)


def _date(sheet: Sheet, path: Path, text: str) -> None:
    try:
        if text:
            date.fromisoformat(text)
    except ValueError:
        sheet.add(path, f'"{text}"', "a day like 2026-10-17", "write year-month-day")
