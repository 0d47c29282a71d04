"""`goodflight demo`: an invented project to look at."""

import sys
from pathlib import Path

import click

from goodflight.cli import DONE, options
from goodflight.cli.question import Question, named


@click.argument("folder", metavar="[DIR]", type=options.FOLDER, default=Path("fieldfare"))
@click.option(
    "--page/--no-page",
    default=None,
    help="Open the page afterwards, or not; without a word, only at a terminal.",
)
@click.pass_context
def run(context: click.Context, folder: Path, page: bool | None) -> int:
    """Write the demo once, show its ledger, open its page."""
    if named("project.disk:begun")(folder):
        click.echo(f"goodflight: {folder} is already there; this is its ledger", err=True)
    else:
        named("project.demo:write_demo")(folder)
        click.echo(f"goodflight: demo project written to {folder}", err=True)
    group = context.find_root().command
    assert isinstance(group, click.Group)
    code = context.invoke(group.commands["ledger"], folder=folder)
    at_terminal = sys.stdin.isatty() and sys.stdout.isatty()
    if page or (page is None and at_terminal):
        code = context.invoke(group.commands["serve"], folder=folder)
    return code if isinstance(code, int) else DONE


QUESTION = Question(
    name="demo",
    place=10,
    help="Write the demo project (all invented) to DIR, show its ledger and open its page.",
    asks="What does it look like with an invented rocket?",
    how="demo",
    function="interface:demo",
    run=run,
)
