"""Makes buyers' copies of the booklets of a release, and writes down who has them."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING

from planbook.archive import Archive
from planbook.buyers import enter
from planbook.model.orders import Order
from planbook.pipeline import Built, Progress
from planbook.reader.orders_csv import read_orders
from planbook.reader.orders_kinds import ORDER_NO_FONT, ORDER_TOO_LONG
from planbook.selling.released import Master, NotReleased, release_of
from planbook.text import Finding, in_order

if TYPE_CHECKING:
    from planbook.press import Copier, Typesetter

MOST_TOLD = 5


def copies(
    release: str,
    archive: Archive,
    orders: Path,
    out: Path,
    register: Path,
    progress: Progress = lambda _: None,
    *,
    editions: Sequence[str] = (),
    licence: str = "",
    fonts: Sequence[Path] = (),
) -> Built:
    """Make a copy of every booklet of a release, or of these editions, for each order, and write down who has it.

    The release is named as for `release_of`. The same order gives the same bytes. Nothing is written unless every line
    of the list is right. Raises ArchiveProblem, OSError, NotAFont and RegisterProblem.
    """
    from planbook.press import Typesetter, check_font, usual_faces

    progress("reading")
    for font in fonts:
        check_font(font)
    reading = read_orders(orders, licence)
    try:
        released = release_of(release, archive, editions)
        setter = Typesetter(usual_faces(fonts))
        copiers = {master.stem: _copier(master, setter) for master in released.masters}
    except NotReleased as problem:
        return Built(in_order((*reading.findings, problem.finding)), reading.sources)
    # The mark has the same room in every edition: what one can print, all can.
    unprintable = _unprintable(next(iter(copiers.values())), reading.orders)
    findings = in_order((*reading.findings, *unprintable))
    if findings:
        return Built(findings, reading.sources)
    out.mkdir(parents=True, exist_ok=True)
    # First the register: nobody is to hold a copy that it does not know.
    enter(register, released.version, reading.orders)
    return Built((), reading.sources, tuple(_written(copiers, reading.orders, out, progress)))


def copy_name(release: str, number: str) -> str:
    """The file name of an order's copy, safe on every system, and its own even where two numbers look alike."""
    from planbook.press import file_name

    stem = file_name(number)
    own = "" if stem == number else f"-{sha256(number.encode()).hexdigest()[:8]}"
    return f"{file_name(release)}-{stem}{own}.pdf"


def _copier(master: Master, setter: "Typesetter") -> "Copier":
    from planbook.press import NO_ROOM, NOT_A_MASTER, NoMaster, copier, with_mark

    try:
        return copier(with_mark(master.pdf), setter)
    except NoMaster as problem:
        kind = NO_ROOM if problem.page else NOT_A_MASTER
        raise NotReleased(master.finding(kind, f"takes no name: {problem}")) from None


def _written(copiers: Mapping[str, "Copier"], orders: Sequence[Order], out: Path, progress: Progress) -> Iterator[Path]:
    from planbook.press import Owner, write_whole

    for count, order in enumerate(orders, start=1):
        if count % 100 == 1:
            progress(f"order {count} of {len(orders)}")
        owner = Owner(order.name, order.number, order.licence)
        for stem, copier in copiers.items():
            path = out / copy_name(stem, order.number)
            write_whole(path, copier.master, copier.copy(owner), wait=False)
            yield path


def _unprintable(copier: "Copier", orders: Iterable[Order]) -> Iterator[Finding]:
    """Orders that would be blank or too small on the page."""
    from planbook.press import LEAST_SIZE, Owner

    for order in orders:
        owner = Owner(order.name, order.number, order.licence)
        lacking = copier.lacking(owner)
        if lacking:
            told = ", ".join(f"`{char}` (U+{ord(char):04X})" for char in lacking[:MOST_TOLD])
            headline = f"no font here has {told}, which order `{order.number}` needs"
            hint = "install a font of that script, or name its file with `--font`"
            yield ORDER_NO_FONT.at(order.name_at, headline, hint=hint)
        elif copier.type_size(owner) < LEAST_SIZE:
            headline = f"name, number and licence of order `{order.number}` are too long for the line that is printed"
            yield ORDER_TOO_LONG.at(order.name_at, headline, hint="a shorter licence leaves more room for the name")
