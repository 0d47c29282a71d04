"""What is installed: lists that agree, files taken only by their sum, licences, honest audits."""

import hashlib
import importlib.util
import json
import os
import re
import subprocess
import sys
import tomllib
import zipfile
from importlib.metadata import distribution, requires
from pathlib import Path
from types import ModuleType

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

HOME = Path(__file__).resolve().parents[2]
LISTS = ("requirements.hashes", "requirements-test.hashes", "tools/requirements.hashes")
ENTRY = re.compile(r"([a-z0-9.-]+)==([0-9a-z.]+)( ; [a-z_]+ [<>=!]+ '[A-Za-z0-9._]+')?")
Entries = dict[tuple[str, ...], set[str]]


def loaded(place: str) -> ModuleType:
    spec = importlib.util.spec_from_file_location(Path(place).stem, HOME / place)
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def entries(name: str) -> Entries:
    """Each entry of a list (name, version, marker) with its sums; nothing else may stand there."""
    found: Entries = {}
    for block in (HOME / name).read_text().replace(" \\\n    --hash", "  --hash").splitlines():
        first, *sums = block.split("  --hash=sha256:")
        entry = ENTRY.fullmatch(first)
        assert entry, first
        assert all(re.fullmatch(r"[0-9a-f]{64}", each) for each in sums), first
        found[tuple(part or "" for part in entry.groups())] = set(sums)
    return found


@pytest.mark.parametrize("name", LISTS)
def test_every_listed_package_has_sums_and_no_place(name: str) -> None:
    assert all(entries(name).values())


def test_lock_and_lists_agree() -> None:
    lock, runs, tests = (entries(n) for n in ("requirements.lock", *LISTS[:2]))
    assert lock.keys() == tests.keys(), "run: tools/lock"
    assert runs.items() <= tests.items(), "run: tools/lock"


def test_every_package_that_the_project_file_asks_for_is_listed_in_a_version_it_takes() -> None:
    project = tomllib.loads((HOME / "pyproject.toml").read_text("utf-8"))["project"]
    extras = project["optional-dependencies"]
    asked = {
        "requirements.hashes": [*project["dependencies"], *extras["install"]],
        "requirements-test.hashes": [*project["dependencies"], *extras["test"]],
        "tools/requirements.hashes": (HOME / "tools/requirements.in").read_text().splitlines(),
    }
    for name, lines in asked.items():
        for line in lines:
            need = Requirement(line)
            versions = [v for n, v, _ in entries(name) if n == canonicalize_name(need.name)]
            assert versions and all(map(need.specifier.contains, versions)), f"{line} in {name}"


def test_the_list_of_what_runs_is_closed() -> None:
    """By what the installed packages themselves say they need."""
    listed = {name for name, _, _ in entries("requirements.hashes")}
    for name in listed - {"setuptools"}:
        for line in requires(name) or []:
            need = Requirement(line)
            if need.marker is None or need.marker.evaluate({"extra": ""}):
                assert canonicalize_name(need.name) in listed, f"{name} needs {line}"


def test_the_page_of_licences_names_every_package_and_every_bundled_library() -> None:
    page = (HOME / "docs" / "third-party.md").read_text("utf-8")
    rows = [line for line in page.splitlines() if line.startswith("| ")]
    for name, _, _ in entries("requirements.hashes"):
        assert f"| {name} |" in page, name
        for path in distribution(name).files or []:
            if path.parts[0].endswith((".libs", ".dylibs")):
                library = re.split(r"[-_.]", path.name.removeprefix("lib"))[0]
                assert any(name in row and library in row for row in rows[1:]), f"{path}, {name}"


def wheel(folder: Path) -> str:
    """A package of one line; hand back its sum."""
    path = folder / "pebble-1.0-py3-none-any.whl"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("pebble.py", "weight = 1\n")
        head = "pebble-1.0.dist-info/"
        archive.writestr(head + "METADATA", "Metadata-Version: 2.1\nName: pebble\nVersion: 1.0\n")
        archive.writestr(
            head + "WHEEL", "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n"
        )
        archive.writestr(head + "RECORD", "")
    return hashlib.sha256(path.read_bytes()).hexdigest()


@pytest.fixture
def shelf(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder that pip takes packages from, and nothing else; it installs into `target`."""
    monkeypatch.setenv("PIP_CONFIG_FILE", os.devnull)
    monkeypatch.setenv("PIP_NO_INDEX", "1")
    monkeypatch.setenv("PIP_FIND_LINKS", str(tmp_path))
    monkeypatch.setenv("PIP_TARGET", str(tmp_path / "target"))
    return tmp_path


@pytest.mark.parametrize("right", [True, False])
def test_a_file_is_installed_only_if_its_sum_is_listed(shelf: Path, right: bool) -> None:
    start, total = loaded("start.py"), wheel(shelf)
    listed = shelf / "list"
    listed.write_text(f"pebble==1.0 --hash=sha256:{total if right else '0' * 64}\n")
    there = shelf / "target" / "pebble.py"
    if right:
        start.install(Path(sys.prefix), listed)
        assert there.exists()
        return
    with pytest.raises(SystemExit, match="not one that this version was tested with") as stop:
        start.install(Path(sys.prefix), listed)
    assert not there.exists()
    assert "pip install -c requirements.lock" in str(stop.value)


def test_a_package_that_cannot_be_had_is_not_called_altered(shelf: Path) -> None:
    listed = shelf / "list"
    listed.write_text(f"pebble==1.0 --hash=sha256:{'0' * 64}\n")
    with pytest.raises(SystemExit, match="Check the network"):
        loaded("start.py").install(Path(sys.prefix), listed)


KNOWN = {"id": "NOTE-1", "fix_versions": ["1.1"]}


@pytest.mark.parametrize(
    ("printed", "code", "said"),
    [
        ({"dependencies": [{"name": "pebble", "version": "1.0", "vulns": []}]}, 0, "0 known"),
        (
            {"dependencies": [{"name": "pebble", "version": "1.0", "vulns": [KNOWN]}]},
            1,
            "mended in 1.1",
        ),
        ({"dependencies": [{"name": "pebble", "skip_reason": "not there"}]}, 3, "NOT DONE for 1"),
        (None, 3, "NOT DONE. The list"),
    ],
)
def test_an_audit_that_saw_nothing_is_not_clean(
    printed: object,
    code: int,
    said: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    supply = loaded("tools/supply.py")
    text = "" if printed is None else json.dumps(printed)
    done = subprocess.CompletedProcess([], 1, stdout=text, stderr="no such host")
    monkeypatch.setattr(supply, "tool", lambda *words: done)
    assert supply.audit() == code
    assert said in capsys.readouterr().out
