"""Buyers' copies: what is appended, where the mark lies, names in several scripts, and the files as others read them."""

import io
import shutil
import subprocess
from collections.abc import Callable
from types import ModuleType

import numpy as np
import pikepdf
import pypdfium2
import pytest
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen

from planbook.booklet import Edition, compose
from planbook.press import (
    LEAST_SIZE,
    Copier,
    NoMaster,
    Owner,
    Typesetter,
    check_font,
    copier,
    press,
    usual_faces,
    with_mark,
)
from planbook.press.font_files import NotAFont
from planbook.press.mark_places import CLEAR, HIGH, WIDE, Spot, free_spots
from planbook.press.outlines import Face, _reordered

ADA = Owner("Ada Fenn", "1042", "For one maker; not to be passed on")
DOTS = 1.25
PLAIN = """<!DOCTYPE html><html lang="de"><title>Tray</title><style>
@font-face { font-family: "Source Sans Pro"; src: url("planbook:font/SourceSansPro-Regular.ttf") }
@page { size: A4 } p { font-family: "Source Sans Pro" }</style>"""


def house() -> Typesetter:
    """Only the fonts of the house, so that a test does not hang on what a machine has."""
    return Typesetter([next(usual_faces())])


@pytest.fixture(scope="module")
def book(tray: ModuleType) -> bytes:
    return press(compose(tray.boat_tray(Edition("a4"))), Edition("a4").paper_row).pdf


@pytest.fixture(scope="module")
def marked(book: bytes) -> bytes:
    return with_mark(book)


@pytest.fixture(scope="module")
def made(marked: bytes) -> Copier:
    return copier(marked, house())


def pixels(pdf: bytes) -> list[np.ndarray]:
    document = pypdfium2.PdfDocument(pdf)
    try:
        return [page.render(scale=DOTS).to_numpy().copy() for page in document]
    finally:
        document.close()


def inside(spot: Spot, shape: tuple[int, ...]) -> tuple[slice, slice]:
    left, bottom, right, top = spot.box
    rows = slice(int(shape[0] - top * DOTS), int(shape[0] - bottom * DOTS) + 1)
    return rows, slice(int(left * DOTS), int(right * DOTS) + 1)


def test_an_empty_mark_changes_no_page_and_a_name_only_its_place(book: bytes, marked: bytes, made: Copier) -> None:
    before, empty, after = pixels(book), pixels(marked), pixels(marked + made.copy(ADA))
    spots = list(free_spots(book))
    assert len(before) == len(empty) == len(after) == len(spots) > 20
    for plain, bare, named, spot in zip(before, empty, after, spots, strict=True):
        assert spot is not None
        assert np.array_equal(plain, bare)
        changed = (bare != named).any(axis=2)
        where = inside(spot, changed.shape)
        assert changed[where].sum() > 150
        changed[where] = False
        assert not changed.any()


def test_the_mark_lies_on_bare_paper_with_nothing_between_it_and_the_edge(book: bytes) -> None:
    for page, spot in zip(pixels(book), free_spots(book), strict=True):
        assert spot is not None
        left, bottom, right, top = spot.box
        high, wide = page.shape[0] / DOTS, page.shape[1] / DOTS
        away = {"foot": bottom, "right": wide - right, "left": left, "head": high - top}
        edge = min(away, key=lambda name: away[name])
        assert away[edge] >= 6
        bands = {
            "foot": (slice(int((high - top) * DOTS), None), slice(int(left * DOTS), int(right * DOTS))),
            "head": (slice(0, int((high - bottom) * DOTS)), slice(int(left * DOTS), int(right * DOTS))),
            "left": (slice(int((high - top) * DOTS), int((high - bottom) * DOTS)), slice(0, int(right * DOTS))),
            "right": (slice(int((high - top) * DOTS), int((high - bottom) * DOTS)), slice(int(left * DOTS), None)),
        }
        assert page[bands[edge]].min() >= 250


def test_a_copy_is_the_master_and_a_little_more_that_qpdf_finds_sound(marked: bytes, made: Copier) -> None:
    whole = marked + made.copy(ADA)
    assert len(whole) - len(marked) < 20_000
    with pikepdf.open(io.BytesIO(whole)) as document:
        assert document.check_pdf_syntax() == []
        assert not document.get_warnings()
        info = {str(key): str(value) for key, value in document.docinfo.items()}
        assert info["/CopyFor"] == "Ada Fenn"
        assert info["/CopyOrder"] == "1042"
        assert info["/CopyLicence"] == ADA.licence
        assert info["/Title"] == "Boat-shaped tray"
        with document.open_metadata() as metadata:
            assert metadata["dc:identifier"] == "1042"
            assert "Ada Fenn" in str(metadata["dc:rights"])
            assert metadata["pdfuaid:part"] == "1"


@pytest.mark.skipif(shutil.which("qpdf") is None, reason="the same check as pikepdf's, by the program")
def test_the_program_qpdf_has_nothing_to_say(marked: bytes, made: Copier, tmp_path) -> None:
    path = tmp_path / "copy.pdf"
    path.write_bytes(marked + made.copy(ADA))
    ran = subprocess.run(["qpdf", "--check", str(path)], capture_output=True, text=True, check=False)
    assert (ran.returncode, ran.stderr) == (0, "")


def test_the_same_order_gives_the_same_bytes_and_another_one_others(book: bytes, marked: bytes, made: Copier) -> None:
    again = copier(with_mark(book), house())
    assert again.master == marked
    assert again.copy(ADA) == made.copy(ADA)
    other = made.copy(Owner("Ada Fenn", "1043", ADA.licence))
    assert other != made.copy(ADA)
    with (
        pikepdf.open(io.BytesIO(marked + other)) as one,
        pikepdf.open(io.BytesIO(marked + made.copy(ADA))) as two,
    ):
        assert bytes(one.trailer.ID[0]) == bytes(two.trailer.ID[0])
        assert bytes(one.trailer.ID[1]) != bytes(two.trailer.ID[1])


def test_a_marked_file_is_not_marked_again(marked: bytes) -> None:
    assert with_mark(marked) == marked


def test_the_mark_is_an_artifact_of_a_tagged_page(marked: bytes) -> None:
    """Whatever is drawn in a tagged file is content of the tree or an artifact (ISO 14289-1, 7.1)."""
    with pikepdf.open(io.BytesIO(marked)) as document:
        for page in document.pages:
            names = [str(op.operator) for op in pikepdf.parse_content_stream(page)]
            assert names[0] == "q"
            assert names[-7:] == ["Q", "BMC", "q", "cm", "Do", "Q", "EMC"]


@pytest.mark.parametrize("mode", [pikepdf.ObjectStreamMode.disable, pikepdf.ObjectStreamMode.generate])
def test_the_update_has_a_cross_reference_of_the_masters_kind(marked: bytes, mode: pikepdf.ObjectStreamMode) -> None:
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(marked)) as document:
        document.save(out, object_stream_mode=mode, deterministic_id=True)
    rest = copier(out.getvalue(), house()).copy(ADA)
    table = mode == pikepdf.ObjectStreamMode.disable
    assert (b"trailer" in rest) == table
    assert (b"/Type/XRef" in rest) != table
    with pikepdf.open(io.BytesIO(out.getvalue() + rest)) as document:
        assert document.check_pdf_syntax() == []
        assert str(document.docinfo["/CopyOrder"]) == "1042"


def test_a_copy_is_no_master(marked: bytes, made: Copier) -> None:
    with pytest.raises(NoMaster, match="copy"):
        copier(marked + made.copy(ADA), house())


@pytest.mark.parametrize(
    "name", ["Žofie Łęcka", "Ελένη Παππά", "Íñigo Ørsted", "Юлия Ёлкина", "Nguyễn Thị Ánh", "O’Neill & “Söhne” <b>"]
)
def test_names_of_european_scripts_are_drawn_with_the_fonts_of_the_house(made: Copier, name: str) -> None:
    owner = Owner(name, "7", "For one maker")
    assert made.lacking(owner) == ()
    assert made.type_size(owner) >= LEAST_SIZE
    line = made.setter.line(name)
    assert len(line.glyphs) >= len(name.replace(" ", "")) - 2
    assert line.width > 0
    with pikepdf.open(io.BytesIO(made.master + made.copy(owner))) as document:
        assert str(document.docinfo["/CopyFor"]) == name
        with document.open_metadata() as metadata:
            assert name in str(metadata["dc:rights"])


def a_font(path, glyphs: dict[int, Callable[[TTGlyphPen], None]]) -> None:
    """A font with a few signs only, made by fontTools."""
    names = [".notdef", *(f"u{code:04X}" for code in glyphs)]
    builder = FontBuilder(1000, isTTF=True)
    builder.setupGlyphOrder(names)
    builder.setupCharacterMap({code: f"u{code:04X}" for code in glyphs})
    drawn = {}
    for name, draw in zip(names, [lambda pen: None, *glyphs.values()], strict=True):
        pen = TTGlyphPen(None)
        draw(pen)
        drawn[name] = pen.glyph()
    builder.setupGlyf(drawn)
    builder.setupHorizontalMetrics(
        {name: (1000, drawn[name].xMin if drawn[name].numberOfContours else 0) for name in names}
    )
    builder.setupHorizontalHeader(ascent=900, descent=-100)
    builder.setupNameTable({"familyName": "Signs", "styleName": "Regular"})
    builder.setupOS2()
    builder.setupPost()
    builder.save(path)


def square(pen: TTGlyphPen) -> None:
    pen.moveTo((100, 0))
    for point in ((900, 0), (900, 800), (100, 800)):
        pen.lineTo(point)
    pen.closePath()


def test_a_sign_without_font_is_told_and_a_font_that_has_it_is_used(marked: bytes, made: Copier, tmp_path) -> None:
    owner = Owner("森 \U00013000", "7", "For one maker")
    assert made.lacking(owner) == ("森", "\U00013000")
    path = tmp_path / "signs.ttf"
    a_font(path, {ord("森"): square, 0x13000: lambda pen: None})
    check_font(path)
    better = copier(marked, Typesetter([*made.setter._opened, Face(path)]))
    assert better.lacking(owner) == ("\U00013000",), "an empty outline shows nothing"
    ((glyph, x, _),) = better.setter.line("森").glyphs
    assert (glyph.box, x) == ((100, 0, 900, 800), 0)


def test_what_is_no_font_is_refused(tmp_path) -> None:
    path = tmp_path / "no.ttf"
    path.write_bytes(b"no font at all")
    with pytest.raises(NotAFont):
        check_font(path)


HEBREW = dict.fromkeys(range(1488, 1515), square)
LATIN = dict.fromkeys((*range(40, 59), *range(65, 91), *range(97, 123), 32), square)


def test_words_that_run_leftward_stand_as_the_unicode_algorithm_says(tmp_path) -> None:
    """UAX 9: of `a אב c` only the two letters of the middle change places; of `אב 12` the number comes first."""
    path = tmp_path / "signs.ttf"
    a_font(path, {**HEBREW, **LATIN})
    face = Face(path)
    setter = Typesetter([face])

    def ordered(text: str) -> str:
        return "|".join(run.text for run in _reordered(setter._runs(text)))

    assert ordered("a אב c") == "a |אב| |c"
    assert ordered("אב 12") == "12|אב "
    numbers = [number for number, *_ in face.shaped("אב", True)]
    assert numbers == [number for number, *_ in face.shaped("בא", False)], "from left to right, the last letter first"


def test_a_long_mark_is_set_smaller_and_one_that_is_too_long_is_told(made: Copier) -> None:
    usual = made.type_size(ADA)
    long = made.type_size(Owner("Ada Fenn " * 8, "1042", ADA.licence * 2))
    assert usual == 7
    assert LEAST_SIZE <= long < 7
    assert made.type_size(Owner("W" * 80, "W" * 40, "W" * 120)) < LEAST_SIZE


def test_the_mark_speaks_the_language_of_the_booklet(tmp_path) -> None:
    german = copier(with_mark(press(PLAIN + "<p>Ein Tablett.", Edition("a4").paper_row).pdf), house())
    assert german._words(ADA)[:2] == ("Kopie für Ada Fenn", "Bestellung 1042")


def test_a_page_without_room_is_told_by_its_number() -> None:
    full = PLAIN + "<style>@page full { margin: 0; background: #333 }</style><p>one<p style='page: full'>two"
    with pytest.raises(NoMaster) as caught:
        with_mark(press(full, Edition("a4").paper_row).pdf)
    assert caught.value.page == 2


def test_a_margin_that_is_inked_at_the_foot_moves_the_mark() -> None:
    html = PLAIN + "<style>@page { @bottom-center { content: 'x'; background: #999; width: 100%; } }</style><p>one"
    (spot,) = free_spots(press(html, Edition("a4").paper_row).pdf)
    assert spot is not None
    assert spot.upright
    assert (WIDE, HIGH, CLEAR) == (425.0, 9.5, 1.0)


@pytest.mark.parametrize("data", [b"", b"%PDF-1.7\n%%EOF\n", b"PK\x03\x04", bytes(range(256)) * 9])
def test_what_is_no_pdf_is_no_master(data: bytes) -> None:
    with pytest.raises(NoMaster):
        with_mark(data)


def test_a_locked_or_turned_pdf_is_no_master(book: bytes) -> None:
    locked, turned, open_to_all = io.BytesIO(), io.BytesIO(), io.BytesIO()
    with pikepdf.open(io.BytesIO(book)) as document:
        document.save(locked, encryption=pikepdf.Encryption(owner="a", user="b"))
        document.save(open_to_all, encryption=pikepdf.Encryption(owner="a", user=""))
        document.pages[2].rotate(90, relative=False)
        document.save(turned)
    for file, page in ((locked, 0), (open_to_all, 0), (turned, 3)):
        with pytest.raises(NoMaster) as caught:
            with_mark(file.getvalue())
        assert caught.value.page == page


def test_a_damaged_end_gives_no_copies(marked: bytes) -> None:
    with pytest.raises(NoMaster):
        copier(marked[: len(marked) // 2], house())
    with pytest.raises(NoMaster):
        copier(marked.replace(b"startxref", b"startxxxx"), house())
