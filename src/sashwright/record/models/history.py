"""Every change that led to what is kept now."""

from __future__ import annotations

from django.contrib.auth.models import User
from django.db import models

from sashwright.record.models.houses import House
from sashwright.record.state import State


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
