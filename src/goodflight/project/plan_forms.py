"""Plans as forms: which entries a plan has, one changed, copied, taken out, or made by a what-if.

Entries of the day are named `day.wind`. An entry left empty is taken out of the file; comments and
the order of the file stay. A plan's name is its own: no two plans share one.
"""

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Any, Final

from pydantic import TypeAdapter, ValidationError

from goodflight.project.codes import CONFIRM_KEYS
from goodflight.project.differences import as_text, plain
from goodflight.project.editing import table_blocks
from goodflight.project.faults import Fault, ProjectErrors, SaveRefused
from goodflight.project.fields import Name, Table, key_words, keys_of
from goodflight.project.flight_files import DayTable, PlanTable
from goodflight.project.part_forms import Entry, kept_texts, write_entries
from goodflight.project.parts.canopy import CanopyTable
from goodflight.project.records import Project
from goodflight.project.saving import write_files
from goodflight.project.sheets import annotation_at, describe, literals
from goodflight.project.text_fields import show_found
from goodflight.project.todo import Item, with_todos

FILE: Final = "plans.toml"
BESIDE: Final = ("add_rail", "adapter.outer_diameter", "adapter.mass")  # in other files
FIRST: Final = ("motor", "delay_out", "canopy", "site", "rail", "tilt", "level",
                "day.wind", "day.wind_from", "day.temperature")  # fmt: skip


def label(key: str) -> str:
    """Return what an entry of a plan is called on a form."""
    model, inner = _place(key)
    words = key_words(model, inner)
    return (words and words.label) or inner.replace("_", " ")


def _place(key: str) -> tuple[type[Table], str]:
    """Return the table that an entry stands in, and its key there."""
    return (DayTable, key[4:]) if key.startswith("day.") else (PlanTable, key)


def plan_entries(project: Project, plan: str) -> tuple[Entry, ...]:
    """Return the entries of a plan, those most often changed first, and what each may be."""
    names = {
        "motor": tuple(project.motor_files),
        "site": tuple(project.site_files),
        "canopy": _canopies(project),
        "main": _canopies(project),
    }
    keys = [k for k in keys_of(PlanTable) if k != "day"]
    keys += [f"day.{k}" for k in keys_of(DayTable)]
    wanted = _allowed(project, plan)
    found = {key: _entry(key, names.get(key, ()), wanted.get(key, "")) for key in keys}
    return tuple(found[key] for key in (*FIRST, *(k for k in keys if k not in FIRST)))


def day_entries() -> dict[str, Entry]:
    """Return the entries of a day, by key."""
    return {key: replace(_entry(f"day.{key}", (), ""), key=key) for key in keys_of(DayTable)}


def _canopies(project: Project) -> tuple[str, ...]:
    return tuple(part.name for part in project.parts if isinstance(part, CanopyTable))


def _allowed(project: Project, plan: str) -> dict[str, str]:
    """Return what a plan's motor and field allow, in words."""
    table = project.plan_tables[plan_number(project, plan)]
    allowed = project.motor_files[table.motor][0].delay_out_allowed if table.motor else []
    delays = [each.text for each in allowed if each.value > 0.0]
    rails = [rail.text for rail in project.site_files[table.site][0].rails]
    keys = ", ".join(f'"{key}"' for key in CONFIRM_KEYS)
    return {
        "delay_out": f"0 s, or {', '.join(delays)}" if delays else "0 s: nothing can be taken out",
        "rail": ", ".join(dict.fromkeys(rails)),
        "confirmed": f"a list in [ ] of {keys}",
        "denied": "a list in [ ] of the same",
    }


def _entry(key: str, names: tuple[str, ...], words: str) -> Entry:
    model, inner = _place(key)
    found = entry_of(model, inner)
    return replace(found, key=key, wanted=words or found.wanted, choices=names or found.choices)


def entry_of(model: type[Table], key: str) -> Entry:
    """Return an entry of a table: what it looks like by its own words, else by its kind."""
    annotation, said = annotation_at(model, (key,)), key_words(model, key)
    wanted = describe(annotation)
    words = said and (said.hint or (said.example and f"like {said.example}"))
    return Entry(
        key,
        words or ("a text" if wanted == "a text in quotes" else wanted),
        tuple(literals(annotation)),
        model.model_fields[key].is_required(),
    )


def plan_number(project: Project, name: str) -> int:
    """Return the place of a named plan in its file, from 0."""
    names = [table.name for table in project.plan_tables]
    if name in names:
        return names.index(name)
    raise SaveRefused(f"no plan is named {name!r}; there are: {', '.join(names)}")


def plan_written(project: Project, name: str) -> dict[str, str]:
    """Return a plan's entries as they stand in the file, those of the day as `day.wind`."""
    row = tomllib.loads(project.texts[FILE])["plan"][plan_number(project, name)]
    day = row.pop("day", {})
    return {k: as_text(v) for k, v in [*row.items(), *((f"day.{k}", v) for k, v in day.items())]}


def change_plan(
    project: Project,
    name: str,
    entries: Mapping[str, str],
    beside: Mapping[str, str] = MappingProxyType({}),
) -> Project:
    """Write a plan's entries anew; an empty one is taken out. Nothing else in the file moves.

    `beside`, by `BESIDE`: a rail that its field did not have, the adapter of its motor.

    Raises
    ------
    SaveRefused - no such plan or entry, or the file changed on disk.
    ProjectErrors - the plan would not be valid; nothing is written.
    """
    import tomlkit

    new_name = plain(entries.get("name", name))
    if new_name != name:
        _check_name(project, name, new_name)
    document = tomlkit.parse(project.texts[FILE])
    rows: Any = document["plan"]
    table = rows[plan_number(project, name)]
    allowed = {entry.key: entry for entry in plan_entries(project, name)}
    of_day = {key: text for key, text in entries.items() if key.startswith("day.")}
    write_entries(table, allowed, {k: t for k, t in entries.items() if k not in of_day}, "a plan")
    write_entries(table["day"], allowed, of_day, "a plan")
    return write_files(
        project, {FILE: tomlkit.dumps(document), **_beside(project, name, entries, beside)}
    )


def _beside(
    project: Project, name: str, entries: Mapping[str, str], beside: Mapping[str, str]
) -> dict[str, str]:
    """Texts of the field and the motor that a plan's form changes with it, by path."""
    import tomlkit

    now, found = project.plan_tables[plan_number(project, name)], dict[str, str]()
    rail = plain(entries.get("rail", ""))
    site, motor = (entries.get("site") or now.site, entries.get("motor") or now.motor)
    field = f"sites/{site}.toml"
    if beside.get("add_rail") and rail and field in project.texts:
        document = tomlkit.parse(project.texts[field])
        rails: Any = document["rails"]
        rails.append(rail)
        found[field] = tomlkit.dumps(document)
    sizes = {key: plain(beside.get(f"adapter.{key}", "")) for key in ("outer_diameter", "mass")}
    head = f"motors/{motor}.toml"
    if any(sizes.values()) and head in project.texts:
        document = tomlkit.parse(project.texts[head])
        document["adapter"] = {key: text for key, text in sizes.items() if text}
        found[head] = tomlkit.dumps(document)
    return found


def _check_name(project: Project, name: str, new_name: str) -> None:
    """Refuse a name that is empty or taken, as a fault of the entry `name`."""
    found, advice = show_found(new_name), ""
    if not new_name:
        found, advice = "nothing", "give the plan a name"
    elif new_name in [table.name for table in project.plan_tables]:
        advice = f"there is a plan {new_name} already; take another name"
    elif not _is_name(new_name):
        advice = 'leave out [ ] : " and \\, and write at most 60 characters'
    if advice:
        key = f"plan[{name}].name"
        raise ProjectErrors(
            [
                Fault(
                    FILE, 0, key, found=found, expected="a name that no plan has yet", advice=advice
                )
            ]
        )


def _is_name(text: str) -> bool:
    try:
        TypeAdapter(Name).validate_python(text)
    except ValidationError:
        return False
    return True


def copy_plan(project: Project, name: str, new_name: str) -> Project:
    """Copy a plan under a new name, behind the one it was copied from.

    Raises
    ------
    SaveRefused - no such plan, or the file changed on disk.
    ProjectErrors - the name is empty, taken or no name; nothing is written.
    """
    return keep_as_plan(project, name, new_name, ())


def keep_as_plan(
    project: Project,
    name: str,
    new_name: str,
    writes: Iterable[tuple[str, str]],
    to_do: Iterable[Item] = (),
) -> Project:
    """Copy a plan under a new name and write into the copy what a what-if would write.

    Writes outside the plan, into the rocket or a motor, change it for every plan: `outside_plan`
    names them. All of it is written together, or nothing; `to_do` goes on the list of what is to
    be done.

    Raises
    ------
    SaveRefused - no such plan or entry, or a file changed on disk.
    ProjectErrors - the name is taken, or the copy would not be valid; nothing is written.
    """
    new_name = plain(new_name)
    _check_name(project, name, new_name)
    texts = {**project.texts, FILE: _with_copy(project, name, new_name)}
    head = f"{FILE}:plan[{name}]."
    moved = [
        (f"{FILE}:plan[{new_name}].{path[len(head) :]}" if path.startswith(head) else path, text)
        for path, text in writes
    ]
    kept = kept_texts(replace(project, texts=texts), moved)
    return write_files(project, with_todos(kept, project, to_do))


def inside_plan(name: str, writes: Iterable[tuple[str, str]]) -> tuple[tuple[str, str], ...]:
    """Return the writes that a copied plan takes with it, by the plan's own entries."""
    head = f"{FILE}:plan[{name}]."
    return tuple((path[len(head) :], text) for path, text in writes if path.startswith(head))


def outside_plan(name: str, writes: Iterable[tuple[str, str]]) -> tuple[tuple[str, str], ...]:
    """Return the writes that a copied plan does not take with it: they change every plan."""
    head = f"{FILE}:plan[{name}]."
    return tuple(each for each in writes if not each[0].startswith(head))


def _with_copy(project: Project, name: str, new_name: str) -> str:
    import tomlkit

    text, number = project.texts[FILE], plan_number(project, name)
    rows = text.splitlines(keepends=True)
    if rows and not rows[-1].endswith("\n"):
        rows[-1] += "\n"
    start, end = table_blocks(text, "plan")[number]
    copy = tomlkit.parse("".join(rows[start:end]))
    block: Any = copy["plan"]
    block[0]["name"] = new_name
    rows[end:end] = ["\n", tomlkit.dumps(copy)]
    return "".join(rows)


def remove_plan(project: Project, name: str) -> Project:
    """Take a plan out; its text stays in the earlier version.

    Raises
    ------
    SaveRefused - it is the only plan, or no plan has this name, or the file changed on disk.
    ProjectErrors - something still refers to the plan; nothing is written.
    """
    number = plan_number(project, name)
    if len(project.plan_tables) == 1:
        raise SaveRefused(f"{name} is the only plan; copy it under a new name first")
    text = project.texts[FILE]
    rows = text.splitlines(keepends=True)
    start, end = table_blocks(text, "plan")[number]
    while end < len(rows) and not rows[end].strip():
        end += 1
    del rows[start:end]
    return write_files(project, {FILE: "".join(rows)})


def plan_fault_key(fault: Fault, name: str) -> str | None:
    """Return the entry of a plan that a fault speaks of, None when it speaks of something else."""
    head = f"plan[{name}]."
    if fault.file != FILE or not fault.key.startswith(head):
        return None
    key = fault.key[len(head) :].split("[")[0]
    return key if key.startswith("day.") else key.split(".")[0]
