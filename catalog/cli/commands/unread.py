"""chockbook unread: words that often stay unread."""

import click

from catalog.cli.terminal import Terminal


@click.command(short_help="Words that often stay unread in descriptions.")
@click.option("--limit", type=click.IntRange(min=1), default=50, show_default=True, help="At most this many words.")
@click.option("--json", "as_json", is_flag=True, help="One JSON document instead of a page.")
@click.pass_obj
def unread(terminal: Terminal, limit: int, as_json: bool) -> None:
    """Words in three separate descriptions or more that nothing was made of, the most frequent first.

    Rarer words are only counted under a hash; descriptions are never kept. What is said to the
    terminal itself is not counted.
    """
    from catalog.services.unread import often_unread

    found, total = often_unread(terminal.house, limit)
    if as_json:
        from schemas.cue_answers import UnreadWordsAnswer

        terminal.show_json(UnreadWordsAnswer().dump({"words": found}))
        return
    none = terminal.paper.wrap("No word has stayed unread in three separate descriptions yet.")
    listed = [terminal.paper.across(entry.word, f"{entry.descriptions:,} descriptions") for entry in found]
    more = terminal.paper.wrap(f"{total - len(found):,} more: --limit {total}") if total > len(found) else ()
    terminal.show([*terminal.mark(), *(listed or none), *more])
