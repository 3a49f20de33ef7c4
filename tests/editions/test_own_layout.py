"""Somebody's own folder of templates: checked before it is filled in, and closed to what lies outside."""

import shutil
from pathlib import Path

import pytest

from planbook.booklet import LayoutProblem, layout_names
from planbook.booklet.compose import environment, words_of
from planbook.booklet.layouts import layout_folder
from planbook.booklet.own_layout import check_layout


@pytest.fixture
def own(tmp_path: Path) -> Path:
    return Path(shutil.copytree(layout_folder("shop"), tmp_path / "own"))


def check(folder: Path) -> None:
    check_layout(folder, environment(folder), words_of(folder, "en"))


def test_a_copy_of_ours_is_accepted(own: Path) -> None:
    check(own)


@pytest.mark.parametrize("name", layout_names())
def test_our_own_layouts_keep_the_rules(name: str) -> None:
    check(layout_folder(name))


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("{{ book.tittle }}", "a booklet has no `tittle`"),
        ("{{ words.tittle }}", "`words.tittle` is not among the words"),
        ("{{ plan.title }}", "there is nothing called `plan`"),
        ("{% if %}", "Expected an expression"),
    ],
)
def test_what_cannot_be_filled_in_is_refused_with_its_line(own: Path, line: str, said: str) -> None:
    (own / "book.html").write_text(f"<html>\n{line}\n</html>")
    with pytest.raises(LayoutProblem) as problem:
        check(own)
    assert said in problem.value.message
    assert (problem.value.file, problem.value.line) == ("own/book.html", 2)


def test_a_missing_file_is_named(own: Path) -> None:
    (own / "book.html").unlink()
    with pytest.raises(LayoutProblem, match=r"own/book\.html: a layout needs this file"):
        check(own)


def test_a_link_out_of_the_folder_is_refused(own: Path, tmp_path: Path) -> None:
    (tmp_path / "secret.html").write_text("secret")
    (own / "more.html").symlink_to(tmp_path / "secret.html")
    with pytest.raises(LayoutProblem, match=r"own/more\.html: leads out"):
        check(own)


def test_a_folder_that_is_not_there_is_said() -> None:
    with pytest.raises(LayoutProblem, match="there is no such folder"):
        layout_folder(Path("no such folder"))


def test_its_own_words_in_another_language_keep_the_placeholders_of_its_english(own: Path) -> None:
    (own / "words" / "en.toml").write_text('read = "Step {number} of {total}"\n[parts]\nlist = ["{one}"]\n', "utf-8")
    (own / "words" / "de.toml").write_text('read = "{total}, Schritt {number}"\n[parts]\nlist = ["{one}"]\n', "utf-8")
    assert words_of(own, "de")["read"] == "{total}, Schritt {number}"
    for words in ('read = "Schritt {number}"', '[parts]\nlist = ["{one} {two}"]'):
        (own / "words" / "de.toml").write_text(words, "utf-8")
        with pytest.raises(LayoutProblem) as problem:
            words_of(own, "de")
        assert "the translation of" in problem.value.message
        assert problem.value.file == "layouts/own/words/de.toml"
