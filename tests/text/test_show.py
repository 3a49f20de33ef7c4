"""Findings as people, editors and programs see them."""

import json

from planbook.text import Aside, Kind, Place, Severity, Source, as_json, for_people, one_line, plain, tally

KIND = Kind("FLO02", "piece-already-used", Severity.ERROR, "What.", "Why.", "bad", "good")
WARN = Kind("FLO07", "left-over", Severity.WARNING, "What.", "Why.", "bad", "good")
STEPS = Source("steps.md", "\n" * 60 + 'pieces = ["left cheek", "left rail"]\n' + "\n" * 26 + 'piece = "left cheek"\n')
FOUND = KIND.at(
    Place("steps.md", 88, 10, 10),
    "step 9 takes `left cheek`, but step 6 glued it into `left side`",
    label="not on the bench any more",
    also=[Aside(Place("steps.md", 61, 12, 10), "used up here")],
    notes=["on the bench now: `left side`"],
    hint="did you mean `left side`?",
)


def test_a_finding_for_people() -> None:
    assert plain(for_people(FOUND, {"steps.md": STEPS})) == (
        "error[FLO02] piece-already-used: step 9 takes `left cheek`, but step 6 glued it into `left side`\n"
        "  --> steps.md:88:10\n"
        "   |\n"
        '61 | pieces = ["left cheek", "left rail"]\n'
        "   |            ---------- used up here\n"
        "...\n"
        '88 | piece = "left cheek"\n'
        "   |          ^^^^^^^^^^ not on the bench any more\n"
        "   |\n"
        "   = on the bench now: `left side`\n"
        "   = hint: did you mean `left side`?"
    )


def test_a_finding_without_its_text() -> None:
    shown = plain(for_people(WARN.at(Place("steps.md", 3), "left over"), {}))
    assert shown == "warning[FLO07] left-over: left over\n --> steps.md:3:1\n  |"


def test_a_second_place_in_another_file() -> None:
    toml = Source("design.toml", "[sizes]\nwall = 1\n")
    found = KIND.at(Place("steps.md", 88, 1, 5), "x", also=[Aside(Place("design.toml", 2, 1, 4), "given here")])
    shown = plain(for_people(found, {"steps.md": STEPS, "design.toml": toml}))
    assert "::: design.toml:2:1\n 2 | wall = 1\n   | ---- given here" in shown


def test_carets_stand_under_wide_and_combined_characters() -> None:
    source = Source("a", "円e\u0301🐦 = x")
    shown = plain(for_people(KIND.at(Place("a", 1, 4, 1), "x"), {"a": source})).split("\n")
    assert shown[-1] == "  |    ^^"


def test_a_long_line_is_shown_around_its_place() -> None:
    source = Source("a", "-" * 300 + "HERE" + "-" * 300)
    shown = plain(for_people(KIND.at(Place("a", 1, 301, 4), "x"), {"a": source})).split("\n")
    assert len(shown[-2]) < 120
    assert shown[-2].index("HERE") == shown[-1].index("^^^^")


def test_no_character_disturbs_the_screen() -> None:
    source = Source("a", "\u202eabc\x1b[2J")
    found = KIND.at(Place("a", 1, 1, 1), "bad \x1b[31m\u2066name\nnext")
    shown = plain(for_people(found, {"a": source}))
    assert not set(shown) & set("\u202e\u2066\x1b")
    assert one_line(found) == "a:1:1: error FLO02 piece-already-used: bad \ufffd[31m\ufffdname next"


def test_findings_as_json_keep_every_field() -> None:
    (made,) = json.loads(as_json([FOUND]))
    assert made["code"] == "FLO02"
    assert made["severity"] == "error"
    assert made["place"] == {"file": "steps.md", "line": 88, "column": 10, "length": 10}
    assert made["also"][0]["text"] == "used up here"
    assert json.loads(as_json([])) == []


def test_tally_counts_by_severity() -> None:
    warning = WARN.at(Place("a"), "x")
    assert tally([FOUND, warning, FOUND]) == "2 errors, 1 warning"
    assert tally([]) == "nothing to mend"
