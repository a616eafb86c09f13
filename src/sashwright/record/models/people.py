"""Who may do what, and by which key they come in."""

from __future__ import annotations

from django.contrib.auth.models import User
from django.db import models

from sashwright.record.models.houses import House


class Person(models.Model):
    """What a person of the shop may do."""

    user = models.OneToOneField(User, on_delete=models.CASCADE, related_name="person")
    role = models.CharField(max_length=16)

    def __str__(self) -> str:
        return f"{self.user}: {self.role}"


class Key(models.Model):
    """Something that opens the door: only its digest is kept, so that a copy of the record opens none."""

    digest = models.CharField(max_length=64, unique=True)
    name = models.CharField(max_length=80)
    made_at = models.DateTimeField()
    expires_at = models.DateTimeField(null=True)
    used_at = models.DateTimeField(null=True)
    gone = models.BooleanField(default=False)

    class Meta:
        abstract = True
        ordering = ["pk"]

    def __str__(self) -> str:
        return self.name


class Token(Key):
    """Lets a program act for a person."""

    user = models.ForeignKey(User, on_delete=models.CASCADE, related_name="tokens")


class ClientLink(Key):
    """Lets whoever has it look at one house."""

    house = models.ForeignKey(House, on_delete=models.PROTECT, related_name="links")
    made_by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+")


class Pairing(Key):
    """Lets one device of the shop in, once, by a code read off the screen."""

    user = models.ForeignKey(User, on_delete=models.CASCADE, related_name="pairings")


class SignInTry(models.Model):
    """An attempt to sign in that failed, to slow down those that guess."""

    name = models.CharField(max_length=150)
    address = models.CharField(max_length=64)
    at = models.DateTimeField(db_index=True)

    class Meta:
        indexes = [models.Index(fields=["name", "at"]), models.Index(fields=["address", "at"])]

    def __str__(self) -> str:
        return self.name


class Presence(models.Model):
    """Who had a page open last, and when."""

    house = models.ForeignKey(House, on_delete=models.CASCADE, related_name="+")
    user = models.ForeignKey(User, on_delete=models.CASCADE, related_name="+")
    about = models.CharField(max_length=100)
    """What the page is about: ``window 204``."""
    at = models.DateTimeField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["house", "user", "about"], name="one_presence")
        ]

    def __str__(self) -> str:
        return f"{self.user}: {self.about}"


class Sent(models.Model):
    """What a device has sent and got answered, so that sending it again does nothing twice."""

    key = models.UUIDField(unique=True)
    """Made by the device with the entry."""
    user = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+")
    digest = models.CharField(max_length=64)
    """Of what was sent: another entry must not pass under the same key."""
    answer = models.JSONField()
    at = models.DateTimeField(db_index=True)

    def __str__(self) -> str:
        return str(self.key)
