"""The shop's pages: stock kept, counted and put back; plans taken from it; the bin on the bench."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import pytest
from django.contrib.auth.models import User
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse

from sashwright.record import store
from sashwright.record.demo import stock
from sashwright.web import stocked
from tests.web.test_chapters import text_of

if TYPE_CHECKING:
    from tests.conftest import PageFactory

DRAWERS = ("boards", "strips", "sheets", "weights", "lumber", "glass")


@pytest.fixture
def full(owner: User) -> int:
    """The demo shop's stock."""
    stock.bring_in(owner)
    return store.shop_edition()


@pytest.fixture(autouse=True)
def _quick(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(stocked, "SECONDS", 0.2)


def drawer(name: str) -> str:
    return reverse("shop-drawer", args=[name])


def weight(**said: Any) -> dict[str, Any]:
    return {"label": "91", "mass": "8 lb 2", "length": "17 1/2", "size": "1 1/2", "shape": "round",
            "material": "cast-iron", "note": "", "was": "", "base": ""} | said  # fmt: skip


# --- looking --------------------------------------------------------------------------


def test_every_page_of_the_shop_opens_full_and_empty(here: Client, owner: User) -> None:
    addresses = [drawer(name) for name in DRAWERS]
    addresses += [reverse(name) for name in ("shop", "shop-supplies", "shop-rules", "shop-history")]
    for address in addresses:
        assert here.get(address).status_code == 200, address
    stock.bring_in(owner)
    for address in addresses:
        response = here.get(address)
        assert response.status_code == 200, address
        assert "Hollin" in text_of(here.get(reverse("shop")))


def test_the_shop_stands_in_the_title_of_every_page(here: Client, elm: str) -> None:
    page = here.get(reverse("house", args=[elm])).content.decode()
    assert f'href="{reverse("shop")}"' in page


def test_a_drawer_that_is_none_is_not_found(here: Client, full: int) -> None:
    assert here.get(drawer("cellar")).status_code == 404


def test_sums_are_of_what_is_there(here: Client, full: int) -> None:
    text = text_of(here.get(reverse("shop")))
    assert re.search(r"Eastern white pine 8/4\s+15 boards\s+207 board feet", text)
    assert re.search(r"Salvaged weights\s+90", text)


# --- keeping --------------------------------------------------------------------------


def test_a_weight_is_entered_at_the_scale(here: Client, full: int) -> None:
    page = here.get(drawer("weights")).content.decode()
    assert 'value="91"' in page
    response = here.post(drawer("weights"), weight(), follow=True)
    assert response.status_code == 200
    kept = store.load_shop().weights["91"]
    assert kept.mass == pytest.approx(8.125 * 0.45359237)
    # The next one is ready to be typed.
    assert 'value="92"' in response.content.decode()
    assert store.shop_history(1)[0].says == "weight 91 in stock"


def test_a_board_is_changed_field_by_field(here: Client, full: int) -> None:
    page = here.get(drawer("boards") + "?edit=B1").content.decode()
    assert "18 to 22, 53 to 55" in page
    board = {
        "label": "B1", "was": "B1", "base": full, "species": "eastern-white-pine", "quarters": "4",
        "width": "6 3/4", "length": "100", "count": "2", "clear": "no", "defects": "20 to 22",
        "cost": "", "place": "rack D", "note": "",
    }  # fmt: skip
    assert here.post(drawer("boards"), board).status_code == 302
    kept = store.load_shop().boards["B1"]
    assert (kept.count, kept.place, len(kept.defects)) == (2, "rack D", 1)
    assert kept.length == pytest.approx(2.54)


def test_a_thing_gets_another_label(here: Client, full: int) -> None:
    here.post(drawer("weights"), weight(label="200", was="1"))
    weights = store.load_shop().weights
    assert "1" not in weights
    assert "200" in weights


def test_a_thing_is_taken_out(here: Client, full: int) -> None:
    here.post(drawer("weights"), {"was": "31", "label": "31", "act": "remove", "base": full})
    assert "31" not in store.load_shop().weights
    assert store.shop_history(1)[0].says == "weight 31 taken out"


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"mass": "heavy"}, "The scale says"),
        ({"length": ""}, "Long"),
        ({"label": "9.1"}, "label"),
        ({"label": "31"}, "second weight 31"),
        ({"size": "9"}, "Thick or square"),
    ],
)
def test_what_is_wrong_is_said_and_what_was_typed_stays(
    here: Client, full: int, wrong: dict[str, str], says: str
) -> None:
    response = here.post(drawer("weights"), weight(**wrong))
    assert response.status_code == 422
    text = response.content.decode()
    assert says in text
    assert "17 1/2" in text or wrong.get("length") == ""
    assert store.shop_edition() == full


def test_two_people_at_one_board_are_told(here: Client, full: int, bob: User) -> None:
    store.save_shop_fields({"boards.B1.place": "rack Z"}, full, bob)
    board = {
        "label": "B1", "was": "B1", "base": full, "species": "eastern-white-pine", "quarters": "4",
        "width": "6 3/4", "length": "123", "count": "1", "clear": "no", "defects": "", "cost": "",
        "place": "rack Y", "note": "",
    }  # fmt: skip
    response = here.post(drawer("boards"), board)
    assert response.status_code == 409
    assert "bob" in response.content.decode()
    assert store.load_shop().boards["B1"].place == "rack Z"


def test_supplies_are_counted(here: Client, full: int) -> None:
    page = here.get(reverse("shop-supplies")).content.decode()
    assert 'name="cords.cotton-8" value="400"' in page
    here.post(
        reverse("shop-supplies"),
        {
            "base": full,
            "cords.cotton-8": "350",
            "pulleys.plain-2": "",
            "putty.linseed-oil-putty": "12",
        },
    )
    supplies = store.load_shop().supplies
    assert supplies.cords["cotton-8"] == pytest.approx(350 * 0.3048)
    assert "plain-2" not in supplies.pulleys
    assert supplies.putty["linseed-oil-putty"] == pytest.approx(12 * 0.45359237)
    assert supplies.cords["cotton-7"] == pytest.approx(120 * 0.3048)
    response = here.post(reverse("shop-supplies"), {"cords.cotton-8": "a lot"})
    assert response.status_code == 422
    assert "no. 8" in response.content.decode()


def test_rules_hours_and_letterhead_are_kept(here: Client, full: int) -> None:
    def send(**said: Any) -> None:
        given = {"base": store.shop_edition()} | said
        assert here.post(reverse("shop-rules"), given).status_code == 302

    send(part="bin", tolerance="2 oz", apart="3 oz")
    send(part="hours", **{"hours.bench-hand": "20", "hours.painter": ""})
    send(part="letterhead", name="A & B", telephone="", mail="", foot="", address="1 Lane\nTown")
    send(part="money", units="us", currency="CAD")
    shop = store.load_shop()
    assert shop.bin.tolerance == pytest.approx(0.125 * 0.45359237)
    assert shop.hours["bench-hand"] == 20
    assert "painter" not in shop.hours
    assert shop.letterhead.address == ("1 Lane", "Town")
    assert shop.currency == "CAD"


def test_a_change_is_undone_and_an_edition_put_back(here: Client, full: int) -> None:
    here.post(drawer("weights"), weight())
    here.post(reverse("shop-edition", args=[2]), {"act": "undo"})
    assert "91" not in store.load_shop().weights
    here.post(drawer("weights"), {"was": "31", "act": "remove"})
    here.post(reverse("shop-edition", args=[1]), {"act": "back"})
    assert "31" in store.load_shop().weights
    assert "put back as in edition 1" in text_of(here.get(reverse("shop-history"))).lower()


def test_the_shop_goes_out_and_comes_in_as_a_file(here: Client, full: int) -> None:
    response = here.get(reverse("shop-file"))
    text = response.content.decode()
    assert "shop.toml" in response["Content-Disposition"]
    changed = text.replace('place = "rack A, low"', 'place = "shed"', 1)
    upload = SimpleUploadedFile("shop.toml", changed.encode())
    here.post(reverse("shop"), {"file": upload})
    assert store.load_shop().boards["B1"].place == "shed"
    bad = SimpleUploadedFile("shop.toml", text.replace("quarters = 4", "quarters = 3", 1).encode())
    response = here.post(reverse("shop"), {"file": bad})
    assert response.status_code == 422
    assert "boards.B1.quarters" in response.content.decode()


# --- plans ----------------------------------------------------------------------------


def cut(client: Client, slug: str, **query: Any) -> str:
    return client.get(reverse("cut", args=[slug]), query).content.decode()


def test_the_page_comes_at_once_and_asks_for_the_plans(here: Client, elm: str, full: int) -> None:
    assert "aria-busy" in cut(here, elm, what="sash")
    page = cut(here, elm, what="sash", now="1")
    assert "Take from stock" in page
    assert page.count('class="cutboard"') > 3
    assert page.count('class="cutsheet"') > 1


def test_what_is_taken_leaves_the_stock_once(here: Client, elm: str, full: int) -> None:
    page = cut(here, elm, what="sash", now="1")
    mark = re.search(r'name="mark" value="(\w+)"', page)
    assert mark is not None
    boards = set(store.load_shop().boards)
    take = reverse("cut-take", args=[elm])
    here.post(take, {"what": "sash", "mark": mark[1]})
    after = store.load_shop()
    assert boards - set(after.boards)
    assert store.shop_history(1)[0].says.startswith("taken for ")
    # The same button once more: the stock is another, and so is the plan.
    here.post(take, {"what": "sash", "mark": mark[1]})
    assert store.shop_edition() == full + 1
    assert "taken for" in text_of(here.get(reverse("cut", args=[elm]))).lower()
    here.post(reverse("shop-edition", args=[full + 1]), {"act": "undo"})
    assert set(store.load_shop().boards) == boards


def test_a_house_with_nothing_to_make_says_so(here: Client, elm: str, full: int) -> None:
    assert "Nothing is to be cut" in cut(here, elm) or "Take from stock" in cut(here, elm)


# --- the bin --------------------------------------------------------------------------


def test_the_bin_page_and_the_bench_say_the_same_numbers(here: Client, elm: str, full: int) -> None:
    page = here.get(reverse("bin", args=[elm]))
    assert page.status_code == 200
    answer = stocked.bin_of(elm, "us")
    window = next(w for w in answer.windows if w.values["lower"] and not w.values["lower"]["buy"])
    numbers = [window.values["lower"][side]["number"] for side in ("left", "right")]
    for number in numbers:
        assert f"{number} (" in page.content.decode()
    asked = {"number": window.number, "which": "lower"}
    part = here.get(reverse("bin-sash", args=[elm]), asked).content.decode()
    assert f"nos. {numbers[0]} and {numbers[1]}" in part
    bench = here.get(reverse("bench", args=[elm]), asked).content.decode()
    assert reverse("bin-sash", args=[elm]) in bench


def test_the_bench_says_nothing_of_a_bin_that_is_not_there(here: Client, elm: str) -> None:
    part = here.get(reverse("bin-sash", args=[elm]), {"number": "101", "which": "lower"})
    assert not text_of(part).strip()
    assert here.get(reverse("bin", args=[elm])).status_code == 200


def test_in_a_browser_the_plans_arrive_and_fit_the_page(
    browser_page: PageFactory, live_server: Any, elm: str, full: int
) -> None:
    page = browser_page(base_url=live_server.url, viewport={"width": 390, "height": 800})
    problems: list[str] = []
    page.on(
        "console",
        lambda message: problems.append(message.text) if message.type == "error" else None,
    )
    page.goto(reverse("cut", args=[elm]) + "?what=sash")
    page.wait_for_selector(".cutboard svg")
    page.wait_for_load_state("networkidle")
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    page.goto(reverse("bench", args=[elm]) + "?number=101&which=lower")
    page.wait_for_selector(".frombin a")
    assert not problems
