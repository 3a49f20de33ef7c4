"""Rows of the maker's own laid over the built-in tables, as values that do not see each other."""

from dataclasses import replace

import pytest

from planbook.handbook import BUILT_IN, Glue, Handbook, Rate, Wood, cautions_for, glue, rate, wood
from planbook.handbook.loader import plain

OWN = {"source": "weighed in our own shop", "standing": "the maker's own"}


def bog_oak(**more: object) -> Wood:
    values = {"latin": "", "group": "hardwood", "gravity_12": 0.62, "tint": "#4a3b2e", "figure": "plain", **OWN, **more}
    return Wood(name="bog oak", **values)  # type: ignore[arg-type]


def test_the_built_in_view_is_what_the_functions_give() -> None:
    assert BUILT_IN.wood("red oak") is wood("red oak")
    assert BUILT_IN.glue("PVA") is glue("PVA")
    assert BUILT_IN.rate("saw") is rate("saw")


def test_an_own_row_is_added() -> None:
    book = Handbook((bog_oak(aliases=("fen oak",)),))
    found = book.wood("Fen-Oak")
    assert found is not None
    # Wood Handbook Eq. 4-14: 1000 G (1 + M/100).
    assert found.density_12 == pytest.approx(1000 * 0.62 * 1.12)
    assert "fen oak" in book.names(Wood)
    assert book.wood("red oak") is wood("red oak")


def test_an_own_row_replaces_a_built_in_one_and_keeps_its_other_names() -> None:
    built_in = wood("black cherry")
    assert built_in is not None
    assert built_in.aliases
    book = Handbook((replace(built_in, gravity_12=0.4, aliases=(), source="our own", standing="the maker's own"),))
    for name in ("black cherry", *built_in.aliases):
        found = book.wood(name)
        assert found is not None
        assert found.source == "our own"
    assert len(book.rows(Wood)) == len(BUILT_IN.rows(Wood))


def test_an_own_name_comes_before_another_name_of_a_built_in_row() -> None:
    built_in = glue("PVA")
    assert built_in is not None
    assert plain(built_in.name) != "pva"
    own = replace(built_in, name="PVA", aliases=(), cure_minutes=99.0)
    book = Handbook((own,))
    assert book.glue("pva") is own
    assert book.glue(built_in.name) is built_in


def test_two_handbooks_do_not_see_each_other() -> None:
    one, two = Handbook((bog_oak(),)), Handbook((bog_oak(gravity_12=0.7),))
    first, second = one.wood("bog oak"), two.wood("bog oak")
    assert first is not None
    assert second is not None
    assert (first.gravity_12, second.gravity_12) == (0.62, 0.7)
    assert wood("bog oak") is None
    assert BUILT_IN.wood("bog oak") is None


def test_the_dust_of_an_own_wood_is_warned_of_where_it_is_used() -> None:
    row = bog_oak(dust="can irritate the nose", dust_site=("the nose",), dust_source="our own noses")
    found = cautions_for(woods=["bog oak"], book=Handbook((row,)))
    assert any("can irritate the nose" in caution.text for caution in found)
    assert not any("bog oak" in caution.text for caution in cautions_for(woods=["bog oak"]))


def test_equal_rows_make_equal_handbooks() -> None:
    assert Handbook((bog_oak(),)) == Handbook((bog_oak(),))
    assert hash(Handbook((bog_oak(),))) == hash(Handbook((bog_oak(),)))


def test_an_own_rate_is_used_for_its_operation() -> None:
    row = rate("saw")
    assert row is not None
    book = Handbook((replace(row, setup_minutes=1.0, unit_minutes=2.0),))
    found = book.rate("saw")
    assert isinstance(found, Rate)
    assert found.minutes(3) == 7.0
    assert book.rows(Glue) == BUILT_IN.rows(Glue)
