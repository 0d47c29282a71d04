"""The command group; its commands are those declared in `commands`."""

from typing import Final

import click

from goodflight import __version__
from goodflight.cli.commands import questions

WHOLE: Final = 200  # signs of a command's first sentence; longer than any


class Commands(click.Group):
    """Its help tells the first sentence of each command whole, on two lines where it must."""

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        told = [
            (name, self.commands[name].get_short_help_str(WHOLE)) for name in sorted(self.commands)
        ]
        with formatter.section("Commands"):
            formatter.write_dl(told)


@click.group(
    cls=Commands,
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
