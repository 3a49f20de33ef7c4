"""Every kind of finding of the reader is documented, and its examples are what they say."""

import re
import tomllib
from pathlib import Path

import pytest

from planbook.reader import KINDS, read_design
from planbook.text import Kind

CARD = 'title = "Curlew box"\nversion = "1.0"\nmaker = "Saltmarsh Workshop"\nunits = "mm"\n'
STEPS = "## Saw\n\nSaw it.\n"
WHOLE_TABLES = (
    "INP46",
    "INP47",
    "INP26",
    "INP32",
    "INP33",
    "INP35",
    "INP21",
    "INP20",
    "INP09",
    "INP08",
    "INP37",
    "INP36",
    "INP40",
)
MARKDOWN = ("INP41", "INP42", "INP43", "INP44")


def test_codes_follow_each_other_and_names_are_their_own() -> None:
    assert [kind.code for kind in KINDS] == [f"INP{number:02}" for number in range(1, len(KINDS) + 1)]
    assert len({kind.name for kind in KINDS}) == len(KINDS)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.code)
def test_kind_is_documented(kind: Kind) -> None:
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", kind.name)
    assert kind.what.endswith(".")
    assert kind.why.endswith((".", "?"))
    assert kind.bad
    assert kind.good
    assert kind.bad != kind.good


def codes(folder: Path, toml: str, steps: str) -> set[str]:
    (folder / "design.toml").write_text(toml, "utf-8")
    (folder / "steps.md").write_text(steps, "utf-8")
    return {finding.code for finding in read_design(folder).findings}


@pytest.mark.parametrize("kind", [k for k in KINDS if k.code in WHOLE_TABLES], ids=lambda kind: kind.code)
def test_bad_tables_earn_their_finding_and_good_ones_do_not(kind: Kind, tmp_path: Path) -> None:
    assert kind.code in codes(tmp_path, f"{CARD}{kind.bad}\n", STEPS)
    assert kind.code not in codes(tmp_path, f"{CARD}{kind.good}\n", STEPS)


@pytest.mark.parametrize("kind", [k for k in KINDS if k.code in MARKDOWN], ids=lambda kind: kind.code)
def test_bad_steps_earn_their_finding_and_good_ones_do_not(kind: Kind, tmp_path: Path) -> None:
    assert kind.code in codes(tmp_path, CARD, f"{kind.bad}\n")
    assert kind.code not in codes(tmp_path, CARD, f"{kind.good}\n")


@pytest.mark.parametrize("kind", [k for k in KINDS if 22 <= int(k.code[3:]) <= 31], ids=lambda kind: kind.code)
def test_bad_formulas_earn_their_finding_and_good_ones_do_not(kind: Kind, tmp_path: Path) -> None:
    def design(example: str) -> str:
        table = example if example.startswith("[") else f"[sizes]\n{example}"
        known = {"wall": "12 mm", "gap": "1 mm", "width": "200 mm"}
        written = tomllib.loads(table)["sizes"]
        more = "".join(f'\n{name} = "{value}"' for name, value in known.items() if name not in written)
        disc = '\n[shapes.disc]\nkind = "circle"\nat = ["0 mm", "0 mm"]\nradius = "radius"\n'
        return f"{CARD}{table}{more}{disc if 'radius' in written else ''}\n"

    assert kind.code in codes(tmp_path, design(kind.bad), STEPS)
    assert kind.code not in codes(tmp_path, design(kind.good), STEPS)
