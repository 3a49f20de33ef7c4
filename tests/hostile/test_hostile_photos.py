"""Photos that somebody might put into a design to make it fail, to read other files or to be told of: all are findings."""

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import pytest
from PIL import ImageFile

from planbook.reader import read_design
from planbook.text import Finding

HERE = Path(__file__).parent


def _load(path: Path) -> ModuleType:
    spec = importlib.util.spec_from_file_location(f"{path.stem}_for_photos", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


hostile = _load(HERE / "hostile.py")
made = _load(HERE.parent / "reader" / "photo_samples.py")


def about(folder: Path, written: str) -> tuple[Finding, ...]:
    with (folder / "steps.md").open("a", encoding="utf-8") as file:
        file.write(f"\n{written}\n")
    reading = read_design(folder)
    last = (folder / "steps.md").read_text("utf-8").count("\n")
    assert all(finding.place.line == last and finding.place.file.endswith("steps.md") for finding in reading.findings)
    return reading.findings


CASES: dict[str, tuple[str, str, bytes, list[str]]] = {
    "sound": ("![The lid](lid.jpg)", "lid.jpg", made.photo(), []),
    "sound, in a folder": ("![The lid](photos/lid.jpg)", "photos/lid.jpg", made.photo(), []),
    "sound, with a blank": ("![The lid](the%20lid.jpg)", "the lid.jpg", made.photo(), []),
    "missing": ("![The lid](lid.jpg)", "lod.jpg", made.photo(), ["INP02"]),
    "other case": ("![The lid](lid.jpg)", "Lid.JPG", made.photo(), ["INP02"]),
    "no name": ("![The lid]()", "lid.jpg", made.photo(), ["PHO01"]),
    "out of the folder": ("![The lid](../lid.jpg)", "lid.jpg", made.photo(), ["INP03"]),
    "out of the folder, hidden": ("![The lid](photos/%2e%2e/%2e%2e/lid.jpg)", "lid.jpg", made.photo(), ["INP03"]),
    "absolute": ("![The lid](/etc/lid.jpg)", "lid.jpg", made.photo(), ["INP03"]),
    "of a drive": ("![The lid](C:lid.jpg)", "lid.jpg", made.photo(), ["INP03"]),
    "backslashes": (r"![The lid](photos\\..\\lid.jpg)", "lid.jpg", made.photo(), ["INP03"]),
    "a nul": ("![The lid](lid%00.jpg)", "lid.jpg", made.photo(), ["INP03"]),
    "a text": ("![The lid](design.toml)", "lid.jpg", made.photo(), ["PHO01"]),
    "a network picture": ("![The lid](https://pictures.example/lid.jpg)", "lid.jpg", made.photo(), ["PHO03"]),
    "without a scheme": ("![The lid](//pictures.example/lid.jpg)", "lid.jpg", made.photo(), ["PHO03"]),
    "not as Markdown": ("![The lid](the lid.jpg)", "the lid.jpg", made.photo(), ["PHO10"]),
    "no words": ("![](lid.jpg)", "lid.jpg", made.photo(), ["PHO05"]),
    "giant": ("![The lid](lid.png)", "lid.png", made.png_head(20_000, 10_000), ["PHO02"]),
    "cut off": ("![The lid](lid.jpg)", "lid.jpg", made.photo()[:3000], ["PHO01"]),
    "empty": ("![The lid](lid.jpg)", "lid.jpg", b"", ["PHO01"]),
    "wrong name": ("![The lid](lid.jpg)", "lid.jpg", made.photo(sort="PNG"), ["PHO01"]),
    "a drawing": ("![The lid](lid.png)", "lid.png", b"<svg xmlns='http://www.w3.org/2000/svg'/>", ["PHO01"]),
    "four colours": ("![The lid](lid.jpg)", "lid.jpg", made.photo(mode="CMYK"), ["PHO09"]),
    "palette": ("![The lid](lid.png)", "lid.png", made.photo(sort="PNG", mode="P"), []),
    "transparent": ("![The lid](lid.png)", "lid.png", made.photo(sort="PNG", mode="RGBA"), []),
    "16 bits": ("![The lid](lid.png)", "lid.png", made.photo(sort="PNG", mode="I;16"), []),
    "coarse": ("![The lid](lid.jpg)", "lid.jpg", made.photo(320, 240), ["PHO04"]),
    "a strip": ("![The lid](lid.jpg)", "lid.jpg", made.photo(4000, 200), ["PHO06"]),
    "html": ('<img src="lid.jpg" onerror="go()">', "lid.jpg", made.photo(), ["PHO11"]),
    "a link to a file": ("[the lid](../lid.html)", "lid.jpg", made.photo(), ["PHO12"]),
}


def test_a_photo_that_is_cut_off_is_told_after_something_was_printed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The printer lets Pillow fill up what is missing, for the whole process."""
    monkeypatch.setattr(ImageFile, "LOAD_TRUNCATED_IMAGES", True)
    folder = hostile.design_with(tmp_path)
    (folder / "lid.jpg").write_bytes(made.photo()[:3000])
    assert [finding.code for finding in about(folder, "![The lid](lid.jpg)")] == ["PHO01"]
    assert ImageFile.LOAD_TRUNCATED_IMAGES is True


@pytest.mark.usefixtures("little_memory", "little_time")
@pytest.mark.parametrize("case", CASES)
def test_a_photo_earns_its_findings_and_nothing_else(case: str, tmp_path: Path) -> None:
    written, name, data, codes = CASES[case]
    folder = hostile.design_with(tmp_path)
    (tmp_path / "lid.jpg").write_bytes(made.photo())
    (folder / name).parent.mkdir(exist_ok=True)
    (folder / name).write_bytes(data)
    assert sorted({finding.code for finding in about(folder, written)}) == codes


@pytest.mark.parametrize("to", ["file", "nowhere", "itself", "folder"])
def test_links_are_not_followed_out_of_the_folder(tmp_path: Path, to: str) -> None:
    folder, outside = hostile.design_with(tmp_path), tmp_path / "lid.jpg"
    outside.write_bytes(made.photo())
    path = folder / "lid.jpg"
    if to == "folder":
        path.mkdir()
    else:
        path.symlink_to({"file": outside, "nowhere": tmp_path / "none", "itself": path}[to])
    expected = {"file": "INP03", "nowhere": "INP02", "itself": "INP02", "folder": "INP04"}[to]
    assert [finding.code for finding in about(folder, "![The lid](lid.jpg)")] == [expected]


def test_a_name_in_another_case_is_told_with_the_right_one(tmp_path: Path) -> None:
    folder = hostile.design_with(tmp_path)
    (folder / "Lid.jpg").write_bytes(made.photo())
    (finding,) = about(folder, "![The lid](lid.jpg)")
    assert "`Lid.jpg`" in finding.hint


def test_a_photo_before_the_first_step_is_told(tmp_path: Path) -> None:
    folder = hostile.design_with(tmp_path)
    steps = folder / "steps.md"
    steps.write_text(steps.read_text("utf-8").replace("# Block\n", "# Block\n\n![The block](block.jpg)\n", 1), "utf-8")
    (finding,) = read_design(folder).findings
    assert (finding.code, finding.place.line) == ("PHO07", 3)
