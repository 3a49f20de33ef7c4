"""Files that are missing, strange, too large or outside of the folder."""

import os
from pathlib import Path

import pytest

from planbook.reader import Reading, read_design
from planbook.reader.files import MOST_BYTES

CARD = 'title = "Curlew box"\nversion = "1.0"\nmaker = "Saltmarsh Workshop"\nunits = "mm"\n'
STEPS = "## Saw\n\nSaw it.\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    made = tmp_path / "curlew"
    made.mkdir()
    (made / "design.toml").write_text(CARD, "utf-8")
    (made / "steps.md").write_text(STEPS, "utf-8")
    return made


def codes(reading: Reading) -> list[str]:
    return [finding.code for finding in reading.findings]


def test_a_small_design_is_read(folder: Path) -> None:
    reading = read_design(folder)
    assert reading.findings == ()
    assert reading.design is not None
    assert reading.design.card.maker == "Saltmarsh Workshop"
    assert set(reading.sources) == {f"{folder.as_posix()}/design.toml", f"{folder.as_posix()}/steps.md"}


def test_folder_that_is_missing_or_a_file(folder: Path) -> None:
    missing = read_design(folder / "nothing")
    assert codes(missing) == ["INP01"]
    assert missing.findings[0].headline.endswith("nothing` does not exist")
    assert read_design(folder / "design.toml").findings[0].headline.endswith("design.toml` is not a folder")
    assert codes(read_design(Path("a\0b"))) == ["INP01"]


def test_file_in_other_letters_is_named_in_the_hint(folder: Path) -> None:
    (folder / "design.toml").rename(folder / "Design.TOML")
    (finding,) = read_design(folder).findings
    assert (finding.code, finding.hint) == ("INP02", "rename `Design.TOML` to `design.toml`")


def test_link_inside_the_folder_is_followed(folder: Path) -> None:
    (folder / "steps.md").rename(folder / "text.md")
    (folder / "steps.md").symlink_to("text.md")
    assert read_design(folder).findings == ()


def test_link_out_of_the_folder_is_refused(folder: Path, tmp_path: Path) -> None:
    secret = tmp_path / "secret.md"
    secret.write_text("## Secret\n", "utf-8")
    (folder / "steps.md").unlink()
    (folder / "steps.md").symlink_to(secret)
    reading = read_design(folder)
    assert codes(reading) == ["INP03"]
    assert all("Secret" not in source.text for source in reading.sources.values())


def test_folder_next_door_with_a_longer_name_is_outside(folder: Path, tmp_path: Path) -> None:
    other = tmp_path / "curlew-2"
    other.mkdir()
    (other / "steps.md").write_text(STEPS, "utf-8")
    (folder / "steps.md").unlink()
    (folder / "steps.md").symlink_to("../curlew-2/steps.md")
    assert codes(read_design(folder)) == ["INP03"]


def test_folder_reached_by_a_link_is_as_good_as_any(folder: Path, tmp_path: Path) -> None:
    (tmp_path / "short").symlink_to(folder)
    assert read_design(tmp_path / "short").findings == ()


def test_link_that_leads_nowhere_or_to_itself(folder: Path) -> None:
    for name, target in (("design.toml", "gone.toml"), ("steps.md", "steps.md")):
        (folder / name).unlink()
        (folder / name).symlink_to(target)
    assert codes(read_design(folder)) == ["INP02", "INP02"]


def test_what_is_no_file_is_not_opened(folder: Path) -> None:
    (folder / "design.toml").unlink()
    (folder / "design.toml").mkdir()
    (folder / "steps.md").unlink()
    os.mkfifo(folder / "steps.md")
    assert codes(read_design(folder)) == ["INP04", "INP04"]


def test_a_file_is_at_most_two_megabytes(folder: Path) -> None:
    line = "<!-- " + "-" * 94 + " -->\n"
    room = MOST_BYTES - len(STEPS)
    filled = STEPS + line * (room // len(line))
    filled += "\n" * (MOST_BYTES - len(filled))
    (folder / "steps.md").write_text(filled, "utf-8")
    assert codes(read_design(folder)) == []
    (folder / "steps.md").write_text(filled + "\n", "utf-8")
    assert codes(read_design(folder)) == ["INP05"]


def test_the_place_of_a_bad_byte_counts_characters(folder: Path) -> None:
    (folder / "steps.md").write_bytes("## Saw\r\n\r\n½ in. ½\n".encode() + "grün".encode("latin-1") + b"\n")
    (finding,) = read_design(folder).findings
    assert (finding.code, finding.place.line, finding.place.column) == ("INP06", 4, 3)
    assert "0xfc" in finding.headline


def test_problems_of_both_files_are_told_in_one_run(folder: Path) -> None:
    (folder / "design.toml").write_text(CARD + "[sizes]\nwall = 3\n", "utf-8")
    (folder / "steps.md").write_text("Nothing.\n", "utf-8")
    assert codes(read_design(folder)) == ["INP22", "INP41"]
