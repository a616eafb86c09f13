"""Photographs on pages: brought in, looked at, drawn on, measured on, and nobody else's file."""

from __future__ import annotations

import json
from typing import Any

import numpy as np
import pytest
from django.contrib.auth.models import User
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse

from sashwright.record import store
from tests.cameras import CORNERS, HIGH, SIZE, WIDE, PinholeCamera, turned
from tests.pictures import picture_file

JSON = {"Accept": "application/json"}


@pytest.fixture
def photo(elm: str, owner: User) -> store.PhotographRow:
    """A photograph of window 101."""
    return store.add_photograph(
        elm, picture_file(), owner, window="101", component="lower.bottom_rail", key="rail"
    )


def sent(name: str = "one.jpg", data: bytes | None = None) -> SimpleUploadedFile:
    return SimpleUploadedFile(name, data or picture_file(), "image/jpeg")


def told(here: Client, address: str) -> str:
    return here.get(address).content.decode()


def test_photographs_are_brought_in_by_a_plain_form(here: Client, elm: str) -> None:
    files = [sent(), sent("two.jpg", picture_file(seed=2)), sent("three.jpg", b"no picture")]
    answer = here.post(
        reverse("photographs", args=[elm]), {"window": "101", "note": "damp", "photo": files}
    )
    assert answer.headers["Location"] == reverse("window-photographs", args=[elm, "101"])
    page = told(here, answer.headers["Location"])
    assert "2 photographs are kept." in page
    assert "three.jpg: found a file that is no picture" in page
    assert [row.note for row in store.photographs(elm, "101")] == ["damp", "damp"]


def test_one_by_one_each_answer_says_what_became_of_it(here: Client, elm: str) -> None:
    address = reverse("photographs", args=[elm])
    answer = here.post(address, {"key": "abc", "photo": sent()}, headers=JSON)
    assert answer.json() == {"keys": ["abc"], "says": ""}
    again = here.post(address, {"key": "abc", "photo": sent()}, headers=JSON)
    assert again.status_code == 200
    assert len(store.photographs(elm)) == 1
    wrong = here.post(
        address, {"photo": sent("a.heic", b"\0\0\0\x18ftypheic" + bytes(20))}, headers=JSON
    )
    assert wrong.status_code == 422
    assert "a telephone can be set to take the most compatible pictures" in wrong.json()["says"]
    assert here.post(address, {}, headers=JSON).status_code == 422


def test_pages_of_photographs(
    here: Client, part: Client, elm: str, photo: store.PhotographRow
) -> None:
    assert "Window 101" in told(here, reverse("photographs", args=[elm]))
    small = reverse("photograph-picture", args=[elm, "rail", "small"])
    assert small in told(here, reverse("window-photographs", args=[elm, "101"]))
    inside = part.get(reverse("window-photographs", args=[elm, "101"])).content.decode()
    assert inside.startswith('<section class="section" id="part-photographs"')
    page = told(here, reverse("photograph", args=[elm, "rail"]))
    assert "Lower bottom rail" in page
    assert 'alt="Photograph of window 101, lower bottom rail"' in page
    assert " style=" not in page


def test_the_picture_is_served_as_what_it_is_to_those_of_the_house(
    here: Client, elm: str, photo: store.PhotographRow
) -> None:
    for size, content_type in (("small", "image/jpeg"), ("original", "image/jpeg")):
        answer = here.get(reverse("photograph-picture", args=[elm, "rail", size]))
        assert answer.headers["Content-Type"] == content_type
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        assert answer.headers["Cache-Control"].startswith("private")
        assert b"".join(answer.streaming_content).startswith(b"\xff\xd8")  # type: ignore[attr-defined]
    elsewhere = Client(SERVER_NAME="localhost", REMOTE_ADDR="192.0.2.7")
    assert (
        elsewhere.get(reverse("photograph-picture", args=[elm, "rail", "small"])).status_code == 302
    )


@pytest.mark.parametrize(
    "address",
    [
        "photographs/rail/picture/huge",
        "photographs/other/picture/small",
        "photographs/..%2f..%2frecord.sqlite3/picture/original",
        "photographs/rail/picture/..%2f..%2f..%2fsecret",
    ],
)
def test_no_other_file_is_ever_served(
    here: Client, elm: str, photo: store.PhotographRow, address: str
) -> None:
    assert here.get(f"/{elm}/{address}").status_code == 404


def test_a_photograph_belongs_to_its_house(
    here: Client, elm: str, owner: User, photo: store.PhotographRow
) -> None:
    other = store.create_house({"name": "Next door"}, owner)
    assert here.get(reverse("photograph-picture", args=[other, "rail", "small"])).status_code == 404
    assert here.get(reverse("photograph", args=[other, "rail"])).status_code == 404


def test_described_drawn_on_undone_and_taken_away(
    here: Client, part: Client, elm: str, photo: store.PhotographRow
) -> None:
    about = reverse("photograph-about", args=[elm, "rail"])
    here.post(about, {"base": 1, "window": "101", "component": "sill", "note": "<b>rot</b>"})
    row = store.photograph(elm, "rail")
    assert (row.component, row.note) == ("sill", "<b>rot</b>")
    assert "<b>rot" not in told(here, reverse("photograph", args=[elm, "rail"]))
    mark = {"kind": "ring", "points": [[0.5, 0.5], [0.6, 0.5]], "text": "here"}
    drawn = part.post(reverse("photograph-mark", args=[elm, "rail"]), {"mark": json.dumps(mark)})
    assert drawn.status_code == 200
    assert "Ring: here" in drawn.content.decode()
    here.post(reverse("photograph-step", args=[elm, "rail"]), {"way": "undo"})
    assert store.photograph(elm, "rail").marks == ()
    here.post(reverse("photograph-step", args=[elm, "rail"]), {"way": "redo"})
    version = store.photograph(elm, "rail").version
    address = reverse("photograph-mark", args=[elm, "rail"])
    here.post(address, {"act": "remove", "mark": "0", "base": version})
    assert store.photograph(elm, "rail").marks == ()
    here.post(reverse("remove-photograph", args=[elm, "rail"]))
    assert store.photographs(elm) == []


@pytest.mark.parametrize(
    "mark",
    [
        "",
        "[]",
        "{}",
        '{"kind": "sofa", "points": [[0, 0]]}',
        '{"kind": "line", "points": [[2, 0]]}',
    ],
)
def test_a_mark_that_is_none_is_told(
    part: Client, elm: str, photo: store.PhotographRow, mark: str
) -> None:
    answer = part.post(reverse("photograph-mark", args=[elm, "rail"]), {"mark": mark})
    assert answer.status_code == 422
    assert 'role="alert"' in answer.content.decode()


def test_described_by_two_the_second_is_told(
    here: Client, elm: str, photo: store.PhotographRow
) -> None:
    about = reverse("photograph-about", args=[elm, "rail"])
    here.post(about, {"base": 1, "window": "101", "note": "one"})
    second = here.post(about, {"base": 1, "window": "101", "note": "two"})
    assert second.status_code == 409
    assert "Somebody else changed this" in second.content.decode()


def test_a_finding_is_told_which_photograph_shows_it(
    here: Client, elm: str, owner: User, photo: store.PhotographRow
) -> None:
    found = {"condition.found": [{"on": "lower.bottom_rail", "fault": "decay"}]}
    store.save_fields(elm, "window", "101", found, 1, owner)
    page = told(here, reverse("photograph", args=[elm, "rail"]))
    assert "Lower bottom rail: decay" in page
    here.post(reverse("photograph-name", args=[elm, "rail"]), {"finding": "0"})
    assert "names it" in told(here, reverse("photograph", args=[elm, "rail"]))


# --- measured on ----------------------------------------------------------------------


@pytest.fixture
def square(elm: str, owner: User) -> store.PhotographRow:
    """A photograph of window 101, large enough to measure on; what it shows does not matter."""
    return store.add_photograph(
        elm, picture_file("PNG", size=(300, 400)), owner, window="101", key="whole"
    )


def marked(points: list[list[float]]) -> str:
    camera = PinholeCamera(3000.0, turned(20, 5, 2), np.array([0.0, 0, 3.0]))
    seen = camera.sees(np.vstack((CORNERS, points))) / np.array(SIZE)
    return json.dumps({"corners": seen[:4].tolist(), "points": seen[4:].tolist(), "straight": []})


def asked(**given: str) -> dict[str, Any]:
    sizes = {"width": f"{WIDE * 1000} mm", "height": f"{HIGH * 1000} mm", "unsure": "0"}
    return {"kind": "length", **sizes, **given}


def test_a_length_is_measured_and_taken_over(
    part: Client, here: Client, elm: str, owner: User, square: store.PhotographRow
) -> None:
    # Marks exact in the picture; 3/4 m between them.
    marks = marked([[0.05, 0.4], [0.05, 1.15]])
    page = part.post(
        reverse("measure-answer", args=[elm, "whole"]), asked(measure=marks)
    ).content.decode()
    assert "29 1/2&quot;" in page
    keep = reverse("measure-keep", args=[elm, "whole"])
    here.post(keep, asked(measure=marks, use_as="meeting_height"))
    window = store.stored(elm, "window", "101").document
    assert window["meeting_height"] == "29 1/2 in"
    (source,) = store.from_photographs(elm, "101").items()
    assert source[0] == "meeting_height"
    assert source[1].key == "whole"
    assert "Read off a photograph" in told(here, reverse("window-photographs", args=[elm, "101"]))
    # Window and photograph are one change, and undone as one.
    (change,) = store.changes(elm, "photo", "whole", limit=1)
    assert len(change.revisions) == 2
    assert "from a photograph" in change.says
    store.undo(change.id, owner)
    assert "meeting_height" not in store.stored(elm, "window", "101").document
    assert store.photograph(elm, "whole").measures == ()


def test_a_value_typed_later_is_not_the_photographs_any_more(
    here: Client, elm: str, owner: User, square: store.PhotographRow
) -> None:
    marks = marked([[0.05, 0.4], [0.05, 1.15]])
    here.post(
        reverse("measure-keep", args=[elm, "whole"]), asked(measure=marks, use_as="meeting_height")
    )
    now = store.stored(elm, "window", "101")
    store.save_fields(elm, "window", "101", {"meeting_height": "30 in"}, now.version, owner)
    assert store.from_photographs(elm, "101") == {}


def test_a_kept_measurement_is_opened_again_and_taken_away(
    here: Client, elm: str, square: store.PhotographRow
) -> None:
    marks = marked([[0.05, 0.4], [0.05, 1.15]])
    here.post(reverse("measure-keep", args=[elm, "whole"]), asked(measure=marks))
    assert "29 1/2" in told(here, reverse("photograph", args=[elm, "whole"]))
    again = told(here, reverse("measure", args=[elm, "whole"]) + "?again=0")
    assert f"{json.loads(marks)['points'][0][0]:.4f}"[:5] in again
    version = store.photograph(elm, "whole").version
    here.post(reverse("remove-measure", args=[elm, "whole"]), {"measure": "0", "base": version})
    assert store.photograph(elm, "whole").measures == ()


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({"measure": "{}"}, "Mark the four corners"),
        ({"measure": "nonsense"}, "Found no marks"),
        ({"width": ""}, "Say how wide and how high"),
        ({"width": "a yard or so"}, "expected a length"),
        ({"measure": json.dumps({"corners": [[0, 0], [1, 1], [1, 0], [0, 1]], "points": []})}, "Mark both"),
        ({"measure": json.dumps(
            {"corners": [[0, 0], [1, 1], [1, 0], [0, 1]], "points": [[0, 0], [1, 1]]})}, "going round"),
        ({"measure": json.dumps({"corners": [[9, 9]], "points": "x"})}, "found"),
        ({"kind": "sofa"}, "found"),
    ],
)  # fmt: skip
def test_what_is_still_missing_is_told(
    part: Client, elm: str, square: store.PhotographRow, given: dict[str, str], says: str
) -> None:
    marks = marked([[0.05, 0.4], [0.05, 1.15]])
    answer = part.post(
        reverse("measure-answer", args=[elm, "whole"]), asked(**{"measure": marks, **given})
    )
    assert answer.status_code == 200
    assert says in answer.content.decode()


def test_a_value_that_contradicts_the_window_is_not_taken_over(
    here: Client, elm: str, square: store.PhotographRow
) -> None:
    marks = marked([[0.05, 0.1], [0.05, 1.55]])
    here.post(
        reverse("measure-keep", args=[elm, "whole"]),
        asked(measure=marks, use_as="changes.sash.stile"),
    )
    assert "Not kept" in told(here, reverse("photograph", args=[elm, "whole"]))
    assert store.photograph(elm, "whole").measures == ()
