"""`goodflight size DIR`: from an idea in DIR/idea.toml to whole designs, and to a project."""

import shlex
from pathlib import Path

import click

from goodflight.cli import DONE, options, progress
from goodflight.cli.question import Question, named
from goodflight.cli.shell import refused


@options.folder
@click.option("--begin", is_flag=True, help="Write an example idea.toml into DIR, to be changed.")
@click.option(
    "--into",
    metavar="NEW",
    type=options.FOLDER,
    help="Open a design as a project in the folder NEW, or in DIR itself.",
)
@click.option(
    "--design",
    metavar="N",
    default=1,
    show_default=True,
    type=click.IntRange(1, 3),
    help="Which design --into opens.",
)
@click.option(
    "--tries",
    metavar="N",
    default=56,
    show_default=True,
    type=click.IntRange(5, 5000),
    help="Designs tried for each motor; 56 take about 5 s each.",
)
@options.flights(900)
@options.seed
@options.units
@options.as_json
def run(
    folder: Path,
    begin: bool,
    into: Path | None,
    design: int,
    tries: int,
    flights: int,
    seed: int,
    units: str,
    as_json: bool,
) -> int:
    """Search, show, and write a project where asked to."""
    if begin:
        return _begin(folder)
    idea = named("project.idea:load_idea")(folder)
    if into is not None and into != folder:
        named("cli.new_dialogue:check_empty")(into)
    progress.ready_kernel()
    with progress.working("searching designs, about a minute") as tell:
        study = named("studies.questions.size:size")(idea, flights, seed, tell, tries)
    shown = QUESTION.show(study, units, as_json)
    if into is not None:
        if design > len(study.designs):
            raise refused(
                "--design", str(design), f"1 to {len(study.designs)}", "nothing was written"
            )
        files = named("studies.questions.size:opened")(idea, study.designs[design - 1].choice)
        named("project.saving:write_first")(into, files)
        if not as_json:
            click.echo(f"Design {design} is a project in {into}.")
            click.echo(f"Next: goodflight ledger {shlex.quote(str(into))}")
    return shown


def _begin(folder: Path) -> int:
    """An example to start from, in a folder that has no idea yet."""
    named("project.idea:begin")(folder)
    click.echo(f"Example written to {folder / 'idea.toml'}; put your own figures in, then:")
    click.echo(f"goodflight size {shlex.quote(str(folder))}")
    return DONE


QUESTION = Question(
    name="size",
    place=22,
    help="From an idea to whole designs: what to build from what is at hand.",
    asks="What do I build from what is at hand, and how likely does each design fail?",
    how="size DIR",
    function="interface:size",
    text="outputs.size.text:size_text",
    record="outputs.record:record",
    result="studies.sizing.results:SizeStudy",
    project=False,
    also=(("How do I open such a design as a project?", "size DIR --into NEW --design 2"),),
    run=run,
)
