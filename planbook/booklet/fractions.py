"""Marks up fractions in running text so that the typeface can set them as one; it changes no value."""

import math
import re

from markupsafe import Markup, escape

_FRACTION = (
    r"(?<![\w./,−-])(?P<about>\(?≈[ \u00a0])?(?:(?P<whole>\d{1,4})[ \u00a0-])?"
    r"(?P<top>\d{1,3})/(?P<bottom>\d{1,3})(?![\w/]|[.,]\d)"
)
_UNIT = r"(?:[ \u00a0](?P<unit>in|mm|ft|cm|m²|in²|board ft)\b)?"
_PLAIN = r"(?<![\w./])(?P<plain>\d[\d.,]*)[ \u00a0](?P<of>(?:in|mm|ft|cm|h|min|s)\b|%)"
_LENGTH = re.compile(f"{_FRACTION}{_UNIT}|{_PLAIN}")

_TIMES = re.compile(r"(?<=\d) x (?=\d)")


def fractions(text: object) -> Markup:
    """The text as markup: `3 1/2 in` a mixed number, every length on one line, `9 x 11 in` with a × for the letter.

    Only proper fractions in lowest terms are taken, as lengths are: `24/7`, and a board sold as `2/4`, stay as they
    are. Markup that is handed in is left alone. What stands before a length to say that it is about so long is kept on
    its line.
    """
    if isinstance(text, Markup):
        return text
    plain, out, at = _TIMES.sub(" × ", str(text)), [], 0
    for found in _LENGTH.finditer(plain):
        out += [escape(plain[at : found.start()]), _marked(found)]
        at = found.end()
    return Markup("").join([*out, escape(plain[at:])])


def _marked(found: re.Match[str]) -> Markup:
    if found["plain"]:
        return Markup("{}\u00a0{}").format(found["plain"], found["of"])
    top, bottom = int(found["top"]), int(found["bottom"])
    if not 0 < top < bottom or math.gcd(top, bottom) > 1:
        return escape(found[0])
    fraction = Markup('<span class="frac">{}/{}</span>').format(found["top"], found["bottom"])
    whole = Markup('<span class="whole">{} </span>').format(found["whole"]) if found["whole"] else Markup("")
    unit = Markup("\u00a0{}").format(found["unit"]) if found["unit"] else Markup("")
    about = found["about"].replace(" ", "\u00a0") if found["about"] else ""
    return Markup('<span class="num">{}{}{}{}</span>').format(about, whole, fraction, unit)
