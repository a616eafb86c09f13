"""Signing in, for those who work from another computer."""

from __future__ import annotations

from django.contrib.auth import logout
from django.contrib.auth.views import LoginView
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

sign_in = LoginView.as_view(
    template_name="web/sign_in.html", next_page="houses", redirect_authenticated_user=True
)


@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    logout(request)
    return redirect("sign-in")
