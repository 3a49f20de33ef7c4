"""A whole booklet of invented content to look at and measure: a boat-shaped tray by Saltmarsh Workshop."""

from io import BytesIO
from math import cos, pi, sin

from markupsafe import Markup
from PIL import Image

from planbook.booklet import (
    BoardRow,
    Book,
    CautionRow,
    Edition,
    Fact,
    FitRow,
    Link,
    MarkRow,
    PieceRow,
    PrecautionRow,
    StencilRow,
    StepRow,
    SupplyRow,
    check_ruler,
    figure,
    prose_html,
)
from planbook.booklet.basics import PhotoRow
from planbook.booklet.shown import film_row
from planbook.drawing.marks import Fill, Mark, Pen, Picture, Stroke, Words
from planbook.handbook import caution, general_precautions
from planbook.model import Card, Moment
from planbook.text import Place

BAR_LEFT, BAR_TOP, BAR = 30.0, 40.0, 100.0
_LINE = Pen(0.35)
_FINE = Pen(0.13, "#6f6b64")
_NEW = Pen(0.6, "#0b6a75")

_FILM = Card(
    *("Boat-shaped tray", "", "1.2", "Saltmarsh Workshop", "in", "", "", ""),
    film="https://film.example/saltmarsh/boat-tray",
    place=Place("design.toml"),
    film_moment="https://film.example/saltmarsh/boat-tray?from={seconds}",
)

TITLES = (
    "Mill the boards",
    "Glue up the blank",
    "Square the blank to its finished size",
    "Stick the outline stencil on the top",
    "Bore the starting holes",
    "Saw out the well",
    "Slice off the floor",
    "Sand the inside of the well",
    "Glue the floor back on",
    "Saw the outline of the hull",
    "Sand the hull down to its line",
    "Bore for the handle",
    "Round over the gunwale",
    "Make the handle from the offcut and fit it between the two cheeks",
    "Glue the handle in",
    "Sand everything through the grits",
    "Wipe on the oil",
    "Line the floor with felt",
)
WORDS = (
    "Keep just outside the line; it is easier to sand down to {line} than to put wood back. Turn the "
    "{blank} with both hands and let the blade do the work. If it wanders, stop the saw and back out.",
    "Lay the boards in the order they will stand, with the grain of each running the same way, and mark a "
    "triangle across all of them. Spread a thin even film on one face of each joint.\n\n- Close the clamps in turn."
    "\n- Wipe off what squeezes out before it skins over.\n- Check with a straightedge that the blank is flat.",
    "The wall is {wall} thick all round. Measure it at the bow and at both cheeks before you go on.",
    "Press the paper down from the middle outwards. Its centre line must stand on the line you drew in the "
    "step before.\n\nThe grain arrow points along the length of the {blank}. "
    "Nothing else tells one end from the other.",
)
NAMES = {
    "line": "1/32 in",
    "wall": "3/8 in",
    "blank": Markup('<a class="piece" href="#piece-1">blank</a>'),
}
PIECES = (
    "blank",
    "hull",
    "well core",
    "floor",
    "rim",
    "handle blank",
    "handle",
    "left cheek",
    "right cheek",
    "felt pad",
)


def boat_tray(edition: Edition, steps: int = 18, stencils: int = 5) -> Book:
    """The booklet. `steps` of its eighteen steps, `stencils` pages at true size."""
    return Book(
        title="Boat-shaped tray",
        summary="A small laminated tray for keys and coins, sawn from a single blank 3 1/2 in high: the "
        "well drops out, the floor is sliced off the core and glued back.",
        maker="Saltmarsh Workshop",
        version="1.2",
        language=edition.language,
        unit=edition.units,
        sheet=edition.sheet,
        draft=edition.draft,
        cover=figure(boat(170, 120, 14, "The finished tray, seen from above the bow.")),
        intro=prose_html("Made from offcuts, in two evenings. The shape forgives a hand that is new to the saw.", _of),
        facts=_facts(),
        ruler=figure(check_ruler()),
        marks=_marks(),
        precautions=tuple(PrecautionRow(row.headline, row.text) for row in general_precautions()),
        tools=_tools(),
        supplies=_supplies(),
        boards=_boards(),
        lumber=(Fact("Black walnut", "1.75 board ft"), Fact("Sugar maple", "0.42 board ft")),
        diagrams=(),
        exploded=None,
        sheets=(),
        pieces=_pieces(),
        steps=tuple(_step(n) for n in range(1, steps + 1)),
        fits=_fits(),
        proved="The fits hold for saw kerfs from 1/64 in to 3/64 in, and through the moisture of a year.",
        stencils=tuple(_stencil(edition, n, stencils) for n in range(1, stencils + 1)),
        licence=prose_html(
            "You may make and sell as many trays as you like from this plan. Please do not pass on the "
            "plan itself. See [the terms](https://saltmarsh.example/terms).",
            _of,
        ),
        colophon=(Fact("Plan", "Boat-shaped tray"), Fact("Version", "1.2"), Fact("Edition", edition.title)),
    )


def boat(width: float, height: float, planks: int, alt: str, new: int = 3) -> Picture:
    """A hull of many lines, about fifteen kilobytes of SVG, as heavy as a picture of a real step."""
    marks: list[Mark] = []
    for n in range(planks, 0, -1):
        outer, shade = _oval(width, height, n / planks), 0xF2 - 6 * (n % 7)
        marks.append(Fill((outer,), f"#{shade:02x}{shade - 10:02x}{shade - 34:02x}", "wood"))
        marks.append(Stroke(outer, _NEW if n == new else _LINE if n == planks else _FINE, "edge", closed=True))
    marks += [
        Stroke(((width * 0.78, height * 0.3), (width * 0.9, height * 0.1)), Pen(0.15), "leader"),
        Words((width * 0.9, height * 0.08), "rim", 3.2, "middle"),
        Stroke(((width * 0.3, height * 0.55), (width * 0.12, height * 0.9)), Pen(0.15), "leader"),
        Words((width * 0.12, height * 0.96), "well core", 3.2, "middle"),
    ]
    return Picture(width, height, tuple(marks), alt)


def _oval(width: float, height: float, scale: float) -> tuple[tuple[float, float], ...]:
    turns = [2 * pi * k / 54 for k in range(54)]
    return tuple(
        (
            width * (0.5 + 0.42 * scale * cos(a)),
            height * (0.5 + 0.4 * scale * sin(a) * (0.75 + 0.25 * cos(a))),
        )
        for a in turns
    )


def _of(name: str) -> Markup | str | None:
    return NAMES.get(name)


def _links(*numbers: int) -> tuple[Link, ...]:
    return tuple(Link(str(n), f"step-{n}") for n in numbers)


def _facts() -> tuple[Fact, ...]:
    return (
        Fact("Finished size", "11 1/4 × 5 1/2 × 3 1/2 in"),
        Fact("Weight", "1.9 lb"),
        Fact("Skill", "some experience with a band saw"),
        Fact("Woods", "black walnut, sugar maple"),
        Fact("Work", "5 h 40 min"),
        Fact("Lumber", "2.2 board ft"),
        Fact("From start to end", "4 days"),
        Fact("Steps", "18"),
        Fact("Stencil pages", "5"),
    )


def _marks() -> tuple[MarkRow, ...]:
    def row(pen: Pen, name: str, text: str) -> MarkRow:
        line = Picture(24, 4, (Stroke(((1, 2), (23, 2)), pen),), f"The line for {name}")
        return MarkRow(figure(line), name, text)

    return (
        row(Pen(0.5, "#b3322a"), "Cut line", "Saw here, on the side that the step names."),
        row(Pen(0.25, "#1d1d1b", (3, 1.5)), "Sand line", "Saw 1/32 in outside it and sand down to it."),
        row(Pen(0.18, "#6f6b64", (6, 1.5, 1, 1.5)), "Centre line", "Lay it on the line drawn on the wood."),
        row(Pen(0.18, "#3d4f8a", (1, 1)), "Alignment edge", "It lies along an edge of the blank."),
    )


def _tools() -> tuple[SupplyRow, ...]:
    return (
        SupplyRow("Narrow blade", "width 1/8 in, kerf 1/32 in", "band saw", _links(6, 10)),
        SupplyRow("Wide blade", "width 1/2 in, kerf 3/64 in", "band saw, for slicing straight", _links(7)),
        SupplyRow("Drill press", "", "", _links(5, 12)),
        SupplyRow("Forstner bit", "diameter 1/2 in", "", _links(5)),
        SupplyRow("Brad-point bit", "diameter 5/16 in", "sharp; it must not lift the fibres", _links(12)),
        SupplyRow("Spindle sander", "drum 2 in", "", _links(8, 11)),
        SupplyRow("Router table", "round-over 3/16 in", "", _links(13)),
        SupplyRow("Bar clamps", "6", "", _links(2, 9, 15)),
    )


def _supplies() -> tuple[SupplyRow, ...]:
    return (
        SupplyRow("Wood glue", "2 fl oz", "PVA, interior", _links(2, 9, 15)),
        SupplyRow("Spray adhesive", "as needed", "for the stencils", _links(4)),
        SupplyRow("Sandpaper P80, P120, P180, P240", "2 sheets each", "", _links(8, 11, 16)),
        SupplyRow("Tung oil", "3 fl oz", "3 coats", _links(17)),
        SupplyRow("Wool felt", "1 ft²", "", _links(18)),
    )


def _boards() -> tuple[BoardRow, ...]:
    return (
        BoardRow("3", "Hull boards", "black walnut", "13 × 6 1/4 × 1 in", "12 × 6 × 7/8 in", "1.69 board ft"),
        BoardRow("2", "Stripes", "sugar maple", "13 × 6 1/4 × 1/2 in", "12 × 6 × 7/16 in", "1.13 board ft"),
        BoardRow(
            "1",
            "Handle board",
            "sugar maple",
            "8 × 1 1/2 × 3/4 in",
            "7 1/2 × 1 1/4 × 5/8 in",
            "0.08 board ft",
        ),
    )


def _pieces() -> tuple[PieceRow, ...]:
    return tuple(
        PieceRow(
            str(n),
            name,
            f"piece-{n}",
            figure(boat(38, 28, 4, f"The piece {name}.")),
            "black walnut, sugar maple" if n < 6 else "sugar maple",
            "11 1/4 × 5 1/2 × 3/8 in",
            Link(str(n + 1), f"step-{n + 1}"),
            _links(n + 2, n + 4),
        )
        for n, name in enumerate(PIECES, start=1)
    )


_RECALLED = (CautionRow("WARNING", "", (Link("saw (3)", "step-3"), Link("stick (4)", "step-4"))),)


def _step(number: int) -> StepRow:
    words = WORDS[number % 4] + ("\n\n" + WORDS[(number + 1) % 4] if number % 5 == 2 else "")
    settings = (Fact("Tool", "narrow blade"), Fact("Leave", "1/32 in"), Fact("Kerf", "1/32 in"))
    picture = boat(98, 62 if number % 3 else 72, 13, f"Step {number}: {TITLES[number - 1]}.", number % 12)
    return StepRow(
        number,
        f"step-{number}",
        TITLES[number - 1],
        (figure(picture),),
        (prose_html(words, _of),),
        settings[: number % 4],
        (*_cautions(number), *(_RECALLED if number > 4 else ())),
        "45 min" if number in (2, 9, 15) else "",
        photos=_photos(number),
        film=film_row(_FILM, Moment(95 * number, Place("steps.md"))) if number in (2, 4, 11) else None,
    )


def _photos(number: int) -> tuple[PhotoRow, ...]:
    """One photo in colour at step 3, one in grey of another language and an upright one at step 4."""
    if number == 3:
        return (PhotoRow(_photo("RGB", (1157, 868)), 98.0, 73.5, "The blank against the square, seen from its end."),)
    if number == 4:
        one = PhotoRow(_photo("L", (900, 600)), 79.0, 52.67, "Der Bogen auf dem Brett.", "de")
        return (one, PhotoRow(_photo("RGB", (600, 800)), 55.5, 74.0, "A thumb smooths the paper down."))
    return ()


def _photo(mode: str, size: tuple[int, int]) -> bytes:
    out = BytesIO()
    Image.radial_gradient("L").resize(size).convert(mode).save(out, "JPEG", quality=85)
    return out.getvalue()


def _cautions(number: int) -> tuple[CautionRow, ...]:
    keys = {1: ("mill",), 2: ("glue up",), 3: ("saw", "square"), 4: ("stick",), 7: ("slice",)}.get(number, ())
    rows = [row for key in keys if (row := caution(key)) is not None]
    return tuple(CautionRow(row.signal, row.text) for row in rows)


def _fits() -> tuple[FitRow, ...]:
    return (
        FitRow("handle in cheeks", "clearance, tightest at the foot", "0.010 to 0.030 in", "0.016 to 0.024 in"),
        FitRow("wall of the hull", "thickness", "at least 0.313 in", "0.371 in"),
        FitRow("floor in the well", "clearance", "0.000 to 0.020 in", "0.004 to 0.011 in"),
    )


def _stencil(edition: Edition, number: int, of: int) -> StencilRow:
    sheet = edition.sheet
    hull = _oval(sheet.width, 120, 0.9)
    marks: tuple[Mark, ...] = (
        Words((20, 20), f"{number} of {of}: outline of the hull", 5, bold=True),
        Stroke(((BAR_LEFT, BAR_TOP), (BAR_LEFT + BAR, BAR_TOP)), Pen(0.3, "#ff0000"), "ruler"),
        Stroke(((BAR_LEFT, BAR_TOP + 5), (BAR_LEFT, BAR_TOP + 5 + BAR)), Pen(0.3, "#0000ff"), "ruler"),
        Words((BAR_LEFT, BAR_TOP - 3), "100 mm", 3.5),
        *(Stroke(tuple((x, y + 90 + 20 * k) for x, y in hull), _LINE, "cut", closed=True) for k in range(3)),
    )
    page = Picture(sheet.width, sheet.height, marks, f"Stencil {number}: the outline of the hull at true size.")
    return StencilRow(f"stencil-{number}", f"Stencil {number} of {of}: outline of the hull", figure(page))
