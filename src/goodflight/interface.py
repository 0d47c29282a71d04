"""The public Python functions that are more than one study: files in, files out, the page.

The other functions of `goodflight` are the studies themselves, as the commands declare them.
"""

from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING

from goodflight.project import Fault, Project, ProjectErrors, Refused, Version
from goodflight.project import load as _load

if TYPE_CHECKING:  # loaded by the question that needs it
    from goodflight.outputs.bench.files import Made
    from goodflight.outputs.bench.paper import Scale
    from goodflight.outputs.done import Serving
    from goodflight.studies.sizing.results import SizeStudy

__all__ = [
    "ProjectErrors", "Refused", "demo", "draw", "load", "new", "printout", "restore", "serve",
    "versions",
]  # fmt: skip


def load(folder: str | Path) -> Project:
    """Read a project folder.

    Parameters
    ----------
    folder : str or Path - holds rocket.toml, plans.toml, motors/, sites/. [-]

    Returns
    -------
    project : Project - everything in it, checked. [-]

    Raises
    ------
    ProjectErrors - something in the files is wrong; `.faults` lists all of it at once.

    Example
    -------
    >>> project = goodflight.load("fieldfare")
    >>> project.name
    'Fieldfare'
    """
    return _load(Path(folder))


def demo(folder: str | Path) -> Project:
    """Load the demo project (all of it invented), written first where there is no project yet.

    Parameters
    ----------
    folder : str or Path - new, empty, or a project already, which is left as it is. [-]

    Returns
    -------
    project : Project - what stands in the folder. [-]

    Raises
    ------
    SaveRefused - the folder holds something else, or cannot be written.
    ProjectErrors - a project stands there and has faults.

    Example
    -------
    >>> project = goodflight.demo("fieldfare")
    >>> project.invented
    True
    """
    from goodflight.project.demo import write_demo
    from goodflight.project.disk import begun

    if not begun(Path(folder)):
        write_demo(Path(folder))
    return load(folder)


def new(folder: str | Path, answers: Mapping[str, str] = MappingProxyType({})) -> Project:
    """Write a first project from the answers to about thirty questions, and load it.

    Parameters
    ----------
    folder : str or Path - new or empty. [-]
    answers : mapping - texts by question as in `goodflight new DIR --list`; what is left out
        takes its default and is marked as a guess. [-]

    Returns
    -------
    project : Project - ready for every question. [-]

    Raises
    ------
    QuantityError - an answer is no quantity of the wanted kind.
    AnswersError - the answers do not make a rocket.
    SaveRefused - the folder holds something already.

    Example
    -------
    >>> goodflight.new("heron", {"name": "Heron", "mass": "1.6 kg measured"}).name
    'Heron'
    """
    from goodflight.project.newcomer import project_files
    from goodflight.project.saving import write_project

    write_project(Path(folder), project_files(answers))
    return load(folder)


def size(
    folder: str | Path,
    flights: int = 900,
    seed: int = 1,
    tries: int = 56,
    progress: Callable[[str, float], None] | None = None,
) -> "SizeStudy":
    """Search whole designs for the idea in a folder: what to build from what is at hand.

    Parameters
    ----------
    folder : str or Path - holds idea.toml, perhaps motors/ and sites/. [-]
    flights : int - of each design shown, shared among the winds. [-]
    seed : int - same seed, same answer on one machine. [-]
    tries : int - designs tried for each motor, about; more take longer. [-]
    progress : callable or None - told (what, share done). [-]

    Returns
    -------
    study : SizeStudy - three designs that differ, least chance first. [SI]

    Raises
    ------
    ProjectErrors - something in idea.toml, motors/ or sites/ is wrong.

    Example
    -------
    >>> from pathlib import Path
    >>> from goodflight.project.idea import begin
    >>> begin(Path("an-idea"))
    >>> study = goodflight.size("an-idea", flights=60, tries=5)
    >>> len(study.designs) > 1
    True
    """
    from goodflight.project.idea import load_idea
    from goodflight.studies.questions.size import size as search

    return search(load_idea(folder), flights, seed, progress, tries)


def draw(
    project: Project, plan: str | None = None, units: str = "metric", day: str | None = None
) -> str:
    """Draw the rocket of a plan to scale: stations, CG, CP, margin; `layout` has the figures.

    Parameters
    ----------
    project : Project - from `load`. [-]
    plan : str or None - name of the plan; None takes the first. [-]
    units : str - "metric" or "imperial". [-]
    day : str or None - in the title block; None = today, "" = neither day nor stamp. [-]

    Returns
    -------
    svg : str - the drawing as SVG. [-]

    Raises
    ------
    NoSuchPlan - no plan has this name; StudyRefused - this rocket cannot be flown.

    Example
    -------
    >>> svg = goodflight.draw(goodflight.load("fieldfare"))
    >>> svg[:4]
    '<svg'
    """
    from goodflight.outputs.drawing.svg import drawing_svg
    from goodflight.studies.questions.layout import layout

    made_on = date.today().isoformat() if day is None else day
    return drawing_svg(layout(project, plan), units, day=made_on)


def printout(
    project: Project,
    what: str = "templates",
    kind: str = "pdf",
    plan: str | None = None,
    *,
    paper: str = "a4",
    scale: "Scale | None" = None,
    cut_lines: bool = False,
    day: str | None = None,
    units: str = "metric",
) -> "Made":
    """Make a file to print: of the workbench, or papers for the field.

    Parameters
    ----------
    project : Project - from `load`. [-]
    what : str - "templates", "guides", "cutlist", "packing", "labels", "book", "evidence",
        "cards", "lists", "carry", "tests" or "debrief". [-]
    kind : str - "pdf"; "svg" or "dxf" of what is drawn true to size; "stl" or "3mf" of the
        guides. [-]
    plan : str or None - whose rocket; None takes the first. [-]
    paper : str - of a PDF: "a4", "letter", "a3", "legal", "tabloid", "a5"; of cards, lists and
        carry "a4", "letter", "a5" or "a6". [-]
    scale : Scale or None - correction measured on a first print; None prints 1:1. [-]
    cut_lines : bool - SVG and DXF: lines moved out by half the kerf. [-]
    day : str or None - in the foot of every sheet of a PDF; None = today, "" = no foot. [-]
    units : str - "metric" or "imperial"; notes of templates and steps are metric. [-]

    Returns
    -------
    made : Made - `content` in bytes, `summary` in words, `record` as data in SI. [-]

    Raises
    ------
    DoesNotFitError - parts or guides have no room.
    KeyError - no such thing to print.

    Example
    -------
    >>> made = goodflight.printout(goodflight.load("fieldfare"), "templates", "svg")
    >>> made.content[:4]
    b'<svg'
    """
    from goodflight.outputs.bench.files import SOLIDS, Request, make
    from goodflight.outputs.bench.paper import Scale
    from goodflight.studies.bench.answers import answer

    found = answer(project, what, kind in SOLIDS, plan, units=units)
    made_on = date.today().isoformat() if day is None else day
    return make(
        found,
        Request(
            kind=kind,
            paper=paper,
            scale=scale or Scale(),
            cut_lines=cut_lines,
            day=made_on,
            units=units,
        ),
    )


def serve(
    folder: str | Path,
    port: int | None = None,
    lan: bool = False,
    opens: bool = True,
    say: Callable[[str], None] = print,
    flights: int = 2000,
    listening: Callable[["Serving"], None] | None = None,
) -> None:
    """Serve the page of one project folder until Ctrl-C.

    Parameters
    ----------
    folder : str or Path - the project folder; need not exist yet. [-]
    port : int or None - None takes the first free one from 8311. [-]
    lan : bool - listen to the local network too; other machines need a code. [-]
    opens : bool - open the browser. [-]
    say : callable - told where it is served, warnings and codes. [-]
    flights : int - simulated for a full answer. [-]
    listening : callable or None - told once where it is served, as soon as it may be asked. [-]

    Raises
    ------
    OSError - the port is taken.

    Example
    -------
    In a thread of its own, so that it ends with the program:

    >>> import threading
    >>> asked = {"folder": "fieldfare", "opens": False, "say": lambda words: None}
    >>> threading.Thread(target=goodflight.serve, kwargs=asked, daemon=True).start()
    """
    from goodflight.page.server import serve as run

    run(
        Path(folder).resolve(),
        port=port,
        lan=lan,
        opens=opens,
        say=say,
        flights=flights,
        listening=listening,
    )


def versions(folder: str | Path, file: str | None = None) -> tuple[Version, ...]:
    """List the earlier texts that are kept of a project's files, the newest of each file last.

    Parameters
    ----------
    folder : str or Path - the project's folder; may hold faults. [-]
    file : str or None - path inside the folder; None takes every file. [-]

    Returns
    -------
    kept : tuple of Version - empty when there are none. [-]

    Example
    -------
    >>> goodflight.versions("fieldfare", "rocket.toml")
    ()
    """
    from goodflight.project.history import files_with_versions
    from goodflight.project.saving import versions as of_file

    root = Path(folder)
    files = files_with_versions(root) if file is None else (file,)
    return tuple(each for name in files for each in of_file(root, name))


def restore(folder: str | Path, file: str, version: int) -> tuple[Fault, ...]:
    """Bring back an earlier text of a file; the text that stands there becomes a version.

    Parameters
    ----------
    folder : str or Path - the project's folder; may hold faults. [-]
    file : str - path inside the folder, e.g. "rocket.toml". [-]
    version : int - its number, from 1. [-]

    Returns
    -------
    faults : tuple of Fault - what is still wrong in the project; empty when it is sound. [-]

    Raises
    ------
    SaveRefused - there is no such version, or the folder cannot be written.
    ProjectErrors - the project is sound and the old text would break it; nothing is written.

    Example
    -------
    >>> from goodflight.project import write_files
    >>> project = goodflight.load("fieldfare")
    >>> text = project.texts["plans.toml"] + "# wind rises at noon\\n"
    >>> project = write_files(project, {"plans.toml": text})
    >>> goodflight.restore("fieldfare", "plans.toml", 1)
    ()
    """
    from goodflight.project.saving import bring_back

    return bring_back(Path(folder), file, version)
