"""Addresses of the pages."""

from __future__ import annotations

from django.urls import path, register_converter

from sashwright.web.addresses import FamilyKey, WindowNumber
from sashwright.web.views import (
    add,
    air,
    bench,
    breathe,
    chapters,
    climate,
    data,
    errors,
    families,
    family,
    history,
    house,
    houses,
    papers,
    rooms,
    seasons,
    settings,
    signing,
    warmth,
    wind,
    window,
    worth,
)

register_converter(FamilyKey, "family")
register_converter(WindowNumber, "number")

handler400 = errors.bad_request
handler403 = errors.forbidden
handler404 = errors.not_found
handler500 = errors.server_error

urlpatterns = [
    path("", houses.index, name="houses"),
    path("new", houses.new, name="new-house"),
    path("import", houses.bring_in, name="import-house"),
    path("sign-in", signing.sign_in, name="sign-in"),
    path("sign-out", signing.sign_out, name="sign-out"),
    path("theme", settings.theme, name="theme"),
    path("drawing.css", settings.drawing_css, name="drawing-css"),
    path("undo/<int:change>", history.undo, name="undo"),
    path("<slug:slug>/", house.page, name="house"),
    path("<slug:slug>/details", house.details, name="house-details"),
    path("<slug:slug>/details/field", house.field, name="house-field"),
    path("<slug:slug>/details/wall", house.wall, name="house-wall"),
    path("<slug:slug>/climate", climate.page, name="climate"),
    path("<slug:slug>/air", air.page, name="air"),
    path("<slug:slug>/warmth", warmth.page, name="warmth"),
    path("<slug:slug>/wind", wind.page, name="wind"),
    path("<slug:slug>/breathe", breathe.page, name="breathe"),
    path("<slug:slug>/worth", worth.page, name="worth"),
    path("<slug:slug>/rooms", rooms.page, name="rooms"),
    path("<slug:slug>/rooms/room", rooms.room, name="room-save"),
    path("<slug:slug>/rooms/door", rooms.door, name="door-save"),
    path("<slug:slug>/seasons", seasons.page, name="seasons"),
    path("<slug:slug>/seasons/mark", seasons.mark, name="season-mark"),
    path("<slug:slug>/seasons/keep", seasons.keep, name="season-keep"),
    path("<slug:slug>/units", settings.units, name="units"),
    path("<slug:slug>/remove", houses.remove, name="remove-house"),
    path("<slug:slug>/restore", houses.restore, name="restore-house"),
    path("<slug:slug>/house.toml", papers.toml, name="export-house"),
    path("<slug:slug>/replace", houses.replace, name="replace-house"),
    path("<slug:slug>/papers.pdf", papers.packet_pdf, name="papers"),
    path("<slug:slug>/answers/<slug:chapter>.json", data.answer, name="answer"),
    path("<slug:slug>/add", add.page, name="add"),
    path("<slug:slug>/bench", bench.page, name="bench"),
    path("<slug:slug>/bench/window", bench.window, name="bench-window"),
    path("<slug:slug>/history", history.page, name="history"),
    path("<slug:slug>/history/<int:change>", history.compare, name="compare"),
    path("<slug:slug>/families/new", families.new, name="new-family"),
    path("<slug:slug>/families/<family:key>/", family.page, name="family"),
    path("<slug:slug>/families/<family:key>/field", family.field, name="family-field"),
    path("<slug:slug>/families/<family:key>/preview", family.preview, name="family-preview"),
    path("<slug:slug>/families/<family:key>/more", family.more, name="family-more"),
    path("<slug:slug>/families/<family:key>/hardware", family.hardware, name="family-hardware"),
    path("<slug:slug>/families/<family:key>/undo", family.step, name="family-step"),
    path("<slug:slug>/families/<family:key>/copy", families.copy, name="copy-family"),
    path("<slug:slug>/families/<family:key>/remove", families.remove, name="remove-family"),
    path("<slug:slug>/windows/<number:number>/", window.page, name="window"),
    path("<slug:slug>/windows/<number:number>/field", window.field, name="window-field"),
    path("<slug:slug>/windows/<number:number>/preview", window.preview, name="window-preview"),
    path("<slug:slug>/windows/<number:number>/more", window.more, name="window-more"),
    path("<slug:slug>/windows/<number:number>/fit", chapters.fit, name="window-fit"),
    path("<slug:slug>/windows/<number:number>/seal", chapters.seal, name="window-seal"),
    path("<slug:slug>/windows/<number:number>/season", chapters.season, name="window-season"),
    path("<slug:slug>/windows/<number:number>/heat", chapters.heat, name="window-heat"),
    path("<slug:slug>/windows/<number:number>/grade", chapters.grade, name="window-grade"),
    path("<slug:slug>/windows/<number:number>/undo", window.step, name="window-step"),
    path("<slug:slug>/windows/<number:number>/number", window.renumber, name="renumber-window"),
    path("<slug:slug>/windows/<number:number>/copy", window.duplicate, name="copy-window"),
    path("<slug:slug>/windows/<number:number>/remove", window.remove, name="remove-window"),
    path(
        "<slug:slug>/windows/<number:number>/<slug:view>.svg", papers.drawing_svg, name="window-svg"
    ),
]
