"""Publishing: the only way anything gets into the catalogue.

One publication is one transaction is one edition. Call inside `engine.write`; an error leaves
nothing behind.
"""

from sqlalchemy import Connection, select

from catalog.errors import NotFound
from catalog.store.draft import Drafts, check_citations, draft_revisions, draft_sources, draft_vocabularies
from catalog.store.publication import Publication, check_publication, check_text
from catalog.store.tables import RECORD, SOURCE, VOCABULARY, editions, records, revisions, sources, vocabularies
from catalog.store.turn import Step, members_at, put_edition, put_rows, take_turn

__all__ = ["Publication", "go_back", "publish"]


def publish(conn: Connection, publication: Publication, now_us: int) -> int:
    """Publish the next edition; returns its number. now_us: UTC microseconds.

    A document equal to what is listed makes no revision. Raises BadInput (nothing to publish, a
    document that cannot be stored, a code withdrawn that is not listed, a source cited that is
    not there), Conflict (made against a revision that is no longer listed; a source issue
    published before with other content).
    """
    check_publication(publication)
    turn = take_turn(conn, now_us)
    before = members_at(conn, turn.number - 1)
    drafted = draft_revisions(conn, publication, Drafts(turn, before))
    new_sources = draft_sources(conn, publication.sources)
    new_vocabularies = draft_vocabularies(conn, publication.vocabularies)

    after = {member: revision for member, revision in before.items() if member[0] != VOCABULARY}
    for code in publication.withdrawn:
        del after[RECORD, code]
    after |= {(RECORD, row["code"]): row["hash"] for row in drafted.revisions}
    after |= {(SOURCE, key): revision for key, revision in new_sources.members.items()}
    after |= {(VOCABULARY, key): revision for key, revision in new_vocabularies.members.items()}
    check_citations(publication.records, after)

    put_rows(conn, records, drafted.records)
    put_rows(conn, revisions, drafted.revisions)
    put_rows(conn, sources, new_sources.rows)
    put_rows(conn, vocabularies, new_vocabularies.rows)
    closing = {(RECORD, code): reason for code, reason in publication.withdrawn.items()}
    closing |= {member: "No longer in use." for member in before if member[0] == VOCABULARY and member not in after}
    put_edition(conn, turn, Step(before, after, closing), publication.author, publication.reason)
    return turn.number


def go_back(conn: Connection, to_edition: int, author: str, reason: str, now_us: int) -> int:
    """Publish a new edition with the members of an earlier one; returns its number.

    Members the earlier edition did not have are withdrawn with `reason`. Raises NotFound, and
    BadInput when that edition's members are listed now.
    """
    check_text(author, "author")
    check_text(reason, "reason")
    turn = take_turn(conn, now_us)
    if conn.execute(select(editions.c.number).where(editions.c.number == to_edition)).first() is None:
        raise NotFound(f"There is no edition {to_edition}.", cure="List the editions: chockbook edition list")
    before, after = members_at(conn, turn.number - 1), members_at(conn, to_edition)
    closing = {member: reason for member in before if member not in after}
    put_edition(conn, turn, Step(before, after, closing), author, reason)
    return turn.number
