"""What was read, and where each sash stood, one by one: never changed, only added to."""

from __future__ import annotations

from django.contrib.auth.models import User
from django.db import models

from sashwright.record.models.history import Change
from sashwright.record.models.houses import Window


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


class StageChange(models.Model):
    """A sash, storm or screen that came to another stage of the work; the last one is where it stands."""

    window = models.ForeignKey(Window, on_delete=models.PROTECT, related_name="stages")
    change = models.ForeignKey(Change, on_delete=models.PROTECT, related_name="stages")
    piece = models.CharField(max_length=32)
    """Which of the window's pieces: the upper sash, a storm, a screen."""
    stage = models.CharField(max_length=32)
    reason = models.CharField(max_length=300, blank=True)
    """Why it went back, where it did."""
    who = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.piece}: {self.stage}"
