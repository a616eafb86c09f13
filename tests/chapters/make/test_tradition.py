"""A new window from its opening: everything adds up, nothing leaves its range without a word."""

from __future__ import annotations

import contextlib
import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sashwright.chapters.make.tradition import (
    Given,
    Opening,
    Place,
    Proposal,
    check,
    check_new,
    house_document,
    house_of,
    propose,
    with_new,
)
from sashwright.chapters.make.tradition.sizes import NAMES
from sashwright.knowledge.load import load
from sashwright.knowledge.tables import Knowledge, KnowledgeError
from sashwright.window.check import house_from
from sashwright.window.outlines.frame_edges import FrameEdges
from sashwright.window.spec import Lites

KNOWLEDGE = load()
INCH = 0.0254
KEYS = tuple(KNOWLEDGE.tradition)
WITHIN = 0.01
"""[mm]"""
ROUGH = Opening("rough", 38 * INCH, 66 * INCH)


@st.composite
def openings(draw: Any) -> Opening:
    kind = draw(st.sampled_from(("rough", "masonry", "sash")))
    width, height = (draw(st.integers(*ends)) * INCH / 16 for ends in ((500, 960), (650, 1700)))
    share = draw(st.sampled_from((0.0, 0.0, 0.1, 0.25, 0.5)))
    box = draw(st.sampled_from((None, "behind", "within")))
    return Opening(kind, width, height, share * width, None, box)


def total(pieces: list[dict[str, Any]]) -> float:
    return float(sum(piece["mm"] for piece in pieces))


def findings(proposal: Proposal, level: str, on: str = "") -> list[str]:
    return [f.says for f in proposal.answer.findings if f.level == level and f.on.startswith(on)]


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(openings(), st.sampled_from(KEYS), st.sampled_from(("us", "metric")))
def test_it_adds_up_and_stays_within_bounds(opening: Opening, key: str, system: Any) -> None:
    if opening.rise > 0.2 * opening.width and opening.height < 1.6 * opening.width:
        # A deep arch may leave no room between its springing and the meeting rails.
        with contextlib.suppress(ValueError):
            propose(opening, key, KNOWLEDGE, system=system)
        return
    proposal = propose(opening, key, KNOWLEDGE, system=system)
    values, built = proposal.answer.values, proposal.built
    # All the way from one edge of the opening to the other, and through the sash.
    assert total(values["across"]) == pytest.approx(opening.width * 1000, abs=WITHIN)
    assert total(values["up"]) == pytest.approx(opening.height * 1000, abs=WITHIN)
    sash = values["sash_opening"]
    assert total(values["sash_across"]) == pytest.approx(sash["width_mm"], abs=WITHIN)
    assert total(values["sash_up"]) == pytest.approx(sash["height_mm"], abs=WITHIN)
    # The house file says the same, and is valid as a whole.
    house = house_from(house_document(proposal, "A", system), KNOWLEDGE)
    assert house.windows[0] == proposal.window
    assert house.families == {"A": proposal.family}
    # Lites keep to their bounds, or it is said that they do not.
    usual = values["lites"]["usual"]
    if not usual["low"] <= built.ratio <= usual["high"]:
        assert findings(proposal, "caution", "upper.lites")
    # So do all sizes; what is drawn in, or widened for weights, is told.
    for name in NAMES:
        row = built.sizes.rows[name]
        assert not built.sizes.outside(name) or any(
            row.name.partition(",")[0] in says for says in findings(proposal, "note")
        ), name


@pytest.mark.parametrize("key", KEYS)
def test_the_sill_is_where_the_frame_has_it(key: str) -> None:
    proposal = propose(ROUGH, key, KNOWLEDGE)
    edges = FrameEdges(proposal.built.layout)
    sizes = {piece["part"]: piece["mm"] for piece in proposal.answer.values["up"]}
    assert sizes["sill"] == pytest.approx(edges.sill_drop * 1000, abs=WITHIN)
    assert sizes["fall of the sill"] == pytest.approx(
        -edges.sill_height(edges.blind_out) * 1000, abs=WITHIN
    )
    beside = {piece["part"]: piece["mm"] for piece in proposal.answer.values["across"]}
    reach = beside["weight pocket"] + beside["pulley stile"]
    assert reach == pytest.approx(edges.pocket_far * 1000, abs=WITHIN)


def test_both_arches_have_one_centre() -> None:
    opening = Opening("masonry", 42 * INCH, 78 * INCH, 6 * INCH)
    proposal = propose(opening, "us-1860", KNOWLEDGE)
    arc = proposal.built.layout.head_arc
    assert arc is not None
    radius = (opening.width**2 / 4 + opening.rise**2) / (2 * opening.rise)
    above = proposal.answer.values["up"][-1]["mm"] / 1000
    # The rise is rounded to a thousandth of a millimetre.
    assert arc.radius == pytest.approx(radius - above, abs=1e-5)
    full = propose(replace(opening, rise=opening.width / 2), "us-1860", KNOWLEDGE)
    assert full.window.head.shape == "full arch"
    square = propose(replace(opening, rise=0.0), "us-1860", KNOWLEDGE)
    assert square.window.head.shape == "square"


def test_an_arch_that_the_tradition_has_not_is_told() -> None:
    arched = replace(ROUGH, rise=4 * INCH)
    assert any(
        "square" in says for says in findings(propose(arched, "bungalow", KNOWLEDGE), "note")
    )
    federal = propose(arched, "federal", KNOWLEDGE)
    assert not any("head follows" in says for says in findings(federal, "note"))


def test_lites_are_alike_where_the_sash_differ_in_rows() -> None:
    asked = Given(upper=Lites(columns=4, rows=3), lower=Lites(columns=4, rows=2))
    layout = propose(ROUGH, "georgian", KNOWLEDGE, given=asked).built.layout
    heights = [top - bottom for sash in (layout.upper, layout.lower) for bottom, top in sash.rows]
    assert len(heights) == 5
    # The meeting rails stand at a sixteenth of an inch, shared by two or three lites.
    assert max(heights) - min(heights) <= INCH / 16


def test_nearer_to_the_usual_proportion_and_no_further_than_the_range() -> None:
    proposal = propose(Opening("rough", 36 * INCH, 66 * INCH), "greek-revival", KNOWLEDGE)
    lites, sizes = proposal.answer.values["lites"], proposal.built.sizes
    usual = lites["usual"]["usual"]
    assert lites["ratio_with_usual_sizes"] > lites["ratio"] > usual
    assert sizes["stile"] == sizes.rows["stile"].low
    assert sizes["bottom-rail"] == sizes.rows["bottom-rail"].high
    gave = [says for says in findings(proposal, "note") if "gives way" in says]
    assert [says.partition(" ")[0] for says in gave] == ["Stile", "Bottom"]
    # Where the lites come out as they should be, nothing gives way.
    easy = propose(ROUGH, "us-1860", KNOWLEDGE)
    assert abs(math.log(easy.built.ratio / easy.answer.values["lites"]["usual"]["usual"])) < 0.02
    assert easy.built.sizes["stile"] == easy.built.sizes.rows["stile"].usual


def test_what_is_asked_for_is_kept_and_told() -> None:
    asked = Given({"muntin": 1.5 * INCH, "stile": 2.25 * INCH}, Lites(columns=2, rows=2))
    proposal = propose(ROUGH, "greek-revival", KNOWLEDGE, given=asked, wood="mahogany")
    sash = proposal.family.sash
    assert (sash.muntin, sash.stile, sash.wood) == (1.5 * INCH, 2.25 * INCH, "mahogany")
    assert sash.lites == Lites(columns=2, rows=2)
    notes = findings(proposal, "note")
    assert any("asked for, which the tradition does not have" in says for says in notes)
    assert any("mahogany" in says for says in notes)
    own = Given(upper=Lites(columns=5, rows=1), lower=Lites())
    proposal = propose(ROUGH, "greek-revival", KNOWLEDGE, given=own)
    assert proposal.answer.values["lites"]["usual"] is None
    assert proposal.answer.values["lites"]["pattern"] == "5 over 1"


def narrowed(knowledge: Knowledge) -> Knowledge:
    """The tables with a usual pocket that takes no weight, and a wide one that does."""
    row = replace(
        knowledge.tradition_size["pocket-us"], low=INCH, usual=1.25 * INCH, high=2.5 * INCH
    )
    return replace(knowledge, tradition_size={**knowledge.tradition_size, row.key: row})


def test_the_pocket_is_widened_where_no_weight_fits() -> None:
    proposal = propose(ROUGH, "us-1860", narrowed(KNOWLEDGE))
    assert proposal.family.pocket.across == pytest.approx(2.5 * INCH)
    assert any("no weight goes into" in says for says in findings(proposal, "note", "pocket"))
    assert all(each["stock"] for each in proposal.answer.values["weights"].values())
    asked = Given({"pocket": 1.25 * INCH})
    kept = propose(ROUGH, "us-1860", narrowed(KNOWLEDGE), given=asked)
    assert kept.answer.values["weights"]["lower"]["stock"] is None


def test_what_cannot_be_is_refused_in_a_sentence() -> None:
    with pytest.raises(ValueError, match="expected a larger one"):
        propose(Opening("rough", 12 * INCH, 40 * INCH), "federal", KNOWLEDGE)
    with pytest.raises(ValueError, match="at most half the width"):
        Opening("rough", 30 * INCH, 60 * INCH, 16 * INCH)
    with pytest.raises(ValueError, match="in width"):
        Opening("rough", 300 * INCH, 60 * INCH)
    with pytest.raises(ValueError, match="of kind 'hole'"):
        Opening("hole", 30 * INCH, 60 * INCH)  # type: ignore[arg-type]
    with pytest.raises(KnowledgeError, match="row of the table tradition"):
        propose(ROUGH, "gothic", KNOWLEDGE)
    with pytest.raises(ValueError, match="for muntin, expected"):
        propose(ROUGH, "federal", KNOWLEDGE, given=Given({"muntin": 0.5}))
    with pytest.raises(ValueError, match="for number, expected"):
        propose(ROUGH, "federal", KNOWLEDGE, place=Place(number="no?"))
    bare = replace(KNOWLEDGE, tradition_size={})
    with pytest.raises(KnowledgeError, match="Found no thickness"):
        propose(ROUGH, "federal", bare)


# --- the chapters' word -----------------------------------------------------------------------


def test_every_chapter_says_its_own(monkeypatch: pytest.MonkeyPatch) -> None:
    proposal = propose(ROUGH, "us-1860", KNOWLEDGE)

    def never(*_: Any, **__: Any) -> Any:
        raise AssertionError("asked for nothing heavy")

    monkeypatch.setattr(check, "heat_window", never)
    monkeypatch.setattr(check, "fit_window", never)
    (window,) = check_new(proposal, KNOWLEDGE).windows
    assert set(window.values["chapters"]) == {"hang", "grade"}
    said = [finding.says for finding in window.findings]
    assert len(said) == len(set(said))
    assert any("weights of" in says for says in said)
    assert any("performance grade" in says for says in said)
    own = [finding.says for finding in proposal.answer.findings]
    assert said[: len(own)] == own
    with pytest.raises(AssertionError, match="nothing heavy"):
        check_new(proposal, KNOWLEDGE, heat=True)


def test_in_a_house_it_stands_beside_the_others() -> None:
    first = propose(ROUGH, "us-1860", KNOWLEDGE)
    house = house_of(first)
    again = propose(ROUGH, "federal", KNOWLEDGE)
    with pytest.raises(ValueError, match="family"):
        with_new(house, again)
    # A proposal is looked at in its house before it is added, and after.
    assert check_new(again, KNOWLEDGE, house).windows[0].number == "1"
    other = propose(ROUGH, "federal", KNOWLEDGE, place=Place(number="2", family="B"))
    both = with_new(house, other)
    assert [window.number for window in both.windows] == ["1", "2"]
    with pytest.raises(ValueError, match="window '2'"):
        with_new(both, propose(ROUGH, "federal", KNOWLEDGE, place=Place("2", "C")))
