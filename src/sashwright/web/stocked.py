"""Answers that hang on a house and on the shop's stock: cutting plans, the bin of weights.

They are kept until anything in the house or in the shop changes.
"""

from __future__ import annotations

import hashlib
import json
import threading
import time
from datetime import datetime
from functools import lru_cache
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer
from sashwright.chapters.make.binplan import bin_plan
from sashwright.chapters.make.budget import Budget
from sashwright.chapters.make.cutlist import cut_list
from sashwright.chapters.make.plans import cutting_plans
from sashwright.chapters.make.wanted import ASKED
from sashwright.record import store
from sashwright.record.facts import knowledge

SECONDS = 10.0
"""For the plans of a page; a paper has the page's."""
BIN_SECONDS = 4.0
_ONE_AT_A_TIME = threading.Lock()
"""A search takes all of the machine: whoever asks meanwhile waits, and finds it done."""


def plans_of(slug: str, system: units.System, scope: str = "") -> Answer:
    """Cutting plans of a house from the stock as it is; ``scope`` is a unit to make at every window."""
    scope = scope if scope in ASKED else ""
    key = (slug, store.changed_at(slug), store.shop_edition(), system, scope, SECONDS)
    with _ONE_AT_A_TIME:
        return _plans(*key, id(knowledge()))


def plans_known(slug: str, system: units.System, scope: str = "") -> bool:
    """Whether nothing is to be made, so that the page need not wait; or the plan is there already."""
    house = store.load_house(slug)
    asked: Any = (scope,) if scope in ASKED else None
    listed = cut_list(house, knowledge(), scope=asked, system=system)
    return len(listed.parts) + len(listed.glass) <= 12


@lru_cache(maxsize=8)
def _plans(
    slug: str,
    changed: datetime,
    edition: int,
    system: units.System,
    scope: str,
    seconds: float,
    tables: int,
) -> Answer:
    house = store.load_house(slug)
    listed = cut_list(house, knowledge(), scope=(scope,) if scope else None, system=system)  # type: ignore[arg-type]
    budget = Budget(seconds, time.monotonic)
    return cutting_plans(
        listed, store.load_shop(), knowledge(), budget, house=house.name, system=system
    )


def mark_of(answer: Answer) -> str:
    """Tells one plan from another: two searches of the same stock may end in different plans."""
    text = json.dumps([answer.values["boards"], answer.values["sheets"]], sort_keys=True)
    return hashlib.sha256(text.encode()).hexdigest()[:16]


def bin_of(slug: str, system: units.System) -> Answer:
    """The weights of the bin on the sash of a house."""
    return _bin(slug, store.changed_at(slug), store.shop_edition(), system, id(knowledge()))


@lru_cache(maxsize=8)
def _bin(slug: str, changed: datetime, edition: int, system: units.System, tables: int) -> Answer:
    budget = Budget(BIN_SECONDS, time.monotonic)
    return bin_plan(store.load_house(slug), knowledge(), store.load_shop(), budget, system=system)
