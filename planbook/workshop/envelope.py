"""Proves a build over all that may vary: kerfs, sanding, boards and the moisture of the year; judges nothing.

One thing is varied at a time, to both of its ends. Then, for every fit, the ends that were worse for it are taken
together, and that corner is built and measured as well.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from planbook import handbook
from planbook.model import Design, Expr, Fit
from planbook.units import Quantity
from planbook.workshop.fitting import measure_fit
from planbook.workshop.memory import Memory
from planbook.workshop.run import Finished, finish
from planbook.workshop.seasons import Swelling, coefficient, moisture, unmoving
from planbook.workshop.shop import Shop
from planbook.workshop.snags import Snag
from planbook.workshop.timeline import (
    Break,
    Corner,
    End,
    Envelope,
    Fitted,
    Piece,
    Proof,
    Setting,
    Spread,
    Timeline,
    Trouble,
)
from planbook.workshop.varying import Variation

Side = Literal["least", "most"]
SAME = 1e-6
"""Measures that differ by less than this (mm) say nothing about which end is worse."""


def prove(design: Design, sizes: Mapping[str, Quantity] | None = None) -> Timeline:
    """The nominal build with its envelope; without one where the nominal build itself cannot be carried out."""
    return Prover(design, sizes).proved()


@dataclass(eq=False)
class Prover:
    """The builds of a design at the corners of its envelope. `only` names the one fit that is of interest."""

    design: Design
    sizes: Mapping[str, Quantity] | None = None
    only: str = ""
    memory: Memory = field(default_factory=Memory)
    breaks: dict[tuple[str, object], Break] = field(default_factory=dict)
    _finished: dict[Corner, Finished] = field(default_factory=dict)
    _found: dict[tuple[Corner, str], Fitted | None] = field(default_factory=dict)

    def proved(self) -> Timeline:
        """The nominal timeline with the envelope in it."""
        timeline = self.finished(()).timeline
        if len(timeline.events) < len(self.design.operations):
            return timeline
        spreads = self.spreads()
        fits = self.fits()
        for corner in singles(spreads):
            self._measure(corner, fits)
        for fit in fits:
            for side in _sides(self.measured((), fit)):
                self._measure(self.worst(fit, side, spreads), [fit])
        return replace(timeline, envelope=self._envelope(timeline, spreads, fits))

    def fits(self) -> list[Fit]:
        """The fits that are measured."""
        return [fit for fit in self.design.fits.values() if not self.only or fit.name == self.only]

    def finished(self, corner: Corner) -> Finished:
        """The build at a corner; the humidity of the corner needs none of its own."""
        built = tuple(setting for setting in corner if setting.what != "humidity")
        if built not in self._finished:
            done = finish(self.design, self.sizes, variation(built), self.memory)
            self._finished[built] = done
            if built:
                self._note_breaks(built, done.timeline)
        return self._finished[built]

    def measured(self, corner: Corner, fit: Fit) -> Fitted | None:
        """A fit at a corner; None where it cannot be measured there."""
        if (corner, fit.name) not in self._found:
            points = sum(self._swelling(setting.value) for setting in corner if setting.what == "humidity")
            try:
                shop = self.finished(corner).shop
                found = measure_fit(fit, shop, Swelling(points), self.memory, pointed=not corner)
            except Snag:
                found = None
            self._found[corner, fit.name] = found
        return self._found[corner, fit.name]

    def spreads(self) -> tuple[Spread, ...]:
        """What varies in this design, of the things that the nominal build asked for."""
        shop = self.finished(()).shop
        return tuple(_spreads(self.design, shop, self.memory))

    def worst(self, fit: Fit, side: Side, spreads: Sequence[Spread]) -> Corner:
        """The ends that are worse for a fit than the nominal build, each as it was measured alone, taken together."""
        nominal = _value(self.measured((), fit), side)
        chosen: list[Setting] = []
        for spread in spreads:
            ends = [(nominal, None), *((_value(self.measured((end,), fit), side), end) for end in _ends(spread))]
            known = [(value, end) for value, end in ends if value is not None]
            pick = min if side == "least" else max
            value, end = pick(known, key=lambda each: each[0], default=(None, None))
            if end is not None and value is not None and nominal is not None and abs(value - nominal) > SAME:
                chosen.append(end)
        return tuple(chosen)

    def _measure(self, corner: Corner, fits: Iterable[Fit]) -> None:
        self.finished(corner)
        for fit in fits:
            self.measured(corner, fit)

    def _swelling(self, humidity: float) -> float:
        _, built, _, celsius = climate(self.design)
        return moisture(humidity, celsius) - moisture(built, celsius)

    def _note_breaks(self, corner: Corner, timeline: Timeline) -> None:
        known = {_mark(trouble) for trouble in self.finished(()).timeline.troubles}
        for trouble in timeline.troubles:
            if _mark(trouble) not in known:
                self.breaks.setdefault(_mark(trouble), Break(corner, trouble))

    def _envelope(self, timeline: Timeline, spreads: tuple[Spread, ...], fits: Sequence[Fit]) -> Envelope:
        proofs = [self._proof(fit) for fit in fits]
        return Envelope(
            spreads,
            tuple(proof for proof in proofs if proof is not None),
            tuple(self.breaks.values()),
            unmoving(_moving_woods(timeline)),
            len(self._finished) - 1,
        )

    def _proof(self, fit: Fit) -> Proof | None:
        found = [(at, each) for (at, name), each in self._found.items() if name == fit.name and each is not None]
        if not found:
            return None
        # The nominal build was measured first: where nothing is worse, it is named.
        least_at, least = min(found, key=lambda each: _rounded(_value(each[1], "least")))
        most_at, most = max(found, key=lambda each: _rounded(_value(each[1], "most")))
        ends = tuple(End(*at, each.least, each.most) for at, each in found if len(at) == 1)
        return Proof(fit.name, least, least_at, most, most_at, ends)


def variation(corner: Corner) -> Variation:
    """What a build is told about a corner."""
    kerfs = {setting.tool: setting.value for setting in corner if setting.what == "kerf"}
    return Variation(kerfs, {s.what: s.value for s in corner if s.what in ("sanding", "thickness")})


def singles(spreads: Iterable[Spread]) -> list[Corner]:
    """The nominal build, and every end of what varies alone."""
    return [(), *((end,) for spread in spreads for end in _ends(spread))]


def climate(design: Design) -> tuple[float, float, float, float]:
    """Humidity in per cent: the least, that of the workshop, the most; and the temperature in deg C."""
    varies = design.varies
    least, most = varies.humidity or handbook.HUMIDITY
    built = (least + most) / 2 if varies.built_at is None else varies.built_at
    return least, built, most, handbook.CELSIUS if varies.temperature is None else varies.temperature


def _ends(spread: Spread) -> list[Setting]:
    ends = [value for value in (spread.least, spread.most) if abs(value - spread.nominal) > SAME]
    return [Setting(spread.what, value, spread.tool) for value in ends]


def _spreads(design: Design, shop: Shop, memory: Memory) -> Iterable[Spread]:
    for tool in design.tools.values():
        if tool.kerf_range is not None and memory.was_asked("kerfs", tool.name):
            least, most = (_mm(expr, shop, 0.0) for expr in tool.kerf_range)
            spread = Spread("kerf", least, shop.kerf(tool), most, tool.name)
            if _ends(spread):
                yield spread
    usual = {"sanding": handbook.SANDING_MM, "thickness": handbook.THICKNESS_MM}
    sanding = _mm(design.varies.sanding, shop, usual["sanding"])
    if sanding > SAME and memory.was_asked("allowances", "sanding"):
        yield Spread("sanding", -sanding, 0.0, sanding)
    thickness = _mm(design.varies.thickness, shop, usual["thickness"])
    if thickness > SAME and memory.was_asked("allowances", "thickness"):
        yield Spread("thickness", -thickness, 0.0, thickness)
    least, built, most, _ = climate(design)
    if most > least and any(coefficient(m.wood) for piece in shop.bench.values() for m in piece.members):
        yield Spread("humidity", least, built, most)


def _mm(expr: Expr | None, shop: Shop, usual: float) -> float:
    return usual if expr is None else shop.number(expr.formula, expr.place)


def _moving_woods(timeline: Timeline) -> list[Piece]:
    return [fate.piece for fate in timeline.fates.values() if fate.ending == "part"]


def _sides(found: Fitted | None) -> list[Side]:
    """The sides on which a fit asks for something."""
    if found is None:
        return []
    asked: list[tuple[Side, float | None]] = [("least", found.asked_least), ("most", found.asked_most)]
    return [side for side, value in asked if value is not None and _value(found, side) is not None]


def _value(found: Fitted | None, side: Side) -> float | None:
    if found is None:
        return None
    return found.least if side == "least" else found.most


def _rounded(value: float | None) -> float:
    return 0.0 if value is None else round(value, 6)


def _mark(trouble: Trouble) -> tuple[str, object]:
    return trouble.kind, trouble.place
