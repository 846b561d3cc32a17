"""chockbook work: what is to be looked at, and what became of it."""

import click

from catalog.cli.acting import acting, as_option
from catalog.cli.terminal import Terminal
from catalog.errors import BadInput


@click.group(short_help="The work list: crew reports, what is not found, what grows old.")
def work() -> None:
    """Crew reports, cues of vehicles not in the catalogue, words nobody reads, records that grow old.

    An entry is named KIND/KEY, as the list prints it.
    """


@work.command("list", short_help="The open entries.")
@click.option("--kind", default="", help="Only report, cues, unread, stale or silent.")
@click.option("--state", default="open", show_default=True, help="open, closed or drafted.")
@click.option("--words", default="", help="Only entries with these words.")
@click.option("--years", type=click.IntRange(0, 50), default=5, show_default=True, help="Older than this is stale.")
@click.option("--limit", type=click.IntRange(1, 1000), default=50, show_default=True)
@as_option
@click.pass_obj
def list_(terminal: Terminal, kind: str, state: str, words: str, years: int, limit: int, as_name: str | None) -> None:
    """The entries, crew reports first, the most pressing first."""
    from catalog.cli.pages.work import work_lines
    from catalog.services.work_list import WorkAsked, list_work

    found = list_work(terminal.house, acting(terminal, as_name), WorkAsked(kind, state, words, years))
    terminal.show([*terminal.mark(), *work_lines(found, limit, terminal.paper)])


@work.command(short_help="One entry.")
@click.argument("entry")
@as_option
@click.pass_obj
def show(terminal: Terminal, entry: str, as_name: str | None) -> None:
    """One entry, with what became of it."""
    from catalog.cli.pages.work import entry_lines
    from catalog.services.work_list import work_entry

    found = work_entry(terminal.house, acting(terminal, as_name), *_named(entry))
    terminal.show([*terminal.mark(), *entry_lines(found, terminal.paper)])


@work.command(short_help="Close an entry, with a reason.")
@click.argument("entry")
@click.argument("reason")
@as_option
@click.pass_obj
def close(terminal: Terminal, entry: str, reason: str, as_name: str | None) -> None:
    """Close an entry. It stays to be found among the closed ones."""
    from catalog.services.work_list import close_work

    close_work(terminal.house, acting(terminal, as_name), *_named(entry), reason)
    terminal.show([*terminal.mark(), f"Closed: {entry}"])


@work.command(short_help="Make a draft change of an entry.")
@click.argument("entry")
@click.option("--code", default="", help="The record it concerns, where the entry names none.")
@as_option
@click.pass_obj
def draft(terminal: Terminal, entry: str, code: str, as_name: str | None) -> None:
    """Make a draft change of an entry, which says where it came from. What changes is edited in the review."""
    from catalog.services.work_list import draft_work

    update = draft_work(terminal.house, acting(terminal, as_name), *_named(entry), code)
    terminal.show([*terminal.mark(), f"Draft: update {update}. Edit it: chockbook review show {update}"])


def _named(entry: str) -> tuple[str, str]:
    kind, slash, key = entry.partition("/")
    if not slash or not key:
        raise BadInput(f"{entry!r} names no entry.", cure="Name it KIND/KEY, as chockbook work list prints it.")
    return kind, key
