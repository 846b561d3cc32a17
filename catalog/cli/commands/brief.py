"""chockbook brief: compose a brief, look at it, and say what became of it."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import click

from catalog.cli.acting import VARIABLE, acting, as_option
from catalog.cli.commands.resolve import description_of
from catalog.cli.commands.steps import scene_of
from catalog.cli.terminal import Terminal

if TYPE_CHECKING:
    from catalog.services.briefs import BriefView

_FORMS = ("radio", "full", "json")
_SENT = ("radio", "full", "sheet", "link", "json")

_form = click.option(
    "--form", type=click.Choice(_FORMS), default="radio", show_default=True, help="What is said, all of it, or JSON."
)
_codes = click.option("--code", "codes", multiple=True, metavar="CODE", help="A record it may be; may be given again.")
_scene = click.option(
    "--scene", multiple=True, metavar="FIELD=yes|no|unknown", help="Such as fire=yes; may be given again."
)


class _Briefs(click.Group):
    """What is no command of its own is a description to compose from."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        if args and args[0] not in self.commands and args[0] not in ("-h", "--help"):
            args = ["compose", *args]
        return super().parse_args(ctx, args)


@dataclass(frozen=True, slots=True)
class _Chosen:
    """What was typed."""

    text: tuple[str, ...]
    codes: tuple[str, ...]
    scene: tuple[str, ...]
    vehicle: str
    incident: str
    key: str
    form: str
    as_name: str | None


@click.group(cls=_Briefs, short_help="Compose a brief for a crew, and look after it.")
def brief() -> None:
    """Compose a brief for a crew, and look after it.

    `chockbook brief TEXT` composes; it is short for `chockbook brief compose TEXT`.
    """


@brief.command(short_help="Compose a brief from a description or codes.")
@click.argument("text", nargs=-1)
@_codes
@_scene
@click.option("--vehicle", default="A", show_default=True, metavar="LETTER", help="Its letter in the incident.")
@click.option("--incident", default="", metavar="NUMBER", help="The incident; without one another is opened.")
@click.option("--key", default="", metavar="KEY", help="Random; the same request under it is the same brief.")
@_form
@as_option
@click.pass_obj
def compose(terminal: Terminal, /, **typed: Any) -> None:
    """Compose a brief from TEXT (- for standard input) or the records given by --code; with neither, for any vehicle.

    TEXT is read and forgotten. The brief is kept for who acts in a name; for nobody it is composed all the same,
    unstored and marked so.
    """
    from catalog.services.briefs import BriefAsked, compose_brief, compose_unstored

    chosen = _Chosen(**typed)
    asked = BriefAsked(
        text=description_of(chosen.text) if chosen.text else "",
        codes=chosen.codes,
        scene=scene_of(chosen.scene),
        letter=chosen.vehicle.strip().upper(),
        incident=chosen.incident,
        key=chosen.key,
    )
    if chosen.as_name is None and not terminal.environ.get(VARIABLE, "").strip():
        _show(terminal, compose_unstored(terminal.house, asked), chosen.form)
        return
    _show(terminal, compose_brief(terminal.house, acting(terminal, chosen.as_name), asked), chosen.form)


@brief.command(short_help="A kept brief, and what became of it.")
@click.argument("id_", metavar="ID")
@_form
@as_option
@click.pass_obj
def show(terminal: Terminal, id_: str, form: str, as_name: str | None) -> None:
    """Show the kept brief ID and what became of it."""
    from catalog.services.briefs import read_brief

    _show(terminal, read_brief(terminal.house, acting(terminal, as_name), id_), form)


@brief.command(short_help="Note that a brief was sent.")
@click.argument("id_", metavar="ID")
@click.option("--sent-as", type=click.Choice(_SENT), required=True, help="Which form of it.")
@click.option("--to", default="", metavar="CREW", help="To which crew, by call sign.")
@as_option
@click.pass_obj
def sent(terminal: Terminal, id_: str, sent_as: str, to: str, as_name: str | None) -> None:
    """Note that the brief ID was sent."""
    from catalog.services.brief_acts import mark_sent

    _show(terminal, mark_sent(terminal.house, acting(terminal, as_name), id_, sent_as, to), "radio")


@brief.command("read-back", short_help="Note that a crew read a brief back.")
@click.argument("id_", metavar="ID")
@click.option("--by", "who", required=True, metavar="CREW", help="Which crew, by call sign.")
@click.option("--words", default="", help="What they read back.")
@as_option
@click.pass_obj
def read_back(terminal: Terminal, id_: str, who: str, words: str, as_name: str | None) -> None:
    """Note that a crew read the brief ID back."""
    from catalog.services.brief_acts import note_read_back

    _show(terminal, note_read_back(terminal.house, acting(terminal, as_name), id_, who, words), "radio")


@brief.command(short_help="Recall a brief: it then says so wherever it is opened.")
@click.argument("id_", metavar="ID")
@click.option("--why", required=True, help="What is wrong with it.")
@click.option("--instead", default="", help="What to do instead; without it the steps for any vehicle.")
@as_option
@click.pass_obj
def recall(terminal: Terminal, id_: str, why: str, instead: str, as_name: str | None) -> None:
    """Recall the brief ID for good."""
    from catalog.services import brief_acts

    told = brief_acts.Recall(why, instead)
    _show(terminal, brief_acts.recall(terminal.house, acting(terminal, as_name), id_, told), "radio")


@brief.command(short_help="Compose a correction that follows a brief.")
@click.argument("id_", metavar="ID")
@click.argument("text", nargs=-1)
@_codes
@_scene
@_form
@as_option
@click.pass_obj
def correct(terminal: Terminal, /, **typed: Any) -> None:
    """Compose a correction of the brief ID against the newest edition.

    TEXT or --code take the place of what it was composed from, --scene goes over it; what is left out stays.
    """
    from catalog.services.brief_acts import follow_up
    from catalog.services.briefs import BriefAsked

    text = description_of(typed["text"]) if typed["text"] else ""
    asked = BriefAsked(text=text, codes=typed["codes"], scene=scene_of(typed["scene"]))
    by = acting(terminal, typed["as_name"])
    _show(terminal, follow_up(terminal.house, by, typed["id_"], asked), typed["form"])


def _show(terminal: Terminal, view: "BriefView", form: str) -> None:
    edition = view.composed.edition
    if form == "json":
        from catalog.domain.cautions import full
        from schemas.answers import with_cautions
        from schemas.briefs import BriefAnswer

        told = full(edition.number, edition.published_at, demo=terminal.settings.demo)
        terminal.show_json(with_cautions(BriefAnswer, view, (*filter(None, (view.mark,)), *told)))
        return
    from catalog.cli.pages.brief import brief_lines

    terminal.show([*terminal.mark(), *brief_lines(view, terminal.paper, whole=form == "full")])
