"""Set up everything in .venv and start: `python3 start.py demo`, `python3 start.py test`.

Needs Python 3.11 or later and pip, nothing else. What is installed stands in requirements.hashes,
with the SHA-256 of every file that may be taken; `test` adds the tools of the tests. Any other
words are handed to the `goodflight` command.
"""

import hashlib
import os
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

HOME = Path(__file__).resolve().parent
VENV = HOME / ".venv"
LISTED = {"": HOME / "requirements.hashes", "test": HOME / "requirements-test.hashes"}
USAGE = """\
python3 start.py demo [DIR]     write the demo project and show its ledger
python3 start.py test [ARGS]    run every check: ruff, mypy, pytest (ARGS go to pytest)
python3 start.py COMMAND ...    any other goodflight command, e.g. `python3 start.py new heron`"""
NO_VENV = """\
goodflight: could not make {venv}. Install Python's venv module (on Debian: apt-get install \
python3-venv), then start again."""
NOT_INSTALLED = """\
goodflight: pip could not install the listed packages; its message stands above. {reason}
Where no ready-made file fits this system, or pip takes packages from a place that you trust \
yourself, the same versions can be installed unverified; in {home}:
  {python} -m pip install -c requirements.lock setuptools
  {python} -m pip install -c requirements.lock --no-build-isolation -e {what}"""
NO_NETWORK = "Check the network, then start again."
WRONG_FILE = """\
A file is not one that this version was tested with, so it was not installed. Start again: \
the download may have been damaged. If it stays so, ask whoever keeps the place that pip takes \
packages from."""


def run(command: Sequence[str | Path], where: Path = HOME) -> int:
    """Run a command, hand back its exit code."""
    return subprocess.run([str(word) for word in command], check=False, cwd=where).returncode


def python_in(venv: Path) -> Path:
    """The Python of a virtual environment."""
    return venv / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def install(venv: Path, listed: Path, what: str = ".") -> None:
    """Make venv and install the listed files, each only if its SHA-256 is listed; no sources."""
    python = python_in(venv)
    if not python.exists() and run([sys.executable, "-m", "venv", venv]) != 0:
        sys.exit(NO_VENV.format(venv=venv))
    pip = [str(python), "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    pip += ["--require-hashes", "--only-binary", ":all:", "--no-compile", "-r", str(listed)]
    done = subprocess.run(pip, check=False, cwd=HOME, stderr=subprocess.PIPE, text=True)
    if done.returncode != 0:
        sys.stderr.write(done.stderr)
        reason = WRONG_FILE if "hashes" in done.stderr.lower() else NO_NETWORK
        sys.exit(NOT_INSTALLED.format(reason=reason, home=HOME, python=python, what=what))


def stamp_of(extra: str) -> str:
    """What .venv is filled from: another one stands for other packages."""
    ingredients = LISTED[extra].read_bytes() + (HOME / "pyproject.toml").read_bytes()
    return hashlib.sha256(ingredients + sys.version.encode()).hexdigest()


def mark_of(extra: str) -> Path:
    """Where the stamp is kept once .venv is filled."""
    return VENV / f"set-up-{extra or 'plain'}.txt"


def is_set_up(extra: str) -> bool:
    """Whether .venv holds the listed packages and this program already."""
    mark = mark_of(extra)
    return python_in(VENV).exists() and mark.exists() and mark.read_text() == stamp_of(extra)


def set_up(extra: str) -> None:
    """Fill .venv with the listed packages and this program, unless that was done already."""
    if is_set_up(extra):
        return
    program_stands = is_set_up("")
    print("goodflight: setting up .venv (once; needs the network)", file=sys.stderr, flush=True)
    install(VENV, LISTED[extra], f".[{extra}]" if extra else ".")
    own = ["install", "--quiet", "--no-index", "--no-deps", "--no-build-isolation", "-e", "."]
    if not program_stands and run([python_in(VENV), "-m", "pip", *own]) != 0:
        sys.exit("goodflight: pip could not install this folder; its message stands above.")
    mark_of(extra).write_text(stamp_of(extra))


def test(words: Sequence[str]) -> int:
    """Every check, the quick ones first; all run, the first failure decides the exit code."""
    # more than the cores: a test of the page waits for its browser more than half of the time
    workers = ["--copies" if sys.platform == "linux" else "-n", "4"]
    checks = (
        ["ruff", "check", "."],
        ["ruff", "format", "--check", "."],
        ["pytest", *workers, "--durations", "25", *words],
    )
    types = ["mypy"]  # beside the others, one core for half a minute; told at the end
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # workers and their servers share cores
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)  # many processes: each would compile all anew
    python, codes = str(python_in(VENV)), []
    with (
        tempfile.TemporaryFile() as told,
        subprocess.Popen([python, "-m", *types], cwd=HOME, stdout=told, stderr=told) as beside,
    ):
        for check in checks:
            print("==>", " ".join(check), flush=True)
            codes.append(run([python, "-m", *check]))
        codes.append(beside.wait())
        told.seek(0)
        print("==>", *types)
        print(told.read().decode(errors="replace"), end="", flush=True)
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
    return run([python_in(VENV), "-m", "goodflight", *words], Path.cwd())


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except KeyboardInterrupt:
        sys.exit(130)
