"""Gives every page of a finished PDF one shared, empty mark, which a buyer's copy fills; done once for a release."""

import io
from collections.abc import Sequence

import pikepdf
from pikepdf import Dictionary, Name

from planbook.press.mark_places import HIGH, WIDE, Spot, free_spots

KEY = Name("/XXPlanbookMark")
"""Where the catalogue of the file names the mark: a private key (ISO 32000-1, annex E.2, names of third class)."""
MOST_BYTES = 200_000_000
_NOT_OURS = ("dc:rights", "dc:identifier")
"""What a copy says in the metadata by itself; a master does not say it too."""


class NoMaster(ValueError):  # noqa: N818 - it is told to people like a finding
    """A file that no copies can be made from; `page` counts from 1, 0 for the whole file."""

    def __init__(self, reason: str, page: int = 0) -> None:
        super().__init__(reason)
        self.page = page


def with_mark(pdf: bytes) -> bytes:
    """The PDF with the empty mark on every page; one that has it comes back as it is. Same bytes in, same bytes out.

    Raises NoMaster for what is not a PDF, is locked, or has a page without room for the mark.
    """
    try:
        with pikepdf.open(io.BytesIO(pdf)) as document:
            if document.is_encrypted:
                raise NoMaster("it is locked with a password")
            if KEY in document.Root:
                return pdf
            if not len(document.pages):
                raise NoMaster("it has no pages")
            _mark(document, _spots(pdf, document))
            out = io.BytesIO()
            document.save(out, deterministic_id=True)
    except pikepdf.PasswordError:
        raise NoMaster("it is locked with a password") from None
    except pikepdf.PdfError:
        raise NoMaster("it is not a PDF that can be read") from None
    return out.getvalue()


def _spots(pdf: bytes, document: pikepdf.Pdf) -> Sequence[Spot]:
    for number, page in enumerate(document.pages, start=1):
        if page.rotation % 360:
            raise NoMaster(f"page {number} is turned", number)
    found = []
    for number, spot in enumerate(free_spots(pdf), start=1):
        if spot is None:
            room = f"{HIGH * 25.4 / 72:.1f} x {WIDE * 25.4 / 72:.0f} mm"
            raise NoMaster(f"page {number} has no free strip of {room} along an edge", number)
        found.append(spot)
    return found


def _mark(document: pikepdf.Pdf, spots: Sequence[Spot]) -> None:
    form = document.make_stream(
        b"", Type=Name.XObject, Subtype=Name.Form, BBox=[0, 0, WIDE, HIGH], Resources=Dictionary()
    )
    document.Root[KEY] = form
    for page, spot in zip(document.pages, spots, strict=True):
        name = page.add_resource(form, Name.XObject, Name("/PlanbookMark"), replace_existing=True)
        page.contents_add(document.make_stream(b"q"), prepend=True)
        page.contents_add(document.make_stream(_drawn(page, spot, name)))
    _metadata(document)


def _drawn(page: pikepdf.Page, spot: Spot, name: Name) -> bytes:
    """The mark at its place, as an artifact: it is no part of what a screen reader reads (ISO 14289-1, 7.1)."""
    left, bottom = (float(edge) for edge in list(page.cropbox)[:2])
    a, b = (0.0, spot.scale) if spot.upright else (spot.scale, 0.0)
    matrix = " ".join(f"{value:.4f}" for value in (a, b, -b, a, left + spot.x, bottom + spot.y))
    return f"Q /Artifact BMC q {matrix} cm {name} Do Q EMC".encode()


def _metadata(document: pikepdf.Pdf) -> None:
    with document.open_metadata(set_pikepdf_as_editor=False, update_docinfo=False) as metadata:
        if "/Metadata" not in document.Root:
            metadata.load_from_docinfo(document.docinfo)
        for key in _NOT_OURS:
            if key in metadata:
                del metadata[key]
