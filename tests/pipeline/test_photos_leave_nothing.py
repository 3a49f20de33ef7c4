"""Photos on the whole way: what a camera wrote is in no file that goes out, and the same source gives the same bytes."""

import importlib.util
import io
import shutil
import zipfile
from pathlib import Path
from types import ModuleType

import pikepdf
import pypdfium2
import pytest
from PIL import Image

from planbook.archive import Archive
from planbook.archive.exporting import export
from planbook.booklet import Edition
from planbook.pipeline import build
from planbook.pipeline.finished import Order, key_of
from planbook.releasing import printed_again, release

ROOT = Path(__file__).parents[2]
STARTER = ROOT / "planbook" / "cli" / "starter"


def _samples() -> ModuleType:
    spec = importlib.util.spec_from_file_location("photo_samples_sent", ROOT / "tests" / "reader" / "photo_samples.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


made = _samples()


@pytest.fixture
def design(tmp_path: Path) -> Path:
    folder = tmp_path / "pencil-block"
    shutil.copytree(STARTER, folder, ignore=shutil.ignore_patterns("__pycache__", "*.py"))
    steps = folder / "steps.md"
    first = steps.read_text("utf-8").index("```")
    text = steps.read_text("utf-8")
    steps.write_text(f"{text[:first]}![The boards](photos/boards.jpg)\n\n{text[first:]}", "utf-8")
    (folder / "photos").mkdir()
    (folder / "photos" / "boards.jpg").write_bytes(made.from_a_camera(2400, 1600, orientation=6))
    return folder


def told(data: bytes) -> list[bytes]:
    """What a file tells of the camera, in its own bytes or in any stream of a PDF or member of a zip file."""
    parts = [data]
    if data.startswith(b"%PDF"):
        with pikepdf.open(io.BytesIO(data)) as document:
            for thing in document.objects:
                if isinstance(thing, pikepdf.Stream):
                    parts.append(thing.read_raw_bytes())
                    if thing.get("/Filter") != pikepdf.Name.DCTDecode:
                        parts.append(thing.read_bytes())
    if data.startswith(b"PK"):
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            parts += [packed.read(name) for name in packed.namelist()]
    return [secret for secret in made.SECRETS if any(secret in part for part in parts)]


def test_the_search_finds_what_is_there() -> None:
    assert told(made.from_a_camera()) == list(made.SECRETS)


def photos_in(pdf: bytes) -> list[Image.Image]:
    """The photos on the pages, decoded."""
    with pikepdf.open(io.BytesIO(pdf)) as document:
        streams = [thing for thing in document.objects if isinstance(thing, pikepdf.Stream)]
        packed = [thing.read_raw_bytes() for thing in streams if thing.get("/Filter") == pikepdf.Name.DCTDecode]
    return [Image.open(io.BytesIO(data)) for data in packed]


def test_booklets_and_copies_for_archives(design: Path, tmp_path: Path) -> None:
    edition = Edition("a4", "mm", archive=True)
    built = build(design, edition, tmp_path / "one", nominal=True)
    assert not [finding for finding in built.findings if finding.stops]
    files = {path.relative_to(tmp_path / "one").as_posix(): path.read_bytes() for path in built.files}
    assert len([name for name in files if name.endswith(".pdf")]) == 2
    assert {name: told(data) for name, data in files.items() if told(data)} == {}
    (photo,) = photos_in(files["pencil-block-a4-mm.pdf"])
    assert photo.mode == "RGB"
    assert photo.width < photo.height  # the camera was held upright
    with pikepdf.open(io.BytesIO(files["pencil-block-a4-mm-archive.pdf"])) as document:
        attached = {name: document.attachments[name].get_file().read_bytes() for name in document.attachments}
    (name,) = [name for name in attached if name.endswith("boards.jpg")]
    assert Image.open(io.BytesIO(attached[name])).size == photo.size
    moved = shutil.copytree(design, tmp_path / "elsewhere" / design.name)
    again = build(moved, edition, tmp_path / "two", nominal=True)
    assert {path.relative_to(tmp_path / "two").as_posix(): path.read_bytes() for path in again.files} == files


def test_black_ink_prints_photos_in_grey(design: Path, tmp_path: Path) -> None:
    built = build(design, Edition("letter", "in", ink="black", layout="shop"), tmp_path / "out", nominal=True)
    pdf = next(path for path in built.files if path.suffix == ".pdf").read_bytes()
    assert [photo.mode for photo in photos_in(pdf)] == ["L"]
    with pypdfium2.PdfDocument(pdf) as document:
        assert len(document) > 3


def test_releases_and_exports(design: Path, tmp_path: Path) -> None:
    archive = Archive(tmp_path / "archive")
    done = release(design, archive)
    assert done.outcome == "released", done.findings
    manifest = archive.release(done.name)
    assert "source/pencil-block/photos/boards.jpg" in {entry.path for entry in manifest.files}
    assert {entry.path: told(archive.read(entry)) for entry in manifest.files if told(archive.read(entry))} == {}
    export(archive, [done.name], tmp_path / "sent.zip")
    assert told((tmp_path / "sent.zip").read_bytes()) == []
    assert printed_again(archive, done.name) == ()


def test_another_photo_is_another_build(design: Path) -> None:
    order = Order(design, Edition("a4", "mm"))
    before = key_of(order)
    (design / "photos" / "boards.jpg").write_bytes(made.photo())
    assert before is not None
    assert key_of(order) not in (None, before)
