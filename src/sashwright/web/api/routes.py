"""The addresses of the API."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from typing import Annotated, Any

from django.db import OperationalError
from django.http import HttpRequest, HttpResponse
from ninja import NinjaAPI, Query, Router, Status
from ninja.errors import AuthenticationError, HttpError, Throttled, ValidationError

from sashwright import units
from sashwright.record import stages as staging
from sashwright.record import store
from sashwright.record.documents import system_of
from sashwright.record.errors import Conflict, NotThere, Refused
from sashwright.record.people import name_of, role_of
from sashwright.units import UnitsError
from sashwright.web.api import shapes
from sashwright.web.api.door import TokenDoor, asker, throttles
from sashwright.web.api.shapes import Number, Plain, Slug
from sashwright.web.views.data import CHAPTERS, answer_of

_REFUSALS: Mapping[int, Any] = {
    401: shapes.Trouble,
    403: shapes.Trouble,
    404: shapes.Trouble,
    422: shapes.Trouble,
    429: shapes.Trouble,
}
_LOOK: dict[int, Any] = {**_REFUSALS}
_WRITE: dict[int, Any] = {**_REFUSALS, 409: shapes.Conflicting}

router = Router(tags=["sashwright"])


@router.get("/me", response={200: shapes.Person, **_LOOK}, summary="Whom the token acts for")
def me(request: HttpRequest) -> Any:
    user = asker(request)
    return {"name": name_of(user), "role": role_of(user)}


@router.get("/houses", response={200: list[shapes.House], **_LOOK}, summary="All houses")
def houses(request: HttpRequest) -> Any:
    asker(request)
    return [asdict(row) for row in store.list_houses()]


@router.get("/houses/{slug}", response={200: shapes.Kept, **_LOOK}, summary="One house")
def house(request: HttpRequest, slug: Slug) -> Any:
    asker(request)
    return shapes.Kept.of(store.stored(slug, "house"))


@router.get(
    "/houses/{slug}/windows", response={200: list[shapes.Kept], **_LOOK}, summary="Its windows"
)
def windows(request: HttpRequest, slug: Slug) -> Any:
    asker(request)
    return [shapes.Kept.of(each) for each in store.stored_windows(slug)]


@router.post(
    "/houses/{slug}/windows", response={201: shapes.Kept, **_WRITE}, summary="Add a window"
)
def add_window(request: HttpRequest, slug: Slug, document: dict[Plain, Any]) -> Any:
    user = asker(request, "surveyor")
    return Status(201, shapes.Kept.of(store.add_window(slug, document, user)))


@router.get(
    "/houses/{slug}/windows/{number}", response={200: shapes.Kept, **_LOOK}, summary="One window"
)
def window(request: HttpRequest, slug: Slug, number: Number) -> Any:
    asker(request)
    return shapes.Kept.of(store.stored(slug, "window", number))


@router.patch(
    "/houses/{slug}/windows/{number}",
    response={200: shapes.Kept, **_WRITE},
    summary="Change fields of a window",
)
def change_window(request: HttpRequest, slug: Slug, number: Number, change: shapes.Fields) -> Any:
    user = asker(request, "surveyor")
    kept = store.save_fields(slug, "window", number, change.fields, change.base_version, user)
    return shapes.Kept.of(kept)


@router.get(
    "/houses/{slug}/readings",
    response={200: list[shapes.Reading], **_LOOK},
    summary="What was weighed",
)
def readings(request: HttpRequest, slug: Slug, number: Number | None = None) -> Any:
    asker(request)
    return [asdict(row) for row in store.readings(slug, number)]


@router.post(
    "/houses/{slug}/windows/{number}/readings",
    response={201: shapes.Kept, **_WRITE},
    summary="Keep what the scale says of a sash",
)
def add_reading(request: HttpRequest, slug: Slug, number: Number, reading: shapes.ReadingIn) -> Any:
    user = asker(request, "bench")
    system = system_of(store.stored(slug, "house").document)
    try:
        mass = units.parse_mass(reading.mass, system)
    except UnitsError as error:
        raise HttpError(422, f"mass: {error}") from None
    kept = store.add_reading(slug, number, reading.sash, mass, reading.state, user, reading.note)
    return Status(201, shapes.Kept.of(kept))


@router.get(
    "/houses/{slug}/stages", response={200: list[shapes.Stage], **_LOOK}, summary="Where it stands"
)
def stages(request: HttpRequest, slug: Slug, number: Number | None = None) -> Any:
    asker(request)
    return [asdict(row) for row in staging.stages(slug, number)]


@router.post(
    "/houses/{slug}/windows/{number}/stages",
    response={201: list[shapes.Stage], **_WRITE},
    summary="Move a sash, storm or screen to a stage",
)
def set_stage(request: HttpRequest, slug: Slug, number: Number, move: shapes.StageIn) -> Any:
    user = asker(request, "bench")
    staging.set_stage(slug, number, move.piece, move.stage, user, move.reason)
    return Status(201, [asdict(row) for row in staging.stages(slug, number)])


@router.get(
    "/houses/{slug}/history", response={200: list[shapes.Change], **_LOOK}, summary="What was done"
)
def history(
    request: HttpRequest, slug: Slug, limit: Annotated[int, Query(ge=1, le=1000)] = 100
) -> Any:
    asker(request)
    return [asdict(row) for row in store.changes(slug, limit=limit)]


@router.get(
    "/houses/{slug}/answers/{chapter}",
    response={200: dict[str, Any], **_LOOK},
    summary="What a chapter answers, with its values, findings and working",
    description=f"Chapters: {', '.join(CHAPTERS)}.",
)
def answer(
    request: HttpRequest,
    slug: Slug,
    chapter: str,
    window: Annotated[list[Number], Query()] = [],  # noqa: B006 - only read
) -> Any:
    asker(request)
    try:
        return answer_of(request, slug, chapter, window or None).to_dict()
    except ValueError as error:
        raise HttpError(422, str(error)) from None


def make_api() -> NinjaAPI:
    """The whole API, with its sentences for what goes wrong."""
    api = NinjaAPI(
        title="Sashwright",
        version="1",
        description="Houses, windows, readings, answers and stages, for programs with a token.",
        urls_namespace="api",
        auth=TokenDoor(),
        throttle=throttles(),
        docs_url=None,
    )
    api.add_router("", router)

    @api.exception_handler(NotThere)
    def not_there(request: HttpRequest, error: NotThere) -> HttpResponse:
        return api.create_response(request, {"error": str(error)}, status=404)

    @api.exception_handler(Refused)
    def refused(request: HttpRequest, error: Refused) -> HttpResponse:
        return api.create_response(request, shapes.Trouble.of(error), status=422)

    @api.exception_handler(Conflict)
    def conflict(request: HttpRequest, error: Conflict) -> HttpResponse:
        return api.create_response(request, shapes.Conflicting.of(error), status=409)

    @api.exception_handler(OperationalError)
    def busy(request: HttpRequest, error: OperationalError) -> HttpResponse:
        says = "The record is busy, its disk is full or its server is away; nothing was changed."
        answer = api.create_response(request, {"error": says}, status=503)
        answer.headers["Retry-After"] = "5"
        return answer

    @api.exception_handler(AuthenticationError)
    def unknown(request: HttpRequest, error: AuthenticationError) -> HttpResponse:
        says = "This takes a token that is good: Authorization: Bearer TOKEN."
        return api.create_response(request, {"error": says}, status=401)

    @api.exception_handler(ValidationError)
    def unreadable(request: HttpRequest, error: ValidationError) -> HttpResponse:
        problems = [
            {
                "field": ".".join(map(str, each["loc"][1:])),
                "found": repr(each.get("input"))[:200],
                "expected": each["msg"],
            }
            for each in error.errors
        ]
        first = problems[0] if problems else {"field": "body", "found": "", "expected": "JSON"}
        says = f"{first['field']}: found {first['found']}, expected: {first['expected']}."
        return api.create_response(request, {"error": says, "problems": problems}, status=422)

    @api.exception_handler(Throttled)
    def too_many(request: HttpRequest, error: Throttled) -> HttpResponse:
        wait = error.wait or 1
        answer = api.create_response(
            request, {"error": f"Too many requests: wait {wait} seconds."}, status=429
        )
        answer.headers["Retry-After"] = str(wait)
        return answer

    @api.exception_handler(HttpError)
    def trouble(request: HttpRequest, error: HttpError) -> HttpResponse:
        return api.create_response(request, {"error": str(error)}, status=error.status_code)

    return api


api = make_api()
