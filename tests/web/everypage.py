"""Every page that answers with HTML, and a record in which each has something to show."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import timedelta
from typing import Any

from django.urls import URLPattern
from django.urls.converters import IntConverter
from django.utils import timezone

from sashwright.record import keys, people, store
from sashwright.record.demo import stock
from sashwright.record.orders import create_order
from sashwright.record.schedule import keep_book
from sashwright.record.visits import add_visit
from tests.factories import family_document, house_document
from tests.papers.demo import picture

PAGES = {
    "houses": "/",
    "new house": "/new",
    "import": "/import",
    "people": "/people",
    "keys": "/keys",
    "backups": "/backups",
    "on site": "/offline/",
    "house": "/{slug}/",
    "walls": "/{slug}/?by=wall",
    "details": "/{slug}/details",
    "rooms": "/{maine}/rooms",
    "links": "/{maine}/links",
    "schedule": "/{slug}/schedule",
    "schedule that is read": "/{slug}/schedule/{book}",
    "replace with a file": "/{slug}/replace",
    "new family": "/{slug}/families/new",
    "family": "/{slug}/families/A/",
    "new window": "/{slug}/new-window",
    "window": "/{slug}/windows/101/?view=outside",
    "opened": "/{slug}/windows/101/?view=opened",
    "sections": "/{slug}/windows/101/?view=sections",
    "add": "/{slug}/add",
    "bench": "/{slug}/bench?number=101",
    "history": "/{slug}/history",
    "history of a window": "/{slug}/history?kind=window&key=101",
    "one change": "/{slug}/history/{change}",
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
    "breathe": "/{maine}/breathe?now=1",
    "breathe without a climate": "/{slug}/breathe",
    "worth": "/{maine}/worth?now=1",
    "worth without a climate": "/{slug}/worth",
    "condition": "/{maine}/windows/101/condition?on=lower.bottom_rail&fault=decay",
    "condition of a family": "/{slug}/families/A/typical?on=upper.putty",
    "condition of a house": "/{slug}/typical",
    "photographs": "/{maine}/photographs",
    "photographs of a window": "/{maine}/windows/101/photographs",
    "photograph": "/{maine}/photographs/{photo}/",
    "measured on a photograph": "/{maine}/photographs/{photo}/measure",
    "treat": "/{maine}/treat",
    "what a window needs": "/{maine}/windows/101/treat",
    "price": "/{maine}/price?what=1&tick=attic",
    "price of a window": "/{maine}/windows/101/price",
    "papers": "/{slug}/papers?parts=weights&now=1",
    "make": "/{slug}/make",
    "board": "/{maine}/board",
    "board of all houses": "/board",
    "tag of a sash": "/{maine}/scan/101-upper",
    "tag of a storm": "/{maine}/scan/101-storm",
    "orders": "/{maine}/orders",
    "keep": "/{maine}/keep",
    "a visit": "/{maine}/keep/visit",
    "due": "/due",
    "whole history of a window": "/{maine}/windows/101/history",
    "shop": "/shop/",
    "a board": "/shop/boards?edit=B1",
    "weights": "/shop/weights",
    "drawers": "/shop/drawers",
    "rules of the shop": "/shop/rules",
    "history of the shop": "/shop/history",
    "cut": "/{maine}/cut?now=1",
    "bin": "/{maine}/bin",
    "seasons": "/{maine}/seasons",
    "seasons without a climate": "/{slug}/seasons",
    "climate": "/{maine}/climate?text=portland",
    "no climate": "/{slug}/climate",
}
"""By what they are called: the address, with the places of ``record`` in it."""

OUTSIDE = {"sign in": "/sign-in", "pair": "/pair"}
"""Pages for whoever is not known yet: asked for as from another computer."""

ELSEWHERE = {"X-Forwarded-For": "192.0.2.7"}
"""What makes a request look like one from another computer."""

SLOW = frozenset({"export-all", "papers", "lists"})
"""Addresses of files, not pages, that take seconds to make."""

SCHEDULE = b"No,Room,Wide,High\n101,parlor,32,62 1/2\n401,tower,28,54\n"


def record() -> Mapping[str, str]:
    """A plain house; one in a climate with storms, work, orders and a photograph; people and keys.

    Answers what stands in the places of the addresses.
    """
    owner = store.local_owner()
    slug = store.create_house(house_document(), owner)
    store.add_reading(slug, "101", "lower", 8.3, "before reglazing", owner)
    store.save_fields(slug, "window", "101", {"note": "sticks in August"}, 2, owner)
    maine = _maine()
    photo = store.add_photograph(
        maine, picture(), owner, window="101", component="lower.bottom_rail", note="Soft here"
    )
    people.add_person("Ann", "bench", "a long enough word")
    keys.make_client_link(maine, "The owner", 30, owner)
    return {
        "slug": slug,
        "maine": maine,
        "photo": photo.key,
        "change": str(store.changes(slug)[0].id),
        "book": keep_book(SCHEDULE, "windows.csv"),
    }


def _maine() -> str:
    """The same house in a climate, with storms in winter and screens."""
    family = family_document(storm="winter", screen={"kind": "half"})
    document = house_document(
        name="Maine",
        climate="Portland, Maine",
        site={"wind_speed": "150 mph"},
        typical={"found": [{"on": "lower.bottom_rail", "fault": "decay", "severity": "severe"}]},
        pricing={"options": [{"key": "attic", "name": "The attic as well", "amount": "250.00"}]},
        families={"A": family, "B": family},
    )
    owner = store.local_owner()
    slug = store.create_house(document, owner)
    stock.bring_in(owner)
    spent = [{"task": "reglaze", "hours": 2.5, "quantity": 12}]
    store.save_fields(slug, "window", "102", {"spent": spent}, 1, owner)
    at = timezone.now() - timedelta(days=30)
    store.set_stage(slug, "101", "upper", "removed", owner, at=at)
    add_visit(slug, "2026-04-07", [{"what": "wash", "window": "101"}], owner)
    putty = {"item": "putty/linseed-oil-putty", "says": "Putty", "quantity": 2, "unit": "kg"}
    create_order(slug, "paint", [putty], owner)
    return slug


def arguments(pattern: URLPattern, places: Mapping[str, str]) -> dict[str, Any]:
    """Something there is for each place in an address of the table."""
    name = str(pattern.name)
    key = "A"
    if name == "schedule-read":
        key = places["book"]
    elif "photograph" in name or "measure" in name:
        key = places["photo"]
    known: dict[str, Any] = {
        "slug": places["slug" if name == "compare" else "maine"],
        "number": "101",
        "key": key,
        "change": int(places["change"]),
        "piece": "101-upper",
        "drawer": "boards",
        "chapter": "hang",
        "view": "outside",
        "size": "small",
    }
    return {
        each: known.get(each, 1 if isinstance(kind, IntConverter) else "x")
        for each, kind in pattern.pattern.converters.items()
    }
