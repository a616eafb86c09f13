"""Every page for everybody: by axe's rules in light and dark, and at the width of a phone."""

from __future__ import annotations

from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe

from sashwright.record import store
from tests.factories import family_document, house_document

PAGES = {
    "houses": "/",
    "new house": "/new",
    "import": "/import",
    "house": "/{slug}/",
    "walls": "/{slug}/?by=wall",
    "details": "/{slug}/details",
    "new family": "/{slug}/families/new",
    "family": "/{slug}/families/A/",
    "window": "/{slug}/windows/101/?view=outside",
    "opened": "/{slug}/windows/101/?view=opened",
    "sections": "/{slug}/windows/101/?view=sections",
    "add": "/{slug}/add",
    "bench": "/{slug}/bench?number=101",
    "history": "/{slug}/history",
    "history of a window": "/{slug}/history?kind=window&key=101",
    "bench of nothing yet": "/{slug}/bench",
    "nothing": "/{slug}/windows/999/",
    "fit": "/{maine}/windows/101/fit",
    "fit without a climate": "/{slug}/windows/101/fit",
    "air of a window": "/{maine}/windows/101/seal",
    "storm and screen": "/{maine}/windows/101/season",
    "wind and rain": "/{maine}/windows/101/grade",
    "wind and rain without a wind speed": "/{slug}/windows/101/grade",
    "warmth of a window": "/{maine}/windows/101/heat",
    "warmth of a window without a climate": "/{slug}/windows/101/heat",
    "air": "/{maine}/air",
    "warmth": "/{maine}/warmth?now=1",
    "wind": "/{maine}/wind",
    "wind without a speed": "/{slug}/wind",
    "seasons": "/{maine}/seasons",
    "seasons without a climate": "/{slug}/seasons",
    "climate": "/{maine}/climate?text=portland",
    "no climate": "/{slug}/climate",
}


@pytest.fixture
def elm(transactional_db: None) -> str:
    owner = store.local_owner()
    slug = store.create_house(house_document(), owner)
    store.add_reading(slug, "101", "lower", 8.3, "before reglazing", owner)
    store.save_fields(slug, "window", "101", {"note": "sticks in August"}, 2, owner)
    return slug


@pytest.fixture
def maine(transactional_db: None) -> str:
    """The same house in a climate, with storms in winter and screens."""
    family = family_document(storm="winter", screen={"kind": "half"})
    document = house_document(
        name="Maine",
        climate="Portland, Maine",
        site={"wind_speed": "150 mph"},
        families={"A": family, "B": family},
    )
    return store.create_house(document, store.local_owner())


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_serious(
    browser_page: Any, live_server: Any, elm: str, maine: str, scheme: str
) -> None:
    # In the dark as on a phone, where tables and strips scroll.
    size = {"width": 390, "height": 844} if scheme == "dark" else {"width": 1440, "height": 900}
    page = browser_page(base_url=live_server.url, color_scheme=scheme, viewport=size)
    found: dict[str, Any] = {}
    for name, path in PAGES.items():
        page.goto(path.format(slug=elm, maine=maine))
        page.evaluate("for (const each of document.querySelectorAll('details')) each.open = true")
        grave = [
            (rule["id"], [node["target"] for node in rule["nodes"]][:3])
            for rule in Axe().run(page).response["violations"]
            if rule["impact"] in ("serious", "critical")
        ]
        if grave:
            found[name] = grave
    assert found == {}


@pytest.mark.parametrize("width", [390, 768, 1440])
def test_nothing_runs_off_the_side(
    browser_page: Any, live_server: Any, elm: str, maine: str, width: int
) -> None:
    page = browser_page(base_url=live_server.url, viewport={"width": width, "height": 844})
    wide = {}
    for name, path in PAGES.items():
        page.goto(path.format(slug=elm, maine=maine))
        needed = page.evaluate("document.documentElement.scrollWidth")
        if needed > width:
            wide[name] = needed
    assert wide == {}


def test_targets_are_large_enough_for_gloves(
    browser_page: Any, live_server: Any, elm: str, maine: str
) -> None:
    page = browser_page(
        base_url=live_server.url, viewport={"width": 390, "height": 844}, has_touch=True
    )
    small = {}
    for name, path in PAGES.items():
        page.goto(path.format(slug=elm, maine=maine))
        found = page.evaluate(
            """() => [...document.querySelectorAll('main .button, main .control, .tabset span')]
                .filter((each) => each.offsetParent && each.getBoundingClientRect().height < 43)
                .map((each) => each.outerHTML.slice(0, 80))"""
        )
        if found:
            small[name] = found[:3]
    assert small == {}
