"""`goodflight draw`: the rocket as a drawing."""

from datetime import date
from pathlib import Path

import click

from goodflight.cli import DONE, options
from goodflight.cli.question import Question, loaded, named, say_json
from goodflight.cli.shell import write_file


@options.folder
@options.plan
@click.option("-o", "--out", metavar="FILE", type=options.FOLDER, help="Where the SVG goes.")
@options.units
@options.as_json
def run(folder: Path, plan: str | None, out: Path | None, units: str, as_json: bool) -> int:
    """Draw the rocket of a plan into a file."""
    layout = named("studies.questions.layout:layout")(loaded(folder, plan), plan)
    today = date.today().isoformat()
    target = out or Path(f"{folder.resolve().name}.svg")
    write_file(target, named("outputs.drawing.svg:drawing_svg")(layout, units, day=today))
    if as_json:
        say_json(named(QUESTION.record)(layout) | {"file": str(target)})
    else:
        click.echo(f"Drawing of {layout.rocket} saved in {target}")
    return DONE


QUESTION = Question(
    name="draw",
    place=80,
    help="A workshop print of the rocket as SVG: stations, CG, CP, margin.",
    asks="What does it look like, where are CG and CP?",
    how="draw DIR",
    function="interface:draw",
    beside=("studies.questions.layout:layout",),
    record="outputs.drawing.json_:layout_record",
    fields=("draw",),
    result="studies.questions.layout:Layout",
    more="outputs.drawing.json_:MORE",
    run=run,
)
