"""chockbook resolve: a description to possible vehicles."""

import sys

import click

from catalog.cli.terminal import Terminal
from catalog.domain import cautions
from catalog.errors import BadInput

_LIMIT = 10


@click.command(short_help="Possible vehicles for a description.")
@click.argument("text", nargs=-1, required=True)
@click.option("--json", "as_json", is_flag=True, help="One JSON document instead of a page.")
@click.option("--limit", type=click.IntRange(min=1), help="At most this many vehicles; more than there are means all.")
@click.option("--driving-side", type=click.Choice(["left", "right"]), help="The side of the road traffic keeps to.")
@click.option("--explain", is_flag=True, help="Also why in bits, what holds whichever it is, and what looks alike.")
@click.pass_obj
def resolve(
    terminal: Terminal, text: tuple[str, ...], as_json: bool, limit: int | None, driving_side: str | None, explain: bool
) -> None:
    """Possible vehicles for a description, and the share not in this catalogue.

    TEXT is what the caller says, such as "white pickup, port left rear". A single - reads it from
    standard input. Nothing of it is stored. --driving-side decides nearside, offside and kerb side
    only; left out, the site's setting holds.
    """
    from catalog.cli.pages.answer import answer_lines, folded
    from catalog.cli.pages.shared import explained_lines
    from catalog.services.resolving import INCLUDABLE, Description, resolve_description

    said = description_of(text)
    include = INCLUDABLE if explain else frozenset[str]()
    answer = resolve_description(terminal.house, Description(said, limit or _LIMIT, driving_side, include))
    if as_json:
        from schemas.answers import resolve_document

        edition = answer.edition
        told = cautions.full(edition.number, edition.published_at, demo=terminal.settings.demo)
        terminal.show_json(resolve_document(answer, told, include))
        return
    shown = answer if limit else folded(answer)
    more = ["", *explained_lines(shown, terminal.paper)] if explain else []
    terminal.show([*terminal.masthead(answer.edition), *answer_lines(shown, terminal.paper), *more])


def description_of(text: tuple[str, ...]) -> str:
    """The words of the command, or standard input for a single -. Raises BadInput."""
    if text != ("-",):
        return " ".join(text)
    try:
        return sys.stdin.read().strip()
    except UnicodeDecodeError as error:
        raise BadInput("The description is not text in UTF-8.", cure="Send it as UTF-8.") from error
