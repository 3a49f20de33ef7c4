"""What the maker shows beside the drawings, as it is printed: photos, and the moment of a film with a code to scan."""

from collections.abc import Iterator

import segno

from planbook.booklet.basics import Figure, FilmRow, PhotoRow
from planbook.booklet.editions import Edition
from planbook.booklet.names import Names
from planbook.booklet.prose import plain_words
from planbook.model import Card, Design, Moment, Shown, Step, address_of, size_in_room
from planbook.model.pictures import PHOTO_ROOM, ROOM_OF_SEVERAL
from planbook.reader.photo_file import in_grey
from planbook.speech import say

QUIET = 4
"""Modules of bare paper around a code (ISO/IEC 18004)."""
LEAST_CODE, LEAST_MODULE = 20.0, 0.6
"""A code without its bare rim is at least so wide, each module too, mm: what a telephone reads at arm's length."""


def photo_rows(design: Design, step: Step, names: Names, edition: Edition) -> tuple[PhotoRow, ...]:
    """The photos of a step; in an edition of one ink they are grey."""
    return tuple(_photos(design, step, names, edition))


def _photos(design: Design, step: Step, names: Names, edition: Edition) -> Iterator[PhotoRow]:
    room = PHOTO_ROOM if len(step.shown) == 1 else ROOM_OF_SEVERAL
    for shown in step.shown:
        photo = design.photos.get(shown.file)
        if photo is None:  # a draft, whose findings say why
            continue
        width, height = size_in_room(photo.width, photo.height, room)
        jpeg = in_grey(photo.jpeg) if edition.ink == "black" else photo.jpeg
        alt = plain_words(shown.alt, names.resolve) or say(
            "Photo of step {number}: {title}.", number=step.number, title=step.title
        )
        yield PhotoRow(jpeg, round(width, 2), round(height, 2), alt, _language(shown, design, edition))


def _language(shown: Shown, design: Design, edition: Edition) -> str:
    said_in = (shown.language or design.card.language) if shown.alt else edition.language
    return "" if said_in == edition.language else said_in


def film_row(card: Card, moment: Moment | None) -> FilmRow | None:
    """The moment of the film that shows a step, as a link and as a code."""
    if moment is None:
        return None
    address = address_of(card.film, card.film_moment, moment)
    label = say("In the film at {moment}", moment=moment.words)
    return FilmRow(code(address, f"{say('A code to scan.')} {label}."), label, address, address.partition("://")[2])


def code(address: str, alt: str) -> Figure:
    """A QR code (ISO/IEC 18004) as one shape on white, with its bare rim."""
    rows = [bytes(row) for row in segno.make_qr(address, error="m").matrix]
    count = len(rows)
    module = max(LEAST_CODE / count, LEAST_MODULE)
    whole = count + 2 * QUIET
    side = round(whole * module, 3)
    shape = "".join(f"M{x + QUIET} {y + QUIET}h{n}v1h-{n}z" for y, row in enumerate(rows) for x, n in _runs(row))
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{side}mm" height="{side}mm" viewBox="0 0 {whole} {whole}">'
        f'<path d="M0 0h{whole}v{whole}h-{whole}z" fill="#ffffff"/><path d="{shape}" fill="#000000"/></svg>'
    )
    return Figure(svg, side, side, alt)


def _runs(row: bytes) -> Iterator[tuple[int, int]]:
    """Where dark modules begin in a row, and how many follow."""
    start = 0
    while (start := row.find(1, start)) >= 0:
        end = row.find(0, start)
        end = len(row) if end < 0 else end
        yield start, end - start
        start = end
