"""A composed brief as the desk shows it, and what became of it."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from catalog.services.brief_text import full_text
from catalog.services.brief_views import BriefView
from catalog.web.render import house


def sent_shown(brief: BriefView | None, why: str = "", problem: str = "") -> Mapping[str, Any]:
    """What the templates of a brief are given. why: it is not kept. problem: there is none."""
    zone = ZoneInfo(house().settings.site_zone)

    def clock(moment: datetime) -> str:
        """ "03:12", with the day where it was another."""
        local = moment.astimezone(zone)
        today = datetime.now(zone).date() == local.date()
        return f"{local:%H:%M}" if today else f"{local.day} {local:%b %H:%M}"

    return {
        "sent": brief,
        "unstored_why": why,
        "problem_brief": problem,
        "clock": clock,
        "full_text": full_text(brief) if brief else "",
        "address": brief.link if brief else "",
    }
