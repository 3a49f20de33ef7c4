"""Price lists as makers write them: what is read, and the finding for each thing that cannot be."""

import re
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from planbook.pipeline import all_kinds, explain
from planbook.takeoff.prices import KINDS, read_price_list, read_prices
from planbook.takeoff.prices.sale import Sale, amount_of, read_sale
from planbook.takeoff.shopping import Bought

CASES = Path(__file__).parents[1] / "cases" / "prices"
_HERE = re.compile(r"(?<!^)# expect ([A-Z]{3}\d\d) ([a-z0-9-]+)")
_AT = re.compile(r"# expect-at (\d+):(\d+) ([A-Z]{3}\d\d) ([a-z0-9-]+)")


def expected(path: Path) -> set[tuple[int, str, str]]:
    lines = path.read_text("utf-8").splitlines()
    here = {(n, m[1], m[2]) for n, line in enumerate(lines, 1) if (m := _HERE.search(line))}
    return here | {(int(m[1]), m[3], m[4]) for line in lines if (m := _AT.match(line))}


@pytest.mark.parametrize("path", sorted(CASES.iterdir()), ids=lambda path: path.name)
def test_case_earns_its_findings_and_no_others(path):
    prices, findings = read_prices(path)
    assert {(f.place.line, f.code, f.name) for f in findings} == expected(path)
    assert (prices is None) == any(f.stops for f in findings)


def test_columns_of_findings_in_csv():
    columns = {
        m[3] + ":" + m[1] + ":" + m[2] for m in map(_AT.match, (CASES / "wrong.csv").read_text().splitlines()) if m
    }
    assert {f"{f.code}:{f.place.line}:{f.place.column}" for f in read_prices(CASES / "wrong.csv")[1]} == columns


def test_what_is_read_from_toml():
    prices, findings = read_prices(CASES / "clean.toml")
    assert findings == ()
    assert prices is not None
    assert (prices.currency, prices.decimals) == ("GBP", 2)
    walnut = prices.of("walnut")
    assert [(row.thickness, row.price) for row in walnut] == [
        (Fraction("25.4"), Decimal("14.50")),
        (Fraction("50.8"), Decimal("16.25")),
    ]
    glue = prices.of("yellow wood glue")[0]
    assert (glue.price, glue.sale) == (Decimal("6.20"), Sale("250 ml", "l", Fraction(1, 4), True))
    assert prices.of("work")[0].price == Decimal("22.5")


def test_what_is_read_from_csv():
    prices, findings = read_prices(CASES / "clean.csv")
    assert findings == ()
    assert prices is not None
    assert prices.currency == "EUR"
    assert [(r.name, r.price, r.thickness) for r in prices.rows] == [
        ("walnut", Decimal("2450.00"), Fraction(27)),
        ("white glue", Decimal("8.90"), None),
        ("p120", Decimal("1.10"), None),
    ]


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.code)
def test_bad_examples_earn_their_finding_and_good_ones_do_not(kind, tmp_path):
    for text, earns in ((kind.bad, True), (kind.good, False)):
        path = tmp_path / "prices.toml"
        path.write_text(text, "utf-8")
        assert (kind.code in {f.code for f in read_prices(path)[1]}) is earns
    assert kind.what.endswith(".")
    assert kind.why.endswith(".")


def test_codes_follow_each_other_and_can_be_explained():
    assert [kind.code for kind in KINDS] == [f"COS{n:02}" for n in range(1, len(KINDS) + 1)]
    assert set(KINDS) <= set(all_kinds())
    assert explain("two-currencies") == explain("COS02")


def test_hints_name_the_nearest():
    hints = {f.code: f.hint for f in read_prices(CASES / "all-at-once.toml")[1]}
    assert hints["COS07"] == "did you mean `walnut`?"
    assert hints["COS05"] == "did you mean `board foot`?"
    assert hints["COS03"] == "write `9.50`"
    assert hints["INP11"] == "did you mean `currency`?"


def test_the_first_of_two_prices_is_shown_too():
    twice = next(f for f in read_prices(CASES / "all-at-once.toml")[1] if f.code == "COS06")
    assert twice.headline == "`hard maple` has a second price per m3"
    assert [(aside.place.line, aside.text) for aside in twice.also] == [(26, "first price")]


def test_supplies_of_a_design_are_known(tmp_path):
    path = tmp_path / "prices.toml"
    path.write_text('currency = "EUR"\n[[item]]\nname = "Brass hinge"\nprice = "2.40"\nper = "piece"\n', "utf-8")
    assert [f.code for f in read_prices(path)[1]] == ["COS07"]
    assert read_prices(path, known=("brass hinge",))[1] == ()


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("missing.toml", None),
        ("latin.csv", b"name,price in EUR,per\nh\xeatre,9.00,m3\n"),
        ("broken.toml", b"currency = EUR\n"),
        ("half.csv", b'name,price in EUR,per\n"beech,9.00,m3\n'),
        ("empty.csv", b""),
        ("empty.toml", b""),
        ("list.toml", b'currency = "EUR"\nitem = ["cherry"]\n'),
        ("table.toml", b'currency = "EUR"\n[item]\nname = "cherry"\n'),
        ("types.toml", b'currency = 12\n[[item]]\nname = true\nprice = ["1"]\nper = "m3"\n'),
        ("huge.toml", b'currency = "EUR"\n[[item]]\nname = "beech"\nprice = "1e999"\nper = "m3"\n'),
        ("infinite.toml", b'currency = "EUR"\n[[item]]\nname = "beech"\nprice = inf\nper = "1/0 l"\n'),
        ("zero.toml", b'currency = "EUR"\n[[item]]\nname = "wood glue"\nprice = "1"\nper = "0 ml"\n'),
        ("heads.csv", b"name,name,cost,per\nbeech,beech,9.00,m3\n"),
    ],
)
def test_whatever_is_wrong_is_a_finding_with_a_place(tmp_path, name, content):
    if content is not None:
        (tmp_path / name).write_bytes(content)
    reading = read_price_list(tmp_path / name)
    assert reading.prices is None
    assert reading.findings
    assert all(finding.place.file.endswith(name) and finding.headline for finding in reading.findings)


@pytest.mark.parametrize(
    ("words", "measure", "size", "whole"),
    [
        ("board foot", "board foot", 1, False),
        ("per m³", "m3", 1, False),
        ("500 ml", "l", Fraction(1, 2), True),
        ("8 fl oz", "l", Fraction("0.236588236500"), True),  # 1 US fl oz = 29.5735295625 ml
        ("gallon", "l", Fraction("3.785411784"), False),  # 231 cubic inches
        ("lb", "kg", Fraction("0.45359237"), False),
        ("pack of 50", "piece", 50, True),
        ("2.5 m2", "m2", Fraction(5, 2), True),
        ("a sheet", "sheet", 1, True),
    ],
)
def test_units_of_sale(words, measure, size, whole):
    found = read_sale(words)
    assert found is not None
    assert (found.measure, found.size, found.whole) == (measure, size, whole)


def test_packs_are_bought_whole():
    half = read_sale("500 ml")
    assert half is not None
    assert [half.times(Fraction(a)) for a in ("0.2", "0.5", "0.500001", "0.6", "1.2")] == [1, 1, 1, 2, 3]


@pytest.mark.parametrize(
    ("size", "count", "feet"),
    [
        ((25.4, 152.4, 2438.4), 1, 4),  # 1 x 6 in x 8 ft
        ((76.2, 203.2, 3048), 1, 20),  # 3 x 8 in x 10 ft
        ((12.7, 152.4, 2438.4), 2, 8),  # thinner than an inch counts as an inch
    ],
)
def test_board_feet_of_a_purchase(size, count, feet):
    # Worked examples of board feet: powershardwoods.com, westcoastlands.net; under one inch: common practice.
    volume = count * size[0] * size[1] * size[2] / 1e9
    assert amount_of(Bought("board", "cherry", "board", count, volume, "m3", size, ()), "board foot") == feet
