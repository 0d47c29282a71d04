"""Templates as DXF R2010 in millimetres, one layer for each kind of line."""

import io
import re
from math import degrees
from typing import TYPE_CHECKING, Final

from goodflight.outputs.bench.paper import arranged
from goodflight.studies.bench.shapes import LAYERS, Circle, Layer, Line, TemplateSet

if TYPE_CHECKING:
    from ezdxf.document import Drawing

_INKS: Final[dict[Layer, tuple[int, str]]] = {  # colour index and line type of the layer
    "cut": (7, "CONTINUOUS"),
    "bore": (1, "CONTINUOUS"),
    "paper": (6, "CONTINUOUS"),
    "mark": (5, "CONTINUOUS"),
    "bevel": (3, "DASHED"),
    "grain": (8, "CONTINUOUS"),
    "hidden": (9, "DASHED"),
    "dimension": (8, "CONTINUOUS"),
    "words": (8, "CONTINUOUS"),
}


def template_dxf(of: TemplateSet) -> str:
    """All templates of a set in model space, millimetres, for cutting services and machines.

    Parameters
        of : TemplateSet - what to draw. [m]
    Returns
        dxf : str - R2010 (AC1024) text. [-]
    Raises
        nothing
    Validity
        Circles stay circles; other curves are closed polylines within 0.005 mm.
    Source
        DXF reference, R2010.
    Example
        >>> "AC1024" in template_dxf(TemplateSet("r", "s", ()))
        True
    """
    from ezdxf import units
    from ezdxf.enums import TextEntityAlignment
    from ezdxf.filemanagement import new

    document = new("R2010", setup=["linetypes"])
    document.units = units.MM
    document.header["$MEASUREMENT"] = 1
    for layer in LAYERS:
        colour, kind = _INKS[layer]
        document.layers.add(layer.upper(), color=colour, linetype=kind)
    space = document.modelspace()
    for shape in arranged(of.templates):
        look = {"layer": shape.layer.upper()}
        if isinstance(shape, Circle):
            x, y = shape.centre_m
            space.add_circle((1e3 * x, 1e3 * y), 1e3 * shape.radius_m, dxfattribs=look)
        elif isinstance(shape, Line):
            points = [(1e3 * x, 1e3 * y) for x, y in shape.points_m]
            space.add_lwpolyline(points, close=shape.closed, dxfattribs=look)
        else:
            words = str(shape.text).replace("Ø", "%%c").replace("±", "%%p")  # the file's own signs
            entity = space.add_text(words, height=1e3 * shape.height_m, dxfattribs=look)
            entity.dxf.rotation = degrees(shape.turn_rad)
            place = (1e3 * shape.at_m[0], 1e3 * shape.at_m[1])
            entity.set_placement(place, align=TextEntityAlignment.MIDDLE_CENTER)
    return _text(document)


def _text(document: "Drawing") -> str:
    """The file's text without clock times and random marks: same input, same file."""
    from ezdxf._options import options

    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        stream = io.StringIO()
        document.write(stream)
    finally:
        options.write_fixed_meta_data_for_testing = before
    return re.sub(r"(?m)^(\d+\.\d+\.\d+) @ \d{4}-.*$", r"\1", stream.getvalue())
