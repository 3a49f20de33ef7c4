"""`planbook build`: what it asks of the pipeline, what it prints, what it refuses."""

import errno
import os
from dataclasses import replace

import pytest

from planbook.booklet import LayoutProblem
from planbook.drawing.correction import Correction
from planbook.drawing.stencil_pages import PaperTooSmall
from planbook.model import Card, UnknownChoice
from planbook.press import MissingLibrary
from planbook.text import Place

CARD = Card("Box", "", "1.0", "Saltmarsh Workshop", "mm", "", "", "", "", Place("design.toml"))


def test_the_edition_follows_the_options(command, pipeline, design, tmp_path):
    out = tmp_path / "out"
    ran = command("build", design, "--paper", "a4", "--units", "mm", "--draft", "--out", out)
    assert ran.status == 0
    (_, folder, wanted, where) = pipeline.asked[0]
    edition = wanted(CARD)
    assert (folder, edition.paper, edition.units, edition.draft, where) == (design, "a4", "mm", True, out)
    assert ran.out == f"{design}: nothing to mend\nwrote {out / 'box.pdf'}\n"


def test_without_options_the_edition_follows_the_units_of_the_design(command, pipeline, design):
    command("build", design)
    edition = pipeline.asked[0][2](CARD)
    assert (edition.paper, edition.units) == ("a4", "mm")
    inches = pipeline.asked[0][2](replace(CARD, units="in"))
    assert (inches.paper, inches.units) == ("letter", "in")


def test_what_was_measured_corrects_the_stencils(command, pipeline, design, tmp_path):
    command("build", "--measured", "99.4x100.2", design)
    (_, _, edition, _) = pipeline.asked[0]
    assert edition(CARD).correction == Correction(99.4, 100.2)


def test_a_printer_that_is_too_far_off_is_refused(command, pipeline, design):
    ran = command("build", "--measured", "90x100", design)
    assert ran.status == 2
    assert "10.0% too short" in ran.err
    assert not pipeline.asked


def test_a_day_of_work_is_three_hours_unless_said_otherwise(command, pipeline, design):
    for words, minutes in (((), 180), (("--day", "1 h 30 min"), 90), (("--day", "24 h"), 1440)):
        assert command("build", design, *words).status == 0
        assert pipeline.asked[-1][2](CARD).work_a_day == minutes


@pytest.mark.parametrize(
    ("words", "why"),
    [
        ("3", "needs a unit of time"),
        ("soon", "cannot be read"),
        ("25 h", "is not from 1 min to 24 h"),
        ("0 min", "is not"),
    ],
)
def test_a_day_that_is_no_day_is_refused(command, pipeline, design, words, why):
    ran = command("build", design, "--day", words)
    assert ran.status == 2
    assert why in ran.err
    assert pipeline.asked == []


def test_a_price_list_is_handed_on(command, pipeline, design, tmp_path):
    command("build", design)
    assert pipeline.prices is None
    command("build", design, "--prices", tmp_path / "prices.csv")
    assert pipeline.prices == tmp_path / "prices.csv"


def test_a_design_with_errors_makes_no_booklet(command, pipeline, design):
    pipeline.error()
    ran = command("build", design)
    assert ran.status == 1
    assert "wrote" not in ran.out


def test_where_findings_are_for_machines_the_files_are_named_aside(command, pipeline, design, tmp_path):
    ran = command("build", design, "--format", "json", "--out", tmp_path)
    assert ran.out == "[]\n"
    assert f"wrote {tmp_path / 'box.pdf'}" in ran.err


def test_two_designs_of_the_same_name_are_refused(command, pipeline, design, tmp_path):
    twin = tmp_path / "other" / "box"
    twin.mkdir(parents=True)
    ran = command("build", design, twin)
    assert ran.status == 2
    assert "booklets of the same name" in ran.err
    assert pipeline.asked == []
    assert command("check", design, twin).status == 0


def test_a_design_named_twice_is_built_once(command, pipeline, design):
    assert command("build", design, design).status == 0
    assert len(pipeline.asked) == 1


@pytest.mark.parametrize(
    "problem",
    [MissingLibrary("the printer needs Pango"), LayoutProblem("odd", "book.html", 3), PaperTooSmall(50, 50, 10)],
)
def test_what_the_printer_cannot_do_is_refused_with_its_own_words(command, pipeline, design, problem):
    pipeline.raises = problem
    ran = command("build", design)
    assert (ran.status, ran.err) == (2, f"planbook: {problem}\n")


def test_a_folder_that_cannot_be_written_is_named(command, pipeline, design):
    pipeline.raises = OSError(errno.EACCES, os.strerror(errno.EACCES), "/plans/box.pdf")
    ran = command("build", design)
    assert (ran.status, ran.err) == (2, "planbook: `/plans/box.pdf` cannot be written: permission denied\n")


def test_a_full_disk_without_a_name_is_one_sentence_too(command, pipeline, design):
    pipeline.raises = OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
    ran = command("build", design)
    assert (ran.status, ran.err) == (2, "planbook: cannot be written: no space left on device\n")


def test_a_choice_of_woods_is_handed_on(command, pipeline, design):
    assert command("build", design, "--choice", "by the fire").status == 0
    assert pipeline.asked[0][-1] == "by the fire"
    assert command("check", design, "--choice", "").status == 0
    assert pipeline.asked[1] == ("check", design, "")


@pytest.mark.parametrize("verb", ["check", "build"])
def test_a_choice_that_is_not_there_is_refused_with_the_nearest(command, pipeline, design, verb):
    pipeline.raises = UnknownChoice("there is no choice called `fir`; did you mean `by the fire`?")
    ran = command(verb, design, "--choice", "fir")
    assert (ran.status, ran.out) == (2, "")
    assert ran.err == f"planbook: {design}: there is no choice called `fir`; did you mean `by the fire`?\n"


def test_several_editions_are_asked_for_at_once(command, pipeline, design, tmp_path):
    options = ("--paper", "a4", "--paper", "letter", "--units", "mm", "--units", "in", "--units", "mm", "-j", "2")
    assert command("build", design, *options, "--ink", "black", "--out", tmp_path).status == 0
    ((_, editions, out, processes),) = pipeline.asked
    assert (out, processes) == (tmp_path, 2)
    made = [edition(CARD) for edition in editions]
    assert [(edition.paper, edition.units) for edition in made] == [
        ("a4", "mm"),
        ("a4", "in"),
        ("letter", "mm"),
        ("letter", "in"),
    ]
    assert {(edition.ink, edition.language) for edition in made} == {("black", "en")}


@pytest.mark.parametrize(("options", "machine", "expected"), [((), 4, 2), ((), 1, 1), (("--jobs", "1"), 4, 1)])
def test_one_design_is_built_with_the_help_of_a_second_process(
    command, pipeline, design, monkeypatch, options, machine, expected
):
    monkeypatch.setattr("planbook.cli.building.processors", lambda: machine)
    assert command("build", *options, design).status == 0
    assert pipeline.processes == expected
