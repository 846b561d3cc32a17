"""What every page is rendered with: wording, cautions, static addresses, dates of the site."""

from datetime import datetime
from zoneinfo import ZoneInfo

from flask import current_app, render_template, request

from catalog.domain import cautions
from catalog.domain.numbers import counted
from catalog.services.clock import moment_of
from catalog.services.house import House
from catalog.web import acting, people_wording, wording
from catalog.web.assets import Assets

ASSETS = "chockbook.assets"

PLACES = (
    ("/desk", "Dispatcher"),
    ("/phone", "Responder"),
    ("/steward", "Steward"),
    ("/find", "Find in guides"),
    ("/steps", "Steps for any vehicle"),
)


def house() -> House:
    """The house the composition root opened."""
    opened: House = current_app.extensions["chockbook"]
    return opened


def page(template: str, **shown: object) -> str:
    """Render one template with what all pages share."""
    settings = house().settings
    zone = ZoneInfo(settings.site_zone)
    assets: Assets = current_app.extensions[ASSETS]
    return render_template(
        f"web/{template}",
        words=wording,
        people=people_wording,
        cautions=cautions,
        full_cautions=cautions.FULL,
        demo=settings.demo,
        asset=assets.path,
        places=PLACES,
        here=request.path,
        zone=settings.site_zone,
        visitor=acting.seen(),
        to_here=request.path if request.method == "GET" else "",
        moment_of=moment_of,
        counted=counted,
        csrf_field=acting.csrf_field,
        csrf_token=acting.csrf_token,
        day=lambda moment: day(moment, zone),
        minute=lambda moment: minute(moment, zone),
        **shown,
    )


def day(moment: datetime, zone: ZoneInfo) -> str:
    """ "12 Nov 2025" in the site's zone."""
    local = moment.astimezone(zone)
    return f"{local.day} {local:%b %Y}"


def minute(moment: datetime, zone: ZoneInfo) -> str:
    """ "12 Nov 2025, 03:11" in the site's zone; the page names the zone."""
    return f"{day(moment, zone)}, {moment.astimezone(zone):%H:%M}"
