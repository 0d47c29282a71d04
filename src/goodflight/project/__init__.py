"""The builder's files: read with every fault named, saved without losing anything.

`load` returns a `Project`; `edit` and its kin write a change back into the text files.
"""

from goodflight.project.editing import add_part, changed_texts, edit, edit_all, remove_part
from goodflight.project.faults import (
    Fault,
    NoSuchPlan,
    ProjectErrors,
    SavedTwice,
    SaveRefused,
    SaveUnfinished,
)
from goodflight.project.kept import Version
from goodflight.project.reading import load, read_project
from goodflight.project.records import Plan, Project
from goodflight.project.saving import (
    bring_back,
    keep_version,
    restore,
    versions,
    write_files,
    write_project,
)
from goodflight.project.uncertain import Uncertain
from goodflight.quantity import Refused

__all__ = [
    "Fault",
    "NoSuchPlan",
    "Plan",
    "Project",
    "ProjectErrors",
    "Refused",
    "SaveRefused",
    "SaveUnfinished",
    "SavedTwice",
    "Uncertain",
    "Version",
    "add_part",
    "bring_back",
    "changed_texts",
    "edit",
    "edit_all",
    "keep_version",
    "load",
    "read_project",
    "remove_part",
    "restore",
    "versions",
    "write_files",
    "write_project",
]
