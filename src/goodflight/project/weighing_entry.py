"""One weighing or reading written into weighings.toml; comments and order stay."""

import tomllib
from collections.abc import Mapping, Sequence

from goodflight.project.bench_files import WHOLE
from goodflight.project.editing import table_blocks
from goodflight.project.measured_keys import stands
from goodflight.project.records import Project

FILE = "weighings.toml"
ROCKET = "rocket.toml"
_BEGINNING = "#:schema ./.schema/weighings.json\n"


def text_with(
    project: Project,
    what: Sequence[str],
    entries: Mapping[str, str | Sequence[str]],
    without: Sequence[str] = (),
) -> str:
    """Return weighings.toml with one more weighing.

    Parameters
    ----------
    project : Project - as loaded from its folder. [-]
    what : names of parts, or "all". [-]
    entries : mapping - further keys of the weighing and their texts. [-]
    without : parts that were not on the scale, of "all". [-]

    Returns
    -------
    text : str - of the file. Where the rocket was changed since it was weighed, a new weighing of
    the whole takes the place of the old ones of the whole.
    """
    import tomlkit

    text = project.texts.get(FILE, _BEGINNING)
    if project.weighings.rocket and WHOLE in what:
        document = tomlkit.parse(text)
        del document["rocket"]
        rest = [row for row in document["weighing"] if WHOLE not in row["what"]]
        del document["weighing"]
        if rest:
            document["weighing"] = tomlkit.item(rest)
        text = tomlkit.dumps(document)
    rows = ["[[weighing]]", f"what = {tomlkit.item(list(what)).as_string()}"]
    if without:
        rows.append(f"without = {tomlkit.item(list(without)).as_string()}")
    return _with_rows(text, rows, entries)


def with_instrument(text: str | None, name: str, share: str) -> str:
    """Return weighings.toml with one more instrument; `share` is the error all its readings share.

    Parameters
    ----------
    text : str or None - of the file; None = there is none yet. [-]
    name : str - what it is called. [-]
    share : str - of what it reads, e.g. "0.4 %". [-]

    Returns
    -------
    text : str - comments and order stay; the new table stands last.
    """
    text = _BEGINNING if text is None else text
    return _with_rows(text, ["[[instrument]]"], {"name": name, "calibration": share})


def with_reading(project: Project, entries: Mapping[str, str | Sequence[str]]) -> str:
    """Return weighings.toml with one more reading of a figure.

    Parameters
    ----------
    project : Project - as loaded from its folder. [-]
    entries : mapping - keys of the reading and their texts; `read` as a list. [-]
    """
    known = stands(tomllib.loads(project.texts[ROCKET]), str(entries.get("of", "")))
    entries = {**entries, "design": known}
    return _with_rows(project.texts.get(FILE, _BEGINNING), ["[[reading]]"], entries)


def with_designs(texts: dict[str, str], project: Project) -> dict[str, str]:
    """Return the texts of a change, where readings say what they were of before it.

    Parameters
    ----------
    texts : dict of str - files as they will be, by name. [-]
    project : Project - before the change. [-]
    """
    import tomlkit

    before = tomllib.loads(project.texts[ROCKET])
    after = tomllib.loads(texts.get(ROCKET, project.texts[ROCKET]))
    said = {
        number: stands(before, row.of)
        for number, row in enumerate(project.weighings.reading)
        if row.design is None and stands(before, row.of) != stands(after, row.of)
    }
    if not said:
        return texts
    document = tomlkit.parse(texts.get(FILE, project.texts[FILE]))
    for number, text in said.items():
        document["reading"][number]["design"] = text
    return {**texts, FILE: tomlkit.dumps(document)}


def _with_rows(text: str, rows: list[str], entries: Mapping[str, str | Sequence[str]]) -> str:
    import tomlkit

    given = {key: each if isinstance(each, str) else list(each) for key, each in entries.items()}
    rows += [f"{key} = {tomlkit.item(each).as_string()}" for key, each in given.items() if each]
    return text + ("" if text.endswith("\n") else "\n") + "\n".join(["", *rows]) + "\n"


def without_readings(project: Project, flight: str) -> str:
    """Return weighings.toml without what was worked out from a flight; "" where there is no file.

    Parameters
    ----------
    project : Project - as loaded from its folder. [-]
    flight : str - its folder in flights/. [-]
    """
    text = project.texts.get(FILE, "")
    rows = text.splitlines(keepends=True)
    blocks = zip(project.weighings.reading, table_blocks(text, "reading"), strict=True)
    for start, end in reversed([block for each, block in blocks if each.says(flight)]):
        before = start - 1 if start and not rows[start - 1].strip() else start
        del rows[before:end]
    return "".join(rows)
