"""Hostile files: each is met by its reader, and what must happen to it stands in `expected.toml`."""

import importlib.util
import os
import re
import sys
import tomllib
from html.parser import HTMLParser
from pathlib import Path
from types import ModuleType
from unicodedata import category

import pytest

from planbook.booklet import prose_html
from planbook.pipeline import check
from planbook.press import file_name
from planbook.reader import read_design
from planbook.text import for_people, one_line, plain

HERE = Path(__file__).parent
EXPECTED = tomllib.loads((HERE / "expected.toml").read_text("utf-8"))


def _load() -> ModuleType:
    spec = importlib.util.spec_from_file_location("planbook_hostile", HERE / "hostile.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


hostile = _load()
CASES = hostile.cases()


def name(case: Path) -> str:
    return f"{case.parent.name}/{case.name}"


def test_every_file_has_its_line_and_there_are_many() -> None:
    listed = {f"{folder}/{file}" for folder, files in EXPECTED.items() for file in files}
    assert listed == {name(case) for case in CASES}
    assert len(listed) >= 60


@pytest.mark.usefixtures("little_memory", "little_time")
@pytest.mark.parametrize("case", CASES, ids=name)
def test_a_hostile_file_earns_its_findings_and_nothing_else(case: Path, tmp_path: Path) -> None:
    found = hostile.answer(case, tmp_path)
    assert sorted({finding.code for finding in found}) == EXPECTED[case.parent.name][case.name]
    for finding in found:
        told = one_line(finding) + plain(for_people(finding, {}))
        assert not [char for char in told if (category(char) == "Cc" and char != "\n") or char in "\u202a\u202b\u202e"]


class Addresses(HTMLParser):
    """Everything in a text of HTML that could be fetched or carried out."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.found: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in ("script", "style", "iframe", "img", "object", "embed", "link", "meta", "base", "svg", "form"):
            self.found.append(tag)
        self.found += [f"{key}={value}" for key, value in attrs if key.startswith("on") or key in ("src", "style")]
        self.found += [
            value or "" for key, value in attrs if key == "href" and not re.match("https?://|#", value or "")
        ]


@pytest.mark.usefixtures("little_memory", "little_time")
@pytest.mark.parametrize("case", [case for case in CASES if case.name.startswith("prose")], ids=name)
def test_prose_fetches_nothing_and_runs_nothing(case: Path) -> None:
    assert Addresses(str(prose_html(case.read_text("utf-8"), lambda _: None))).found == []


@pytest.mark.parametrize("file", ["design.toml", "steps.md", "handbook.toml", "odd.svg"])
@pytest.mark.parametrize("to", ["file", "nowhere", "itself", "folder", "device"])
def test_links_and_what_is_no_file_are_not_followed(tmp_path: Path, file: str, to: str) -> None:
    folder = hostile.design_with(tmp_path)
    secret = tmp_path / "secret"
    secret.write_text('title = "SECRET"\n', "utf-8")
    with (folder / "design.toml").open("a", encoding="utf-8") as toml:
        toml.write(hostile.DRAWN.format(name="odd.svg", which="id"))
    path = folder / file
    path.unlink(missing_ok=True)
    if to == "folder":
        path.mkdir()
    else:
        path.symlink_to({"file": secret, "nowhere": tmp_path / "none", "itself": path, "device": Path("/dev/zero")}[to])
    reading = read_design(folder)
    assert reading.design is None
    assert {finding.code for finding in reading.findings} & {"INP02", "INP03", "INP04"}
    assert not any("SECRET" in source.text for source in reading.sources.values())


def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    folder = hostile.design_with(tmp_path)
    if not hasattr(os, "mkfifo"):
        pytest.skip("this system has no named pipes")
    (folder / "steps.md").unlink()
    os.mkfifo(folder / "steps.md")
    assert read_design(folder).design is None


BYTES = {
    "nul": (b"\0", {"INP10", "INP08", "INP09", "INP18", "INP07"}),
    "invalid utf-8": (b"\xc3\x28", {"INP06"}),
    "utf-16": ("\ufeffx".encode("utf-16"), {"INP06"}),
    "overlong": (b"\xc0\xaf", {"INP06"}),
    "lone surrogate": (b"\xed\xa0\x80", {"INP06"}),
    "too large": (b"# \n" * 700_000, {"INP05"}),
    "one long line": (b"#" + b"x" * 1_900_000, {"INP07"}),
}


@pytest.mark.usefixtures("little_memory", "little_time")
@pytest.mark.parametrize("file", ["design.toml", "steps.md"])
@pytest.mark.parametrize("what", BYTES)
def test_bytes_that_are_no_text_are_told(tmp_path: Path, file: str, what: str) -> None:
    folder = hostile.design_with(tmp_path)
    data, codes = BYTES[what]
    path = folder / file
    path.write_bytes(data + path.read_bytes())
    reading = read_design(folder)
    assert reading.design is None
    assert {finding.code for finding in reading.findings} & codes


def test_a_byte_order_mark_is_no_fault(tmp_path: Path) -> None:
    folder = hostile.design_with(tmp_path)
    for file in ("design.toml", "steps.md"):
        (folder / file).write_bytes(b"\xef\xbb\xbf" + (folder / file).read_bytes())
    assert read_design(folder).findings == ()


@pytest.mark.usefixtures("little_memory", "little_time")
@pytest.mark.parametrize("points", [100_000, 4_900])
def test_an_outline_of_very_many_points_is_told_or_built(tmp_path: Path, points: int) -> None:
    folder = hostile.design_with(tmp_path)
    line = "L".join(f"{n % 90} {n // 90 % 45 + n % 7 * 0.1:.1f}" for n in range(points))
    drawing = f'<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="50mm" viewBox="0 0 100 50"><path id="x" d="M{line}z"/></svg>'
    (folder / "odd.svg").write_text(drawing, "utf-8")
    with (folder / "design.toml").open("a", encoding="utf-8") as toml:
        toml.write(hostile.DRAWN.format(name="odd.svg", which="id"))
    found = {finding.code for finding in check(folder, nominal=True).findings}
    assert found & {"INP51", "SHA25", "INP07"}


@pytest.mark.parametrize(
    "words", ["CON", "nul", "com1.txt", "a/b", "..", "C:\\x", "x\u202ey", "\0", "a" * 400, "日本", "-rf", " . "]
)
def test_names_of_files_are_safe_everywhere(words: str) -> None:
    """Reserved characters and the longest name: Microsoft, "Naming Files, Paths, and Namespaces"."""
    made = file_name(words)
    assert re.fullmatch("[a-z0-9]([a-z0-9-]*[a-z0-9])?", made)
    assert len(made) <= 80
    assert made.upper() not in {"CON", "PRN", "AUX", "NUL", *(f"{d}{n}" for d in ("COM", "LPT") for n in range(10))}
