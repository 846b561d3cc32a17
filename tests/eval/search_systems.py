"""The search and what it is held against: each gives every record a score for every query.

All are given the same queries. Those that search by words get raw text where there is some, and the
catalogue's own words of what was said otherwise; their documents are names, looks in words and notes.
"""

import math
import re
import sqlite3
import tempfile
from collections.abc import Callable, Sequence
from functools import cache

import bm25s
import numpy as np
import tantivy
from numpy.typing import NDArray
from rapidfuzz import fuzz, process
from whoosh import fields
from whoosh.index import create_in
from whoosh.query import Or, Term
from whoosh.scoring import BM25F

from catalog.resolve.cue import ASKED, RANKING, Cue
from catalog.resolve.evidence import gather
from catalog.resolve.together import together
from catalog.resolve.truth import NO_PORT, Signature
from tests.eval.search_fit import Scores
from tests.eval.search_ground import Ground, Query

Row = NDArray[np.float64]
# One query's words -> a score per record.
ByWords = Callable[[str], Row]


def ours(ground: Ground, queries: Sequence[Query]) -> Scores:
    """Sums of log ratios; the unlisted vehicle's beside them. The fit's scale is 1/T."""
    tables, parameters = ground.tables, ground.field.parameters
    records = np.zeros((len(queries), tables.size), dtype=np.float32)
    unlisted = np.zeros(len(queries))
    for place, query in enumerate(queries):
        mixed = ground.prior.copy()
        found = gather(query.cues, tables, parameters)
        joint = together(found, ground.field)
        for entry in found if joint is None else (*found, joint):
            records[place] += np.log(entry.ratio)
            mixed *= entry.weights.mixed[entry.index]
            unlisted[place] += math.log(entry.weights.novel)
        unlisted[place] += math.log(mixed.sum())
    return Scores(records, unlisted)


def popularity(ground: Ground, queries: Sequence[Query]) -> Scores:
    """The prior and nothing else."""
    return Scores(np.zeros((len(queries), ground.tables.size), dtype=np.float32), np.zeros(len(queries)))


def facets(ground: Ground, queries: Sequence[Query]) -> Scores:
    """How many of the things said a record agrees with; names as far as they are alike."""
    tables = ground.tables
    names = tables.meta["names"]
    pointers, ids = tables.arrays["name_ptr"], tables.arrays["name_ids"]
    owner = np.repeat(np.arange(len(names)), np.diff(pointers))
    folded = [name[0] for name in names]
    made = np.zeros((len(queries), tables.size), dtype=np.float32)
    for place, query in enumerate(queries):
        for cue in query.cues:
            if cue.attribute not in RANKING or cue.vehicle != ASKED or cue.attribute == "vin":
                continue
            if cue.attribute == "name":
                alike = process.cdist([cue.values[0].strip("*")], folded, scorer=fuzz.ratio, score_cutoff=60)[0] / 100
                best = np.zeros(tables.size)
                np.maximum.at(best, ids, alike[owner])
                made[place] += (-1 if cue.denied else 1) * best.astype(np.float32)
                continue
            signatures = tables.meta["signatures"][cue.attribute]
            agree = np.array([_agrees(cue, signature) for signature in signatures], dtype=np.float32)
            said = agree[tables.arrays[f"sig_{cue.attribute}"]]
            made[place] += (1 - said) if cue.denied else said
    return Scores(made, np.zeros(len(queries)))


def _agrees(cue: Cue, signature: Signature) -> float:
    """1 where a value said is one stated; of a place, the share of its parts."""
    if signature is None or signature == NO_PORT:
        return 0.0
    if cue.attribute == "years":
        first, last = signature[0], signature[1] or 2100
        return float(any(int(v[:4]) <= last and int(v[-4:]) >= first for v in cue.values))
    if cue.attribute != "port_place":
        return float(any(str(value) in cue.values for value in signature))
    best = 0.0
    for value in cue.values:
        said = value.split("|")
        for stated in signature["places"]:
            parts = [(s, t) for s, t in zip(said, stated, strict=True) if s]
            best = max(best, sum(t.startswith(s) for s, t in parts) / len(parts))
    return best


def _by_words(prepare: Callable[[Ground], ByWords]) -> Callable[[Ground, Sequence[Query]], Scores]:
    def score(ground: Ground, queries: Sequence[Query]) -> Scores:
        one = _prepared(prepare, ground)
        made = np.array([one(query.words) for query in queries], dtype=np.float32)
        return Scores(made, np.zeros(len(queries)))

    return score


@cache
def _prepared(prepare: Callable[[Ground], ByWords], ground: Ground) -> ByWords:
    """An index is made once a catalogue, not once a data set."""
    return prepare(ground)


def words(text: str) -> list[str]:
    return re.findall(r"[a-z0-9]+", text.lower())


def _fts5(ground: Ground) -> ByWords:
    """SQLite's full-text index: any of the words, its own bm25, names five times."""
    connection = sqlite3.connect(":memory:")
    connection.execute("CREATE VIRTUAL TABLE notes USING fts5(name, text, tokenize='porter')")
    connection.executemany("INSERT INTO notes VALUES (?, ?)", list(zip(ground.names, ground.notes, strict=True)))

    def search(text: str) -> Row:
        made = np.zeros(len(ground.notes))
        asked = " OR ".join(f'"{word}"' for word in words(text))
        if asked:
            found = connection.execute("SELECT rowid, -bm25(notes, 5.0, 1.0) FROM notes WHERE notes MATCH ?", (asked,))
            for row, score in found:
                made[row - 1] = score
        return made

    return search


def _bm25s(ground: Ground) -> ByWords:
    index = bm25s.BM25()
    index.index([words(note) for note in ground.notes], show_progress=False)
    known = set(index.vocab_dict)

    def search(text: str) -> Row:
        asked = [word for word in words(text) if word in known]
        return np.asarray(index.get_scores(asked), dtype=np.float64) if asked else np.zeros(len(ground.notes))

    return search


def _tantivy(ground: Ground) -> ByWords:
    """Any of the words, its default BM25, names five times."""
    builder = tantivy.SchemaBuilder()
    builder.add_text_field("name")
    builder.add_text_field("text", tokenizer_name="en_stem")
    builder.add_integer_field("place", stored=True)
    index = tantivy.Index(builder.build())
    writer = index.writer(num_threads=1)
    for place, (name, note) in enumerate(zip(ground.names, ground.notes, strict=True)):
        writer.add_document(tantivy.Document(name=name, text=note, place=place))
    writer.commit()
    index.reload()
    searcher = index.searcher()
    places: dict[tuple[int, int], int] = {}

    def search(text: str) -> Row:
        made = np.zeros(len(ground.notes))
        if asked := " ".join(words(text)):
            query = index.parse_query(asked, ["name", "text"], field_boosts={"name": 5.0})
            for score, address in searcher.search(query, limit=len(ground.notes), count=False).hits:
                key = (address.segment_ord, address.doc)
                if key not in places:
                    places[key] = searcher.doc(address)["place"][0]
                made[places[key]] = score
        return made

    return search


def _whoosh(ground: Ground) -> ByWords:
    """BM25F over names and text, any of the words, names five times."""
    schema = fields.Schema(name=fields.TEXT(field_boost=5.0), text=fields.TEXT, place=fields.STORED)
    # A folder of its own: what is kept in memory has temporary files that all runs share.
    folder = tempfile.TemporaryDirectory()
    index = create_in(folder.name, schema)
    writer = index.writer()
    for place, (name, note) in enumerate(zip(ground.names, ground.notes, strict=True)):
        writer.add_document(name=name, text=note, place=place)
    writer.commit()
    searcher = index.searcher(weighting=BM25F())

    def search(text: str, _: object = folder) -> Row:
        made = np.zeros(len(ground.notes))
        terms = [Term(field, word) for word in dict.fromkeys(words(text)) for field in ("name", "text")]
        for hit in searcher.search(Or(terms), limit=None, scored=True) if terms else ():
            made[hit["place"]] = hit.score
        return made

    return search


def token_set(ground: Ground, queries: Sequence[Query]) -> Scores:
    """rapidfuzz's token-set ratio against names and looks (the first sixty words)."""
    short = [" ".join(words(note)[:60]) for note in ground.notes]
    made = process.cdist(
        [" ".join(words(query.words)) for query in queries], short, scorer=fuzz.token_set_ratio, dtype=np.float32
    )
    return Scores(made, np.zeros(len(queries)))


BASELINES: dict[str, Callable[[Ground, Sequence[Query]], Scores]] = {
    "popularity": popularity,
    "facet count, fuzzy names": facets,
    "SQLite FTS5": _by_words(_fts5),
    "bm25s": _by_words(_bm25s),
    "tantivy": _by_words(_tantivy),
    "rapidfuzz token set": token_set,
    "Whoosh BM25F": _by_words(_whoosh),
}

# What takes longest is begun first, so that two processes end at about the same time.
SLOWEST_FIRST = tuple(reversed(BASELINES))
