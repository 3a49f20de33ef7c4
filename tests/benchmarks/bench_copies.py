"""How many buyers' copies are made in a second, and whether memory stays flat; run by hand, not by pytest.

    python tests/benchmarks/bench_copies.py [--copies 5000] [--pages 40]

The booklet is that of the curlew box, cut or filled up to the number of pages. Copies go through the whole command
(list of orders, register, files on the disk); every batch of files is checked and thrown away, so that the disk does
not fill. "Processor" is this process on one core, "clock" holds the waiting for the disk too.
"""

import argparse
import csv
import io
import resource
import shutil
import tempfile
import time
from pathlib import Path

import pikepdf

from planbook.archive import Archive
from planbook.booklet import edition_for
from planbook.pipeline import build
from planbook.press import with_mark
from planbook.selling import copies

ROOT = Path(__file__).resolve().parents[2]
BATCH = 500


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--copies", type=int, default=5000)
    options.add_argument("--pages", type=int, default=40)
    options.add_argument("--booklet", type=Path, help="a PDF that was built before, instead of building one")
    asked = options.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        run(Path(folder), asked)


def run(folder: Path, asked: argparse.Namespace) -> None:
    """Make the copies in batches and print one line for each."""
    release = folder / "booklet.pdf"
    began = time.perf_counter()
    marked = with_mark(_booklet(folder, asked))
    release.write_bytes(marked)
    print(f"{asked.pages} pages, {len(marked) / 1000:.0f} kB; marked in {time.perf_counter() - began:.1f} s")
    clock = processor = 0.0
    peaks = []
    for first in range(0, asked.copies, BATCH):
        count = min(BATCH, asked.copies - first)
        orders = folder / "orders.csv"
        _write(orders, range(first, first + count))
        wall, own = time.perf_counter(), time.process_time()
        made = copies(
            str(release), Archive(folder), orders, folder / "out", folder / "buyers.sqlite", licence="For one maker"
        )
        wall, own = time.perf_counter() - wall, time.process_time() - own
        assert len(made.files) == count
        _check(made.files[:: max(1, count // 5)])
        shutil.rmtree(folder / "out")
        clock, processor = clock + wall, processor + own
        peaks.append(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)
        print(
            f"{first + count:6} copies: {count / own:6.0f}/s processor, {count / wall:6.0f}/s clock, {peaks[-1]:.0f} MB"
        )
    print(f"all: {asked.copies / processor:.0f}/s processor, {asked.copies / clock:.0f}/s clock (the aim is 300)")
    print(f"memory at the end / after the first batch: {peaks[-1] / peaks[0]:.3f}")


def _booklet(folder: Path, asked: argparse.Namespace) -> bytes:
    if asked.booklet is None:
        built = build(ROOT / "designs" / "curlew-box", lambda card: edition_for(card, "a4"), folder, nominal=True)
        pdf = next(path for path in built.files if path.suffix == ".pdf").read_bytes()
    else:
        pdf = asked.booklet.read_bytes()
    with pikepdf.open(io.BytesIO(pdf)) as document:
        while len(document.pages) > asked.pages:
            del document.pages[-1]
        for number in range(asked.pages - len(document.pages)):
            document.pages.append(document.pages[number])
        out = io.BytesIO()
        document.save(out, deterministic_id=True)
    return out.getvalue()


def _write(path: Path, numbers: range) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        rows = csv.writer(file)
        rows.writerow(("order", "name", "contact"))
        rows.writerows((f"2026-{n:05}", f"Žofie Buyer Łęcka {n}", f"buyer{n}@example.org") for n in numbers)


def _check(paths: tuple[Path, ...]) -> None:
    for path in paths:
        with pikepdf.open(path) as document:
            assert document.check_pdf_syntax() == []


if __name__ == "__main__":
    main()
