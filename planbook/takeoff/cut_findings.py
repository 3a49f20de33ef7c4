"""Puts what cannot be cut or bought as asked into findings with places; it finds nothing itself."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from planbook.model import RackRow
from planbook.takeoff import kinds
from planbook.takeoff.layout import Problem, Trouble
from planbook.takeoff.racked import misfit
from planbook.takeoff.sold import System, thicknesses
from planbook.takeoff.wanted import Wanted
from planbook.text import Aside, Finding
from planbook.units import INCH_32, MM_TENTH, Quantity, show_fine

_NOT_OF_THE_RACK = ("part-too-large", "grain-forbids-fit", "group-too-large", "stock-not-enough", "no-stock")
_NAMED = 4


@dataclass(frozen=True, slots=True)
class Said:
    """What a problem was about: boards of the design by name, and the board that each of its parts is."""

    parts: Mapping[str, Wanted]
    names: Mapping[str, str]
    problem: Problem
    system: System
    make: int

    def part(self, name: str) -> Wanted:
        """The board of the design that a part of the problem is."""
        return self.parts[self.names[name]]


def from_troubles(troubles: Iterable[Trouble], said: Said, *, about_rack: bool) -> list[Finding]:
    """The findings for the troubles of one layout; what the rack cannot hold is bought, so nothing is said of it."""
    told = (t for t in troubles if not (about_rack and t.code in _NOT_OF_THE_RACK))
    return [finding for trouble in told for finding in _finding(trouble, said)]


def _finding(trouble: Trouble, said: Said) -> Iterator[Finding]:
    amounts = dict(trouble.amounts)
    if trouble.code == "too-many-parts":
        yield _too_many(amounts, said)
        return
    if not trouble.names or trouble.names[0] not in said.names:
        return
    part = said.part(trouble.names[0])
    match trouble.code:
        case "part-too-large":
            yield _too_large(part, amounts, said)
        case "grain-forbids-fit":
            headline = f"board `{part.name}` fits no {_what(said)} with its grain along it, only turned"
            hint = "let its grain run the other way, or make it from two boards"
            yield kinds.GRAIN_FORBIDS.at(part.place, headline, label="fits only with its grain across", hint=hint)
        case "kerf-larger-than-part":
            kerf, least = (_long(amounts[key], said.system) for key in ("kerf", "least"))
            headline = f"board `{part.name}` is only {least} wide, less than the kerf of {kerf} that cuts it out"
            hint = "give it a rough size that is large enough to hold, and cut it from that"
            yield kinds.KERF_LARGER.at(part.place, headline, label="smaller than the kerf", hint=hint)
        case "no-stock":
            names = listed(said.names[name] for name in trouble.names)
            headline = (
                f"nothing is left of any {_what(said)} when it is trimmed, so there is nothing to cut {names} from"
            )
            hint = "let the rack set a smaller kerf and smaller trims"
            yield kinds.PART_TOO_LARGE.at(part.place, headline, label="cannot be cut", hint=hint)
        case "group-too-large":
            yield _too_large_together([said.part(name) for name in trouble.names], said)
        case _:
            return


def _too_many(amounts: Mapping[str, Fraction], said: Said) -> Finding:
    part = next(iter(said.parts.values()))
    headline = f"{amounts['parts']} parts of {part.wood} are too many for one layout; {amounts['most']} is the most"
    hint = f"make fewer than {said.make} at a time" if said.make > 1 else ""
    return kinds.TOO_MANY_PARTS.at(part.place, headline, hint=hint)


def _too_large(part: Wanted, amounts: Mapping[str, Fraction], said: Said) -> Finding:
    ways = (("over_width", "too wide"), ("over_length", "too long"))
    over = [f"{_long(amounts[key], said.system)} {way}" for key, way in ways if amounts[key] > 0]
    headline = f"board `{part.name}` is {' and '.join(over)} for any {_what(said)}"
    trims = [
        f"{_long(2 * trim, said.system)} {where}"
        for trim, where in ((said.problem.trim_edge, "of its width"), (said.problem.trim_end, "of its length"))
        if trim
    ]
    notes = (f"squaring takes {' and '.join(trims)} off what is bought",) if trims else ()
    hint = "glue it up from narrower boards" if amounts["over_width"] > 0 and part.group != "sheet" else ""
    return kinds.PART_TOO_LARGE.at(part.place, headline, label="too large", notes=notes, hint=hint)


def _too_large_together(parts: Sequence[Wanted], said: Said) -> Finding:
    names = listed(part.name for part in parts)
    headline = f"{names} shall match, but do not fit on one {_what(said)} together"
    return kinds.MATCH_TOO_LARGE.at(parts[0].place, headline, label="too large together")


def apart(word: str, parts: Sequence[Wanted]) -> Finding:
    """The finding for boards that shall match, but cannot come from one board."""
    woods = dict.fromkeys(part.wood for part in parts)
    why = f"are of {' and '.join(woods)}" if len(woods) > 1 else "are cut from boards of different thickness"
    headline = f"{listed(part.name for part in parts)} shall match as `{word}`, but {why}"
    also = [Aside(part.place, f"{part.wood}, {part.name}") for part in parts[1:]]
    return kinds.MATCH_APART.at(parts[0].place, headline, label="cannot match", also=also)


def not_sold(part: Wanted, system: System) -> Finding:
    """The finding for a part that is thicker than any lumber sold."""
    thick = part.thickness(planed=False)
    most = thicknesses(part.group, system)[-1]
    headline = (
        f"board `{part.name}` is {_long(thick, system)} thick; the thickest {part.group} commonly sold is {most.name}"
    )
    hint = "laminate it from thinner boards"
    return kinds.THICKNESS_NOT_SOLD.at(part.place, headline, label="too thick", hint=hint)


def unfit(row: RackRow, parts: Sequence[Wanted], system: System) -> Finding:
    """The finding for a board of the rack whose thickness serves no part of its wood, and by how much it fails."""
    part = min(parts, key=lambda part: abs(misfit(row, part)))
    off = misfit(row, part)
    way = "thin" if off < 0 else "thick"
    headline = (
        f"`{row.name}` in the rack is {_long(abs(off), system)} too {way} for board `{part.name}`, "
        f"which comes nearest to it"
    )
    return kinds.THICKNESS_UNFIT.at(
        row.thickness_at, headline, label=f"too {way}", also=[Aside(part.place, "the board of the design")]
    )


def listed(names: Iterable[str]) -> str:
    """`a`, `b` and `c`; of many, the first few."""
    quoted = [f"`{name}`" for name in names]
    if len(quoted) > _NAMED:
        quoted = [*quoted[: _NAMED - 1], f"{len(quoted) - _NAMED + 1} others"]
    return quoted[0] if len(quoted) == 1 else f"{', '.join(quoted[:-1])} and {quoted[-1]}"


def _what(said: Said) -> str:
    noun = {"bars": "bar", "boards": "board", "sheets": "sheet"}[said.problem.kind]
    return f"{noun} commonly sold"


def _long(mm: Fraction, system: System) -> str:
    return show_fine(Quantity(mm, 1), INCH_32 if system == "in" else MM_TENTH)
