"""The state that an operation sees: the bench, what became of earlier pieces, tools and sizes. It changes nothing."""

from abc import ABC, abstractmethod
from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import ClassVar

from planbook.model import Design, Stencil, Supply, Tool
from planbook.solids import FACE_FRAMES, Outline, Solid
from planbook.text import Place
from planbook.units import Formula, Quantity, UnitProblem, near
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Minutes, Op
from planbook.workshop.snags import Snag, snag
from planbook.workshop.timeline import At, Lost, Piece, Show, Stuck, Trouble, Use

LEAST_SANDED = 0.01
"""A face that is sanded at all loses this much, mm."""
WAYS = {"width": 0, "depth": 1, "height": 2}


@dataclass(frozen=True, slots=True)
class Gone:
    """What became of a piece that is no longer on the bench."""

    how: str
    at: At
    by: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Joining:
    """The bench just before an operation that joined pieces for good; `number` counts the operations of the build."""

    number: int
    at: At
    bench: Mapping[str, Piece]


@dataclass(frozen=True, eq=False)
class Shop:
    """Everything an operation may look at."""

    design: Design
    sizes: Mapping[str, Quantity]
    shapes: Mapping[str, Outline]
    bench: Mapping[str, Piece]
    gone: Mapping[str, Gone]
    unknown: frozenset[str]
    planned: Mapping[str, At]
    stuck_ever: Mapping[str, At]
    clock: float
    at: At
    parts: frozenset[str] = frozenset()
    stated: float | None = None
    """Hands-on minutes where the block states them itself, for each thing done in it."""
    kerfs: Mapping[str, float] = field(default_factory=dict)
    allowances: Mapping[str, float] = field(default_factory=dict)
    timed: bool = True
    """False in a build whose clock is another build's, so that it says nothing about what is wet."""
    joined: Mapping[str, Joining] = field(default_factory=dict)
    """The last moment of every piece that became part of another, for the fits that are measured then."""
    shown: bool = True
    """False in a build of which no picture is drawn and no list is made: what only these need may be left out."""

    def compute(self, formula: Formula) -> Quantity:
        """A formula's value now. Raises UnitProblem, or Snag if it measures a piece that is unknown."""
        known = [size.name for size in self.design.sizes.values()]
        return formula.evaluate(self._size, self._measure, known)

    def _size(self, name: str) -> Quantity | None:
        return self.sizes.get(name)

    def _measure(self, what: str, name: str) -> Quantity | None:
        if what == "kerf":
            tool = self.design.tools.get(name)
            return Quantity(Fraction(self.kerf(tool)).limit_denominator(10**9), 1) if tool and tool.kerf else None
        if name in self.unknown:
            raise Snag
        piece = self.bench.get(name)
        return None if piece is None else Quantity(Fraction(round(piece.solid.extent[WAYS[what]], 9)), 1)

    def piece(self, name: str, place: Place) -> Piece:
        """A piece on the bench. Raises Snag with the reason why it is not there."""
        if name in self.unknown:
            raise Snag
        if name in self.bench:
            return self.bench[name]
        bench = tuple(self.bench)
        guess = near(name, bench)
        if name in self.gone:
            gone = self.gone[name]
            also = ((gone.at.place, f"used up here, in step {gone.at.step}"),)
            facts = {"piece": name, "used": gone.at.step, "how": gone.how, "by": gone.by}
            raise snag("piece-already-used", place, self.at.step, also, bench=bench, near=guess, **facts)
        if name in self.planned:
            later = self.planned[name]
            also = ((later.place, f"made here, in step {later.step}"),)
            raise snag(
                "piece-not-made-yet",
                place,
                self.at.step,
                also,
                piece=name,
                later=later.step,
                bench=bench,
                near=guess,
            )
        everything = (*bench, *self.planned, *self.gone)
        raise snag("piece-unknown", place, self.at.step, piece=name, bench=bench, near=near(name, everything))

    def dry(self, name: str, place: Place) -> Piece:
        """A piece that may be worked: its glue or finish is dry. Raises Snag otherwise."""
        piece = self.piece(name, place)
        if self.timed and piece.wet > self.clock + 1e-6:
            also = ((piece.at.place, "still wet from here"),)
            raise snag("glue-still-wet", place, self.at.step, also, piece=name, minutes=piece.wet - self.clock)
        return piece

    def open_to_glue(self, name: str, place: Place) -> Piece:
        """A piece to which more is glued: glue that was put on in the same step is not waited for. Raises Snag."""
        piece = self.piece(name, place)
        now = piece.at.step == self.at.step and piece.name in piece.sources
        return piece if now else self.dry(name, place)

    def stencil(self, name: str, place: Place) -> Stencil:
        """A stencil of the design. Raises Snag if there is none."""
        found = self.design.stencils.get(name)
        if found is None:
            known = tuple(self.design.stencils)
            raise snag("stencil-unknown", place, self.at.step, stencil=name, near=near(name, known), known=known)
        return found

    def stuck(self, piece: Piece, name: str, place: Place) -> Stuck:
        """A stencil that is stuck on a piece. Raises Snag if it is not, or no longer."""
        self.stencil(name, place)
        for stuck in piece.stuck:
            if stuck.stencil.name == name:
                return stuck
        earlier = self.stuck_ever.get(name)
        if earlier is None:
            raise snag("stencil-not-stuck", place, self.at.step, stencil=name, piece=piece.name)
        also = ((earlier.place, f"stuck on here, in step {earlier.step}"),)
        raise snag("stencil-face-gone", place, self.at.step, also, stencil=name, piece=piece.name)

    def line(self, stuck: Stuck, name: str, place: Place) -> Outline:
        """A line of a stencil. Raises Snag if there is none, silently if its shape could not be drawn."""
        if name in stuck.lines:
            return stuck.lines[name]
        names = tuple(line.name for line in stuck.stencil.lines)
        if name in names:
            raise Snag
        raise snag(
            "line-unknown",
            place,
            self.at.step,
            line=name,
            stencil=stuck.stencil.name,
            near=near(name, names),
            known=names,
        )

    def tool(self, name: str, place: Place, *kinds: str) -> Tool:
        """A tool of the design of one of these kinds. Raises Snag if it is missing or of another kind."""
        found = self.design.tools.get(name)
        known = tuple(self.design.tools)
        if found is None:
            raise snag("tool-unknown", place, self.at.step, tool=name, near=near(name, known), known=known)
        if kinds and found.kind not in kinds:
            raise snag("tool-unfit", place, self.at.step, tool=name, kind=found.kind, wanted=kinds)
        return found

    def kerf(self, tool: Tool) -> float:
        """The kerf that a saw takes in this build, mm."""
        varied = self.kerfs.get(tool.name)
        if varied is not None:
            return varied
        return 0.0 if tool.kerf is None else self.number(tool.kerf.formula, tool.kerf.place)

    def number(self, formula: Formula, place: Place) -> float:
        """A formula of the design file as a plain number of millimetres. Raises Snag if it cannot be computed."""
        try:
            return float(self.compute(formula).value)
        except UnitProblem as problem:
            where = place.within(problem.offset, problem.length)
            raise snag("bad-formula", where, 0, problem=problem.kind, message=problem.message) from None

    def sanded(self, take: float) -> float:
        """What really comes off a face of which `take` mm are to be sanded, mm."""
        return max(take + self.allowance("sanding"), LEAST_SANDED)

    def allowance(self, of: str) -> float:
        """How much more (or less) than asked there is of something in this build, mm: "sanding", "thickness"."""
        return self.allowances.get(of, 0.0)

    def worked(self, solid: Solid, face: str) -> float:
        """The area of a flat face that was worked, mm2, for the lists; 0 in a build of which none is made."""
        return solid.face(FACE_FRAMES[face]).size if self.shown else 0.0

    def supply(self, name: str, place: Place, *kinds: str) -> Supply:
        """A supply of the design of one of these kinds. Raises Snag if it is missing or of another kind."""
        found = self.design.supplies.get(name)
        if found is None:
            known = tuple(self.design.supplies)
            raise snag("supply-unknown", place, self.at.step, supply=name, near=near(name, known), known=known)
        if kinds and found.kind not in kinds:
            raise snag("supply-unfit", place, self.at.step, supply=name, kind=found.kind, wanted=kinds)
        return found

    def minutes(self, operation: str, amount: float, untabled: float = 5.0) -> float:
        """Hands-on minutes of an operation for an amount of work in the handbook's unit, or as the block states.

        `untabled` is taken where the handbook has no rate.
        """
        if self.stated is not None:
            return self.stated
        row = self.design.handbook.rate(operation)
        return row.minutes(amount) if row else untabled

    def set_up(self, operation: str) -> float:
        """Minutes of an operation that are spent once, however many pieces go through it."""
        row = self.design.handbook.rate(operation)
        return row.setup_minutes if row else 0.0


@dataclass(frozen=True, eq=False)
class Outcome:
    """What an operation did. Times in minutes; `kept` and `parts` name pieces set aside or made part of the object, and
    `shut_in` those that lie loose in what was made.
    """

    taken: tuple[Piece, ...] = ()
    made: tuple[Piece, ...] = ()
    lost: tuple[Lost, ...] = ()
    uses: tuple[Use, ...] = ()
    show: Show | None = None
    hands_on: float = 0.0
    wait: float = 0.0
    settings: tuple[tuple[str, object], ...] = ()
    stuck: Stuck | None = None
    troubles: tuple[Trouble, ...] = ()
    kept: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()
    shut_in: tuple[str, ...] = ()
    discarded: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Work(Op, ABC):
    """An operation that can be carried out. `takes` states its hands-on time, where the maker knows better."""

    DRAWN: ClassVar[Drawn]
    GLUES_ON: ClassVar[bool] = False
    """Whether it glues something to a piece that may be wet from the same step (`Shop.open_to_glue`)."""

    takes: Minutes | None = None

    @abstractmethod
    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag if it cannot be done."""
