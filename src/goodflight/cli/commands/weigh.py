"""`goodflight weigh`: enter what the scale says; what does not add up, and what it changed."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from goodflight.cli import options
from goodflight.cli.question import Question, loaded, named
from goodflight.cli.shell import refused

if TYPE_CHECKING:
    from goodflight.project import Project

IN_FILE = {"swing": "swing.period", "spacing": "swing.spacing", "wires": "swing.wires"}


@options.folder
@options.plan
@click.option(
    "--what",
    metavar="PART",
    multiple=True,
    help='Enter a weighing of: "all", or a part; once for each.',
)
@click.option(
    "--without", metavar="PART", multiple=True, help="With --what all: a part not on the scale."
)
@click.option("--motor", metavar="NAME", help="With --what: loaded motor in the rocket.")
@click.option("--mass", metavar="MASS", help='What the scale reads, e.g. "1461 g ± 2 g".')
@click.option("--balance", metavar="LENGTH", help="Balance point from the nose tip.")
@click.option("--swing", metavar="TIME", help='One swing on two wires, e.g. "3.91 s ± 0.02 s".')
@click.option("--spacing", metavar="LENGTH", help="With --swing: between the wires.")
@click.option("--wires", metavar="LENGTH", help="With --swing: how long the wires are.")
@click.option("--of", metavar="FIGURE", help='Enter a figure: "separation.pull", "cant:1" ...')
@click.option(
    "--read",
    metavar="VALUE",
    multiple=True,
    help="With --of: what was read; once for each pull, piece or fin.",
)
@click.option("--error", metavar="VALUE", help="With --of: what the instrument is good for.")
@click.option("--over", metavar="SIZE", help="With --of: area under a force, length along a gap.")
@click.option("--hung", metavar="MASS", help="With --of, a canopy dropped: all that hung.")
@click.option("--height", metavar="LENGTH", help="With --of, a canopy dropped: height timed.")
@click.option("--instrument", metavar="NAME", help="An [[instrument]] of the file.")
@click.option("--date", metavar="DAY", help="Day of the measurement, e.g. 2026-10-17.")
@click.option("--note", metavar="TEXT", help="Tape, humidity, what else may matter.")
@options.flights(1000)
@options.seed
@options.units
@options.as_json
def run(
    folder: Path,
    plan: str | None,
    what: tuple[str, ...],
    without: tuple[str, ...],
    read: tuple[str, ...],
    flights: int,
    seed: int,
    units: str,
    as_json: bool,
    **entries: str | None,
) -> int:
    """Enter a weighing or a reading, then show all of them and what they changed."""
    project = loaded(folder, plan)
    given: dict[str, str | tuple[str, ...]] = {
        IN_FILE.get(key, key): each for key, each in entries.items() if each
    }
    if read:
        given["read"] = read
    if what and "of" in given:
        raise refused("--of", "--what beside it", "one of the two", "enter one after the other")
    if what or "of" in given:
        project = _enter(project, plan, what, without, given)
    elif without or given:
        wanted = "what was measured"
        raise refused("--what", "nothing", wanted, "--what all, a part's name, or --of a figure")
    study = named(QUESTION.function)(project, plan, flights=flights, seed=seed)
    return QUESTION.show(study, units, as_json)


def _enter(
    project: "Project",
    plan: str | None,
    what: tuple[str, ...],
    without: tuple[str, ...],
    given: dict[str, str | tuple[str, ...]],
) -> "Project":
    """The project with one more weighing or reading; what contradicts is refused unwritten."""
    from goodflight.project import write_files
    from goodflight.studies.questions.scale import entered

    return write_files(project, entered(project, plan, what, given, without))


QUESTION = Question(
    name="weigh",
    place=45,
    help="Enter what was weighed or measured; what does not add up and what it changed.",
    asks="What does my rocket really weigh, and what does that change?",
    how="weigh DIR",
    function="studies.questions.scale:weigh",
    text="outputs.scale.text:scale_text",
    record="outputs.record:record",
    result="studies.questions.scale:ScaleStudy",
    flights=1000,
    also=(
        ("How do I enter a weighing?", 'weigh DIR --what all --mass "1461 g ± 2 g"'),
        (
            "How do I enter what I pulled, measured or tore?",
            'weigh DIR --of separation.pull --read "31 N" --read "33 N" --read "32 N"',
        ),
    ),
    run=run,
)
