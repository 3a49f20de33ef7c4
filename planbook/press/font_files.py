"""Finds fonts for names in any script: those of the house, those asked for, then those of the system."""

import os
import sys
from collections.abc import Iterator, Sequence
from importlib.resources import files
from pathlib import Path

import uharfbuzz

from planbook.press.outlines import Face

_ENDINGS = (".ttf", ".otf", ".ttc", ".otc")
_MOST_BYTES = 60_000_000
_ODD = ("bold", "italic", "oblique", "light", "thin", "black", "condensed", "mono", "emoji", "color", "symbol")
"""Fonts with these words in their names are taken last: a name is set upright and of usual weight if it can be."""


class NotAFont(ValueError):  # noqa: N818 - it is told to people like a finding
    """A file that is not a font whose outlines can be read."""


def usual_faces(asked: Sequence[Path] = ()) -> Iterator[Face]:
    """Fonts in the order in which they are tried; the folders of the system are looked at last, by file name.

    Those of `asked` have been looked at with `check_font` before; damaged fonts of the system are passed over.
    """
    yield Face(Path(str(files("font_source_sans_pro") / "files" / "SourceSansPro-Regular.ttf")))
    for path in asked:
        yield from _faces(path)
    for path in _installed():
        try:
            yield from _faces(path)
        except (NotAFont, OSError):
            continue


def check_font(path: Path) -> None:
    """Raises NotAFont and OSError for a file that no name can be set with."""
    next(_faces(path))


def _faces(path: Path) -> Iterator[Face]:
    if path.stat().st_size > _MOST_BYTES:
        raise NotAFont(f"`{path.name}` is larger than {_MOST_BYTES // 1_000_000} MB")
    face = uharfbuzz.Face(uharfbuzz.Blob.from_file_path(str(path)))
    count = face.count if face.glyph_count else 0
    if not count:
        raise NotAFont(f"`{path.name}` is not a font")
    for number in range(count):
        yield Face(path, number)


def _installed() -> list[Path]:
    found = {
        path
        for folder in _folders()
        for path in (Path(root) / name for root, _, names in os.walk(folder) for name in names)
        if path.suffix.lower() in _ENDINGS
    }
    return sorted(found, key=lambda path: (_rank(path.name), path.name.lower(), str(path)))


def _rank(name: str) -> int:
    plain = name.lower()
    return sum(word in plain for word in _ODD) * 2 + ("serif" in plain)


def _folders() -> tuple[Path, ...]:
    home = Path.home()
    if sys.platform == "win32":
        local = os.environ.get("LOCALAPPDATA", "")
        return (Path(os.environ.get("WINDIR", "C:/Windows")) / "Fonts", Path(local) / "Microsoft" / "Windows" / "Fonts")
    if sys.platform == "darwin":
        return (Path("/System/Library/Fonts"), Path("/Library/Fonts"), home / "Library" / "Fonts")
    return (Path("/usr/share/fonts"), Path("/usr/local/share/fonts"), home / ".local" / "share" / "fonts")
