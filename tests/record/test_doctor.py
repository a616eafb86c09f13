"""Whether the examination sees what is wrong, and takes nothing for wrong that is not."""

from __future__ import annotations

from pathlib import Path

from django.contrib.auth.models import User

from sashwright.record.backup.rotation import backup_now
from sashwright.record.doctor import Point, examine


def point(about: str) -> Point:
    return next(each for each in examine() if each.about == about)


def test_all_is_well_once_there_is_a_backup(elm: str) -> None:
    assert point("backup").do == "sashwright backup"
    backup_now()
    assert {each.about for each in examine() if each.state == "bad"} == set()
    assert "the last is whole and 0 hours old" in point("backup").says


def test_a_locked_backup_is_no_damaged_one(elm: str) -> None:
    backup_now("four words are good")
    found = point("backup")
    assert (found.state, "the last is locked" in found.says) == ("good", True)


def test_a_damaged_backup_is_told(ann: User, elm: str) -> None:
    path: Path = backup_now()[0]
    path.write_bytes(path.read_bytes()[:-40])
    found = point("backup")
    assert found.state == "bad"
    assert "damaged" in found.says
