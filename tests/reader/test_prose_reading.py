"""Names in braces and typed lengths in prose."""

import pytest

from planbook.reader.prose import Lines, prose_of
from planbook.units import read_length


def read(text: str) -> tuple[list[str], list[str], int]:
    """The names mentioned, the lengths typed, and the number of findings."""
    prose, findings = prose_of(Lines("steps.md", 1, text, ((0, text.count("\n") + 1),)))
    return [m.name for m in prose.mentions], [length.text for length in prose.lengths], len(findings)


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("Keep {wall} and {drawer front}.", ["wall", "drawer front"]),
        ("{ drawer   front }", ["drawer front"]),
        ("{{wall}} {{{wall}}}", ["wall"]),
        ("`{wall}` ``{a} ` {b}`` {c}", ["c"]),
        ("\\`{wall}\\`", ["wall"]),
        ("``{wall}` and `{gap}`", ["wall", "gap"]),
        ("a `b\n{wall}` c", []),
        ("<!-- {wall} --> {gap}", ["gap"]),
        ('<a href="{wall}">{gap}</a>', ["gap"]),
        ("[{wall}](film-{gap}.html)", ["wall"]),
        ("{עובי} {🐦 board}", ["עובי", "🐦 board"]),
        ("a } b", []),
    ],
)
def test_mentions(text: str, names: list[str]) -> None:
    assert read(text)[0::2] == (names, 0)


@pytest.mark.parametrize("text", ["{wall", "{}", "{  }", "{wall\n}", "{" + "a" * 81 + "}", "{a {b}"])
def test_stray_braces(text: str) -> None:
    assert read(text)[2] == 1


@pytest.mark.parametrize(
    ("text", "lengths"),
    [
        ("3 mm, 9 cm and 0.5 m.", ["3 mm", "9 cm", "0.5 m"]),
        ('1/4" and 2 1/2 in and 2-1/2 inches', ['1/4"', "2 1/2 in", "2-1/2 inches"]),
        ("½ in, 2½ in., 3½″", ["½ in", "2½ in", "3½″"]),
        ("a 1/4-inch drill, a 6-mm bit", ["1/4 inch", "6 mm"]),
        ("2 ft 3 in or 4 feet", ["2 ft 3 in", "4 feet"]),
        ("3mm", ["3 mm"]),
        ("Cut 3 in from the end, 1/2 in the other way.", ["3 in", "1/2 in"]),
        ("Put 2 in the box, 3 in place, 4 in each corner.", []),
        ('the sign "step 6" and “step 7”', []),
        ('a 6" by 8" board called "left"', ['6"', '8"']),
        ("`3 mm` {3 mm} <!-- 3 mm --> [film](3 mm)", []),
        ("step 3, 20 min, 60 grit, 1.5 hours, 5 minutes, 7 metals", []),
        ("x3 mm, v1.2 mm, 1/0 in", []),
    ],
)
def test_typed_lengths(text: str, lengths: list[str]) -> None:
    found = read(text)[1]
    assert found == lengths
    for each in found:
        assert read_length(each) > 0


def test_places_and_offsets_point_at_the_words() -> None:
    text = "First line.\n🐦 Keep {wall} 3 mm off."
    prose, _ = prose_of(Lines("steps.md", 10, text, ((0, 2),)))
    (mention,) = prose.mentions
    assert text[mention.offset : mention.offset + 4] == "wall"
    assert (mention.place.line, mention.place.column, mention.place.length) == (11, 9, 4)
    assert (prose.lengths[0].place.line, prose.lengths[0].place.column) == (11, 15)


def test_only_running_text_is_searched() -> None:
    text = "{a}\n\n    {code}\n\n{b}"
    prose, findings = prose_of(Lines("steps.md", 1, text, ((0, 1), (4, 5))))
    assert [mention.name for mention in prose.mentions] == ["a", "b"]
    assert findings == ()
