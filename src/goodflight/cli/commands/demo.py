"""`goodflight demo`: an invented project to look at."""

import sys
from pathlib import Path

import click

from goodflight.cli import DONE, options, progress
from goodflight.cli.question import Question, named, say_json


@click.argument("folder", metavar="[DIR]", type=options.FOLDER, default=Path("fieldfare"))
@click.option(
    "--page/--no-page",
    default=None,
    help="Open the page afterwards, or not; without a word, only at a terminal.",
)
@options.as_json
@click.pass_context
def run(context: click.Context, folder: Path, page: bool | None, as_json: bool) -> int:
    """Write the demo once, show its ledger, open its page."""
    if as_json and page:
        raise click.UsageError("--json opens no page: `goodflight serve DIR --json` does", context)
    there = named("project.disk:begun")(folder)
    if there:
        click.echo(f"goodflight: {folder} is already there; this is its ledger", err=True)
    else:
        named("project.demo:write_demo")(folder)
        click.echo(f"goodflight: demo project written to {folder}", err=True)
    if as_json:
        return _as_json(folder, not there)
    group = context.find_root().command
    assert isinstance(group, click.Group)
    code = context.invoke(group.commands["ledger"], folder=folder)
    at_terminal = sys.stdin.isatty() and sys.stdout.isatty()
    if page or (page is None and at_terminal):
        code = context.invoke(group.commands["serve"], folder=folder)
    return code if isinstance(code, int) else DONE


def _as_json(folder: Path, written: bool) -> int:
    """The demo's ledger as data; no page is opened."""
    progress.ready_kernel()
    with progress.working("simulating the flights of the demo"):
        ledger = named("studies.questions.ledger:ledger")(named("interface:load")(folder))
    say_json(named(QUESTION.record)(named(QUESTION.result)(str(folder), written, ledger)))
    return DONE


QUESTION = Question(
    name="demo",
    place=10,
    help="Write the demo project (all invented) to DIR, show its ledger and open its page.",
    asks="What does it look like with an invented rocket?",
    how="demo",
    function="interface:demo",
    record="outputs.done:demo_record",
    result="outputs.done:Demo",
    more="outputs.ledger.json_:MORE",
    project=False,
    run=run,
)
