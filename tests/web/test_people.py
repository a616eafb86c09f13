"""People of the shop, the keys that open the door for them, and what each may do."""

from __future__ import annotations

import re
from datetime import timedelta
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.urls import URLPattern, get_resolver, reverse
from django.urls.converters import IntConverter
from django.utils import timezone

from sashwright.record import keys, people, store, throttle
from sashwright.record.errors import NotThere, Refused
from sashwright.record.houses import NOT_A_HOUSE
from sashwright.record.models import ClientLink, Pairing, SignInTry, Token
from sashwright.record.roles import ROLES
from sashwright.web import allowed

WORD = "a long enough word"
ELSEWHERE = {"SERVER_NAME": "localhost", "REMOTE_ADDR": "192.0.2.7"}


def signed_in(role: str) -> Client:
    user = people.add_person(f"a {role}", role, WORD)
    client = Client(**ELSEWHERE)
    client.force_login(user)
    return client


# --- the matrix: every address, every role ----------------------------------------


def patterns() -> list[URLPattern]:
    return [each for each in get_resolver().url_patterns if isinstance(each, URLPattern)]


ARGUMENTS = {"slug": "elm", "number": "101", "key": "A"}


def address_of(pattern: URLPattern) -> str:
    wanted = pattern.pattern.converters
    given: dict[str, Any] = {
        name: ARGUMENTS.get(name, 1 if isinstance(kind, IntConverter) else "x")
        for name, kind in wanted.items()
    }
    return reverse(str(pattern.name), kwargs=given)


def test_every_address_has_its_rule() -> None:
    names = {str(pattern.name) for pattern in patterns()}
    assert names - allowed.RULES.keys() - allowed.OPEN == set()
    assert (allowed.RULES.keys() | allowed.OPEN | allowed.CLIENT) - names == set()


def test_no_house_can_be_called_as_a_page_is() -> None:
    first = {str(pattern.pattern).split("/")[0] for pattern in patterns()}
    plain = {word for word in first if re.fullmatch(r"[\w-]+", word)}
    assert plain - NOT_A_HOUSE == set()


@pytest.mark.parametrize("who", [*ROLES, "client", "nobody", "closed"])
def test_nobody_does_what_they_may_not(db: None, who: str) -> None:
    """Every address, looked at and sent to: let in exactly where the table says so."""
    owner = store.local_owner()
    slug = store.create_house({"name": "elm"}, owner)
    store.create_house({"name": "oak"}, owner)
    assert slug == "elm"
    client = Client(**ELSEWHERE)
    if who in ROLES:
        client = signed_in(who)
    elif who == "closed":
        client = signed_in("owner")
        people.change_person(people.find_person("a owner"), active=False)
    elif who == "client":
        client.get(reverse("look", args=[keys.make_client_link("elm", "Ann", 30, owner)]))
    wrong = []
    for pattern in patterns():
        name = str(pattern.name)
        if name in allowed.OPEN or name == "sign-out":
            continue
        rule = allowed.rule_of(name)
        for method, least in (("GET", rule.look), ("POST", rule.send)):
            if who in ROLES:
                expected = ROLES.index(who) >= ROLES.index(least)
            elif who == "client":
                looks = name in allowed.CLIENT and method == "GET"
                expected = looks or name in ("theme", "units")
            else:
                expected = False
            stopped = door(client, method, address_of(pattern))
            if stopped == expected:
                wrong.append((who, method, name, "let in" if not stopped else "stopped"))
    assert wrong == []


def door(client: Client, method: str, address: str) -> bool:
    """Whether the door itself stops a request; what the page behind would do is not asked."""
    request = client.generic(method, address, HTTP_X_ONLY_THE_DOOR="1")
    return request.status_code != 299


@pytest.fixture(autouse=True)
def _pages_only_say_that_they_were_reached(
    monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest
) -> None:
    """In the matrix a page that is reached answers 299 and does nothing."""
    if "nobody_does" not in request.node.name:
        return
    from django.http import HttpResponse

    from sashwright.web.middleware import DoorMiddleware

    whole = DoorMiddleware.process_view

    def asked(self, request, view, args, kwargs):  # type: ignore[no-untyped-def]
        refused = whole(self, request, view, args, kwargs)
        inside = "HTTP_X_ONLY_THE_DOOR" in request.META
        return HttpResponse(status=299) if refused is None and inside else refused

    monkeypatch.setattr(DoorMiddleware, "process_view", asked)


def test_a_client_sees_one_house_only(owner: User, elm: str) -> None:
    other = store.create_house({"name": "Oak House"}, owner)
    client = Client(**ELSEWHERE)
    secret = keys.make_client_link(elm, "Ann", 30, owner)
    assert client.get(reverse("look", args=[secret])).headers["Location"] == f"/{elm}/"
    assert client.get(f"/{elm}/").status_code == 200
    assert client.get(f"/{elm}/windows/101/").status_code == 200
    assert client.get(f"/{other}/").status_code == 403
    assert client.get("/").status_code == 403
    sent = client.post(f"/{elm}/windows/101/field", {"field": "room", "room": "x", "base": 1})
    assert sent.status_code == 403
    assert store.stored(elm, "window", "101").document.get("room") != "x"


def test_links_end(owner: User, elm: str) -> None:
    client = Client(**ELSEWHERE)
    client.get(reverse("look", args=[keys.make_client_link(elm, "Ann", 30, owner)]))
    assert client.get(f"/{elm}/").status_code == 200
    ClientLink.objects.update(expires_at=timezone.now() - timedelta(seconds=1))
    assert client.get(f"/{elm}/").status_code == 302
    ClientLink.objects.update(expires_at=None)
    assert client.get(f"/{elm}/").status_code == 200
    keys.withdraw_link(elm, ClientLink.objects.get().pk)
    assert client.get(f"/{elm}/").status_code == 302
    assert client.get(reverse("look", args=["made-up"])).status_code == 404


# --- keys -------------------------------------------------------------------------


def test_secrets_are_not_kept(owner: User, elm: str) -> None:
    secrets = keys.make_token(owner, "scale"), keys.make_client_link(elm, "Ann", 3, owner)
    kept = [
        *Token.objects.values_list("digest", flat=True),
        *ClientLink.objects.values_list("digest", flat=True),
    ]
    assert not set(secrets) & set(kept)
    assert all(re.fullmatch("[0-9a-f]{64}", digest) for digest in kept)


def test_a_token_acts_for_its_person_until_it_is_withdrawn(bob: User, owner: User) -> None:
    secret = keys.make_token(bob, "scale", 3)
    assert keys.user_of_token(secret) == bob
    assert keys.user_of_token(secret + "x") is None
    with pytest.raises(NotThere):
        keys.withdraw_token(Token.objects.get().pk, owner)
    keys.withdraw_token(Token.objects.get().pk, bob)
    assert keys.user_of_token(secret) is None


def test_a_closed_account_takes_its_tokens_along(bob: User) -> None:
    secret = keys.make_token(bob, "scale")
    people.change_person(bob, active=False)
    assert keys.user_of_token(secret) is None


@pytest.mark.parametrize(("name", "days"), [("", 3), ("x" * 81, 3), ("scale", 0), ("scale", 9999)])
def test_tokens_that_make_no_sense_are_refused(bob: User, name: str, days: int) -> None:
    with pytest.raises(Refused, match="expected"):
        keys.make_token(bob, name, days)


def test_a_code_pairs_one_device_once(db: None) -> None:
    user = people.add_person("Ned", "bench")
    code = keys.make_pairing(user)
    device = Client(**ELSEWHERE)
    assert device.post("/pair", {"code": f"{code[:4]} {code[4:]}"}).headers["Location"] == "/"
    assert device.get("/").status_code == 200
    again = Client(**ELSEWHERE).post("/pair", {"code": code})
    assert "lets nobody in" in again.content.decode()


def test_codes_grow_old(db: None) -> None:
    code = keys.make_pairing(people.add_person("Ned", "bench"))
    Pairing.objects.update(expires_at=timezone.now())
    assert keys.take_pairing(code) is None


# --- guessing ---------------------------------------------------------------------


def test_whoever_guesses_waits(bob: User) -> None:
    guesser = Client(**ELSEWHERE)
    for _ in range(throttle.FREE):
        assert guesser.post("/sign-in", {"username": "bob", "password": "no"}).status_code == 200
    late = guesser.post("/sign-in", {"username": "bob", "password": WORD})
    assert late.status_code == 429
    assert "Too many wrong tries: wait 1" in late.content.decode()
    SignInTry.objects.update(at=timezone.now() - throttle.FIRST_WAIT)
    assert guesser.post("/sign-in", {"username": "bob", "password": WORD}).status_code == 302


def test_guessing_codes_is_slowed_down_too(db: None) -> None:
    guesser = Client(**ELSEWHERE)
    answers = [guesser.post("/pair", {"code": "1234 5678"}).status_code for _ in range(7)]
    assert answers == [200] * throttle.FREE + [429] * 2


def test_waits_grow_and_end(db: None) -> None:
    waits = []
    for _ in range(20):
        throttle.note_wrong("Bob ", "192.0.2.7")
        waits.append(throttle.wait_left("bob", "198.51.100.1"))
    assert waits[: throttle.FREE - 1] == [timedelta(0)] * (throttle.FREE - 1)
    assert [round(w.total_seconds()) for w in waits[throttle.FREE - 1 : 10]] == [
        15,
        30,
        60,
        120,
        240,
        480,
    ]
    assert timedelta(minutes=14) < waits[-1] <= throttle.LONGEST_WAIT
    SignInTry.objects.update(at=timezone.now() + timedelta(days=1))
    assert throttle.wait_left("bob", "192.0.2.7") <= throttle.LONGEST_WAIT


# --- people -----------------------------------------------------------------------


def test_passwords_are_kept_by_argon2(db: None) -> None:
    user = people.add_person("Ned", "bench", WORD)
    assert user.password.startswith("argon2$argon2id$")


@pytest.mark.parametrize(
    ("name", "role", "password"),
    [
        ("", "bench", WORD),
        ("a\nb", "bench", WORD),
        ("BOB", "bench", WORD),
        ("Ned", "king", WORD),
        ("Ned", "bench", "short"),
        ("Ned", "bench", "password123"),
    ],
)
def test_accounts_that_make_no_sense_are_refused(
    bob: User, name: str, role: str, password: str
) -> None:
    with pytest.raises(Refused, match="expected"):
        people.add_person(name, role, password)
    assert User.objects.count() == 1


def test_the_shop_keeps_its_owner(owner: User) -> None:
    for wanted in ({"active": False}, {"role": "viewer"}):
        with pytest.raises(Refused, match="needs an owner"):
            people.change_person(owner, **wanted)  # type: ignore[arg-type]


def test_a_new_password_ends_sessions_elsewhere(here: Client, bob: User) -> None:
    people.change_person(bob, role="bench")
    device = Client(**ELSEWHERE)
    device.post("/sign-in", {"username": "bob", "password": WORD})
    assert device.get("/").status_code == 200
    here.post(reverse("person", args=[bob.pk]), {"password": "quite another word"})
    assert device.get("/").status_code == 302


def test_people_are_added_and_changed_in_the_page(here: Client) -> None:
    here.post("/people", {"name": "Ned", "role": "bench", "password": WORD})
    ned = people.find_person("Ned")
    assert people.role_of(ned) == "bench"
    here.post(reverse("person", args=[ned.pk]), {"role": "surveyor"})
    assert people.role_of(ned) == "surveyor"
    here.post(reverse("person", args=[ned.pk]), {"account": "close"})
    ned.refresh_from_db()
    assert people.role_of(ned) is None
    refused = here.post("/people", {"name": "Ned", "role": "bench", "password": WORD})
    assert refused.status_code == 422
    assert "one that nobody else has" in refused.content.decode()


def test_a_code_is_shown_for_a_device(here: Client, bob: User) -> None:
    page = here.post(reverse("pair-device", args=[bob.pk])).content.decode()
    code = re.search(r"bigcode figure\">(\d{4} \d{4})<", page)
    assert code is not None
    assert keys.take_pairing(code[1]) == bob


def test_tokens_and_links_are_made_in_the_pages(here: Client, elm: str, owner: User) -> None:
    page = here.post("/keys", {"name": "scale", "days": "30"}).content.decode()
    secret = re.search(r"secret figure\">([\w-]+)<", page)
    assert secret is not None
    assert keys.user_of_token(secret[1]) == owner
    page = here.post(reverse("links", args=[elm]), {"name": "Ann", "days": "10"}).content.decode()
    link = re.search(r"/look/([\w-]+)<", page)
    assert link is not None
    assert keys.link_of(link[1]) is not None
    for days in ("0", "x", "99999999999999999999", ""):
        answer = here.post(reverse("links", args=[elm]), {"name": "Ann", "days": days})
        assert answer.status_code == 422


# --- company ----------------------------------------------------------------------


def test_two_at_the_same_window_hear_of_each_other(here: Client, elm: str, owner: User) -> None:
    ned = signed_in("surveyor")
    asked = {"kind": "window", "key": "101", "since": timezone.now().isoformat()}
    address = reverse("here", args=[elm])
    assert "has this open too" not in ned.post(address, asked).content.decode()
    told = here.post(address, asked).content.decode()
    assert "a surveyor has this open too" in told
    assert "changed it" not in told
    store.save_fields(elm, "window", "101", {"room": "Pantry"}, 1, people.find_person("a surveyor"))
    told = here.post(address, asked).content.decode()
    assert "a surveyor changed it: window 101: room" in told
    assert "changed it" not in ned.post(address, asked).content.decode()
    other = here.post(address, {**asked, "key": "102"}).content.decode()
    assert "open too" not in other


def test_nonsense_about_company_does_no_harm(here: Client, elm: str) -> None:
    for since in ("", "yesterday", "2026-13-45T99:00", "2026-01-01T00:00"):
        asked = {"kind": "spoon", "key": "x", "since": since}
        assert here.post(reverse("here", args=[elm]), asked).status_code == 200
