"""Words that were not read, counted: by a keyed hash alone until three separate descriptions held one.

Only then is a word handed to the database at all; before, nothing of it goes there but the hash.
"""

from collections.abc import Mapping

from sqlalchemy import ColumnElement, Connection, bindparam, func, select, update

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


def often(conn: Connection, limit: int | None = None, offset: int = 0, part: str = "") -> list[tuple[str, int]]:
    """(word, descriptions) of the words known in clear that hold a part, the most frequent first."""
    # Hosts with keys of their own count the same word apart.
    total = func.sum(unread_words.c.descriptions)
    found = (
        select(unread_words.c.word, total)
        .where(_known(part))
        .group_by(unread_words.c.word)
        .order_by(total.desc(), unread_words.c.word)
        .limit(limit)
        .offset(offset)
    )
    return [(str(word), int(descriptions)) for word, descriptions in conn.execute(found)]


def often_total(conn: Connection, part: str = "") -> int:
    """How many such words there are."""
    return int(conn.execute(select(func.count(unread_words.c.word.distinct())).where(_known(part))).scalar_one())


def _known(part: str) -> ColumnElement[bool]:
    word = unread_words.c.word
    return word.is_not(None) if not part else func.lower(word).contains(part.lower(), autoescape=True)
