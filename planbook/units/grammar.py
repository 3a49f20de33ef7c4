"""The grammar of formulas, and the parsing of a text into steps (the only place that knows lark)."""

import re
from functools import cache
from typing import Any, cast

from lark import Lark, Token, Transformer, v_args
from lark.exceptions import UnexpectedCharacters, UnexpectedInput, UnexpectedToken

from planbook.units.functions import FUNCTIONS, PI
from planbook.units.literal import LITERAL, any_case, comma_problem, read_literal
from planbook.units.nearest import near
from planbook.units.problem import UnitProblem
from planbook.units.program import Call, Constant, Measure, Program, Use

DEEPEST = 40

_NAME = r"[^\W\d]\w*(?:\s+\w+)*"
_FUNCTION = rf"{_NAME}(?=\s*\()"
_PIECE = "(?:\"[^\"]*\"|'[^']*'|“[^”]*”|‘[^’]*’)"
_EXTENT = any_case("width", "depth", "height", "kerf")
_OF = any_case("of")
_MEASURE = rf"(?:{_EXTENT})\s+{_OF}\s+{_PIECE}"


def _terminal(pattern: str) -> str:
    return f"/{pattern.replace('/', chr(92) + '/')}/"


GRAMMAR = rf"""
?start: sum
?sum: product
    | sum PLUS product    -> binary
    | sum MINUS product   -> binary
?product: signed
    | product TIMES signed -> binary
    | product OVER signed  -> binary
?signed: atom
    | MINUS signed -> negative
    | PLUS signed  -> positive
?atom: "(" sum ")"
    | LITERAL -> literal
    | MEASURE -> measure
    | NAME    -> name
    | FUNCTION "(" [sum (COMMA sum)*] ")" -> call

PLUS: "+"
MINUS: /[-\u2010\u2011\u2012\u2013\u2212]/
TIMES: /[*×·⋅]/
OVER: /[\/÷∕⁄]/
COMMA: ","
LITERAL.4: {_terminal(LITERAL)}
MEASURE.3: {_terminal(_MEASURE)}
FUNCTION.2: {_terminal(_FUNCTION)}
NAME.1: {_terminal(_NAME)}
%ignore /\s+/
"""

_OPERATIONS = {"PLUS": "add", "MINUS": "subtract", "TIMES": "multiply", "OVER": "divide"}


def parse(text: str) -> Program:
    """Parse a formula into steps; raises UnitProblem and nothing else."""
    _check_brackets(text)
    try:
        program = cast(Program, cast(Any, _parser().parse(text)))
    except UnexpectedInput as error:
        raise _syntax(text, error) from None
    for step in program:
        if isinstance(step, Constant):
            _check_neighbours(text, step.offset, step.length)
    return program


@cache
def _parser() -> Lark:
    checks = {"LITERAL": _check_literal, "NAME": _check_name, "FUNCTION": _check_function}
    return Lark(GRAMMAR, parser="lalr", lexer="basic", transformer=_Steps(), lexer_callbacks=checks)


@v_args(inline=True)
class _Steps(Transformer[Token, Program]):
    """Turns each grammar rule into the steps that compute it, operands first."""

    def binary(self, left: Program, sign: Token, right: Program) -> Program:
        return (*left, *right, Call(_OPERATIONS[sign.type], 2, *_span(sign)))

    def negative(self, sign: Token, operand: Program) -> Program:
        return (*operand, Call("negate", 1, *_span(sign)))

    def positive(self, _sign: Token, operand: Program) -> Program:
        return operand

    def literal(self, token: Token) -> Program:
        return (Constant(read_literal(token, _at(token)), *_span(token)),)

    def name(self, token: Token) -> Program:
        name = _plain(token)
        return (Constant(PI, *_span(token)),) if name in ("pi", "π") else (Use(name, *_span(token)),)

    def measure(self, token: Token) -> Program:
        what, _of, piece = token.split(maxsplit=2)
        inside = " ".join(piece[1:-1].split())
        if not inside:
            thing = "saw" if what.lower() == "kerf" else "piece"
            raise UnitProblem("syntax", f"the name of the {thing} is empty", *_span(token))
        return (Measure(cast(Any, what.lower()), inside, *_span(token)),)

    def call(self, token: Token, *parts: Program | Token | None) -> Program:
        arguments = [part for part in parts if part is not None and not isinstance(part, Token)]
        name = _plain(token)
        function = FUNCTIONS[name]
        if len(arguments) < function.least or (function.most and len(arguments) > function.most):
            given = str(len(arguments))
            message = f"`{name}` takes {_counted(function.wanted)}, not {given}"
            facts = {"name": name, "wanted": function.wanted, "given": given}
            raise UnitProblem("wrong-argument-count", message, *_span(token), facts)
        steps = [step for argument in arguments for step in argument]
        return (*steps, Call(name, len(arguments), *_span(token)))


def _at(token: Token) -> int:
    return token.start_pos or 0


def _span(token: Token) -> tuple[int, int]:
    return _at(token), len(token)


def _plain(token: str) -> str:
    return " ".join(token.lower().split())


def _counted(wanted: str) -> str:
    return f"{wanted} argument{'' if wanted == '1' else 's'}"


def _check_literal(token: Token) -> Token:
    read_literal(token, _at(token))
    return token


def _check_name(token: Token) -> Token:
    if found := re.match(rf"({_EXTENT})\s+(?:{_OF})\b\s*(.*)", token, re.DOTALL):
        kerf = found[1].lower() == "kerf"
        thing, piece = ("saw", found[2] or "band saw") if kerf else ("piece", found[2] or "lid")
        message = f'a measured {thing} is named in quotes, as in `{found[1].lower()} of "{piece}"`'
        raise UnitProblem("syntax", message, *_span(token))
    return token


def _check_function(token: Token) -> Token:
    name = _plain(token)
    if name not in FUNCTIONS:
        facts = {"name": name, "near": ", ".join(near(name, FUNCTIONS))}
        raise UnitProblem("unknown-function", f"no function is called `{name}`", *_span(token), facts)
    return token


def _check_brackets(text: str) -> None:
    """Find unmatched and too deep brackets, leaving out those in the names of pieces."""
    bare = re.sub(_MEASURE, lambda found: " " * len(found[0]), text)
    opened: list[int] = []
    for at, character in enumerate(bare):
        if character == "(":
            opened.append(at)
            if len(opened) > DEEPEST:
                raise UnitProblem("too-deep", f"brackets are nested more than {DEEPEST} deep", at)
        elif character == ")":
            if not opened:
                raise UnitProblem("syntax", "this bracket closes nothing", at)
            opened.pop()
    if opened:
        raise UnitProblem("syntax", "this bracket is never closed", opened[-1])


def _check_neighbours(text: str, offset: int, length: int) -> None:
    """Refuse `x / 3/4 in` and `x * 3-1/2 in`, which two careful readers would read in two ways."""
    literal = text[offset : offset + length]
    before, after = text[:offset].rstrip()[-1:], text[offset + length :].lstrip()[:1]
    fraction = re.match(r"[0-9]+[/⁄∕][0-9]", literal) and before and before in "/÷∕⁄"
    hyphened = re.match("[0-9]+[-\u2010\u2011]", literal) and any(
        sign and sign in "/÷∕⁄*×·⋅" for sign in (before, after)
    )
    if fraction or hyphened:
        message = f"`{literal}` could be read in two ways here; put it in brackets"
        raise UnitProblem("syntax", message, offset, length)


def _syntax(text: str, error: UnexpectedInput) -> UnitProblem:
    shown = text.rstrip()
    if not shown:
        return UnitProblem("syntax", "nothing is written here, where a size or formula is wanted")
    if isinstance(error, UnexpectedToken) and error.token.type == "$END":
        return UnitProblem("syntax", "the formula stops before it is complete", len(shown) - 1)
    at = error.pos_in_stream or 0
    found = str(error.token) if isinstance(error, UnexpectedToken) else text[at]
    if found == "," and (problem := comma_problem(text, at)):
        return problem
    return UnitProblem("syntax", _wording(text, at, found, error), at, len(found))


def _wording(text: str, at: int, found: str, error: UnexpectedInput) -> str:
    if found == "^" or text[at - 1 : at + 1] == "**":
        return "a formula has no powers; multiply, as in `a * a`"
    if found == ",":
        return "a comma may only stand between the values given to a function"
    if isinstance(error, UnexpectedCharacters):
        return f"`{found}` has no meaning in a formula"
    if found in "+-*/×÷)":
        return f"something is missing before `{found}`"
    return f"an operator such as `+` is missing before `{found}`"
