"""chockbook resolve: a description to possible vehicles."""

import sys
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import click

from catalog.cli.terminal import Terminal
from catalog.errors import BadInput

if TYPE_CHECKING:
    from catalog.services.views import Answer

_LIMIT = 10
_CALLERS = ("inside", "beside", "away", "passing", "unknown", "crew")


@dataclass(frozen=True, slots=True)
class _Chosen:
    """What was typed. limit: None for the page's own choice."""

    text: tuple[str, ...]
    as_json: bool
    limit: int | None
    driving_side: str | None
    explain: bool
    ask: bool
    caller: str | None
    not_this: tuple[str, ...]


@click.command(short_help="Possible vehicles for a description.")
@click.argument("text", nargs=-1, required=True)
@click.option("--json", "as_json", is_flag=True, help="One JSON document instead of a page.")
@click.option("--limit", type=click.IntRange(min=1), help="At most this many vehicles; more than there are means all.")
@click.option("--driving-side", type=click.Choice(["left", "right"]), help="The side of the road traffic keeps to.")
@click.option(
    "--explain", is_flag=True, help="Also why in bits, what holds whichever it is, what looks alike, what to ask next."
)
@click.option("--ask", is_flag=True, help="Put the questions worth asking, at most three, and take the answers.")
@click.option("--caller", type=click.Choice(_CALLERS), help="Where who answers is; decides what may be asked.")
@click.option("--not-this", multiple=True, metavar="CODE", help="A record said not to be it; may be given again.")
@click.pass_obj
def resolve(terminal: Terminal, /, **typed: Any) -> None:
    """Possible vehicles for a description, and the share not in this catalogue.

    TEXT is what the caller says, such as "white pickup, port left rear". A single - reads it from
    standard input. Nothing of it is stored. --driving-side decides nearside, offside and kerb side
    only; left out, the site's setting holds. --ask asks only what the caller can tell from where they
    are; an empty answer ends it.
    """
    from catalog.resolve.answering.asked import Answers
    from catalog.services.resolving import INCLUDABLE, Description, resolve_description

    chosen = _Chosen(**typed)
    if chosen.ask and (chosen.as_json or chosen.text == ("-",)):
        raise BadInput(
            "--ask reads answers from standard input.", cure="Leave out --json, and give TEXT in the command."
        )
    description = Description(
        description_of(chosen.text),
        chosen.limit or _LIMIT,
        chosen.driving_side,
        INCLUDABLE if chosen.explain else frozenset(),
        answers=Answers({}, chosen.not_this, chosen.caller),
    )
    if chosen.ask:
        from catalog.cli.asking import asked

        terminal.show(terminal.mark())
        description = asked(terminal, description)
    _show(terminal, chosen, resolve_description(terminal.house, description), description.include)


def _show(terminal: Terminal, chosen: _Chosen, answer: "Answer", include: frozenset[str]) -> None:
    if chosen.as_json:
        from schemas.answers import resolve_document

        told = terminal.cautions(answer.edition)
        terminal.show_json(resolve_document(answer, told, include))
        return
    from catalog.cli.pages.answer import answer_lines, folded
    from catalog.cli.pages.shared import explained_lines

    shown = answer if chosen.limit else folded(answer)
    more = ["", *explained_lines(shown, terminal.paper)] if chosen.explain else []
    terminal.show([*terminal.masthead(answer.edition), *answer_lines(shown, terminal.paper), *more])


def description_of(text: tuple[str, ...]) -> str:
    """The words of the command, or standard input for a single -. Raises BadInput."""
    if text != ("-",):
        return " ".join(text)
    try:
        return sys.stdin.read().strip()
    except UnicodeDecodeError as error:
        raise BadInput("The description is not text in UTF-8.", cure="Send it as UTF-8.") from error
