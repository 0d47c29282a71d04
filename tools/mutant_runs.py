"""Run tests with one number of one module changed, in a process of its own.

Everything that does not stand on the changed module is imported once, before the forks; what does
is imported anew in the fork, with the number changed. No file is changed. First test functions are
called by themselves (`mutant_calls`), then the runner runs what that leaves. A number of the
compiled kernel is tried with the kernel in plain Python; for the runner what stands on it is
compiled anew, in a fork of a process that has compiled all of the kernel once.
"""

import ast
import contextlib
import gc
import hashlib
import importlib
import importlib.abc
import importlib.util
import json
import os
import re
import signal
import sys
from collections import Counter
from collections.abc import Callable, Sequence
from functools import cache, partial
from pathlib import Path
from types import CodeType, ModuleType
from typing import Any

import mutant_calls
from mutant_calls import Call

ROOT = Path(__file__).resolve().parents[1]
SOURCE = ROOT / "src" / "goodflight"
LONGEST_S = 300.0  # of processor time: a change that makes a loop endless is noticed too
LONGER, LITTLE_S = (
    8.0,
    4.0,
)  # the same of tests called by themselves: times what they take, and this
CALL_S, PLAIN_S = 6.0, 1.5  # a test that takes longer is left to the runner; of the plain kernel
COMPILED = "physics.flight.compiled"
MARKS = ("compiled", "compiled_inside", "compiled_per_constant", "compiled_owner")
LIBRARIES = ("pytest", "hypothesis", "scipy.special", "pydantic", "tomlkit", "shapely")
IMPORT = re.compile(  # read as text: to parse every module takes two seconds
    r"^[ \t]*(?:from|import) (goodflight[\w.]*)(?: import ([^(\n]+|\([^)]*\)))?", re.MULTILINE
)
NAME = re.compile(r"\w+")
UNUSED = ("cli", "page", "outputs", "__main__")  # rooms that no test of a model loads


def source_of(module: str) -> Path:
    """The file of a module whose name begins after the package's."""
    place = SOURCE.joinpath(*module.split("."))
    return place / "__init__.py" if place.is_dir() else place.with_suffix(".py")


def all_modules() -> list[str]:
    """Every module, packages too, by its name after the package's."""
    places = (path.relative_to(SOURCE).with_suffix("").parts for path in SOURCE.rglob("*.py"))
    named = (place[:-1] if place[-1] == "__init__" else place for place in places)
    return sorted(".".join(place) for place in named if place)


def warm() -> None:
    """What most runs import: brought in once; its read form is kept."""
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"
    if sys.dont_write_bytecode:  # elsewhere what was read before lies beside its source
        sys.dont_write_bytecode, sys.pycache_prefix = False, str(ROOT / "build" / "read")
    sys.path[:0] = [str(SOURCE.parent), str(ROOT / "tests")]
    for name in LIBRARIES:
        importlib.import_module(name)
    importlib.import_module("numba").njit(lambda x: x)(1)  # what all compiled code needs
    _importers()


@cache
def of_kernel(module: str) -> bool:
    """Whether the flights' kernel, or what else is compiled, takes a module in."""
    own = f"{COMPILED} import" in source_of(module).read_text("utf-8")
    listed = importlib.import_module(f"goodflight.{COMPILED}").KERNEL_SOURCES
    here = source_of(COMPILED).parent
    return own or source_of(module) in {(here / f"{each}.py").resolve() for each in listed}


class World:
    """All modules imported, what is compiled as it is or (plain) in plain Python."""

    plain: bool | None = None

    @classmethod
    def become(cls, plain: bool) -> None:
        """Import anew whatever stands on what marks functions for the compiler."""
        if cls.plain == plain:
            return
        gc.unfreeze()
        _drop(COMPILED)
        if plain:
            _leave_plain()
        for name in all_modules():
            if name.partition(".")[0] not in UNUSED:
                importlib.import_module(f"goodflight.{name}")
        cls.plain = plain
        gc.collect()
        gc.freeze()  # a fork that looks for waste there would copy all of it


def _drop(module: str) -> None:
    for name in standing_on(module):
        sys.modules.pop(f"goodflight.{name}", None)
        package, _, last = f"goodflight.{name}".rpartition(".")
        vars(sys.modules.get(package, ModuleType(""))).pop(last, None)


def _leave_plain() -> None:
    """Functions of the kernel stay what they are; nothing is compiled before the first flight."""
    marks: Any = importlib.import_module(f"goodflight.{COMPILED}")
    for name in MARKS:
        setattr(marks, name, lambda function: function)
    marks.CACHE = ROOT / "build" / "plain"
    marks.CACHE.mkdir(parents=True, exist_ok=True)
    (marks.CACHE / "compiled").touch()
    os.cpu_count = lambda: 1  # what a thread does in plain Python cannot be cut short


@cache
def _importers() -> dict[str, set[str]]:
    """Of each module those that import it, anywhere in their text.

    Not those that only pass through a package to a module of it: they hold nothing of its own.
    """
    every, found = set(all_modules()), {name: set[str]() for name in all_modules()}
    for name in every:
        text = source_of(name).read_text("utf-8")
        used = _imports(text, every)
        if "import_module(" in text:  # a package that loads what it holds when it is asked
            used |= {each for each in every if each.startswith(f"{name}.")}
        for each in used:
            found[each].add(name)
    return found


def _imports(text: str, every: set[str]) -> set[str]:
    """Modules that are imported, a package only where it is not passed through to one of its own;
    names after the package's."""
    names = set()
    for module, brought in IMPORT.findall(text):
        own = module.removeprefix("goodflight.")
        inside = [f"{own}.{each}" for each in NAME.findall(brought)] or [own]
        names |= {each if each in every else own for each in inside}
    return names & every


def standing_on(module: str) -> set[str]:
    """The module and every other that imports it or one of these."""
    found, left = set(), [module]
    while left:
        name = left.pop()
        if name not in found:
            found.add(name)
            left += _importers().get(name, ())
    return found


class _Changed(importlib.abc.MetaPathFinder, importlib.abc.InspectLoader):
    """Imports one module from another tree than its file's, everything else as it stands."""

    def __init__(self, module: str, tree: ast.Module) -> None:
        self.module, self.tree = module, tree

    def find_spec(self, fullname: str, path: object, target: ModuleType | None = None) -> object:
        if fullname != f"goodflight.{self.module}":
            return None
        origin = str(source_of(self.module))
        return importlib.util.spec_from_file_location(fullname, origin, loader=self)

    def get_source(self, fullname: str) -> str:
        return ast.unparse(self.tree)

    def get_code(self, fullname: str) -> CodeType:
        return compile(self.tree, f"<{self.module}, changed>", "exec")


def _compile_anew() -> None:
    """The kernel compiled here: nothing is taken from the compiler's folder, or left there.

    What is kept there goes by a function's own text, not by the figures it takes in.
    """
    _drop(COMPILED)
    marks: Any = importlib.import_module(f"goodflight.{COMPILED}")
    nothing = importlib.import_module("numba.core.caching").NullCache
    marks._kept = lambda function: nothing()
    importlib.import_module("goodflight.physics.flight.ready").make_ready()


Change = Callable[[], ast.Module]


def _forked(work: Callable[[], object], longest_s: float) -> tuple[Any, bool]:
    """What some work in a process of its own comes to, and whether it came to an end."""
    ours, theirs = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(ours)
        with contextlib.suppress(BaseException):
            signal.setitimer(signal.ITIMER_PROF, longest_s)
            quiet = os.open(os.devnull, os.O_WRONLY)
            os.dup2(quiet, 1)
            os.dup2(quiet, 2)
            os.chdir(ROOT)
            found = json.dumps(work()).encode()
            with open(theirs, "wb") as pipe:
                pipe.write(found)
            os._exit(0)
        os._exit(3)
    os.close(theirs)
    with open(ours, "rb") as pipe:
        told = pipe.read()
    _, state = os.waitpid(child, 0)
    ended = os.waitstatus_to_exitcode(state) == 0
    return (json.loads(told) if ended else None), ended


def _put(module: str, change: Change | None) -> None:
    """Import a module anew when it is asked for, as `change` gives it (None: as it is)."""
    _drop(module)
    if change is not None:
        sys.meta_path.insert(0, _Changed(module, change()))


class Tests:
    """Some tests as they run on a module: called by themselves, what is left by the runner."""

    def __init__(self, module: str, tests: Sequence[str]) -> None:
        self.module, self.asked = module, tests
        self.took: dict[Call, float] = {}
        self.left: dict[str, list[str]] = {}
        for each in tests:
            only = each.partition("::")[2]
            for file in mutant_calls.files_of([each], ROOT):
                took, left = _timed(file, bool(World.plain), only)
                self.took |= took
                if left:
                    self.left[file] = list(left)
        self.longest_s = 10.0 + LONGER * sum(self.took.values())
        self._noticed = Counter[Call]()
        while (wrong := self.call(None)) is not None:
            if not wrong[0]:
                raise RuntimeError(f"with nothing changed in {module} no end: {' '.join(tests)}")
            self._leave(wrong)

    def _leave(self, call: Call) -> None:
        """A call that fails with nothing changed but the order is left to the runner."""
        self.took = {each: s for each, s in self.took.items() if each[:2] != call[:2]}
        self.left.setdefault(call[0], []).append(call[1])

    def call(self, change: Change | None) -> Call | None:
        """The first call that fails; one without a name if it came to no end."""
        order = sorted(self.took, key=lambda each: self.took[each] / (1 + self._noticed[each]))
        limits = {each: LITTLE_S + LONGER * took for each, took in self.took.items()}

        def work() -> Call | None:
            _put(self.module, change)
            return mutant_calls.first_failing([(each, limits[each]) for each in order])

        found, ended = _forked(work, self.longest_s)
        if not ended:
            return "", "", 0
        call = (found[0], found[1], found[2]) if found else None
        if call and change is not None:
            self._noticed[call] += 1
        return call

    def run(self, change: Change | None) -> bool:
        """Whether a test of those left fails in the runner."""
        if not self.left:
            return False

        if of_kernel(self.module):
            text = None if change is None else ast.unparse(change())
            found = _Kernel.there().ask(self.module, text, self.left)
        else:
            found, _ = _forked(partial(_run, self.module, change, self.left), LONGEST_S)
        return found not in (0, 5)  # 5: none that is not slow


def _run(module: str, change: Change | None, left: dict[str, list[str]]) -> int:
    """What the runner says of some tests with a module changed."""
    import pytest

    _put(module, change)
    asked = ["-x", "-q", "-p", "no:cacheprovider", "-m", "not slow"]
    asked += ["-o", "addopts=--import-mode=importlib", *left]
    return int(pytest.main(asked, plugins=[_Only(left)]))


class _Kernel:
    """A process that has compiled the flights' kernel; each question is answered by a fork of it,
    which compiles the changed module, what stands on it, and no more."""

    @classmethod
    @cache
    def there(cls) -> "_Kernel":
        """Begun when it is first asked for; it ends with this process."""
        return cls()

    def __init__(self) -> None:
        asked, self._asks = os.pipe()
        self._told, tells = os.pipe()
        if os.fork() == 0:
            with contextlib.suppress(BaseException):
                os.close(self._asks)
                _compile_anew()
                self._answer(asked, tells)
            os._exit(0)
        os.close(asked)
        os.close(tells)

    @staticmethod
    def _answer(asked: int, tells: int) -> None:
        with open(asked, encoding="utf-8") as lines, open(tells, "w", encoding="utf-8") as out:
            for line in lines:
                module, text, left = json.loads(line)
                change = None if text is None else partial(ast.parse, text)
                found, _ = _forked(partial(_run, module, change, left), LONGEST_S)
                print(json.dumps(found), file=out, flush=True)

    def ask(self, module: str, text: str | None, left: dict[str, list[str]]) -> Any:
        """What the runner says with the module's text as given; None where it came to no end."""
        os.write(self._asks, (json.dumps([module, text, left]) + "\n").encode())
        told = b""
        while not told.endswith(b"\n"):
            told += (more := os.read(self._told, 1 << 16))
            if not more:
                raise RuntimeError("the process with the compiled kernel broke off")
        return json.loads(told)


class _Only:
    """Keeps the runner from what was called already."""

    def __init__(self, left: dict[str, list[str]]) -> None:
        self.left = {(str(ROOT / file), name) for file, names in left.items() for name in names}

    def pytest_collection_modifyitems(self, items: list[Any]) -> None:
        items[:] = [each for each in items if (str(each.path), self._head(each)) in self.left]

    @staticmethod
    def _head(item: Any) -> str:
        return str(item.nodeid.split("::")[1].partition("[")[0])


@cache
def _timed(file: str, plain: bool, only: str) -> tuple[dict[Call, float], list[str]]:
    """As `mutant_calls.timed` with nothing changed; kept in build/ until the file is."""
    digest = hashlib.sha256(
        f"{plain} {file} {only}".encode() + (ROOT / file).read_bytes()
    ).hexdigest()
    kept = ROOT / "build" / "calls" / f"{digest[:16]}.json"
    if not kept.exists():
        longest_s = PLAIN_S if plain else CALL_S
        found, ended = _forked(lambda: mutant_calls.timed(file, longest_s, only), 1e4)
        if not ended:
            raise RuntimeError(f"the tests cannot be called: {file}")
        kept.parent.mkdir(parents=True, exist_ok=True)
        kept.write_text(json.dumps(found), "utf-8")
    took, left = json.loads(kept.read_text("utf-8"))
    return {(c[0], c[1], c[2]): s for s, c in took}, left
