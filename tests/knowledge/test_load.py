"""The tables as shipped, and a shop's own figures over them."""

from __future__ import annotations

import dataclasses
from pathlib import Path

import pytest

from sashwright.knowledge.load import load
from sashwright.knowledge.tables import ROWS, Knowledge, KnowledgeError, Moulding, Row


@pytest.fixture(scope="module")
def shipped() -> Knowledge:
    return load()


def rows(knowledge: Knowledge) -> list[tuple[str, Row]]:
    return [(table, row) for table in ROWS for row in getattr(knowledge, table).values()]


def shop_file(folder: Path, text: str) -> Path:
    file = folder / "shop.toml"
    file.write_text(text, encoding="utf-8")
    return file


def refusal(file: Path) -> str:
    with pytest.raises(KnowledgeError) as refused:
        load(file)
    return str(refused.value)


def test_every_table_has_rows_and_is_read_once(shipped: Knowledge) -> None:
    assert {table for table, _ in rows(shipped)} == set(ROWS)
    assert {field.name for field in dataclasses.fields(Knowledge)} == set(ROWS)
    assert load() is shipped


def test_every_row_says_where_it_comes_from(shipped: Knowledge) -> None:
    for table, row in rows(shipped):
        assert len(row.source) > 5, (table, row.key)
        assert row.status in {"published", "common practice", "from memory"}, (table, row.key)


def test_no_word_names_two_rows(shipped: Knowledge) -> None:
    for table in ROWS:
        words = [
            word
            for row in getattr(shipped, table).values()
            for word in {word.casefold() for word in (row.key, row.name, *row.aliases)}
        ]
        assert sorted(words) == sorted(set(words)), table


def test_weights_name_materials_that_exist(shipped: Knowledge) -> None:
    assert {s.material for s in shipped.weight_stock.values()} == set(shipped.weight_material)


def test_every_cord_has_a_pulley_large_enough(shipped: Knowledge) -> None:
    for cord in shipped.suspension.values():
        wheels = [p.wheel_diameter for p in shipped.pulley.values() if cord.kind in p.for_kinds]
        assert max(wheels) >= cord.min_wheel, cord.key


def test_biases_press_shut(shipped: Knowledge) -> None:
    for bias in shipped.bias.values():
        assert bias.upper_each == -bias.lower_each >= 0
    # Each 1/4 lb, so that the pair is 1/2 lb.
    assert shipped.bias["pair-half-pound"].upper_each == 0.25 * 0.45359237
    assert shipped.bias["each-quarter-kilo-to-half"].upper_each == 0.375


def test_columns_come_in_as_si(shipped: Knowledge) -> None:
    pine = shipped.wood["eastern-white-pine"]
    assert pine.shrinkage_tangential == 0.061
    assert pine.modulus_elasticity == 8.55e9
    assert shipped.pulley["plain-2-1-4"].wheel_diameter == 2.25 * 0.0254
    assert shipped.suspension["cotton-8"].mass_per_length == 0.028
    # 90 lbf is 400.34 N.
    assert shipped.suspension["cotton-8"].working_load == pytest.approx(400.34, abs=0.005)
    assert shipped.suspension["tape-bronze"].breaking_load is None
    assert shipped.pulley["ball-bearing-2"].for_kinds == ("cord", "chain")


def test_rows_are_found_by_key_name_or_alias(shipped: Knowledge) -> None:
    assert shipped.find("wood", "heart pine") is shipped.wood["longleaf-pine"]
    assert shipped.find("wood", "Western Redcedar") is shipped.wood["western-redcedar"]
    assert shipped.find("glass", "double-strength") is shipped.glass["double-strength"]


def test_what_is_not_found_is_asked_back(shipped: Knowledge) -> None:
    with pytest.raises(KnowledgeError, match="did you mean 'ponderosa-pine'"):
        shipped.find("wood", "ponderosa")
    with pytest.raises(KnowledgeError, match="did you mean 'glass'"):
        shipped.find("glas", "double-strength")
    with pytest.raises(KnowledgeError, match="expected a row of the table putty: linseed"):
        shipped.find("putty", "???")


def test_a_shop_changes_one_figure(shipped: Knowledge, tmp_path: Path) -> None:
    file = shop_file(
        tmp_path,
        """
        [wood.longleaf-pine]
        specific_gravity_green = 0.58
        source = "weighed in the shop, salvaged beams"
        """,
    )
    ours = load(file)
    pine, theirs = ours.wood["longleaf-pine"], shipped.wood["longleaf-pine"]
    assert pine.specific_gravity_green == 0.58
    assert pine.status == "shop"
    assert pine.source == "weighed in the shop, salvaged beams"
    assert pine.movement_tangential == theirs.movement_tangential
    assert theirs.status == "published"
    assert shipped.wood["longleaf-pine"] is load().wood["longleaf-pine"]


def test_a_shop_adds_rows_in_its_own_units(tmp_path: Path) -> None:
    file = shop_file(
        tmp_path,
        """
        [glass.parlor]
        name = "Old glass of the parlor"
        kind = "old sheet"
        nominal = "about 3/32"
        thickness_in = "3/32"
        thickness_min_mm = 2.1
        thickness_tolerance_mm = 0.3
        mass_per_area_kg_m2 = 6.0
        source = "measured, twelve panes"
        status = "common practice"

        [moulding.ours]
        name = "Traced from no. 12"
        points = [[0, 0, 0.4142], [1, 1, 0]]
        source = "traced"

        [pulley.house-12]
        name = "Pulleys of no. 12"
        wheel_diameter_in = 1.875
        axle_diameter_mm = 7
        friction_coefficient = 0.3
        face_standoff_in = "5/16"
        for_kinds = ["cord", "chain"]
        source = "measured"
        """,
    )
    ours = load(file)
    assert ours.glass["parlor"].thickness == 0.00238125
    assert ours.glass["parlor"].status == "common practice"
    assert ours.moulding["ours"].points == ((0.0, 0.0, 0.4142), (1.0, 1.0, 0.0))
    assert ours.pulley["house-12"].axle_diameter == 0.007
    assert ours.pulley["house-12"].for_kinds == ("cord", "chain")


def test_later_files_win(tmp_path: Path) -> None:
    first, second = tmp_path / "a.toml", tmp_path / "b.toml"
    for file, density in ((first, 1900), (second, 2000)):
        file.write_text(
            f'[putty.linseed-oil-putty]\ndensity_kg_m3 = {density}\nsource = "weighed"\n',
            encoding="utf-8",
        )
    assert load(first, second).putty["linseed-oil-putty"].density == 2000


def test_all_mistakes_are_told_at_once(tmp_path: Path) -> None:
    told = refusal(
        shop_file(
            tmp_path,
            """
            [glass.double-strength]
            thickness = 0.003

            [putty.linseed-oil-putty]
            density_kg_m3 = "heavy"
            source = "guess"

            [wood.white-oak]
            modulus_elastisity_gpa = 12
            source = "guess"

            [wod.white-oak]
            source = "guess"

            [suspension.rope]
            name = "Rope"
            kind = "rope"
            width_mm = 6
            width_in = 0.25
            source = "guess"
            """,
        )
    )
    assert len(told.splitlines()) > 5
    for part in (
        "[glass.double-strength], thickness: found no unit, expected thickness_mm or thickness_in",
        "[glass.double-strength], source: found nothing, expected a text",
        "density_kg_m3: found 'heavy', expected a number, as density_kg_m3",
        "modulus_elastisity_gpa: found no such field, expected one such as modulus_elasticity_gpa",
        "[wod]: expected one of the tables wood, glass",
        "[suspension.rope], kind: found 'rope', expected one of cord, chain, tape",
        "[suspension.rope], width_in: found width twice",
        "[suspension.rope], working_load_n: found nothing",
    ):
        assert part in told
    assert all(line.startswith(str(tmp_path)) for line in told.splitlines())


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ('[glass.double-strength]\nthickness_mm = 4\nsource = "x"', "give both together"),
        ('[glass.double-strength]\nthickness_min_mm = 9\nsource = "x"', "least thickness"),
        ('[glass.double-strength]\nthickness_mm = "1/8 in"\nsource = "x"', "the unit already"),
        ('[glass.double-strength]\nthickness_mm = -3\nsource = "x"', "less than zero"),
        ('[glass.double-strength]\nkind = "window"\nsource = "x"', "expected one of clear float"),
        ('[putty.linseed-oil-putty]\ndensity_kg_m3 = nan\nsource = "x"', "finite"),
        ('[putty.linseed-oil-putty]\ndensity_kg_m3 = true\nsource = "x"', "not a number"),
        ('[weight_material.lead]\npreference = 1.5\nsource = "x"', "whole"),
        ('[weatherstrip.felt]\ndrag_n_m = 60\nsource = "x"', "rising order"),
        ('[weatherstrip.felt]\nlife_years_low = 60\nsource = "x"', "shorter first"),
        ('[weatherstrip.felt]\nplaces = "roof"\nsource = "x"', "separated by semicolons"),
        ('[weatherstrip.felt]\nplaces = 3\nsource = "x"', "list of words"),
        ('[moulding.ovolo]\npoints = "0 0; 1 1"\nsource = "x"', "u, v and bulge"),
        ('[moulding.ovolo]\npoints = 3\nsource = "x"', "list of points"),
        ('[putty.linseed-oil-putty]\nname = 3\nsource = "x"', "not a text"),
        ("[putty]\nlinseed = 3", "expected rows like [putty.my-own]"),
        ("putty = 3", "expected rows like [putty.my-own]"),
        ("[putty", "no readable TOML file"),
    ],
)
def test_each_mistake_says_what_was_expected(tmp_path: Path, text: str, told: str) -> None:
    assert told in refusal(shop_file(tmp_path, text))


def test_a_missing_shop_file_is_told(tmp_path: Path) -> None:
    assert "no readable TOML file" in refusal(tmp_path / "nowhere.toml")


def moulding(*points: tuple[float, float, float]) -> Moulding:
    return Moulding(key="x", name="x", source="test", status="shop", points=points)


QUARTER = 0.41421356


def test_a_positive_bulge_swells_into_the_light() -> None:
    """A quarter round stands in front of its chord, so it sets back less than a bevel."""
    from sashwright.window.profile import Profile

    def removed(shape: Moulding) -> float:
        return Profile(0.035, 0.0, 0.0, 0.01, 0.01, shape.points).removed

    bevel = removed(moulding((0, 0, 0), (1, 1, 0)))
    swelling = removed(moulding((0, 0, QUARTER), (1, 1, 0)))
    hollow = removed(moulding((0, 0, -QUARTER), (1, 1, 0)))
    assert swelling < bevel < hollow


@pytest.mark.parametrize(
    "points",
    [
        ((0.0, 0.1, 0.0), (1.0, 1.0, 0.0)),
        ((0.0, 0.0, 0.0), (0.9, 1.0, 0.0)),
        ((0.0, 0.0, 0.0),),
        ((0.0, 0.0, 0.0), (0.5, 1.2, 0.0), (1.0, 1.0, 0.0)),
        ((0.0, 0.0, 0.0), (0.6, 0.5, 0.0), (0.4, 0.6, 0.0), (1.0, 1.0, 0.0)),
        # A half circle on this chord would dive behind the nose.
        ((0.0, 0.0, 1.0), (1.0, 1.0, 0.0)),
    ],
)
def test_mouldings_that_cannot_be_cut(points: tuple[tuple[float, float, float], ...]) -> None:
    with pytest.raises(KnowledgeError, match="expected"):
        moulding(*points)
