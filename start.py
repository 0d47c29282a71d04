"""Set up everything in .venv and start: `python3 start.py demo`, `python3 start.py test`.

Needs Python 3.11 or later and pip, nothing else. The versions come from requirements.lock;
`test` adds the tools of the tests. Any other words are handed to the `goodflight` command.
"""

import hashlib
import os
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

HOME = Path(__file__).resolve().parent
VENV = HOME / ".venv"
LOCK = HOME / "requirements.lock"
BIN = VENV / ("Scripts" if os.name == "nt" else "bin")
PYTHON = BIN / ("python.exe" if os.name == "nt" else "python")
USAGE = """\
python3 start.py demo [DIR]     write the demo project and show its ledger
python3 start.py test [ARGS]    run every check: ruff, mypy, pytest (ARGS go to pytest)
python3 start.py COMMAND ...    any other goodflight command, e.g. `python3 start.py new heron`"""


def run(command: Sequence[str | Path], where: Path = HOME) -> int:
    """Run a command, hand back its exit code."""
    return subprocess.run([str(word) for word in command], check=False, cwd=where).returncode


def stamp(extra: str) -> str:
    """What the set-up depends on, as a short text."""
    ingredients = LOCK.read_bytes() + (HOME / "pyproject.toml").read_bytes()
    return hashlib.sha256(ingredients + sys.version.encode() + extra.encode()).hexdigest()


def set_up(extra: str) -> None:
    """Make .venv and install the locked versions, unless that was done already."""
    mark = VENV / f"set-up-{extra or 'plain'}.txt"
    if PYTHON.exists() and mark.exists() and mark.read_text() == stamp(extra):
        return
    print("goodflight: setting up .venv (once; needs the network)", file=sys.stderr, flush=True)
    if not PYTHON.exists() and run([sys.executable, "-m", "venv", VENV]) != 0:
        sys.exit(
            "goodflight: could not make .venv. Install Python's venv module "
            "(on Debian: apt-get install python3-venv), then start again."
        )
    pip = [PYTHON, "-m", "pip", "install", "--quiet", "--disable-pip-version-check", "-c", LOCK]
    what = f".[{extra}]" if extra else "."
    for step in (["setuptools"], ["--no-build-isolation", "-e", what]):
        if run([*pip, *step]) != 0:
            sys.exit(
                "goodflight: pip could not install the locked packages; its message stands above. "
                "Check the network, then start again."
            )
    mark.write_text(stamp(extra))


def test(words: Sequence[str]) -> int:
    """Every check, the quick ones first; all run, the first failure decides the exit code."""
    checks = (
        ["ruff", "check", "."],
        ["ruff", "format", "--check", "."],
        ["mypy"],
        ["pytest", "-n", "2", *words],
    )
    codes = []
    for check in checks:
        print("==>", " ".join(check), flush=True)
        codes.append(run([PYTHON, "-m", *check]))
    return next((code for code in codes if code), 0)


def main(words: Sequence[str]) -> int:
    """Set up, then hand over."""
    if sys.version_info < (3, 11):  # noqa: UP036 - said before anything is installed
        sys.exit(f"goodflight: needs Python 3.11 or later, this is {sys.version.split()[0]}.")
    if not words or words[0] in ("-h", "--help"):
        print(USAGE)
        return 0
    if words[0] == "test":
        set_up("test")
        return test(words[1:])
    set_up("")
    return run([PYTHON, "-m", "goodflight", *words], Path.cwd())


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except KeyboardInterrupt:
        sys.exit(130)
