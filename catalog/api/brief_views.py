"""Views of briefs. A brief is composed and kept for whoever may; what is asked for is neither stored nor logged."""

from collections.abc import Mapping
from typing import Any

from catalog.api.reply import PRIVATE, Reply
from catalog.domain import cautions
from catalog.resolve.answering.asked import Answers
from catalog.services import brief_acts as acts
from catalog.services import briefs
from catalog.services import handing_over as handing
from catalog.services.amending import amendments_of
from catalog.services.brief_views import BriefView
from catalog.services.compiling import edition_view
from catalog.services.house import House
from schemas.answers import with_cautions
from schemas.briefs import BriefAnswer, BriefsAnswer, IncidentAnswer

Arguments = Mapping[str, Any]


def compose(house: House, given: Arguments) -> Reply:
    """Compose a brief and keep it.

    From a description, cues or codes, with the scene, the vehicle's letter and the incident. It is fixed to its edition
    and never changes. Sent again under the same `Idempotency-Key` it is the same brief, with a link of its own; another
    request under that key is refused. Its link is told once. While the database is away it is composed all the same,
    not stored: show `mark` with every form of it. Of the text nothing is kept but the cues.
    """
    return _reply(house, briefs.compose_brief(house, given["actor"], _asked(given)))


def composed_shown(house: House, given: Arguments) -> Reply:
    """What is composed, with nothing written down: for the docs page."""
    return _reply(house, briefs.compose_unstored(house, _asked(given)))


def brief(house: House, given: Arguments) -> Reply:
    """A brief with what became of it.

    What it says is as it was composed. Beside it stand what a newer edition says otherwise, whether it was recalled,
    when it was sent, read back and opened, and what follows it. Its links are not told again.
    """
    return _reply(house, briefs.read_brief(house, given["actor"], given["id"]))


def list_briefs(house: House, given: Arguments) -> Reply:
    """The briefs of a day."""
    found = briefs.list_briefs(house, given["actor"], given["day"])
    return _told(house, BriefsAnswer, found)


def incident(house: House, given: Arguments) -> Reply:
    """An incident with its briefs."""
    return _told(house, IncidentAnswer, briefs.read_incident(house, given["actor"], given["id"]))


def follow_up(house: House, given: Arguments) -> Reply:
    """Compose a correction that follows a brief.

    From what that brief was composed from, against the newest edition, with what is given here over it. It opens with
    CORRECTION and says what changed; have that read back. Refused where nothing reads otherwise.
    """
    return _reply(house, acts.follow_up(house, given["actor"], given["id"], _asked(given)))


def sent(house: House, given: Arguments) -> Reply:
    """Note that a brief was sent."""
    return _reply(house, acts.mark_sent(house, given["actor"], given["id"], given["form"], given["to"]))


def read_back(house: House, given: Arguments) -> Reply:
    """Note that a crew read a brief back."""
    return _reply(house, acts.note_read_back(house, given["actor"], given["id"], given["who"], given["words"]))


def recall(house: House, given: Arguments) -> Reply:
    """Recall a brief.

    Wherever it is opened it then says RECALLED, by whom, why and what to do instead, for good.
    """
    told = acts.Recall(given["why"], given["instead"])
    return _reply(house, acts.recall(house, given["actor"], given["id"], told))


def hand_over(house: House, given: Arguments) -> Reply:
    """Write the hand-over slip of a brief.

    For tow and yard, from the record, the steps ticked and what was typed; what nobody said reads so. It is kept and
    linked as a brief is, and follows it.
    """
    asked = handing.SlipAsked(
        tuple(handing.Tick(one["key"], one["state"], one["at"]) for one in given["ticks"]),
        given["typed"],
        tuple(handing.Temperature(one["at"], one["words"]) for one in given["temperatures"]),
        given["key"],
    )
    return _reply(house, handing.write_slip(house, given["actor"], given["id"], asked))


def link(house: House, given: Arguments) -> Reply:
    """Make another link to a brief.

    Links that were made before go on working until they end.
    """
    return _reply(house, briefs.new_link(house, given["actor"], given["id"]))


def _asked(given: Arguments) -> briefs.BriefAsked:
    return briefs.BriefAsked(
        text=given["text"],
        codes=tuple(given["codes"]),
        scene=given["scene"],
        letter=given.get("letter", "A"),
        incident=given.get("incident", ""),
        key=given.get("key", ""),
        amendments=amendments_of(given),
        answers=Answers({}, tuple(given["excluded"])),
        carried=None if given.get("carried") is None else tuple(given["carried"]),
        caller=given.get("caller"),
    )


def _reply(house: House, view: BriefView) -> Reply:
    edition = view.composed.edition
    told = cautions.full(edition.number, edition.published_at, demo=house.settings.demo)
    more = (view.mark, view.composed.notice, cautions.LIKELY if view.composed.vehicles else "")
    document = with_cautions(BriefAnswer, view, (*filter(None, more), *told))
    return Reply(document, edition.number, PRIVATE)


def _told(house: House, schema: Any, view: Any) -> Reply:
    newest = edition_view(house.shelf.current())
    told = cautions.full(newest.number, newest.published_at, demo=house.settings.demo)
    return Reply(with_cautions(schema, view, told), newest.number, PRIVATE)
