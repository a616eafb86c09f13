"""Short lists of what a house holds, without reading the whole of it."""

from __future__ import annotations

from datetime import datetime

from sashwright.record.models import Family, House, Window


def changed(slug: str) -> datetime:
    """When anything in a house was changed last."""
    return House.objects.values_list("changed_at", flat=True).get(slug=slug)


def numbers(slug: str) -> list[str]:
    """Numbers of all windows, in the order of the house."""
    found = Window.objects.filter(house__slug=slug, house__gone=False, gone=False)
    return list(found.values_list("number", flat=True))


def families(slug: str) -> tuple[tuple[str, str], ...]:
    """Keys of all families with what they are called, in the order of the house."""
    found = Family.objects.filter(house__slug=slug, house__gone=False, gone=False)
    return tuple(
        (key, f"{key}: {document['name']}" if document.get("name") else key)
        for key, document in found.values_list("key", "document")
    )


def using(slug: str, family: str) -> list[str]:
    """Numbers of the windows of a family."""
    found = Window.objects.filter(
        house__slug=slug, house__gone=False, gone=False, document__family=family
    )
    return list(found.values_list("number", flat=True))
