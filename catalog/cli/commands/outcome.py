"""chockbook outcome: what a described vehicle turned out to be."""

import click

from catalog.cli.commands.resolve import description_of
from catalog.cli.terminal import Terminal
from catalog.errors import BadInput

PROOFS = ("badge", "vin", "steward")


@click.command(short_help="Note what a described vehicle turned out to be.")
@click.argument("text", nargs=-1, required=True)
@click.option("--is", "confirmed", metavar="CODE", help="It is this record.")
@click.option("--not", "not_this", metavar="CODE", help="It is not this record; nothing more is known.")
@click.option("--not-listed", is_flag=True, help="It is in no record of the catalogue.")
@click.option("--proof", type=click.Choice(PROOFS), required=True, help="How it is known.")
@click.option("--json", "as_json", is_flag=True, help="One JSON document instead of a page.")
@click.pass_obj
def outcome(
    terminal: Terminal,
    text: tuple[str, ...],
    confirmed: str | None,
    not_this: str | None,
    not_listed: bool,
    proof: str,
    as_json: bool,
) -> None:
    """Note what a vehicle described as TEXT (- for standard input) turned out to be.

    TEXT is read and forgotten: only what was understood is kept, with the outcome, the edition and the day. No VIN and
    no name that is like no listed one is kept. One of --is, --not and --not-listed says what it was.
    """
    from catalog.cli.pages.calibration import noted_lines
    from catalog.services.outcomes import CONFIRMED, NOT_LISTED, NOT_THIS, Outcome, fresh_id, note_outcome
    from catalog.services.reading import read_description

    said = [
        (name, code)
        for name, code in ((CONFIRMED, confirmed), (NOT_THIS, not_this), (NOT_LISTED, "" if not_listed else None))
        if code is not None
    ]
    if len(said) != 1:
        raise BadInput("What it was is not said once.", cure="Give one of --is CODE, --not CODE and --not-listed.")
    [(name, code)] = said
    found = read_description(terminal.house, description_of(text))
    cues = tuple(view.cue for view in found.cues)
    noted = note_outcome(terminal.house, Outcome(fresh_id(), found.edition.number, name, code, proof, cues))
    if as_json:
        from schemas.answers import with_cautions
        from schemas.outcomes import OutcomeAnswer

        terminal.show_json(with_cautions(OutcomeAnswer, noted, terminal.cautions(found.edition)))
        return
    terminal.show([*terminal.masthead(found.edition), *noted_lines(noted, terminal.paper)])
