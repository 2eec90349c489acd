"""Settings of the REST interface."""

REST_FRAMEWORK = {
    "DEFAULT_AUTHENTICATION_CLASSES": ["api.authentication.Token", "api.authentication.Session"],
    "DEFAULT_PERMISSION_CLASSES": ["api.permissions.ByRule"],
    "DEFAULT_THROTTLE_CLASSES": ["api.throttling.RateLimit"],
    "DEFAULT_PARSER_CLASSES": ["api.parsers.JsonParser"],
    "DEFAULT_RENDERER_CLASSES": [
        "rest_framework.renderers.JSONRenderer",
        "rest_framework.renderers.BrowsableAPIRenderer",
    ],
    "DEFAULT_SCHEMA_CLASS": "drf_spectacular.openapi.AutoSchema",
    "EXCEPTION_HANDLER": "api.errors.exception_handler",
    "TEST_REQUEST_DEFAULT_FORMAT": "json",
    "URL_FORMAT_OVERRIDE": None,
    "UNAUTHENTICATED_USER": "django.contrib.auth.models.AnonymousUser",
}

# Longest bodies in bytes: of most requests, and of a part.
BODY_LIMIT = 64 * 1024
PART_BODY_LIMIT = 256 * 1024

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
