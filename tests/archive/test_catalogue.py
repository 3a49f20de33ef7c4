"""The catalogue repeats the manifests: made again when it is lost or broken, and searched like a plain scan."""

import random
import sqlite3
import unicodedata

import pytest

from planbook.archive import ArchiveProblem
from planbook.archive.catalogue import words_of
from planbook.archive.manifest import read_manifest, written

WORDS = [
    "ash",
    "Esche",
    "drawer",
    "box",
    "lid",
    "knob",
    "Kästchen",
    "cœur",
    "naïve",
    "3",
    "12mm",
    "pebble",
    "tide",
    "shelf",
    "ÅNGSTRÖM",
    "tray",
    "bevel",
]


def rows(archive):
    with archive.catalogue() as catalogue:
        return catalogue.rows()


def test_a_lost_or_broken_catalogue_is_made_again(archive, add):
    for version in ("1.0", "1.1", "2.0"):
        add(version=version)
    before, path = rows(archive), archive.folder / "catalogue.sqlite"
    path.unlink()
    assert rows(archive) == before
    assert path.is_file()
    for rubbish in (b"", b"no database", path.read_bytes()[:5000]):
        path.write_bytes(rubbish)
        assert rows(archive) == before
    with sqlite3.connect(path) as other:
        other.execute("PRAGMA user_version = 99")
    assert rows(archive) == before
    assert sqlite3.connect(path).execute("PRAGMA integrity_check").fetchall() == [("ok",)]


def test_releases_that_come_or_go_by_other_ways_are_noticed(archive, add, made):
    add()
    manifest, _ = made(version="1.1")
    path = archive.store.manifest_path("tern-box@1.1")
    path.write_bytes(written(manifest))
    assert [row.version for row in rows(archive)] == ["1.0", "1.1"]
    path.unlink()
    assert [row.version for row in rows(archive)] == ["1.0"]


def test_a_release_that_was_stopped_before_it_was_recorded_is_found(archive, add, made):
    import os

    add()
    manifest, _ = made(version="1.1")
    with archive.catalogue() as catalogue:
        catalogue.expect("tern-box@1.1")
        stamp = os.stat(archive.store.releases)
    archive.store.manifest_path("tern-box@1.1").write_bytes(written(manifest))
    # Even if the clock of the disk is too coarse to tell the two changes of the folder apart.
    os.utime(archive.store.releases, ns=(stamp.st_atime_ns, stamp.st_mtime_ns))
    assert [row.version for row in rows(archive)] == ["1.0", "1.1"]


def test_search_finds_what_a_plain_scan_finds(archive, made):
    chance = random.Random(7)
    texts = {}
    for number in range(60):
        title, steps = (" ".join(chance.choices(WORDS, k=4)) for _ in range(2))
        manifest, files = made(version=f"1.{number}", title=title, steps=(steps,), summary=f"no {number}")
        archive.add(manifest, files)
        about = archive.release(f"tern-box@1.{number}").about
        texts[f"tern-box@1.{number}"] = (
            " ".join(
                text if isinstance(text, str) else " ".join(text)
                for text in (getattr(about, name) for name in about.__slots__ if name not in ("units", "price"))
            )
            + " tern-box"
        )
    queries = [" ".join(chance.choices(WORDS, k=chance.choice((1, 2, 3)))) for _ in range(60)]
    queries += [
        "käst",
        "KASTCHEN",
        "naive",
        "Ang",
        "pe ti",
        "sAl",
        "no 5",
        "zebra",
        "tern",
        '"box" OR lid*',
        "NEAR(box)",
    ]
    hits = 0
    with archive.catalogue() as catalogue:
        for query in queries:
            found = {row.name for row in catalogue.search(query)}
            wanted = [plain(word) for word in words_of(query)]
            assert found == {
                name
                for name, text in texts.items()
                if all(any(plain(w).startswith(word) for w in words_of(text)) for word in wanted)
            }, query
            hits += bool(found)
    assert hits > 30


def plain(word: str) -> str:
    """Without accents and in small letters; written apart from SQLite."""
    return "".join(c for c in unicodedata.normalize("NFD", word.lower()) if not unicodedata.combining(c))


def test_a_title_counts_more_than_a_mention(archive, add):
    add(version="1.0", title="Tray", steps=("Saw the pebble",))
    add(version="1.1", title="Pebble", steps=("Saw the tray",))
    with archive.catalogue() as catalogue:
        assert [row.version for row in catalogue.search("pebble")] == ["1.1", "1.0"]


@pytest.mark.parametrize("text", ["", "   ", "***", '"', "-- ;"])
def test_a_search_without_a_word_is_refused(archive, add, text):
    add()
    with archive.catalogue() as catalogue, pytest.raises(ArchiveProblem, match="no word"):
        catalogue.search(text)


def test_every_manifest_that_is_kept_can_be_read(archive, add):
    add()
    names = list(archive.store.names())
    assert names
    assert [read_manifest(archive.store.manifest_path(name).read_bytes(), name).name for name in names] == names
