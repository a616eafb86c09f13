"""The board on the shop's wall, and the page that a tag opens on a telephone."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from sashwright.chapters.days import said
from sashwright.chapters.make.tracks import NAMES, Track, full_list
from sashwright.drawing.capacityplot import capacity_plot
from sashwright.record import store
from sashwright.record.errors import NotThere
from sashwright.record.facts import knowledge
from sashwright.web import pictures, present, shopwork
from sashwright.web.views.common import HouseHead, head_of, is_part, tell, user_of


@require_GET
def board(request: HttpRequest, slug: str) -> HttpResponse:
    """All pieces of one house, by stage."""
    head = head_of(request, slug)
    return _board(request, [slug], reverse("board", args=[slug]), {"house": head})


@require_GET
def everything(request: HttpRequest) -> HttpResponse:
    """All pieces of all houses that are in work."""
    return _board(request, shopwork.everywhere(), reverse("board-all"), {"all_houses": True})


def _board(
    request: HttpRequest, slugs: list[str], address: str, context: dict[str, Any]
) -> HttpResponse:
    columns, counts = shopwork.board(slugs)
    context |= {
        "columns": columns,
        "counts": counts,
        "address": address,
        "now": timezone.localtime(),
        "empty": not any(column.cards for column in columns),
    }
    if is_part(request):
        return render(request, "web/board/columns.html", context)
    context |= _weeks(slugs)
    template = "web/board.html"
    return render(request, template, context)


def _weeks(slugs: list[str]) -> dict[str, Any]:
    """Hours by week, and when each window is likely to hang again."""
    answer = shopwork.weeks_ahead(slugs)
    if answer is None:
        return {"no_hours": bool(slugs)}
    rates = knowledge().rate
    names = {key: row.name for key, row in rates.items()}
    ends = sorted(answer.values["ends"].items(), key=lambda item: str(item[1]))
    return {
        "weeks": pictures.svg(capacity_plot(answer, names), "capacity") if ends else None,
        "ends": [(name, said(day)) for name, day in ends],
        "week_findings": present.sorted_findings(answer.findings),
    }


@require_http_methods(["GET", "POST"])
def scan(request: HttpRequest, slug: str, piece: str) -> HttpResponse:
    """One piece: where it stands, and one large button for what is next."""
    head = head_of(request, slug)
    named = shopwork.piece_named(piece)
    track = None if named is None else shopwork.in_shop(slug).track(*named)
    if track is None:
        raise NotThere(f"There is no piece {piece} in this house.")
    asked: dict[str, Any] = {}
    if request.method == "POST":
        stage, reason = request.POST.get("stage", ""), request.POST.get("reason", "")
        try:
            change = store.set_stage(
                slug, track.number, track.piece, stage, user_of(request), reason
            )
        except store.NotAllowed as error:
            asked = {"asked": stage, "verdict": error.verdict, "reason": reason}
        else:
            tell(request, f"{track.tag}: {stage}.", change.pk)
            return redirect("scan", slug, piece)
    context = _scanned(head, track) | asked | {"name": piece}
    return render(request, "web/scan.html", context, status=422 if asked else 200)


def _scanned(head: HouseHead, track: Track) -> dict[str, Any]:
    number, slug = track.number, head.slug
    answer = shopwork.stages_of(slug, [number]).windows[0]
    pieces = answer.values["pieces"]
    row = pieces[track.piece]
    noted = [each for each in store.stages(slug, number) if each.piece == track.piece]
    return {
        "house": head,
        "track": track,
        "window": track.placed.window,
        "row": row,
        "next_from": shopwork.short(row["next_from"]) if row["next"] else "",
        "since_line": shopwork.since_line(row),
        "picture": shopwork.small(track, "scan", shopwork.LARGE),
        "way": [(step, _when(step)) for step in row["way"]],
        "others": [
            stage
            for stage in dict.fromkeys((*(each["stage"] for each in row["way"]), *_all(track)))
            if stage not in (row["stage"], row["next"])
        ],
        "siblings": [
            (NAMES[name], shopwork.scan_address(slug, number, name), other["stage"])
            for name, other in pieces.items()
            if name != track.piece
        ],
        "noted": list(reversed(noted)),
        "findings": [
            finding
            for finding in present.sorted_findings(answer.findings)
            if finding.on == track.piece
        ],
        "weigh": row["next"] == "weighed",
    }


def _when(step: dict[str, Any]) -> str:
    if step["reached"]:
        return shopwork.short(step["reached"])
    return "not noted" if step["passed_over"] else f"from {shopwork.short(step['from'])}"


def _all(track: Track) -> tuple[str, ...]:
    return full_list(track.piece, made=track.made)
