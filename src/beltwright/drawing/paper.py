"""Paper: sheet sizes and rolls, the scales a drawing may have, the border, the title block and the scale bar."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from beltwright.drawing.lettering import shorten, wrap
from beltwright.drawing.picture import TitleData
from beltwright.drawing.scene import Anchor, Element, Filled, Group, Layer, Words, line, rectangle

SCALES = (50, 75, 100, 125, 150, 200)
A_SIZES = {"A4": (297, 210), "A3": (420, 297), "A2": (594, 420), "A1": (841, 594), "A0": (1189, 841)}
ROLL_HEIGHTS, FOLD, LONGEST_ROLL = (297, 420, 594), 210, 1260
MARGIN, FILING_MARGIN = 10.0, 20.0
TITLE_WIDTH, TITLE_HEIGHT = 186.0, 60.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A sheet: its name, size [mm] and the scale of its main picture (1 : ``scale``)."""

    name: str
    width_mm: float
    height_mm: float
    scale: int

    @property
    def mm_per_m(self) -> float:
        """Paper millimetres per metre of ship."""
        return 1000.0 / self.scale

    @property
    def inner(self) -> tuple[float, float, float, float]:
        """The area inside the border: x, y, width, height [mm]."""
        width = self.width_mm - FILING_MARGIN - MARGIN
        return FILING_MARGIN, MARGIN, width, self.height_mm - 2 * MARGIN


def choose_paper(
    length_m: float, height_m: float, beside_mm: float, above_and_below_mm: float, longest_mm: float = LONGEST_ROLL
) -> Paper:
    """Return the paper for one picture.

    ``beside_mm`` and ``above_and_below_mm`` are what the sheet needs around the picture, margins included. See
    :func:`fit_paper`.
    """
    return fit_paper(lambda mm: (length_m * mm + beside_mm, height_m * mm + above_and_below_mm), longest_mm)


def fit_paper(needs: Callable[[float], tuple[float, float]], longest_mm: float = LONGEST_ROLL) -> Paper:
    """Return the largest scale at which everything fits an A-size or a roll, and the smallest sheet at that scale.

    ``needs`` gives width and height [mm] of all that the sheet holds, margins included, at so many millimetres a
    metre; no sheet is longer than ``longest_mm``. What is too large for every sheet takes the smallest scale on a roll
    made to fit.
    """
    sheets = [(name, float(w), float(h)) for name, (w, h) in A_SIZES.items()]
    lengths = range(FOLD, LONGEST_ROLL + 1, FOLD)
    sheets += [
        (f"roll {height} x {length}", float(length), float(height)) for height in ROLL_HEIGHTS for length in lengths
    ]
    sheets = [sheet for sheet in sheets if sheet[1] <= longest_mm]
    sheets.sort(key=lambda sheet: (sheet[1] * sheet[2], sheet[0]))
    for scale in SCALES:
        width, height = needs(1000.0 / scale)
        for name, sheet_width, sheet_height in sheets:
            if width <= sheet_width and height <= sheet_height:
                return Paper(name=name, width_mm=sheet_width, height_mm=sheet_height, scale=scale)
    folds = -(-width // FOLD) * FOLD
    return Paper(name="roll made to fit", width_mm=folds, height_mm=-(-height // 10) * 10, scale=SCALES[-1])


def border(paper: Paper) -> Group:
    """The border of the sheet."""
    return Group(name="border", items=(rectangle(Layer.BORDER_OF_SHEET, *paper.inner),))


def title_block(paper: Paper, title: TitleData, sheet_title: str, scale_words: str) -> Group:
    """The title block in the lower right corner: who, what, which rules, and the inputs' fingerprint."""
    inner_x, inner_y, inner_width, _ = paper.inner
    x, y = inner_x + inner_width - TITLE_WIDTH, inner_y
    items: list[Element] = [
        Filled(fill="paper", rings=(rectangle(Layer.BOX, x, y, TITLE_WIDTH, TITLE_HEIGHT).runs[0],)),
        rectangle(Layer.BORDER_OF_SHEET, x, y, TITLE_WIDTH, TITLE_HEIGHT),
        Words(at=(x + 4, y + 51.5), text=shorten(title.ship, 6.0, TITLE_WIDTH - 8), size_mm=6.0, bold=True),
        Words(at=(x + 4, y + 44.5), text=shorten(sheet_title, 3.5, TITLE_WIDTH - 8), size_mm=3.5),
    ]
    rows = (
        (("owner", title.owner, 62.0), ("building yard", title.yard, 62.0), ("design office", title.designer, 62.0)),
        (
            ("ice class", title.ice_class, 31.0),
            ("D UI", f"{title.displacement_kt:.3f} kt", 31.0),
            ("rule length", f"{title.length_m:.2f} m", 31.0),
            ("rules", title.rules, 93.0),
        ),
        (
            ("revision", title.revision, 31.0),
            ("scale", scale_words, 62.0),
            ("sheet", paper.name, 46.5),
            ("inputs", title.input_hash[:12], 46.5),
        ),
    )
    for number, row in enumerate(rows):
        items += _row(row, x, y + 40.0 - 10.0 * (number + 1))
    foot = f"beltwright {title.program_version}. Design aid: not approved by a classification society or flag."
    items.append(line(Layer.RULE_LINE, (x, y + 10.0), (x + TITLE_WIDTH, y + 10.0)))
    items.append(
        Words(at=(x + 4, y + 4.0), text=shorten(foot, 2.5, TITLE_WIDTH - 8), size_mm=2.5, layer=Layer.QUIET_WORDS)
    )
    return Group(name="title block", items=tuple(items))


def _row(cells: Sequence[tuple[str, str, float]], x: float, y: float) -> list[Element]:
    """One row of the title block: a small caption over each value."""
    items: list[Element] = [line(Layer.RULE_LINE, (x, y + 10.0), (x + TITLE_WIDTH, y + 10.0))]
    for number, (caption, value, width) in enumerate(cells):
        if number:
            items.append(line(Layer.RULE_LINE, (x, y), (x, y + 10.0)))
        items.append(Words(at=(x + 2, y + 6.9), text=caption, size_mm=1.8, layer=Layer.QUIET_WORDS))
        items.append(Words(at=(x + 2, y + 2.2), text=shorten(value, 2.8, width - 3), size_mm=2.8))
        x += width
    return items


def notes_height(width: float, sentences: Sequence[str], size_mm: float = 2.2) -> float:
    """Return the height [mm] that :func:`notes` takes in a column of some width [mm]."""
    return 8.0 + sum(1.3 * size_mm * len(wrap(text, size_mm, width - 6)) + 0.5 * size_mm for text in sentences)


def notes(
    x: float, top: float, width: float, heading: str, sentences: Sequence[str], size_mm: float = 2.2
) -> list[Element]:
    """Numbered notes in a column, from the top down."""
    items: list[Element] = [Words(at=(x, top - 3.0), text=heading, size_mm=2.8, bold=True)]
    y = top - 8.0
    for number, sentence in enumerate(sentences, 1):
        for part, text in enumerate(wrap(sentence, size_mm, width - 6)):
            if part == 0:
                items.append(Words(at=(x, y), text=f"{number}", size_mm=size_mm, layer=Layer.QUIET_WORDS))
            items.append(Words(at=(x + 6, y), text=text, size_mm=size_mm))
            y -= 1.3 * size_mm
        y -= 0.5 * size_mm
    return items


def scale_bar(x: float, y: float, mm_per_m: float, length_m: int = 10) -> list[Element]:
    """A bar of whole metres, every other one filled."""
    height = 1.6
    items: list[Element] = []
    step = length_m // 5
    rings = [
        rectangle(Layer.BOX, x + mm_per_m * start, y, mm_per_m * step, height).runs[0]
        for start in range(0, length_m, 2 * step)
    ]
    items.append(Filled(fill="ink", rings=tuple(rings)))
    items.append(rectangle(Layer.RULE_LINE, x, y, mm_per_m * length_m, height))
    for mark in range(0, length_m + 1, step):
        text = f"{mark} m" if mark == length_m else f"{mark}"
        anchor = Anchor.START if mark == length_m else Anchor.MIDDLE
        at = x + mm_per_m * mark - (0.8 if mark == length_m else 0.0)
        items.append(Words(at=(at, y + height + 1.2), text=text, size_mm=2.0, anchor=anchor))
    return items


def table(
    x: float,
    top: float,
    heading: str,
    columns: Sequence[tuple[str, float]],
    rows: Sequence[Sequence[str]],
    size_mm: float = 2.2,
    words: Sequence[int] = (0,),
) -> list[Element]:
    """A small table: columns of ``words`` to the left, numbers to the right edge of their column.

    ``columns`` are (header, width [mm]); long words are cut to their column.
    """
    step = 2.0 * size_mm
    width = sum(w for _, w in columns)
    items: list[Element] = [Words(at=(x, top - 3.0), text=heading, size_mm=2.8, bold=True)]
    y = top - 5.0
    items.append(line(Layer.RULE_LINE, (x, y), (x + width, y)))
    for number, row in enumerate([[name for name, _ in columns], *rows]):
        y -= step
        left = x
        for place, (text, (_, column_width)) in enumerate(zip(row, columns, strict=True)):
            first = place in words
            if not text:
                left += column_width
                continue
            items.append(
                Words(
                    at=(left + 1.0 if first else left + column_width - 1.0, y + 0.55 * size_mm),
                    text=shorten(text, size_mm, column_width - 1.5),
                    size_mm=size_mm,
                    anchor=Anchor.START if first else Anchor.END,
                    layer=Layer.QUIET_WORDS if number == 0 else Layer.WORDS,
                )
            )
            left += column_width
        if number in (0, len(rows)):
            items.append(line(Layer.RULE_LINE, (x, y), (x + width, y)))
    return items
