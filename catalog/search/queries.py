"""What a person typed into the search box -> terms and phrases. There is no query language:
quotation marks keep words together, everything else is words."""

from dataclasses import dataclass

from catalog.domain.folding import fold_char
from catalog.search.tokens import Token, tokenise

MOST_TERMS = 64
_MARKS = frozenset("„‟«»")  # quotation marks the folding table leaves alone


@dataclass(frozen=True, slots=True)
class Query:
    """terms: distinct, in order. phrases: each at least one term. unfinished: the last term, if
    it may still be being typed (it stands outside quotation marks), else ""."""

    terms: tuple[str, ...]
    phrases: tuple[tuple[str, ...], ...]
    unfinished: str


def parse(text: str) -> Query:
    """Read a query; any string is accepted. Terms beyond MOST_TERMS are ignored."""
    tokens = tokenise(text)[:MOST_TERMS]
    quoted = [_within(tokens, pair) for pair in _quotations(text)]
    phrases = tuple(tuple(token.text for token in inside) for inside in quoted if inside)
    last = tokens[-1:]
    open_end = last and not any(last[0] in inside for inside in quoted)
    terms = tuple(dict.fromkeys(token.text for token in tokens))
    return Query(terms, phrases, last[0].text if open_end else "")


def _quotations(text: str) -> list[tuple[int, int]]:
    """Pairs of quotation marks, in order; a mark without its partner is no quotation yet."""
    marks = [at for at, char in enumerate(text) if char in _MARKS or fold_char(char) == '"']
    return list(zip(marks[::2], marks[1::2], strict=False))


def _within(tokens: tuple[Token, ...], pair: tuple[int, int]) -> tuple[Token, ...]:
    return tuple(token for token in tokens if pair[0] < token.start and token.end <= pair[1])
