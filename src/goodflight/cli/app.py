"""The command group; its commands are those declared in `commands`."""

import click

from goodflight import __version__
from goodflight.cli.commands import questions


@click.group(
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80},
    epilog="Exit codes: 0 done, 1 the flight did not complete, 2 bad input, 3 to 5 from "
    "`ledger --check`, 70 unexpected error, 130 stopped. It advises and never certifies.",
)
@click.version_option(__version__, message="goodflight %(version)s")
def app() -> None:
    """What can still fail this rocket flight, how likely, and what to do about it.

    A project is a folder of plain text files. Start with `goodflight demo` or
    `goodflight new DIR`, then `goodflight ledger DIR`.
    """


for question in questions():
    app.add_command(question.command())
