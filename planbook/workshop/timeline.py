"""What the simulated build leaves behind: pieces, events and troubles, in order. Facts only, no words for people."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from planbook.model import Design, Operation, Stencil, Step
from planbook.solids import Area, Frame, Outline, Solid, Vec3
from planbook.text import Place
from planbook.units import Quantity

Dial = Literal["kerf", "sanding", "thickness", "humidity"]
"""What may turn out otherwise from one reader to the next."""
Treatment = Literal["sawn", "sanded", "glued", "finished", "lined", "masked"]
Loss = Literal["kerf", "hole", "dust", "trim"]
Role = Literal["worked", "new", "context", "waste"]
Ending = Literal["part", "kept", "discarded", "left over"]
WAY_IN = "way in"
"""Text of a line to cut along which the blade comes in."""
MIDDLE = "middle"
"""Text of a line to cut in the middle of its kerf: it is left on none of the parts on both sides."""
AT_A_CUT = "at a cut"
"""Text of a clamp that closes a cut: it says something only where that is."""
REACHING = "reaching in"
"""Text of a small clamp that reaches in through an opening of the work."""
WASTE_LEFT, WASTE_RIGHT = "waste left", "waste right"
"""Text of a line that wood is taken down to: on which side of its run that wood lies, as seen from outside the face."""


@dataclass(frozen=True, slots=True)
class At:
    """A moment of the build: step and operation of the step, both from 1, and where it is written."""

    step: int
    number: int
    place: Place


@dataclass(frozen=True, eq=False, slots=True)
class Member:
    """One wood of a piece: the wood is where `region` (the board it comes from) and the piece overlap.

    `box` surely holds the region (lower and upper corner, mm), so that most questions need no solid. `added` is the
    piece that was glued into the one whose name stayed, such as a knob; empty for wood that was cut with it.
    """

    stock: str
    wood: str
    grain: Vec3
    region: Solid
    box: tuple[Vec3, Vec3]
    added: str = ""


@dataclass(frozen=True, slots=True)
class Treated:
    """A face of a piece that was worked: which way it looks, how, when, its area in mm2, and with what."""

    face: str
    how: Treatment
    at: At
    area: float
    product: str = ""


@dataclass(frozen=True, eq=False, slots=True)
class Stuck:
    """A stencil on a face: its lines, holes and regions placed in `frame`, whose origin lies on the face.

    `mirrored` says that it is printed as the mirror image of what the design draws, on the partner of a piece.
    """

    stencil: Stencil
    frame: Frame
    lines: Mapping[str, Outline]
    holes: Mapping[str, tuple[float, float, float]]
    regions: Mapping[str, tuple[float, float]]
    face: Area
    piece: str
    at: At
    mirrored: bool = False


@dataclass(frozen=True, eq=False, slots=True)
class Lined:
    """A floor that is lined: all of its piece's surface that lies in `layer` and looks about the `way` to the opening.

    So what is cut off or filled later is lined no more. It is known only in a build of which pictures are drawn.
    """

    layer: Solid
    way: Vec3


@dataclass(frozen=True, eq=False, slots=True)
class Piece:
    """A piece on the bench. `sources` are the pieces it was made from; `wet` ends in minutes of the build."""

    name: str
    solid: Solid
    members: tuple[Member, ...]
    at: At
    sources: tuple[str, ...] = ()
    treated: tuple[Treated, ...] = ()
    stuck: tuple[Stuck, ...] = ()
    wet: float = 0.0
    lined: tuple[Lined, ...] = ()


@dataclass(frozen=True, eq=False, slots=True)
class Lost:
    """Wood that is gone: how, and how much (mm3)."""

    how: Loss
    solid: Solid
    volume: float


@dataclass(frozen=True, slots=True)
class Use:
    """A tool or supply that an operation used; amount in the unit named (m2, m, joints, holes, minutes, pieces)."""

    name: str
    kind: str
    amount: float = 0.0
    unit: str = ""


@dataclass(frozen=True, eq=False, slots=True)
class Shown:
    """One piece in the picture of an event: as it lies after the work, and how far it is pulled apart (mm).

    `face` is the face it is worked on where that is not the face of the whole picture. `gone` is wood that the event
    took off it, where it was; only a picture asks for it.
    """

    piece: Piece
    role: Role
    apart: Vec3 = (0.0, 0.0, 0.0)
    face: str = ""
    gone: tuple[Solid, ...] = ()


@dataclass(frozen=True, eq=False, slots=True)
class Cue:
    """Something to draw on the picture besides the pieces: world points in mm, moved with a shown piece if named.

    A note points at the first of its points that is in sight; `wall` is the one that what it names is cut for. Edges
    that are rounded or chamfered have no points, but the names of the face and the side between which they lie, or of
    the face alone if they go around it. `line` is the name of the line of a stencil that a cut line is.
    """

    kind: Literal[
        "cut line",
        "printed line",
        "drill axis",
        "push",
        "clamp",
        "sand",
        "glue face",
        "lining",
        "note",
        "rounded",
        "chamfered",
    ]
    points: tuple[Vec3, ...]
    piece: str = ""
    text: str = ""
    wall: str = ""
    line: str = ""


@dataclass(frozen=True, eq=False, slots=True)
class Show:
    """How an event is drawn: the face turned to the reader ("" where any view will do), the pieces, and the cues."""

    face: str
    pieces: tuple[Shown, ...]
    cues: tuple[Cue, ...] = ()


@dataclass(frozen=True, slots=True)
class Trouble:
    """Something that went wrong in the build, as facts; the rule of the same kind puts it into words."""

    kind: str
    place: Place
    step: int
    facts: Mapping[str, Any] = field(default_factory=dict)
    also: tuple[tuple[Place, str], ...] = ()


@dataclass(frozen=True, eq=False, slots=True)
class Event:
    """One operation carried out: what it took, made, lost and used. Times in minutes; `set_up` is part of hands-on.

    `beside` names what stands in the object, or lies loose in a piece, with those that it took.
    """

    operation: Operation
    at: At
    taken: tuple[Piece, ...]
    made: tuple[Piece, ...]
    lost: tuple[Lost, ...]
    uses: tuple[Use, ...]
    show: Show | None
    bench: Mapping[str, Piece]
    hands_on: float
    wait: float
    start: float
    settings: tuple[tuple[str, Any], ...] = ()
    stuck: Stuck | None = None
    broken: bool = False
    set_up: float = 0.0
    beside: tuple[str, ...] = ()


@dataclass(frozen=True, eq=False, slots=True)
class Fate:
    """How a piece ended: part of the object, kept or thrown away on purpose, or left over."""

    piece: Piece
    ending: Ending
    at: At


@dataclass(frozen=True, slots=True)
class Way:
    """How far a piece moves: by a vector in mm, or round an axis through a point (mm), left round, in degrees."""

    piece: str
    by: Vec3 = (0.0, 0.0, 0.0)
    axis: Vec3 | None = None
    about: Vec3 = (0.0, 0.0, 0.0)
    degrees: float = 0.0


@dataclass(frozen=True, eq=False, slots=True)
class Fitted:
    """What a fit measured, mm: the least and the most gap, step or thickness found, and where.

    Of a motion: at which stage of the way it is narrowest, and which piece it would touch first there. `before` is the
    operation that joins its pieces, where they no longer exist in the end: it was measured just before that. `way` is
    the whole of a motion.
    """

    name: str
    kind: str
    least: float | None
    most: float | None
    where: Vec3 | None = None
    stage: str = ""
    asked_least: float | None = None
    asked_most: float | None = None
    touches: str = ""
    before: At | None = None
    way: Way | None = None


@dataclass(frozen=True, slots=True)
class Setting:
    """One thing that is not nominal: a kerf in mm, sanding or thickness in mm more, or the humidity in per cent."""

    what: Dial
    value: float
    tool: str = ""


Corner = tuple[Setting, ...]
"""What is otherwise at a corner of the envelope; nothing of it is the nominal build."""


@dataclass(frozen=True, slots=True)
class Spread:
    """What varies, from least to most, as in a Setting."""

    what: Dial
    least: float
    nominal: float
    most: float
    tool: str = ""


@dataclass(frozen=True, slots=True)
class Proof:
    """What a fit measured over the whole envelope: its least and its most, each with the corner where it was found.

    `ends` are what it measured with each thing at one of its ends and all others nominal.
    """

    name: str
    least: Fitted
    least_at: Corner
    most: Fitted
    most_at: Corner
    ends: tuple["End", ...] = ()


@dataclass(frozen=True, slots=True)
class End:
    """The least and the most (mm) that a fit measured with one thing at one of its ends."""

    setting: Setting
    least: float | None
    most: float | None


@dataclass(frozen=True, slots=True)
class Break:
    """A trouble that the nominal build does not have, and the first corner where it came up."""

    corner: Corner
    trouble: Trouble


@dataclass(frozen=True, eq=False, slots=True)
class Envelope:
    """The build and its fits over all that may vary. `unmoving` are woods whose movement is not known.

    `builds` counts the builds that were carried out, besides the nominal one.
    """

    spreads: tuple[Spread, ...]
    proofs: tuple[Proof, ...]
    breaks: tuple[Break, ...]
    unmoving: tuple[str, ...] = ()
    builds: int = 0

    def proof(self, name: str) -> Proof | None:
        """The proof of a fit, or None where it could not be measured."""
        return next((proof for proof in self.proofs if proof.name == name), None)


@dataclass(frozen=True, eq=False)
class Timeline:
    """The whole build. `shapes` are the plane shapes of the design by name; `sizes` its sizes.

    `envelope` is None where the build was carried out once, as drawn.
    """

    design: Design
    sizes: Mapping[str, Quantity]
    shapes: Mapping[str, Outline]
    events: tuple[Event, ...]
    troubles: tuple[Trouble, ...]
    fates: Mapping[str, Fate]
    pieces: Mapping[str, Piece]
    object: tuple[Piece, ...]
    fits: tuple[Fitted, ...]
    envelope: Envelope | None = None

    def of_step(self, step: Step) -> tuple[Event, ...]:
        """The events of a step, in order."""
        return tuple(event for event in self.events if event.at.step == step.number)

    def troubles_of(self, kind: str) -> tuple[Trouble, ...]:
        """The troubles of one kind, in order."""
        return tuple(trouble for trouble in self.troubles if trouble.kind == kind)

    @property
    def stuck(self) -> tuple[Stuck, ...]:
        """Every stencil that was stuck on, in the order of sticking; one for each piece it was stuck on."""
        return tuple(event.stuck for event in self.events if event.stuck is not None)
