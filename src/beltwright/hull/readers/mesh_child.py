"""Triangle meshes (STL, OBJ, PLY) through trimesh; runs only in a child process."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import trimesh

from beltwright.hull.readers.mesh_clean import clean
from beltwright.hull.readers.worker import Arrays, Record, RefusedError

MAX_TRIANGLES = 4_000_000


def read(job: Record, _arrays: Arrays) -> tuple[Record, Arrays]:
    """Read a mesh file; equal corners are joined, empty and doubled triangles left out and counted."""
    path, form = Path(str(job["path"])), str(job["format"])
    try:
        with path.open("rb") as stream:
            scene = trimesh.load_scene(stream, file_type=form, process=False)
        meshes = [(name, mesh) for name, mesh in _meshes(scene) if len(mesh.faces)]
    except (ValueError, KeyError, IndexError, TypeError, AttributeError, NotImplementedError, UnicodeError) as error:
        raise RefusedError(f"is not a {form.upper()} file that can be read ({type(error).__name__})") from None
    if not meshes:
        raise RefusedError("holds no triangle")
    if sum(len(mesh.faces) for _, mesh in meshes) > MAX_TRIANGLES:
        raise RefusedError(f"holds more than {MAX_TRIANGLES} triangles")
    found: Arrays = {}
    faces: list[Record] = []
    notes: list[str] = []
    for name, mesh in meshes:
        vertices = np.asarray(mesh.vertices, dtype=np.float64)
        triangles = np.asarray(mesh.faces, dtype=np.int64)
        if not np.all(np.isfinite(vertices)):
            bad = int(np.flatnonzero(~np.isfinite(vertices).all(axis=1))[0])
            raise RefusedError(f"{name}: vertex {bad} has a coordinate that is not a finite number")
        vertices, triangles = clean(vertices, triangles, name, notes)
        found[f"f{len(faces)}_vertices"], found[f"f{len(faces)}_triangles"] = vertices, triangles
        faces.append({"name": name, "single": _single(path, form)})
    return {"faces": faces, "units": [], "notes": notes}, found


def _meshes(scene: Any) -> list[tuple[str, Any]]:
    """Return every triangle mesh with its name."""
    meshes = [(str(name), g) for name, g in scene.geometry.items() if isinstance(g, trimesh.Trimesh)]
    return meshes if len(meshes) > 1 else [("mesh", g) for _, g in meshes]


def _single(path: Path, form: str) -> bool:
    """Return whether the file stores 32-bit numbers."""
    with path.open("rb") as stream:
        head = stream.read(4096)
    if form == "stl":
        return not _is_text_stl(head)
    if form == "ply":
        lines = head.split(b"end_header")[0].split(b"\n")
        return any(line.split()[:2] in ([b"property", b"float"], [b"property", b"float32"]) for line in lines)
    return False


def _is_text_stl(head: bytes) -> bool:
    """Return whether an STL file is the text kind."""
    return head.lstrip()[:5].lower() == b"solid" and b"facet" in head and b"\0" not in head
