"""Copies, the register and corrections on the command line, with their refusals."""

import csv
import io
import re
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from planbook.cli.progress import telling
from planbook.cli.refusal import Refusal, cannot

if TYPE_CHECKING:
    from planbook.buyers import Holder
    from planbook.pipeline import Built
    from planbook.selling import Corrected

_STRETCH = re.compile(r"([0-9]{1,4})(?:-([0-9]{1,4}))?")


def copies_one(
    release: Path, orders: Path, out: Path, register: Path, licence: str, fonts: Sequence[Path], quiet: bool
) -> "Built":
    """Make the copies of a release. Raises Refusal where a font, the folder or the register is not usable."""
    from planbook.buyers import RegisterProblem
    from planbook.press import NotAFont
    from planbook.reader.orders_csv import LONGEST, fault_of_text
    from planbook.selling import copies

    fault = fault_of_text(licence) or (
        f"has {len(licence)} characters; {LONGEST['licence']} is the most" if len(licence) > LONGEST["licence"] else ""
    )
    if fault:
        raise Refusal(f"--licence {fault}")
    try:
        with telling(str(release), quiet) as progress:
            return copies(release, orders, out, register, progress, licence=licence.strip(), fonts=fonts)
    except BrokenPipeError:
        raise
    except (RegisterProblem, NotAFont) as problem:
        raise Refusal(str(problem)) from None
    except OSError as error:
        raise cannot("cannot be used", error) from None


def listed_buyers(register: Path, release: str | None) -> str:
    """The register as CSV. Raises Refusal."""
    from planbook.buyers import RegisterProblem, holders

    try:
        found = holders(register, release)
    except RegisterProblem as problem:
        raise Refusal(str(problem)) from None
    return buyers_csv(found)


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
    old: Path,
    new: Path,
    out: Path,
    register: Path,
    *,
    pages: Sequence[int],
    stencils: Sequence[str],
    changes: Sequence[str],
) -> "Corrected":
    """Write a correction sheet. Without a register of the usual name nobody is listed. Raises Refusal."""
    from planbook.buyers import USUAL, RegisterProblem
    from planbook.press import MissingLibrary
    from planbook.selling import errata

    known = register if register.exists() or register != Path(USUAL) else None
    try:
        return errata(old, new, out, known, pages=pages, stencils=stencils, changes=changes)
    except (RegisterProblem, MissingLibrary) as problem:
        raise Refusal(str(problem)) from None
    except OSError as error:
        raise cannot("cannot be used", error) from None


def forget_one(order: str, register: Path) -> str:
    """Forget a buyer, and say what was done. Raises Refusal."""
    from planbook.buyers import RegisterProblem, forget

    try:
        count = forget(register, order)
    except RegisterProblem as problem:
        raise Refusal(str(problem)) from None
    if not count:
        raise Refusal(f"the register has no order `{order}`")
    copies = "1 copy" if count == 1 else f"{count} copies"
    return (
        f"forgot the buyer of order {order} ({copies}); take the line out of your list of orders as well, "
        "or the next run enters it again"
    )
