"""The whole way on the starting design: same source, same bytes; whole files or none; findings, not tracebacks."""

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from planbook.booklet import Edition
from planbook.model import UnknownChoice
from planbook.pipeline import all_kinds, build, check, compose_book, explain
from planbook.press import bookmarks, metadata, page_sizes

STARTER = Path(__file__).parents[2] / "planbook" / "cli" / "starter"
A4 = (210.0, 297.0)
"""ISO 216, mm."""
LETTER = (215.9, 279.4)
"""ANSI/ASME Y14.1 size A: 8 1/2 x 11 in, at exactly 25.4 mm to the inch."""


@pytest.fixture
def design(tmp_path: Path) -> Path:
    folder = tmp_path / "pencil-block"
    shutil.copytree(STARTER, folder, ignore=shutil.ignore_patterns("__pycache__", "*.py"))
    return folder


@pytest.mark.parametrize(("paper", "units", "size"), [("a4", "mm", A4), ("letter", "in", LETTER)])
def test_a_booklet_has_the_paper_and_the_parts_it_should(
    design: Path, tmp_path: Path, paper: str, units: str, size: tuple[float, float]
) -> None:
    built = build(design, Edition(paper, units), tmp_path / "out")  # type: ignore[arg-type]
    assert built.findings == ()
    data = next(f for f in built.files if f.suffix == ".pdf").read_bytes()
    assert all(found == pytest.approx(size, abs=0.05) for found in page_sizes(data))
    titles = [title for _, title in bookmarks(data)]
    for part in ("At a glance", "Safety", "Lumber list", "The pieces", "Steps", "Stencils"):
        assert part in titles
    assert "Saltmarsh Workshop" in metadata(data).values()


def test_the_same_source_gives_the_same_bytes_in_another_process_and_folder(design: Path, tmp_path: Path) -> None:
    other = tmp_path / "elsewhere" / "pencil-block"
    shutil.copytree(design, other)
    code = (
        "import sys; from pathlib import Path\n"
        "from planbook.booklet import Edition; from planbook.pipeline import build\n"
        "build(Path(sys.argv[1]), Edition('a4', 'mm'), Path(sys.argv[2]))"
    )
    for number, folder in enumerate((design, other)):
        environment = {**os.environ, "PYTHONHASHSEED": str(number + 1)}
        command = [sys.executable, "-c", code, str(folder), str(tmp_path / f"out{number}")]
        subprocess.run(command, env=environment, check=True, timeout=300, cwd=tmp_path)
    first, second = (next((tmp_path / f"out{n}").glob("*.pdf")).read_bytes() for n in (0, 1))
    assert first == second
    for kind in ("csv", "json"):
        lists = [next((tmp_path / f"out{n}").glob(f"*.{kind}")).read_bytes() for n in (0, 1)]
        assert lists[0] == lists[1]
    assert str(tmp_path).encode() not in first


PRICES = 'currency = "EUR"\n\n[[item]]\nname = "{name}"\nprice = "{price}"\nper = "hour"\n'


def test_a_price_list_adds_a_page_of_costs(design: Path, tmp_path: Path) -> None:
    (tmp_path / "prices.toml").write_text(PRICES.format(name="work", price="20.00"), "utf-8")
    for prices, printed in ((None, False), (tmp_path / "prices.toml", True)):
        built = build(design, Edition("a4", "mm"), tmp_path / "out", prices=prices)
        titles = [title for _, title in bookmarks(built.files[0].read_bytes())]
        assert ("What it costs" in titles) is printed
        assert "How long it takes" in titles


def test_an_error_in_a_price_list_stops_the_booklet_and_is_shown(design: Path, tmp_path: Path) -> None:
    (tmp_path / "prices.toml").write_text(PRICES.format(name="work", price="-20.00"), "utf-8")
    built = build(design, Edition("a4", "mm"), tmp_path / "out", prices=tmp_path / "prices.toml")
    assert built.files == ()
    assert [(finding.code, finding.place.line) for finding in built.findings] == [("COS04", 5)]
    assert built.findings[0].place.file in built.sources


def test_an_error_leaves_the_older_booklet_alone(design: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    (good,) = [f for f in build(design, Edition("a4", "mm"), out).files if f.suffix == ".pdf"]
    before = good.read_bytes()
    steps = (design / "steps.md").read_text()
    (design / "steps.md").write_text(steps.replace("```saw", "```sow"))
    built = build(design, Edition("a4", "mm"), out)
    assert any(finding.stops for finding in built.findings)
    assert built.files == ()
    assert good.read_bytes() == before
    assert {path.name for path in out.iterdir()} == {good.with_suffix(kind).name for kind in (".pdf", ".csv", ".json")}


def test_the_lists_are_written_beside_the_booklet(design: Path, tmp_path: Path) -> None:
    built = build(design, Edition("a4", "mm"), tmp_path)
    assert [path.name for path in built.files] == [f"pencil-block-a4-mm.{kind}" for kind in ("pdf", "csv", "json")]
    found = json.loads((tmp_path / "pencil-block-a4-mm.json").read_text("utf-8"))
    assert found["title"] == check(design).design.card.title  # type: ignore[union-attr]
    assert found["plans"][0]["proved"] is True
    assert (tmp_path / "pencil-block-a4-mm.csv").read_text("utf-8").startswith("list,number,name,")


def test_a_booklet_is_cut_from_a_rack_if_there_is_one(design: Path, tmp_path: Path) -> None:
    rack = tmp_path / "rack.csv"
    rack.write_text("name,wood,thickness,width,length\nmy plank,cherry,52 mm,300 mm,2 m\n", "utf-8")
    built = build(design, Edition("a4", "mm"), tmp_path, rack=rack)
    assert built.findings == ()
    plans = json.loads((tmp_path / "pencil-block-a4-mm.json").read_text("utf-8"))["plans"]
    assert [sheet["stock"] for plan in plans for sheet in plan["sheets"]] == ["my plank"]
    rack.write_text("name,wood,thickness,width,length\nmy plank,cherry,0 mm,300 mm,2 m\n", "utf-8")
    refused = build(design, Edition("a4", "mm"), tmp_path / "none", rack=rack)
    assert (refused.files, [finding.code for finding in refused.findings]) == ((), ["INP34"])


def test_a_draft_is_printed_in_spite_of_errors(design: Path, tmp_path: Path) -> None:
    steps = (design / "steps.md").read_text()
    (design / "steps.md").write_text(steps.replace("```saw", "```sow"))
    assert build(design, Edition("a4", "mm", draft=True), tmp_path / "out").files


def test_every_finding_of_a_check_has_a_kind_that_can_be_explained(design: Path) -> None:
    (design / "steps.md").write_text((design / "steps.md").read_text().replace("blade", "blate"))
    found = check(design).findings
    assert found
    for finding in found:
        kind = explain(finding.code.lower())
        assert kind is not None
        assert kind.name == finding.name
        assert kind.what
        assert kind.why
    assert explain("nothing of the kind") is None


def test_codes_and_names_are_never_used_twice() -> None:
    kinds = all_kinds()
    assert len({kind.code for kind in kinds}) == len(kinds)
    assert len({kind.name for kind in kinds}) == len(kinds)


def test_a_choice_of_woods_names_its_booklet_and_is_told_in_it(design: Path, tmp_path: Path) -> None:
    wood = next(iter(check(design).timeline.design.stock.values())).wood  # type: ignore[union-attr]
    with (design / "design.toml").open("a") as file:
        file.write(f'\n[choices."by the fire"]\nwoods = {{ "{wood}" = "white oak" }}\n')
    checked = check(design, choice="by the fire")
    assert checked.timeline is not None
    assert {member.wood for piece in checked.timeline.object for member in piece.members} >= {"white oak"}
    html = compose_book(checked.timeline, Edition("a4", "mm"))
    assert "In these woods: By the fire" in html
    assert "This copy is for By the fire." in html
    booklet, *_ = build(design, Edition("a4", "mm"), tmp_path / "out", choice="by the fire").files
    assert booklet.name == "pencil-block-by-the-fire-a4-mm.pdf"


def test_the_design_as_written_shows_its_choices_without_taking_one(design: Path) -> None:
    with (design / "design.toml").open("a") as file:
        file.write('\n[choices.pale]\nwoods = { cherry = "white ash" }\n')
    checked = check(design)
    assert checked.timeline is not None
    html = compose_book(checked.timeline, Edition("a4", "mm"))
    assert "In these woods:" not in html
    assert "This copy is for as designed." not in html
    assert "This copy is for the woods as designed." in html
    assert "white ash" in html


def test_an_unknown_choice_is_not_built(design: Path, tmp_path: Path) -> None:
    with pytest.raises(UnknownChoice):
        build(design, Edition("a4", "mm"), tmp_path / "out", choice="pale")
    assert not (tmp_path / "out").exists()
