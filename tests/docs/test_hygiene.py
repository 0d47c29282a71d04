"""What the repository keeps out: phrases that nobody says, and hosts of shops, copies and mirrors.

Sources are cited by their primary text; a link that is needed stands in `ALLOWED` with its reason.
"""

import re
import subprocess
from pathlib import Path

HOME = Path(__file__).resolve().parents[2]
SKIPPED = ("static/vendor/", "requirements", "LICENSE", "fonts/", "tests/docs/test_hygiene.py")
TEXT = (".py", ".md", ".toml", ".html", ".js", ".css", ".csv", ".txt", ".json", ".typ", ".svg")
ALLOWED = (  # names of formats that look like addresses
    "www.w3.org",
    "schemas.openxmlformats.org",
    "schemas.microsoft.com",
    "json-schema.org",
    "www.topografix.com",  # the name of GPX 1.1, an open standard
)
GUARDED = ("tests/unit/", "tests/browser/", "benchmarks/")  # made-up hosts that the guard refuses
TOLD = ("CHANGELOG.md", "docs/decisions/")  # what was renamed is told there
HOST = re.compile(r"https?://([a-z0-9.-]+)", re.I)
BANNED = (
    "nobody has the last word",
    "too little to see",
    "pencil only",
    "halves of signs",
    "endless mass",
    "wished speed",
    "stopping way",
    "where the fins let go",
    "joint -0.0",
    "sheets sheet",
    "no hand gets to",
    "half as much again",
    "does not concern this rocket",
    "arcs over into the wind",
    "scribd",
    "yumpu",
    "withheld",
    "fin of fins",
    "look at it first",
    "what the fit leaves out",
    "spreads to spare",
    "another look",
    "lies far out",
    "more askew",
    "lands where it must not",
    "then part it",
    "rows stand",
    'come in"',
)


def texts() -> list[tuple[str, str]]:
    listed = subprocess.run(
        ["git", "ls-files"], cwd=HOME, capture_output=True, text=True, check=True
    ).stdout.split("\n")
    names = [n for n in listed if n.endswith(TEXT) and not any(s in n for s in SKIPPED)]
    return [(n, (HOME / n).read_text("utf-8", "replace")) for n in names if (HOME / n).is_file()]


def test_no_banned_phrase_stands_anywhere() -> None:
    found = [
        f"{name}: {phrase}"
        for name, text in texts()
        if not name.startswith(TOLD)
        for phrase in BANNED
        if phrase in text.lower()
    ]
    assert not found, found


def test_no_address_of_a_shop_a_copy_or_a_mirror() -> None:
    found = [
        f"{name}: {host}"
        for name, text in texts()
        if not name.startswith(GUARDED)
        for host in HOST.findall(text)
        if not host.startswith(("127.", "localhost")) and host not in ALLOWED
    ]
    assert not found, found
