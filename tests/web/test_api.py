"""The JSON API: by token, in its own words, and nothing that its description does not say."""

from __future__ import annotations

import json
import os
from typing import Any
from urllib.parse import urlencode

import pytest
import schemathesis
from django.contrib.auth.models import User
from django.core.cache import cache
from django.core.wsgi import get_wsgi_application
from django.test import Client
from hypothesis import HealthCheck, given, settings
from ninja.throttling import AuthRateThrottle

from sashwright.cli.main import main
from sashwright.record import keys, people, store
from sashwright.record.housefile import house_text
from sashwright.web.api import door
from sashwright.web.api.routes import api

ELSEWHERE = {"SERVER_NAME": "localhost", "REMOTE_ADDR": "192.0.2.7"}
# A thorough run: SASHWRIGHT_API_CASES=2000.
CASES = int(os.environ.get("SASHWRIGHT_API_CASES", "12"))


@pytest.fixture(autouse=True)
def _nobody_asked_before() -> None:
    cache.clear()


class Program:
    """A program that asks with a token."""

    def __init__(self, user: User) -> None:
        self.client = Client(**ELSEWHERE)
        self.headers = {"Authorization": f"Bearer {keys.make_token(user, 'test')}"}

    def get(self, path: str, **asked: Any) -> Any:
        return self.client.get(f"/api/v1{path}", asked, headers=self.headers)

    def send(self, method: str, path: str, body: Any) -> Any:
        text = json.dumps(body)
        return self.client.generic(
            method, f"/api/v1{path}", text, "application/json", headers=self.headers
        )


@pytest.fixture
def program(owner: User) -> Program:
    return Program(owner)


def test_what_a_scale_sends_is_kept(program: Program, elm: str) -> None:
    body = {"sash": "lower", "mass": "18 lb 6 oz", "note": "bench"}
    answer = program.send("POST", f"/houses/{elm}/windows/101/readings", body)
    assert answer.status_code == 201, answer.content
    assert answer.json()["document"]["measured"]["lower"]["mass"] == "18 lb 6 oz"
    [reading] = program.get(f"/houses/{elm}/readings").json()
    assert reading["value_kg"] == pytest.approx(8.3348, abs=1e-4)
    assert (reading["which"], reading["number"], reading["note"]) == ("lower", "101", "bench")


def test_a_bare_number_is_in_the_units_of_the_house(program: Program, elm: str) -> None:
    program.send("POST", f"/houses/{elm}/windows/101/readings", {"sash": "upper", "mass": 20})
    [reading] = program.get(f"/houses/{elm}/readings", number="101").json()
    assert reading["value_kg"] == pytest.approx(20 * 0.45359237)


def test_answers_are_those_of_the_command_line(
    program: Program, elm: str, tmp_path: Any, capsys: Any
) -> None:
    file = tmp_path / "elm.toml"
    file.write_text(house_text(store.export_document(elm)), encoding="utf-8")
    main(["hang", str(file), "--json", "--window", "101"])
    told = json.loads(capsys.readouterr().out)
    assert program.get(f"/houses/{elm}/answers/hang", window="101").json() == told


def test_changed_by_version_merged_and_disputed(program: Program, elm: str, bob: User) -> None:
    people.change_person(bob, role="surveyor")
    path, was = f"/houses/{elm}/windows/101", 1
    room = program.send("PATCH", path, {"base_version": was, "fields": {"room": "Pantry"}})
    assert room.json()["version"] == 2
    other = Program(bob)
    note = other.send("PATCH", path, {"base_version": was, "fields": {"note": "sticks"}})
    assert note.json()["merged"] is True
    fight = other.send("PATCH", path, {"base_version": was, "fields": {"room": "Study"}})
    assert fight.status_code == 409
    [dispute] = fight.json()["fields"]
    assert (dispute["field"], dispute["mine"], dispute["theirs"]) == ("room", "Study", "Pantry")
    assert store.stored(elm, "window", "101").document["room"] == "Pantry"


def test_what_is_wrong_is_said_and_nothing_kept(program: Program, elm: str) -> None:
    path = f"/houses/{elm}/windows/101"
    bad = program.send("PATCH", path, {"base_version": 1, "fields": {"width": "a lot"}})
    assert bad.status_code == 422
    assert bad.json()["problems"][0]["field"] == "width"
    assert program.send("PATCH", path, {"fields": {}}).status_code == 422
    assert program.get("/houses/nowhere").json() == {"error": "There is no house nowhere."}
    assert program.get(f"/houses/{elm}/answers/spoons").status_code == 404
    broken = program.client.generic(
        "PATCH", f"/api/v1{path}", "{not json", "application/json", headers=program.headers
    )
    assert broken.status_code in (400, 422)
    assert store.stored(elm, "window", "101").version == 1


@pytest.mark.parametrize(
    ("role", "may"),
    [("viewer", {"get"}), ("bench", {"get", "weigh"}), ("surveyor", {"get", "weigh", "change"})],
)
def test_a_token_may_what_its_person_may(elm: str, role: str, may: set[str]) -> None:
    program = Program(people.add_person("Ned", role))
    path = f"/houses/{elm}/windows/101"
    did = {
        "get": program.get(path).status_code,
        "weigh": program.send(
            "POST", f"{path}/readings", {"sash": "upper", "mass": "8 kg"}
        ).status_code,
        "change": program.send(
            "PATCH", path, {"base_version": 2, "fields": {"room": "x"}}
        ).status_code,
    }
    assert {act for act, status in did.items() if status < 300} == may
    assert {status for act, status in did.items() if act not in may} <= {403}


def test_nobody_without_a_token(elm: str, here: Client) -> None:
    for client in (Client(**ELSEWHERE), here):
        for headers in ({}, {"Authorization": "Bearer made-up"}, {"Authorization": "x"}):
            answer = client.get("/api/v1/houses", headers=headers)
            assert answer.status_code == 401
            assert "takes a token" in answer.json()["error"]


def test_too_many_are_told_to_wait(owner: User, elm: str, monkeypatch: pytest.MonkeyPatch) -> None:
    program = Program(owner)
    statuses = [program.get("/me").status_code for _ in range(door.PER_MINUTE + 2)]
    assert statuses.count(200) == door.PER_MINUTE
    last = program.get("/me")
    assert last.status_code == 429
    assert 0 < int(last.headers["Retry-After"]) <= 60


# --- against its own description --------------------------------------------------


@pytest.mark.django_db
@pytest.mark.parametrize("operation", sorted(
    f"{method.upper()} {path}"
    for path, methods in api.get_openapi_schema(path_prefix="/api/v1/")["paths"].items()
    for method in methods
))  # fmt: skip
def test_whatever_its_description_allows(
    owner: User, elm: str, operation: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Random requests by the description, and around it: never an error of the server's own."""
    monkeypatch.setattr(AuthRateThrottle, "allow_request", lambda *_: True)
    token = keys.make_token(owner, "fuzz")
    schema = schemathesis.openapi.from_dict(api.get_openapi_schema(path_prefix="/api/v1/"))
    schema.app = get_wsgi_application()
    method, path = operation.split()
    strategy = schema[path][method].as_strategy()
    assert strategy is not None
    explore(strategy, token, elm)


def explore(strategy: Any, token: str, slug: str) -> None:
    client = Client(**ELSEWHERE, raise_request_exception=True)

    @settings(
        max_examples=CASES,
        derandomize=True,
        deadline=None,
        database=None,
        suppress_health_check=list(HealthCheck),
    )
    @given(case=strategy)
    def ask(case: Any) -> None:
        # Half of them about the house that is there.
        if "slug" in (case.path_parameters or {}) and len(str(case.path_parameters["slug"])) % 2:
            case.path_parameters["slug"] = slug
        path = case.formatted_path
        query = case.query or {}
        kind = "application/json"
        body = (
            "" if isinstance(case.body, type(schemathesis.core.NOT_SET)) else json.dumps(case.body)
        )
        answer = client.generic(
            case.method, path, body, kind, QUERY_STRING=_query(query),
            headers={"Authorization": f"Bearer {token}"},
        )  # fmt: skip
        assert answer.status_code < 500, (case.method, path, body[:300], answer.content[:300])
        assert answer.headers["Content-Type"].startswith(("application/json", "text/html"))

    ask()


def _query(query: Any) -> str:
    return urlencode(dict(query.items()), doseq=True)
