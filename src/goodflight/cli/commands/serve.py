"""`goodflight serve`: the page in the browser, from this machine."""

import json
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from goodflight.cli import DONE, options, progress
from goodflight.cli.question import Question, named
from goodflight.cli.shell import BadInputError

if TYPE_CHECKING:
    from goodflight.outputs.done import Serving


@options.folder
@click.option("--port", type=click.IntRange(1, 65535), help="Port; the first free one from 8311.")
@click.option("--lan", is_flag=True, help="Let other machines in the network in, with a code.")
@click.option(
    "--flights",
    default=2000,
    show_default=True,
    type=click.IntRange(200, 20_000),
    help="Flights simulated for a full answer; fewer for a slow machine.",
)
@click.option("--no-open", is_flag=True, help="Do not open the browser.")
@options.as_json
def run(
    folder: Path, port: int | None, lan: bool, flights: int, no_open: bool, as_json: bool
) -> int:
    """Serve the page until Ctrl-C."""
    progress.ready_kernel()
    try:
        say = partial(click.echo, err=True)
        named(QUESTION.function)(
            folder.resolve(),
            port=port,
            lan=lan,
            opens=not no_open,
            say=say,
            flights=flights,
            listening=_one_line if as_json else None,
        )
    except OSError as error:
        raise BadInputError(
            {
                "file": "command line",
                "key": "--port",
                "found": f"{port or 'no free port'}: {error.strerror or error}",
                "expected": "a port that nothing else uses",
                "advice": "give another --port, or stop what uses it",
            }
        ) from error
    return DONE


def _one_line(serving: "Serving") -> None:
    """Where it is served, as data on one line: whoever reads it need not wait for the end."""
    click.echo(json.dumps(named(QUESTION.record)(serving), ensure_ascii=False))


QUESTION = Question(
    name="serve",
    place=110,
    help="Ledger, drawing and what-if in the browser; a new DIR starts with a few questions.",
    asks="What if I change this? (in the browser)",
    how="serve DIR",
    function="interface:serve",
    record="outputs.record:record",
    result="outputs.done:Serving",
    see="page.md",
    run=run,
)
