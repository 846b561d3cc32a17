"""Clause by clause, whose turn it is: "the other car is white", "ours is red", "the bus"."""

from catalog.resolve.cue import ANOTHER, ASKED
from catalog.resolve.reading.mention import MARKS, Mention
from catalog.resolve.reading.vehicle_phrases import IDENTITY, NEAR, Work

# What is said of the vehicle that is asked about.
_ASKED_OF = frozenset(("propulsion", "fuel", "port_place", "connector", "@port", "@asked"))
_ASKED_SCENE = frozenset(("fire", "smoke", "vapour", "hiss", "pop", "jet", "charger_attached", "converted"))
_PORTS = frozenset(("port_place", "@port", "connector", "port_cover"))
_POINTING = frozenset(("the", "that", "this", "its"))
_OPENS = frozenset(
    ("and", "but", "so", "then", "because", "its", "it", "is", "was", "says", "though", "while", "where")
)
_SUBJECTS = frozenset(("car", "vehicle", "front", "behind"))


def by_subject(work: Work) -> None:
    """Clause by clause: "the other car is white", "the bus is on fire", "ours is red"."""
    text, words = work.text, work.text.words
    turn, sentence, start = ASKED, 0, 0
    labelled = False  # whether it was named as the second one, so that its whole sentence is about it
    loose = False  # whether the sentence is about B as long as it tells what B looks like
    seen = _first_words(work)
    while start < len(words):
        end = text.clause_end(start)
        if text.clauses.sentence[start] != sentence:
            turn, sentence, loose, labelled = ASKED, text.clauses.sentence[start], False, False
        said, at = _subject(work, start, end)
        if said:
            turn = said
            loose = said == ANOTHER and at - start < NEAR
            labelled = loose and _is_labelled(work, start, end)
        elif turn == ANOTHER and not (labelled and _of_label(work, start, end)):
            if not _goes_on(work, start, end, seen, loose):
                turn = ASKED
        elif sentence in work.loose and _only_looks(work, start, end) and _last_is_another(work, start):
            turn, loose = ANOTHER, True
        places = work.between(max(start, at), end)
        if turn == ANOTHER or said:
            free = [p for p in places if p not in work.of or said]
            work.give(free, turn)
            if said and any(_is_asked_of(work.mentions[p]) for p in places):
                work.asked.add(said)
            if said == ANOTHER and any(work.mentions[p].attribute == "@asked" for p in places):
                work.outright = True
        if turn == ANOTHER:
            for p in places:
                mention = work.mentions[p]
                if mention.attribute == "body":
                    work.named[ANOTHER] |= {word.key for word in words[mention.start : mention.end]}
        start = end


def _first_words(work: Work) -> set[str]:
    """What is already said of A, by attribute; and the words of its body."""
    seen: set[str] = set()
    for place, mention in enumerate(work.mentions):
        if work.of.get(place, ASKED) == ASKED and mention.attribute in IDENTITY:
            seen.add(mention.attribute)
            named = {word.key for word in work.text.words[mention.start : mention.end]}
            again = mention.start > 0 and work.text.words[mention.start - 1].token.text in _POINTING
            if mention.attribute == "body" and not work.equals and not (again and named & work.named[ANOTHER]):
                work.named[ASKED] |= named
    return seen


def _subject(work: Work, start: int, end: int) -> tuple[str, int]:
    """(vehicle a clause is about, from which word), ("", start) where it does not say."""
    words = work.text.words
    for place in work.between(start, end):
        mention = work.mentions[place]
        if mention.attribute == "@other" and not _is_port(work, start, end):
            return ANOTHER, mention.start
        if mention.attribute == "@ours":
            return ASKED, mention.start
        subject = mention.attribute == "@elsewhere" and words[mention.end - 1].key in _SUBJECTS
        if subject and work.text.only_small(start, mention.start):
            return ANOTHER, mention.start
    if _is_number(work, start, end, "2") and work.numbered:
        return ANOTHER, start
    if _is_number(work, start, end, "1"):
        work.numbered = True
    at = start
    while at < end and (words[at].key in _OPENS or words[at].token.text in ("it", "is")):
        at += 1
    pointed = at < end and words[at].token.text in _POINTING
    at += pointed
    if at < end and (pointed or at == start):
        only_b = work.named[ANOTHER] - work.named[ASKED]
        only_a = work.named[ASKED] - work.named[ANOTHER]
        noun = _noun(work, at, end)
        if noun in only_b:
            return ANOTHER, start
        if noun in only_a and work.named[ANOTHER] and pointed:
            return ASKED, start
    return "", start


def _noun(work: Work, at: int, end: int) -> str:
    """The body word a phrase comes to, past its looks: "the red estate"."""
    words = work.text.words
    for place in work.between(at, min(end, at + 4)):
        mention = work.mentions[place]
        if mention.attribute == "body":
            return words[mention.start].key if work.text.only_small(at, at) and mention.end - at <= 4 else ""
        if mention.attribute not in IDENTITY:
            break
    return words[at].key


def _is_port(work: Work, start: int, end: int) -> bool:
    """ "the other one is at the back" may be a second port."""
    said = {work.mentions[place].attribute for place in work.between(start, end)}
    return "@another" in said and ("@port" in said or not said & IDENTITY)


def _is_labelled(work: Work, start: int, end: int) -> bool:
    """ "V2 red estate", "second vehicle", "the other one": said at the head of the clause; or a "2" of its own."""
    named = any(work.mentions[place].attribute == "@other" for place in work.between(start, min(end, start + NEAR)))
    return named or _is_number(work, start, end, "2")


def _is_number(work: Work, start: int, end: int, number: str) -> bool:
    return end - start == 1 and work.text.words[start].token.text == number


def _of_label(work: Work, start: int, end: int) -> bool:
    """Whether a clause may still be about the second one: nothing of it is what ours was asked about for."""
    return not any(work.mentions[place].attribute in ("@ours", *_PORTS) for place in work.between(start, end))


def _goes_on(work: Work, start: int, end: int, seen: set[str], loose: bool) -> bool:
    """A clause after one about B that only gives looks A already has: "the other car's red, an estate"."""
    said = {m.attribute for p in work.between(start, end) if (m := work.mentions[p]).attribute not in MARKS}
    return bool(said) and said <= IDENTITY and (loose or bool(said & seen))


def _only_looks(work: Work, start: int, end: int) -> bool:
    said = {m.attribute for p in work.between(start, end) if (m := work.mentions[p]).attribute not in MARKS}
    return bool(said) and said <= IDENTITY


def _last_is_another(work: Work, start: int) -> bool:
    """Whether the last body named before a clause is B's."""
    named = [p for p in work.between(0, start) if work.mentions[p].attribute == "body"]
    return bool(named) and work.of.get(named[-1]) == ANOTHER


def _is_asked_of(mention: Mention) -> bool:
    return mention.attribute in _ASKED_OF or (mention.attribute == "scene" and bool(_ASKED_SCENE & set(mention.values)))
