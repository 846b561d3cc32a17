"""Search: the dispatcher's desk and the responder's phone, one engine, two layouts.

These forms change nothing but a count of unread words and need no session: they send a description and
get a page. A forged one could only make a browser fetch a page its owner then sees, and counts nothing,
so they carry no token against cross-site posts. They post so that a caller's words never stand in an address.
"""

from collections.abc import Callable

from flask import Blueprint, Response, make_response, request

from catalog.errors import BadInput, ChockbookError, Unavailable
from catalog.services.reading import settle, without_personal
from catalog.services.resolving import Description, resolve_description
from catalog.services.views import Answer
from catalog.web import wording
from catalog.web.amend import amendments
from catalog.web.answers import Results, results
from catalog.web.errors import status_of
from catalog.web.render import house, page

_HINTS = {"desk": wording.LINE_HINT, "crew": wording.CREW_HINT}
MOST_ROWS = 10


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
    if _from_here():
        settle(house(), _said(), request.form.get("line", "")[:64])
    return Response(status=204)


def _from_here() -> bool:
    """Whether the browser says that a page of ours sent this: another site's must not count words."""
    return request.headers.get("Sec-Fetch-Site", "same-origin") in ("same-origin", "none")


def _said() -> str:
    return " ".join(request.form.get("said", "").splitlines())


def _answered(template: str, **shown: object) -> Response:
    """The page for what was typed, or the empty page.

    A refused text and an absent catalogue keep the page with the reason on it: the steps for any
    vehicle stand on the same page and need neither.
    """
    text = _said()
    posted = request.form.getlist("cue") if text.strip() else []
    show_all, why = (part in request.form and request.form.get("less") != part for part in ("all", "why"))
    answer: Answer | None = None
    problem: ChockbookError | None = None
    try:
        include = frozenset({"why"}) if why else frozenset[str]()
        description = Description(text, limit=MOST_ROWS, include=include, amendments=amendments(posted))
        answer = resolve_description(house(), description)
        if request.method == "POST" and template != "live.html" and _from_here():
            settle(house(), text)  # a pressed button finishes it; pressed again, it counts no more
    except (BadInput, Unavailable) as error:
        problem = error
    shown_results = results(answer, show_all=show_all) if answer else None
    made = make_response(
        page(
            template,
            text=answer.text if answer else without_personal(text),
            results=shown_results,
            idle=_idle(posted, shown_results),
            edition=answer.edition if answer else None,
            problem=problem,
            show_all=show_all,
            show_why=why,
            **shown,
        )
    )
    if problem:
        made.status_code = status_of(problem)
    if request.method == "POST":
        # A caller's words are not kept on the way either.
        made.headers["Cache-Control"] = "no-store"
    return made


def _idle(posted: list[str], shown: Results | None) -> list[str]:
    """Changes of what is not read just now: the page keeps them until it is read again, or the line is empty."""
    choices = [choice for meaning in shown.heard.meanings for choice in meaning.choices] if shown else []
    held = {choice.value for choice in choices}
    return [value for value in dict.fromkeys(posted) if value and value not in held]
