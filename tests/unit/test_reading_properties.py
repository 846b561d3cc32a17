"""What holds of every text: order, repetition, spans, and that nothing is swallowed."""

from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.domain.folding import fold_char, is_word_char
from catalog.resolve.cue import ATTRIBUTES
from catalog.resolve.reading.words import exactly
from tests.unit.reading_cases import reading

# Each says something of its own; none corrects, hedges or answers another.
CLAUSES = (
    "white pickup",
    "port left rear",
    "flap by the front wheel on the driver's side",
    "no grille",
    "four doors",
    "21 plate",
    "Velorn Tavrin",
    "maybe electric",
    "light strip across the back",
    "not a van",
    "on its roof",
    "no fire or smoke",
    "driver's pinned",
    "badge says Zorvex",
    "left rear crushed",
    "blue or black",
    "CCS2",
    "Mr White is here",
    "port on the left as you look at it",
    "turny wheel thing for gears",
    "looks like a hatchback",
    "no tailpipe",
)
ENDS = st.sampled_from((", ", ". ", "; ", " - ", "\n"))


def meaning(text: str) -> set[tuple[object, ...]]:
    return {(*cue.key, cue.doubt) for cue in reading(text).cues}


@settings(max_examples=120)
@given(st.lists(st.sampled_from(CLAUSES), min_size=2, max_size=5, unique=True), st.randoms(), ENDS)
def test_the_order_of_clauses_changes_nothing(clauses: list[str], chance: object, end: str) -> None:
    shuffled = list(clauses)
    chance.shuffle(shuffled)  # type: ignore[attr-defined]
    assert meaning(end.join(clauses)) == meaning(end.join(shuffled))


@settings(max_examples=80)
@given(st.lists(st.sampled_from(CLAUSES), min_size=1, max_size=4, unique=True), st.data(), ENDS)
def test_saying_it_again_changes_nothing(clauses: list[str], data: st.DataObject, end: str) -> None:
    again = data.draw(st.sampled_from(clauses))
    assert meaning(end.join(clauses)) == meaning(end.join([*clauses, again]))


TEXTS = st.lists(
    st.one_of(
        st.sampled_from(CLAUSES),
        st.sampled_from(
            ("or", "no wait", "?", "and", "not", "left", "rear", "the", "port", "🚗", "white", ",", "2019", "maybe")
        ),
        st.text(max_size=8),
    ),
    max_size=8,
).map(" ".join)


@settings(max_examples=150)
@given(TEXTS)
def test_every_word_is_in_a_cue_or_small_or_left_visible(text: str) -> None:
    read = reading(text)
    spans = [span for cue in read.cues for span in cue.spans] + [*read.unread, *read.masked]
    covered = {at for span in spans for at in range(span.start, span.end)}
    word, start = "", 0
    for at, char in enumerate(text + " "):
        folded = fold_char(char) if at < len(text) else " "
        if folded and all(is_word_char(part) for part in folded):
            start = start if word else at
            word += folded
        elif word and "'" not in folded and folded:
            bare = start not in covered and word.isascii()
            assert not bare or _small(word), f"{word!r} of {text!r} is neither read nor unread"
            word = ""


def _small(word: str) -> bool:
    """A function word, or one only modifiers use."""
    singular = word[:-1] if word.endswith("s") else word
    return word in exactly("function") or singular in exactly("function") or word in MODIFIER_WORDS


MODIFIER_WORDS = frozenset(
    ("or", "no", "wait", "not", "maybe", "and", "yes", "either", "neither", "nor", "badge", "says")
)


@settings(max_examples=120)
@given(TEXTS)
def test_spans_lie_in_the_text_and_say_what_was_heard(text: str) -> None:
    for cue in reading(text).cues:
        assert cue.attribute in ATTRIBUTES
        assert cue.values == tuple(sorted(set(cue.values)))
        assert cue.spans == tuple(sorted(cue.spans, key=lambda span: span.start))
        assert all(0 <= span.start < span.end <= len(text) for span in cue.spans)
        assert cue.heard == " … ".join(text[span.start : span.end] for span in cue.spans)


@settings(max_examples=40)
@given(TEXTS)
def test_reading_is_repeatable(text: str) -> None:
    assert reading(text) == reading(text)


@settings(max_examples=200)
@given(st.text(max_size=120), st.sampled_from(("left", "right")))
def test_any_text_is_read(text: str, side: str) -> None:
    """Lone surrogates, marks, other scripts: nothing is refused, and every span lies in the text."""
    read = reading(text, side)
    for span in (*read.unread, *read.masked, *(span for cue in read.cues for span in cue.spans)):
        assert 0 <= span.start < span.end <= len(text)
    assert set(read.scene.values()) <= {"yes", "no", "perhaps"}


@settings(max_examples=120)
@given(TEXTS)
def test_what_is_masked_is_in_no_cue_and_not_unread(text: str) -> None:
    read = reading(text)
    hidden = {at for span in read.masked for at in range(span.start, span.end)}
    for span in (*read.unread, *(span for cue in read.cues for span in cue.spans)):
        assert hidden.isdisjoint(range(span.start, span.end))


UNRELATED = (
    "Hello, can you hear me",
    "It is raining cats and dogs here",
    "Please hurry up",
    "There are a lot of people about",
    "We had lunch an hour ago",
    "I will wait for somebody",
)


@settings(max_examples=120)
@given(st.lists(st.sampled_from(CLAUSES), min_size=1, max_size=4, unique=True), st.sampled_from(UNRELATED), st.data())
def test_an_unrelated_sentence_changes_no_cue(clauses: list[str], more: str, data: st.DataObject) -> None:
    at = data.draw(st.integers(0, len(clauses)))
    assert meaning(". ".join([*clauses[:at], more, *clauses[at:]])) == meaning(". ".join(clauses))
