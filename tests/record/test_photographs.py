"""Photographs in the record: exactly once, never lost, described, drawn on, taken away and back."""

from __future__ import annotations

import io
import os
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.db import connection
from PIL import Image

from sashwright.record import picturefiles, store
from sashwright.record.models import Photograph
from sashwright.record.store import Conflict, NotThere, Refused
from tests.pictures import picture_file

ARROW = {"kind": "arrow", "points": [[0.1, 0.2], [0.5, 0.5]], "text": "soft"}


def files(folder: Path) -> list[Path]:
    return sorted(path for path in (folder / "photographs").rglob("*") if path.is_file())


def test_a_photograph_is_kept_with_its_window(elm: str, ann: User, tmp_path: Path) -> None:
    sent = picture_file(taken="2026:04:14 10:20:30", zone="-04:00", place=True)
    row = store.add_photograph(
        elm, sent, ann, window="101", component="lower.bottom_rail", note=" Soft. "
    )
    assert (row.window, row.component, row.note) == ("101", "lower.bottom_rail", "Soft.")
    assert (row.width, row.height, row.version) == (64, 48, 1)
    assert row.taken_at is not None
    assert row.taken_at.isoformat() == "2026-04-14T14:20:30+00:00"
    assert store.photographs(elm, "101") == [row]
    assert store.photographs(elm, "102") == []
    (kept,) = files(tmp_path)
    assert kept == tmp_path / "photographs" / row.digest[:2] / f"{row.digest}.jpg"
    assert kept.stat().st_size == row.size
    if os.name == "posix":
        assert kept.stat().st_mode & 0o077 == 0
    assert store.changes(elm, "photo", row.key)[0].says == "photograph of window 101 added"


def test_a_camera_without_a_zone_keeps_the_shops_time(elm: str, ann: User, settings: Any) -> None:
    settings.TIME_ZONE = "America/New_York"
    row = store.add_photograph(elm, picture_file(taken="2026:07:01 12:00:00"), ann)
    assert row.taken_at is not None
    assert row.taken_at.astimezone().utctimetuple().tm_hour == 16


def test_the_same_key_is_the_same_photograph(elm: str, ann: User, tmp_path: Path) -> None:
    sent = picture_file()
    one = store.add_photograph(elm, sent, ann, window="101", key="abc-1")
    again = store.add_photograph(elm, sent, ann, window="101", note="later", key="abc-1")
    assert again == one
    assert len(store.photographs(elm)) == 1
    assert len(store.changes(elm, "photo", "abc-1")) == 1
    with pytest.raises(Refused, match="another picture under this key"):
        store.add_photograph(elm, picture_file(seed=2), ann, key="abc-1")


def test_sent_again_after_it_was_taken_away_it_stays_away(elm: str, ann: User) -> None:
    sent = picture_file()
    store.add_photograph(elm, sent, ann, key="abc-1")
    store.remove_photograph(elm, "abc-1", ann)
    assert store.add_photograph(elm, sent, ann, key="abc-1").gone
    assert store.photographs(elm) == []


def test_without_a_key_one_picture_of_one_window_counts_once(
    elm: str, ann: User, tmp_path: Path
) -> None:
    sent = picture_file()
    one = store.add_photograph(elm, sent, ann, window="101")
    assert store.add_photograph(elm, sent, ann, window="101") == one
    other = store.add_photograph(elm, sent, ann, window="102")
    house = store.add_photograph(elm, sent, ann)
    assert len({one.key, other.key, house.key}) == 3
    # Its file is there once.
    assert len(files(tmp_path)) == 1
    store.remove_photograph(elm, one.key, ann)
    back = store.add_photograph(elm, sent, ann, window="101", note="again")
    assert (back.key, back.gone, back.note) == (one.key, False, "again")


def test_what_is_wrong_changes_nothing(elm: str, ann: User, tmp_path: Path) -> None:
    sent = picture_file()
    for how, refusal in (
        ({"window": "999"}, NotThere),
        ({"component": "lower.sofa"}, Refused),
        ({"key": "../../etc/passwd"}, Refused),
    ):
        with pytest.raises(refusal):
            store.add_photograph(elm, sent, ann, **how)  # type: ignore[arg-type]
    with pytest.raises(Refused):
        store.add_photograph(elm, b"no picture", ann)
    with pytest.raises(NotThere):
        store.add_photograph("nowhere", sent, ann)
    assert store.photographs(elm) == []


def test_the_file_is_there_before_the_row(
    elm: str, ann: User, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: object) -> None:
        raise OSError("disk full")

    monkeypatch.setattr(picturefiles.os, "fsync", fails)
    with pytest.raises(OSError, match="disk full"):
        store.add_photograph(elm, picture_file(), ann)
    assert store.photographs(elm) == []
    # Not even half a file is left.
    assert files(tmp_path) == []


def test_taken_away_and_back(elm: str, ann: User, bob: User, tmp_path: Path) -> None:
    row = store.add_photograph(elm, picture_file(), ann, window="101")
    change = store.remove_photograph(elm, row.key, bob)
    assert store.photographs(elm) == []
    with pytest.raises(NotThere):
        store.photograph_file(elm, row.key)
    assert len(files(tmp_path)) == 1
    store.undo(change.pk, ann)
    assert store.photograph(elm, row.key).window == "101"
    assert store.photograph_file(elm, row.key)[0].exists()


def test_it_follows_a_window_that_is_renumbered_or_removed(elm: str, ann: User) -> None:
    row = store.add_photograph(elm, picture_file(), ann, window="101")
    store.renumber_window(elm, "101", "111", ann)
    assert store.photograph(elm, row.key).window == "111"
    store.remove_window(elm, "111", ann)
    assert store.photograph(elm, row.key).window_gone


def test_drawn_on_and_undone(elm: str, ann: User) -> None:
    row = store.add_photograph(elm, picture_file(), ann, window="101")
    store.mark_photograph(elm, row.key, [ARROW], row.version, ann)
    (mark,) = store.photograph(elm, row.key).marks
    assert (mark.kind, mark.points, mark.text) == ("arrow", ((0.1, 0.2), (0.5, 0.5)), "soft")
    store.undo(store.changes(elm, "photo", row.key)[0].id, ann)
    assert store.photograph(elm, row.key).marks == ()
    with pytest.raises(Refused):
        store.mark_photograph(elm, row.key, [{**ARROW, "points": [[1.2, 0]]}], 3, ann)


def test_two_people_at_one_photograph(elm: str, ann: User, bob: User) -> None:
    row = store.add_photograph(elm, picture_file(), ann, window="101")
    store.mark_photograph(elm, row.key, [ARROW], row.version, ann)
    # What was said of it meanwhile is another field.
    how: dict[str, Any] = {"window": "102", "component": "sill", "note": "rotten"}
    kept = store.describe_photograph(elm, row.key, row.version, bob, **how)
    assert kept.merged
    now = store.photograph(elm, row.key)
    assert (now.window, now.component, len(now.marks)) == ("102", "sill", 1)
    with pytest.raises(Conflict):
        store.mark_photograph(elm, row.key, [{**ARROW, "kind": "line"}], row.version, bob)


def test_sizes_are_made_once_and_upright(elm: str, ann: User, tmp_path: Path) -> None:
    sent = picture_file(size=(1600, 900), orientation=6)
    row = store.add_photograph(elm, sent, ann)
    assert (row.width, row.height) == (900, 1600)
    for size, expected in (("small", (180, 320)), ("page", (720, 1280)), ("upright", (900, 1600))):
        path, content_type = store.photograph_file(elm, row.key, size)  # type: ignore[arg-type]
        assert content_type == "image/jpeg"
        assert path.is_relative_to(tmp_path / "cache")
        with Image.open(path) as copy:
            assert copy.size == expected
        made = path.stat().st_mtime_ns
        assert store.photograph_file(elm, row.key, size)[0].stat().st_mtime_ns == made  # type: ignore[arg-type]
    original, _ = store.photograph_file(elm, row.key)
    assert original.is_relative_to(tmp_path / "photographs")


def test_an_upright_picture_is_measured_on_as_it_is(elm: str, ann: User) -> None:
    row = store.add_photograph(elm, picture_file("PNG"), ann)
    path, content_type = store.photograph_file(elm, row.key, "upright")
    assert (path, content_type) == store.photograph_file(elm, row.key)
    assert content_type == "image/png"
    with Image.open(io.BytesIO(path.read_bytes())) as picture:
        assert picture.size == (64, 48)


def test_a_missing_file_is_told(elm: str, ann: User, tmp_path: Path) -> None:
    row = store.add_photograph(elm, picture_file(), ann)
    files(tmp_path)[0].unlink()
    with pytest.raises(NotThere, match="missing from the data folder"):
        store.photograph_file(elm, row.key)


def test_a_finding_names_a_photograph(elm: str, ann: User) -> None:
    found = [{"on": "lower.bottom_rail", "fault": "decay"}]
    window = store.stored(elm, "window", "101")
    store.save_fields(elm, "window", "101", {"condition": {"found": found}}, window.version, ann)
    row = store.add_photograph(elm, picture_file(), ann, window="101", key="rail")
    store.name_in_finding(elm, "rail", 0, ann)
    store.name_in_finding(elm, "rail", 0, ann)
    assert store.findings_of(elm, "101")[0]["photos"] == ["rail"]
    with pytest.raises(NotThere):
        store.name_in_finding(elm, row.key, 1, ann)


@pytest.mark.usefixtures("database_file")
def test_sent_by_several_at_once_it_is_there_once() -> None:
    from tests.factories import house_document

    owner = store.local_owner()
    slug = store.create_house(house_document(), owner)
    sent = picture_file()

    def send(_: int) -> str:
        try:
            return store.add_photograph(slug, sent, owner, window="101", key="once").key
        finally:
            connection.close()

    with ThreadPoolExecutor(4) as pool:
        assert set(pool.map(send, range(8))) == {"once"}
    assert Photograph.objects.count() == 1
    assert len(store.changes(slug, "photo", "once")) == 1


def test_a_photograph_shows_no_window_of_another_house(elm: str, ann: User) -> None:
    from sashwright.record.models import Window
    from tests.factories import house_document

    other = store.create_house(house_document(name="Next door"), ann)
    row = store.add_photograph(elm, picture_file(), ann, window="101")
    strange = Window.objects.get(house__slug=other, number="101").pk
    with pytest.raises(Refused, match="a window of this house"):
        store.save_fields(elm, "photo", row.key, {"window": strange}, row.version, ann)


def test_the_history_knows_windows_by_their_numbers(elm: str, ann: User) -> None:
    row = store.add_photograph(elm, picture_file(), ann, window="101")
    how: dict[str, Any] = {"window": "102", "component": None, "note": ""}
    store.describe_photograph(elm, row.key, row.version, ann, **how)
    (revision,) = store.changes(elm, "photo", row.key)[0].revisions
    assert [(c.path, c.before, c.after) for c in store.compare(revision.id)] == [
        ("window", "101", "102")
    ]
