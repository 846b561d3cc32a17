"""Questions, with and without their answers.

"a van?" is doubtful; "is it a van? yes" is not; "is it a van? no" denies it; "is it electric?" that
nobody answers says nothing. Only the clause that was asked: in "silver saloon, plugged in? no" the
saloon stands.
"""

from bisect import bisect_left
from dataclasses import replace

from catalog.resolve.cue import Doubt
from catalog.resolve.reading.mention import MARKS, Mention, Mentions, Text

_YES = frozenset(("yes", "yeah", "yep", "yup", "correct", "affirmative", "roger", "aye", "definitely"))
_UNKNOWN = frozenset(("idea", "clue", "notion", "information", "info"))
_NO = frozenset(("no", "nope", "negative", "nah"))
_ASKS = frozenset(("is", "was", "does", "did", "has", "do", "are", "have", "isnt", "any"))
_ABOUT = frozenset(("it", "there", "that", "this", "he", "she", "you", "they", "the", "your"))


def questions(text: Text, mentions: Mentions) -> Mentions:
    """The mentions with what was only asked left out, and what was answered settled."""
    made: list[Mention | None] = list(mentions)
    starts = [mention.start for mention in mentions]
    for start, end in _asked(text):
        first, last = bisect_left(starts, start), bisect_left(starts, end)
        places = [
            p for p in range(first, last) if mentions[p].attribute not in MARKS and mentions[p].attribute != "@port"
        ]
        if not places:
            continue
        answer = text.words[end].token.text if end < len(text.words) else ""
        if end + 1 < len(text.words) and text.words[end + 1].token.text in _UNKNOWN:
            answer = ""  # "is it electric - no idea"
        after = mentions[last : last + 6]
        upto = text.sentence_end(end) if end < len(text.words) else end
        again = {m.attribute for m in after if m.start < upto and m.attribute not in MARKS}
        for place in places:
            made[place] = _settled(text, mentions[place], (start, end), answer, again, after)
    return [mention for mention in made if mention is not None]


def _asked(text: Text) -> list[tuple[int, int]]:
    """The clauses that ask: by a question mark, or by their first words where an answer follows."""
    clause = text.clauses.clause
    made = []
    start = 0
    for end in range(1, len(text.words) + 1):
        if end < len(text.words) and clause[end] == clause[start]:
            continue
        answered = end < len(text.words) and (text.words[end].token.text in _YES or text.words[end].token.text in _NO)
        if text.words[end - 1].token.asked or (answered and _inverted(text, start)):
            made.append((start, end))
        start = end
    return made


def _inverted(text: Text, start: int) -> bool:
    """ "is it ...", "does the ...": a question by its word order."""
    words = text.words
    return (
        start + 1 < len(words)
        and text.same_clause(start, start + 1)
        and words[start].token.text in _ASKS
        and (words[start + 1].token.text in _ABOUT or words[start].token.text == "any")
    )


def _settled(
    text: Text, asked: Mention, clause: tuple[int, int], answer: str, again: set[str], after: Mentions
) -> Mention | None:
    if answer in _YES or any(first <= clause[1] < last for first, last in asked.also):
        return asked  # the "no" has already put it right
    if asked.end > clause[1]:
        return asked  # "doors? four": the answer is part of it
    pure = _inverted(text, clause[0])
    if answer in _NO:
        # "is it blue? no, red": what it is not matters less than what it is.
        return replace(asked, denied=not asked.denied, weak=False)
    if pure or asked.attribute in again:
        return None
    unsure = any(m.attribute == "@hedge" and m.start <= asked.end + 8 and m.values == ("guess",) for m in after[:1])
    return asked.doubted(Doubt.GUESS if unsure else Doubt.HEDGED)
