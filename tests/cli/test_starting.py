"""Starting designs: each kind holds as it is, prints in both units, and takes a drawing of the maker's own."""

import tomllib
from pathlib import Path

import pytest

from planbook.booklet import edition_for
from planbook.cli.program import new
from planbook.cli.run import run
from planbook.pipeline import build, check

STARTERS = Path(__file__).parents[2] / "planbook" / "starters"
KINDS = sorted(folder.name for folder in STARTERS.iterdir())
FISH = """<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100">
<line id="ruler" x1="0" y1="0" x2="200" y2="0"/>
<circle id="eye" cx="60" cy="40" r="3"/>
<path id="the &quot;fish&quot;" d="M 20 55 C 50 0, 120 0, 180 60 C 120 100, 60 100, 20 55 Z"/>
</svg>"""


def started(folder: Path, *more: str) -> Path:
    assert run(["new", str(folder), "-q", *more]) == 0
    return folder


def test_the_command_offers_every_kind_there_is():
    (option,) = (each for each in new.params if each.name == "kind")
    assert sorted(option.type.choices) == KINDS


@pytest.mark.slow
@pytest.mark.parametrize("kind", KINDS)
def test_a_kind_has_nothing_to_mend(kind, tmp_path):
    found = check(started(tmp_path / "mine", "--kind", kind))
    assert [str(finding) for finding in found.findings] == []
    assert found.timeline is not None


@pytest.mark.slow
@pytest.mark.parametrize(("paper", "units"), [("letter", "in"), ("a4", "mm")])
@pytest.mark.parametrize("kind", KINDS)
def test_a_kind_is_printed(kind, paper, units, tmp_path):
    folder = started(tmp_path / "mine", "--kind", kind)
    built = build(folder, lambda card: edition_for(card, paper, units), tmp_path / "out", nominal=True)
    assert [str(finding) for finding in built.findings] == []
    (booklet,) = (file for file in built.files if file.suffix == ".pdf")
    assert booklet.name == f"mine-{paper}-{units}.pdf"
    assert booklet.read_bytes().startswith(b"%PDF-")


def test_a_design_without_a_kind_is_the_pencil_block(tmp_path):
    folder = started(tmp_path / "mine")
    assert tomllib.loads((folder / "design.toml").read_text())["title"] == "Pencil block"
    assert sorted(path.name for path in folder.iterdir()) == [
        "design.schema.json",
        "design.toml",
        "handbook.schema.json",
        "language.schema.json",
        "steps.md",
    ]


def test_an_outline_of_the_makers_own_keeps_its_size_and_name(tmp_path):
    drawing = tmp_path / "fish.svg"
    drawing.write_text(FISH)
    folder = started(tmp_path / "mine", "--kind", "drawing", "--drawing", str(drawing))
    design = tomllib.loads((folder / "design.toml").read_text())
    assert (folder / "outline.svg").read_text() == FISH
    assert design["shapes"]["outline"]["id"] == 'the "fish"'
    # From x = 20 to x = 180; the leftmost point is the start of the line, 55 mm below the upper edge of the page.
    assert design["sizes"]["width"] == "160.0 mm"
    highest, lowest = _y_of_cubic(55, 0, 0, 60, min), _y_of_cubic(60, 100, 100, 55, max)
    assert design["sizes"]["height"] == f"{lowest - highest:.1f} mm"
    assert design["sizes"]["entry"] == f"{lowest - 55:.1f} mm"
    assert [str(finding) for finding in check(folder, nominal=True).findings] == []


def _y_of_cubic(a, b, c, d, most):
    """The outermost height of a cubic curve, by walking along it (de Casteljau's weights)."""
    shares = [k / 20_000 for k in range(20_001)]
    return most((1 - t) ** 3 * a + 3 * t * (1 - t) ** 2 * b + 3 * t * t * (1 - t) * c + t**3 * d for t in shares)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("<svg", "is not whole XML"),
        ('<svg xmlns="http://www.w3.org/2000/svg"><path d="M 0 0 L 9 0 L 9 9 Z"/></svg>', "no closed line with a name"),
        (None, "cannot be read"),
        ("x" * 2_100_000, "is larger than 2 MB"),
    ],
)
def test_a_drawing_without_an_outline_is_refused_in_one_sentence(command, tmp_path, text, words):
    drawing = tmp_path / "fish.svg"
    if text is not None:
        drawing.write_text(text)
    ran = command("new", tmp_path / "mine", "--kind", "drawing", "--drawing", drawing)
    assert ran.status == 2
    assert words in ran.err
    assert len(ran.err.splitlines()) == 1
    assert not (tmp_path / "mine").exists()


def test_a_drawing_goes_with_its_kind_alone(command, tmp_path):
    ran = command("new", tmp_path / "mine", "--kind", "tray", "--drawing", tmp_path / "fish.svg")
    assert (ran.status, ran.err) == (2, "planbook: `--drawing` goes with `--kind drawing`\n")
