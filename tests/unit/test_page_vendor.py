"""What the page carries of other projects is listed, unaltered, licensed and small."""

import gzip
import hashlib
import tomllib

from goodflight.page.view import HOME

VENDOR = HOME / "static" / "vendor"
LISTED = tomllib.loads((VENDOR / "VENDORED.toml").read_text("utf-8"))["file"]


def test_every_file_is_listed_and_unaltered() -> None:
    licences = {entry["licence_file"] for entry in LISTED}
    there = {path.name for path in VENDOR.iterdir()} - {"VENDORED.toml"}
    assert there == {entry["name"] for entry in LISTED} | licences
    for entry in LISTED:
        found = hashlib.sha256((VENDOR / entry["name"]).read_bytes()).hexdigest()
        assert found == entry["sha256"], entry["name"]
        assert entry["licence"] in ("MIT", "0BSD", "OFL-1.1")


def test_all_static_files_together_are_small() -> None:
    """As they travel; the sheet itself has the rest of the page's 300 kB."""
    files = [p for p in (HOME / "static").rglob("*") if p.suffix in (".js", ".css", ".woff2")]
    packed = [
        path.stat().st_size if path.suffix == ".woff2" else len(gzip.compress(path.read_bytes(), 3))
        for path in files
    ]
    assert sum(packed) < 120_000
