"""The one settings module of Django, for a shop's own computer and for a server alike.

What may be set from outside, all by environment variables:

* ``SASHWRIGHT_HOME``: the folder that keeps the shop's data
* ``SASHWRIGHT_DATABASE_URL``: another database than the file in that folder
* ``SASHWRIGHT_HOSTS``: names, separated by commas, by which other devices may call this computer
* ``SASHWRIGHT_TLS``: ``1`` where all pages come by https, so that cookies go no other way
* ``SASHWRIGHT_PROXY``: ``1`` behind a proxy of one's own that says who is asking, and how
* ``SASHWRIGHT_DEBUG``: ``1`` shows developers what went wrong, in the page

Importing it writes nothing.
"""

from __future__ import annotations

import os
from typing import Any

from django.utils.functional import SimpleLazyObject

from sashwright.record.clock import local_zone
from sashwright.record.database import database
from sashwright.record.folders import data_folder
from sashwright.record.secret import secret_key

DEBUG = os.environ.get("SASHWRIGHT_DEBUG", "") == "1"

# --- the shop's data --------------------------------------------------------------

DATA_FOLDER = data_folder()
DATABASES: dict[str, dict[str, Any]] = {
    "default": database(os.environ.get("SASHWRIGHT_DATABASE_URL", ""), DATA_FOLDER)
}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
# Made when first needed: reading the settings alone must not write into anybody's folders.
SECRET_KEY = SimpleLazyObject(lambda: secret_key(data_folder()))

# --- what the site is made of -----------------------------------------------------

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "django_htmx",
    "sashwright.record",
    "sashwright.web",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "sashwright.web.middleware.DoorMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
]

ROOT_URLCONF = "sashwright.web.urls"

TEMPLATES: list[dict[str, Any]] = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "sashwright.web.context.page",
            ],
        },
    },
]

# --- files of the pages -----------------------------------------------------------

STATIC_URL = "static/"
# Served straight from the package: there is nothing to collect in a shop.
WHITENOISE_USE_FINDERS = True
WHITENOISE_AUTOREFRESH = DEBUG
WHITENOISE_ALLOW_ALL_ORIGINS = False

# --- language and time ------------------------------------------------------------

LANGUAGE_CODE = "en"
USE_I18N = False
USE_TZ = True
TIME_ZONE = local_zone()

# --- safety -----------------------------------------------------------------------

HOSTS = [name.strip() for name in os.environ.get("SASHWRIGHT_HOSTS", "").split(",") if name.strip()]
ALLOWED_HOSTS = ["localhost", "127.0.0.1", "[::1]", *HOSTS]
TLS = os.environ.get("SASHWRIGHT_TLS", "") == "1"
BEHIND_PROXY = os.environ.get("SASHWRIGHT_PROXY", "") == "1"
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = SECURE_SSL_REDIRECT = TLS
if BEHIND_PROXY:
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
# A server with a name of its own keeps to https for good. A computer that is only called by number or as
# localhost does not: it may want to open its pages by http again tomorrow.
SECURE_HSTS_SECONDS = 365 * 24 * 3600 if TLS and HOSTS else 0
SECURE_HSTS_INCLUDE_SUBDOMAINS = SECURE_HSTS_PRELOAD = TLS and bool(HOSTS)
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
SESSION_COOKIE_NAME = "sashwright_session"
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
CSRF_COOKIE_NAME = "sashwright_csrf"
CSRF_COOKIE_SAMESITE = "Lax"
FILE_UPLOAD_PERMISSIONS = 0o600
# A form of a whole house of windows has more fields than Django's usual thousand.
DATA_UPLOAD_MAX_NUMBER_FIELDS = 10_000
# Twice the largest house file.
DATA_UPLOAD_MAX_MEMORY_SIZE = 10_000_000

# The second reads what an older program kept, and writes it anew by the first at the next sign-in.
PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.Argon2PasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"django.contrib.auth.password_validation.{name}"}
    for name in (
        "UserAttributeSimilarityValidator",
        "MinimumLengthValidator",
        "CommonPasswordValidator",
    )
]

# --- what is told in the terminal --------------------------------------------------

LOGGING: dict[str, Any] = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"plain": {"format": "{asctime} {levelname} {name}: {message}", "style": "{"}},
    "handlers": {"terminal": {"class": "logging.StreamHandler", "formatter": "plain"}},
    "root": {"handlers": ["terminal"], "level": "WARNING"},
    "loggers": {
        # Not to the handlers that Django brings: they would post mail to nobody.
        "django": {"handlers": ["terminal"], "level": "WARNING", "propagate": False},
        "sashwright": {"level": "INFO"},
    },
}
