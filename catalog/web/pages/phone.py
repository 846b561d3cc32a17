"""The responder's app: one page that a phone can install, and its manifest.

The page is the same for everybody: nothing of a sign-in stands in it, so that a phone may keep it.
"""

from flask import Blueprint, Response, current_app, jsonify, make_response

from catalog.web import phone_wording
from catalog.web.assets import Assets
from catalog.web.packed import packed
from catalog.web.phone_shell import version_of
from catalog.web.phone_taps import asks, taps
from catalog.web.render import ASSETS, page

SCOPE = "/phone"
_VERSION = "chockbook.phone"
# Of the page's ground by day and by night (tokens.css; a test holds them together).
DAY, NIGHT = "#e8edeb", "#090e10"
ICONS = (("icon-192.png", 192, "any"), ("icon-512.png", 512, "any"), ("icon-maskable-512.png", 512, "maskable"))


def add(blueprint: Blueprint) -> None:
    """Add /phone and /phone/app.webmanifest."""
    blueprint.add_url_rule(SCOPE, "phone", _shell)
    blueprint.add_url_rule(f"{SCOPE}/app.webmanifest", "phone_manifest", _manifest)


def _shell() -> Response:
    return packed(make_response(html_of(version_here())))


def html_of(version: str) -> str:
    """The page. No edition stands in it: which one is meant, the phone says, which may hold another than the server."""
    return page(
        "phone.html", shell=version, say=phone_wording, taps=taps(), asks=asks(), day_ground=DAY, night_ground=NIGHT
    )


def version_here() -> str:
    """The version of the app as this process serves it."""
    kept = current_app.extensions
    if _VERSION not in kept:
        kept[_VERSION] = version_of(kept[ASSETS], html_of(""))
    version: str = kept[_VERSION]
    return version


def manifest(assets: Assets) -> dict[str, object]:
    """The web app manifest: what a phone needs to put the page among its apps (W3C Web Application Manifest)."""
    return {
        "id": SCOPE,
        "name": phone_wording.NAME,
        "short_name": phone_wording.SHORT_NAME,
        "description": phone_wording.ABOUT,
        "lang": "en",
        "dir": "ltr",
        "start_url": f"{SCOPE}#/",
        "scope": SCOPE,
        "display": "standalone",
        "orientation": "any",
        "background_color": DAY,
        "theme_color": DAY,
        "icons": [
            {"src": assets.path(f"phone/{name}"), "sizes": f"{side}x{side}", "type": "image/png", "purpose": purpose}
            for name, side, purpose in ICONS
        ],
        "shortcuts": [
            {"name": phone_wording.ANY_LONG, "short_name": phone_wording.ANY, "url": f"{SCOPE}#/any"},
        ],
    }


def _manifest() -> Response:
    assets: Assets = current_app.extensions[ASSETS]
    made = jsonify(manifest(assets))
    made.mimetype = "application/manifest+json"
    return made
