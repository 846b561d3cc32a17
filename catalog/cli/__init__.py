"""The terminal: commands that call services and print what they return.

May import: catalog.domain, schemas, catalog.services, catalog.config, catalog.errors, catalog.app
(to serve it), seed_demo (the demo command alone), click, gunicorn. Nothing is decided here:
pages turn views into lines, commands print them. Services are imported inside the commands, so
that `--help` and a mistyped command answer at once.
"""
