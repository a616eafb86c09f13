"""What belongs to a house beside its specification: photographs, orders, visits.

They are kept rows as windows are, so that their history is written, shown and undone alike.
"""

from __future__ import annotations

from django.db import models

from sashwright.record.models.houses import House, Kept, Window
from sashwright.record.state import State


class Attached(Kept):
    """A row of a house that is named by its own number and says all else in its document."""

    house = models.ForeignKey(House, on_delete=models.PROTECT, related_name="+")
    key = models.CharField(max_length=64)

    class Meta:
        abstract = True
        ordering = ["pk"]

    def __str__(self) -> str:
        return self.key

    @property
    def label(self) -> str:
        return self.key

    def _present(self) -> State:
        return State(self.document, self.key)

    def _take(self, state: State) -> None:
        self.document, self.key = state.document, state.key


class Photograph(Attached):
    """A photograph; the picture itself is a file named by its digest, which never changes."""

    kind = "photo"

    window = models.ForeignKey(
        Window, null=True, on_delete=models.PROTECT, related_name="photographs"
    )
    """The window it shows, as its document says."""
    digest = models.CharField(max_length=64, db_index=True)
    """SHA-256 of the file, in hexadecimal."""
    size = models.PositiveBigIntegerField()
    """Of the file [bytes]."""
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    """As it stands upright [pixels]."""
    taken_at = models.DateTimeField(null=True)
    at = models.DateTimeField()
    """When it was brought in."""

    class Meta(Attached.Meta):
        constraints = [
            models.UniqueConstraint(fields=["house", "key"], name="one_photograph_of_a_key")
        ]

    def _take(self, state: State) -> None:
        super()._take(state)
        self.window_id = state.document.get("window")


class Order(Attached):
    kind = "order"

    class Meta(Attached.Meta):
        constraints = [models.UniqueConstraint(fields=["house", "key"], name="one_order_of_a_key")]


class Visit(Attached):
    kind = "visit"

    class Meta(Attached.Meta):
        constraints = [models.UniqueConstraint(fields=["house", "key"], name="one_visit_of_a_key")]
