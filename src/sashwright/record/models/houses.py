"""Houses, families and windows, as they are kept now."""

from __future__ import annotations

from typing import ClassVar

from django.contrib.auth.models import User
from django.db import models

from sashwright.record.state import Kind, State


class Kept(models.Model):
    """A row with a document and a version, which counts its changes."""

    kind: ClassVar[Kind]

    document = models.JSONField()
    version = models.PositiveIntegerField(default=0)
    gone = models.BooleanField(default=False)

    class Meta:
        abstract = True

    @property
    def label(self) -> str:
        """What it is called: a house by its slug, its parts by key or number."""
        raise NotImplementedError

    @property
    def state(self) -> State | None:
        """What it says now; nothing once it is gone."""
        return None if self.gone else self._present()

    def _present(self) -> State:
        return State(self.document)

    def take(self, state: State | None) -> None:
        """Take over a state, as the next version. What is gone keeps its last document."""
        self.version += 1
        self.gone = state is None
        if state is not None:
            self._take(state)

    def _take(self, state: State) -> None:
        self.document = state.document


class House(Kept):
    kind = "house"

    slug = models.SlugField(max_length=80, unique=True)
    edition = models.PositiveIntegerField(default=0)
    """Counts the changes in the whole house: the same edition, the same contents."""
    created_at = models.DateTimeField()
    changed_at = models.DateTimeField()
    changed_by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+")

    def __str__(self) -> str:
        return self.slug

    @property
    def label(self) -> str:
        return self.slug


class Family(Kept):
    kind = "family"

    house = models.ForeignKey(House, on_delete=models.PROTECT, related_name="families")
    key = models.CharField(max_length=64)
    order = models.PositiveIntegerField()

    class Meta:
        ordering = ["order", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["house", "key"], condition=models.Q(gone=False), name="one_family_of_a_key"
            )
        ]

    def __str__(self) -> str:
        return self.key

    @property
    def label(self) -> str:
        return self.key

    def _present(self) -> State:
        return State(self.document, self.key, self.order)

    def _take(self, state: State) -> None:
        self.document, self.key, self.order = state.document, state.key, state.order


class Window(Kept):
    kind = "window"

    house = models.ForeignKey(House, on_delete=models.PROTECT, related_name="windows")
    number = models.CharField(max_length=16)
    order = models.PositiveIntegerField()

    class Meta:
        ordering = ["order", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["house", "number"],
                condition=models.Q(gone=False),
                name="one_window_of_a_number",
            )
        ]

    def __str__(self) -> str:
        return self.number

    @property
    def label(self) -> str:
        return self.number

    def _present(self) -> State:
        return State(self.document, order=self.order)

    def _take(self, state: State) -> None:
        self.document, self.order = state.document, state.order
        self.number = state.document["number"]
