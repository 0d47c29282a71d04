"""The units that a project wants its figures shown in, before anything else of it is read."""

import tomllib
from pathlib import Path

from goodflight.project.faults import PlaceRefused
from goodflight.project.folder import Folder
from goodflight.quantity import Units


def units_of(root: Path) -> Units:
    """Return the units that rocket.toml names; metric where it names none or cannot be read.

    Parameters
    ----------
    root : Path - the project's folder. [-]

    Returns
    -------
    units : str - "metric" or "imperial". [-]
    """
    try:
        with Folder(root) as folder:
            said = tomllib.loads(folder.read("rocket.toml").decode()).get("units")
    except (PlaceRefused, OSError, ValueError, RecursionError):
        return "metric"  # what is wrong is told when the project is read
    return "imperial" if said == "imperial" else "metric"
