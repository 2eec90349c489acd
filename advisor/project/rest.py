"""Settings of the REST interface."""

REST_FRAMEWORK = {
    "DEFAULT_AUTHENTICATION_CLASSES": ["api.authentication.Token", "api.authentication.Session"],
    "DEFAULT_PERMISSION_CLASSES": ["api.permissions.ByRule"],
    "DEFAULT_THROTTLE_CLASSES": ["api.throttling.RateLimit"],
    "DEFAULT_PARSER_CLASSES": ["api.parsers.JsonParser"],
    "DEFAULT_RENDERER_CLASSES": [
        "rest_framework.renderers.JSONRenderer",
        "api.pages.PageRenderer",
    ],
    "DEFAULT_SCHEMA_CLASS": "api.schema.automatic.OperationSchema",
    "EXCEPTION_HANDLER": "api.errors.exception_handler",
    "TEST_REQUEST_DEFAULT_FORMAT": "json",
    "URL_FORMAT_OVERRIDE": None,
    "UNAUTHENTICATED_USER": "django.contrib.auth.models.AnonymousUser",
}

SPECTACULAR_SETTINGS = {
    "TITLE": "Baywind",
    "DESCRIPTION": "Advice on quiet, cool, air-cooled home servers and workstations: put a brief, get a shortlist.",
    "VERSION": "1.0.0",
    "OAS_VERSION": "3.1.0",
    "SCHEMA_PATH_PREFIX": "/api/v1/",
    "POSTPROCESSING_HOOKS": [
        "drf_spectacular.hooks.postprocess_schema_enums",
        "api.schema.document.add_components",
    ],
    "APPEND_COMPONENTS": {
        "securitySchemes": {
            "token": {"type": "http", "scheme": "bearer", "description": "A token made at /api/v1/tokens/."},
            "session": {"type": "apiKey", "in": "cookie", "name": "sessionid", "description": "A browser's session."},
        }
    },
}

# Longest bodies in bytes: of most requests, and of a part.
BODY_LIMIT = 64 * 1024
PART_BODY_LIMIT = 256 * 1024

# Where those are counted; past so many counters, some are forgotten.
CACHES = {
    "default": {
        "BACKEND": "django.core.cache.backends.locmem.LocMemCache",
        "OPTIONS": {"MAX_ENTRIES": 100_000},
    }
}

# Requests of one guest's address and of one account: api/throttling.py counts them, a view's ``scope`` names one.
RATES = {
    "read": {"guest": "600/minute", "member": "600/minute"},
    "write": {"guest": "60/minute", "member": "120/minute"},
    "study": {"guest": "30/hour", "member": "300/hour"},
    "sign_in": {"guest": "10/minute", "member": "10/minute"},
    "sign_up": {"guest": "10/hour", "member": "10/hour"},
}

# Studies of one person that may be unfinished at a time.
UNFINISHED_STUDIES = {"guest": 3, "member": 5}

# Seconds after which clients are told to ask again for an unfinished study.
STUDY_POLL_SECONDS = 2

# Own parts that one person may have, of all kinds together.
OWN_PARTS = 200
