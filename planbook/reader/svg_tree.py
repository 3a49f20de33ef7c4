"""An SVG file as a tree of elements with their lines; entities and anything outside the file are refused."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from xml.parsers import expat

MOST_ELEMENTS = 20_000
DEEPEST = 64
_SVG = "http://www.w3.org/2000/svg"
_PART = "\n"


class Unreadable(Exception):  # noqa: N818 - a fact about a file
    """What is wrong with a drawing file, in words that follow its name; `line` is 0 where there is none."""

    def __init__(self, words: str, line: int = 0) -> None:
        super().__init__(words)
        self.words, self.line = words, line


@dataclass(frozen=True, slots=True)
class Element:
    """One element: its name without the namespace, its attributes without a namespace, and what it holds."""

    name: str
    attributes: Mapping[str, str]
    line: int
    children: "list[Element]" = field(default_factory=list)

    def ways(self, above: "tuple[Element, ...]" = ()) -> "Iterator[tuple[Element, ...]]":
        """This element and every one below it, each with all that hold it, the outermost first."""
        way = (*above, self)
        yield way
        for child in self.children:
            yield from child.ways(way)


def read_svg(data: bytes) -> Element:
    """The root of an SVG file. Raises Unreadable."""
    parser = expat.ParserCreate(namespace_separator=_PART)
    growing = _Growing(parser)
    parser.StartElementHandler, parser.EndElementHandler = growing.start, growing.end
    parser.EntityDeclHandler = growing.entity
    try:
        parser.Parse(data, True)
    except expat.ExpatError as error:
        reason = expat.errors.messages.get(error.code, "no reason given")
        raise Unreadable(f"is not whole XML: {reason}", error.lineno) from None
    except (LookupError, ValueError):
        raise Unreadable("says an encoding that is not known", 1) from None
    root = growing.root
    if root is None or root.name != "svg":
        raise Unreadable(f"is a `{root.name}`, not an `svg`" if root else "is empty", 1)
    return root


class _Growing:
    """The tree while the parser runs."""

    def __init__(self, parser: expat.XMLParserType) -> None:
        self.parser = parser
        self.root: Element | None = None
        self.open: list[Element] = []
        self.count = 0

    def start(self, name: str, attributes: Mapping[str, str]) -> None:
        line = self.parser.CurrentLineNumber
        self.count += 1
        if self.count > MOST_ELEMENTS:
            raise Unreadable(f"has more than {MOST_ELEMENTS} elements", line)
        if len(self.open) >= DEEPEST:
            raise Unreadable(f"has elements nested more than {DEEPEST} deep", line)
        space, _, local = name.rpartition(_PART)
        own = {key: value for key, value in attributes.items() if _PART not in key}
        element = Element(local if space in ("", _SVG) else "", own, line)
        if self.open:
            self.open[-1].children.append(element)
        else:
            self.root = element
        self.open.append(element)

    def end(self, _name: str) -> None:
        self.open.pop()

    def entity(self, *_about: object) -> None:
        raise Unreadable("declares entities, which are not read; save it as plain SVG", self.parser.CurrentLineNumber)
