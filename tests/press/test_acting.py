"""PDF files of somebody else: what acts by itself is found, wherever it stands (ISO 32000-2, 12.6.4)."""

import io
from collections.abc import Callable

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Pdf

from planbook.press import press
from planbook.press.acting import acts


def made(change: Callable[[Pdf], None]) -> bytes:
    out = io.BytesIO()
    with pikepdf.new() as pdf:
        pdf.add_blank_page()
        change(pdf)
        pdf.save(out, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return out.getvalue()


def _action(**entries: object) -> Callable[[Pdf], None]:
    def change(pdf: Pdf) -> None:
        link = Dictionary(Type=Name.Annot, Subtype=Name.Link, Rect=[0, 0, 9, 9], A=Dictionary(**entries))
        pdf.pages[0].Annots = Array([link])

    return change


def _opening(pdf: Pdf) -> None:
    pdf.Root.OpenAction = pdf.make_indirect(Dictionary(S=Name.JavaScript, JS="app.alert(1)"))


def _deep(pdf: Pdf) -> None:
    found = Dictionary(S=Name.Launch)
    for _ in range(60):
        found = Dictionary(Next=found)
    pdf.Root.Deep = found


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (_opening, "/"),
        (_action(S=Name.Launch, F="calc.exe"), "/Launch"),
        (_action(S=Name.JavaScript, JS="x"), "/JS"),
        (_action(S=Name.SubmitForm, F="https://example.invalid"), "/SubmitForm"),
        (_action(S=Name.GoToE), "/GoToE"),
        (_action(S=Name.URI, URI="javascript:alert(1)"), "link"),
        (_action(S=Name.URI, URI="file:///etc/passwd"), "link"),
        (lambda pdf: pdf.attachments.__setitem__("x", b"x"), "/EmbeddedFiles"),
        (_deep, "deep"),
    ],
)
def test_it_is_found(change: Callable[[Pdf], None], words: str) -> None:
    assert words in acts(made(change))


def test_what_can_only_be_read_is_let_through() -> None:
    from planbook.handbook import paper

    sheet = paper("a4")
    assert sheet is not None
    text = (
        '<html lang="en"><title>x</title><h1 id="a">A</h1><a href="#a">a</a><a href="https://example.org/">b</a></html>'
    )
    assert acts(press(text, sheet).pdf) == ""
    assert acts(made(_action(S=Name.URI, URI="https://example.org/"))) == ""


@pytest.mark.parametrize(
    "data", [b"", b"%PDF-", b"MZ", b"%PDF-1.7\n" + b"<<" * 100_000, b"%PDF-1.7\ntrailer<</Root 1 0 R>>"]
)
def test_what_is_no_pdf_is_said(data: bytes) -> None:
    assert acts(data)
