"""Stencils measured in the finished PDF: bars, outlines and holes at true size, tiles put together by their marks."""

import ctypes
import math
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from shapely import union_all
from shapely.geometry import LineString, Polygon
from shapely.ops import polygonize, unary_union

from planbook.booklet import Edition
from planbook.drawing.correction import UNCORRECTED, Correction
from planbook.pipeline import build
from planbook.solids import plane

MM = 25.4 / 72
"""One PDF point in mm: 1 in = 25.4 mm exactly (international yard, 1959) and 72 points (ISO 32000)."""
CLOSE = 0.1

DESIGN = """
title = "Pebble tray"
version = "1.0"
maker = "Saltmarsh Workshop"
units = "mm"
[stock.board]
wood = "sugar maple"
size = ["{long}", "20 mm", "{high}"]
grain = "x"
[shapes.ring]
kind = "ellipse"
at = ["{mid_u}", "{mid_v}"]
width = "{width}"
height = "{height}"
[shapes.way]
kind = "line"
from = ["{mid_u}", "-5 mm"]
to = ["{mid_u}", "{low}"]
[stencils.tray]
title = "Tray"
face = "front"
lines = {{ ring = "ring", way = "way" }}
holes = {{ spot = {{ at = ["{mid_u}", "{mid_v}"], diameter = "12 mm" }} }}
[tools.blade]
kind = "band saw"
kerf = "1 mm"
[tools.bit]
kind = "drill"
diameter = "12 mm"
"""

STEPS = """
## Mill the board

Mill it.

```mill
boards = ["board"]
```

## Bore

Stick the stencil on and bore.

```stick
piece = "board"
stencil = "tray"
```

```bore
piece = "board"
stencil = "tray"
drill = "bit"
```

## Saw

Saw it out.

```saw
piece = "board"
stencil = "tray"
blade = "blade"
lines = ["ring"]
entry = ["way"]
makes = { tray = "inside", frame = "outside" }
```

```discard
pieces = ["frame"]
```
"""

Line = list[tuple[float, float]]


def lines_of(page: pypdfium2.PdfPage) -> list[Line]:
    """Every drawn line of a page: its points in mm from the top left corner of the sheet."""
    height = page.get_height()
    found: list[Line] = []
    for item in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH], max_depth=6):
        matrix = item.get_matrix().get()
        box = item.container
        while box is not None:
            matrix = _times(matrix, box.get_matrix().get())
            box = box.container
        for line in _runs(item):
            points = [
                (matrix[0] * x + matrix[2] * y + matrix[4], matrix[1] * x + matrix[3] * y + matrix[5]) for x, y in line
            ]
            found.append([(x * MM, (height - y) * MM) for x, y in points])
    return found


def _times(a: tuple[float, ...], b: tuple[float, ...]) -> tuple[float, ...]:
    return (
        a[0] * b[0] + a[1] * b[2],
        a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4],
        a[4] * b[1] + a[5] * b[3] + b[5],
    )


def _runs(item: pypdfium2.PdfObject) -> Iterator[Line]:
    run: Line = []
    x, y = ctypes.c_float(), ctypes.c_float()
    for number in range(pdfium.FPDFPath_CountSegments(item.raw)):
        segment = pdfium.FPDFPath_GetPathSegment(item.raw, number)
        pdfium.FPDFPathSegment_GetPoint(segment, x, y)
        if pdfium.FPDFPathSegment_GetType(segment) == pdfium.FPDF_SEGMENT_MOVETO and run:
            yield run
            run = []
        run.append((x.value, y.value))
        if pdfium.FPDFPathSegment_GetClose(segment) and run:
            run.append(run[0])
    if run:
        yield run


Printed = Callable[..., tuple[pypdfium2.PdfDocument, list[int]]]


@pytest.fixture
def printed(tmp_path: Path) -> Printed:
    """A booklet of a tray of this size, and the numbers of its stencil pages."""

    def make(
        width: float, height: float, paper: str, correction: Correction = UNCORRECTED
    ) -> tuple[pypdfium2.PdfDocument, list[int]]:
        long, high = width + 20, height + 20
        values = {
            "long": f"{long} mm",
            "high": f"{high} mm",
            "mid_u": f"{long / 2} mm",
            "mid_v": f"{high / 2} mm",
            "width": f"{width} mm",
            "height": f"{height} mm",
            "low": f"{high / 2 - height / 2} mm",
        }
        folder = tmp_path / "pebble-tray"
        folder.mkdir()
        (folder / "design.toml").write_text(DESIGN.format(**values))
        (folder / "steps.md").write_text(STEPS)
        built = build(folder, Edition(paper, "mm", correction=correction), tmp_path)  # type: ignore[arg-type]
        assert not [f for f in built.findings if f.stops], built.findings
        document = pypdfium2.PdfDocument(next(f for f in built.files if f.suffix == ".pdf"))
        texts = [document[n].get_textpage().get_text_bounded() for n in range(len(document))]
        return document, [n for n, text in enumerate(texts) if "irst measure the bars below" in text]

    return make


def spans(lines: list[Line]) -> np.ndarray:
    """Width and height of every line, mm."""
    return np.array([np.ptp(np.array(line), axis=0) for line in lines if len(line) > 1])


def nearest_ring(lines: list[Line], width: float, height: float) -> Polygon:
    """The closed line whose width and height come nearest to those asked for."""
    rings = [line for line in lines if len(line) > 20 and math.dist(line[0], line[-1]) < 0.01]
    assert rings, "no closed line on the page"
    return Polygon(min(rings, key=lambda r: sum(abs(np.ptp(np.array(r), axis=0) - (width, height)))))


@pytest.mark.parametrize(("paper", "size"), [("a4", (210.0, 297.0)), ("letter", (215.9, 279.4))])
def test_a_stencil_is_printed_at_true_size(printed: Printed, paper: str, size: tuple[float, float]) -> None:
    # ISO 216 (A4) and ANSI/ASME Y14.1 (Letter, 8 1/2 x 11 in).
    document, pages = printed(150, 90, paper)
    assert len(pages) == 1
    page = document[pages[0]]
    assert (page.get_width() * MM, page.get_height() * MM) == pytest.approx(size, abs=0.05)
    lines = lines_of(page)
    sizes = spans(lines)
    for bar in (100.0, 101.6):  # 4 in = 101.6 mm exactly
        assert np.abs(sizes[:, 0] - bar).min() < CLOSE, f"no bar of {bar} mm"
    for side in (50.0, 50.8):  # the check squares: 2 in = 50.8 mm exactly
        assert np.abs(sizes - side).max(axis=1).min() < CLOSE, f"no square of {side} mm"
    ring = nearest_ring(lines, 150, 90)
    left, top, right, bottom = ring.bounds
    assert (right - left, bottom - top) == pytest.approx((150, 90), abs=CLOSE)
    # A = pi a b, and every point of it lies on the ellipse.
    assert ring.area == pytest.approx(math.pi * 75 * 45, rel=1e-3)
    centre = ((left + right) / 2, (top + bottom) / 2)
    for x, y in ring.exterior.coords:
        angle = math.atan2((y - centre[1]) / 45, (x - centre[0]) / 75)
        true = (centre[0] + 75 * math.cos(angle), centre[1] + 45 * math.sin(angle))
        assert math.dist((x, y), true) < CLOSE
    hole = nearest_ring(lines, 12, 12)
    assert hole.bounds[2] - hole.bounds[0] == pytest.approx(12, abs=CLOSE)
    assert hole.centroid.distance(ring.centroid) < CLOSE


def test_a_corrected_stencil_comes_true_on_the_printer_it_was_measured_on(printed: Printed) -> None:
    """The drawn lengths times what the printer makes of them are the true ones, on a page of the usual size."""
    correction = Correction(98.6, 101.4)
    document, pages = printed(150, 90, "a4", correction)
    page = document[pages[0]]
    assert (page.get_width() * MM, page.get_height() * MM) == pytest.approx((210, 297), abs=0.05)
    assert "Corrected for 98.6 × 101.4 mm." in page.get_textpage().get_text_bounded()
    across, along = correction.factors
    lines = [[(x * across, y * along) for x, y in line] for line in lines_of(page)]
    for bar in (100.0, 101.6):
        assert np.abs(spans(lines)[:, 0] - bar).min() < CLOSE
    ring = nearest_ring(lines, 150, 90)
    left, top, right, bottom = ring.bounds
    assert (right - left, bottom - top) == pytest.approx((150, 90), abs=CLOSE)
    true = plane.ellipse(((left + right) / 2, (top + bottom) / 2), 150, 90).shape
    assert ring.exterior.hausdorff_distance(true.exterior) < CLOSE


def test_corrected_tiles_put_together_give_the_outline(printed: Printed) -> None:
    correction = Correction(101.2, 99.1)
    document, pages = printed(320, 190, "letter", correction)
    assert len(pages) == 2
    ring = _ring_of(_joined(document, pages, correction.factors))
    left, top, right, bottom = ring.bounds
    wide = right - left > bottom - top
    true = plane.ellipse(((left + right) / 2, (top + bottom) / 2), *((320, 190) if wide else (190, 320))).shape
    assert ring.intersection(true).area / ring.union(true).area > 0.999
    assert ring.exterior.hausdorff_distance(true.exterior) < 0.2


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_tiles_put_together_by_their_marks_give_the_outline(printed: Printed, paper: str) -> None:
    document, pages = printed(320, 190, paper)
    assert len(pages) == 2
    ring = _ring_of(_joined(document, pages))
    left, top, right, bottom = ring.bounds
    sides = sorted((right - left, bottom - top))
    assert sides == pytest.approx([190, 320], abs=0.2)
    wide = right - left > bottom - top
    true = plane.ellipse(((left + right) / 2, (top + bottom) / 2), *((320, 190) if wide else (190, 320))).shape
    assert ring.intersection(true).area / ring.union(true).area > 0.999
    assert ring.exterior.hausdorff_distance(true.exterior) < 0.2


def _joined(
    document: pypdfium2.PdfDocument, pages: list[int], factors: tuple[float, float] = (1.0, 1.0)
) -> list[LineString]:
    """The long curves of two tiles, the second moved so that its diamonds fall on those of the first."""
    first, second = (
        [[(x * factors[0], y * factors[1]) for x, y in line] for line in lines_of(document[n])] for n in pages
    )
    shifts = np.array(_diamonds(first)) - np.array(_diamonds(second))
    assert np.ptp(shifts, axis=0) == pytest.approx([0, 0], abs=0.02), "the marks of the tiles are not alike"
    dx, dy = shifts.mean(axis=0)
    moved = [[(x + dx, y + dy) for x, y in line] for line in second]
    return [LineString(line) for line in (*first, *moved) if len(line) > 30 and math.dist(line[0], line[-1]) > 1]


def _diamonds(lines: list[Line]) -> list[tuple[float, float]]:
    """The middles of the match marks, from the top and from the left: closed lines of four corners, 6 mm wide."""
    corners = [np.array(line[:4]) for line in lines if len(line) in (5, 6) and math.dist(line[0], line[4]) < 0.01]
    boxes = [(c.mean(axis=0), np.ptp(c, axis=0)) for c in corners]
    middles = [tuple(middle) for middle, size in boxes if size == pytest.approx([6, 6], abs=0.05)]
    return sorted({(round(x, 3), round(y, 3)) for x, y in middles}, key=lambda m: (m[1], m[0]))


def _ring_of(curves: list[LineString]) -> Polygon:
    # Where two tiles overlap, their curves lie within the rounding of the file, 0.01 mm, and need not cross.
    whole = unary_union(list(polygonize(union_all(curves, grid_size=0.02))))
    polygons = list(getattr(whole, "geoms", [whole]))
    return Polygon(max(polygons, key=lambda p: p.area).exterior)


@pytest.mark.parametrize(
    ("width", "correction"), [(150, UNCORRECTED), (330, UNCORRECTED), (330, Correction(98.0, 102.0))]
)
def test_every_sheet_says_which_plan_and_page_it_is_below_all_that_is_drawn(
    printed: Printed, width: float, correction: Correction
) -> None:
    document, pages = printed(width, 90, "a4", correction)
    for n in pages:
        page = document[n]
        text = page.get_textpage()
        found = text.search(f"Pebble tray · Version 1.0 · page {n + 1}", match_case=True).get_next()
        assert found is not None, n + 1
        boxes = [text.get_charbox(found[0] + k) for k in range(found[1])]
        low, high = min(b[1] for b in boxes) * MM, max(b[3] for b in boxes) * MM
        assert low > 7.0, "printers leave 8 mm blank, but for the tails of letters"
        lines = [y for line in lines_of(page) for _, y in line]
        assert high < page.get_height() * MM - max(lines), "a line is drawn below the words"
