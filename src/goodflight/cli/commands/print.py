"""`goodflight print`: templates, guides, lists, labels, book, and the papers for the field."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from goodflight.cli import DONE, options
from goodflight.cli.question import Question, loaded, named, say_json
from goodflight.cli.shell import refused, write_bytes

if TYPE_CHECKING:
    from goodflight.outputs.bench.paper import Scale

WHAT = (
    "templates", "guides", "cutlist", "packing", "labels", "book",
    "evidence", "cards", "lists", "carry", "tests", "debrief",
)  # fmt: skip
PAPER = ("a4", "letter", "a3", "legal", "tabloid", "a5", "a6")
FORMATS = ("pdf", "svg", "dxf", "stl", "3mf")


def _length(option: str, text: str | None) -> float | None:
    from goodflight.quantity import QuantityError, parse

    if text is None:
        return None
    try:
        return parse(text, "length").value
    except QuantityError as error:
        raise refused(option, error.found, error.expected, error.advice) from error


def _scale(across: str | None, down: str | None, paper: str) -> "Scale":
    from goodflight.outputs.bench.paper import check_mm, scale_from

    first, second = _length("--measured-check", across), _length("--measured-down", down)
    try:
        return scale_from(first, second, paper)
    except ValueError as error:
        raise refused(
            "--measured-check", across or down or "", f"close to {check_mm(paper):g} mm", str(error)
        ) from error


@options.folder
@options.plan
@click.option(
    "--what", default="templates", show_default=True, type=click.Choice(WHAT), help="What to print."
)
@click.option(
    "--paper",
    default="a4",
    show_default=True,
    type=click.Choice(PAPER),
    help="Paper of the PDF; a6: cards, lists, carry.",
)
@click.option(
    "--format",
    "kind",
    default="pdf",
    show_default=True,
    type=click.Choice(FORMATS),
    help="PDF tiled 1:1; SVG and DXF to cut; STL and 3MF: guide.",
)
@click.option("-o", "--out", metavar="FILE", type=options.FOLDER, help="Where it goes.")
@click.option(
    "--measured-check", metavar="LENGTH", help="Bar across on a first print, e.g. 149.6mm."
)
@click.option("--measured-down", metavar="LENGTH", help="The same of the upright bar.")
@click.option("--cut-lines", is_flag=True, help="SVG, DXF: lines moved out by half the kerf.")
@options.units_of("Of drawings, sizes, lists, evidence; else as rocket.toml says.")
@options.as_json
def run(
    folder: Path,
    plan: str | None,
    what: str,
    paper: str,
    kind: str,
    out: Path | None,
    measured_check: str | None,
    measured_down: str | None,
    cut_lines: bool,
    units: str,
    as_json: bool,
) -> int:
    """Make a file of the workbench and say what is in it."""
    allowed = named("outputs.bench.files:ALLOWED")[what]
    if kind not in allowed:
        raise refused(
            "--format", kind, f"for {what}: " + ", ".join(allowed), "take one of these formats"
        )
    papers = named("outputs.bench.files:papers_of")(what)
    if paper not in papers:
        raise refused(
            "--paper", paper, f"for {what}: " + ", ".join(papers), "take one of these papers"
        )
    scale = _scale(measured_check, measured_down, paper)
    made = named(QUESTION.function)(
        loaded(folder, plan),
        what,
        kind,
        plan,
        paper=paper,
        scale=scale,
        cut_lines=cut_lines,
        units=units,
    )
    target = out or Path(f"{folder.resolve().name}-{what}.{kind}")
    write_bytes(target, made.content)
    if as_json:
        saved = named("outputs.bench.records:Saved")(str(target), what, made.stamp)
        say_json(named("outputs.record:record")(saved) | made.record)
    else:
        click.echo(f"{made.summary}\nSaved in {target}")
    return DONE


QUESTION = Question(
    name="print",
    place=90,
    help="Templates, guides, cuts, labels, build book; papers for the field.",
    asks="What do I cut, print, buy, pack? Which guide holds the fins straight?",
    how="print DIR --what ...",
    function="interface:printout",
    public="printout",
    result="outputs.bench.records:Saved",
    more="outputs.bench.records:PRINTED",
    answers=(
        ("print: templates, packing, flat guides", "studies.bench.shapes:TemplateSet"),
        ("print: printed guide", "studies.bench.guide_print:PrintedGuide"),
        ("print: cutlist", "studies.bench.cutlist:CutList"),
        ("print: book", "studies.bench.answers:Book"),
        ("print: evidence", "studies.questions.evidence:Evidence"),
        ("print: debrief", "studies.questions.debrief:DebriefStudy"),
        ("print: tests", "studies.lists.ground:GroundTests"),
        ("print: cards, lists, carry", "studies.lists.cards:FieldPapers"),
    ),
    also=(
        ("What did the last flight say, on one sheet?", "print DIR --what debrief"),
        ("What do I pull, push and shake first, and how hard?", "print DIR --what tests"),
        ("What will the inspector ask, and what do I show?", "print DIR --what evidence"),
        (
            "What do I read aloud, tick, fill in and carry on the day?",
            "print DIR --what lists, cards, carry",
        ),
    ),
    see="bench.md",
    run=run,
)
