"""Change one figure, add or take out a part, in the builder's own text: comments and order stay.

A path names an entry as faults and overrides do: `rocket.toml:part[nose].mass`,
`plans.toml:plan[morning].day.wind`, `motors/H-b.toml:delay`. Lists of tables go by name, or by
number as `[#2]`.
"""

import re
import tomllib
from collections.abc import Iterable
from typing import Any

from goodflight.project.faults import SaveRefused
from goodflight.project.lines import Path, lines_of
from goodflight.project.records import Project
from goodflight.project.saving import write_files

NAMED = 30  # names that a message lists
_STEP = re.compile(r"\.?([A-Za-z_][A-Za-z0-9_-]*)|\[#([0-9]+)\]|\[([^\]]+)\]")
_HEADER = re.compile(r"^\s*\[")


def edit(project: Project, path: str, new_text: str) -> Project:
    """Write one entry anew and save; the changed project comes back.

    Parameters
    ----------
    project : Project - as loaded from its folder. [-]
    path : str - the entry, e.g. "rocket.toml:part[nose].mass". [-]
    new_text : str - as it would be written in the file, e.g. "146 g measured". [-]

    Returns
    -------
    project : Project - loaded again after the save. [-]

    Raises
    ------
    SaveRefused - no such entry, or the file changed on disk since it was read.
    ProjectErrors - the new text is not valid there; nothing is written.
    """
    return edit_all(project, [(path, new_text)])


def edit_all(project: Project, changes: Iterable[tuple[str, str]]) -> Project:
    """Write several entries anew and save them together; all are checked before any is written.

    Parameters
    ----------
    project : Project - as loaded from its folder. [-]
    changes : pairs - path of an entry, and its new text. [-]

    Returns
    -------
    project : Project - read anew. [-]

    Raises
    ------
    SaveRefused, ProjectErrors - as `edit`; nothing is written.
    """
    return write_files(project, changed_texts(project, changes))


def changed_texts(project: Project, changes: Iterable[tuple[str, str]]) -> dict[str, str]:
    """Return the files as they would read after the changes, by path; nothing is written.

    Parameters
    ----------
    project : Project - as loaded from its folder. [-]
    changes : pairs - path of an entry, and its new text. [-]

    Returns
    -------
    texts : dict - by path inside the folder, the changed ones only. [-]

    Raises
    ------
    SaveRefused - a path that names no entry, or a text that cannot stand there.
    """
    texts: dict[str, str] = {}
    for path, new_text in changes:
        file, _, key = path.partition(":")
        if file not in project.texts:
            there = ", ".join(sorted(project.texts))
            raise SaveRefused(f"{path}: no file {file} in this project; there are: {there}")
        texts[file] = _changed(texts.get(file, project.texts[file]), path, key, new_text)
    return texts


def entry_in(text: str, path: str) -> Any:
    """Return the value of an entry in a TOML text; None where it may be added.

    Raises
    ------
    SaveRefused - the path names nothing that could stand there.
    """
    return value_at(tomllib.loads(text), path)


def value_at(data: dict[str, Any], path: str) -> Any:
    """Return the value of an entry in a file taken apart; None where it may be added.

    Raises
    ------
    SaveRefused - the path names nothing that could stand there.
    """
    steps = _steps(path, path.partition(":")[2], data)
    here: Any = data
    for step in steps[:-1]:
        here = here[step] if isinstance(step, int) else here.get(step)
        if not isinstance(here, dict | list):
            raise SaveRefused(f"{path}: the table around this entry is not in the file")
    if not steps or (isinstance(here, list) and not isinstance(steps[-1], int)):
        raise SaveRefused(f"{path}: this names no entry")
    last: Any = steps[-1]
    return here[last] if isinstance(here, list) else here.get(last)


def with_entry(text: str, path: str, new_text: str) -> str:
    """Return a TOML text with one entry written anew; an empty text takes it out.

    Raises
    ------
    SaveRefused - the path names no entry, or the text cannot stand there.
    """
    if new_text:
        return _changed(text, path, path.partition(":")[2], new_text)
    if entry_in(text, path) is None:
        return text
    import tomlkit

    document = tomlkit.parse(text)
    steps = _steps(path, path.partition(":")[2], tomllib.loads(text))
    here: Any = document
    for step in steps[:-1]:
        here = here[step]
    del here[steps[-1]]
    return tomlkit.dumps(document)


def _steps(path: str, key: str, data: dict[str, Any]) -> Path:
    """Turn the key part of a path into keys and numbers."""
    steps: list[str | int] = []
    here: Any = data
    at = 0
    while at < len(key):
        match = _STEP.match(key, at)
        if match is None:
            raise SaveRefused(f"{path}: cannot read this path at {key[at:]!r}")
        at = match.end()
        step: str | int = match[1] if match[1] is not None else _number(path, here, match)
        steps.append(step)
        try:
            here = here[step]
        except (KeyError, IndexError, TypeError):
            here = None
    return tuple(steps)


def _number(path: str, rows: Any, match: re.Match[str]) -> int:
    if not isinstance(rows, list):
        raise SaveRefused(f"{path}: there is no list before {match[0]}")
    if match[2] is not None:
        number = int(match[2]) - 1
        if 0 <= number < len(rows):
            return number
        raise SaveRefused(f"{path}: the list has {len(rows)} entries")
    names = [str(row.get("name")) for row in rows if isinstance(row, dict)]
    if match[3] in names:
        return names.index(match[3])
    there = ", ".join(names[:NAMED]) + (f" and {len(names) - NAMED} more" * (len(names) > NAMED))
    raise SaveRefused(f"{path}: nothing is named {match[3]!r}; there are: {there}")


def literal(new_text: str, old: Any = None) -> Any:
    """Return the TOML value of a text: a string, unless it is a table or replaces another kind."""
    if isinstance(old, str) and not new_text.startswith("{"):
        return new_text
    try:
        value = tomllib.loads(f"x = {new_text}")["x"]
    except (ValueError, RecursionError):  # also a number without end, or brackets
        return new_text
    return new_text if isinstance(value, str) and not new_text.startswith(('"', "'")) else value


def _changed(text: str, path: str, key: str, new_text: str) -> str:
    steps = _steps(path, key, tomllib.loads(text))
    if not steps:
        raise SaveRefused(f"{path}: name an entry after the colon")
    import tomlkit

    document = tomlkit.parse(text)
    here: Any = document
    for step in steps[:-1]:
        if isinstance(here, dict) and step not in here:
            return _new_table(text, path, steps, new_text)
        here = here[step]
    last = steps[-1]
    if isinstance(here, dict) and last not in here:
        return _new_key(text, steps, new_text)
    try:
        here[last] = literal(new_text, here[last])
    except (TypeError, IndexError, KeyError):
        raise SaveRefused(f"{path}: there is no such entry to change") from None
    return tomlkit.dumps(document)


def without_comment(text: str, path: str) -> str:
    """Return a TOML text without the remark behind an entry, which a change made untrue."""
    import tomlkit

    document = tomlkit.parse(text)
    here: Any = document
    for step in _steps(path, path.partition(":")[2], tomllib.loads(text)):
        here = here[step]
    here.trivia.comment = here.trivia.comment_ws = ""
    return tomlkit.dumps(document)


def _line(key: str | int, new_text: str) -> str:
    import tomlkit

    return f"{key} = {tomlkit.item(literal(new_text, None)).as_string()}\n"


def _new_key(text: str, steps: Path, new_text: str) -> str:
    """Add a key below the name (or the head) of its table."""
    lines = lines_of(text)
    table = steps[:-1]
    rows = text.splitlines(keepends=True)
    line = lines.get((*table, "name"), lines[table])
    if not table and ("name",) not in lines:
        first = min((n for p, n in lines.items() if p), default=len(rows) + 1)
        line = first - 1
    elif table and not _HEADER.match(rows[lines[table] - 1]):
        return _inline_key(text, steps, new_text)
    if rows and line and not rows[line - 1].endswith("\n"):
        rows[line - 1] += "\n"
    rows.insert(line, _line(steps[-1], new_text))
    return "".join(rows)


def _inline_key(text: str, steps: Path, new_text: str) -> str:
    import tomlkit

    document = tomlkit.parse(text)
    here: Any = document
    for step in steps[:-1]:
        here = here[step]
    here[steps[-1]] = literal(new_text, None)
    return tomlkit.dumps(document)


def _new_table(text: str, path: str, steps: Path, new_text: str) -> str:
    if len(steps) != 2 or not isinstance(steps[0], str):
        raise SaveRefused(f"{path}: the table around this entry is not in the file")
    gap = "" if text.endswith("\n\n") else "\n" if text.endswith("\n") else "\n\n"
    return f"{text}{gap}[{steps[0]}]\n{_line(steps[1], new_text)}"


def table_blocks(text: str, key: str) -> list[tuple[int, int]]:
    """Return first and last line (from 0, end excluded) of each `[[key]]` block.

    Comments right below the last key belong to a block; after a blank line, to what follows.
    """
    rows = text.splitlines()
    lines = lines_of(text)
    heads = sorted({n - 1 for p, n in lines.items() if p and _HEADER.match(rows[n - 1])})
    starts = sorted(
        n - 1 for p, n in lines.items() if len(p) == 2 and p[0] == key and isinstance(p[1], int)
    )
    found = []
    for start in starts:
        inner = re.compile(rf"^\s*\[\[?{re.escape(key)}\.")
        later = [h for h in heads if h > start and not inner.match(rows[h])]
        end = later[0] if later else len(rows)
        while end > start + 1 and rows[end - 1].lstrip()[:1] in ("", "#"):
            end -= 1
        while end < len(rows) and rows[end].lstrip().startswith("#"):
            end += 1
        found.append((start, end))
    return found


def add_part(project: Project, part_text: str, after: str | None = None) -> Project:
    """Add a part, given as TOML lines without the `[[part]]` head, behind another part.

    Parameters
    ----------
    project : Project - as loaded from its folder. [-]
    part_text : str - e.g. 'kind = "added_mass"' and further lines. [-]
    after : str or None - name of the part before it; None puts it at the end. [-]

    Raises
    ------
    SaveRefused - no part is named `after`, or the file changed on disk.
    ProjectErrors - the rocket would not be valid; nothing is written.
    """
    number = None if after is None else part_number(project, after)
    text = with_part(project.texts["rocket.toml"], part_text, number)
    return write_files(project, {"rocket.toml": text})


def with_part(text: str, part_text: str, after: int | None) -> str:
    """Return the rocket's file with a part put behind the part of that number, or at the end."""
    rows = text.splitlines(keepends=True)
    blocks = table_blocks(text, "part")
    end = blocks[len(blocks) - 1 if after is None else after][1]
    while end > 0 and not rows[end - 1].strip():
        end -= 1
    if rows and not rows[end - 1].endswith("\n"):
        rows[end - 1] += "\n"
    rows.insert(end, f"\n[[part]]\n{part_text.strip()}\n")
    return "".join(rows)


def remove_part(project: Project, name: str) -> Project:
    """Take a part out of rocket.toml; its text stays in the earlier version.

    Parameters
    ----------
    project : Project - as loaded from its folder. [-]
    name : str - of the part. [-]

    Returns
    -------
    project : Project - read anew. [-]

    Raises
    ------
    SaveRefused - no part has this name, or the file changed on disk.
    ProjectErrors - something still refers to the part, or the rocket needs it.
    """
    text = project.texts["rocket.toml"]
    rows = text.splitlines(keepends=True)
    start, end = table_blocks(text, "part")[part_number(project, name)]
    while end < len(rows) and not rows[end].strip():
        end += 1
    del rows[start:end]
    return write_files(project, {"rocket.toml": "".join(rows)})


def part_number(project: Project, name: str) -> int:
    """Return the place of a named part among the parts of the rocket's file, from 0."""
    names = [part.name for part in project.parts]
    if name in names:
        return names.index(name)
    raise SaveRefused(f"no part is named {name!r}; there are: {', '.join(names)}")
