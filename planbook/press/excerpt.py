"""Takes some pages out of a tagged PDF, with their tags, and puts other pages before them; what they say is theirs."""

import io
from collections.abc import Sequence
from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name

from planbook.press.mark import KEY, NoMaster

_DEEPEST = 200
_LEAD_ELSEWHERE = ("/Outlines", "/Names", "/Dests", "/OpenAction", "/PageLabels", "/AF", "/Threads", str(KEY))
"""Entries of the catalogue that speak of the whole file."""
Page = tuple[int, int]


def excerpt(pdf: bytes, pages: Sequence[int], front: bytes) -> bytes:
    """The pages of these numbers (from 1, in order) behind all pages of `front`, which gives the metadata.

    Links go: what they led to may be left out. Raises NoMaster, with the page's number if there is no such page.
    """
    try:
        with pikepdf.open(io.BytesIO(pdf)) as document, pikepdf.open(io.BytesIO(front)) as before:
            wrong = next((number for number in pages if not 1 <= number <= len(document.pages)), None)
            if wrong is not None:
                raise NoMaster(f"it has {len(document.pages)} pages, and no page {wrong}", wrong)
            _leave(document, set(pages))
            _put_before(document, before)
            out = io.BytesIO()
            document.save(out, deterministic_id=True)
    except (pikepdf.PasswordError, pikepdf.PdfError):
        raise NoMaster("it is not a PDF that can be read") from None
    return out.getvalue()


def _leave(document: pikepdf.Pdf, pages: set[int]) -> None:
    for number in range(len(document.pages), 0, -1):
        if number not in pages:
            del document.pages[number - 1]
    for page in document.pages:
        for key in ("/Annots", "/AA"):
            if key in page.obj:
                del page.obj[key]
    for key in _LEAD_ELSEWHERE:
        if key in document.Root:
            del document.Root[key]
    tree = document.Root.get("/StructTreeRoot")
    if tree is not None:
        _pruned(tree, {page.obj.objgen for page in document.pages}, None, 0)
        kept = {int(page.obj.StructParents) for page in document.pages if "/StructParents" in page.obj}
        tree.ParentTree = document.make_indirect(Dictionary(Nums=Array(_numbers(tree.ParentTree, kept))))


def _pruned(element: pikepdf.Object, pages: set[Page], page: Page | None, depth: int) -> bool:
    """Take out of an element of the tree what stood on other pages; whether anything is left."""
    if depth > _DEEPEST:
        raise NoMaster("its tags are nested too deep")
    page = element.Pg.objgen if "/Pg" in element else page
    kids = element.get("/K")
    if kids is None or (isinstance(kids, Array) and not len(kids)):
        # Such as an empty cell, without which a table would lose its shape.
        return page in pages
    each = list(kids) if isinstance(kids, Array) else [kids]
    left = [kid for kid in each if _stays(kid, pages, page, depth)]
    element.K = Array(left)
    if len(left) < len(each) and element.get("/S") == "/Link":
        element.S = Name.Span
    if "/Pg" in element and page not in pages:
        del element["/Pg"]
    return bool(left)


def _stays(kid: object, pages: set[Page], page: Page | None, depth: int) -> bool:
    if not isinstance(kid, Dictionary):
        return page in pages
    kind = kid.get("/Type")
    if kind == "/OBJR":
        return False
    if kind == "/MCR":
        return (kid.Pg.objgen if "/Pg" in kid else page) in pages
    return _pruned(kid, pages, page, depth + 1)


def _numbers(tree: pikepdf.Object, kept: set[int]) -> list[Any]:
    found = pikepdf.NumberTree(tree)
    return [part for key in sorted(kept) if key in found for part in (key, found[key])]


def _put_before(document: pikepdf.Pdf, front: pikepdf.Pdf) -> None:
    """The pages of another file first, with their tags and its metadata."""
    count = len(front.pages)
    for place, page in enumerate(front.pages):
        document.pages.insert(place, page)
    document.trailer.Info = document.copy_foreign(front.docinfo)
    document.Root.Metadata = document.copy_foreign(front.Root.Metadata)
    theirs, ours = front.Root.get("/StructTreeRoot"), document.Root.get("/StructTreeRoot")
    if theirs is None or ours is None:
        return
    old = pikepdf.NumberTree(ours.ParentTree)
    numbers: list[Any] = list(ours.ParentTree.Nums)
    first = max(old.keys(), default=-1) + 1
    tops = theirs.K if isinstance(theirs.K, Array) else [theirs.K]
    copied = [document.copy_foreign(top) for top in tops]
    for top in copied:
        top.P = ours
    rows = pikepdf.NumberTree(theirs.ParentTree)
    for place in range(count):
        added = document.pages[place].obj
        if "/StructParents" in added:
            row = rows[int(added.StructParents)]
            added.StructParents = first + place
            numbers += [first + place, document.copy_foreign(_numbered(front, row))]
    ours.ParentTree = document.make_indirect(Dictionary(Nums=Array(numbers)))
    before = list(ours.K) if isinstance(ours.K, Array) else [ours.K]
    ours.K = Array([*copied, *before])


def _numbered(document: pikepdf.Pdf, item: pikepdf.Object) -> pikepdf.Object:
    """Only what has a number can be copied to another file."""
    return item if item.is_indirect else document.make_indirect(item)
