"""Finds what acts by itself in a PDF file of somebody else: scripts, programs, forms that are sent, files inside."""

import io
from collections.abc import Iterable

import pikepdf

KEYS = {"/AA", "/EmbeddedFiles", "/JS", "/JavaScript", "/OpenAction", "/RichMedia", "/XFA"}
ACTIONS = {"/GoToE", "/GoToR", "/ImportData", "/JavaScript", "/Launch", "/Movie", "/Rendition", "/Sound", "/SubmitForm"}
"""Entries and types of actions (ISO 32000-2, 7.11.4, 12.6.4 and 13)."""
SCHEMES = ("http://", "https://", "mailto:")
MOST_BYTES, MOST_OBJECTS, DEEPEST = 50_000_000, 200_000, 40


def acts(data: bytes) -> str:
    """What acts by itself in a PDF file, or why nothing can be said about it; "" for one that can only be read."""
    if not data.startswith(b"%PDF-") or len(data) > MOST_BYTES:
        return "is no PDF file of an ordinary size"
    try:
        with pikepdf.open(io.BytesIO(data)) as pdf:
            if len(pdf.objects) > MOST_OBJECTS:
                return "has too many parts"
            return next(filter(None, (_acting(each, 0) for each in pdf.objects)), "")
    except (pikepdf.PdfError, ValueError, RuntimeError, RecursionError):
        return "cannot be read as PDF"


def _acting(found: object, depth: int) -> str:
    if depth > DEEPEST:
        return "is nested too deep"
    if isinstance(found, pikepdf.Array):
        return _first(found, depth)
    if not isinstance(found, (pikepdf.Dictionary, pikepdf.Stream)):
        return ""
    keys = set(found.keys())
    action = str(found.get("/S", "")) if "/S" in keys else ""
    if keys & KEYS or action in ACTIONS:
        return f"holds {min(keys & KEYS, default=action)}, which acts by itself"
    if action == "/URI" and not str(found.get("/URI", "")).lower().startswith(SCHEMES):
        return "holds a link that does not lead to the web"
    return _first((found[key] for key in keys), depth)


def _first(parts: Iterable[object], depth: int) -> str:
    """The first fault of parts that stand in here; those with a number of their own are looked at by themselves."""
    inside = (each for each in parts if not getattr(each, "is_indirect", False))
    return next(filter(None, (_acting(each, depth + 1) for each in inside)), "")
