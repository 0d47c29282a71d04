"""The builder's files: read with every fault named, saved without losing anything.

`load` returns a `Project`; `edit` and its kin write a change back into the text files.
"""

from goodflight.project.faults import Fault, ProjectErrors, SaveRefused
from goodflight.project.reading import load, read_project
from goodflight.project.records import Plan, Project, Uncertain

__all__ = [
    "Fault",
    "Plan",
    "Project",
    "ProjectErrors",
    "SaveRefused",
    "Uncertain",
    "load",
    "read_project",
]
