"""The builder's files: read with every fault named, saved without losing anything.

`load` returns a `Project`; `edit` and its kin write a change back into the text files.
"""

from goodflight.project.editing import add_part, changed_texts, edit, edit_all, remove_part
from goodflight.project.faults import Fault, NoSuchPlan, ProjectErrors, SaveRefused
from goodflight.project.reading import load, read_project
from goodflight.project.records import Plan, Project, Uncertain
from goodflight.project.saving import (
    Version,
    bring_back,
    restore,
    versions,
    write_files,
    write_project,
)
from goodflight.quantity import Refused

__all__ = [
    "Fault",
    "NoSuchPlan",
    "Plan",
    "Project",
    "ProjectErrors",
    "Refused",
    "SaveRefused",
    "Uncertain",
    "Version",
    "add_part",
    "bring_back",
    "changed_texts",
    "edit",
    "edit_all",
    "load",
    "read_project",
    "remove_part",
    "restore",
    "versions",
    "write_files",
    "write_project",
]
