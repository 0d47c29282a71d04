"""Tick a step of the build, with weight and photo, in build.toml; comments and order stay."""

from goodflight.project import Project, edit_all, write_files
from goodflight.studies.bench.done import done_steps
from goodflight.studies.bench.steps import steps_of
from goodflight.studies.bench.ticked import still_open
from goodflight.studies.refusal import StudyRefused

FILE = "build.toml"


class TooEarly(StudyRefused):
    """A step cannot be ticked yet; `step` is its key, `reasons` are sentences."""

    def __init__(self, key: str, reasons: tuple[str, ...]) -> None:
        super().__init__(
            f"{key!r} cannot be ticked yet: {'; '.join(reasons)}. Tick what comes first, or untick "
            "what is not done."
        )
        self.step, self.reasons = key, reasons


def tick(
    project: Project,
    key: str,
    done: bool = True,
    mass: str | None = None,
    photo: str | None = None,
    note: str | None = None,
    anyway: bool = False,
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
    anyway : bool - also where its turn has not come: it is so done already. [-]

    Returns
    -------
    project : Project - loaded again after the save. [-]

    Raises
    ------
    ValueError - there is no such step.
    TooEarly - a step it needs is not done, or it locks one out; only without `anyway`.
    SaveRefused - the file changed on disk since it was read.
    """
    steps = steps_of(project)
    keys = sorted(step.key for step in steps)
    if key not in keys:
        raise ValueError(f"{key!r}: there is no such step; steps are {', '.join(keys)}.")
    ticked = {name for name, each in done_steps(project).items() if each.done}
    if done and not anyway and key not in ticked:
        reasons = still_open(steps, ticked, key)
        if reasons:
            raise TooEarly(key, reasons)
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
