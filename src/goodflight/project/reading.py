"""Read a project folder: every file, every fault, then one checked record.

`load` reads the folder; `read_project` does the work on texts alone, so that a change can be
checked before anything is written.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from functools import partial
from pathlib import Path, PurePosixPath
from typing import Any

from goodflight.project import plan_checks, rocket_checks
from goodflight.project.bench_files import BuildFile, NotesFile, WeighingsFile
from goodflight.project.budgets import MAX_FILES, too_much
from goodflight.project.building import build_motor, build_rocket
from goodflight.project.codes import CodeSet, packaged_codes, read_code
from goodflight.project.curves import Curve, read_curve, too_far
from goodflight.project.day_file import FILE as DAY
from goodflight.project.day_file import DayFile, read_day
from goodflight.project.disk import FLIGHTS, NOTES, PREDICTION, digest, read_in
from goodflight.project.faults import Fault, ProjectErrors
from goodflight.project.fit_checks import check_mount
from goodflight.project.flight_files import PlanTable, SiteFile
from goodflight.project.folder import Folder
from goodflight.project.lines import Later
from goodflight.project.motor_checks import check_figures
from goodflight.project.motor_files import MotorFile
from goodflight.project.notes_checks import read_notes
from goodflight.project.outlines import Outline, read_outline
from goodflight.project.parts.table import PartTable, Placed
from goodflight.project.places import kind_of
from goodflight.project.predictions import PredictionFile, read_prediction
from goodflight.project.pressure_checks import check_pressure
from goodflight.project.reading_checks import check_readings
from goodflight.project.records import Project
from goodflight.project.rocket_file import RocketHead
from goodflight.project.sheets import Sheet, key_of, nearest, read_sheet
from goodflight.project.together import end_earlier
from goodflight.project.weighing_checks import check_weighings, part_names
from goodflight.project.workshop_files import check_workshop

ROCKET, PLANS, WEIGHINGS, BUILD = "rocket.toml", "plans.toml", "weighings.toml", "build.toml"


@dataclass
class _Findings:
    texts: Mapping[str, str]
    sheets: dict[str, Sheet] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)
    head: RocketHead | None = None
    parts: list[Placed] = field(default_factory=list)
    plans: list[PlanTable] = field(default_factory=list)
    motors: dict[str, tuple[MotorFile, Curve]] = field(default_factory=dict)
    motor_heads: dict[str, MotorFile] = field(default_factory=dict)
    sites: dict[str, tuple[SiteFile, Outline | None]] = field(default_factory=dict)
    site_heads: dict[str, SiteFile] = field(default_factory=dict)
    codes: dict[str, CodeSet] = field(default_factory=dict)
    weighings: WeighingsFile = field(default_factory=WeighingsFile)
    weighed: tuple[RocketHead, tuple[PartTable, ...]] | None = None
    build: BuildFile | None = None
    day: DayFile = field(default_factory=DayFile)
    notes: dict[str, NotesFile] = field(default_factory=dict)
    predictions: dict[str, PredictionFile] = field(default_factory=dict)

    def sheet(self, file: str) -> Sheet:
        if file not in self.sheets:
            self.sheets[file] = read_sheet(file, self.texts[file])
        return self.sheets[file]

    def stems(self, room: str, ending: str) -> list[str]:
        paths = [PurePosixPath(file) for file in self.texts if file.endswith(ending)]
        return sorted(p.stem for p in paths if str(p.parent) == room and p.suffix == ending)

    def missing(self, file: str, advice: str) -> None:
        wanted = "a file of this name in the project folder"
        known = (ROCKET, PLANS, WEIGHINGS, BUILD, DAY)
        others = [name for name in self.texts if "/" not in name and name not in known]
        close = get_close_matches(file, others, n=1, cutoff=0.75)
        if close:
            advice = f"rename {close[0]}"
        self.faults.append(Fault(file, 0, "", found="no such file", expected=wanted, advice=advice))


def load(path: Path | str) -> Project:
    """Read and check a project folder.

    Parameters
    ----------
    path : Path or str - the folder that holds rocket.toml. [-]

    Returns
    -------
    project : Project - everything in it, ready for studies. [-]

    Raises
    ------
    ProjectErrors - something is wrong; `.faults` lists all of it, in all files.
    """
    root = Path(path)
    kind = kind_of(root)
    if kind != "a folder":
        advice = "name an existing folder, or make one with `goodflight new`"
        found = kind or "no such folder"
        raise ProjectErrors(
            [Fault(str(root), 0, "", found=found, expected="a project folder", advice=advice)]
        )
    try:
        with Folder(root) as folder:
            unended = end_earlier(folder)
            texts, faults = read_in(folder)
    except PermissionError as error:
        found, advice = error.strerror or str(error), "let your user read the folder"
        raise ProjectErrors(
            [Fault(str(root), 0, "", found=found, expected="a project folder", advice=advice)]
        ) from error
    return read_project(texts, root, [*unended, *faults])


def read_project(
    texts: Mapping[str, str], root: Path | None = None, faults: list[Fault] | None = None
) -> Project:
    """Check the texts of a project, by path inside its folder, and return it.

    Parameters
    ----------
    texts : mapping - texts by path, e.g. "rocket.toml". [-]
    root : Path or None - the folder they came from; None: they cannot be saved. [-]
    faults : list of Fault or None - what could not be read. [-]

    Returns
    -------
    project : Project - everything in it, checked. [-]

    Raises
    ------
    ProjectErrors - with every fault of every file.
    """
    if len(texts) > MAX_FILES:
        name = root.name if root is not None else "the project"
        many = f"{len(texts)} files"
        raise ProjectErrors([too_much(name, "", many, MAX_FILES, what="files", line=0)])
    found = _Findings(texts, faults=list(faults or []))
    unread = {fault.file for fault in found.faults}
    _rocket(found, unread)
    _motors(found, unread)
    _codes(found)
    _sites(found)
    _plans(found, unread)
    _bench(found)
    _flights(found)
    everything = [*found.faults, *(f for sheet in found.sheets.values() for f in sheet.faults)]
    if everything or found.head is None:
        raise ProjectErrors(everything)
    return Project(
        root=root,
        head=found.head,
        parts=tuple(part.table for part in found.parts),
        plan_tables=tuple(found.plans),
        motor_files=found.motors,
        site_files=found.sites,
        weighings=found.weighings,
        weighed=found.weighed,
        build=found.build,
        day=found.day,
        notes=found.notes,
        predictions=found.predictions,
        texts=dict(texts),
        hashes={name: digest(text) for name, text in texts.items()},
        lines=Later(partial(_places, found)),
        own_codes=found.codes,
    )


def _places(found: _Findings) -> dict[str, int]:
    return {
        f"{sheet.file}:{key_of(path, sheet.data)}": line
        for sheet in found.sheets.values()
        for path, line in sheet.lines.items()
        if path
    }


def _head(sheet: Sheet, listed: str, model: Any) -> Any:
    """Validate a file without its list of tables."""
    rest = {key: value for key, value in sheet.data.items() if key != listed}
    return sheet.check((), rest, model)


def _rocket(found: _Findings, unread: set[str]) -> None:
    if ROCKET not in found.texts:
        if ROCKET not in unread:
            found.missing(ROCKET, "start a project with `goodflight new` or `goodflight demo`")
        return
    sheet = found.sheet(ROCKET)
    if not sheet.readable:
        return
    found.head = _head(sheet, "part", RocketHead)
    rows = sheet.rows("part", "part")
    if not rows and "part" not in sheet.data:
        sheet.add(("part",), "no parts", "parts front to back", "add [[part]] tables")
        return
    for i, row in enumerate(rows):
        table = rocket_checks.read_part(sheet, i, row)
        if table is not None:
            found.parts.append(Placed(("part", i), table))
    rocket_checks.check_names(sheet, "part", rows)
    rocket_checks.check_holds(sheet, rows)
    rocket_checks.check_parts(sheet, found.parts, len(found.parts) == len(rows))


def _motors(found: _Findings, unread: set[str]) -> None:
    heads, curves = found.stems("motors", ".toml"), found.stems("motors", ".csv")
    for stem in sorted({*heads, *curves}):
        head_file, curve_file = f"motors/{stem}.toml", f"motors/{stem}.csv"
        curve: Curve | None = None
        if stem in curves:
            curve, faults = read_curve(curve_file, found.texts[curve_file])
            found.faults += faults if curve is None else too_far(curve_file, curve)
        elif curve_file not in unread:
            found.missing(curve_file, f"add the thrust curve of {head_file}")
        if stem not in heads:
            if head_file not in unread:
                found.missing(head_file, f"add the masses and delay of {curve_file}")
            continue
        sheet = found.sheet(head_file)
        head = sheet.check((), sheet.data, MotorFile) if sheet.readable else None
        if head is None:
            continue
        found.motor_heads[stem] = head
        check_figures(sheet, head, curve)
        if curve is not None:
            found.motors[stem] = (head, curve)


def _codes(found: _Findings) -> None:
    for stem in found.stems("codes", ".toml"):
        code = read_code(found.sheet(f"codes/{stem}.toml"), stem)
        if code is not None:
            found.codes[stem] = code


def _sites(found: _Findings) -> None:
    for stem in found.stems("sites", ".toml"):
        sheet = found.sheet(f"sites/{stem}.toml")
        head = sheet.check((), sheet.data, SiteFile) if sheet.readable else None
        if head is None:
            continue
        found.site_heads[stem] = head
        known = sorted({*packaged_codes(), *found.stems("codes", ".toml")})
        check = plan_checks.check_reference
        check(sheet, ("code",), head.code, known, kind="code set", where="codes/")
        outline: Outline | None = None
        if head.outline is not None:
            outline = _outline(found, sheet, head)
            if outline is None:
                continue
        found.sites[stem] = (head, outline)


def _outline(found: _Findings, sheet: Sheet, head: SiteFile) -> Outline | None:
    file = f"sites/{head.outline}"
    if file not in found.texts:
        there = [name[6:] for name in found.texts if name.endswith(("json", "geojson"))]
        advice = nearest(head.outline, there, "add the file, or remove outline")
        sheet.add(("outline",), f'"{head.outline}"', "a GeoJSON file in sites/", advice)
        return None
    lonlat = head.coordinates == "lonlat"
    if lonlat and head.pad is None:
        advice = "add pad = [longitude, latitude] in degrees"
        sheet.add(("pad",), "nothing", "the pad's longitude and latitude", advice)
        return None
    pad = (head.pad[0], head.pad[1]) if head.pad is not None else (0.0, 0.0)
    outline, faults = read_outline(file, found.texts[file], lonlat, pad)
    found.faults += faults
    return outline


def _plans(found: _Findings, unread: set[str]) -> None:
    if PLANS not in found.texts:
        if PLANS not in unread:
            found.missing(PLANS, "add a file with one [[plan]] for each intended flight")
        return
    sheet = found.sheet(PLANS)
    if not sheet.readable:
        return
    for key in sheet.data:
        if key != "plan":
            advice = nearest(key, ["plan"], "put it under [[plan]], or remove it")
            sheet.add((key,), f"the key {key}", "[[plan]] tables only", advice)
    rows = sheet.rows("plan", "plan")
    if not rows and "plan" not in sheet.data:
        sheet.add((), "no plans", "at least one [[plan]]", "add a [[plan]] table")
    rocket_checks.check_names(sheet, "plan", rows)
    for i, row in enumerate(rows):
        _references(found, sheet, i, row)
        table = sheet.check(("plan", i), row, PlanTable)
        if table is not None:
            found.plans.append(table)
            _plan(found, sheet, ("plan", i), table)


def _references(found: _Findings, sheet: Sheet, i: int, row: dict[str, Any]) -> None:
    motors = sorted({*found.stems("motors", ".toml"), *found.stems("motors", ".csv")})
    sites = found.stems("sites", ".toml")
    path = ("plan", i)
    check = plan_checks.check_reference
    check(sheet, (*path, "motor"), row.get("motor"), motors, kind="motor", where="motors/")
    check(sheet, (*path, "site"), row.get("site"), sites, kind="field", where="sites/")
    rocket = found.sheets.get(ROCKET)
    if rocket is None or not rocket.readable:
        return
    parts = rocket.data.get("part", [])
    rows = [p for p in parts if isinstance(p, dict)] if isinstance(parts, list) else []
    if not rows:
        return  # told already
    canopies = [str(p.get("name")) for p in rows if p.get("kind") == "canopy"]
    for key in ("canopy", "main"):
        check(sheet, (*path, key), row.get(key), canopies, kind="canopy", where=ROCKET)


def _plan(found: _Findings, sheet: Sheet, path: tuple[str | int, ...], table: PlanTable) -> None:
    motor, site = found.motor_heads.get(table.motor or ""), found.site_heads.get(table.site)
    plan_checks.check_main(sheet, path, table)
    if motor is not None:
        plan_checks.check_motor(sheet, path, table, motor)
        _mount(found, sheet, path, table)
    if site is not None:
        plan_checks.check_site(sheet, path, table, site)
        check_pressure(sheet, (*path, "day"), table.day, site)


def _mount(found: _Findings, sheet: Sheet, path: tuple[str | int, ...], table: PlanTable) -> None:
    """Whether the motor of a plan goes into the rocket, where both could be read."""
    motor = table.motor or ""
    if motor not in found.motors or found.head is None or found.sheets[ROCKET].faults:
        return
    head, curve = found.motors[motor]
    rocket = build_rocket(found.head, tuple(part.table for part in found.parts), {})
    check_mount(sheet, path, motor, rocket, build_motor(motor, head, curve, {}))


def _bench(found: _Findings) -> None:
    if WEIGHINGS in found.texts:
        sheet = found.sheet(WEIGHINGS)
        read = sheet.check((), sheet.data, WeighingsFile) if sheet.readable else None
        found.weighings = read or found.weighings
        names = part_names(found.sheets.get(ROCKET))
        if read is not None and read.rocket:
            found.weighed = _as_weighed(sheet, read.rocket)
            names = [part.name for part in found.weighed[1]] if found.weighed else []
        if sheet.readable:
            check_weighings(sheet, names, list(found.motors))
        if read is not None and found.head is not None:
            rocket = found.head, [part.table for part in found.parts]
            check_readings(sheet, read, rocket, found.sheets[ROCKET])
    if BUILD in found.texts:
        sheet = found.sheet(BUILD)
        found.build = sheet.check((), sheet.data, BuildFile) if sheet.readable else None
        if found.build is not None:
            check_workshop(sheet, found.build, part_names(found.sheets.get(ROCKET)))
    if DAY in found.texts:
        found.day = read_day(found.sheet(DAY)) or found.day


def _flights(found: _Findings) -> None:
    for file in sorted(found.texts):
        room, _, rest = file.partition("/")
        name, _, kind = rest.partition("/")
        if room != FLIGHTS:
            continue
        if kind == NOTES:
            notes = read_notes(found.sheet(file), found.plans, found.site_heads)
            if notes is not None:
                found.notes[name] = notes
        elif kind == PREDICTION:
            found.sheets[file], said = read_prediction(file, found.texts[file])
            if said is not None:
                found.predictions[name] = said


def _as_weighed(sheet: Sheet, text: str) -> tuple[RocketHead, tuple[PartTable, ...]] | None:
    """The rocket as it was on the scale; its first fault, told here."""
    then = _Findings({ROCKET: text})
    _rocket(then, set())
    wrong = then.sheet(ROCKET).faults
    if then.head is not None and not wrong:
        return then.head, tuple(part.table for part in then.parts)
    advice = "take this entry out and weigh again, or bring an earlier version back"
    said = wrong[0].sentence if wrong else "no rocket"
    sheet.add(("rocket",), said, "rocket.toml as it was weighed", advice)
    return None
