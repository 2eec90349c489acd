"""Settings of what browsers may do with our answers, and of how much a client may send."""

from csp.constants import NONE, SELF

# Scripts and styles come from our own files alone; design without inline ones, and this needs no exception.
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [SELF],
        "base-uri": [SELF],
        "form-action": [SELF],
        "frame-ancestors": [NONE],
        "object-src": [NONE],
    },
}
PERMISSIONS_POLICY = ", ".join(
    f"{feature}=()"
    for feature in (
        "camera",
        "display-capture",
        "geolocation",
        "microphone",
        "payment",
        "publickey-credentials-get",
        "usb",
    )
)
SECURE_REFERRER_POLICY = "same-origin"  # a guest's study is open to whoever has its address
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"
SECURE_CONTENT_TYPE_NOSNIFF = True
X_FRAME_OPTIONS = "DENY"
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
CSRF_COOKIE_SAMESITE = "Lax"

# No request of any address is longer; the views bound theirs more tightly.
LONGEST_BODY = 1024 * 1024
DATA_UPLOAD_MAX_MEMORY_SIZE = LONGEST_BODY
DATA_UPLOAD_MAX_NUMBER_FIELDS = 2000  # an enclosure in the admin pages has several hundred
DATA_UPLOAD_MAX_NUMBER_FILES = 10
HSTS_SECONDS = 365 * 24 * 3600
