"""The phrase table itself: every row means something the catalogue knows, and can be ported."""

import json
from collections import Counter
from pathlib import Path

import pytest

import catalog.resolve
from catalog.domain import said
from catalog.domain.places import END, SIDE
from catalog.resolve.cue import ATTRIBUTES, RANKING, SHOWN_TERMS
from catalog.resolve.lexicon import Lexicon
from catalog.resolve.likelihood import terms_of
from catalog.resolve.reading.lamps_said import LAMP
from catalog.resolve.reading.needs import NEEDS
from catalog.resolve.reading.phrases import NOUN, Meaning, part_rows, phrase_table, rows
from catalog.resolve.reading.reader import read
from catalog.resolve.reading.words import DATA, common_words, exactly, lists, singular

ROLES = {
    "@port", "@side", "@end", "@landmark", "@level", "@view", "@each", "@another",
    "@not", "@hedge", "@fix", "@or", "@yes", "@elsewhere", "@badge", "@trap", "@small",
    "@than", "@other", "@ours", "@asked",
}  # fmt: skip
# No fuel is only ever derived; a damaged side is put together from "damaged" and the side.
WITHOUT_WORDS = {("fuel", "none"), ("scene", "damage_left"), ("scene", "damage_right")}
ROWS = tuple(rows())
# What the reader runs, beside its own package.
OUTSIDE = ("lexicon", "sound", "distance")


def _meanings() -> list[Meaning]:
    return sorted({meaning for _, meaning in ROWS}, key=repr)


def test_every_value_is_in_its_vocabulary() -> None:
    for meaning in _meanings():
        if meaning.attribute in ("port_place", "doors") or meaning.attribute in ROLES:
            continue
        assert meaning.attribute in ATTRIBUTES
        known = SHOWN_TERMS.get(meaning.attribute) or terms_of(meaning.attribute)
        assert set(meaning.values) <= set(known), meaning


def test_every_place_role_is_a_place() -> None:
    sides = {*SIDE.keys, "driver", "passenger", "near", "off"}
    ends = {*END.keys, "front", "rear", "wing", "quarter", "face"}
    for meaning in _meanings():
        if meaning.attribute == "@side":
            assert set(meaning.values) <= sides
        if meaning.attribute in ("@end", "@landmark"):
            assert set(meaning.values) <= ends


def test_every_part_has_nouns_and_what_is_said_of_it_has_a_value() -> None:
    kinds = {(saying, meaning.attribute) for saying, meaning in part_rows()}
    assert len(kinds) == len(set(kinds))
    nouns = {
        meaning.attribute.removeprefix(f"{NOUN} ") for _, meaning in part_rows() if meaning.attribute.startswith(NOUN)
    }
    for saying, meaning in part_rows():
        assert all(word.isascii() and word.isalnum() for word in saying)
        kind, part = meaning.attribute.split(" ")
        if kind == NOUN or part.startswith("@"):
            continue
        assert part in nouns
        for pair in meaning.values[0].split():
            attribute, _, value = pair.partition("=")
            if part == LAMP:
                assert pair.startswith("@") or pair in terms_of("front_lamps")
            else:
                known = SHOWN_TERMS.get(attribute) or terms_of(attribute)
                assert set(value.split("|")) <= set(known), meaning


def test_no_saying_of_a_part_means_two_things_of_it() -> None:
    meant: dict[tuple[tuple[str, ...], str], set[str]] = {}
    for saying, meaning in part_rows():
        meant.setdefault((saying, meaning.attribute), set()).add(meaning.values[0])
    assert not {saying: values for saying, values in meant.items() if len(values) > 1}


def test_every_condition_named_exists_and_is_used() -> None:
    named = {meaning.needs for meaning in _meanings() if meaning.needs}
    assert named == set(NEEDS)


def test_no_saying_is_empty_or_contradicts_itself() -> None:
    seen: dict[tuple[tuple[str, ...], str], set[tuple[str, ...]]] = {}
    for saying, meaning in ROWS:
        assert saying
        if not meaning.needs and not meaning.weak and not meaning.unless_next:
            seen.setdefault((saying, meaning.attribute), set()).add(meaning.values)
    twice = {key: values for key, values in seen.items() if len(values) > 1}
    assert not twice


def test_there_are_many_ways_to_say_every_value() -> None:
    """Ten ways and more of every value of every closed attribute a description may name."""
    ways: Counter[tuple[str, str]] = Counter()
    for _, meaning in ROWS:
        ways.update((meaning.attribute, value) for value in meaning.values)
    closed = [(attribute, terms_of(attribute)) for attribute in RANKING] + list(SHOWN_TERMS.items())
    expected = {(attribute, term) for attribute, terms in closed for term in terms} - WITHOUT_WORDS
    expected -= {pair for pair in expected if pair[0] in ("category", "cable")}
    few = {pair: ways[pair] for pair in expected if ways[pair] < 10}
    assert not few


def test_no_value_has_words_twice() -> None:
    """A saying has one row for a value: a second, under other terms, would hide what the first demands."""
    rows_of: dict[tuple[tuple[str, ...], str, tuple[str, ...]], set[Meaning]] = {}
    for saying, meaning in ROWS:
        if not meaning.attribute.startswith("@"):
            rows_of.setdefault((saying, meaning.attribute, meaning.values), set()).add(meaning)
    assert not {key for key, meanings in rows_of.items() if len(meanings) > 1}


def test_every_set_is_used_and_every_saying_finds_its_sets() -> None:
    for path in sorted((DATA / "phrases").glob("*.json")):
        document = json.loads(path.read_text(encoding="utf-8"))
        text = " ".join(saying for row in document["rows"] for saying in row["say"])
        used = {part.partition(">")[0] for part in text.split("<")[1:]}
        assert used == set(document.get("sets", {})), path.name


def test_every_saying_of_the_scene_alone_is_read_as_what_it_means() -> None:
    """No longer or earlier saying takes its words away (each eleventh saying; conditions apart)."""
    plain = [(saying, m) for saying, m in ROWS if m.attribute == "scene" and not m.needs]
    for saying, meaning in plain[::11]:
        cues = read(" ".join(saying), Lexicon(), "left").cues
        found = {value for cue in cues if cue.attribute == "scene" and not cue.denied for value in cue.values}
        assert found & set(meaning.values), saying


def test_every_label_of_what_is_only_shown_is_a_saying_of_it() -> None:
    for vocabulary in said.BY_KEY.values():
        assert set(vocabulary.keys) == set(SHOWN_TERMS[vocabulary.key])
        for term in vocabulary.terms:
            cues = read(term.label, Lexicon(), "left").cues
            assert any(cue.attribute == vocabulary.key and term.key in cue.values for cue in cues), term.label


def test_every_saying_can_be_matched() -> None:
    """Sayings are stored as the words of a text are looked up: singular, folded, letters and digits."""
    for saying, _ in ROWS:
        for word in saying:
            assert word == singular(word) or singular(word) in phrase_table().spelling.known or word.endswith("s")
            assert word.isascii()
            assert word.isalnum()
            assert word == word.lower()


@pytest.mark.parametrize(
    ("plural", "single"),
    [("vans", "van"), ("buses", "bus"), ("lorries", "lorry"), ("glass", "glass"), ("bus", "bus"), ("its", "its")],
)
def test_singular(plural: str, single: str) -> None:
    assert singular(plural) == single


def test_word_lists_are_plain_words() -> None:
    for name in lists():
        if name != "number_words":
            assert all(word.isascii() and word.isalnum() and word == word.lower() for word in exactly(name)), name
    assert all(word.isascii() and word.isalpha() for word in common_words() if word.isalpha())
    assert len(common_words()) > 8000


def test_reading_uses_nothing_a_second_language_lacks() -> None:
    """No regular expressions, case folding or Unicode database in the way of a description."""
    folder = Path(catalog.resolve.__file__).parent
    modules = [*(folder / "reading").glob("*.py"), *(folder / f"{name}.py" for name in OUTSIDE)]
    assert len(modules) > 40
    for module in modules:
        source = module.read_text(encoding="utf-8")
        for word in ("import re\n", "casefold", "unicodedata", ".lower()", "numpy"):
            assert word not in source, (module.name, word)


def test_tables_say_where_their_words_come_from() -> None:
    assert "Kevin Atkinson" in (DATA / "README.md").read_text(encoding="utf-8")
