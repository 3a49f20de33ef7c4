"""The table of woods against the printed tables, and what pictures need of it."""

import itertools

import pytest

from planbook.handbook import FIGURES, Wood, names, wood, woods

# Wood Handbook, USDA FPL-GTR-190 (2010): Tables 4-3 and 4-4 (shrinkage radial, tangential, volumetric),
# Tables 5-3b and 5-5b (gravity green, at 12 %), Table 13-5 (coefficients radial, tangential), or None.
PRINTED = {
    "red alder": (4.4, 7.3, 12.6, 0.37, 0.41, 0.00151, 0.00256),
    "white ash": (4.9, 7.8, 13.3, 0.55, 0.60, 0.00169, 0.00274),
    "beech": (5.5, 11.9, 17.2, 0.56, 0.64, 0.00190, 0.00431),
    "yellow birch": (7.3, 9.5, 16.8, 0.55, 0.62, 0.00256, 0.00338),
    "black cherry": (3.7, 7.1, 11.5, 0.47, 0.50, 0.00126, 0.00248),
    "sugar maple": (4.8, 9.9, 14.7, 0.56, 0.63, 0.00165, 0.00353),
    "northern red oak": (4.0, 8.6, 13.7, 0.56, 0.63, 0.00158, 0.00369),
    "white oak": (5.6, 10.5, 16.3, 0.60, 0.68, 0.00180, 0.00365),
    "sycamore": (5.0, 8.4, 14.1, 0.46, 0.49, 0.00172, 0.00296),
    "black walnut": (5.5, 7.8, 12.8, 0.51, 0.55, 0.00190, 0.00274),
    "western red cedar": (2.4, 5.0, 6.8, 0.31, 0.32, None, None),
    "longleaf pine": (5.1, 7.5, 12.2, 0.54, 0.59, None, None),
    "afrormosia": (3.0, 6.4, 10.7, 0.61, None, None, None),
}


@pytest.mark.parametrize("name", PRINTED)
def test_rows_are_as_printed(name: str) -> None:
    row = wood(name)
    assert row is not None
    assert row.standing == "published"
    assert PRINTED[name] == (
        row.shrink_radial,
        row.shrink_tangential,
        row.shrink_volumetric,
        row.gravity_green,
        row.gravity_12,
        row.change_radial,
        row.change_tangential,
    )


def test_there_are_woods_enough_and_sheets() -> None:
    groups = [row.group for row in woods().values()]
    assert groups.count("hardwood") + groups.count("softwood") >= 40
    assert {row.name for row in woods().values() if row.group == "sheet"} >= {
        "birch plywood",
        "mdf",
        "hardboard",
    }


def test_a_wood_is_found_however_it_is_written() -> None:
    found = [wood(name) for name in ("Yellow-Poplar", "yellow poplar", "tulip_poplar", "  poplar ")]
    assert found == [woods()["yellow poplar"]] * 4


@pytest.mark.parametrize("name", ["", "oakk", "unobtainium", "x" * 10_000])
def test_an_unknown_wood_is_none(name: str) -> None:
    assert wood(name) is None


def test_names_hold_aliases_for_suggestions() -> None:
    assert {"walnut", "black walnut", "mdf"} <= set(names(Wood))
    assert all(wood(name) is not None for name in names(Wood))


def test_shrinkage_is_ordered_as_wood_shrinks() -> None:
    for row in woods().values():
        if row.shrink_radial is None or row.shrink_tangential is None or row.shrink_volumetric is None:
            continue
        assert 0 < row.shrink_radial < row.shrink_tangential < row.shrink_volumetric, row.name


def test_every_wood_can_be_weighed() -> None:
    weights = {name: row.density_12 for name, row in woods().items()}
    assert weights["hard maple"] == pytest.approx(0.63 * 1000 * 1.12)
    # Afrormosia has no gravity at 12 %, so it is 0.61 / (1 - 0.107 x 0.6) by Eq. 4-11.
    assert weights["afrormosia"] == pytest.approx(0.61 / (1 - 0.107 * 0.6) * 1120)
    assert min(weights, key=lambda name: weights[name]) == "balsa"
    assert all(100 < weight < 1300 for weight in weights.values())


def test_a_wood_without_gravity_says_so() -> None:
    row = Wood(
        name="x",
        source="s",
        standing="from memory",
        latin="",
        group="hardwood",
        tint="#ffffff",
        figure="plain",
    )
    with pytest.raises(ValueError, match="no specific gravity"):
        _ = row.density_12
    assert row.coefficient_radial is None


def test_the_coefficient_is_the_tabulated_one_where_there_is_one() -> None:
    oak, cedar = woods()["red oak"], woods()["western red cedar"]
    assert oak.coefficient_tangential == 0.00369
    assert cedar.coefficient_tangential == pytest.approx(1 / (3000 / 5.0 - 20))


def test_remembered_fields_exist_and_have_values() -> None:
    for row in woods().values():
        assert all(getattr(row, field) is not None for field in row.remembered), row.name


def test_dust_is_whole_or_absent() -> None:
    for row in woods().values():
        facts = (row.dust, row.dust_site, row.dust_potency, row.dust_source)
        assert all(facts) or not any(facts), row.name
    # Chart of wood reactions, American Woodturner, June 1990.
    assert woods()["rosewood"].dust_potency == "++++"
    assert woods()["purpleheart"].dust_site == ("the whole body",)


def _lightness(tint: str) -> float:
    """CIE L* of a hex colour."""
    parts = [int(tint[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    luminance = 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
    return 116 * luminance ** (1 / 3) - 16


def test_tints_are_distinct_and_black_lines_show_on_all_of_them() -> None:
    tints = [row.tint for row in woods().values()]
    assert len(set(tints)) == len(tints)
    assert all(_lightness(tint) > 38 for tint in tints)
    assert {row.figure for row in woods().values()} <= set(FIGURES)


def test_woods_often_used_together_differ_in_lightness() -> None:
    ladder = [_lightness(woods()[name].tint) for name in ("hard maple", "white oak", "cherry", "walnut")]
    assert all(light - dark > 12 for light, dark in itertools.pairwise(ladder))
