"""The texts of a project folder as they lie on the disk, and what could not be read of them."""

import hashlib
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from goodflight.project.faults import Fault, PlaceRefused
from goodflight.project.folder import Folder

WHERE: Final = {  # the endings that are read, by folder
    "": (".toml",),
    "motors": (".toml", ".csv"),
    "sites": (".toml", ".geojson", ".json"),
    "codes": (".toml",),
}
FLIGHTS, NOTES = "flights", "notes.toml"
PREDICTION: Final = "prediction.json"  # what was predicted of a flight, beside its notes
OF_A_FLIGHT: Final = (NOTES, PREDICTION)
LOGS: Final = (".csv", ".txt")  # endings of what an instrument wrote, beside the notes of a flight


def digest(text: str) -> str:
    """Return the content hash of a file's text."""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def is_project_file(name: str) -> bool:
    """Whether a path inside the folder is one that is read as part of the project."""
    parts = _parts(name)
    if len(parts) == 3:
        return parts[0] == FLIGHTS and parts[2] in OF_A_FLIGHT
    room = parts[0] if len(parts) == 2 else ""
    return len(parts) in (1, 2) and room in WHERE and name.endswith(WHERE[room])


def is_log(name: str) -> bool:
    """Whether a path inside the folder is a log kept with a flight: never read, only handed on."""
    parts = _parts(name)
    return len(parts) == 3 and parts[0] == FLIGHTS and name.lower().endswith(LOGS)


def _parts(name: str) -> list[str]:
    """Split a path inside the folder; none of a name that is hidden, empty or odd."""
    parts = name.split("/")
    odd = any(p.startswith(".") or not p or "\0" in p or "\\" in p for p in parts)
    return [] if odd else parts


def project_files(folder: Folder, faults: list[Fault]) -> list[str]:
    """Return the paths of the files that are read, in order; folders that cannot be: faults."""
    found = [
        f"{room}/{name}" if room else name
        for room in WHERE
        for name in _names(folder, room, faults)
        if is_project_file(f"{room}/{name}" if room else name)
    ]
    for name in _names(folder, FLIGHTS, faults):
        place = f"{FLIGHTS}/{name}"
        files = [f"{place}/{each}" for each in OF_A_FLIGHT if is_project_file(f"{place}/{each}")]
        try:
            if files and folder.kind(place) != "a file":
                found += [file for file in files if folder.kind(file)]
        except PlaceRefused as error:
            faults.append(error.fault)
        except OSError as error:
            faults.append(_not_given(files[0], error, "a folder"))
    return sorted(found, key=lambda name: name.split("/"))


def _names(folder: Folder, room: str, faults: list[Fault]) -> list[str]:
    try:
        return folder.names(room)
    except PlaceRefused as error:
        faults.append(error.fault)
    except OSError as error:
        if not room:
            raise
        faults.append(_not_given(room, error, "a folder"))
    return []


def _not_given(name: str, error: OSError, wanted: str) -> Fault:
    advice = f"let your user read the {wanted.removeprefix('a ')}"
    return Fault(name, 0, "", found=error.strerror or str(error), expected=wanted, advice=advice)


def read_files(root: Path) -> tuple[dict[str, str], list[Fault]]:
    """Return the texts of a project folder by path, and what could not be read."""
    with Folder(root) as folder:
        return read_in(folder)


def read_in(folder: Folder) -> tuple[dict[str, str], list[Fault]]:
    """Return the texts of an open folder by path, and what could not be read."""
    texts: dict[str, str] = {}
    faults: list[Fault] = []
    for name in project_files(folder, faults):
        try:
            raw = folder.read(name)
            texts[name] = raw.decode("utf-8-sig")
        except FileNotFoundError:  # taken away since it was listed
            continue
        except PlaceRefused as error:
            faults.append(error.fault)
        except OSError as error:
            faults.append(_not_given(name, error, "a file"))
        except UnicodeDecodeError as error:
            faults.append(not_utf_8(name, raw, error.start))
    return texts, faults


def not_utf_8(name: str, raw: bytes, at: int) -> Fault:
    """Return the fault of a file that is no text in UTF-8 from byte `at` on."""
    found, advice = f"the byte 0x{raw[at]:02x}", "save the file again as UTF-8 in your editor"
    return Fault(
        name, raw.count(b"\n", 0, at) + 1, "", found=found, expected="text in UTF-8", advice=advice
    )


def begun(root: Path) -> bool:
    """Whether something of a project stands in a folder, sound or not."""
    try:
        with Folder(root) as folder:
            return any(folder.kind(name) for name in ("rocket.toml", "plans.toml"))
    except OSError:
        return False


def stamps(root: Path) -> dict[str, tuple[int, int]]:
    """Return time and size of every file that counts; (0, 0) for what cannot be looked at."""
    found: dict[str, tuple[int, int]] = {}
    try:
        with Folder(root) as folder:
            for room in (*WHERE, FLIGHTS):
                found.update(_stamps_in(folder, room))
    except OSError:  # there is no such folder any more
        return {}
    return found


def _stamps_in(folder: Folder, room: str) -> Iterator[tuple[str, tuple[int, int]]]:
    try:
        names = folder.names(room)
    except (OSError, PlaceRefused):
        yield room, (0, 0)
        return
    if room == FLIGHTS:
        files = [f"{room}/{name}/{each}" for name in names for each in OF_A_FLIGHT]
    else:
        files = [f"{room}/{name}" if room else name for name in names]
    for inside in files:
        if not room and not is_project_file(inside):
            continue
        try:
            seen = folder.stat(inside)
        except (OSError, PlaceRefused):
            yield inside, (0, 0)
            continue
        if seen is not None:  # the later time: a copy may bring an old time of its own along
            yield inside, (max(seen.st_mtime_ns, seen.st_ctime_ns), seen.st_size)
