"""Who may open which page: what it takes to look at it and to send something to it.

Each address has its line here; one without is for the owner only, so that a forgotten line locks a page
rather than opening it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sashwright.record.roles import Role, is_at_least

OPEN = frozenset(
    {"sign-in", "pair", "look", "certificate", "drawing-css", "manifest", "offline-worker"}
)
"""Pages that need nobody to be known."""

# What a client with a link may look at, in the one house of the link: the windows, what they are worth and
# how they are kept; not the shop's own prices, stock and people, and not the history of who did what.
CLIENT = frozenset(
    {
        "house", "window", "window-svg", "window-fit", "window-seal", "window-season", "window-heat",
        "window-grade", "air", "warmth", "wind", "breathe", "worth", "seasons", "climate",
        "photographs", "window-photographs", "photograph", "photograph-picture",
        "keep", "keep-ics",
    }
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Rule:
    """The least role for looking, and for sending."""

    look: Role = "viewer"
    send: Role = "surveyor"


_LOOK_ONLY = Rule(send="owner")
_AT_THE_BENCH = Rule(send="bench")
_OWNER = Rule("owner", "owner")
_ANYBODY = Rule(send="viewer")
_SURVEY = Rule()
_TO_SURVEY = Rule("surveyor", "surveyor")

_GROUPS: tuple[tuple[Rule, tuple[str, ...]], ...] = (
    (_ANYBODY, ("sign-out", "theme", "units", "here", "tokens", "token-withdraw", "password")),
    (
        _LOOK_ONLY,
        (
            "houses", "house", "climate", "air", "warmth", "wind", "breathe", "worth", "make", "seasons",
            "export-house", "papers", "paper-choice", "paper-sheet", "lists", "answer", "history",
            "compare", "window-svg", "window-fit", "window-seal", "window-season", "window-heat",
            "window-grade",
        ),
    ),
    (_AT_THE_BENCH, ("bench", "bench-window", "undo", "season-mark")),
    (_AT_THE_BENCH, ("shop-drawer", "shop-supplies", "shop-edition", "cut-take")),
    (_LOOK_ONLY, ("shop", "shop-history", "shop-file", "cut", "bin", "bin-sash")),
    (_LOOK_ONLY, ("keep", "keep-ics", "due", "window-history")),
    (_AT_THE_BENCH, ("visit-new",)),
    (_LOOK_ONLY, ("treat", "window-treat", "price", "window-price")),
    (_AT_THE_BENCH, ("window-spent",)),
    (_SURVEY, ("window-decide", "price-keep", "price-accept")),
    (_AT_THE_BENCH, ("board", "board-all", "scan", "order-came")),
    (_SURVEY, ("orders", "order-new", "order-act")),
    (_LOOK_ONLY, ("schedule-csv", "schedule-xlsx")),
    (_TO_SURVEY, ("schedule", "schedule-read")),
    (
        _AT_THE_BENCH,
        (
            "photographs", "window-photographs", "photograph", "photograph-picture",
            "photograph-about", "photograph-mark", "photograph-step",
        ),
    ),
    (
        _SURVEY,
        (
            "photograph-name", "remove-photograph", "measure", "measure-answer", "measure-keep",
            "remove-measure",
        ),
    ),
    (_SURVEY, ("shop-rules",)),
    (
        _SURVEY,
        (
            "house-details", "house-field", "house-wall", "house-typical", "house-typical-save",
            "rooms", "room-save", "door-save", "season-keep", "family", "family-field",
            "family-preview", "family-more", "family-hardware", "family-typical",
            "family-typical-save", "family-step", "window", "window-field", "window-preview",
            "window-more", "window-condition", "window-condition-save", "window-step",
        ),
    ),
    (
        _TO_SURVEY,
        (
            "new-house", "import-house", "add", "new-window", "new-family", "copy-family", "remove-family",
            "renumber-window", "copy-window", "remove-window", "links", "link-withdraw",
            "offline", "offline-here", "offline-house", "offline-send", "offline-photo",
        ),
    ),
    (_OWNER, ("remove-house", "restore-house", "replace-house", "people", "person", "pair-device",
            "backups", "backup-file", "export-all")),
)  # fmt: skip

RULES: Mapping[str, Rule] = {name: rule for rule, names in _GROUPS for name in names}

# What only looks, whatever the way it is asked.
LOOKING = frozenset({"GET", "HEAD", "OPTIONS"})


def rule_of(name: str) -> Rule:
    """What it takes at the address with this name."""
    return RULES.get(name, _OWNER)


def may(role: Role | None, name: str, method: str) -> bool:
    """Whether somebody with this role may ask this of the address with this name."""
    rule = rule_of(name)
    return is_at_least(role, rule.look if method in LOOKING else rule.send)


def why_not(role: Role | None, name: str, method: str) -> str:
    """One sentence about what it would take."""
    if role is None:
        return "This account is closed."
    rule = rule_of(name)
    wanted = rule.look if method in LOOKING else rule.send
    return f"This takes the role {wanted}, and yours is {role}; the owner can change that."


def client_may(name: str, method: str, slug: str | None, own: str) -> bool:
    """Whether whoever has a link to the house ``own`` may ask this."""
    if name in ("theme", "sign-out") or (name == "units" and slug == own):
        return True
    return name in CLIENT and method in LOOKING and slug == own
