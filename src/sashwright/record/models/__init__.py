"""The tables: what is kept now, and every change that led there.

Houses, families and windows, and what is attached to them, are rows that stay for good: one that was
removed is only marked as gone, so that its history, its readings and its place remain. What each says
is its document, the JSON form of the specification. All writing goes through the functions beside
``sashwright.record.store``.
"""

from collections.abc import Mapping

from sashwright.record.models.attached import Attached, Order, Photograph, Visit
from sashwright.record.models.history import Change, Revision
from sashwright.record.models.houses import Family, House, Kept, Window
from sashwright.record.models.people import (
    ClientLink,
    Pairing,
    Person,
    Presence,
    Sent,
    SignInTry,
    Token,
)
from sashwright.record.models.readings import Reading, StageChange
from sashwright.record.models.shop import ShopEdition
from sashwright.record.state import Kind

ATTACHED: Mapping[Kind, type[Attached]] = {"photo": Photograph, "order": Order, "visit": Visit}
"""What belongs to a house beside its specification, by kind."""

_KEPT: tuple[type[Kept], ...] = (House, Family, Window, *ATTACHED.values())
TABLES: Mapping[str, type[Kept]] = {table.kind: table for table in _KEPT}
"""All kept rows, by kind."""

__all__ = [
    "ATTACHED",
    "TABLES",
    "Attached",
    "Change",
    "ClientLink",
    "Family",
    "House",
    "Kept",
    "Order",
    "Pairing",
    "Person",
    "Photograph",
    "Presence",
    "Reading",
    "Revision",
    "Sent",
    "ShopEdition",
    "SignInTry",
    "StageChange",
    "Token",
    "Visit",
    "Window",
]
