"""Words that were not read, counted: by a keyed hash alone until three separate descriptions held one.

Only then is a word handed to the database at all; before, nothing of it goes there but the hash.
"""

from collections.abc import Mapping

from sqlalchemy import Connection, bindparam, func, select, update

from catalog.store.adding import inserting
from catalog.store.tables import KNOWN_FROM, unread_words


def count(conn: Connection, words: Mapping[str, tuple[str, int]]) -> None:
    """Add counts. words: by keyed hash, the word and how many more descriptions held it."""
    if not words:
        return
    adding = inserting(conn, unread_words)
    total = unread_words.c.descriptions + adding.excluded.descriptions
    adding = adding.on_conflict_do_update(index_elements=["digest"], set_={"descriptions": total})
    conn.execute(adding, [{"digest": digest, "descriptions": more} for digest, (_, more) in sorted(words.items())])
    known = select(unread_words.c.digest).where(
        unread_words.c.digest.in_(sorted(words)),
        unread_words.c.descriptions >= KNOWN_FROM,
        unread_words.c.word.is_(None),
    )
    named = [{"known": digest, "name": words[digest][0]} for digest in conn.scalars(known)]
    if named:
        naming = update(unread_words).where(unread_words.c.digest == bindparam("known"))
        conn.execute(naming.values(word=bindparam("name")), named)


def often(conn: Connection, limit: int) -> list[tuple[str, int]]:
    """(word, descriptions) of the words known in clear, the most frequent first."""
    # Hosts with keys of their own count the same word apart.
    total = func.sum(unread_words.c.descriptions)
    found = (
        select(unread_words.c.word, total)
        .where(unread_words.c.word.is_not(None))
        .group_by(unread_words.c.word)
        .order_by(total.desc(), unread_words.c.word)
        .limit(limit)
    )
    return [(str(word), int(descriptions)) for word, descriptions in conn.execute(found)]
