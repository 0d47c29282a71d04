"""The texts of a project folder as they lie on the disk, and what could not be read of them."""

import hashlib
from pathlib import Path

from goodflight.project.faults import Fault

LARGEST = 4_000_000  # bytes of one file


def digest(text: str) -> str:
    """Return the content hash of a file's text."""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def read_files(root: Path) -> tuple[dict[str, str], list[Fault]]:
    """Return the texts of a project folder by path, and what could not be read."""
    texts: dict[str, str] = {}
    faults: list[Fault] = []
    wanted = ["*.toml", "motors/*.toml", "motors/*.csv", "sites/*.toml", "sites/*.geojson"]
    wanted += ["sites/*.json", "flights/*/notes.toml", "codes/*.toml"]
    for path in sorted({path for pattern in wanted for path in root.glob(pattern)}):
        name = path.relative_to(root).as_posix()
        if path.name.startswith("."):
            continue
        if not path.is_file():
            found = "a folder" if path.is_dir() else "a link that leads nowhere, or no plain file"
            advice = "put the file itself here"
            faults.append(Fault(name, 0, "", found, "a text file", advice))
            continue
        if not path.resolve().is_relative_to(root.resolve()):
            found, advice = "a link that leads out of the folder", "put the file itself here"
            faults.append(Fault(name, 0, "", found, "a file inside the project folder", advice))
            continue
        size = path.stat().st_size
        if size > LARGEST:
            found = f"{size} bytes"
            advice = "check that this is the right file"
            faults.append(Fault(name, 0, "", found, f"at most {LARGEST} bytes", advice))
            continue
        try:
            raw = path.read_bytes()
        except OSError as error:
            advice = "let your user read the file"
            faults.append(Fault(name, 0, "", error.strerror or str(error), "a file", advice))
            continue
        try:
            texts[name] = raw.decode("utf-8-sig")
        except UnicodeDecodeError as error:
            line = raw.count(b"\n", 0, error.start) + 1
            found = f"the byte 0x{raw[error.start]:02x}"
            advice = "save the file again as UTF-8 in your editor"
            faults.append(Fault(name, line, "", found, "text in UTF-8", advice))
    return texts, faults
