"""`planbook archive` on an archive made by hand: what it prints, its exit statuses, and what it refuses."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from planbook.archive import Archive
from planbook.archive.facts import Facts, Measure, StencilFact, facts_json
from planbook.archive.manifest import About, Made, Manifest
from planbook.cli.program import program
from planbook.pipeline import explain
from planbook.releasing import printed_again

FACTS = Facts(
    *("Gull tray", "mm", {"title": "Gull tray"}, {"wall": Measure(6.0, "length")}, {}, ()),
    *({"Rim": StencilFact(1, (90.0, 40.0), "aa", "bb")}, {}, {}, (), {}),
)
ABOUT = About(
    *("Gull tray", "A tray.", "Saltmarsh Workshop", "mm", "", "Build it.", "", ("white ash",), ("tray",)),
    *(("Saw it",), ("Rim",), ("band saw",), ()),
)


def put(archive: Archive, version: str, facts: Facts) -> None:
    made = Made("0.1.0", "0" * 64, "3.11", {}, ("planbook build gull-tray --paper a4 --units mm",))
    manifest = Manifest("gull-tray", version, "2026-03-01T10:00:00Z", ABOUT, made, ())
    pages = {f"booklets/gull-tray-{name}.pdf": f"%PDF {name} {version}".encode() for name in ("a4-mm", "letter-in")}
    archive.add(manifest, {**pages, "facts.json": facts_json(facts), "source/gull-tray/steps.md": b"# Gull tray\n"})


@pytest.fixture
def there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Archive:
    """Two releases in the folder that the commands take by themselves."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("PLANBOOK_ARCHIVE", raising=False)
    archive = Archive(tmp_path / "archive")
    put(archive, "1.0", FACTS)
    rim = replace(FACTS.stencils["Rim"], geometry="ab")
    put(archive, "1.1", replace(FACTS, sizes={"wall": Measure(7.0, "length")}, stencils={"Rim": rim}))
    return archive


@pytest.mark.parametrize("name", sorted(program.commands["archive"].commands))
def test_every_command_and_option_has_help(name):
    made = program.commands["archive"].commands[name]
    assert made.help
    assert made.short_help
    assert all(getattr(param, "help", None) for param in made.params if param.param_type_name == "option")


def test_list_is_a_line_for_each_release(command, there):
    ran = command("archive", "list")
    assert ran.out.splitlines() == [
        "gull-tray@1.0  2026-03-01  0.4 kB  Gull tray  white ash",
        "gull-tray@1.1  2026-03-01  0.4 kB  Gull tray  white ash",
    ]
    assert command("archive", "list", "gull-tray").out == ran.out
    assert command("archive", "list", "heron").out == ""


def test_show_names_the_files_with_their_checksums(command, there):
    ran = command("archive", "show", "gull-tray")
    assert "gull-tray@1.1  Gull tray" in ran.out
    entry = there.release("gull-tray@1.1").entry("booklets/gull-tray-a4-mm.pdf")
    assert entry is not None
    assert f"{entry.sha256[:12]}    0.0 kB  booklets/gull-tray-a4-mm.pdf" in ran.out
    assert json.loads(command("archive", "show", "gull-tray@1.0", "--json").out)["version"] == "1.0"


def test_compare_is_a_page_or_data(command, there):
    page = command("archive", "compare", "gull-tray@1.0", "gull-tray@1.1").out
    assert "## Print these stencils again\n\n- Rim\n" in page
    assert "- *wall* was 6 mm, and is now 7 mm" in page
    found = json.loads(command("archive", "compare", "gull-tray@1.0", "gull-tray@1.1", "--json").out)
    assert (found["asks_for"], found["print_again"]) == ("minor", ["Rim"])


def test_verify_ends_with_status_1_and_names_the_file(command, there):
    ran = command("archive", "verify")
    assert (ran.status, ran.out) == (0, "archive: nothing to mend\n2 releases, 7 objects, 0.0 MB\n")
    entry = there.release("gull-tray@1.1").entry("booklets/gull-tray-a4-mm.pdf")
    assert entry is not None
    path = there.store.object_path(entry.sha256)
    path.write_bytes(b"%PDF changed")
    ran = command("archive", "verify", "--format", "lines")
    assert ran.status == 1
    name = path.relative_to(there.folder.parent).as_posix()
    assert (
        ran.out == f"{name}:1:1: error ARC01 object-changed: the object {entry.sha256[:12]} is not what was put there\n"
    )
    ran = command("archive", "restore", "gull-tray@1.1")
    assert (ran.status, ran.err) == (2, f"planbook: the object {entry.sha256} was changed\n")


def test_releases_go_to_another_archive_and_back(command, there, tmp_path):
    assert command("archive", "export", "gull-tray@1.0", "gull-tray", "--out", "tray.zip").status == 0
    ran = command("archive", "import", "tray.zip", "--archive", tmp_path / "other")
    assert ran.status == 0
    assert ran.out.splitlines()[1:] == ["took in `gull-tray@1.0`", "took in `gull-tray@1.1`"]
    assert "was known" in command("archive", "import", "tray.zip").out
    Path("tray.zip").write_bytes(Path("tray.zip").read_bytes()[:-9])
    ran = command("archive", "import", "tray.zip", "--format", "json")
    assert ran.status == 1
    assert [finding["code"] for finding in json.loads(ran.out)] == ["ARC10"]


@pytest.mark.parametrize(
    ("args", "sentence"),
    [
        (("show", "heron"), "there is no release `heron`"),
        (("show", "../x"), "is not the name of a release"),
        (("compare", "gull-tray@1.0", "gull-tray@9.0"), "there is no release `gull-tray@9.0`"),
        (("search", "***"), "there is no word to look for"),
        (("list", "--archive", "nowhere"), "the archive `nowhere` does not exist"),
        (("verify", "--archive", "."), "the archive `.` is not an archive"),
        (("import", "nothing.zip"), "`nothing.zip` cannot be used: no such file or directory"),
        (("export", "gull-tray", "--out", "archive/lock/x.zip"), "cannot be written"),
    ],
)
def test_what_cannot_be_done_is_one_sentence(command, there, args, sentence):
    ran = command("archive", *args)
    assert ran.status == 2
    assert sentence in ran.err
    assert ran.err.count("\n") == 1


def test_what_is_not_printed_as_it_was_is_named(there, monkeypatch):
    def printed(*_):
        return {"booklets/gull-tray-a4-mm.pdf": b"%PDF a4-mm 1.1", "source/gull-tray/steps.md": b"# Gull\n"}, ()

    monkeypatch.setattr("planbook.releasing.printed", printed)
    findings = printed_again(there, "gull-tray@1.1")
    assert [finding.headline for finding in findings] == [
        "`booklets/gull-tray-letter-in.pdf` of `gull-tray@1.1` is not printed any more",
        "`source/gull-tray/steps.md` of `gull-tray@1.1` does not come out as it was",
    ]
    assert "another planbook" in findings[0].notes[0]


def test_a_drawing_in_a_folder_of_the_design_is_frozen_and_found_again(there, monkeypatch):
    from planbook import releasing
    from planbook.pipeline import Built

    def build(folder, *_, **__):
        assert (folder / "drawings" / "rim.svg").read_bytes() == b"<svg/>"
        return Built((), {})

    monkeypatch.setattr(releasing, "build_all", lambda orders, *_, **__: build(orders[0].folder))
    monkeypatch.setattr(releasing, "offer", build)
    files, findings = releasing.printed("gull-tray", {"steps.md": b"#", "drawings/rim.svg": b"<svg/>"})
    assert (set(files), findings) == ({"source/gull-tray/steps.md", "source/gull-tray/drawings/rim.svg"}, ())


def test_every_kind_of_finding_about_archives_can_be_explained():
    from planbook.archive.kinds import ALL

    assert len(ALL) == len({kind.code for kind in ALL}) >= 17
    for kind in ALL:
        assert explain(kind.code) == kind
        assert all((kind.what, kind.why, kind.bad, kind.good))
