"""Tick a step of the build, with weight and photo, in build.toml; comments and order stay."""

from goodflight.project import Project, edit_all, write_files
from goodflight.studies.bench.steps import steps_of

FILE = "build.toml"


def tick(
    project: Project,
    key: str,
    done: bool = True,
    mass: str | None = None,
    photo: str | None = None,
    note: str | None = None,
) -> Project:
    """Tick or untick a step and save; the changed project comes back.

    Parameters
    ----------
    project : Project - as loaded from its folder. [-]
    key : str - of the step. [-]
    done : bool - ticked or not. [-]
    mass : str or None - weight at this state, e.g. "212 g"; None leaves what is written. [-]
    photo : str or None - file name of a photo. [-]
    note : str or None - a remark. [-]

    Returns
    -------
    project : Project - loaded again after the save. [-]

    Raises
    ------
    ValueError - there is no such step.
    SaveRefused - the file changed on disk since it was read.
    """
    keys = sorted(step.key for step in steps_of(project))
    if key not in keys:
        raise ValueError(f"{key!r}: there is no such step; steps are {', '.join(keys)}.")
    entries = {"mass": mass, "photo": photo, "note": note}
    written = {name: text for name, text in entries.items() if text is not None}
    there = project.build.step if project.build else ()
    if any(table.name == key for table in there):
        path = f"{FILE}:step[{key}]"
        changes = [(f"{path}.done", "true" if done else "false")]
        return edit_all(project, changes + [(f"{path}.{k}", v) for k, v in written.items()])
    text = project.texts.get(FILE, "#:schema ./.schema/build.json\n")
    rows = ["", "[[step]]", f"name = {_quoted(key)}", f"done = {'true' if done else 'false'}"]
    rows += [f"{name} = {_quoted(value)}" for name, value in written.items()]
    gap = "" if text.endswith("\n") else "\n"
    return write_files(project, {FILE: text + gap + "\n".join(rows) + "\n"})


def _quoted(text: str) -> str:
    import tomlkit

    return str(tomlkit.item(text).as_string())
