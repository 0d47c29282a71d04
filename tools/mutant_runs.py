"""Run tests with one number of one module changed, in a process of its own.

Everything that does not stand on the changed module is imported once, before the forks; what does
is imported anew in the fork, with the number changed. No file is changed.
"""

import ast
import contextlib
import gc
import importlib
import importlib.abc
import importlib.util
import os
import signal
import sys
from collections.abc import Callable, Sequence
from functools import cache
from pathlib import Path
from types import CodeType, ModuleType

ROOT = Path(__file__).resolve().parents[1]
SOURCE = ROOT / "src" / "goodflight"
LONGEST_S = 120.0  # of processor time: a change that makes a loop endless is noticed too
LIBRARIES = ("pytest", "hypothesis", "scipy.special", "pydantic", "tomlkit", "shapely")
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
    """What most runs import: brought in once, its compiled and read form kept in build/."""
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"
    sys.dont_write_bytecode, sys.pycache_prefix = False, str(ROOT / "build" / "read")
    sys.path[:0] = [str(SOURCE.parent), str(ROOT / "tests")]
    for name in LIBRARIES:
        importlib.import_module(name)
    importlib.import_module("numba").njit(lambda x: x)(1)  # what all compiled code needs
    for name in all_modules():
        if name.partition(".")[0] not in UNUSED:
            importlib.import_module(f"goodflight.{name}")
    _importers()
    gc.collect()
    gc.freeze()  # a fork that looks for waste there would copy all of it


@cache
def _importers() -> dict[str, set[str]]:
    """Of each module those that import it, anywhere in their text, by whatever of its names."""
    every, found = set(all_modules()), {name: set[str]() for name in all_modules()}
    for name in every:
        text = source_of(name).read_text("utf-8")
        used = {each for each in _imports(ast.parse(text)) if each in every}
        if "import_module(" in text:  # a package that loads what it holds when it is asked
            used |= {each for each in every if each.startswith(f"{name}.")}
        for each in used:
            parts = each.split(".")
            for end in range(1, len(parts) + 1):
                found[".".join(parts[:end])].add(name)
    return found


def _imports(tree: ast.Module) -> set[str]:
    """Names after the package's that are imported, each also as if it were a module."""
    names = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            names |= {each.name for each in node.names}
        elif isinstance(node, ast.ImportFrom):
            names |= {str(node.module), *(f"{node.module}.{each.name}" for each in node.names)}
    return {name.removeprefix("goodflight.") for name in names if name.startswith("goodflight.")}


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

    def exec_module(self, module: ModuleType) -> None:
        if "flight.compiled import" in self.get_source(module.__name__):
            _compile_anew(self.module)
        super().exec_module(module)


def _compile_anew(module: str) -> None:
    """From here on nothing is taken from the compiler's folder, or left there.

    Neither the changed module nor what its functions stand in; the flights' kernel is loaded as it
    is, since none of it asks for what comes back.
    """
    if not module.startswith("physics.flight"):
        importlib.import_module("goodflight.physics.flight.ensemble")
    importlib.import_module("goodflight.physics.flight.compiled")._COMMON["cache"] = False


def fails(module: str, change: Callable[[], ast.Module] | None, tests: Sequence[str]) -> bool:
    """Whether a test fails with a module imported anew, as `change` gives it (None: as it is)."""
    child = os.fork()
    if child == 0:
        code = 3
        with contextlib.suppress(BaseException):
            code = _run(module, change, tests)
        os._exit(code)
    _, state = os.waitpid(child, 0)
    return os.waitstatus_to_exitcode(state) != 0


def _run(module: str, change: Callable[[], ast.Module] | None, tests: Sequence[str]) -> int:
    import pytest

    signal.setitimer(signal.ITIMER_PROF, LONGEST_S)
    quiet = os.open(os.devnull, os.O_WRONLY)
    os.dup2(quiet, 1)
    os.dup2(quiet, 2)
    os.chdir(ROOT)
    for name in standing_on(module):
        sys.modules.pop(f"goodflight.{name}", None)
        package, _, last = f"goodflight.{name}".rpartition(".")
        vars(sys.modules.get(package, ModuleType(""))).pop(last, None)
    if change is not None:
        sys.meta_path.insert(0, _Changed(module, change()))
    asked = ["-x", "-q", "-p", "no:cacheprovider", "-m", "not slow"]
    return int(pytest.main([*asked, "-o", "addopts=--import-mode=importlib", *tests]))
