"""One change in the making: rows planned, checked together, then written with their history."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace

from django.contrib.auth.models import User
from django.db import transaction
from django.utils import timezone

from sashwright.record.documents import canonical, house_of, rewritten, system_of
from sashwright.record.errors import NotThere, Refused, refused
from sashwright.record.facts import knowledge
from sashwright.record.models import (
    ATTACHED,
    Attached,
    Change,
    Family,
    House,
    Kept,
    Photograph,
    Revision,
    Window,
)
from sashwright.record.problems import problems_in
from sashwright.record.state import NAMES, Document, Kind, State
from sashwright.units import System
from sashwright.window import spec
from sashwright.window.problem import Problem

_LONGEST = 300


@dataclass(slots=True)
class Planned:
    """A row, what it is, and what it is to become; nothing where it is not there."""

    row: Kept
    before: State | None
    after: State | None

    @property
    def changes(self) -> bool:
        return self.before != self.after

    @property
    def name(self) -> str:
        """What it is called after the change, or last."""
        if self.after is None:
            return self.row.label
        return str(self.after.document["number"]) if self.row.kind == "window" else self.after.key


@contextmanager
def editing(slug: str, who: User) -> Iterator[Edit]:
    """A change in a house, all of it or nothing. Raises ``NotThere`` for an unknown house."""
    with transaction.atomic():
        house = House.objects.select_for_update().filter(slug=slug, gone=False).first()
        if house is None:
            raise NotThere(f"There is no house {slug}.")
        yield Edit(house, who)


class Edit:
    """Everything in one house that one change touches. Needs a transaction around it."""

    def __init__(self, house: House, who: User) -> None:
        self.house, self.who = house, who
        self._plans: dict[int, Planned] = {}
        self._rows: dict[tuple[str, int], Kept] = {}
        self.families = {row.key: row for row in Family.objects.filter(house=house, gone=False)}
        self.windows = {row.number: row for row in Window.objects.filter(house=house, gone=False)}
        for row in (house, *self.families.values(), *self.windows.values()):
            self._plan_of(row)
            self._rows[row.kind, row.pk] = row
        parts: list[Family | Window] = [*self.families.values(), *self.windows.values()]
        self._last = max((row.order for row in parts), default=-1)

    @property
    def system(self) -> System:
        """What a bare number means in this house."""
        return system_of(self.house.document)

    # --- planning

    def family(self, key: str) -> Family:
        if key not in self.families:
            raise NotThere(f"There is no family {key} in this house.")
        return self.families[key]

    def window(self, number: str) -> Window:
        if number not in self.windows:
            raise NotThere(f"There is no window {number} in this house.")
        return self.windows[number]

    def row(self, kind: Kind, key: str) -> Kept:
        """The house itself, or something in it. Raises ``NotThere``."""
        if kind == "house":
            return self.house
        if kind in ATTACHED:
            return self.attached(kind, key)
        return self.family(key) if kind == "family" else self.window(key)

    def attached(self, kind: Kind, key: str) -> Attached:
        """A photograph, order or visit of the house that is there. Raises ``NotThere``."""
        found = (
            ATTACHED[kind]._default_manager.filter(house=self.house, key=key, gone=False).first()
        )
        if found is None:
            raise NotThere(f"There is no {NAMES[kind]} {key} in this house.")
        row = self._rows.setdefault((kind, found.pk), found)
        assert isinstance(row, Attached), "rows are filed by their kind"
        return row

    def known(self, kind: str, identity: int) -> Kept | None:
        """A row of the house that is there, by its identity."""
        return self._rows.get((kind, identity))

    def becomes(self, row: Kept) -> State | None:
        """What a row is to be after this change, as far as planned."""
        return self._plan_of(row).after

    def plan(self, row: Kept, after: State | None) -> None:
        """Have a row become this, or go. The same in other units is no change."""
        plan = self._plan_of(row)
        plan.after = plan.before if self._same(row, plan.before, after) else after

    def rewrite(self, row: Kept, document: Document) -> None:
        """Have a row say this, in its old place and under its old key."""
        state = self.becomes(row)
        key, order = (state.key, state.order) if state else ("", 0)
        self.plan(row, State(document, key, order))

    def add_family(self, key: str, document: Document) -> Family:
        row = Family(house=self.house, key=key, order=0, document={}, gone=True)
        self.plan(row, State(document, key, self._next_order()))
        return row

    def add_window(self, document: Document) -> Window:
        number = document["number"]
        row = Window(house=self.house, number=number, order=0, document={}, gone=True)
        self.plan(row, State(document, order=self._next_order()))
        return row

    def attach(self, row: Attached, document: Document) -> None:
        """Plan a new row of the house, made by the caller with its key and fixed fields."""
        row.house, row.gone, row.document = self.house, True, {}
        self.plan(row, State(canonical(row.kind, document, self.system), row.key))

    def next_key(self, kind: type[Attached]) -> str:
        """One after the highest number ever given in the house, so that none comes twice."""
        given = kind._default_manager.filter(house=self.house).values_list("key", flat=True)
        return str(1 + max((int(key) for key in given if key.isdigit()), default=0))

    def _plan_of(self, row: Kept) -> Planned:
        if id(row) not in self._plans:
            self._plans[id(row)] = Planned(row, row.state, row.state)
        return self._plans[id(row)]

    def _same(self, row: Kept, one: State | None, other: State | None) -> bool:
        if one == other or one is None or other is None:
            return one == other
        first, second = (
            replace(state, document=rewritten(row.kind, state.document, self.system))
            for state in (one, other)
        )
        return first == second

    def _next_order(self) -> int:
        """Behind all that is there; that families and windows are counted together does no harm."""
        self._last += 1
        return self._last

    def as_planned(self) -> spec.House | None:
        """The house as it would be after this change so far; nothing where it goes itself."""
        return self._put_together(lambda plan: plan.after)

    # --- checking

    def check(self) -> None:
        """Raise ``Refused`` where what is planned would have the house contradict itself anew."""
        if self.becomes(self.house) is None:
            return
        changed = [plan for plan in self._plans.values() if plan.changes]
        if not changed:
            return
        self._check_shown(changed)
        windows = {plan.name for plan in changed if isinstance(plan.row, Window)}
        families = {plan.name for plan in changed if isinstance(plan.row, Family)}
        found = self._problems(lambda plan: plan.after, windows, families)
        if not found:
            return
        known = {p.field for p in self._problems(lambda plan: plan.before, windows, families)}
        fresh = [problem for problem in found if problem.field not in known]
        if fresh:
            raise Refused(fresh)

    def _check_shown(self, changed: Iterable[Planned]) -> None:
        """A photograph shows a window of its own house, or stays with one that is gone."""
        here = {row.pk for row in self.windows.values()}
        for plan in changed:
            if isinstance(plan.row, Photograph) and plan.after is not None:
                shows = plan.after.document.get("window")
                if shows not in (None, plan.row.window_id) and shows not in here:
                    raise refused("window", str(shows), "a window of this house")

    def _problems(
        self, state_of: Callable[[Planned], State | None], windows: set[str], families: set[str]
    ) -> list[Problem]:
        house = self._put_together(state_of)
        if house is None:
            return []
        return list(problems_in(house, windows, families & house.families.keys(), knowledge()))

    def _put_together(self, state_of: Callable[[Planned], State | None]) -> spec.House | None:
        def states(kind: type[Kept]) -> list[State]:
            plans = (plan for plan in self._plans.values() if isinstance(plan.row, kind))
            return sorted(filter(None, map(state_of, plans)), key=lambda state: state.order)

        houses = states(House)
        if not houses:
            return None
        families = states(Family)
        _refuse_doubles(state.key for state in families)
        return house_of(
            houses[0].document,
            {state.key: state.document for state in families},
            (state.document for state in states(Window)),
        )

    # --- writing

    def finish(self, says: str, *, check: bool = True, always: bool = False) -> Change | None:
        """Write what is planned as one change.

        Answers nothing where nothing changes, unless that is to be noted ``always``. Raises
        ``Refused`` where the house would contradict itself; ``check`` may be left out for a house
        that was checked as a whole.
        """
        plans = [plan for plan in self._plans.values() if plan.changes]
        if not plans and not always:
            return None
        if check:
            self.check()
        _write(plans)
        return self._note(plans, says)

    def finish_something(self, says: str) -> Change:
        """As ``finish``, where what is planned does change something."""
        change = self.finish(says, always=True)
        assert change is not None, "an edit that always counts makes a change"
        return change

    def _note(self, plans: list[Planned], says: str) -> Change:
        now, house = timezone.now(), self.house
        change = Change.objects.create(house=house, who=self.who, at=now, says=_short(says))
        Revision.objects.bulk_create(_revision(change, plan) for plan in plans)
        house.edition += 1
        house.changed_at, house.changed_by = now, self.who
        house.save()
        return change


def _write(plans: list[Planned]) -> None:
    fresh: dict[type[Kept], list[Kept]] = {}
    # What goes makes room for what takes its name.
    for plan in sorted(plans, key=lambda plan: plan.after is not None):
        plan.row.take(plan.after)
        if plan.row.pk is None:
            fresh.setdefault(type(plan.row), []).append(plan.row)
        else:
            plan.row.save()
    for kind, rows in fresh.items():
        kind._default_manager.bulk_create(rows)


def _revision(change: Change, plan: Planned) -> Revision:
    row = plan.row
    return Revision(
        change=change,
        kind=row.kind,
        row=row.pk,
        key=row.label,
        version=row.version,
        before=plan.before and plan.before.to_json(),
        after=plan.after and plan.after.to_json(),
    )


def _refuse_doubles(keys: Iterable[str]) -> None:
    """Two families of one key would pass for one."""
    twice = [key for key, count in Counter(keys).items() if count > 1]
    if twice:
        raise Refused(
            Problem(f"families.{key}", repr(key), "a key no other family has") for key in twice
        )


def _short(text: str) -> str:
    return text if len(text) <= _LONGEST else text[: _LONGEST - 1] + "…"
