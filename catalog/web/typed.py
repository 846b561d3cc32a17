"""What desk and phone have in common: a typed line becomes a question to the catalogue, and nothing is kept of it.

These forms change nothing but a count of unread words and need no session: they send a description and
get a page. A forged one could only make a browser fetch a page its owner then sees, and counts nothing,
so they carry no token against cross-site posts. They post so that a caller's words never stand in an address.
"""

from collections.abc import Sequence

from flask import Response, request

from catalog.errors import ChockbookError
from catalog.resolve.answering.scale import FIRST
from catalog.resolve.answering.understood import without_personal
from catalog.services.reading import settle
from catalog.services.resolving import Description
from catalog.web.acting import from_here
from catalog.web.amend import amendments
from catalog.web.answers import Results
from catalog.web.errors import answered
from catalog.web.posted import Posted, said
from catalog.web.render import house

MOST_KNOWN = 50  # vehicles of which it is known why, once that is asked for


def description_of(state: Posted) -> Description:
    """What a posted form asks. Raises BadInput."""
    return Description(
        state.text,
        limit=MOST_KNOWN if state.views & {"all", "why"} else FIRST,
        include=frozenset({"facts", "groups", "questions", *(state.views & {"why"})}),
        amendments=amendments(state.cues),
        answers=state.answers,
    )


def settled() -> Response:
    """A line is finished: emptied, or left. Its unread words are counted; nothing is answered."""
    if from_here():
        settle(house(), said(request.form), request.form.get("line", "")[:64])
    return Response(status=204)


def count(state: Posted) -> None:
    """A pressed button finishes the line; pressed again, it counts no more."""
    if request.method == "POST" and from_here():
        settle(house(), state.text)


def sent(html: str, problem: ChockbookError | None) -> Response:
    """A page about what was typed."""
    # A caller's words are not kept on the way either.
    return answered(html, problem, kept=request.method != "POST")


def shown_text(answered: str | None) -> str:
    """The line as it is sent back."""
    return without_personal(said(request.form)) if answered is None else answered


def idle(cues: Sequence[str], shown: Results | None) -> list[str]:
    """Changes of what is not read just now: the page keeps them until it is read again, or the line is empty."""
    choices = [choice for meaning in shown.heard.meanings for choice in meaning.choices] if shown else []
    held = {choice.value for choice in choices}
    return [value for value in dict.fromkeys(cues) if value and value not in held]
