"""Condition, proposal, treatment, cutting list, orders and travellers, against the chapters' own answers."""

from __future__ import annotations

import datetime
import io
import math
from decimal import Decimal
from typing import Any

import click
import pytest
from PIL import Image

from sashwright import units
from sashwright.chapters.keep import keep
from sashwright.chapters.make.chapter import make
from sashwright.chapters.make.orders import orders
from sashwright.chapters.price import price
from sashwright.chapters.treat import treat
from sashwright.cli.paper import papers as command
from sashwright.drawing.conditionmap import condition_map, told_of
from sashwright.drawing.keyed import keyed
from sashwright.drawing.model import Callouts
from sashwright.knowledge.tables import Knowledge
from sashwright.papers import orderwords
from sashwright.papers.conditionreport import condition_report
from sashwright.papers.figures import Pictures
from sashwright.papers.job import take
from sashwright.papers.money import change, money, span
from sashwright.papers.orderlists import order_lists, ordering
from sashwright.papers.packet import EVERY, MAKERS, TITLES, packet, revision_of
from sashwright.papers.photos import LONGEST, Photo, album, prepared, stem
from sashwright.papers.treatmentreport import amount, before_and_after
from sashwright.papers.words import Words, dated, day_of
from sashwright.record.attached.photo import Mark
from sashwright.window.check import house_from
from sashwright.window.resolve import place
from sashwright.window.shop import Letterhead
from sashwright.window.spec import House, Window
from sashwright.window.surveyed import surveyed
from tests.papers.demo import AUTUMN, SPRING, demo_house, photographs, picture
from tests.papers.printing import DAY, Print, Printed, squeezed

NEW = ["condition", "proposal", "treatment", "cutlist", "orders", "travellers", "keep"]


@pytest.fixture(scope="module")
def demo() -> House:
    return demo_house()


@pytest.fixture(scope="module")
def whole(printed: Print, demo: House) -> dict[str, Printed]:
    """Every new part of the demo house, once on each paper."""
    return {
        paper: printed(
            demo,
            include=NEW,
            paper=paper,
            system=system,
            photographs=photographs(),
            letterhead=Letterhead(name="The Sash Bench", address=("Mill Lane",)),
            revision="17",
        )
        for paper, system in (("letter", "us"), ("a4", "metric"))
    }


def part(of: Printed, head: str) -> str:
    """The text of the pages whose running head begins so."""
    return squeezed(" ".join(page for page in of.pages if f"Marrow Cove {head}" in page))


# --- made up --------------------------------------------------------------------------------------


def test_every_part_has_a_maker_and_a_title() -> None:
    assert set(EVERY) == set(MAKERS) == set(TITLES)
    only = next(option for option in command.params if option.name == "only")
    assert isinstance(only.type, click.Choice)
    assert tuple(only.type.choices) == (*EVERY, "all")


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_every_page_has_its_date_number_and_revision(whole: dict[str, Printed], paper: str) -> None:
    pages = whole[paper].pages
    for at, page in enumerate(pages, 1):
        assert f"page {at} of {len(pages)}" in page
        assert "Sashwright, 4 March 2026, revision 17" in page


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_every_part_ends_with_its_caution(whole: dict[str, Printed], paper: str) -> None:
    for head, words in (
        ("Condition", "nothing was taken apart, and more may lie behind"),
        ("Proposal", "keep sash with broken cords shut and propped"),
        ("Treatment", "work wet where paint may hold lead"),
        ("Cutting list", "measure the opening and the old part before"),
        ("Orders", "Check sizes on site before glass is cut"),
        ("Travellers", "Two hands on a glazed sash"),
        ("Maintenance", "usual spans, not promises"),
    ):
        assert squeezed(words) in part(whole[paper], head), head


def test_the_revision_of_a_file_changes_with_anything_it_says(demo: House) -> None:
    window = demo.windows[0].model_copy(update={"note": "Seen again."})
    other = demo.model_copy(update={"windows": (window, *demo.windows[1:])})
    assert revision_of(demo) == revision_of(demo_house())
    assert revision_of(other) != revision_of(demo)


# --- condition ------------------------------------------------------------------------------------


@pytest.mark.parametrize(("paper", "system"), [("letter", "us"), ("a4", "metric")])
def test_the_report_has_every_finding_of_every_window(
    whole: dict[str, Printed],
    demo: House,
    knowledge: Knowledge,
    paper: str,
    system: units.System,
) -> None:
    text = part(whole[paper], "Condition")
    seen = 0
    for answer in treat(demo, knowledge, system=system).windows:
        assert squeezed(f"Window {answer.number}:") in text
        for each in answer.values["condition"]:
            assert squeezed(f"{each['name']} {each['severity']}") in text
            assert squeezed(each["reason"]) in text
            if each["probe_mm"]:
                nearest = 64 if system == "us" else 0.1
                depth = units.format_length(each["probe_mm"] / 1000, system, nearest)
                assert squeezed(f"awl {depth}") in text
            if each["moisture_pct"]:
                assert squeezed(f"meter {each['moisture_pct']:g} %") in text
            seen += 1
    assert seen == 47


def test_the_report_counts_classes_as_the_chapter_does(
    whole: dict[str, Printed], demo: House, knowledge: Knowledge
) -> None:
    text = part(whole["letter"], "Condition")
    values = treat(demo, knowledge).values
    for number, (name, count) in enumerate(values["classes"].items(), 1):
        assert squeezed(f"{number} {name}") in text
        if count:
            assert str(count) in text
    assert f"{values['surveyed']}withfindings" in text
    assert squeezed("Present, a licensed tester, by X-ray fluorescence, 2 April 2026") in text
    assert squeezed("not tested, house of 1889: taken for lead paint") in text


def test_photographs_stand_with_window_part_and_finding(whole: dict[str, Printed]) -> None:
    text = part(whole["letter"], "Condition")
    caption = "Window 104, photo 1, finding 1. Lower bottom rail. Awl in. 7 April 2026"
    assert squeezed(caption) in text
    assert squeezed("The house, photo 1. The street front") in text
    assert squeezed("This photograph cannot be read.") in text
    # What the finding names but nobody handed in is told by its name.
    assert squeezed("104-lower-rail") in text
    pictures = [
        image for page in whole["letter"].reader.pages for image in page.images if image.data
    ]
    assert len(pictures) >= 4


def test_the_map_numbers_each_part_that_has_a_finding(demo: House, knowledge: Knowledge) -> None:
    placed = place(demo, "104", knowledge)
    found = surveyed(placed.layout, demo, knowledge)
    shown = condition_map(placed, told_of(placed, found))
    parts = {str(key): [p.name for p in each.pieces] for key, each in enumerate(found, 1)}
    drawn = keyed(shown, parts)
    told = [text for item in drawn.items if isinstance(item, Callouts) for _, text in item.notes]
    assert sorted({number for text in told for number in text.split(", ")}) == list("12345")
    # The broken cord hangs in both boxes.
    assert told.count("4") == 2
    names = {dict(getattr(item, "data", ())).get("part") for item in drawn.items}
    assert "frame.pulley.left" in names
    assert "storm.sash" not in names


def test_a_map_without_findings_is_the_elevation_alone(demo: House, knowledge: Knowledge) -> None:
    placed = place(demo, "103", knowledge)
    drawn = keyed(condition_map(placed, {}), {})
    assert not [item for item in drawn.items if isinstance(item, Callouts)]
    names = {dict(getattr(item, "data", ())).get("part") for item in drawn.items}
    assert "frame.sill" in names
    assert not {"frame.pulley.left", "lower.putty", "storm.sash"} & names


# --- photographs ----------------------------------------------------------------------------------


def test_a_small_upright_jpeg_goes_through_as_it_is() -> None:
    data = picture()
    assert prepared(data) == (data, (320, 240))


def test_a_large_or_turned_picture_is_made_fit() -> None:
    data, size = prepared(picture(4000, 1000))
    assert size == (LONGEST, 400)
    assert Image.open(io.BytesIO(data)).size == size
    out, exif = io.BytesIO(), Image.Exif()
    exif[0x0112] = 6
    Image.new("RGB", (300, 200)).save(out, "JPEG", exif=exif)
    assert prepared(out.getvalue())[1] == (200, 300)
    data, _ = prepared(picture(form="WEBP"))
    assert Image.open(io.BytesIO(data)).format == "JPEG"


@pytest.mark.parametrize("data", [b"", b"rubbish", picture()[:400]])
def test_what_is_no_picture_is_refused(data: bytes) -> None:
    with pytest.raises((ValueError, OSError)):
        prepared(data)


def test_marks_are_text_not_markup(printed: Print, demo: House) -> None:
    hostile = Mark(kind="words", points=((0.5, 0.5),), text='<b>&"soft"</b>')
    photo = Photo(picture(), "x", "#emph[bold] <x>", "101", marks=(hostile,))
    paper = printed(demo, include=["condition"], numbers=["101"], photographs=[photo])
    assert squeezed("#emph[bold] <x>") in squeezed(paper.text)


def test_a_photograph_stands_in_the_pdf_byte_for_byte(demo: House, knowledge: Knowledge) -> None:
    data = picture()
    photo = Photo(
        data, "x", "As found", "101", marks=(Mark(kind="ring", points=((0.5, 0.5), (0.6, 0.5))),)
    )
    job = take(demo, knowledge, "us", ["101"])
    pictures = Pictures(job, "letter")
    (shown,) = album(pictures, [photo])
    drawn = pictures.files[shown["file"]]
    assert isinstance(drawn, str)
    assert "<circle" in drawn
    assert data in pictures.files.values()
    pdf = packet(
        demo, knowledge, include=["condition"], numbers=["101"], today=DAY, photographs=[photo]
    )
    assert data in pdf


def test_names_with_and_without_an_ending_are_the_same() -> None:
    assert stem("104-probe.jpg") == stem("104-probe") == stem("104-probe.PNG") == "104-probe"
    assert stem("a.b") == "a.b"


# --- proposal -------------------------------------------------------------------------------------


def test_the_price_is_that_of_the_chapter_to_the_cent(
    whole: dict[str, Printed], demo: House, knowledge: Knowledge
) -> None:
    text, answer = part(whole["letter"], "Proposal"), price(demo, knowledge)
    values = answer.values
    for name in ("low", "likely", "high"):
        assert f"${Decimal(values['price'][name]):,.2f}" in text
    for name in ("low", "high"):
        assert f"${Decimal(values['by_chance'][name]):,.2f}" in text
    for window in answer.windows:
        if window.values["alternative"]:
            assert f"${Decimal(window.values['price']['likely']):,.2f}" in text
    own = sum(Decimal(line["likely"]) for line in values["house_lines"])
    assert f"${own:,.2f}" in text
    assert own + sum(
        Decimal(window.values["price"]["likely"]) for window in answer.windows
    ) == Decimal(values["price"]["likely"])
    assert values["edition"] in text


def test_the_proposal_has_options_allowances_terms_and_room_to_sign(
    whole: dict[str, Printed], demo: House
) -> None:
    text = part(whole["letter"], "Proposal")
    for words in (
        "The Sash Bench Mill Lane",
        "Attic sash restored in the shop as well",
        "adds $2,300.56",
        "$1,565.56 to $3,591.58",
        "takes off $240.00",
        "Hidden decay behind casings $600.00",
        "No tax is in it.",
        "This proposal stands for 60 days, until 3 May 2026.",
        "Signature",
        "Nothing is planned at 103, 106",
    ):
        assert squeezed(words) in text, words
    assert demo.owner in whole["letter"].text


def test_a_firm_price_is_one_sum(printed: Print, demo: House, knowledge: Knowledge) -> None:
    pricing = demo.pricing.model_copy(update={"quote": "firm", "tax": 10.0, "tax_on": "all"})
    house = demo.model_copy(update={"pricing": pricing})
    text = squeezed(printed(house, include=["proposal"]).text)
    values = price(house, knowledge).values
    assert f"FIRMPRICE${Decimal(values['price']['likely']):,.2f}" in text
    assert f"{Decimal(values['price']['low']):,.2f}" not in text
    assert f"Taxof${Decimal(values['kinds']['tax']['likely']):,.2f}isinit." in text


def test_a_ticked_option_is_in_the_price(printed: Print, demo: House, knowledge: Knowledge) -> None:
    options = [each.model_copy(update={"ticked": True}) for each in demo.pricing.options]
    pricing = demo.pricing.model_copy(update={"options": tuple(options)})
    house = demo.model_copy(update={"pricing": pricing})
    text = squeezed(printed(house, include=["proposal"]).text)
    assert f"${Decimal(price(house, knowledge).values['price']['likely']):,.2f}" in text
    assert text.count("inthepriceabove") == 2


def test_some_windows_are_priced_without_the_house(
    printed: Print, demo: House, knowledge: Knowledge
) -> None:
    text = squeezed(printed(demo, include=["proposal"], numbers=["104", "101"]).text)
    likely = Decimal(price(demo, knowledge, ["101", "104"]).values["price"]["likely"])
    assert f"Allofit${likely:,.2f}" in text
    assert "Thehouseasawhole" not in text


def test_money_in_words() -> None:
    assert money("-1234.5", "USD") == "-$1,234.50"
    assert money("3", "CHF") == "CHF 3.00"
    assert span({"low": "1", "high": "1"}, "EUR") == "€1.00"
    assert change("0.00", "USD") == "changes nothing"


# --- treatment ------------------------------------------------------------------------------------


def test_the_treatment_has_every_task_of_the_way_taken(
    whole: dict[str, Printed], demo: House, knowledge: Knowledge
) -> None:
    text = part(whole["letter"], "Treatment")
    for answer in treat(demo, knowledge).windows:
        values = answer.values
        if values["chosen"] == "leave":
            continue
        way = next(each for each in values["alternatives"] if each["key"] == values["chosen"])
        assert squeezed(f"Window {answer.number}") in text
        for task in way["tasks"]:
            assert squeezed(task["name"]) in text
        assert squeezed(f"About {way['hours']:.1f} man-hours") in text
    assert squeezed("Decided by the owner on 20 April 2026. The street front first.") in text
    # A task that was done bears its day and hours.
    assert squeezed("12 May 2026, by bench; 1.9 h") in text


def test_photographs_are_parted_by_the_last_day_of_work(demo: House) -> None:
    window = demo.windows[0]
    photos = [Photo(b"", "a", taken=SPRING), Photo(b"", "b", taken=AUTUMN), Photo(b"", "c")]
    before, after = before_and_after(window, photos)
    assert [photo.name for photo in before] == ["a", "c"]
    assert [photo.name for photo in after] == ["b"]
    idle = window.model_copy(update={"spent": ()})
    assert before_and_after(idle, photos) == (photos, [])


def test_amounts_in_the_units_of_the_paper() -> None:
    assert amount(2.2, "piece", "us") == "3"
    assert amount(10.0, "foot", "metric") == "3.05 m"
    assert amount(10.0, "square foot", "us") == "10 ft²"
    assert amount(0.5, "litre", "metric") == "0.5 L"


def test_a_date_that_is_none_is_told_as_it_was_written() -> None:
    assert dated("2026-02-31") == "2026-02-31"
    assert dated("2026-02-03") == "3 February 2026"
    assert day_of("2026-02-31") is None
    assert day_of(None) is None
    assert day_of("2026-02-28") == datetime.date(2026, 2, 28)


# --- lists ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(("paper", "system"), [("letter", "us"), ("a4", "metric")])
def test_the_cutting_list_has_every_part_and_pane(
    whole: dict[str, Printed], demo: House, knowledge: Knowledge, paper: str, system: units.System
) -> None:
    text = part(whole[paper], "Cutting list")
    answer = make(demo, knowledge, system=system)
    wood, glass = (32, 16) if system == "us" else (0.5, 1.0)
    for window in answer.windows:
        for row in window.values["parts"]:
            size = units.format_length(row["rough_length_mm"] / 1000, system, wood, marks=False)
            assert squeezed(row["mark"]) in text
            assert squeezed(f"{row['name']} {row['count']} {size}") in text
        for row in window.values["glass"]:
            size = units.format_length(row["width_mm"] / 1000, system, glass, marks=False)
            assert squeezed(f"{row['count']} {size}") in text


def test_the_orders_are_those_of_the_chapter(
    whole: dict[str, Printed], demo: House, knowledge: Knowledge
) -> None:
    for paper, system in (("letter", "us"), ("a4", "metric")):
        text = part(whole[paper], "Orders")
        words = Words(system)
        answer = orders(demo, knowledge, system=system)
        for kind in answer.values["kinds"].values():
            assert kind["name"].replace(" ", "") in text
            for line in kind["lines"]:
                order = orderwords.amount(words, line["to_order"], line["unit"])
                assert squeezed(f"{order} {line['says']}") in text


def test_orders_tell_what_lies_there_and_what_is_coming(demo: House, knowledge: Knowledge) -> None:
    job = take(demo, knowledge, "us", None)
    plain = ordering(job)
    line = next(row for row in plain.values["kinds"]["glass"]["lines"])
    known = orders(demo, knowledge, stock={line["item"]: 1.0}, ordered={line["item"]: 1.0})
    words = order_lists(job, known)
    glass = next(each for each in words["lists"] if each["title"] == "Glass")
    assert glass["rows"][0][0] == "nothing"
    assert glass["rows"][0][3] == "1 pane in stock; 1 pane ordered"


def test_the_maintenance_plan_is_that_of_the_chapter(
    whole: dict[str, Printed], demo: House, knowledge: Knowledge
) -> None:
    text = part(whole["letter"], "Maintenance")
    answer = keep(demo, knowledge, today=DAY.isoformat())
    for year in answer.values["years"][:10]:
        for row in year["rows"]:
            every = len(row["windows"]) == len(demo.windows)
            numbers = "all" if every else ", ".join(row["windows"])[:60]
            assert squeezed(f"{dated(row['from'])} {row['name']} {numbers}") in text
    for row in answer.values["due"]:
        assert squeezed(row["name"]) in text
    assert squeezed("Renew cords 104, 105") in text


def test_each_sash_with_work_in_the_shop_has_its_half_page(
    whole: dict[str, Printed], demo: House, knowledge: Knowledge
) -> None:
    text = part(whole["letter"], "Travellers")
    cards = 0
    for answer in treat(demo, knowledge).windows:
        values = answer.values
        way = next(each for each in values["alternatives"] if each["key"] == values["chosen"])
        for which in ("upper", "lower"):
            mine = [task for task in way["tasks"] if task["of"] == which]
            wanted = any(task["where"] == "shop" for task in mine)
            assert (squeezed(f"Window {answer.number}, {which} sash") in text) is wanted
            cards += wanted
    pages = [page for page in whole["letter"].pages if "Marrow Cove Travellers" in page]
    assert cards > 6
    assert len(pages) == math.ceil(cards / 2)
    assert squeezed("then wait 7 days") in text


# --- what it withstands ---------------------------------------------------------------------------


def test_an_empty_house_says_so_in_every_part(printed: Print, knowledge: Knowledge) -> None:
    text = printed(house_from({"name": "Nothing yet"}, knowledge), include=NEW).text
    assert text.count("No windows are recorded for this house yet") == len(NEW)


def test_a_window_that_contradicts_itself_has_its_place(
    printed: Print, demo: House, knowledge: Knowledge
) -> None:
    wrong = Window(number="999", family="parlor", room="Attic", width=6 * 0.0254, height=1.0)
    house = demo.model_copy(update={"windows": (demo.windows[0], wrong)})
    paper = printed(house, include=NEW)
    for head in ("Condition", "Treatment"):
        text = part(paper, head)
        assert "Window999" in text
        assert "fail" in text
    likely = Decimal(price(house, knowledge).values["price"]["likely"])
    assert f"${likely:,.2f}" in paper.text
    only = printed(demo.model_copy(update={"windows": (wrong,)}), include=NEW)
    assert squeezed("Nothing is to be priced") in squeezed(only.text)


def test_a_report_of_a_part_shows_no_photographs_of_others(
    demo: House, knowledge: Knowledge
) -> None:
    job = take(demo, knowledge, "us", ["104"])
    words: dict[str, Any] = condition_report(job, Pictures(job, "letter"), photographs(), DAY)
    assert [len(each["photos"]) for each in words["windows"]] == [1]
    assert len(words["photos"]) == 1
