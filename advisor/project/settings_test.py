"""Settings for the tests: those of the service, whatever a developer's own .env says of debugging and keys."""

import os

os.environ["DEBUG"] = "no"
os.environ["SECRET_KEY"] = "for-tests-only-and-long-enough-to-be-accepted-as-a-key"

from advisor.project.settings import *
from advisor.project.settings import STORAGES

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]

# Static files straight from where they are kept, without collecting them first.
STORAGES = STORAGES | {"staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}}
WHITENOISE_AUTOREFRESH = WHITENOISE_USE_FINDERS = True

# A developer's own service may run on this machine: its workers are told nothing by tests, unless they ask for it.
CELERY_BROKER_URL = "memory://"
