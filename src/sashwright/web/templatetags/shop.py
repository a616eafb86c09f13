"""Small pictures for templates: marks of findings, and the icons of buttons."""

from __future__ import annotations

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe

register = template.Library()

# Each level has a shape of its own, so that nothing hangs on colour.
_MARKS = {
    "ok": '<path fill="none" stroke="currentColor" stroke-width="2.2" d="M4 10.8 8.2 15 16 5.5"/>',
    "note": (
        '<circle cx="10" cy="10" r="7.4" fill="none" stroke="currentColor" stroke-width="1.8"/>'
        '<path stroke="currentColor" stroke-width="2" d="M10 9v5.2M10 5.6v1.8"/>'
    ),
    "caution": (
        '<path fill="none" stroke="currentColor" stroke-width="2" stroke-linejoin="round" '
        'd="M10 2.6 18.2 17H1.8z"/>'
        '<path stroke="currentColor" stroke-width="2" d="M10 7.4v4.4M10 13.2v1.9"/>'
    ),
    "fail": (
        '<path fill="currentColor" d="M1.5 1.5h17v17h-17z"/>'
        '<path stroke="var(--sheet)" stroke-width="2.4" d="m6 6 8 8m0-8-8 8"/>'
    ),
}
LEVEL_WORDS = {"ok": "Fine", "note": "Note", "caution": "Caution", "fail": "Fails"}

_ICONS = {
    "light": (
        '<circle cx="10" cy="10" r="3.6"/>'
        '<path d="M10 1.5v2.6M10 15.9v2.6M1.5 10h2.6M15.9 10h2.6M4 4l1.8 1.8'
        'M14.2 14.2 16 16M16 4l-1.8 1.8M5.8 14.2 4 16"/>'
    ),
    "dark": '<path d="M15.8 12.6A6.8 6.8 0 0 1 7.4 4.2a6.8 6.8 0 1 0 8.4 8.4z"/>',
    "system": (
        '<circle cx="10" cy="10" r="7"/><path fill="currentColor" d="M10 3a7 7 0 0 1 0 14z"/>'
    ),
    "undo": '<path d="M4 8.5h8.5a4 4 0 0 1 0 8H8M4 8.5l4-4M4 8.5l4 4"/>',
    "redo": '<path d="M16 8.5H7.5a4 4 0 0 0 0 8H12M16 8.5l-4-4M16 8.5l-4 4"/>',
    "previous": '<path d="m12.5 4-6 6 6 6"/>',
    "next": '<path d="m7.5 4 6 6-6 6"/>',
    "plus": '<path d="M10 3.5v13M3.5 10h13"/>',
    "minus": '<path d="M3.5 10h13"/>',
    "close": '<path d="m5 5 10 10m0-10L5 15"/>',
    "download": '<path d="M10 3v9.5M6 9l4 4 4-4M3.5 16.5h13"/>',
    "scale": '<path d="M10 3v13M5.5 16.5h9M3.5 6.5h13M3.5 6.5 1.5 11h4zM16.5 6.5l-2 4.5h4z"/>',
}


@register.simple_tag
def mark(level: str) -> SafeString:
    """The mark of a finding's level, said in words to those who do not see it."""
    return format_html(
        '<svg class="mark mark-{}" viewBox="0 0 20 20" role="img" aria-label="{}">{}</svg>',
        level,
        LEVEL_WORDS.get(level, level),
        mark_safe(_MARKS.get(level, "")),
    )


@register.simple_tag
def icon(name: str) -> SafeString:
    """A line icon; the button that holds it says its name."""
    return format_html(
        '<svg class="icon" viewBox="0 0 20 20" fill="none" stroke="currentColor" '
        'stroke-width="1.8" aria-hidden="true" focusable="false">{}</svg>',
        mark_safe(_ICONS[name]),
    )


@register.simple_tag
def bar(share: float, other: float | None = None) -> SafeString:
    """A bar in a table, and one in it for comparison; what it says stands in words beside it."""
    one = format_html('<rect class="bar-one" width="{}" height="10"/>', round(100 * share, 2))
    two = (
        ""
        if other is None
        else format_html('<rect class="bar-two" width="{}" height="10"/>', round(100 * other, 2))
    )
    return format_html(
        '<svg class="bar" viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true" '
        'focusable="false">{}{}</svg>',
        one,
        two,
    )
