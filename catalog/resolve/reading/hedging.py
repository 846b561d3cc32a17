"""Doubt: "maybe", "I think", "not sure if"; a name read in a mirror."""

from collections.abc import Callable

from catalog.resolve.cue import Doubt
from catalog.resolve.reading.mention import NEXT, Mention, Mentions, Open, Text

_ASKS_WHAT = frozenset(("colour", "color", "model", "make", "year", "badge", "name", "reg", "registration"))
_DOUBTED_IF = frozenset(("if", "whether", "what", "which"))


def hedges(text: Text, mentions: Mentions) -> Mentions:
    """ "maybe", "I think", "looks like": what follows in the clause; said last, what stands before.

    "don't know if it's electric", "no idea what colour" says nothing: what follows is left out.
    """
    made: list[Mention | None] = list(mentions)
    opened = Open(mentions)
    for said in mentions:
        if said.attribute != "@hedge":
            continue
        doubt = Doubt(said.values[0])
        unknown = doubt is Doubt.GUESS and _about_if(text, said)
        for at in _hedged(text, said, mentions, opened):
            mention = made[at]
            if mention is not None:
                made[at] = None if unknown and len(mention.values) == 1 else mention.doubted(doubt)
    return [mention for mention in made if mention is not None]


def _about_if(text: Text, said: Mention) -> bool:
    words = text.words
    after = words[said.end].token.text if said.end < len(words) and text.same_clause(said.start, said.end) else ""
    last = words[said.end - 1].token.text
    # "red or blue, not sure which": both stay possible.
    return (after in _DOUBTED_IF and (after != "which" or _says_more(text, said.end + 1))) or last in _DOUBTED_IF - {
        "which"
    }


def _says_more(text: Text, at: int) -> bool:
    """Whether the clause goes on at a word."""
    return at < len(text.words) and text.same_clause(at - 1, at)


def _hedged(text: Text, said: Mention, mentions: Mentions, opened: Open) -> list[int]:
    """Positions of what a hedge is about."""
    clause = text.clauses.clause
    here = clause[said.start]
    split = opened.from_(said.end)
    after = _while(mentions, opened, split, lambda m: clause[m.start] == here)
    if after:
        return after
    before = opened.from_(said.start) - 1
    if before >= 0 and clause[mentions[opened.at[before]].start] == here:
        return _last_group(text, mentions, opened, before)
    if _asks_what(text, said):
        return []
    sentence = text.clauses.sentence
    if before >= 0 and sentence[mentions[opened.at[before]].start] == sentence[said.start]:
        return _last_group(text, mentions, opened, before)
    if split == len(opened.at):
        return []
    there = mentions[opened.at[split]].start
    if sentence[there] != sentence[said.start]:
        return []
    return _while(mentions, opened, split, lambda m: clause[m.start] == clause[there])


def _while(mentions: Mentions, opened: Open, number: int, holds: Callable[[Mention], bool]) -> list[int]:
    """Positions from `number` on while it holds, up to the next hedge."""
    made: list[int] = []
    for at in opened.at[number : number + 3 * NEXT]:
        if not holds(mentions[at]) or (made and _hedge_between(mentions, made[-1], at)):
            break
        made.append(at)
    return made


def _hedge_between(mentions: Mentions, one: int, other: int) -> bool:
    return any(mentions[at].attribute == "@hedge" for at in range(one + 1, other))


def _asks_what(text: Text, said: Mention) -> bool:
    """ "not sure what model": the hedge has its own thing to be about."""
    start, end = text.clause_start(said.start), text.clause_end(said.start)
    if not (text.only_small(start, said.start) and text.only_small(said.end, end)):
        return True
    return any(text.words[at].key in _ASKS_WHAT for at in (*range(start, said.start), *range(said.end, end)))


def _last_group(text: Text, mentions: Mentions, opened: Open, number: int) -> list[int]:
    """A mention and those right before it with only small words between."""
    group = [opened.at[number]]
    for at in reversed(opened.at[max(0, number - 3 * NEXT) : number]):
        one, other = mentions[at], mentions[group[-1]]
        if not text.same_clause(one.start, other.start) or not text.only_small(one.end, other.start):
            break
        group.append(at)
    return group


_INVERTED = frozenset(("upside", "mirrored", "mirror", "backward", "backwards", "reversed", "inverted"))
_LETTERING = frozenset(("badge", "letter", "lettering", "read", "reads", "say", "spell", "logo", "writing", "name"))


def inverted_names(text: Text, mentions: Mentions) -> Mentions:
    """A name read upside down or in a mirror: as heard, with a doubt."""
    sentence = text.clauses.sentence
    turned = {sentence[at] for at, word in enumerate(text.words) if word.key in _INVERTED}
    turned &= {sentence[at] for at, word in enumerate(text.words) if word.key in _LETTERING}
    if not turned:
        return mentions
    return [m.doubted(Doubt.HEDGED) if m.attribute == "name" and sentence[m.start] in turned else m for m in mentions]
