"""What a row asked for, written into the project's files: figures, new tables, answers.

A home names an entry as `editing` does, "sites/field.toml:code"; beyond that `device[+].name`
stands in a new `[[device]]` (`[+2]` in a second one), `plan[x].confirmed[fire]` puts a word into a
plan's list, `not_there[water]` into the field's, and `outline[field]` holds corners (see
`outline_typed`).
"""

import re
import tomllib
from collections.abc import Callable, Mapping
from typing import Any, Final

from goodflight.project.editing import entry_in, literal, with_entry
from goodflight.project.faults import Fault, SaveRefused
from goodflight.project.outline_typed import with_outline
from goodflight.project.part_forms import with_weighed
from goodflight.project.records import Project
from goodflight.project.saving import write_files

BUILD: Final = "build.toml"
_NEW: Final = re.compile(r"(.*?)\[\+(\d*)\](?:\.(.*))?$")
_NAMED: Final = re.compile(r"(\w+)\[([^\]]+)\]\.(\w+)$")
_RULE: Final = re.compile(r"(.*)\.confirmed\[(\w+)\]$")
_LISTED: Final = re.compile(r"(not_there)\[(\w+)\]$")
_OUTLINE: Final = re.compile(r"outline\[(\w+)\]$")
_WORDS: Final = ("name", "glue")  # written in quotes even where they look like a number
Typed = Mapping[str, str | tuple[str, ...]]


def answer(project: Project, typed: Typed) -> Project:
    """Write what was typed, all of it or nothing.

    Parameters
    ----------
    project : Project - as loaded from its folder. [-]
    typed : mapping - home -> text, or names for a list; none of them empty. [-]

    Returns
    -------
    project : Project - read anew. [-]

    Raises
    ------
    SaveRefused - a home names nothing that can be written, or a file changed on disk.
    ProjectErrors - the project would not be valid; nothing is written.
    """
    return write_files(project, with_weighed(answered_texts(project, typed), project))


def in_build(project: Project, typed: Mapping[str, str]) -> dict[str, str]:
    """Homes of entries of build.toml named like "person[builder].evening", with what was typed.

    A named table that is not there yet is a new one, with its name.
    """
    there = tomllib.loads(project.texts.get(BUILD, ""))
    homes, new = dict[str, str](), dict[tuple[str, str], str]()
    for key, text in typed.items():
        found = _NAMED.match(key)
        rows = there.get(found[1], []) if found else []
        if found is None or any(row.get("name") == found[2] for row in rows):
            homes[f"{BUILD}:{key}"] = text
            continue
        table, name = found[1], found[2]
        number = sum(each == table for each, _ in new) + 1
        row = new.setdefault((table, name), f"{BUILD}:{table}[+{number if number > 1 else ''}]")
        homes[f"{row}.name"], homes[f"{row}.{found[3]}"] = name, text
    return homes


def answered_texts(project: Project, typed: Typed) -> dict[str, str]:
    """Return the files as they would read with what was typed; nothing is written.

    Raises
    ------
    SaveRefused - a home names nothing that can be written.
    ProjectErrors - corners that cannot be read.
    """
    texts = dict(project.texts)
    rows: dict[tuple[str, str, str], dict[str, Any]] = {}
    for home, text in typed.items():
        file, _, place = home.partition(":")
        if file not in texts and file != BUILD:
            raise SaveRefused(f"{home}: no file {file} in this project")
        new, rule, listed, drawn = (
            found.match(place) for found in (_NEW, _RULE, _LISTED, _OUTLINE)
        )
        if new is not None:
            row = rows.setdefault((file, new[1], new[2]), {})
            _put(row, new[3] or "", text)
        elif rule is not None:
            texts[file] = _ruled(texts[file], f"{file}:{rule[1]}", rule[2], str(text))
        elif listed is not None:
            texts[file] = _listed(texts[file], f"{file}:{listed[1]}", listed[2])
        elif drawn is not None:
            texts |= with_outline(project, texts, file, drawn[1], str(text))
        else:
            texts[file] = with_entry(_text(texts, file), home, _as_toml(text))
    _name_glue(rows)
    for (file, table, _), row in rows.items():
        texts[file] = _with_row(_text(texts, file), file, table, row)
    return {file: text for file, text in texts.items() if project.texts.get(file) != text}


def _text(texts: Mapping[str, str], file: str) -> str:
    return texts.get(file, "#:schema ./.schema/build.json\n")


def _as_toml(text: str | tuple[str, ...]) -> str:
    import tomlkit

    return text if isinstance(text, str) else tomlkit.item(list(text)).as_string()


def _put(row: dict[str, Any], place: str, text: str | tuple[str, ...]) -> None:
    """Put a text into a new table, or into a table of a list in it."""
    inner = _NEW.match(place)
    if inner is not None:
        _put(row.setdefault(inner[1], [{}])[0], inner[3] or "", text)
    elif isinstance(text, tuple):
        row[place] = list(text)
    else:
        row[place] = text if place in _WORDS else literal(text)


def _name_glue(rows: Mapping[tuple[str, str, str], dict[str, Any]]) -> None:
    """A new glue is named as the new joint calls it."""
    joint, glue = rows.get((BUILD, "joint", "")), rows.get((BUILD, "glue", ""))
    if joint and glue and "name" not in glue and "glue" in joint:
        glue["name"] = joint["glue"]


def _with_row(text: str, file: str, table: str, row: dict[str, Any]) -> str:
    """A table added to a list: at the end of the file, or to a list inside another table."""
    import tomlkit

    if "[" in table:
        path = f"{file}:{table}"
        rows = [*(entry_in(text, path) or []), row]
        return with_entry(text, path, tomlkit.item(rows).as_string().strip())
    order = sorted(row, key=lambda key: key != "name")
    lines = [f"{key} = {_inline(row[key])}" for key in order]
    gap = "" if text.endswith("\n\n") else "\n" if text.endswith("\n") else "\n\n"
    return f"{text}{gap}[[{table}]]\n" + "\n".join(lines) + "\n"


def _inline(value: Any) -> str:
    import tomlkit

    if isinstance(value, list) and value and isinstance(value[0], dict):
        each = ", ".join(
            "{ " + ", ".join(f"{k} = {_inline(v)}" for k, v in row.items()) + " }" for row in value
        )
        return f"[{each}]"
    return str(tomlkit.item(value).as_string())


def _ruled(text: str, plan: str, key: str, into: str) -> str:
    """A rule put into the plan's list of those met, or of those not met, and out of the other."""
    for each in ("confirmed", "denied"):
        path = f"{plan}.{each}"
        old = list(entry_in(text, path) or [])
        now = [word for word in old if word != key] + ([key] if each == into else [])
        if now != old:
            text = with_entry(text, path, _as_toml(tuple(now)))
    return text


def _listed(text: str, path: str, word: str) -> str:
    """A word put into a list of the file."""
    old = list(entry_in(text, path) or [])
    return text if word in old else with_entry(text, path, _as_toml((*old, word)))


def home_of(fault: Fault, homes: tuple[str, ...]) -> str | None:
    """Return the home that a fault speaks of, None when it stands elsewhere."""
    where = f"{fault.file}:{fault.key}"
    ways: tuple[Callable[[str], bool], ...] = (
        lambda home: home == where,
        lambda home: _bare(home) == _bare(where),
        lambda home: "[+" in home and _bare(home).startswith(_bare(where)),
        lambda home: "[+" in home and _table(home) == _table(where),
        lambda home: "outline[" in home and fault.file.endswith(".geojson"),
    )
    return next((home for fits in ways for home in homes if fits(home)), None)


def _table(home: str) -> str:
    return _bare(home).rpartition(".")[0]


def _bare(home: str) -> str:
    """A home without names and numbers: part[fins].mass and part[#2].mass are alike."""
    return re.sub(r"\[[^\]]*\]", "[]", home)
