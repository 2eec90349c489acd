"""Django's settings: everything that differs between machines comes from the environment, see .env.example."""

import os
from pathlib import Path

from advisor.project import env
from advisor.project.logs import LOGGING as LOGGING
from advisor.project.rest import *  # noqa: F403
from advisor.project.security import *  # noqa: F403
from advisor.project.security import HSTS_SECONDS
from advisor.project.studies import *  # noqa: F403

BASE_DIR = Path(__file__).resolve().parents[2]
env.load_file(BASE_DIR / ".env")

DATA = env.directory("BAYWIND_DATA", "var", BASE_DIR)
env.prepare_numerics(DATA)

DEBUG = env.yes_no("DEBUG", default=False)
LISTEN = env.ip_address("LISTEN", "127.0.0.1")
PORT = env.whole_number("PORT", 8000, least=1, most=65535)
WORKERS = env.whole_number("WORKERS", os.cpu_count() or 1, least=1, most=256)
ALLOWED_HOSTS = env.names("ALLOWED_HOSTS", "localhost,127.0.0.1,[::1]")
DATABASES = {"default": env.database("DATABASE_URL", DATA / "baywind.sqlite3")}
SECRET_KEY = env.secret_key("SECRET_KEY", DATA / "secret_key", shared=bool(env.text("DATABASE_URL")))
BEHIND_TLS = env.yes_no("BEHIND_TLS", default=False)
PROXIES = env.whole_number("PROXIES", 0, least=0, most=9)
REDIS_URL = env.redis_url("REDIS_URL", DATA)

INSTALLED_APPS = [
    "advisor.project.apps.AdminPagesConfig",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "rest_framework",
    "drf_spectacular",
    "django_htmx",
    "csp",
    "catalog",
    "advisor",
    "api",
    "frontend",
]

# What stands first sees every answer, also those of files and of what is refused further in.
MIDDLEWARE = [
    "csp.middleware.CSPMiddleware",
    "advisor.project.headers.PermissionsPolicy",
    "django.middleware.security.SecurityMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "advisor.project.headers.Bounds",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "advisor.access.gate.Gate",
]

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
            ],
        },
    },
]

AUTHENTICATION_BACKENDS = ["advisor.access.backend.RoleBackend"]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"django.contrib.auth.password_validation.{name}"}
    for name in ("UserAttributeSimilarityValidator", "MinimumLengthValidator", "CommonPasswordValidator")
]

LOGIN_URL = "pages:sign-in"
CSRF_FAILURE_VIEW = "frontend.views.errors.stale_form"

ROOT_URLCONF = "advisor.project.urls"
WSGI_APPLICATION = "advisor.project.wsgi.application"
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
STATIC_URL = "static/"
STATIC_ROOT = DATA / "static"
MEDIA_ROOT = DATA / "uploads"
LANGUAGE_CODE = "en-gb"
TIME_ZONE = "UTC"
USE_TZ = True
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "whitenoise.storage.CompressedManifestStaticFilesStorage"},
}
WHITENOISE_ALLOW_ALL_ORIGINS = False

# Counts of requests by person and address, within the one process that answers: room for as many as may come.
CACHES = {
    "default": {
        "BACKEND": "django.core.cache.backends.locmem.LocMemCache",
        "OPTIONS": {"MAX_ENTRIES": 100_000},
    }
}

# A proxy in front speaks TLS, and sets X-Forwarded-Proto whatever a client sends.
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = SECURE_SSL_REDIRECT = BEHIND_TLS
SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https") if BEHIND_TLS else None
SECURE_HSTS_SECONDS = HSTS_SECONDS if BEHIND_TLS else 0
SECURE_HSTS_INCLUDE_SUBDOMAINS = SECURE_HSTS_PRELOAD = BEHIND_TLS

# A task is handed out again when its worker dies, and must not be while it still runs: the limits go up in this order.
CELERY_TASK_SOFT_TIME_LIMIT = 540
CELERY_TASK_TIME_LIMIT = 600
CELERY_BROKER_TRANSPORT_OPTIONS = {
    "visibility_timeout": 3600,
    "socket_connect_timeout": 3,
    "socket_timeout": 15,
    "max_retries": 1,
    "interval_start": 0,
}
CELERY_BROKER_URL = REDIS_URL
# Workers outlast any broker that comes back; what they compute meanwhile counts, since the database has the last word.
CELERY_BROKER_CONNECTION_RETRY_ON_STARTUP = True
CELERY_BROKER_CONNECTION_MAX_RETRIES = None
CELERY_WORKER_CANCEL_LONG_RUNNING_TASKS_ON_CONNECTION_LOSS = False
# What the broker cannot be told at once, the sweep tells it later: nobody waits for it.
CELERY_TASK_PUBLISH_RETRY = False
CELERY_TASK_ACKS_LATE = True
CELERY_TASK_REJECT_ON_WORKER_LOST = True
CELERY_TASK_IGNORE_RESULT = True
CELERY_TASK_DEFAULT_QUEUE = "studies"
CELERY_TASK_CREATE_MISSING_QUEUES = False
CELERY_TASK_SERIALIZER = "json"
CELERY_ACCEPT_CONTENT = ["json"]
CELERY_WORKER_CONCURRENCY = WORKERS
CELERY_WORKER_PREFETCH_MULTIPLIER = 1
