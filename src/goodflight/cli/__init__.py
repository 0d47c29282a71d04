"""The `goodflight` command: parse, call one study, hand the result to an output.

Exit codes:
  0    done
  1    done, but look: the flight itself did not complete (`fly`: never left the rail, or gave
       up), or another program saved a file in the very moment of a save; both texts are kept
  2    bad input: every fault is listed with file, line, key, found, expected, what to do
  3    `ledger --check`: something marginal
  4    `ledger --check`: something fails
  5    `ledger --check`: something is unknown, nothing fails
  70   an unexpected error; the full trace is in the file named
  130  stopped with Ctrl-C
"""

from typing import Final

DONE: Final = 0
INCOMPLETE: Final = 1
BAD_INPUT: Final = 2
CHECKED: Final = {"ok": 0, "marginal": 3, "fails": 4, "unknown": 5}
UNEXPECTED: Final = 70
STOPPED: Final = 130


def main() -> None:
    """Entry of the command."""
    from goodflight.cli.shell import run

    raise SystemExit(run())
