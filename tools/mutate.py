#!/usr/bin/env python3
"""Change one number of the models at a time and see whether a test notices.

Every number in a module (a constant or one inside a formula) is multiplied by
1.1, a whole number raised by one, and the tests named for that module run on
it, then the row values. A changed number that no test notices is a survivor: it
is listed, and fails the run unless `mutants.toml` beside this file says why it
may live. No file is changed: the number is exchanged as the module is imported,
in a process of its own.

What has been tried is kept in build/, so that --resume goes on after a stop.

  .venv/bin/python tools/mutate.py                    all of mutants.toml
  .venv/bin/python tools/mutate.py physics.structure  modules that begin so
  .venv/bin/python tools/mutate.py --only "physics.power: *"
  .venv/bin/python tools/mutate.py --list physics.power
  .venv/bin/python tools/mutate.py --quick            the few of every test run

Exit code: 0 all noticed or explained, 1 survivors without a reason or reasons
without a survivor, 2 nothing to do or tests that fail with nothing changed, 130
stopped.
"""

import argparse
import ast
import contextlib
import hashlib
import importlib.abc
import importlib.util
import json
import os
import signal
import sys
import time
import tomllib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fnmatch import fnmatchcase
from pathlib import Path
from types import CodeType, ModuleType

ROOT = Path(__file__).resolve().parents[1]
SOURCE = ROOT / "src" / "goodflight"
KEPT = ROOT / "build" / "mutants.jsonl"
LONGEST_S = 120.0  # of processor time: a change that makes a loop endless is noticed too


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
    quick: dict[str, str]  # the file of tests that notices each, by its pattern

    def tests_of(self, mutant: Mutant, quick: bool = False) -> list[str]:
        """Those named for the longest beginning of the module, then row values."""
        if quick:
            files = (file for name, file in self.quick.items() if fnmatchcase(mutant.name, name))
            return [f"tests/{next(files)}.py"]
        fits = [begin for begin in self.tests if mutant.module.startswith(begin)]
        return [*(self.tests[max(fits, key=len)] if fits else ()), "tests/rows"]

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
    path = SOURCE.joinpath(*module.split(".")).with_suffix(".py")
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
    every = sorted(
        ".".join(path.relative_to(SOURCE).with_suffix("").parts) for path in SOURCE.rglob("*.py")
    )
    chosen = [name for name in every if any(name.startswith(begin) for begin in wanted)]
    return [name for name in chosen if not name.endswith("__init__")]


class _Changed(importlib.abc.MetaPathFinder, importlib.abc.InspectLoader):
    """Imports one module with one number changed, everything else as it stands."""

    def __init__(self, mutant: Mutant) -> None:
        self.mutant = mutant

    def find_spec(self, fullname: str, path: object, target: ModuleType | None = None) -> object:
        if fullname != f"goodflight.{self.mutant.module}":
            return None
        origin = str(SOURCE.joinpath(*self.mutant.module.split(".")).with_suffix(".py"))
        found = importlib.util.spec_from_file_location(fullname, origin, loader=self)
        return found

    def get_source(self, fullname: str) -> str:
        return ast.unparse(self._tree())

    def get_code(self, fullname: str) -> CodeType:
        return compile(self._tree(), f"<{self.mutant.name}>", "exec")

    def exec_module(self, module: ModuleType) -> None:
        if "flight.compiled import" in self.get_source(module.__name__):
            _compile_anew(self.mutant.module)
        super().exec_module(module)

    def _tree(self) -> ast.Module:
        tree = tree_of(self.mutant.module)
        for place, (node, _) in enumerate(numbers(tree)):
            if place == self.mutant.place:
                assert isinstance(node.value, int | float)
                node.value = changed(node.value)
        return tree


def _compile_anew(module: str) -> None:
    """From here on nothing is taken from the compiler's folder, or left there.

    Neither the changed module nor what its functions stand in; the flights' kernel is loaded as it
    is, since none of it asks for what comes back.
    """
    if not module.startswith("physics.flight"):
        importlib.import_module("goodflight.physics.flight.ensemble")
    importlib.import_module("goodflight.physics.flight.compiled")._COMMON["cache"] = False


def noticed(mutant: Mutant | None, tests: Sequence[str]) -> bool:
    """Whether a test fails with the number changed (None: nothing changed)."""
    child = os.fork()
    if child == 0:
        code = 3
        with contextlib.suppress(BaseException):
            code = _run(mutant, tests)
        os._exit(code)
    _, state = os.waitpid(child, 0)
    return os.waitstatus_to_exitcode(state) != 0


def _run(mutant: Mutant | None, tests: Sequence[str]) -> int:
    import pytest

    signal.setitimer(signal.ITIMER_PROF, LONGEST_S)
    quiet = os.open(os.devnull, os.O_WRONLY)
    os.dup2(quiet, 1)
    os.dup2(quiet, 2)
    os.chdir(ROOT)
    if mutant is not None:
        sys.meta_path.insert(0, _Changed(mutant))
    asked = ["-x", "-q", "-p", "no:cacheprovider", "-m", "not slow"]
    return int(pytest.main([*asked, "-o", "addopts=--import-mode=importlib", *tests]))


class Tried:
    """What this and, with `resume`, earlier runs found, as long as no source has changed since."""

    def __init__(self, resume: bool) -> None:
        digest = hashlib.sha256()
        for folder in ("src/goodflight", "tests", "tools"):
            for path in sorted((ROOT / folder).rglob("*.py")):
                digest.update(str(path).encode() + path.read_bytes())
        self._state = digest.hexdigest()
        self.found: dict[str, bool] = {}
        kept = KEPT.read_text("utf-8").splitlines() if resume and KEPT.exists() else []
        if kept[:1] == [self._state]:
            self.found = dict(json.loads(line) for line in kept[1:])
        elif resume:
            print("nothing to go on from: no run was stopped, or files have changed since")
        if not self.found:
            KEPT.parent.mkdir(exist_ok=True)
            KEPT.write_text(self._state + "\n", "utf-8")

    def noticed(self, mutant: Mutant, tests: Sequence[str]) -> bool:
        """Whether a test fails with the number changed: as kept, or tried and kept."""
        key = f"{mutant.name} {' '.join(tests)}"
        if key not in self.found:
            self.found[key] = noticed(mutant, tests)
            with KEPT.open("a", encoding="utf-8") as kept:
                kept.write(json.dumps([key, self.found[key]]) + "\n")
        return self.found[key]


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


def _warm() -> None:
    """What every run imports and no mutant changes: brought in once, before the forks."""
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"
    sys.dont_write_bytecode = True
    sys.path[:0] = [str(SOURCE.parent), str(ROOT / "tests")]
    for name in (
        "pytest",
        "hypothesis",
        "numpy",
        "scipy.special",
        "numba",
        "pydantic",
        "tomlkit",
        "shapely",
    ):
        importlib.import_module(name)


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
    tried, progress = Tried(asked.resume), _Progress(len(chosen))
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
        "--quick", action="store_true", help="those listed as quick, each on one file of tests"
    )
    parser.add_argument("--resume", action="store_true", help="go on where the last run stopped")
    asked = parser.parse_args(arguments)
    plan = read_plan()
    if asked.quick:
        asked.only, plan = list(plan.quick), Plan({}, {}, plan.quick)
    chosen = _chosen(plan, asked.module, asked.only)
    for pattern in asked.only:
        if not any(fnmatchcase(mutant.name, pattern) for mutant in chosen):
            print(f"no number is called {pattern!r}; --list shows the names")
            return 2
    if asked.list or not chosen:
        print("\n".join(mutant.name for mutant in chosen) or "no number fits")
        return 0 if chosen else 2
    _warm()
    everywhere = sorted({test for mutant in chosen for test in plan.tests_of(mutant, asked.quick)})
    if noticed(None, everywhere):
        print("the tests fail with nothing changed: " + " ".join(everywhere))
        return 2
    lives, used = _try_all(chosen, plan, asked)
    whole = not asked.module and not asked.only
    idle = [pattern for pattern in plan.excused if pattern not in used] if whole else []
    for pattern in idle:
        print(f"mutants.toml excuses {pattern!r}, but nothing of that name lives")
    print(f"{len(chosen)} numbers changed, {len(lives)} live without a reason")
    return 1 if lives or idle else 0


if __name__ == "__main__":
    try:
        sys.exit(main())
    except KeyboardInterrupt:
        print("\nstopped; the same words and --resume go on from here", file=sys.stderr)
        sys.exit(130)
