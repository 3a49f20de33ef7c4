"""Pages on which hardly anything stands are told; blank ones and pages without margins are not."""

from planbook.handbook import paper
from planbook.press import nearly_empty, press
from planbook.text import Place, Severity

STYLE = "<style>@page { size: 210mm 297mm; margin: 20mm } p { margin: 0; line-height: 10mm }"


def sparse(body: str, style: str = "") -> tuple[int, ...]:
    row = paper("a4")
    assert row is not None
    html = f'<html lang="en"><head><title>Tern</title>{STYLE}{style}</style></head><body>{body}</body></html>'
    return press(html, row).sparse_pages


def lines(count: int) -> str:
    return "<p>line</p>" * count


def test_a_page_with_two_lines_of_twenty_five_is_told() -> None:
    # 257 mm of text block, lines of 10 mm: 26 lines on the first page, and 2 and 6 more on the second.
    assert sparse(lines(25 + 2)) == (2,)
    assert sparse(lines(25 + 6)) == ()


def test_a_blank_page_before_a_right_hand_page_is_meant_to_be() -> None:
    assert sparse(f'{lines(20)}<div style="break-before: right">{lines(20)}</div>') == ()


def test_a_page_without_margins_is_a_cover_or_a_stencil() -> None:
    assert sparse(lines(1), "@page { margin: 0 }") == ()


def test_an_empty_box_does_not_fill_a_page() -> None:
    assert sparse(f'{lines(1)}<div style="height: 200mm; border: 1pt solid"></div>') == (1,)


def test_the_note_names_the_pages() -> None:
    (one,) = nearly_empty((3,), Place("design.toml", 1, 1))
    (some,) = nearly_empty((3, 5), Place("design.toml", 1, 1))
    assert one.headline == "page 3 of the booklet is nearly empty"
    assert some.headline == "pages 3, 5 of the booklet are nearly empty"
    assert one.severity is Severity.NOTE
    assert list(nearly_empty((), Place("design.toml", 1, 1))) == []
