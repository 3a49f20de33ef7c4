"""A version must be higher than the release before it, by as much as has changed."""

from dataclasses import replace

import pytest

from planbook.archive import ArchiveProblem, Refused, Version
from planbook.archive.facts import Measure
from planbook.archive.policy import Since, fits, read_number, safe_names, still_fits
from planbook.text import Place

PLACE = Place("tern-box/design.toml", 3, 11, 5)


def refusal(archive, number, facts):
    with pytest.raises(Refused) as caught:
        fits(archive, "tern-box", number, facts, PLACE)
    (finding,) = caught.value.findings
    assert finding.place == PLACE
    assert finding.stops
    return finding


def test_a_first_release_may_have_any_number(archive, box):
    assert fits(archive, "tern-box", Version(0, 3), box, PLACE) == Since()


def test_a_changed_size_is_no_patch(archive, add, box):
    add(version="1.0")
    larger = replace(box, sizes={**box.sizes, "wall": Measure(8.0, "length")})
    finding = refusal(archive, Version(1, 0, 1), larger)
    assert finding.code == "REL03"
    assert finding.notes == ("sizes: `wall` was 6 mm, and is now 8 mm",)
    assert finding.label == "1.1 or higher"
    assert finding.hint == 'write version = "1.1"'
    for number in (Version(1, 1), Version(1, 7), Version(2, 0)):
        assert fits(archive, "tern-box", number, larger, PLACE).after == "tern-box@1.0"


def test_a_changed_stencil_is_no_patch(archive, add, box):
    add(version="1.0")
    outline = replace(box.stencils["Outline"], geometry="ab")
    other = replace(box, stencils={**box.stencils, "Outline": outline})
    assert refusal(archive, Version(1, 0, 1), other).notes == ("stencils: `Outline` has other lines, holes or edges",)


def test_another_object_needs_a_new_first_number(archive, add, box):
    add(version="1.3")
    without = replace(box, pieces={"box": box.pieces["box"]})
    finding = refusal(archive, Version(1, 4), without)
    assert "the object is another one" in finding.headline
    assert "pieces: `lid` is gone" in finding.notes
    assert not any("jig" in note for note in finding.notes)
    assert fits(archive, "tern-box", Version(2, 0), without, PLACE).changes is not None


def test_words_are_a_patch(archive, add, box):
    add(version="1.0")
    since = fits(archive, "tern-box", Version(1, 0, 1), replace(box, words={}), PLACE)
    assert since.changes is not None
    assert since.changes.print_again == ()


def test_an_older_line_is_compared_with_its_own_last_release(archive, add, box):
    for version in ("1.0", "1.1", "2.0"):
        add(version=version)
    assert fits(archive, "tern-box", Version(1, 1, 1), box, PLACE).after == "tern-box@1.1"
    finding = refusal(archive, Version(0, 9), box)
    assert (finding.code, finding.hint) == ("REL04", "take a number that is higher than 2.0")


def test_many_changes_are_counted(archive, add, box):
    many = replace(box, sizes={f"size {n}": Measure(float(n), "length") for n in range(30)})
    add(version="2.0", facts=many)
    larger = replace(many, sizes={f"size {n}": Measure(float(n + 1), "length") for n in range(30)})
    notes = refusal(archive, Version(2, 0, 1), larger).notes
    assert (len(notes), notes[-1]) == (13, "and 18 more changes")


@pytest.mark.parametrize("text", ["spring", "1", "1.0-beta", "1.02"])
def test_a_version_that_is_no_number_is_refused(text):
    with pytest.raises(Refused) as caught:
        read_number(text, PLACE)
    assert [finding.code for finding in caught.value.findings] == ["REL01"]


def test_files_that_some_system_cannot_hold_are_refused():
    safe_names(["design.toml", "Möwe.svg"], PLACE)
    with pytest.raises(Refused, match="device"):
        safe_names(["design.toml", "aux.svg"], PLACE)


def test_a_release_made_meanwhile_is_noticed(archive, add, box):
    add(version="1.0")
    since = fits(archive, "tern-box", Version(1, 1), box, PLACE)
    still_fits(archive, "tern-box", Version(1, 1), since)
    add(version="1.0.5")
    with pytest.raises(ArchiveProblem, match="released meanwhile"):
        still_fits(archive, "tern-box", Version(1, 1), since)
