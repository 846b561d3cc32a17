"""Words of a vocabulary: by label, key or synonym, near misses named, never guessed."""

from collections.abc import Iterator, Mapping
from functools import cache

from catalog.domain import connectors
from catalog.domain.folding import fold
from catalog.domain.terms import Vocabulary
from catalog.intake.readings import Problem, Read
from catalog.intake.synonyms import nearest, table
from catalog.intake.synonyms import words as listed

BETWEEN = "; "
_WRITTEN: dict[tuple[str, str], str] = {}  # as many as there are terms


def term_text(vocabulary: Vocabulary, key: str) -> str:
    """A term as it is written out: its label; its key where the label would read as a finding ("none")."""
    found = _WRITTEN.get((vocabulary.key, key))
    if found is None:
        label = vocabulary.label_of(key)
        found = _WRITTEN[vocabulary.key, key] = key if label.lower() in listed("empty") else label
    return found


def terms_text(vocabulary: Vocabulary, keys: list[str]) -> str:
    return BETWEEN.join(term_text(vocabulary, key) for key in keys)


def read_term(vocabulary: Vocabulary, text: str) -> Read:
    """One term."""
    key = _keys(vocabulary.key, vocabulary).get(fold(text))
    return Read(key) if key else Read(None, (_unknown(vocabulary, text),))


def read_terms(vocabulary: Vocabulary, text: str) -> Read:
    """A set of terms, with semicolons, line breaks or, where no label holds one, commas between."""
    keys: list[str] = []
    problems: list[Problem] = []
    for part in _parted(vocabulary, text):
        key = _keys(vocabulary.key, vocabulary).get(fold(part))
        if key is None:
            problems.append(_unknown(vocabulary, part))
        elif key in keys:
            problems.append(Problem(f'"{part}" again', "each word once", "Remove the repeat."))
        else:
            keys.append(key)
    return Read(None if problems else keys, tuple(problems))


def _parted(vocabulary: Vocabulary, text: str) -> Iterator[str]:
    known = _keys(vocabulary.key, vocabulary)
    for part in text.replace("\n", ";").split(";"):
        bare = part.strip()
        if bare and fold(bare) not in known and "," in bare:
            yield from (piece.strip() for piece in bare.split(",") if piece.strip())
        elif bare:
            yield bare


def _unknown(vocabulary: Vocabulary, text: str) -> Problem:
    known = [term_text(vocabulary, key) for key in vocabulary.keys]
    near = nearest(text, [*known, *table("terms").get(vocabulary.key, {})])
    said = {**table("terms").get(vocabulary.key, {}), **dict.fromkeys(known, "")}
    cure = "Pick one of these words; keep what the guide says in a note."
    if near:
        meant = said.get(near[0], "")
        cure = f"Did you mean {term_text(vocabulary, meant) if meant else near[0]}?"
    return Problem(f'"{text}"', f"{vocabulary.label}: {', '.join(known)}", cure)


_CACHE: dict[str, Mapping[str, str]] = {}


def _keys(name: str, vocabulary: Vocabulary) -> Mapping[str, str]:
    """Folded spelling -> key. Labels go before keys, keys before synonyms."""
    found = _CACHE.get(name)
    if found is None:
        found = _CACHE[name] = _spellings(vocabulary)
    return found


def _spellings(vocabulary: Vocabulary) -> Mapping[str, str]:
    made = {fold(spelling): key for spelling, key in table("terms").get(vocabulary.key, {}).items()}
    made |= {fold(part): key for part, key in _designations() if vocabulary is connectors.CONNECTOR}
    made |= {fold(key): key for key in vocabulary.keys}
    return made | {fold(term.label): term.key for term in vocabulary.terms}


@cache
def _designations() -> tuple[tuple[str, str], ...]:
    """Published designations that belong to one coupler."""
    parts = [(part.strip(), entry.key) for entry in connectors.CONNECTORS for part in entry.designation.split(",")]
    names = [name for name, _ in parts]
    return tuple((name, key) for name, key in parts if names.count(name) == 1)
