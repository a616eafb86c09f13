"""Getting in from another computer: by name and password, by a code for a device, by a client's link."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from django.conf import settings
from django.contrib.auth import login, logout
from django.contrib.auth.forms import AuthenticationForm
from django.contrib.auth.views import LoginView
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from sashwright.record import keys, throttle
from sashwright.web.middleware import LINK_IN_SESSION
from sashwright.web.views import errors

_BACKEND = "django.contrib.auth.backends.ModelBackend"
_PAIRING = "a device"


class _SignIn(LoginView):
    """Asks for name and password; whoever guesses is made to wait."""

    template_name = "web/sign_in.html"
    next_page = "houses"
    redirect_authenticated_user = True

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        wait = throttle.wait_left(self._name(), _address(request))
        if wait:
            # Not even looked at: a right guess must not be told from a wrong one.
            context = self.get_context_data(form=self.form_class(request), waits=_told(wait))
            return render(request, self.template_name, context, status=429)
        return super().post(request, *args, **kwargs)

    def form_valid(self, form: AuthenticationForm) -> HttpResponse:
        throttle.note_right(self._name(), _address(self.request))
        return super().form_valid(form)

    def form_invalid(self, form: AuthenticationForm) -> HttpResponse:
        throttle.note_wrong(self._name(), _address(self.request))
        return super().form_invalid(form)

    def _name(self) -> str:
        return self.request.POST.get("username", "")


sign_in = _SignIn.as_view()


@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    logout(request)
    return redirect("sign-in")


@require_http_methods(["GET", "HEAD", "POST"])
def pair(request: HttpRequest) -> HttpResponse:
    """Let a device in by the code that the shop's computer shows."""
    says, status = "", 200
    if request.method == "POST":
        wait = throttle.wait_left(_PAIRING, _address(request))
        user = None if wait else keys.take_pairing(request.POST.get("code", ""))
        if user is not None:
            throttle.note_right(_PAIRING, _address(request))
            login(request, user, _BACKEND)
            return redirect("houses")
        if wait:
            says, status = f"Too many wrong codes: wait {_told(wait)}.", 429
        else:
            throttle.note_wrong(_PAIRING, _address(request))
            says = (
                "This code lets nobody in. It is good for ten minutes, once; ask for a fresh one."
            )
    return render(request, "web/pair.html", {"says": says}, status=status)


@require_GET
def certificate(request: HttpRequest) -> HttpResponse:
    """The certificate of the shop's own authority, for a device to trust it."""
    file = settings.DATA_FOLDER / "certificate" / "authority.pem"
    if not file.is_file():
        says = "There is no certificate yet; it is made by serving with --lan."
        return errors.not_found(request, LookupError(says))
    response = HttpResponse(file.read_bytes(), content_type="application/x-x509-ca-cert")
    response.headers["Content-Disposition"] = 'attachment; filename="sashwright-shop.crt"'
    return response


@require_GET
def look(request: HttpRequest, secret: str) -> HttpResponse:
    """Come in by a link to one house."""
    link = keys.link_of(secret)
    if link is None:
        return errors.not_found(
            request, LookupError("This link is not good any more; ask the shop for a fresh one.")
        )
    request.session.cycle_key()
    request.session[LINK_IN_SESSION] = link.pk
    return redirect("house", link.house.slug)


def _address(request: HttpRequest) -> str:
    """Where somebody asks from; behind the shop's own proxy, as that says last."""
    told = request.META.get("HTTP_X_FORWARDED_FOR", "") if settings.BEHIND_PROXY else ""
    return str(told).rpartition(",")[2].strip() or str(request.META.get("REMOTE_ADDR", ""))


def _told(wait: timedelta) -> str:
    seconds = int(wait.total_seconds()) + 1
    return f"{seconds} seconds" if seconds < 100 else f"{-(-seconds // 60)} minutes"
