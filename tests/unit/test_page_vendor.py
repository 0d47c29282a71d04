"""What the page carries of other projects is listed, unaltered, licensed and small."""

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
    files = [p for p in (HOME / "static").rglob("*") if p.suffix in (".js", ".css", ".woff2")]
    assert sum(path.stat().st_size for path in files) < 200_000
