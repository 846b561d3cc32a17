"""The HTTP API under /api/v1: parse, call a service, dump.

May import: catalog.services, schemas, the rooms below them, flask, flask_smorest, webargs,
marshmallow, apispec, structlog. Never catalog.web or catalog.cli.
"""

from flask import Flask

from catalog.api import acting, guard, requests_log
from catalog.api.binding import bind
from catalog.api.docs import serve

__all__ = ["register"]


def register(app: Flask) -> None:
    """Add the API to an application whose house is at app.extensions["chockbook"]."""
    requests_log.register(app)
    guard.register(app)
    acting.register(app)
    bind(app)
    serve(app)
