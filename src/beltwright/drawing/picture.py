"""What the sheets show, as plain arrays in metres: the design as a draughtsman sees it.

Places on the shell expansion are (x, girth): x from the aft perpendicular, true girth from the keel's centreline.
Places on the profile are (x, z), on a section (y, z), on a waterline plan (x, y).
"""

from __future__ import annotations

from dataclasses import dataclass

from beltwright.core.units import FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class TitleData:
    """What stands in every title block; displacement and length as the load formulas take them."""

    ship: str
    owner: str
    yard: str
    designer: str
    revision: str
    ice_class: str
    rules: str
    displacement_kt: float
    length_m: float
    input_hash: str
    program_version: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ShellCurve:
    """A named curve on the shell: (x, girth) and (x, z), each (n, 2) [m]; ``kind`` in the words of the ship model."""

    name: str
    kind: str
    expansion: FloatArray
    profile: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelPicture:
    """One plate panel: its outline on the expansion (n, 2) and on the profile (m, 2), its hull area and its group.

    ``plate`` is thickness and grade in words, empty where there is none. ``unasked`` names shell for which the class
    asks no ice strengthening: the hull areas that the panel touches, or what lies outside them; empty where it asks.
    """

    id: str
    outline: FloatArray
    profile: FloatArray
    hull_area: str
    group: str
    met: bool
    plate: str = ""
    unasked: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlatePicture:
    """A physical plate on the expansion: name, rings (n, 2) [m], thickness and grade in words, places inside (k, 2).

    The first of the places is the best one for words.
    """

    name: str
    rings: tuple[FloatArray, ...]
    words: str
    places: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class Callout:
    """Words for one group of frames and the places on the expansion (n, 2) where they may stand."""

    group: str
    lines: tuple[str, ...]
    places: FloatArray
    met: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class FrameMark:
    """A frame station: its number as written, its place and what stands there."""

    label: str
    number: float
    x_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class AreaBorder:
    """A border between hull areas: the areas on either side, the curve, and for a transverse one its dimension.

    ``aft_of_stem_m`` and ``frame`` are empty for borders that run along the ship.
    """

    name: str
    sides: tuple[str, str]
    curve: ShellCurve
    transverse: bool
    aft_of_stem_m: float | None
    x_m: float | None
    frame: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionPicture:
    """A section of the hull at a frame: the frame's number in words, its place, and points (n, 2) of (y, z) [m]."""

    frame: str
    x_m: float
    points: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class StationPicture:
    """One station where hull angles are read: where, the angles [deg] (None where not applicable) and two curves.

    ``section`` (y, z) and ``buttock`` (x, z) through the point, each (n, 2) [m].
    """

    name: str
    aft_of_stem_m: float
    point: tuple[float, float, float]
    alpha_deg: float | None
    beta_deg: float | None
    beta_prime_deg: float | None
    gamma_deg: float | None
    section: FloatArray
    buttock: FloatArray
    frame: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class AreaPicture:
    """One hull area: its code and title, and in words its area factor, mean pressure, plating and frame sections.

    ``net_required`` and ``renewal`` are the plating's net thickness required and that below which it is renewed [mm].

    ``pressure`` is that of the area's own load patch, ``governing_load`` the area whose load asks for its thickest
    plate.
    """

    code: str
    title: str
    strengthened: bool
    area_factor: str = "–"
    pressure: str = "–"
    governing_load: str = "–"
    plating: str = "–"
    frames: str = "–"
    net_required: str = "–"
    renewal: str = "–"


@dataclass(frozen=True, slots=True, kw_only=True)
class ShipPicture:
    """Everything the sheets draw. Curves are of the port half; ``sections`` stand from aft forward.

    ``plates`` are the physical plates where they were laid; without them the sheets show panels alone.
    """

    title: TitleData
    panels: tuple[PanelPicture, ...]
    frame_callouts: tuple[Callout, ...]
    frames: tuple[FloatArray, ...]
    intermediate_frames: tuple[FloatArray, ...]
    web_frames: tuple[FloatArray, ...]
    levels: tuple[ShellCurve, ...]
    bulkheads: tuple[ShellCurve, ...]
    openings: tuple[ShellCurve, ...]
    borders: tuple[AreaBorder, ...]
    areas: tuple[AreaPicture, ...]
    upper: ShellCurve
    lower: ShellCurve
    expansion_outline: FloatArray
    profile_outline: FloatArray
    waterline_plan: FloatArray
    sections: tuple[SectionPicture, ...]
    stations: tuple[StationPicture, ...]
    frame_marks: tuple[FrameMark, ...]
    stem_x_m: float
    draughts: tuple[tuple[str, float, float, float], ...]
    cautions: tuple[str, ...]
    plates: tuple[PlatePicture, ...] = ()
