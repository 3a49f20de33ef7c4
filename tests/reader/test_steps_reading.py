"""Steps, prose and operations of steps.md, and their places."""

from planbook.model import Operation, Prose, Step
from planbook.reader.steps import Read, read_steps
from planbook.reader.toml_tree import plain
from planbook.text import Source


def read(text: str) -> Read:
    return read_steps(Source("steps.md", text))


def shape(step: Step) -> list[str]:
    return [part.kind if isinstance(part, Operation) else part.text for part in step.parts]


def test_introduction_stops_at_the_first_step() -> None:
    made = read("# Box\n\nOne.\n\n<!-- not printed -->\nTwo.\n\n## Saw\n\nSaw it.\n\n# Late title\n\nMore.\n")
    assert made.intro == "One.\n\n\nTwo."
    assert [step.title for step in made.steps] == ["Saw"]
    assert shape(made.steps[0]) == ["Saw it.\n\n# Late title\n\nMore."]


def test_headings_of_every_sort() -> None:
    made = read("## Saw ##\n\nSand\n----\n\n  ## Glue <!-- soon -->\n\n### Smaller\n\n> ## Quoted\n\n- ## Listed\n")
    assert [(step.number, step.title) for step in made.steps] == [(1, "Saw"), (2, "Sand"), (3, "Glue")]
    assert [(step.place.line, step.place.column, step.place.length) for step in made.steps] == [
        (1, 4, 3),
        (3, 1, 4),
        (6, 6, 4),
    ]


def test_headings_in_code_do_not_count() -> None:
    made = read("## Saw\n\n```\n## code\n```\n\n~~~saw\nx = '''\n## text\n'''\n~~~\n\n    ## indented\n")
    assert [step.title for step in made.steps] == ["Saw"]
    assert len(made.steps[0].operations) == 1


def test_operations_and_prose_in_turn() -> None:
    made = read("## Saw\n\nA.\n\n```saw\n```\n\n```  Sand  To  LINE\nx = 1\n```\nB.\n\nC.\n")
    (step,) = made.steps
    assert shape(step) == ["A.", "saw", "sand to line", "B.\n\nC."]
    assert [(op.step, op.number) for op in step.operations] == [(1, 1), (1, 2)]
    assert plain(step.operations[1].fields) == {"x": 1}
    second = step.operations[1].place
    assert (second.line, second.column, second.length) == (8, 6, len("Sand  To  LINE"))


def test_places_inside_lists_and_quotations() -> None:
    text = "## Saw\n\n1. One\n\n   ```saw\n   piece = \"blank\"\n   ```\n\n> ~~~~ saw\n>   piece = 'lid'\n> ~~~~\n"
    first, second = read(text).steps[0].operations
    lines = text.split("\n")
    for operation, word in ((first, "blank"), (second, "lid")):
        node = operation.fields.table()["piece"]
        assert lines[node.place.line - 1][node.place.column - 1 :][: node.place.length] == word
        assert lines[node.named_at.line - 1][node.named_at.column - 1 :][:5] == "piece"


def test_places_behind_tabs() -> None:
    text = '## Saw\n\n-\t```saw\n\tpiece = "blank"\n\t```\n'
    (operation,) = read(text).steps[0].operations
    node = operation.fields.table()["piece"]
    assert text.split("\n")[node.place.line - 1][node.place.column - 1 :][: node.place.length] == "blank"


def test_prose_has_exact_places() -> None:
    made = read("## Saw\n\n\n  Keep {wall}.\n\n```saw\n```\n\nThen 3 mm.\n")
    first, second = made.steps[0].prose
    assert (first.place.line, first.text) == (4, "  Keep {wall}.")
    assert (first.mentions[0].place.line, first.mentions[0].place.column) == (4, 9)
    assert (second.lengths[0].place.line, second.lengths[0].place.column) == (9, 6)


def test_comments_alone_are_no_prose() -> None:
    made = read("## Saw\n\n<!-- a\n\nb -->\n\n```saw\n```\n")
    assert not any(isinstance(part, Prose) for part in made.steps[0].parts)
    assert made.findings == []


def test_block_without_info_string_is_prose() -> None:
    made = read("## Saw\n\n```\nx = {\n```\n")
    assert shape(made.steps[0]) == ["```\nx = {\n```"]
    assert made.findings == []


def test_broken_block_leaves_the_others() -> None:
    made = read("## Saw\n\n```saw\nx = \n```\n\n```sand\ny = 1\n```\n")
    assert [finding.code for finding in made.findings] == ["INP08"]
    assert [op.kind for op in made.steps[0].operations] == ["saw", "sand"]


def test_block_that_ends_with_its_quotation_is_not_closed() -> None:
    made = read("## Saw\n\n> ```saw\n> x = 1\n\nText.\n")
    assert [(finding.code, finding.place.line) for finding in made.findings] == [("INP44", 3)]
    assert shape(made.steps[0])[-1] == "Text."


def test_no_step_and_no_title() -> None:
    assert [f.code for f in read("").findings] == ["INP41"]
    assert [f.code for f in read("## \n\nText.\n").findings] == ["INP42"]


def test_names_in_braces_are_not_for_headings() -> None:
    (finding,) = read("## Saw the {drum}\n\nSaw {it}.\n").findings
    assert (finding.code, finding.place.line, finding.place.column) == ("INP45", 1, 4)
