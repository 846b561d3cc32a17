"""Security headers of the pages. Nothing inline, nothing from elsewhere, nobody frames us."""

from flask import Response, request

_HEADERS = {
    "Content-Security-Policy": (
        "default-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'; object-src 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
}


def secure(response: Response) -> Response:
    """Set every header on a page or static file. The API sets its own."""
    if request.path.startswith("/api/"):
        return response
    for name, value in _HEADERS.items():
        response.headers.setdefault(name, value)
    response.headers.setdefault("Cache-Control", "private, no-cache")
    return response
