"""What the fields of operations hold, in words for people, and how each is written."""

EXAMPLES = {
    "piece": '"blank"',
    "piece names": '["left side", "right side"]',
    "stencil": '"outline"',
    "tool": '"narrow blade"',
    "supply": '"wood glue"',
    "stock names": '["left board", "right board"]',
    "face": '"front"',
    "face names": '["front", "back"]',
    "names": '["left", "right"]',
    "text": '"lid"',
    "true or false": "true",
    "whole number": "2",
    "length": '"12 mm"',
    "length above zero": '"12 mm"',
    "point": '["10 mm", "20 mm"]',
    "points": '[["10 mm", "20 mm"], ["40 mm", "20 mm"]]',
    "three lengths": '["80 mm", "19 mm", "40 mm"]',
    "time": '"30 min"',
    "angle": '"45 deg"',
    "makes": '{ lid = "inside", rim = "outside" }',
    "moves": '{ lid = ["0 mm", "0 mm", "2 mm"] }',
}
"""How a value of each sort may be written; the sorts are those of `planbook.workshop.fields`."""

_WANTED = {
    "piece": "the name of a piece",
    "piece names": "a list of names of pieces",
    "stencil": "the name of a stencil",
    "tool": "the name of a tool",
    "supply": "the name of a supply",
    "stock names": "a list of names of boards",
    "face names": "a list of faces",
    "names": "a list of names",
    "one of": "one of its words",
    "true or false": "`true` or `false`",
    "time": "a time in quotation marks",
    "length": "a length in quotation marks",
    "angle": "an angle in quotation marks",
}


def wanted_of(expected: str) -> str:
    """What a field should hold, with its article."""
    return _WANTED.get(expected, f"a {expected}")
