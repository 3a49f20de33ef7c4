"""Releases go to another archive whole; what is not as planbook wrote it is refused, and leaves nothing behind."""

import io
import random
import stat
import subprocess
import warnings
import zipfile
from pathlib import Path

import pytest

from planbook.archive import Archive, ArchiveProblem, Refused
from planbook.archive.exporting import export
from planbook.archive.importing import import_releases
from planbook.archive.packed import Limits
from planbook.archive.verify import verify


@pytest.fixture
def packed(archive, add, tmp_path) -> Path:
    add(version="1.0")
    add(version="1.1")
    path = tmp_path / "box.zip"
    assert export(archive, ["tern-box@1.0", "tern-box"], path) == ("tern-box@1.0", "tern-box@1.1")
    return path


@pytest.fixture
def other(tmp_path) -> Archive:
    return Archive(tmp_path / "other")


def visible(archive: Archive) -> list[str]:
    if not archive.store.releases.is_dir():
        return []
    assert [finding for finding in verify(archive).findings if finding.code != "ARC06"] == []
    with archive.catalogue() as catalogue:
        return [row.name for row in catalogue.rows()]


def rewritten(path: Path, change) -> Path:
    """The export again, with its files (names to bytes) changed; a value may come with a ZipInfo to set up."""
    with zipfile.ZipFile(path) as file:
        files = {name: file.read(name) for name in file.namelist()}
    change(files)
    made = path.with_name("changed.zip")
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as file:
        for name, data in files.items():
            file.writestr(name, data)
    return made


def refused(archive: Archive, path: Path, **named) -> str:
    with pytest.raises(Refused) as caught:
        import_releases(archive, path, **named)
    (finding,) = caught.value.findings
    assert finding.place.file == path.as_posix()
    assert visible(archive) == []
    assert not list(archive.store.incoming.glob("*"))
    return finding.code


def test_releases_come_over_whole_and_once(packed, archive, other):
    taken = import_releases(other, packed)
    assert (taken.new, taken.known) == (("tern-box@1.0", "tern-box@1.1"), ())
    assert visible(other) == visible(archive) == ["tern-box@1.0", "tern-box@1.1"]
    for name in visible(archive):
        assert other.release(name) == archive.release(name)
        assert other.store.manifest_path(name).read_bytes() == archive.store.manifest_path(name).read_bytes()
    assert import_releases(other, packed).known == ("tern-box@1.0", "tern-box@1.1")


def test_the_same_releases_make_the_same_file_that_other_programs_can_test(packed, archive, tmp_path):
    export(archive, ["tern-box@1.1", "tern-box@1.0"], tmp_path / "again.zip")
    assert (tmp_path / "again.zip").read_bytes() == packed.read_bytes()
    done = subprocess.run(["python3", "-m", "zipfile", "-t", packed], capture_output=True, check=True)
    assert b"Done testing" in done.stdout
    with zipfile.ZipFile(packed) as file:
        tops = {name.split("/")[0] for name in file.namelist()}
    assert tops == {"archive.json", "releases", "objects"}


def test_a_release_that_is_not_there_is_not_exported(archive, add, tmp_path):
    add()
    with pytest.raises(ArchiveProblem, match="no release"):
        export(archive, ["tern-box", "tern-box@7.0"], tmp_path / "box.zip")
    assert not (tmp_path / "box.zip").exists()


def test_an_import_mends_a_damaged_object(packed, archive):
    entry = archive.release("tern-box").entry("stencils/outline.svg")
    archive.store.object_path(entry.sha256).write_bytes(b"<svG/>")
    import_releases(archive, packed)
    assert verify(archive).findings == ()


def test_a_release_at_odds_with_the_archive_is_refused(packed, other, made):
    other.add(*made(version="1.1", text="# mine"))
    before = visible(other)
    with pytest.raises(Refused) as caught:
        import_releases(other, packed)
    assert [finding.code for finding in caught.value.findings] == ["ARC14"]
    assert visible(other) == before == ["tern-box@1.1"]


# ways out of a folder and names of devices: the same corpus as the names of files, and links (mode bits of stat.h)
@pytest.mark.parametrize(
    "name",
    [
        "../evil", "/etc/evil", "objects/../../evil", "C:\\evil", "..\\evil", "objects/aa/../x", "releases/con.json",
        "aux", "notes.txt", "objects/zz/" + "0" * 62, "objects/aa/" + "0" * 61, "releases/a/b.json", "releases/", "./x",
        "catalogue.sqlite", "lock", "incoming/x", "register.sqlite", "a\nb", "releases/\u202ebox@1.0.json",
    ],
)  # fmt: skip
def test_other_names_are_refused(packed, other, name):
    assert refused(other, rewritten(packed, lambda files: files.update({name: b"x"}))) in ("ARC12", "ARC13")
    assert not (other.folder.parent / "evil").exists()


def test_a_manifest_for_a_device_is_refused(packed, other, made):
    from dataclasses import replace

    from planbook.archive.manifest import written

    manifest, _ = made()
    bad = written(replace(manifest, design="con"))
    assert refused(other, rewritten(packed, lambda files: files.update({"releases/con@1.0.json": bad}))) == "ARC13"


@pytest.mark.parametrize("mode", [stat.S_IFLNK | 0o777, stat.S_IFIFO | 0o644, stat.S_IFDIR | 0o755])
def test_links_and_other_things_are_refused(packed, other, mode):
    with zipfile.ZipFile(packed) as file:
        name = next(n for n in file.namelist() if n.startswith("objects/"))
        files = {n: file.read(n) for n in file.namelist()}
    path = packed.with_name("link.zip")
    with zipfile.ZipFile(path, "w") as file:
        for each, data in files.items():
            info = zipfile.ZipInfo(each)
            info.external_attr = (mode if each == name else 0o644) << 16
            file.writestr(info, b"/etc/passwd" if each == name else data)
    assert refused(other, path) == "ARC12"


def test_a_name_that_is_there_twice_is_refused(packed, other):
    data = io.BytesIO(packed.read_bytes())
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", UserWarning)
        with zipfile.ZipFile(data, "a") as file:
            file.writestr("archive.json", b"{}")
    path = packed.with_name("twice.zip")
    path.write_bytes(data.getvalue())
    assert refused(other, path) == "ARC12"


def test_limits_are_looked_at_before_anything_is_unpacked(packed, other):
    assert refused(other, packed, limits=Limits(files=5)) == "ARC11"
    assert refused(other, packed, limits=Limits(one=20)) == "ARC11"
    assert refused(other, packed, limits=Limits(bytes=3000)) == "ARC11"
    assert not other.folder.exists()


def test_a_bomb_is_refused_by_what_it_declares(packed, other):
    bomb = rewritten(packed, lambda files: files.update({f"objects/aa/{'0' * 62}": bytes(40_000_000)}))
    assert bomb.stat().st_size < 100_000
    assert refused(other, bomb, limits=Limits(one=30_000_000)) == "ARC11"


def test_a_bomb_that_declares_less_than_it_is_is_refused(packed, other):
    """The true size in the list at the end and before the file is overwritten by a small one."""
    with zipfile.ZipFile(packed) as file:
        info = max((i for i in file.infolist() if i.filename.startswith("objects/")), key=lambda i: i.file_size)
    data = packed.read_bytes()
    lied = data.replace(info.file_size.to_bytes(4, "little"), (7).to_bytes(4, "little"))
    assert lied != data
    path = packed.with_name("lied.zip")
    path.write_bytes(lied)
    assert refused(other, path) == "ARC13"


@pytest.mark.parametrize("what", ["object", "manifest", "facts", "missing", "spare", "mark", "empty"])
def test_what_was_changed_on_the_way_is_refused(packed, other, what):
    def change(files):
        name = next(n for n in files if n.startswith("objects/"))
        manifest = "releases/tern-box@1.0.json"
        match what:
            case "object":
                files[name] = files[name][:-1] + b"#"
            case "manifest":
                files[manifest] = files[manifest].replace(b"Saltmarsh", b"Seamarsh!")
            case "facts":
                files[manifest] = files[manifest].replace(b'"facts.json"', b'"facts2.json"')
            case "missing":
                del files[name]
            case "spare":
                files[f"objects/aa/{'0' * 62}"] = b"x"
            case "mark":
                files["archive.json"] = b'{"form": 2}'
            case "empty":
                for n in [n for n in files if n != "archive.json"]:
                    del files[n]

    assert refused(other, rewritten(packed, change)) == ("ARC10" if what in ("mark", "empty") else "ARC13")


@pytest.mark.parametrize("data", [b"", b"PK", b"PK\x05\x06" + b"\0" * 18, b"%PDF-1.7", b"x" * 5000])
def test_other_files_are_refused(tmp_path, other, data):
    path = tmp_path / "photo.zip"
    path.write_bytes(data)
    assert refused(other, path) == "ARC10"


def test_a_release_without_readable_facts_is_refused(archive, made, other, tmp_path):
    manifest, files = made()
    archive.add(manifest, {**files, "facts.json": b"{}"})
    export(archive, ["tern-box"], tmp_path / "box.zip")
    assert refused(other, tmp_path / "box.zip") == "ARC13"


def test_any_broken_export_is_refused_or_right(packed, other):
    chance, data, path = random.Random(11), packed.read_bytes(), packed.with_name("broken.zip")
    outcomes = {"refused": 0, "taken": 0}
    for _ in range(400):
        broken = bytearray(data)
        for _ in range(chance.choice((1, 1, 3, 20))):
            broken[chance.randrange(len(broken))] = chance.randrange(256)
        if chance.random() < 0.2:
            del broken[chance.randrange(len(broken)) :]
        path.write_bytes(broken)
        try:
            import_releases(other, path)
            outcomes["taken"] += 1
        except Refused:
            outcomes["refused"] += 1
    assert outcomes["refused"] > 200
    assert set(visible(other)) <= {"tern-box@1.0", "tern-box@1.1"}
