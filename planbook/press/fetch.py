"""Hands the printer the fonts of the house and pictures carried in the page; everything else is refused."""

import base64
import binascii
import re
import warnings
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from io import BytesIO
from urllib.parse import unquote_to_bytes

from PIL import Image

FONT = re.compile(r"planbook:font/(Source(Serif|Sans|Code)Pro-[A-Za-z]{1,20}\.ttf)")
_DATA = re.compile(r"data:(image/(?:svg\+xml|png|jpeg))(;base64)?,", re.IGNORECASE)
_GROWS = re.compile(rb"<!ENTITY|<([\w-]+:)?use[\s/>]|<([\w-]+:)?(script|foreignObject)[\s/>]")
_UTF8 = re.compile(rb"(?!\s*<\?xml[^>]*encoding\s*=\s*[\"'](?!utf-8[\"']))", re.IGNORECASE)
_SHOWN = 120
MOST_PIXELS = 50_000_000


class Refused(ValueError):  # noqa: N818 - refusing is the usual answer
    """An address that is not fetched."""


@dataclass(slots=True)
class Shelf:
    """Answers requests for addresses, and remembers those it refused, in order."""

    refused: list[str] = field(default_factory=list)

    def take(self, url: str) -> tuple[bytes, str]:
        """The content of an address and its media type. Raises Refused."""
        if font := FONT.fullmatch(url):
            return font_bytes(font[1], font[2]), "font/ttf"
        if data := _DATA.match(url):
            content, media = _carried(url[data.end() :], bool(data[2])), data[1].lower()
            fault = _fault(content, media)
            if not fault:
                return content, media
            self._refuse(fault)
            raise Refused(f"{fault} is not taken")
        self._refuse(url if len(url) <= _SHOWN else url[:_SHOWN] + "…")
        raise Refused("only the fonts of the house and pictures carried in the page are loaded")

    def _refuse(self, what: str) -> None:
        if what not in self.refused:
            self.refused.append(what)


def _carried(text: str, in_base64: bool) -> bytes:
    content = unquote_to_bytes(text)
    try:
        return base64.b64decode(content) if in_base64 else content
    except binascii.Error as error:
        raise Refused("the picture carried in the page is damaged") from error


def _fault(content: bytes, media: str) -> str:
    """What is wrong with a picture that would take more time or memory than a page is worth; it is not unpacked."""
    if media == "image/svg+xml":
        strange = _GROWS.search(content) or b"\0" in content or not _UTF8.match(content)
        return "a picture that repeats parts of itself, declares entities or is not UTF-8" if strange else ""
    try:
        with warnings.catch_warnings():
            # Pillow warns of large pictures by itself; here they are refused long before.
            warnings.simplefilter("ignore")
            with Image.open(BytesIO(content)) as picture:
                width, height = picture.size
    except Image.DecompressionBombError:
        return "a picture of too many pixels"
    except (OSError, ValueError, SyntaxError):
        return "a picture that is damaged"
    return f"a picture of {width} x {height} pixels" if width * height > MOST_PIXELS else ""


def font_bytes(name: str, family: str) -> bytes:
    """The file of a font of the house. Raises Refused where there is none."""
    if family == "Code":
        return _code_face(name)
    path = files(f"font_source_{family.lower()}_pro") / "files" / name
    if not path.is_file():
        raise Refused(f"there is no font file {name}")
    return path.read_bytes()


_CODE_WEIGHTS = {"SourceCodePro-Regular.ttf": 400, "SourceCodePro-Semibold.ttf": 600}


@cache
def _code_face(name: str) -> bytes:
    """The fixed-width face at one weight; its package holds them all in one variable font. Raises Refused."""
    if name not in _CODE_WEIGHTS:
        raise Refused(f"there is no font file {name}")
    # Loaded only for pages with code.
    from fontTools.ttLib import TTFont
    from fontTools.varLib.instancer import instantiateVariableFont

    path = files("fontpkg_source_code_pro") / "files" / "SourceCodePro[wght].ttf"
    font, out = TTFont(BytesIO(path.read_bytes()), recalcTimestamp=False), BytesIO()
    instantiateVariableFont(font, {"wght": _CODE_WEIGHTS[name]}, inplace=True, updateFontNames=True).save(out)
    return out.getvalue()
