"""The composition root of the web application: the only place where the edges meet.

Belongs to no room; may import every one. gunicorn calls `create_app` in each worker, so that
database engines are created after the fork.
"""

import sys
import threading

import structlog
from flask import Flask
from werkzeug.middleware.proxy_fix import ProxyFix

from catalog import api, web
from catalog.config import Settings
from catalog.services.brief_openings import keep_openings
from catalog.services.following import follow
from catalog.services.house import open_house
from catalog.services.unread import keep_counts


def create_serving_app(settings: Settings) -> Flask:
    """The application as a server runs it: logs as JSON lines, follows the store to newer editions, counts."""
    structlog.configure(
        processors=[
            structlog.processors.add_log_level,
            structlog.processors.TimeStamper(fmt="iso", utc=True),
            structlog.processors.JSONRenderer(),
        ],
        logger_factory=structlog.PrintLoggerFactory(sys.stderr),
    )
    app = create_app(settings)
    stop = threading.Event()
    follow(app.extensions["chockbook"], stop)
    keep_counts(app.extensions["chockbook"], stop)
    keep_openings(app.extensions["chockbook"], stop)
    return app


def create_app(settings: Settings) -> Flask:
    """The WSGI application for one house."""
    app = Flask("catalog", static_folder=None, template_folder=None)
    # Descriptions are at most 2,000 characters; nothing larger is ever read here.
    app.config["MAX_CONTENT_LENGTH"] = 64 * 1024
    app.json.sort_keys = False  # type: ignore[attr-defined]
    app.extensions["chockbook"] = open_house(settings)
    if settings.https:
        # One proxy stands in front; what it says of whom it speaks for is believed, and nobody else's word.
        app.wsgi_app = ProxyFix(app.wsgi_app, x_for=1, x_proto=1)  # type: ignore[method-assign]
    api.register(app)
    web.register(app)
    return app
