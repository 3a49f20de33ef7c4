"""Takes the photos that steps ask for out of the folder of a design, made fit to leave the house; it prints none."""

from collections.abc import Iterable, Iterator
from pathlib import Path

from planbook.model import Photo, Shown, size_in_room
from planbook.reader import photo_kinds
from planbook.reader.files import load_named
from planbook.reader.photo_file import MOST_DOTS, SUFFIXES, NotAPhoto, Taken, TooManyDots, take_photo
from planbook.text import Finding, Place

MOST_BYTES = 60_000_000
FEWEST_DOTS = 120
"""To the inch: with fewer, single dots are seen at reading distance (common practice in print asks for 150 to 300)."""
NARROWEST = 15.0
"""The least that must be left of the narrow side of a photo, mm."""


def take_photos(folder: Path, shown: Iterable[Shown]) -> tuple[dict[str, Photo], list[Finding]]:
    """Every photo that is asked for, by its file, and what is wrong with them. Whatever the files hold, this raises
    nothing."""
    photos: dict[str, Photo] = {}
    findings: list[Finding] = []
    asked: dict[str, None] = {}
    for each in shown:
        if not each.alt:
            headline = f"the photo `{_quoted(each.file)}` has no words for those who do not see it"
            hint = "say in its square brackets what is to be seen"
            findings.append(photo_kinds.WITHOUT_WORDS.at(each.place, headline, hint=hint))
        if each.file in asked:
            continue
        asked[each.file] = None
        taken, finding = _taken(folder, each)
        findings += [finding] if finding else []
        if taken:
            photos[each.file] = taken.photo
            findings += _about(taken, each.place)
    return photos, findings


def _taken(folder: Path, shown: Shown) -> tuple[Taken | None, Finding | None]:
    name, place = shown.file, shown.place
    suffix = Path(name).suffix
    if suffix.lower() not in SUFFIXES:
        headline = f"the photo `{_quoted(name)}` is neither a `.jpg` nor a `.png` file"
        return None, photo_kinds.NOT_A_PHOTO.at(place, headline, hint="save it again as JPEG")
    raw, finding = load_named(folder, name, place, MOST_BYTES, SUFFIXES)
    if raw is None:
        return None, finding
    try:
        return take_photo(name, suffix, raw), None
    except TooManyDots as fault:
        headline = f"the photo `{_quoted(name)}` {fault}; {MOST_DOTS // 1_000_000} million is the most"
        return None, photo_kinds.TOO_MANY_DOTS.at(place, headline, hint="make it smaller; paper shows a million")
    except NotAPhoto as fault:
        headline = f"the photo `{_quoted(name)}` {fault}"
        return None, photo_kinds.NOT_A_PHOTO.at(place, headline, hint="save it again as it is named")


def _about(taken: Taken, place: Place) -> Iterator[Finding]:
    """What is said of a photo that can be printed."""
    name, (width, height) = _quoted(taken.photo.file), taken.dots
    wide, high = size_in_room(width, height)
    dots = width / (wide / 25.4)
    if dots < FEWEST_DOTS:
        headline = (
            f"the photo `{name}` is printed {wide:.0f} x {high:.0f} mm large, "
            f"where its {width} x {height} dots are {dots:.0f} to the inch"
        )
        hint = f"take one of at least {wide / 25.4 * 300:.0f} x {high / 25.4 * 300:.0f} dots"
        yield photo_kinds.TOO_COARSE.at(place, headline, hint=hint)
    if min(wide, high) < NARROWEST:
        headline = f"the photo `{name}` is a strip: on the page it is {wide:.0f} mm wide and {high:.1f} mm high"
        yield photo_kinds.A_STRIP.at(place, headline, hint="cut it to what matters")
    if taken.pictures > 1:
        headline = f"the file `{name}` holds {taken.pictures} pictures; the first of them is printed"
        yield photo_kinds.SEVERAL_IN_ONE.at(place, headline, hint="save the one that is meant by itself")
    if not taken.sure:
        headline = f"the colours of the photo `{name}` had to be guessed"
        yield photo_kinds.UNSURE_COLOURS.at(place, headline, hint="save it again in sRGB")


def _quoted(name: str) -> str:
    return name[:80] if name.isprintable() and "`" not in name else "…"
