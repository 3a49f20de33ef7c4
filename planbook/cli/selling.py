"""Copies, the register and corrections on the command line, with their refusals."""

import csv
import io
import re
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from planbook.cli.progress import telling
from planbook.cli.refusal import Refusal, cannot

if TYPE_CHECKING:
    from planbook.buyers import Holder
    from planbook.pipeline import Built
    from planbook.selling import Corrected, Told

_STRETCH = re.compile(r"([0-9]{1,4})(?:-([0-9]{1,4}))?")


def copies_one(
    release: str,
    folder: Path,
    orders: Path,
    out: Path,
    register: Path,
    editions: Sequence[str],
    licence: str,
    fonts: Sequence[Path],
    quiet: bool,
) -> "Built":
    """Make the copies of a release. Raises Refusal where something of it is not usable."""
    from planbook.archive import Archive
    from planbook.archive.verify import BESIDE
    from planbook.reader.orders_csv import LONGEST, fault_of_text
    from planbook.selling import copies

    fault = fault_of_text(licence) or (
        f"has {len(licence)} characters; {LONGEST['licence']} is the most" if len(licence) > LONGEST["licence"] else ""
    )
    if fault:
        raise Refusal(f"--licence {fault}")
    _kept_apart(register, folder, "the register", BESIDE)
    _kept_apart(out, folder, "the copies")
    with _refusing(), telling(release, quiet) as progress:
        return copies(
            release,
            Archive(folder),
            orders,
            out,
            register,
            progress,
            editions=editions,
            licence=licence.strip(),
            fonts=fonts,
        )


def _kept_apart(path: Path, folder: Path, what: str, beside: Sequence[str] = ()) -> None:
    """What speaks of buyers does not lie among the files of an archive, but for these beside them. Raises Refusal."""
    whole, root = path.resolve(), folder.resolve()
    if whole.is_relative_to(root) and not (whole.parent == root and whole.name in beside):
        raise Refusal(f"{what} in `{path}` would lie among the files of the archive; keep them apart")


@contextmanager
def _refusing() -> Iterator[None]:
    """What the archive, the register, the printer or the system does not let us do, as one sentence."""
    from planbook.archive import ArchiveProblem
    from planbook.buyers import RegisterProblem
    from planbook.press import MissingLibrary, NotAFont

    try:
        yield
    except (ArchiveProblem, RegisterProblem, MissingLibrary, NotAFont) as problem:
        raise Refusal(str(problem)) from None
    except BrokenPipeError:
        raise
    except OSError as error:
        raise cannot("cannot be used", error) from None


def listed_buyers(register: Path, release: str | None) -> str:
    """The register as CSV, or what it has of `DESIGN@VERSION` or `DESIGN`. Raises Refusal."""
    from planbook.archive import read_version
    from planbook.buyers import holders

    name, at, number = (release or "").partition("@")
    version = read_version(number)
    if at and version is None:
        raise Refusal(f"`{release}` is not the name of a release, such as `curlew-box@1.0`")
    with _refusing():
        return buyers_csv(holders(register, name or None, str(version) if version else None))


def buyers_csv(found: "Iterable[Holder]") -> str:
    """Who has which version, as CSV."""
    out = io.StringIO()
    rows = csv.writer(out, lineterminator="\n")
    rows.writerow(("order", "name", "contact", "licence", "release", "version"))
    for each in found:
        rows.writerow((each.number, each.name, each.contact, each.licence, each.of.release, each.of.version))
    return out.getvalue()


def page_list(text: str) -> tuple[int, ...]:
    """Page numbers such as `5,7-8`. Raises Refusal."""
    found: set[int] = set()
    for part in text.split(","):
        match = _STRETCH.fullmatch(part.strip())
        first, last = (int(match[1]), int(match[2] or match[1])) if match else (0, 0)
        if not 1 <= first <= last:
            raise Refusal(f"`{part.strip()[:40]}` is no page; write --pages as in 5,7-8")
        found.update(range(first, last + 1))
    return tuple(sorted(found))


def errata_one(
    old: str,
    new: str,
    folder: Path,
    out: Path,
    register: Path,
    editions: Sequence[str],
    told: "Told",
    quiet: bool,
) -> "Corrected":
    """Write correction sheets. Without a register of the usual name nobody is listed. Raises Refusal."""
    from planbook.archive import Archive
    from planbook.buyers import USUAL
    from planbook.selling import errata

    known = register if register.exists() or register != Path(USUAL) else None
    with _refusing(), telling(new, quiet) as progress:
        return errata(old, new, Archive(folder), out, known, progress, editions=editions, told=told)


def listed_concerned(made: "Corrected", listing: Path | None) -> None:
    """Put the buyers whom a correction concerns on stdout, or into a file. Raises Refusal."""
    from planbook.whole_files import write_whole

    text = buyers_csv(made.buyers).encode("utf-8", "backslashreplace")
    if listing is None:
        click.echo(text, nl=False)
        return
    with _refusing():
        write_whole(listing, text)


def told_correction(made: "Corrected") -> tuple[str, ...]:
    """What each sheet holds, whom it concerns, and what else has the same mistake."""
    sheets = (
        f"{path.name}: page{'s' if len(pages) > 1 else ''} {', '.join(map(str, pages))}"
        for path, pages in zip(made.files, made.pages, strict=True)
    )
    known = sum(not each.forgotten for each in made.buyers)
    count = "1 copy is" if known == 1 else f"{known} copies are"
    alike = (
        f"the same is wrong in `{name}`: its buyers are listed too, and need a sheet of their own"
        for name in made.alike
    )
    return (*sheets, f"{count} concerned", *alike)


def forget_one(order: str, register: Path) -> str:
    """Forget a buyer, and say what was done. Raises Refusal."""
    from planbook.buyers import forget

    with _refusing():
        count = forget(register, order)
    if not count:
        raise Refusal(f"the register has no order `{order}`")
    copies = "1 copy" if count == 1 else f"{count} copies"
    return (
        f"forgot the buyer of order {order} ({copies}); take the line out of your list of orders as well, "
        "or the next run enters it again"
    )
