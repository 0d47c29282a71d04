"""Whether weighings name parts, motors and instruments that exist, and say what was measured."""

from typing import Any, Final

from goodflight.project.bench_files import WHOLE
from goodflight.project.plan_checks import check_reference
from goodflight.project.sheets import Sheet

Path = tuple[str | int, ...]
MEASURED: Final = {"mass", "balance", "swing"}


def part_names(rocket: Sheet | None) -> list[str]:
    """Return the names of the rocket's parts as written, none when its file cannot be read."""
    if rocket is None or not rocket.readable:
        return []
    rows = [p for p in rocket.data.get("part", []) if isinstance(p, dict)]
    return [str(row.get("name")) for row in rows]


def check_weighings(sheet: Sheet, parts: list[str], motors: list[str]) -> None:
    """Note what cannot be meant, in rows as written; `parts` is empty where there are none."""
    instruments = [str(each.get("name")) for each in _tables(sheet, "instrument")]
    for number, row in enumerate(_tables(sheet, "weighing")):
        path: Path = ("weighing", number)
        if parts:
            _names(sheet, path, row, parts)
        check_reference(
            sheet,
            path=(*path, "motor"),
            name=row.get("motor"),
            known=motors,
            kind="motor",
            where="motors/",
        )
        where = "the [[instrument]] tables of weighings.toml"
        used = row.get("instrument")
        check_reference(
            sheet,
            path=(*path, "instrument"),
            name=used,
            known=instruments,
            kind="name",
            where=where,
        )
        if not MEASURED & row.keys():
            advice = "add what was measured: mass, balance or swing"
            sheet.add(path, "no measurement", "mass, balance or swing", advice)


def _tables(sheet: Sheet, key: str) -> list[dict[str, Any]]:
    """The `[[key]]` tables; none where something else stands there, which is told already."""
    rows = sheet.data.get(key, [])
    return [r if isinstance(r, dict) else {} for r in rows] if isinstance(rows, list) else []


def _names(sheet: Sheet, path: Path, row: dict[str, Any], parts: list[str]) -> None:
    listed = {key: row.get(key, []) for key in ("what", "without")}
    if not all(isinstance(names, list) for names in listed.values()):
        return  # told already
    for key, names in listed.items():
        for place, name in enumerate(names):
            if name == WHOLE and key == "what":
                continue
            check_reference(
                sheet,
                path=(*path, key, place),
                name=name,
                known=parts,
                kind="part",
                where="rocket.toml",
            )
            if name in names[:place]:
                sheet.add((*path, key, place), f'"{name}" twice', "each part once", "take one out")
    if listed["without"] and WHOLE not in listed["what"]:
        advice = "name in what the parts that were on the scale, and no others"
        sheet.add((*path, "without"), "parts left out of parts named", 'what = ["all"]', advice)
