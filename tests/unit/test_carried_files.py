"""What lies here of other projects is listed, unaltered, licensed and small."""

import gzip
import hashlib
import tomllib
from pathlib import Path

import pytest

SOURCE = Path(__file__).resolve().parents[2] / "src" / "goodflight"
STATIC = SOURCE / "page" / "static"
FOLDERS = [STATIC / "vendor", SOURCE / "outputs" / "bench" / "fonts"]


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.name)
def test_every_file_is_listed_and_unaltered(folder: Path) -> None:
    listed = tomllib.loads((folder / "VENDORED.toml").read_text("utf-8"))["file"]
    licences = {entry["licence_file"] for entry in listed}
    there = {path.name for path in folder.iterdir()} - {"VENDORED.toml"}
    assert there == {entry["name"] for entry in listed} | licences
    for entry in listed:
        found = hashlib.sha256((folder / entry["name"]).read_bytes()).hexdigest()
        assert found == entry["sha256"], entry["name"]
        assert entry["licence"] in ("MIT", "0BSD", "OFL-1.1")
        assert entry["package"] and entry["version"]
        assert entry.get("path") or entry.get("made_from"), entry["name"]


def test_no_file_of_another_project_lies_elsewhere() -> None:
    """Fonts and packed scripts are the kinds that are carried."""
    kinds = (".woff2", ".ttf", ".otf", ".min.js", ".min.css")
    stray = [p for p in SOURCE.rglob("*") if p.name.endswith(kinds) and p.parent not in FOLDERS]
    assert not stray


def test_all_static_files_together_are_small() -> None:
    """As they travel; the sheet itself has the rest of the page's 300 kB."""
    files = [p for p in STATIC.rglob("*") if p.suffix in (".js", ".css", ".woff2")]
    packed = [
        path.stat().st_size if path.suffix == ".woff2" else len(gzip.compress(path.read_bytes(), 3))
        for path in files
    ]
    # 8 kB of it: pages of field, search, bench, calendar and debrief with logs, grid of an outline
    assert sum(packed) < 125_000
