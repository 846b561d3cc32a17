"""Search: the dispatcher's desk and the responder's phone, one engine, two layouts.

These forms change nothing but a count of unread words and need no session: they send a description and
get a page. A forged one could only make a browser fetch a page its owner then sees, and counts nothing,
so they carry no token against cross-site posts. They post so that a caller's words never stand in an address.
"""

from collections.abc import Callable, Sequence

from flask import Blueprint, Response, make_response, request

from catalog.errors import BadInput, ChockbookError, Unavailable
from catalog.services.reading import settle, without_personal
from catalog.services.resolving import Description, resolve_description
from catalog.web import wording
from catalog.web.amend import amendments
from catalog.web.answers import FIRST, Results, results
from catalog.web.errors import status_of
from catalog.web.outcomes import outcome_form
from catalog.web.posted import NOTHING, posted, said
from catalog.web.render import from_here, house, page

_HINTS = {"desk": wording.LINE_HINT, "crew": wording.CREW_HINT}
MOST_KNOWN = 50  # vehicles of which it is known why, once that is asked for


def add(blueprint: Blueprint) -> None:
    """Add /desk and /crew with their live parts."""
    for name in _HINTS:
        blueprint.add_url_rule(f"/{name}", name, _page_view(name), methods=["GET", "POST"])
        blueprint.add_url_rule(f"/{name}/live", f"{name}_live", _live, methods=["POST"])
        blueprint.add_url_rule(f"/{name}/settled", f"{name}_settled", _settled, methods=["POST"])


def _page_view(name: str) -> Callable[[], Response]:
    def view() -> Response:
        return _answered(f"{name}.html", hint=_HINTS[name])

    return view


def _live() -> Response:
    return _answered("live.html")


def _settled() -> Response:
    """A line is finished: emptied, or left. Its unread words are counted; nothing is answered."""
    if from_here():
        settle(house(), said(request.form), request.form.get("line", "")[:64])
    return Response(status=204)


def _answered(template: str, **shown: object) -> Response:
    """The page for what was typed and answered, or the empty page.

    A refused text and an absent catalogue keep the page with the reason on it: the steps for any
    vehicle stand on the same page and need neither.
    """
    state, answer = NOTHING, None
    problem: ChockbookError | None = None
    try:
        state = posted(request.form)
        description = Description(
            state.text,
            limit=MOST_KNOWN if state.views & {"all", "why"} else FIRST,
            include=frozenset({"facts", "groups", "questions", *(state.views & {"why"})}),
            amendments=amendments(state.cues),
            answers=state.answers,
        )
        answer = resolve_description(house(), description)
        if request.method == "POST" and template != "live.html" and from_here():
            settle(house(), state.text)  # a pressed button finishes it; pressed again, it counts no more
    except (BadInput, Unavailable) as error:
        problem = error
    shown_results = results(answer, state) if answer else None
    made = make_response(
        page(
            template,
            text=answer.text if answer else without_personal(said(request.form)),
            results=shown_results,
            idle=_idle(state.cues, shown_results),
            edition=answer.edition if answer else None,
            outcome=outcome_form(answer, show_all="all" in state.views),
            problem=problem,
            views=state.views,
            caller=state.answers.caller or "",
            **shown,
        )
    )
    if problem:
        made.status_code = status_of(problem)
    if request.method == "POST":
        # A caller's words are not kept on the way either.
        made.headers["Cache-Control"] = "no-store"
    return made


def _idle(cues: Sequence[str], shown: Results | None) -> list[str]:
    """Changes of what is not read just now: the page keeps them until it is read again, or the line is empty."""
    choices = [choice for meaning in shown.heard.meanings for choice in meaning.choices] if shown else []
    held = {choice.value for choice in choices}
    return [value for value in dict.fromkeys(cues) if value and value not in held]
