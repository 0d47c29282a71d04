"""The long fuzz as one command: so many made-up projects, none may end in anything but words.

    python tests/long_fuzz.py 100000 --seed 1 --flown 50

Every project is read; one in `--flown` is a valid but extreme one and is also flown (20 flights,
first plan). One in `--asked` is written to a folder and given to `goodflight fly --json`, whose
exit code and JSON must fit. What fails is written with its number into `--keep` and counted; the
exit code is 1 when anything did.
Each number with its seed makes the same project again: `--only NUMBER`.
"""

import argparse
import contextlib
import faulthandler
import io
import json
import random
import signal
import sys
import tempfile
import time
import traceback
import warnings
from collections import Counter
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parent), str(Path(__file__).parents[1] / "src")]

from fuzzing import FILES, checked, made_up  # noqa: E402 (the two lines above say where it is)
from goodflight.cli import shell  # noqa: E402

HANG_S = 60.0  # processor time of one project: longer is a hang
STUCK_S = 900.0  # of one project by the clock: nothing goes on any more; the run ends with a trace


def main() -> int:
    """Run the fuzz; the exit code is 1 when a project ended in a trace, a hang or a NaN."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    parser.add_argument("count", type=int, help="how many projects")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--flown", type=int, default=50, help="one in so many is flown too")
    parser.add_argument("--asked", type=int, default=100, help="one in so many by the command line")
    parser.add_argument("--only", type=int, help="one project by its number, flown")
    parser.add_argument("--keep", type=Path, default=Path("fuzz-failures"))
    given = parser.parse_args()
    warnings.simplefilter("error", RuntimeWarning)  # a NaN on its way
    seen, slowest, start = Counter[str](), (0.0, -1), time.monotonic()
    checked(FILES, plans=1)  # what is compiled is compiled before a project's time is taken
    signal.signal(signal.SIGPROF, _too_long)
    numbers = range(given.count) if given.only is None else [given.only]
    for number in numbers:
        flown = given.only is not None or number % given.flown == 0
        texts = made_up(random.Random(f"{given.seed}/{number}"), sound=flown)
        before = time.process_time()
        faulthandler.dump_traceback_later(STUCK_S, exit=True)
        signal.setitimer(signal.ITIMER_PROF, HANG_S)
        try:
            state = checked(texts, plans=1 if flown else 0)
            if given.only is not None or number % given.asked == 0:
                seen[f"exit code {exit_code(texts, state)}"] += 1
            seen[state] += 1
        except Exception:
            seen["FAILED"] += 1
            keep(given.keep / f"{given.seed}-{number}", texts, traceback.format_exc())
        signal.setitimer(signal.ITIMER_PROF, 0.0)
        faulthandler.cancel_dump_traceback_later()
        slowest = max(slowest, (time.process_time() - before, number))
        if number % 1000 == 999:
            print(f"{number + 1}: {dict(seen)}, {time.monotonic() - start:.0f} s", flush=True)
    slow = f"slowest {slowest[0]:.2f} s (no. {slowest[1]})"
    print(f"{len(numbers)} projects: {dict(seen)}; {slow}")
    return 1 if seen["FAILED"] else 0


def _too_long(*_: object) -> None:
    raise TimeoutError(f"more than {HANG_S:g} s of processor time")


def exit_code(texts: dict[str, str], state: str) -> int:
    """Ask the command line for the middle flight of a project; its exit code fits what is said."""
    said = io.StringIO()
    with tempfile.TemporaryDirectory() as place:
        for name, text in texts.items():
            file = Path(place) / name
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_bytes(text.encode("utf-8", "surrogatepass"))
        with contextlib.redirect_stdout(said):
            code = shell.run(["fly", place, "--json"])
    answer = json.loads(said.getvalue())
    assert code in ((2,) if state == "refused" else (0, 1, 2)), (code, state)
    assert (code == 2) == ("error" in answer), (code, list(answer))
    return code


def keep(folder: Path, texts: dict[str, str], trace: str) -> None:
    """Write a project that failed, with its trace."""
    for name, text in {**texts, "trace.txt": trace}.items():
        place = folder / name
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_text(text, encoding="utf-8", errors="replace")
    print(f"{folder}: {trace.splitlines()[-1][:200]}", flush=True)


if __name__ == "__main__":
    sys.exit(main())
