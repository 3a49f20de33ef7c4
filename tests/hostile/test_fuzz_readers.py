"""Whatever a file holds, its reader answers with findings inside it and never with an error of its own.

`design.toml` and `steps.md` have their own in tests/reader/test_reader_fuzz.py. PLANBOOK_FUZZ=100 tries a hundred times
as many inputs.
"""

import os
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planbook.reader import read_design
from planbook.reader.orders_csv import read_orders
from planbook.reader.rack import read_rack
from planbook.takeoff.prices import read_price_list
from planbook.text import Finding, Sources, for_people, one_line, plain

EXAMPLES = 60 * int(os.environ.get("PLANBOOK_FUZZ", "1"))
ROOT = Path(__file__).parents[1]
BASE = Path(__file__).parent / "base"
DRAWN = '\n[shapes.odd]\nkind = "drawing"\nfile = "{}"\nid = "x"\n'
Read = Callable[[Path], tuple[Sequence[Finding], Sources]]


def _design(path: Path) -> tuple[Sequence[Finding], Sources]:
    """The design beside a drawing or a handbook."""
    for name in ("design.toml", "steps.md"):
        (path.parent / name).write_bytes((BASE / name).read_bytes())
    if path.suffix in (".svg", ".dxf"):
        with (path.parent / "design.toml").open("a", encoding="utf-8") as file:
            file.write(DRAWN.format(path.name))
    reading = read_design(path.parent)
    return reading.findings, reading.sources


def _rack(path: Path) -> tuple[Sequence[Finding], Sources]:
    reading = read_rack(path)
    assert reading.rack is not None or any(finding.stops for finding in reading.findings)
    return reading.findings, reading.sources


def _prices(path: Path) -> tuple[Sequence[Finding], Sources]:
    reading = read_price_list(path, ())
    return reading.findings, reading.sources


def _orders(path: Path) -> tuple[Sequence[Finding], Sources]:
    reading = read_orders(path, "For one maker")
    return reading.findings, reading.sources


SVG = b"""<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="60mm" viewBox="0 0 90 60">
<g transform="translate(3 4) rotate(10)"><path id="x" d="M1 2h9v3.5a2 3 10 0 1-4 4q1 2 -3 1c1 1 2 2 -1 3z"/></g>
<rect id="r" x="1" y="2" width="3" height="4" rx="1"/><polygon id="p" points="0,0 9,0 9,9"/></svg>"""
DXF = b"""0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nLINE\n8\nx\n10\n0\n20\n0\n11\n9\n21\n0
0\nARC\n8\nx\n10\n9\n20\n5\n40\n5\n50\n270\n51\n90\n0\nLINE\n8\nx\n10\n9\n20\n10\n11\n0\n21\n0\n0\nPOLYLINE\n8\ny\n66\n1\n70\n1
0\nVERTEX\n8\ny\n10\n1\n20\n1\n42\n0.5\n0\nVERTEX\n8\ny\n10\n5\n20\n1\n0\nSEQEND\n0\nENDSEC\n0\nEOF\n"""
RACK = b"""name,wood,thickness,width,length (mm),count,kind,planed,defects
oak 1,white oak,27 mm,150 mm,2000,2,board,no,300 mm to 380 mm; 1 m to 1.1 m
"ply, 6",birch plywood,6 mm,600 mm,1200,1,sheet,yes,
"""
RACK_TOML = b"""kerf = "3 mm"\nedge_trim = "4 mm"\n[rack."long board"]\nwood = "black cherry"\nthickness = "27 mm"
width = "150 mm"\nlength = "2 m"\ncount = 2\ndefects = [{ from = "1.1 m", to = "1.2 m", across = ["0 mm", "9 mm"] }]\n"""
ORDERS = 'order,name,licence,contact\n1042,"Fenn, ""Ada""",For two,ada@example.org\nA/7,علي بن سينا,,\n'.encode()
PRICES = ROOT / "cases" / "prices"
BOOK = (ROOT / "cases" / "reader" / "own-handbook").rglob("handbook.toml")
FILES: dict[str, tuple[Read, list[bytes]]] = {
    "odd.svg": (_design, [SVG]),
    "odd.dxf": (_design, [DXF]),
    "handbook.toml": (_design, [path.read_bytes() for path in sorted(BOOK)]),
    "rack.csv": (_rack, [RACK]),
    "rack.toml": (_rack, [RACK_TOML]),
    "prices.csv": (_prices, [(PRICES / name).read_bytes() for name in ("clean.csv", "wrong.csv")]),
    "prices.toml": (_prices, [(PRICES / name).read_bytes() for name in ("clean.toml", "all-at-once.toml")]),
    "orders.csv": (_orders, [ORDERS]),
}
BITS = st.sampled_from(
    [
        *(
            b"",
            b"\0",
            b"\n",
            b"\r",
            b'"',
            b"'",
            b",",
            b";",
            b"\t",
            b"=",
            b"[",
            b"]",
            b"{",
            b"}",
            b"<",
            b">",
            b"&a;",
            b"/",
        ),
        *(
            b"1e999",
            b"-1",
            b"0",
            b"nan",
            b"inf",
            b"9" * 40,
            b"1/0",
            b"\xff",
            b"\xed\xa0\x80",
            "\u202e".encode(),
            b"#",
            b"%",
        ),
        *(
            "½ in".encode(),
            b"mm",
            b"\\u0000",
            b"\\",
            b"M",
            b"A1 1 0 0 0",
            b"z",
            b"url(#x)",
            b"scale(0)",
            b"\n0\n",
            b"$INSUNITS",
        ),
    ]
)


@st.composite
def changed(draw: st.DrawFn, seeds: list[bytes]) -> bytes:
    """A sound file with a few places changed, cut out, or put in twice."""
    data = bytearray(draw(st.sampled_from(seeds)))
    for _ in range(draw(st.integers(1, 5))):
        at = draw(st.integers(0, len(data)))
        if draw(st.booleans()):
            data[at : at + draw(st.integers(0, 12))] = draw(BITS | st.binary(max_size=4))
        else:
            end = at + draw(st.integers(0, 60))
            data[at:at] = data[at:end] * draw(st.integers(0, 3))
    return bytes(data)


def holds(name: str, data: bytes) -> None:
    """What every answer of every reader keeps to."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / name
        path.write_bytes(data)
        findings, sources = FILES[name][0](path)
    for finding in findings:
        assert finding.headline
        assert plain(for_people(finding, sources))
        assert "\n" not in one_line(finding)
        source = sources.get(finding.place.file)
        if source is not None:
            assert 1 <= finding.place.line <= len(source.lines)
            assert 1 <= finding.place.column <= len(source.line(finding.place.line)) + 1


@pytest.mark.parametrize("name", FILES)
def test_a_sound_file_with_a_few_places_changed(name: str) -> None:
    @settings(max_examples=EXAMPLES, deadline=None, suppress_health_check=list(HealthCheck))
    @given(changed(FILES[name][1]))
    def each(data: bytes) -> None:
        holds(name, data)

    each()


@pytest.mark.parametrize("name", FILES)
def test_any_bytes(name: str) -> None:
    @settings(max_examples=EXAMPLES // 2, deadline=None, suppress_health_check=list(HealthCheck))
    @given(st.binary(max_size=120) | st.lists(BITS, max_size=30).map(b"".join))
    def each(data: bytes) -> None:
        holds(name, data)

    each()
