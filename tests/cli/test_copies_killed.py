"""`kill -9` at random moments of making copies leaves whole copies and a sound register; the next run makes the rest."""

import os
import random
import signal
import sqlite3
import subprocess
import sys
import time
from pathlib import Path

import pikepdf
import pytest

from planbook.booklet import Edition
from planbook.press import press

ORDERS, KILLS = 300, 20
PAGE = """<!DOCTYPE html><html lang="en"><title>Tray</title><style>
@font-face { font-family: "Source Sans Pro"; src: url("planbook:font/SourceSansPro-Regular.ttf") }
@page { size: A4 } p { font-family: "Source Sans Pro" }</style><p>one<p style="break-before: page">two"""
COMMAND = (
    *(sys.executable, "-m", "planbook.cli", "copies", "tray.pdf", "--orders", "orders.csv"),
    *("--out", "out", "--licence", "For one maker", "-q"),
)

pytestmark = [pytest.mark.slow, pytest.mark.skipif(os.name == "nt", reason="Windows has no SIGKILL")]


def started(shop: Path) -> "subprocess.Popen[bytes]":
    return subprocess.Popen(COMMAND, cwd=shop, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


def copies(shop: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted((shop / "out").glob("*")) if not path.name.startswith(".")}


def test_a_killed_run_leaves_whole_copies_and_the_next_one_makes_the_rest(tmp_path: Path) -> None:
    (tmp_path / "tray.pdf").write_bytes(press(PAGE, Edition("a4").paper_row).pdf)
    lines = "".join(f"{number},Buyer {number}\n" for number in range(ORDERS))
    (tmp_path / "orders.csv").write_text(f"order,name\n{lines}", "utf-8")
    begun = time.monotonic()
    assert started(tmp_path).wait() == 0
    took, whole = time.monotonic() - begun, copies(tmp_path)
    assert len(whole) == ORDERS
    draw, killed = random.Random(7), 0
    for _ in range(KILLS):
        for path in (tmp_path / "out").iterdir():
            path.unlink()
        (tmp_path / "buyers.sqlite").unlink(missing_ok=True)
        run = started(tmp_path)
        time.sleep(draw.uniform(0.2, 1.0) * took)
        run.send_signal(signal.SIGKILL)
        killed += run.wait() == -signal.SIGKILL
        left = copies(tmp_path)
        assert all(whole[name] == data for name, data in left.items())
        if (tmp_path / "buyers.sqlite").exists():
            with sqlite3.connect(tmp_path / "buyers.sqlite") as register:
                assert register.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    assert killed > KILLS // 2
    assert started(tmp_path).wait() == 0
    assert copies(tmp_path) == whole
    with pikepdf.open(tmp_path / "out" / next(iter(whole))) as document:
        assert document.check_pdf_syntax() == []
