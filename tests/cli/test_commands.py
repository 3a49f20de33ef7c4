"""Commands: exit statuses, where output goes, and one clean sentence for what cannot be done."""

import json
import tomllib

import jsonschema
import pytest

from planbook.cli.program import program


def test_a_clean_design_ends_with_status_0(command, pipeline, design):
    ran = command("check", design)
    assert (ran.status, ran.out, ran.err) == (0, f"{design}: nothing to mend\n", "")


def test_an_error_ends_with_status_1_and_is_shown_with_its_place(command, pipeline, design):
    pipeline.error()
    ran = command("check", design)
    assert ran.status == 1
    assert "error[FLO02] piece-already-used: step 9 takes `left cheek`" in ran.out
    assert "2 | two words" in ran.out
    assert "^^^^^ gone" in ran.out
    assert ran.out.endswith(f"\n{design}: 1 error\n")
    assert ran.err == ""


def test_a_warning_does_not_stop_anything(command, pipeline, design):
    pipeline.warning()
    ran = command("check", design)
    assert ran.status == 0
    assert "warning[SUP04]" in ran.out


def test_one_line_for_each_finding_and_the_rest_aside(command, pipeline, design):
    pipeline.error()
    pipeline.warning()
    ran = command("check", "--format", "lines", design)
    assert ran.out.splitlines() == [
        "steps.md:2:5: error FLO02 piece-already-used: step 9 takes `left cheek`",
        "steps.md:1:1: warning SUP04 tool-never-used: `rasp` is never used",
    ]
    assert ran.err == f"{design}: 1 error, 1 warning\n"


def test_json_is_one_list_for_all_designs(command, pipeline, design, tmp_path):
    pipeline.error()
    other = tmp_path / "shelf"
    other.mkdir()
    ran = command("check", "--format", "json", design, other)
    assert ran.status == 1
    assert [finding["code"] for finding in json.loads(ran.out)] == ["FLO02", "FLO02"]


def test_quiet_prints_findings_and_nothing_else(command, pipeline, design):
    assert command("check", "--quiet", design).out == ""
    pipeline.warning()
    assert "never used" in command("check", "--quiet", design).out
    assert str(design) not in command("check", "--quiet", design).out


def test_every_design_is_checked_even_after_one_with_errors(command, pipeline, design, tmp_path):
    other = tmp_path / "shelf"
    other.mkdir()
    pipeline.error()
    command("check", design, other, design)
    assert pipeline.asked == [("check", design), ("check", other)]


@pytest.mark.parametrize("name", ["design.toml", "steps.md"])
def test_a_file_of_a_design_stands_for_its_folder(command, pipeline, design, name):
    (design / name).touch()
    assert command("check", design / name).status == 0
    assert pipeline.asked == [("check", design)]


def test_a_design_that_is_not_there_is_refused(command, pipeline, tmp_path):
    ran = command("check", tmp_path / "nowhere")
    assert (ran.status, ran.out) == (2, "")
    assert ran.err == f"planbook: `{tmp_path / 'nowhere'}` does not exist\n"
    assert pipeline.asked == []


def test_a_file_that_is_no_design_is_refused(command, pipeline, tmp_path):
    (tmp_path / "notes.txt").touch()
    ran = command("check", tmp_path / "notes.txt")
    assert ran.status == 2
    assert ran.err.endswith("notes.txt` is not the folder of a design\n")


def test_a_name_that_no_folder_can_have_is_refused(command, pipeline):
    ran = command("check", "x" * 5000)
    assert ran.status == 2
    assert ran.err.startswith("planbook: ")
    assert ran.err.count("\n") == 1


@pytest.mark.parametrize("args", [("check",), ("build",), ("nonsense",), ("check", "--format", "xml", "x")])
def test_wrong_usage_has_status_2(command, pipeline, args):
    ran = command(*args)
    assert ran.status == 2
    assert "Error: " in ran.err
    assert "Traceback" not in ran.err


def test_ctrl_c_is_one_word(command, pipeline, design):
    pipeline.raises = KeyboardInterrupt()
    ran = command("check", design)
    assert ran.status == 130
    assert ran.err.strip() == "planbook: stopped"


def test_a_fault_of_the_program_says_so_without_a_traceback(command, pipeline, design, monkeypatch):
    monkeypatch.delenv("PLANBOOK_TRACE", raising=False)
    pipeline.raises = ZeroDivisionError("one\nby none")
    ran = command("check", design)
    assert ran.status == 3
    assert "(ZeroDivisionError: one by none)" in ran.err
    assert ran.err.count("\n") == 1


def test_a_fault_can_be_traced(command, pipeline, design, monkeypatch):
    monkeypatch.setenv("PLANBOOK_TRACE", "1")
    pipeline.raises = ZeroDivisionError("by none")
    with pytest.raises(ZeroDivisionError):
        command("check", design)


def test_names_that_are_no_unicode_are_printed_all_the_same(command, pipeline, design):
    pipeline.error("step 9 takes `\udce9`")
    assert command("check", "--format", "json", design).status == 1
    assert command("check", "--format", "lines", design).status == 1


def test_version_and_help(command):
    assert command("--version").out == "planbook 0.1.0\n"
    ran = command("--help")
    assert ran.status == 0
    assert all(name in ran.out for name in ("new", "check", "build", "explain"))


@pytest.mark.parametrize("name", sorted(program.commands))
def test_every_command_and_option_has_help(name):
    made = program.commands[name]
    assert made.help
    assert made.short_help
    assert all(getattr(param, "help", None) for param in made.params if param.param_type_name == "option")


def test_explain_shows_a_kind_with_its_examples(command, pipeline):
    ran = command("explain", "FLO02")
    assert ran.status == 0
    assert ran.out == (
        "FLO02 piece-already-used (error)\n\nA piece is used twice.\n\nIt is gone.\n\n"
        "Not so:\n\n    bad\n\nBut so:\n\n    good\n"
    )


def test_explain_lists_all_kinds(command, pipeline):
    assert command("explain").out.splitlines() == [
        "FLO02  error    piece-already-used",
        "SUP04  warning  tool-never-used",
    ]


def test_explain_of_an_unknown_code_suggests_near_ones(command, pipeline):
    ran = command("explain", "FLO03")
    assert ran.status == 2
    assert ran.err == "planbook: there is no finding called `FLO03`; did you mean `FLO02`?\n"


def test_explain_of_something_else_suggests_nothing(command, pipeline):
    assert command("explain", "zzzzzz").err == "planbook: there is no finding called `zzzzzz`\n"


def test_new_copies_a_design_into_a_new_folder(command, tmp_path):
    folder = tmp_path / "plans" / "box"
    ran = command("new", folder)
    assert ran.status == 0
    written = ["design.schema.json", "design.toml", "handbook.schema.json", "language.schema.json", "steps.md"]
    assert sorted(path.name for path in folder.iterdir()) == written
    schema = json.loads((folder / "design.schema.json").read_text("utf-8"))
    jsonschema.Draft202012Validator(schema).validate(tomllib.loads((folder / "design.toml").read_text("utf-8")))
    assert ran.out.splitlines()[-1] == f"Now try: planbook check {folder}"
    assert command("new", "--quiet", tmp_path / "other").out == ""


def test_new_takes_an_empty_folder_that_is_there(command, tmp_path):
    assert command("new", tmp_path).status == 0


def test_new_refuses_a_folder_that_is_not_empty(command, tmp_path):
    (tmp_path / "mine.txt").write_text("mine")
    ran = command("new", tmp_path)
    assert (ran.status, ran.err) == (2, f"planbook: `{tmp_path}` is not empty; nothing was written\n")
    assert [path.name for path in tmp_path.iterdir()] == ["mine.txt"]


def test_new_refuses_a_file(command, tmp_path):
    (tmp_path / "file").touch()
    assert "is a file" in command("new", tmp_path / "file").err
    ran = command("new", tmp_path / "file" / "below")
    assert ran.status == 2
    assert "cannot be written" in ran.err
    assert ran.err.count("\n") == 1


def test_new_refuses_a_name_that_no_folder_can_have(command):
    ran = command("new", "x" * 5000)
    assert (ran.status, ran.err.count("\n")) == (2, 1)
    assert "name too long" in ran.err


def test_the_starting_design_has_nothing_to_mend(command, tmp_path):
    command("new", tmp_path / "block")
    ran = command("check", tmp_path / "block")
    assert (ran.status, ran.out) == (0, f"{tmp_path / 'block'}: nothing to mend\n")


def test_the_starting_design_broken_is_reported_with_its_place(command, tmp_path):
    command("new", "--quiet", tmp_path / "block")
    steps = tmp_path / "block" / "steps.md"
    steps.write_text(steps.read_text().replace('pieces = ["offcut"]', 'pieces = ["offcuts"]'))
    ran = command("check", "--format", "lines", "--quiet", tmp_path / "block")
    assert ran.status == 1
    assert ran.out.startswith(f"{steps.as_posix()}:")
    assert "`offcuts`" in ran.out
