"""Hands the printer the fonts of the house and pictures carried in the page; everything else is refused."""

import base64
import binascii
import re
from dataclasses import dataclass, field
from importlib.resources import files
from urllib.parse import unquote_to_bytes

_FONT = re.compile(r"planbook:font/(Source(Serif|Sans)Pro-[A-Za-z]{1,20}\.ttf)")
_DATA = re.compile(r"data:(image/(?:svg\+xml|png|jpeg))(;base64)?,", re.IGNORECASE)
_SHOWN = 120


class Refused(ValueError):  # noqa: N818 - refusing is the usual answer
    """An address that is not fetched."""


@dataclass(slots=True)
class Shelf:
    """Answers requests for addresses, and remembers those it refused, in order."""

    refused: list[str] = field(default_factory=list)

    def take(self, url: str) -> tuple[bytes, str]:
        """The content of an address and its media type. Raises Refused."""
        if font := _FONT.fullmatch(url):
            return _font(font[1], font[2]), "font/ttf"
        if data := _DATA.match(url):
            return _carried(url[data.end() :], bool(data[2])), data[1].lower()
        shown = url if len(url) <= _SHOWN else url[:_SHOWN] + "…"
        if shown not in self.refused:
            self.refused.append(shown)
        raise Refused("only the fonts of the house and pictures carried in the page are loaded")


def _carried(text: str, in_base64: bool) -> bytes:
    content = unquote_to_bytes(text)
    try:
        return base64.b64decode(content) if in_base64 else content
    except binascii.Error as error:
        raise Refused("the picture carried in the page is damaged") from error


def _font(name: str, family: str) -> bytes:
    path = files(f"font_source_{family.lower()}_pro") / "files" / name
    if not path.is_file():
        raise Refused(f"there is no font file {name}")
    return path.read_bytes()
