"""Who is signed in on the pages, and that what is posted comes from one of them.

The sign-in is a signed cookie: it is believed without the database as far as reading goes, and what writes asks the
database (`actor`). Forms that change something carry a token bound to the cookie; the search forms change nothing,
need no cookie and carry none.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

from flask import Blueprint, Flask, Request, current_app, g, redirect, request, session
from flask.sessions import SecureCookieSession, SecureCookieSessionInterface
from flask_login import LoginManager, UserMixin, current_user, login_user, logout_user
from flask_wtf.csrf import CSRFError, CSRFProtect, generate_csrf, validate_csrf
from itsdangerous import URLSafeTimedSerializer
from markupsafe import Markup
from werkzeug.wrappers import Response
from wtforms import ValidationError

from catalog.domain.roles import Right, Role
from catalog.errors import NotSignedIn, Unavailable
from catalog.services.acting import Actor, actor_of, require
from catalog.services.clock import SECOND, now_us
from catalog.services.house import House
from catalog.services.keys import key_of
from catalog.services.signing import IDLE, LONGEST, PAGE, SignIn, page_actor

PAGE_ACTOR = "chockbook.page_actor"  # where the API finds out who is signed in
_KEPT = "in"
_AGAIN = 60  # seconds after which the cookie is renewed
# What anybody may open although reading needs an account; briefs are opened by their links.
_OPEN = ("/sign-in", "/assets/", "/b/")
# Posts that change nothing: a forged one makes a browser fetch a page, and counts nothing.
_CHANGES_NOTHING = frozenset(
    {
        "desk",
        "desk_live",
        "desk_settled",
        "crew",
        "crew_live",
        "crew_settled",
        "steps",
        "record_steps",
        "desk_unstored",
        "phone_search",
    }
)


@dataclass(frozen=True)
class Visitor(UserMixin):  # type: ignore[misc]  # flask-login has no types
    """Who the cookie says is signed in. id: of the sign-in. began, seen: seconds since 1970, UTC."""

    id: str
    name: str
    shown: str
    role: Role
    must_choose: bool
    began: int
    seen: int

    def get_id(self) -> str:
        return self.id


class _Sessions(SecureCookieSessionInterface):
    """Signed with a key of the data folder, which is made when the first cookie is signed."""

    def get_signing_serializer(self, app: Flask) -> URLSafeTimedSerializer | None:
        need_key(app)
        return super().get_signing_serializer(app)

    def open_session(self, app: Flask, request: Request) -> SecureCookieSession | None:
        if not request.cookies.get(self.get_cookie_name(app)):
            return self.session_class()
        return super().open_session(app, request)


def register(app: Flask, blueprint: Blueprint) -> None:
    """Sessions, and what is checked before every page."""
    opened: House = app.extensions["chockbook"]
    secure = opened.settings.https
    app.config.update(
        SESSION_COOKIE_NAME="__Host-chockbook" if secure else "chockbook",
        SESSION_COOKIE_SECURE=secure,
        SESSION_COOKIE_HTTPONLY=True,
        SESSION_COOKIE_SAMESITE="Lax",
        WTF_CSRF_CHECK_DEFAULT=False,
        # It ends with the session it is bound to. Our pages send no referrer; Sec-Fetch-Site is looked at instead.
        WTF_CSRF_TIME_LIMIT=None,
        WTF_CSRF_SSL_STRICT=False,
    )
    app.session_interface = _Sessions()
    manager = LoginManager(app)
    manager.session_protection = None  # a phone's address changes; the sign-in is checked by its own limits
    manager.user_loader(_load)
    app.extensions[PAGE_ACTOR] = _actor_of_page
    csrf = CSRFProtect(app)
    blueprint.before_request(_check_post(csrf))
    blueprint.before_request(_check_reading)


def seen() -> Visitor | None:
    """Who is signed in, to show it and to let read. A sign-in that has ended is noticed within seconds."""
    if "seen" not in g:
        g.seen = _seen()
    found: Visitor | None = g.seen
    return found


def actor() -> Actor | None:
    """Who acts, as the database says now; None where nobody does. Raises Unavailable."""
    visitor = seen()
    return page_actor(_house(), visitor.id) if visitor else None


def begin(signed: SignIn) -> None:
    """Sign in. Nothing of the session before is kept: neither its token nor what somebody else put there."""
    session.clear()
    now = _now()
    visitor = Visitor(signed.id, signed.name, signed.shown, signed.role, signed.must_choose, now, now)
    login_user(visitor)
    _keep(visitor)
    g.seen = visitor


def end() -> None:
    """Sign out here; the sign-in itself is ended by the service."""
    if visitor := seen():
        _house().standing.forget(visitor.id)
    logout_user()
    session.clear()
    g.seen = None


def from_here() -> bool:
    """Whether the browser says that a page of ours sent this: another site's must not make anything be kept."""
    return request.headers.get("Sec-Fetch-Site", "same-origin") in ("same-origin", "none")


def csrf_field() -> Markup:
    """The hidden field that every form which changes something carries.

    Empty where the host's key cannot be kept: the page is still read, and the form refused.
    """
    try:
        token = csrf_token()
    except Unavailable:
        return Markup("")
    return Markup('<input type="hidden" name="csrf_token" value="{}">').format(token)


def csrf_token() -> str:
    """What scripts of our own pages send as X-CSRF-Token."""
    need_key(current_app)
    made: str = generate_csrf()
    return made


def _check_post(csrf: CSRFProtect) -> Callable[[], None]:
    def check() -> None:
        name = (request.endpoint or "").removeprefix("pages.")
        if request.method == "POST" and name not in _CHANGES_NOTHING:
            if not from_here():
                raise CSRFError("another site")
            need_key(current_app)
            csrf.protect()

    return check


def _check_reading() -> Response | None:
    """Who may not read is sent to sign in; who must choose a password can do nothing else first."""
    if request.path.startswith(_OPEN):
        return None
    visitor = seen()
    if visitor and visitor.must_choose and request.path not in ("/account", "/account/password", "/sign-out"):
        return redirect("/account", 303)
    if _house().settings.reading == "accounts":
        require(_read_by(visitor), Right.READ)
    return None


def _read_by(visitor: Visitor | None) -> Actor | None:
    return actor_of(visitor.name, visitor.role, PAGE) if visitor else None


def _seen() -> Visitor | None:
    if not session.get(_KEPT) or not current_user.is_authenticated:
        return None
    visitor: Visitor = current_user._get_current_object()
    try:
        standing = _house().standing.of(visitor.id, lambda: page_actor(_house(), visitor.id))
    except Unavailable:
        return visitor  # the signature is what there is; nothing can be written now anyway
    if standing is None:
        session.clear()
        return None
    if _now() - visitor.seen > _AGAIN:
        visitor = replace(visitor, role=standing.role, seen=_now())
        _keep(visitor)
    return visitor


def _load(id_: str) -> Visitor | None:
    """From the signed cookie alone, within its limits."""
    kept, now = session.get(_KEPT, {}), _now()
    try:
        visitor = Visitor(id_, kept["name"], kept["shown"], Role(kept["role"]), kept["must"], kept["at"], kept["seen"])
        holds = now - visitor.seen <= IDLE // SECOND and now - visitor.began <= LONGEST[PAGE] // SECOND
    except (KeyError, TypeError, ValueError):
        return None
    return visitor if holds else None


def _keep(visitor: Visitor) -> None:
    session[_KEPT] = {
        "name": visitor.name, "shown": visitor.shown, "role": str(visitor.role), "must": visitor.must_choose,
        "at": visitor.began, "seen": visitor.seen,
    }  # fmt: skip


def _actor_of_page(token: str) -> Actor | None:
    """Who is signed in where a page's own token goes with the request. Raises NotSignedIn, Unavailable."""
    need_key(current_app)
    try:
        validate_csrf(token)
    except ValidationError as error:
        raise NotSignedIn("The page's token does not belong to this sign-in.", cure="Load the page again.") from error
    return actor()


def need_key(app: Flask) -> None:
    """Before anything is signed. Raises Unavailable."""
    if not app.secret_key:
        app.secret_key = key_of(app.extensions["chockbook"].settings.data, "session.key")


def _house() -> House:
    opened: House = current_app.extensions["chockbook"]
    return opened


def _now() -> int:
    return now_us() // SECOND
