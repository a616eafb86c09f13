"""The tables: what is kept now, and every change that led there.

Houses, families and windows are rows that stay for good: one that was removed is only marked as
gone, so that its history, its readings and its place remain. What each says is its document, the
JSON form of the specification. All writing goes through ``sashwright.record.store``.
"""

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


class Change(models.Model):
    """One act of one person in one house; what it did to each row are its revisions."""

    house = models.ForeignKey(House, on_delete=models.PROTECT, related_name="changes")
    who = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(db_index=True)
    says = models.CharField(max_length=300)
    undoes = models.ForeignKey("self", null=True, on_delete=models.PROTECT, related_name="+")
    """The change that this one took back."""
    undone = models.BooleanField(default=False)
    """Whether it is not in force now; it may be undone, done again, undone again."""

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return self.says


class Revision(models.Model):
    """What a change did to one row: its states before and after, absent where there was none."""

    change = models.ForeignKey(Change, on_delete=models.PROTECT, related_name="revisions")
    kind = models.CharField(max_length=8)
    row = models.BigIntegerField()
    """Identity of the house, family or window, which stays when it is renamed."""
    key = models.CharField(max_length=80)
    """What it was called after the change, or last."""
    version = models.PositiveIntegerField()
    before = models.JSONField(null=True)
    after = models.JSONField(null=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["kind", "row", "version"], name="one_revision_a_version"
            )
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.key} version {self.version}"

    @property
    def state_before(self) -> State | None:
        return None if self.before is None else State(**self.before)

    @property
    def state_after(self) -> State | None:
        return None if self.after is None else State(**self.after)


class Reading(models.Model):
    """A value read off an instrument at a window, kept also when it is read again."""

    window = models.ForeignKey(Window, on_delete=models.PROTECT, related_name="readings")
    change = models.ForeignKey(Change, on_delete=models.PROTECT, related_name="readings")
    which = models.CharField(max_length=8)
    """The upper or the lower sash."""
    kind = models.CharField(max_length=8, default="mass")
    value_kg = models.FloatField()
    state = models.CharField(max_length=32)
    who = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()
    note = models.TextField(blank=True)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.which} sash: {self.value_kg:g} kg"
