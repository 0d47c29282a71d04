"""Broken projects: one clear sentence per fault, with its file, line and key.

`broken/cases.toml` holds the projects (the demo, spoilt in one place each), `broken/messages.md`
every sentence as it is said, to be read by people. `GOODFLIGHT_RENEW=1` writes the table anew.
"""

import os
import tomllib
from pathlib import Path
from typing import Any

import pytest

from goodflight.project import Fault, ProjectErrors, load, read_project
from goodflight.project.demo import demo_files

HERE = Path(__file__).parent / "broken"
CASES: list[dict[str, Any]] = tomllib.loads((HERE / "cases.toml").read_text("utf-8"))["case"]


def spoilt(case: dict[str, Any], files: dict[str, str]) -> dict[str, str]:
    file = case["file"]
    if "rename" in case:
        return {case["rename"] if name == file else name: text for name, text in files.items()}
    if case.get("drop"):
        return {name: text for name, text in files.items() if name != file}
    assert case["find"] in files[file], "the demo has no such text"
    return {**files, file: files[file].replace(case["find"], case["put"], 1)}


def faults_of(files: dict[str, str]) -> tuple[Fault, ...]:
    with pytest.raises(ProjectErrors) as caught:
        read_project(files)
    return caught.value.faults


def line_named(case: dict[str, Any], text: str) -> int:
    rows = text.splitlines()
    hits = [number for number, row in enumerate(rows, start=1) if case["at"] in row]
    if "near" in case:  # the head of the table that has this line
        below = next(n for n, row in enumerate(rows, start=1) if row.startswith(case["near"]))
        return max(n for n in hits if n < below)
    return hits[-1 if case.get("last") else 0]


def test_there_are_enough() -> None:
    assert len(CASES) >= 50
    assert len({case["name"] for case in CASES}) == len(CASES)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_one_clear_sentence(case: dict[str, Any]) -> None:
    files = spoilt(case, demo_files())
    faults = faults_of(files)
    assert len(faults) == 1, "\n".join(fault.sentence for fault in faults)
    (fault,) = faults
    assert fault.file == case.get("fault_file", case["file"])
    assert fault.key == case["key"]
    assert case["says"] in fault.sentence
    if "at" in case:
        assert fault.line == line_named(case, files[fault.file])


def test_all_at_once() -> None:
    """All faults of all files in one go; a syntax fault in one file hides nothing elsewhere."""
    wanted = ["syntax fault: quotes left open", "decimal comma in a mass", "negative thrust",
              "unknown key, a slip of the pen", "outline left open", "more propellant than motor",
              "inside wider than outside"]  # fmt: skip
    files = demo_files()
    for case in CASES:
        if case["name"] in wanted:
            files = spoilt(case, files)
    assert len(faults_of(files)) == len(wanted)


def test_two_faults_of_one_part_are_both_told() -> None:
    files = demo_files()
    text = files["rocket.toml"].replace('mass = "68 g label"', 'mass = "68 mm label"')
    files["rocket.toml"] = text.replace('length = "220 mm"', 'length = "220"')
    keys = [fault.key for fault in faults_of(files)]
    assert keys == ["part[payload tube].length", "part[payload tube].mass"]


def test_no_folder_and_wrong_encoding(tmp_path: Path) -> None:
    with pytest.raises(ProjectErrors, match="no such folder"):
        load(tmp_path / "nothing")
    for name, text in demo_files().items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_bytes(text.encode("latin-1" if name == "plans.toml" else "utf-8"))
    with pytest.raises(ProjectErrors) as caught:
        load(tmp_path)
    (fault,) = caught.value.faults
    assert fault.file == "plans.toml"
    assert fault.sentence.endswith("Save the file again as UTF-8 in your editor.")


def table() -> str:
    rows = ["# What is said about each broken project", ""]
    for case in CASES:
        rows.append(f"- **{case['name']}**")
        rows += [f"  - {fault.sentence}" for fault in faults_of(spoilt(case, demo_files()))]
    return "\n".join(rows) + "\n"


def test_messages_are_as_reviewed() -> None:
    path = HERE / "messages.md"
    if os.environ.get("GOODFLIGHT_RENEW"):
        path.write_text(table(), "utf-8")
    assert path.read_text("utf-8") == table()
