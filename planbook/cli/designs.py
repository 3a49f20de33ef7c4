"""The folders named on the command line, and the building of one of them with its refusals."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from planbook.cli.progress import telling
from planbook.cli.refusal import Refusal, cannot

if TYPE_CHECKING:
    from planbook.booklet import Edition
    from planbook.booklet.editions import PaperName
    from planbook.drawing.correction import Correction
    from planbook.model import Card
    from planbook.pipeline import Built, Checked, TakenOff

FILES = ("design.toml", "steps.md")


def folders_of(designs: Sequence[Path], *, apart: bool = False) -> tuple[Path, ...]:
    """The folders of designs, each once; a file of a design stands for its folder.

    With `apart`, no two may have the same name, since their booklets would too. Raises Refusal.
    """
    folders = tuple({_whole(folder): folder for folder in map(_folder, designs)}.values())
    names: dict[str, Path] = {}
    for folder in folders if apart else ():
        other = names.setdefault(_whole(folder).name, folder)
        if other != folder:
            raise Refusal(f"`{other}` and `{folder}` would make booklets of the same name; build them apart")
    return folders


def check_one(folder: Path, choice: str | None, nominal: bool, quiet: bool) -> "Checked":
    """Check a design in a choice of woods. Raises Refusal where the design has no such choice."""
    from planbook.model import UnknownChoice
    from planbook.pipeline import check

    try:
        with telling(str(folder), quiet) as progress:
            return check(folder, progress, choice=choice, nominal=nominal)
    except UnknownChoice as problem:
        raise Refusal(f"{folder}: {problem}") from None


def take_off_one(
    folder: Path,
    units: "Literal['in', 'mm'] | None",
    make: int,
    quiet: bool,
    *,
    choice: str | None,
    prices: Path | None,
    rack: Path | None,
) -> "TakenOff":
    """List what a design takes. Raises Refusal where the design has no such choice."""
    from planbook.model import UnknownChoice
    from planbook.pipeline import take_off

    try:
        with telling(str(folder), quiet) as progress:
            return take_off(folder, rack, units, make, progress, choice=choice, prices=prices)
    except UnknownChoice as problem:
        raise Refusal(f"{folder}: {problem}") from None


def build_one(
    folder: Path,
    editions: "Sequence[Callable[[Card], Edition]]",
    out: Path,
    quiet: bool,
    *,
    choice: str | None = None,
    prices: Path | None = None,
    rack: Path | None = None,
    nominal: bool = False,
    processes: int = 1,
) -> "Built":
    """Build the booklets of a design. Raises Refusal where the printer, the folder or the choice is not usable."""
    from planbook.cache import usual
    from planbook.pipeline import build, build_all
    from planbook.pipeline.finished import Order

    try:
        with telling(str(folder), quiet) as progress:
            if len(editions) > 1:
                orders = [Order(folder, each, choice, prices, rack, nominal) for each in editions]
                return build_all(orders, out, progress, cache=usual(), processes=processes)
            return build(
                folder,
                editions[0],
                out,
                progress,
                cache=usual(),
                choice=choice,
                prices=prices,
                rack=rack,
                nominal=nominal,
                processes=processes,
            )
    except BrokenPipeError:
        raise
    except OSError as error:
        raise cannot("cannot be written", error) from None
    except Exception as problem:
        raise _refusal(folder, problem) or problem from None


def _refusal(folder: Path, problem: Exception) -> Refusal | None:
    """The refusal for what cannot be built as asked; None for a fault of the program."""
    from planbook.booklet import LayoutProblem
    from planbook.drawing.stencil_pages import PaperTooSmall
    from planbook.model import UnknownChoice
    from planbook.press import MissingLibrary

    if isinstance(problem, UnknownChoice):
        return Refusal(f"{folder}: {problem}")
    return Refusal(str(problem)) if isinstance(problem, MissingLibrary | LayoutProblem | PaperTooSmall) else None


def offer_one(
    folder: Path,
    out: Path,
    quiet: bool,
    *,
    paper: "PaperName | None",
    units: "Literal['in', 'mm'] | None",
    steps: Sequence[int],
    choice: str | None,
    nominal: bool,
) -> "Built":
    """Write what sells the plan of a design. Raises Refusal where it cannot be done as asked."""
    from planbook.booklet import LayoutProblem
    from planbook.cache import usual
    from planbook.drawing.stencil_pages import PaperTooSmall
    from planbook.model import UnknownChoice
    from planbook.offering import NoSuchStep, offer
    from planbook.press import MissingLibrary

    try:
        with telling(str(folder), quiet) as progress:
            return offer(folder, out, paper, units, steps, progress, choice=choice, nominal=nominal, cache=usual())
    except BrokenPipeError:
        raise
    except (UnknownChoice, NoSuchStep) as problem:
        raise Refusal(f"{folder}: {problem}") from None
    except (MissingLibrary, LayoutProblem, PaperTooSmall) as problem:
        raise Refusal(str(problem)) from None
    except OSError as error:
        raise cannot("cannot be written", error) from None


def measured_bars(text: str | None) -> "Correction | None":
    """What a reader measured on the check bars, if anything. Raises Refusal."""
    if text is None:
        return None
    from planbook.drawing.correction import NotMeasured, read_measured

    try:
        return read_measured(text)
    except NotMeasured as problem:
        raise Refusal(str(problem)) from None


def _folder(path: Path) -> Path:
    try:
        if path.is_dir():
            return path
        if path.is_file() and path.name in FILES:
            return path.parent
        what = "is not the folder of a design" if path.exists() else "does not exist"
    except (OSError, ValueError):
        what = "cannot be opened"
    raise Refusal(f"`{path}` {what}")


def _whole(folder: Path) -> Path:
    try:
        return folder.resolve()
    except (OSError, RuntimeError):
        return folder.absolute()
