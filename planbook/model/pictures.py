"""Frozen records of what a maker shows beside the drawings: photos, and moments of a film; nothing is opened here."""

from dataclasses import dataclass, field

from planbook.text import Place

PHOTO_ROOM = (98.0, 90.0)
"""Width and most height of a photo on the page, mm: as wide as the drawing of a step, a third of the page high."""
ROOM_OF_SEVERAL = (79.0, 74.0)
"""The same where a step has several photos, so that two stand side by side on the narrowest paper."""
DOTS_AN_INCH = 300
"""What paper needs: a page is read from 300 mm, where 300 dots an inch are about a minute of arc, which an eye with
normal vision (6/6, ISO 8596) just tells apart."""


@dataclass(frozen=True, slots=True)
class Photo:
    """A photo made fit to leave the house: turned upright, no larger than paper needs, and nothing in it but dots.

    `kept` is the file as it is copied out, of the same sort as the original; `jpeg` is what is printed. The size is in
    dots. A photo that was fit already is kept as it is, so that a copy gives the same bytes as the original.
    """

    file: str
    kept: bytes = field(repr=False)
    jpeg: bytes = field(repr=False)
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class Shown:
    """A photo that the words of a step ask for: its file, its alternative text with names in braces, its place.

    The language is that of the translation that says it, or empty for that of the design.
    """

    file: str
    alt: str
    place: Place
    language: str = ""


@dataclass(frozen=True, slots=True)
class Moment:
    """Where in the maker's film a step is shown, in whole seconds from its start."""

    seconds: int
    place: Place

    @property
    def words(self) -> str:
        """The moment as it is printed: "4 min 10 s"."""
        hours, rest = divmod(self.seconds, 3600)
        minutes, seconds = divmod(rest, 60)
        parts = [(hours, "h"), (minutes, "min"), (seconds, "s")]
        return " ".join(f"{count} {unit}" for count, unit in parts if count) or "0 s"


def size_in_room(width: float, height: float, room: tuple[float, float] = PHOTO_ROOM) -> tuple[float, float]:
    """Width and height in mm of a photo of these sides (in any unit) that fills its room on the page."""
    scale = min(room[0] / width, room[1] / height)
    return width * scale, height * scale


def address_of(film: str, pattern: str, moment: Moment) -> str:
    """The address of a moment of a film by the maker's pattern; that of the film where there is none.

    `{seconds}` are all seconds from the start; or `{h}`, `{min}` and `{s}` are its parts (without `{h}`, all minutes).
    """
    minutes, seconds = divmod(moment.seconds, 60)
    hours = minutes // 60
    parts = {"seconds": moment.seconds, "h": hours, "min": minutes % 60 if "{h}" in pattern else minutes, "s": seconds}
    address = pattern or film
    for name, count in parts.items():
        address = address.replace(f"{{{name}}}", str(count))
    return address
