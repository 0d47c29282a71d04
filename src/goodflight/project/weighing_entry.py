"""One weighing written into weighings.toml; comments and order stay."""

from collections.abc import Mapping, Sequence

from goodflight.project.records import Project

FILE = "weighings.toml"
_BEGINNING = "#:schema ./.schema/weighings.json\n"


def text_with(
    project: Project, what: Sequence[str], entries: Mapping[str, str], without: Sequence[str] = ()
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
    if project.weighings.rocket and "all" in what:
        document = tomlkit.parse(text)
        del document["rocket"]
        rest = [row for row in document["weighing"] if "all" not in row["what"]]
        del document["weighing"]
        if rest:
            document["weighing"] = tomlkit.item(rest)
        text = tomlkit.dumps(document)
    rows = ["", "[[weighing]]", f"what = {tomlkit.item(list(what)).as_string()}"]
    if without:
        rows.append(f"without = {tomlkit.item(list(without)).as_string()}")
    rows += [f"{key} = {tomlkit.item(each).as_string()}" for key, each in entries.items() if each]
    return text + ("" if text.endswith("\n") else "\n") + "\n".join(rows) + "\n"


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
    import tomlkit

    text = _BEGINNING if text is None else text
    rows = ["", "[[instrument]]", *(
        f"{key} = {tomlkit.item(each).as_string()}"
        for key, each in (("name", name), ("calibration", share))
    )]  # fmt: skip
    return text + ("" if text.endswith("\n") else "\n") + "\n".join(rows) + "\n"
