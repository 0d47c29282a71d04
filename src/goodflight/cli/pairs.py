"""What was seen when, as it is typed: `--seen "apogee=11.9 s"`, once for each event."""

from goodflight.cli.shell import refused

FILM = ("--film", 'WHAT=FRAME, like "apogee=551"')
COLUMN = ("--column", 'NUMBER=KIND UNIT, like "3=pressure Pa"')


def pairs(
    texts: tuple[str, ...],
    option: str = "--seen",
    wanted: str = 'EVENT=TIME, like "apogee=11.9 s"',
) -> dict[str, str]:
    """Time by event, or what else an option pairs, both as they were typed."""
    found = {}
    for each in texts:
        event, equals, time = each.partition("=")
        if not equals:
            raise refused(option, each, wanted, "write both")
        found[event.strip()] = time.strip()
    return found
