"""Says in a finished PDF whether a heading of a table is that of a row or of a column, which the printer leaves out."""

import io
from collections.abc import Iterator

import pikepdf


def with_scopes(pdf: bytes) -> bytes:
    """The PDF with a `Scope` at every heading of a table (ISO 32000-1, table 349): of a column inside a THead."""
    with pikepdf.open(io.BytesIO(pdf)) as document:
        root = document.Root.get("/StructTreeRoot")
        for heading in _headings(root) if root is not None else ():
            scope = "/Column" if heading.P.P.S == "/THead" else "/Row"
            heading.A.Scope = pikepdf.Name(scope)
        out = io.BytesIO()
        document.save(out, deterministic_id=True)
    return out.getvalue()


def _headings(root: pikepdf.Object) -> Iterator[pikepdf.Object]:
    waiting = [root]
    while waiting:
        element = waiting.pop()
        if element.get("/S") == "/TH" and "/A" in element:
            yield element
        kids = element.get("/K")
        each = kids if isinstance(kids, pikepdf.Array) else () if kids is None else (kids,)
        waiting.extend(kid for kid in each if isinstance(kid, pikepdf.Dictionary) and "/S" in kid)
