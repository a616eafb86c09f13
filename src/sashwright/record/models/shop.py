"""What belongs to the shop and no one house: stock, bin of weights, rates, hours in a week."""

from __future__ import annotations

from django.contrib.auth.models import User
from django.db import models


class ShopEdition(models.Model):
    """What the shop's document said from one change to the next; the last edition counts."""

    edition = models.PositiveIntegerField(unique=True)
    document = models.JSONField()
    says = models.CharField(max_length=300)
    who = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        ordering = ["-edition"]

    def __str__(self) -> str:
        return self.says
