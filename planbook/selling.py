"""What happens to a plan once it is released: buyers' copies, and sheets that correct them. Prints nothing."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING

from planbook.buyers import Holder, Version, enter, holders
from planbook.model.orders import Order
from planbook.pipeline import Built, Progress
from planbook.reader.orders_csv import read_orders
from planbook.reader.orders_kinds import ORDER_NO_FONT, ORDER_TOO_LONG
from planbook.text import Finding, Place, in_order

if TYPE_CHECKING:
    from planbook.booklet.correction import CorrectionSheet
    from planbook.press import Copier

MOST_TOLD = 5


@dataclass(frozen=True, slots=True)
class Master:
    """A released booklet: what it is, and the PDF."""

    version: Version
    pdf: bytes


class NotReleased(Exception):  # noqa: N818 - it carries the finding that is told
    """What was named is no released booklet."""

    def __init__(self, finding: Finding) -> None:
        super().__init__(finding.headline)
        self.finding = finding


def master_of(release: Path) -> Master:
    """The released booklet of this name: for now the path of a PDF. Raises NotReleased."""
    from planbook.press import MOST_BYTES, NOT_A_MASTER
    from planbook.reader.files import shown

    try:
        with release.open("rb") as file:
            pdf = file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = (getattr(error, "strerror", None) or "it cannot be opened").lower()
        raise NotReleased(NOT_A_MASTER.at(Place(shown(release)), f"`{release.name}`: {reason}")) from None
    if len(pdf) > MOST_BYTES:
        headline = f"`{release.name}` is larger than {MOST_BYTES // 1_000_000} MB"
        raise NotReleased(NOT_A_MASTER.at(Place(shown(release)), headline))
    digest = sha256(pdf).hexdigest()
    return Master(Version(release.stem, digest[:12], digest), pdf)


def copies(
    release: Path,
    orders: Path,
    out: Path,
    register: Path,
    progress: Progress = lambda _: None,
    *,
    licence: str = "",
    fonts: Sequence[Path] = (),
) -> Built:
    """Make a copy of a released booklet for each order, and write down who has it. The same order, the same bytes.

    Nothing is written unless every line of the list is right. Raises OSError, NotAFont and RegisterProblem.
    """
    from planbook.press import check_font

    progress("reading")
    for font in fonts:
        check_font(font)
    reading = read_orders(orders, licence)
    try:
        master = master_of(release)
        copier = _copier(master, release, fonts)
    except NotReleased as problem:
        return Built(in_order((*reading.findings, problem.finding)), reading.sources)
    findings = in_order((*reading.findings, *_unprintable(copier, reading.orders)))
    if findings:
        return Built(findings, reading.sources)
    out.mkdir(parents=True, exist_ok=True)
    # First the register: nobody is to hold a copy that it does not know.
    enter(register, master.version, reading.orders)
    written = tuple(_written(copier, master.version.release, reading.orders, out, progress))
    return Built((), reading.sources, written)


@dataclass(frozen=True, slots=True)
class Corrected:
    """What a correction found and wrote, and who is to get it."""

    findings: tuple[Finding, ...]
    files: tuple[Path, ...] = ()
    buyers: tuple[Holder, ...] = ()


def errata(
    old: Path,
    new: Path,
    out: Path,
    register: Path | None,
    *,
    pages: Sequence[int],
    stencils: Sequence[str] = (),
    changes: Sequence[str] = (),
) -> Corrected:
    """Write a correction sheet with these pages of the new booklet, and list who holds the old one.

    `stencils` and `changes` are lines for its front page. Raises MissingLibrary, OSError and RegisterProblem.
    """
    from planbook.booklet.correction import correction_html
    from planbook.press import NO_SUCH_PAGE, NOT_A_MASTER, NoMaster, excerpt, press_page, write_whole
    from planbook.reader.files import shown

    try:
        before, after = master_of(old), master_of(new)
    except NotReleased as problem:
        return Corrected((problem.finding,))
    asked = tuple(dict.fromkeys(sorted(pages)))
    try:
        front = press_page(correction_html(_sheet(before, after, asked, stencils, changes)))
        made = excerpt(after.pdf, asked, front)
    except NoMaster as problem:
        kind = NO_SUCH_PAGE if problem.page else NOT_A_MASTER
        return Corrected((kind.at(Place(shown(new)), f"`{new.name}` gives no correction sheet: {problem}"),))
    concerned = () if register is None else tuple(each for each in holders(register) if each.of == before.version)
    out.parent.mkdir(parents=True, exist_ok=True)
    write_whole(out, made)
    return Corrected((), (out,), concerned)


def _sheet(
    old: Master, new: Master, pages: tuple[int, ...], stencils: Sequence[str], changes: Sequence[str]
) -> "CorrectionSheet":
    from planbook.booklet.correction import CorrectionSheet
    from planbook.press import booklet_facts

    facts = booklet_facts(new.pdf)
    return CorrectionSheet(
        facts.title or new.version.release,
        old.version.version,
        new.version.version,
        pages,
        facts.width,
        facts.height,
        tuple(stencils),
        tuple(changes),
        facts.language,
    )


def copy_name(release: str, number: str) -> str:
    """The file name of an order's copy, safe on every system, and its own even where two numbers look alike."""
    from planbook.press import file_name

    stem = file_name(number)
    own = "" if stem == number else f"-{sha256(number.encode()).hexdigest()[:8]}"
    return f"{file_name(release)}-{stem}{own}.pdf"


def _copier(master: Master, release: Path, fonts: Sequence[Path]) -> "Copier":
    from planbook.press import NO_ROOM, NOT_A_MASTER, NoMaster, Typesetter, copier, usual_faces, with_mark
    from planbook.reader.files import shown

    try:
        return copier(with_mark(master.pdf), Typesetter(usual_faces(fonts)))
    except NoMaster as problem:
        kind = NO_ROOM if problem.page else NOT_A_MASTER
        raise NotReleased(kind.at(Place(shown(release)), f"`{release.name}` takes no name: {problem}")) from None


def _written(copier: "Copier", release: str, orders: Sequence[Order], out: Path, progress: Progress) -> Iterator[Path]:
    from planbook.press import Owner, write_whole

    for count, order in enumerate(orders, start=1):
        if count % 100 == 1:
            progress(f"copy {count} of {len(orders)}")
        path = out / copy_name(release, order.number)
        write_whole(path, copier.master, copier.copy(Owner(order.name, order.number, order.licence)), wait=False)
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
