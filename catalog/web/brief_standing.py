"""What became of a brief, for a copy of it that a device keeps."""

from catalog.services.brief_views import BriefView
from catalog.store.tables_briefs import CORRECTION
from catalog.web import brief_wording


def standing(view: BriefView) -> dict[str, object]:
    """recalled: why, and what to do instead, "" where it stands. corrected: ids of what puts it right. newer: the
    edition that says something of it otherwise, 0 for none. ended: whether the link is no more."""
    recalled = ""
    if view.recalled:
        told = view.recalled
        recalled = f"{brief_wording.INSTEAD}: {told.instead} {brief_wording.WHY}: {told.why}"
    return {
        "recalled": recalled,
        "corrected": [one.id for one in view.followed_by if one.kind == CORRECTION],
        "newer": view.newer.edition if view.newer and view.newer.concerns else 0,
        "ended": False,
    }


def ended() -> dict[str, object]:
    """Of a link that is no more."""
    return {"recalled": "", "corrected": [], "newer": 0, "ended": True}
