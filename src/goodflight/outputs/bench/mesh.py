"""Printed pieces as watertight STL and 3MF, in millimetres."""

import io
import struct
import zipfile
from collections.abc import Sequence
from dataclasses import dataclass
from html import escape
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from goodflight.studies.bench.guide_print import Prism
from goodflight.studies.bench.planes import pieces_of, snapped

GRID_M: Final = 2e-6  # corners snap to it, so that faces of neighbouring prisms coincide
_STAMP: Final = (1980, 1, 1, 0, 0, 0)  # no clock in the file


@dataclass(frozen=True, eq=False)
class Mesh:
    """A closed surface: corners in mm and triangles, outward by the right-hand rule."""

    name: str
    vertices_mm: NDArray[np.float64]  # (n, 3)
    triangles: NDArray[np.int64]  # (m, 3)


def mesh_of(name: str, prisms: Sequence[Prism]) -> Mesh:
    """Join prisms into one closed body.

    Parameters
        name : str - of the piece. [-]
        prisms : sequence of Prism - plane figures with heights. [m]
    Returns
        mesh : Mesh - closed and outward. [mm]
    Raises
        ValueError - the prisms do not hang together, or have no volume
    Validity
        Figures without self-crossings.
    Source
        Boolean union of extrusions (manifold3d).
    Example
        none
    """
    from manifold3d import (  # type: ignore[import-not-found]
        CrossSection,
        FillRule,
        Manifold,
    )

    bodies = []
    for prism in prisms:
        contours: list[Any] = []
        figure = snapped(prism.figure, GRID_M)
        for piece in pieces_of(figure):
            for ring in (piece.exterior, *piece.interiors):
                contours.append(1e3 * np.asarray(ring.coords, dtype=float)[:-1])
        section = CrossSection(contours, FillRule.EvenOdd)
        high = 1e3 * (prism.high_m - prism.low_m)
        bodies.append(Manifold.extrude(section, high).translate((0, 0, 1e3 * prism.low_m)))
    body = bodies[0]
    for other in bodies[1:]:
        body += other
    if body.is_empty() or len(body.decompose()) != 1:
        raise ValueError(
            f"{name}: the piece would come in {len(body.decompose())} parts instead of one; "
            "widen the ring or lower the clearance."
        )
    mesh = body.to_mesh()
    vertices = np.asarray(mesh.vert_properties, dtype=np.float64)[:, :3]
    return _closed(Mesh(name, vertices, np.asarray(mesh.tri_verts, dtype=np.int64)))


def _closed(mesh: Mesh) -> Mesh:
    """The mesh with equal corners joined, after checking that every edge has two faces."""
    rounded = np.round(mesh.vertices_mm, 4)
    vertices, index = np.unique(rounded, axis=0, return_inverse=True)
    faces = index.reshape(-1)[mesh.triangles]
    keep = (
        (faces[:, 0] != faces[:, 1]) & (faces[:, 1] != faces[:, 2]) & (faces[:, 2] != faces[:, 0])
    )
    faces = faces[keep]
    edges = np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]])
    ways, counts = np.unique(edges, axis=0, return_counts=True)
    back, back_counts = np.unique(edges[:, ::-1], axis=0, return_counts=True)
    if not (np.array_equal(ways, back) and np.array_equal(counts, back_counts)):
        raise ValueError(
            f"{mesh.name}: the surface is not closed after rounding to 0.1 micrometre; nothing was "
            "written. Change a clearance by a hundredth of a millimetre and try again."
        )
    return Mesh(mesh.name, vertices, faces)


def stl(meshes: Sequence[Mesh]) -> bytes:
    """Binary STL of all pieces, side by side, standing on z = 0 (an STL holds no unit: mm)."""
    rows = []
    at = 0.0
    for mesh in meshes:
        low, high = mesh.vertices_mm.min(axis=0), mesh.vertices_mm.max(axis=0)
        points = mesh.vertices_mm + np.array([at - low[0], -low[1], -low[2]])
        at += float(high[0] - low[0]) + 5.0
        rows.append(points[mesh.triangles])
    corners = np.concatenate(rows) if rows else np.zeros((0, 3, 3))
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    lengths = np.linalg.norm(normals, axis=1, keepdims=True)
    normals = normals / np.where(lengths > 0.0, lengths, 1.0)
    record = np.zeros(
        len(corners), dtype=[("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")]
    )
    record["normal"], record["corners"] = normals, corners
    head = b"millimetres".ljust(80, b" ")
    return head + struct.pack("<I", len(corners)) + record.tobytes()


_TYPES: Final = (
    '<?xml version="1.0" encoding="UTF-8"?>\n'
    '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
    '<Default Extension="rels" '
    'ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="model" '
    'ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>'
    "</Types>\n"
)
_RELATIONS: Final = (
    '<?xml version="1.0" encoding="UTF-8"?>\n'
    '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
    '<Relationship Target="/3D/3dmodel.model" Id="rel0" '
    'Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>\n'
)


def three_mf(meshes: Sequence[Mesh]) -> bytes:
    """A 3MF package with one object for each piece, unit millimetre.

    Source
        3MF core specification 1.2 (open standard), memory.
    """
    objects, items = [], []
    at = 0.0
    for number, mesh in enumerate(meshes, 1):
        low, high = mesh.vertices_mm.min(axis=0), mesh.vertices_mm.max(axis=0)
        points = mesh.vertices_mm + np.array([at - low[0], -low[1], -low[2]])
        at += float(high[0] - low[0]) + 5.0
        corners = "".join(f'<vertex x="{x:.6f}" y="{y:.6f}" z="{z:.6f}"/>' for x, y, z in points)
        faces = "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in mesh.triangles)
        objects.append(
            f'<object id="{number}" type="model" name="{escape(mesh.name)}"><mesh>'
            f"<vertices>{corners}</vertices><triangles>{faces}</triangles></mesh></object>"
        )
        items.append(f'<item objectid="{number}"/>')
    model = (
        '<?xml version="1.0" encoding="UTF-8"?>\n<model unit="millimeter" xml:lang="en" '
        'xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">'
        f"<resources>{''.join(objects)}</resources><build>{''.join(items)}</build></model>\n"
    )
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as package:
        parts = (
            ("[Content_Types].xml", _TYPES),
            ("_rels/.rels", _RELATIONS),
            ("3D/3dmodel.model", model),
        )
        for name, text in parts:
            package.writestr(zipfile.ZipInfo(name, _STAMP), text)
    return stream.getvalue()
