#!/usr/bin/env python3
"""Change one number of the models at a time and see whether a test notices.

Every number in a module (a constant or one inside a formula) is multiplied by
1.1, a whole number raised by one, and the tests named for that module run on
it, then, if they pass, all row values. A changed number that no test notices is
a survivor: it is listed, and fails the run unless `mutants.toml` beside this
file says why it may live. No file is changed: the number is exchanged as the
module is imported, in a process of its own (`mutant_runs.py`).

What has been tried is kept in build/, so that --resume goes on after a stop,
and tries again only what a change of module or tests leaves in doubt.

  .venv/bin/python tools/mutate.py                    all of mutants.toml
  .venv/bin/python tools/mutate.py physics.structure  modules that begin so
  .venv/bin/python tools/mutate.py --only "physics.power: *"
  .venv/bin/python tools/mutate.py --list physics.power
  .venv/bin/python tools/mutate.py --open             all but those with a reason
  .venv/bin/python tools/mutate.py --fast --open      a first look, in seconds a module
  .venv/bin/python tools/mutate.py --quick            the few of every test run

Exit code: 0 all noticed or explained, 1 survivors without a reason or reasons
without a survivor, 2 nothing to do or tests that fail with nothing changed, 130
stopped.
"""

import argparse
import ast
import hashlib
import json
import os
import sys
import time
import tomllib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fnmatch import fnmatchcase
from functools import cache, partial
from pathlib import Path

import mutant_calls
import mutant_runs
from mutant_runs import ROOT, source_of

ROWS = "tests/rows"
KEPT = ROOT / "build" / "mutants.jsonl"


@dataclass(frozen=True)
class Mutant:
    """One number changed: `name` is module, where it stands and the number, not its line."""

    name: str
    module: str
    place: int  # of the number among those of its module
    line: int
    value: float


@dataclass(frozen=True)
class Plan:
    """What `mutants.toml` says: tests of a module by how its name begins, and who may live."""

    tests: dict[str, list[str]]
    excused: dict[str, str]
    quick: dict[str, str]  # file::function of the test that notices each, by its pattern

    def tests_of(self, mutant: Mutant, quick: bool = False) -> list[list[str]]:
        """Those named for the longest beginning of the module; if they pass, all row values."""
        if quick:
            named = (test for name, test in self.quick.items() if fnmatchcase(mutant.name, name))
            file, _, function = next(named).partition("::")
            return [[f"tests/{file}.py::{function}"]]
        fits = [begin for begin in self.tests if mutant.module.startswith(begin)]
        named = [f"tests/{file}.py" for file in self.tests[max(fits, key=len)]] if fits else []
        return [named, [ROWS]] if named else [[ROWS]]

    def excuse(self, mutant: Mutant) -> str | None:
        """The pattern that says why a survivor may live."""
        fits = (each for each in self.excused if fnmatchcase(mutant.name, each))
        return next(fits, None)


def read_plan() -> Plan:
    """The plan beside this file."""
    data = tomllib.loads((Path(__file__).parent / "mutants.toml").read_text(encoding="utf-8"))
    excused = {name: each["because"] for each in data["lives"] for name in each["numbers"]}
    tests = {each["module"]: each["tests"] for each in data["tests"]}
    return Plan(tests, excused, data["quick"])


def _called(node: ast.Call) -> tuple[str, ...]:
    """Name of what is called; of a row its key too."""
    called = (node.func.id,) if isinstance(node.func, ast.Name) else ()
    head = node.args[0] if node.args else None
    named = isinstance(head, ast.Constant) and called == ("LimitState",)
    return (*called, str(head.value)) if named and isinstance(head, ast.Constant) else called


def numbers(node: ast.AST, where: tuple[str, ...] = ()) -> Iterator[tuple[ast.Constant, str]]:
    """Every number of a module in the order it stands, with the names it stands under."""
    if isinstance(node, ast.Constant):
        if isinstance(node.value, int | float) and not isinstance(node.value, bool):
            yield node, " ".join(where)
        return
    if isinstance(node, ast.FunctionDef | ast.ClassDef):
        where = (*where, node.name)
    elif isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name):
        where = (*where, node.targets[0].id)
    elif isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
        where = (*where, node.target.id)
    elif isinstance(node, ast.Call):
        where = (*where, *_called(node))
    for child in ast.iter_child_nodes(node):
        yield from numbers(child, where)


def changed(value: float) -> float:
    """A whole number one more, any other a tenth more, nothing a tenth."""
    if isinstance(value, int):
        return value + 1
    return value * 1.1 if value != 0.0 else 0.1


def tree_of(module: str) -> ast.Module:
    """A module's source, read."""
    path = source_of(module)
    return ast.parse(path.read_text(encoding="utf-8"), str(path))


def mutants_of(module: str) -> list[Mutant]:
    """Every number of a module, changed; equal names are numbered."""
    found: list[Mutant] = []
    seen: dict[str, int] = {}
    for place, (node, where) in enumerate(numbers(tree_of(module))):
        name = f"{module}: {where}: {node.value}"
        seen[name] = seen.get(name, 0) + 1
        if seen[name] > 1:
            name += f" ({seen[name]})"
        found.append(Mutant(name, module, place, node.lineno, float(node.value)))  # type: ignore[arg-type]
    return found


def modules_of(plan: Plan, begins: Sequence[str]) -> list[str]:
    """Modules of the plan, or those that begin with one of the names given."""
    wanted = list(begins) or list(plan.tests)
    every = mutant_runs.all_modules()
    return [name for name in every if any(name.startswith(begin) for begin in wanted)]


def changed_tree(mutant: Mutant) -> ast.Module:
    """A module's tree with its one number changed."""
    tree = tree_of(mutant.module)
    for place, (node, _) in enumerate(numbers(tree)):
        if place == mutant.place:
            assert isinstance(node.value, int | float)
            node.value = changed(node.value)
    return tree


class BrokenError(Exception):
    """Tests that fail with nothing changed tell nothing."""


@cache
def _tests(module: str, tests: tuple[str, ...]) -> mutant_runs.Tests:
    return mutant_runs.Tests(module, tests)


@cache
def _pass_unchanged(module: str, tests: tuple[str, ...]) -> None:
    if _tests(module, tests).run(None):
        raise BrokenError(f"the tests fail with nothing changed in {module}: {' '.join(tests)}")


def _noticed(mutant: Mutant, tests: Sequence[Sequence[str]], fast: bool) -> bool:
    """Whether a test fails with the number changed: those called by themselves first."""
    mutant_runs.World.become(plain=mutant_runs.of_kernel(mutant.module))
    change = partial(changed_tree, mutant)
    every = [_tests(mutant.module, tuple(files)) for files in (tests[:1] if fast else tests)]
    if any(each.call(change) is not None for each in every):
        return True
    for each in () if fast else every:
        if each.run(change):
            _pass_unchanged(mutant.module, tuple(each.asked))
            return True
    return False


def _digest(files: Iterable[Path]) -> str:
    digest = hashlib.sha256()
    for path in sorted(files):
        digest.update(str(path).encode() + path.read_bytes())
    return digest.hexdigest()[:16]


class Tried:
    """What this and, with `resume`, earlier runs found.

    That a number is noticed holds as long as its module and the tests named for it have not
    changed; that it lives, as long as no source has.
    """

    def __init__(self, resume: bool, fast: bool, kept_at: Path = KEPT) -> None:
        folders = ("src/goodflight", "tests", "tools")
        self._whole = _digest(each for name in folders for each in (ROOT / name).rglob("*.py"))
        self._fast, self._kept_at = fast, kept_at
        self._found: dict[str, bool] = {}
        kept_at.parent.mkdir(exist_ok=True)
        if resume and kept_at.exists():
            self._found = dict(map(json.loads, kept_at.read_text("utf-8").splitlines()))
        else:
            kept_at.write_text("", "utf-8")

    def noticed(self, mutant: Mutant, tests: Sequence[Sequence[str]]) -> bool:
        """Whether a test fails with the number changed: as kept, or tried and kept."""
        near, far = f"{mutant.name} {_near(mutant.module, tuple(tests[0]))}", self._whole
        far += " fast" if self._fast else ""
        if near in self._found:
            return True
        if f"{mutant.name} {far}" in self._found:
            return False
        noticed = _noticed(mutant, tests, self._fast)
        with self._kept_at.open("a", encoding="utf-8") as kept:
            kept.write(json.dumps([near if noticed else f"{mutant.name} {far}", noticed]) + "\n")
        return noticed


@cache
def _near(module: str, tests: tuple[str, ...]) -> str:
    files = [ROOT / file for file in mutant_calls.files_of(tests, ROOT)]
    return _digest([source_of(module), *files])


class _Progress:
    """One line on a terminal that is written over; elsewhere nothing."""

    def __init__(self, count: int) -> None:
        self._count, self._began, self._shown = count, time.monotonic(), sys.stderr.isatty()

    def show(self, done: int, lives: int) -> None:
        """After so many tried here."""
        if not self._shown:
            return
        left_min = (time.monotonic() - self._began) / max(done, 1) * (self._count - done) / 60.0
        until = f", about {left_min:.0f} min left" if done else ""
        told = f"{done} of {self._count} tried, {lives} live without a reason{until}"
        print(f"\r{told:<79}", end="", file=sys.stderr, flush=True)

    def clear(self) -> None:
        """Before another line."""
        if self._shown:
            print(f"\r{'':<79}\r", end="", file=sys.stderr, flush=True)


def _chosen(plan: Plan, begins: Sequence[str], only: Sequence[str]) -> list[Mutant]:
    wanted = [pattern.partition(":")[0] for pattern in only] if only and not begins else begins
    every = [mutant for module in modules_of(plan, wanted) for mutant in mutants_of(module)]
    return [m for m in every if not only or any(fnmatchcase(m.name, each) for each in only)]


def _try_all(
    chosen: Sequence[Mutant], plan: Plan, asked: argparse.Namespace
) -> tuple[list[Mutant], set[str]]:
    """Who lives without a reason, and the reasons that were needed."""
    lives: list[Mutant] = []
    used: set[str] = set()
    kept_at = KEPT.with_stem("mutants-quick") if asked.quick else KEPT  # a long run goes on
    tried, progress = Tried(asked.resume, asked.fast, kept_at), _Progress(len(chosen))
    for number, mutant in enumerate(chosen):
        progress.show(number, len(lives))
        if tried.noticed(mutant, plan.tests_of(mutant, asked.quick)):
            continue
        if excuse := plan.excuse(mutant):
            used.add(excuse)
            continue
        lives.append(mutant)
        progress.clear()
        print(f"lives: {mutant.name}\n       line {mutant.line} of its module", flush=True)
    progress.clear()
    return lives, used


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the mutants asked for and say who lives."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("module", nargs="*", help="beginnings of module names, e.g. physics.power")
    parser.add_argument("--only", action="append", default=[], help="pattern of a mutant's name")
    parser.add_argument("--list", action="store_true", help="name the mutants, run nothing")
    parser.add_argument(
        "--quick", action="store_true", help="those listed as quick, each on one test"
    )
    parser.add_argument(
        "--fast", action="store_true", help="only the module's own tests, called without the runner"
    )
    parser.add_argument("--open", action="store_true", help="leave out what has a reason to live")
    parser.add_argument("--resume", action="store_true", help="go on where the last run stopped")
    asked = parser.parse_args(arguments)
    plan = read_plan()
    if asked.quick:
        asked.only, plan = list(plan.quick), Plan({}, {}, plan.quick)
    chosen = _chosen(plan, asked.module, asked.only)
    if asked.open:
        chosen = [mutant for mutant in chosen if plan.excuse(mutant) is None]
    for pattern in asked.only:
        if not any(fnmatchcase(mutant.name, pattern) for mutant in chosen):
            print(f"no number is called {pattern!r}; --list shows the names")
            return 2
    if asked.list or not chosen:
        print("\n".join(mutant.name for mutant in chosen) or "no number fits")
        return 0 if chosen else 2
    mutant_runs.warm()
    chosen.sort(
        key=lambda mutant: mutant_runs.of_kernel(mutant.module)
    )  # stable: one change of world
    try:
        lives, used = _try_all(chosen, plan, asked)
    except BrokenError as broken:
        print(broken)
        return 2
    whole = not asked.module and not asked.only and not asked.open
    idle = [pattern for pattern in plan.excused if pattern not in used] if whole else []
    for pattern in idle:
        print(f"mutants.toml excuses {pattern!r}, but nothing of that name lives")
    spent_min = sum(os.times()[:4]) / 60.0
    print(f"processor time {spent_min:.1f} min")
    print(f"{len(chosen)} numbers changed, {len(lives)} live without a reason")
    return 1 if lives or idle else 0


if __name__ == "__main__":
    try:
        sys.exit(main())
    except KeyboardInterrupt:
        print("\nstopped; the same words and --resume go on from here", file=sys.stderr)
        sys.exit(130)
