"""What has changed is told in the terms of the workshop, and says what number it asks for."""

from dataclasses import replace

import pytest

from planbook.archive import Version
from planbook.archive.changes import sentences, what_changed
from planbook.archive.compare import Level, asked, compare
from planbook.archive.facts import (
    FitFact,
    LumberFact,
    Measure,
    PieceFact,
    StencilFact,
    StepFact,
    facts_json,
    read_facts,
)
from planbook.archive.problem import Damaged
from planbook.speech import speaking


def changed(box, **fields):
    return compare(box, replace(box, **fields))


def test_the_same_has_not_changed(box):
    found = compare(box, read_facts(facts_json(box), "tern-box@1.0"))
    assert (found.changes, found.print_again, found.level) == ((), (), Level.SAME)


def test_noise_of_computing_is_no_change(box):
    pieces = {**box.pieces, "lid": PieceFact((150.00000003, 60.0, 8.0), 70_000.00004, ("sugar maple",), "part")}
    step = box.steps[1]
    work = (replace(step.work[0], settings={"leave": (Measure(0.50000001, "length"),)}),)
    fits = {"lid slides": FitFact("slide", 0.2, None, 0.2501, 0.6)}
    sizes = {**box.sizes, "wall": Measure(6.00000001, "length")}
    steps = (box.steps[0], replace(step, work=work), box.steps[2])
    assert changed(box, pieces=pieces, fits=fits, sizes=sizes, steps=steps).changes == ()


def test_a_changed_size_is_told_with_both_values_and_is_no_patch(box):
    found = changed(box, sizes={**box.sizes, "wall": Measure(6.35, "length"), "slope": Measure(12.5, "angle")})
    assert sentences(found) == (
        "sizes: `wall` was 6 mm, and is now 6.35 mm",
        "sizes: `slope` was 10°, and is now 12.5°",
    )
    assert found.level is Level.MINOR
    inches = compare(box, replace(box, units="in", sizes={**box.sizes, "wall": Measure(6.35, "length")}))
    assert sentences(inches) == ("sizes: `wall` was 0.236 in, and is now 1/4 in",)


@pytest.mark.parametrize(
    ("piece", "text"),
    [
        (PieceFact((150.0, 60.0, 9.0), 80_000.0, ("sugar maple",), "part"), "measured 150 × 60 × 8 mm, and now 150 × 60 × 9 mm"),
        (PieceFact((150.0, 60.0, 8.0), 63_000.0, ("sugar maple",), "part"), "another shape in the same box (-10 % of its wood)"),
        (PieceFact((150.0, 60.0, 8.0), 70_000.0, ("white ash",), "part"), "was sugar maple, and is now white ash"),
        (PieceFact((150.0, 60.0, 8.0), 70_000.0, ("sugar maple",), "joined"), "was a part of the object, and is now joined"),
    ],
)  # fmt: skip
def test_a_changed_piece(box, piece, text):
    (change,) = changed(box, pieces={**box.pieces, "lid": piece}).changes
    assert text in change.text
    assert (change.subject, change.level) == ("pieces", Level.MINOR)


def test_another_piece_is_another_object_but_a_jig_is_not(box):
    without = {name: piece for name, piece in box.pieces.items() if name != "lid"}
    assert changed(box, pieces=without).level is Level.MAJOR
    assert compare(replace(box, pieces=without), box).level is Level.MAJOR
    no_jig = {name: piece for name, piece in box.pieces.items() if name != "jig"}
    assert changed(box, pieces=no_jig).level is Level.MINOR


def test_a_changed_stencil_is_printed_again_and_changed_words_on_it_are_not(box):
    outline, lid = box.stencils["Outline"], box.stencils["Lid"]
    found = changed(box, stencils={"Outline": replace(outline, geometry="ab"), "Lid": replace(lid, words="cw")})
    assert found.print_again == ("Outline",)
    assert [(change.text, change.level) for change in found.changes] == [
        ("`Outline` has other lines, holes or edges", Level.MINOR),
        ("`Lid` says something else, but its lines are the same", Level.PATCH),
    ]
    more = changed(box, stencils={**box.stencils, "Knob": StencilFact(3, (9.0, 9.0), "cc", "cw")})
    assert more.print_again == ("Knob",)
    gone = changed(box, stencils={"Outline": outline})
    assert (gone.print_again, sentences(gone)) == ((), ("stencils: `Lid` is gone",))


def test_steps_are_known_by_their_titles(box):
    mill, saw, oil = box.steps
    sand = StepFact("Sand it", "d1", ())
    found = changed(box, steps=(mill, saw, sand, replace(oil, words="c2")))
    assert sentences(found) == (
        "steps: step 3, Sand it, is new",
        "steps: step 4, Oil the box: is described in other words",
    )
    assert found.level is Level.MINOR
    assert sentences(changed(box, steps=(mill, oil))) == ("steps: step 2 of before, Saw the outline, is gone",)
    renamed = changed(box, steps=(mill, replace(saw, title="Cut the outline"), oil))
    assert sentences(renamed) == ("steps: step 2, Cut the outline: was called Saw the outline",)
    assert renamed.level is Level.PATCH


def test_what_is_done_in_a_step(box):
    mill, saw, oil = box.steps
    work = replace(saw.work[0], settings={"leave": (Measure(0.8, "length"),)}, tools=("jig saw",), made=("box",))
    found = changed(box, steps=(mill, replace(saw, work=(work,)), oil))
    assert sentences(found) == (
        "steps: step 2, Saw the outline: saw: makes box instead of box, waste",
        "steps: step 2, Saw the outline: saw: is done with jig saw instead of band saw",
        "steps: step 2, Saw the outline: saw: leave was 0.5 mm, and is now 0.8 mm",
    )
    more = changed(box, steps=(mill, replace(saw, work=(*saw.work, oil.work[0])), oil))
    assert sentences(more) == ("steps: step 2, Saw the outline: the work was saw, and is now saw, finish",)
    other = changed(box, steps=(mill, saw, replace(oil, work=(replace(oil.work[0], settings={}),))))
    assert sentences(other) == ("steps: step 3, Oil the box: finish: bare was the inside, and is now not set",)


def test_lumber_fits_tools_supplies_and_words(box):
    found = changed(
        box,
        lumber={"board": LumberFact("black cherry", (170.0, 76.2, 50.8), 2)},
        fits={"lid slides": FitFact("slide", 0.3, None, 0.32, 0.6)},
        tools=("jig saw",),
        supplies={"oil": "60 ml"},
        words={**box.words, "licence": "For yourself."},
    )
    assert sentences(found) == (
        "lumber: `board` was 1 of black cherry, 170 × 70 × 50.8 mm, and is now 2 of black cherry, 170 × 76.2 × 50.8 mm",
        "fits: `lid slides` asked for at least 0.2 mm, and now for at least 0.3 mm",
        "fits: `lid slides` was proved for 0.25 mm to 0.6 mm, and now for 0.32 mm to 0.6 mm",
        "tools and supplies: `band saw` is gone",
        "tools and supplies: `jig saw` is new",
        "tools and supplies: `oil` was 50 ml, and is now 60 ml",
        "words: the licence is another one",
    )
    assert changed(box, words={}).level is Level.PATCH


def test_what_number_a_change_asks_for():
    before = Version(1, 4, 2)
    assert [str(asked(before, level)) for level in Level] == ["1.4.3", "1.4.3", "1.5", "2.0"]


def test_the_page_says_what_to_print_again(box):
    outline = box.stencils["Outline"]
    found = changed(box, stencils={**box.stencils, "Outline": replace(outline, geometry="ab")}, words={})
    page = what_changed("Tern *box*", "1.0", "1.1", found)
    assert page.startswith("# Tern \\*box\\*: what changed from 1.0 to 1.1\n")
    assert "## Print these stencils again\n\n- Outline\n" in page
    assert "## Stencils\n\n- *Outline* has other lines, holes or edges\n" in page
    assert "## Words\n" in page
    assert "No stencil need be printed again." in what_changed("Box", "1.0", "1.0.1", changed(box, words={}))


@pytest.mark.parametrize("data", [b"", b"[]", b"{}", b"[" * 100_000, b"\xff", b'{"form": 2}'])
def test_facts_of_another_form_are_damaged(data):
    with pytest.raises(Damaged):
        read_facts(data, "tern-box@1.0")


def test_facts_without_end_are_damaged(box):
    data = facts_json(box)
    for value in (b"NaN", b"Infinity", b'"6"'):
        with pytest.raises(Damaged):
            read_facts(data.replace(b"6.0", value), "tern-box@1.0")


def every_change(box):
    """One change of each sort there is."""
    piece, step = box.pieces["lid"], box.steps[1]
    wider = replace(piece, box=(151.0, 60.0, 8.5), woods=("white ash",), ending="joined")
    work = (replace(step.work[0], taken=("lid",), settings={"leave": (Measure(1.5, "length"),)}),)
    return compare(
        box,
        replace(
            box,
            pieces={"lid": wider, "foot": piece},
            sizes={"wall": Measure(6.5, "length")},
            steps=(box.steps[0], replace(step, work=work, words="x"), replace(box.steps[2], title="Wax the box")),
            stencils={name: replace(each, geometry="x") for name, each in box.stencils.items()},
            lumber={name: replace(each, count=each.count + 1) for name, each in box.lumber.items()},
            fits={name: replace(each, least=0.5, asked_most=3.5) for name, each in box.fits.items()},
            tools=("scraper",),
            supplies={"oil": "2 cans"},
            words={**box.words, "title": "Other"},
        ),
    )


@pytest.mark.parametrize("language", ["de", "es", "fr"])
def test_changes_are_told_in_the_language_spoken(box, language):
    english = every_change(box).changes
    assert {change.subject for change in english} == {
        "pieces",
        "sizes",
        "steps",
        "stencils",
        "lumber",
        "fits",
        "tools and supplies",
        "words",
    }
    with speaking(language):
        told = every_change(box).changes
    assert [(change.subject, change.level) for change in told] == [(change.subject, change.level) for change in english]
    assert [one.text for one, other in zip(told, english, strict=True) if one.text == other.text] == []
    words = " ".join(change.text for change in told)
    assert not {" was ", " is ", " now ", " and ", " of ", " instead ", " to "} & {
        f" {word} " for word in words.split()
    }
    assert "6,5 mm" in words


def test_german_changes_are_sentences(box):
    with speaking("de"):
        texts = [change.text for change in every_change(box).changes]
    assert "`wall` war 6 mm und ist jetzt 6,5 mm" in texts
    assert "`foot` ist neu" in texts
    assert "geändert: Titel" in texts
