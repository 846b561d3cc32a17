"""chockbook review: guide updates, looked at and decided of."""

from typing import Any

import click

from catalog.cli.acting import acting, as_option
from catalog.cli.terminal import Terminal

_json = click.option("--json", "as_json", is_flag=True, help="One JSON document instead of a page.")
_number = click.argument("number", type=click.IntRange(min=1), metavar="UPDATE")
_code = click.argument("code", metavar="CODE")
_path = click.option("--field", "path", metavar="PATH", help="One field, as review show names it; else all of it.")


@click.group(short_help="Guide updates: look, accept, reject, edit.")
def review() -> None:
    """Guide updates: what would change, and what is decided of it.

    A safety-critical change is accepted by another person than the one who brought it in or edited it.
    """


@review.command("list")
@click.option("--state", type=click.Choice(["open", "published", "set aside"]), help="Only those.")
@_json
@as_option
@click.pass_obj
def list_(terminal: Terminal, state: str | None, as_json: bool, as_name: str | None) -> None:
    """Guide updates, newest first."""
    from catalog.cli.pages.review import update_list_lines
    from catalog.services.updates import UpdatesAsked, list_updates

    found = list_updates(terminal.house, acting(terminal, as_name), UpdatesAsked(state=state or "", limit=200))
    if as_json:
        from schemas.review import UpdatesAnswer

        _json_of(terminal, UpdatesAnswer, found)
        return
    terminal.show([*terminal.mark(), *update_list_lines(found.updates, found.total, terminal.paper)])


@review.command()
@_number
@click.argument("code", required=False)
@click.option("--state", default="", metavar="STATE", help="Only records that stand so, such as open.")
@click.option("--only", type=click.Choice(["critical", "less", "moved"]), help="Only records with such changes.")
@click.option("--after", default=0, type=click.IntRange(min=0), help="Leave out so many first.")
@_json
@as_option
@click.pass_obj
def show(
    terminal: Terminal,
    number: int,
    code: str | None,
    state: str,
    only: str | None,
    after: int,
    as_json: bool,
    as_name: str | None,
) -> None:
    """UPDATE and the records it changes, or with CODE one of them field by field: old, new, for the crew."""
    from catalog.cli.pages.review import record_page_lines, update_page_lines
    from catalog.services.update_reading import RecordsAsked, read_change, read_update
    from schemas.review import RecordReviewAnswer, UpdateViewAnswer, record_view

    actor = acting(terminal, as_name)
    if code is None:
        view = read_update(terminal.house, actor, number, RecordsAsked(state, only or "", offset=after))
        if as_json:
            _json_of(terminal, UpdateViewAnswer, view)
        else:
            terminal.show([*terminal.mark(), *update_page_lines(view, terminal.paper)])
        return
    found = read_change(terminal.house, actor, number, code)
    if as_json:
        _json_of(terminal, RecordReviewAnswer, record_view(found))
    else:
        terminal.show([*terminal.mark(), *record_page_lines(found, terminal.paper)])


@review.command()
@_number
@click.argument("code", required=False)
@_path
@click.option("--rest", is_flag=True, help="Every record of which nothing was decided yet.")
@click.option("--no-critical", is_flag=True, help="With --rest: only records without safety-critical changes.")
@as_option
@click.pass_obj
def accept(
    terminal: Terminal,
    number: int,
    code: str | None,
    path: str | None,
    rest: bool,
    no_critical: bool,
    as_name: str | None,
) -> None:
    """Accept what UPDATE changes in record CODE, or with --rest in every record that is not decided of."""
    if rest is (code is not None):
        raise click.UsageError("Give a record's CODE, or --rest.")
    if code is not None:
        _decided(terminal, as_name, number, code, "accept", path, "")
        return
    from catalog.services.reviewing import accept_rest

    made = accept_rest(terminal.house, acting(terminal, as_name), number, critical=not no_critical)
    click.echo(f"{made.accepted} records accepted.")
    if made.own:
        click.echo(f"{made.own} left: safety-critical, and for another person, an approver.")
    if made.moved:
        click.echo(f"{made.moved} left: something else is listed by now. See them: review show {number} --only moved")


@review.command()
@_number
@_code
@_path
@click.option("--reason", default="", metavar="TEXT")
@as_option
@click.pass_obj
def reject(terminal: Terminal, number: int, code: str, path: str | None, reason: str, as_name: str | None) -> None:
    """Leave out what UPDATE changes in record CODE. It stays in the update."""
    _decided(terminal, as_name, number, code, "reject", path, reason)


@review.command()
@_number
@_code
@click.argument("text")
@_path
@as_option
@click.pass_obj
def comment(terminal: Terminal, number: int, code: str, text: str, path: str | None, as_name: str | None) -> None:
    """Say TEXT of what UPDATE changes in record CODE."""
    _decided(terminal, as_name, number, code, "comment", path, text)


@review.command()
@_number
@_code
@click.argument("path")
@click.argument("text")
@click.option("--source", default="", metavar="NUMBER/ISSUE:PAGE", help="What it rests on; needed for a value.")
@click.option("--reason", default="", metavar="TEXT")
@as_option
@click.pass_obj
def edit(
    terminal: Terminal, number: int, code: str, path: str, text: str, source: str, reason: str, as_name: str | None
) -> None:
    """Put TEXT, as a workbook's cell says it ("60 s", NOT STATED), in the place of field PATH of record CODE."""
    from catalog.services.edited import fact_from
    from catalog.services.records import parsed_code
    from catalog.services.reviewing import Edit
    from catalog.services.reviewing import edit as edit_

    given = Edit(number, parsed_code(code), path, fact_from(path, text, source), reason)
    made = edit_(terminal.house, acting(terminal, as_name), given)
    click.echo(f"{made.title} [{made.code}]: {path} is edited, for another person to accept.")


@review.command()
@_number
@_code
@as_option
@click.pass_obj
def rebase(terminal: Terminal, number: int, code: str, as_name: str | None) -> None:
    """Bring what UPDATE changes in record CODE up to what is listed now. Nothing is lost."""
    from catalog.services.records import parsed_code
    from catalog.services.reviewing import rebase as rebase_

    made = rebase_(terminal.house, acting(terminal, as_name), number, parsed_code(code))
    click.echo(f"{made.title} [{made.code}] stands on what is listed now: {made.open} changes to decide of.")


@review.command()
@_number
@click.option("--reason", required=True, metavar="TEXT")
@click.option("--open", "again", is_flag=True, help="Open it again.")
@as_option
@click.pass_obj
def aside(terminal: Terminal, number: int, reason: str, again: bool, as_name: str | None) -> None:
    """Close UPDATE without publishing it, or open it again. Nothing of it is removed."""
    from catalog.services.reviewing import reopen, set_aside

    (reopen if again else set_aside)(terminal.house, acting(terminal, as_name), number, reason)
    click.echo(f"Guide update {number} is {'open again' if again else 'set aside'}.")


def _json_of(terminal: Terminal, schema: Any, view: object) -> None:
    from catalog.services.compiling import edition_view
    from schemas.answers import with_cautions

    edition = edition_view(terminal.house.shelf.current())
    terminal.show_json(with_cautions(schema, view, terminal.cautions(edition)))


def _decided(
    terminal: Terminal, as_name: str | None, number: int, code: str, kind: str, path: str | None, words: str
) -> None:
    from catalog.services.records import parsed_code
    from catalog.services.reviewing import Judgement, decide

    judgement = Judgement(number, parsed_code(code), kind, path, words)
    made = decide(terminal.house, acting(terminal, as_name), judgement)
    click.echo(f"{made.title} [{made.code}]: {made.state}, {made.open} of {len(made.changes)} changes to decide of.")
