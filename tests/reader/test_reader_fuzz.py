"""Whatever the files hold, the reader answers with findings inside them, never with an error of its own."""

import tempfile
from pathlib import Path

from hypothesis import example, given, settings
from hypothesis import strategies as st

from planbook.reader import read_design
from planbook.text import for_people, one_line, plain

CARD = 'title = "Curlew box"\nversion = "1.0"\nmaker = "Saltmarsh Workshop"\nunits = "mm"\n'
CLEAN = Path(__file__).parents[1] / "cases" / "reader" / "clean-box"
TOML, STEPS = (CLEAN / "design.toml").read_bytes(), (CLEAN / "steps.md").read_bytes()


def check(toml: bytes, steps: bytes) -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "design.toml").write_bytes(toml)
        (folder / "steps.md").write_bytes(steps)
        reading = read_design(folder)
    assert reading.design is not None or any(finding.stops for finding in reading.findings)
    for finding in reading.findings:
        assert finding.headline
        assert plain(for_people(finding, reading.sources))
        assert "\n" not in one_line(finding)
        source = reading.sources.get(finding.place.file)
        assert source is not None
        assert 1 <= finding.place.line <= len(source.lines)
        assert 1 <= finding.place.column <= len(source.line(finding.place.line)) + 1


@settings(max_examples=150, deadline=None)
@given(st.binary(max_size=200), st.binary(max_size=200))
@example(b"\xef\xbb\xbf", b"\xff\xfe")
def test_any_bytes(toml: bytes, steps: bytes) -> None:
    check(toml, steps)


WORDS = (
    "sizes stock shapes stencils tools supplies fits choices woods kind at of by from to size wood grain lines regions holes "
    "kerf kerf_range diameter radius points title units product between least along"
)
ODD_KEYS = ("", "a b", "\\u202e", "\\n", "{")
KEYS = st.sampled_from([*WORDS.split(), *(f'"{key}"' for key in ODD_KEYS)])
TEXTS = ("wall", "3 mm", "wall + 2", "0 mm", "1/0 in", "circle", "path", "gap", "drill", "", "((((", "\\u0007", "mm")
BARE = (
    "nan inf -0 1e999 true 2024-05-01 12:30:00 [] {} [[]] [{}] {a={b={}}} '''y''' [1,2] x",
    '["1 mm","2 mm"] | ["a","a"] | [["0 mm","0 mm"],["1 mm"]] | {at=["1 mm","1 mm"],diameter="1 mm"}',
)
VALUES = st.one_of(
    st.sampled_from([*(f'"{text}"' for text in TEXTS), *BARE[0].split(), *BARE[1].split(" | ")]),
    st.text(max_size=10).map(lambda text: f'"{text}"'),
    st.integers().map(str),
)
LINES = st.one_of(
    st.tuples(KEYS, VALUES).map(lambda pair: f"{pair[0]} = {pair[1]}"),
    st.tuples(KEYS, KEYS, VALUES).map(lambda each: f"{each[0]}.{each[1]} = {each[2]}"),
    st.lists(KEYS, min_size=1, max_size=3).map(lambda keys: f"[{'.'.join(keys)}]"),
    st.tuples(KEYS).map(lambda keys: f"[[{keys[0]}]]"),
    st.text(max_size=12),
)


@settings(max_examples=200, deadline=None)
@given(st.lists(LINES, max_size=14), st.booleans())
def test_texts_like_toml(lines: list[str], card: bool) -> None:
    text = "\n".join(lines).encode("utf-8", "surrogatepass")
    check(CARD.encode() * card + text, b"## Saw\n\n```saw\n" + text + b"\n```\n")


MARKS = st.sampled_from(
    [
        *("# ", "## ", "---", "===", "```", "~~~", "```saw", "> ", "- ", "1. ", "    ", "\t", "<!--", "-->", "<div>"),
        *("{", "}", "{{", "{wall}", "`", "``", "3 mm", '1/4"', "a = 1", "a = ", "\n", "\n\n", "[a](", "\0"),
    ]
)


@settings(max_examples=200, deadline=None)
@given(st.lists(MARKS | st.text(max_size=4), max_size=30).map("".join))
def test_texts_like_markdown(text: str) -> None:
    check(CARD.encode(), text.encode("utf-8", "surrogatepass"))


@settings(max_examples=150, deadline=None)
@given(st.data())
def test_a_good_design_with_a_few_characters_changed(data: st.DataObject) -> None:
    toml, steps = bytearray(TOML), bytearray(STEPS)
    for text in (toml, steps):
        for _ in range(data.draw(st.integers(0, 3))):
            at = data.draw(st.integers(0, len(text) - 1))
            text[at : at + data.draw(st.integers(0, 20))] = data.draw(st.binary(max_size=3))
    check(bytes(toml), bytes(steps))
