"""Drawings with their words in the units of whoever reads them."""

from dataclasses import replace

from goodflight.quantity.said import told
from goodflight.studies.bench.shapes import Template, TemplateSet, Words


def spoken(of: TemplateSet, units: str) -> TemplateSet:
    """A set whose notes and words stand in the reader's units."""
    return replace(
        of,
        templates=tuple(spoken_template(each, units) for each in of.templates),
        notes=tuple(told(note, units) for note in of.notes),
    )


def spoken_template(of: Template, units: str) -> Template:
    """One drawing, the same."""
    return replace(
        of,
        shapes=tuple(
            replace(shape, text=told(shape.text, units)) if isinstance(shape, Words) else shape
            for shape in of.shapes
        ),
        notes=tuple(told(note, units) for note in of.notes),
    )
