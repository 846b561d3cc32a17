"""Raw text -> cues with code-point spans, and what was not understood.

The way of a text: words (`tokens`, `words`) -> mentions (`phrases`, `years_said`, `vin_said`,
`names_said`) -> modifiers (`modifiers`) -> places (`places_said`) -> cues (`merging`). Pure and
deterministic; everything is a flat table or plain code that can be written twice.
"""

from catalog.resolve.cue import Reading, Span
from catalog.resolve.lexicon import Lexicon
from catalog.resolve.reading.clock_said import clock_frame, read_clock
from catalog.resolve.reading.counts_said import read_doors, read_rows
from catalog.resolve.reading.drive_said import read_sounds, read_tanks
from catalog.resolve.reading.masking import masked
from catalog.resolve.reading.mention import MARKS, Clauses, Mention, Text, in_order
from catalog.resolve.reading.merging import cues_of
from catalog.resolve.reading.modifiers import MODIFIERS
from catalog.resolve.reading.name_parts import name_parts
from catalog.resolve.reading.names_said import (
    BADGE_TOO,
    badge_texts,
    called_names,
    exact_names,
    kind_badges,
    near_names,
)
from catalog.resolve.reading.needs import NEEDS
from catalog.resolve.reading.opening_said import read_openings
from catalog.resolve.reading.parts_said import read_parts
from catalog.resolve.reading.phrases import Meaning, phrase_table
from catalog.resolve.reading.places_kinds import between_doors, roof_contacts, saddles
from catalog.resolve.reading.places_said import read_places
from catalog.resolve.reading.places_words import sides_again, tanks, words_of_place
from catalog.resolve.reading.plates_said import read_plates
from catalog.resolve.reading.plug_face import carried, read_faces
from catalog.resolve.reading.plug_named import read_named
from catalog.resolve.reading.plug_own import read_own
from catalog.resolve.reading.scan import Scan, writes_capitals
from catalog.resolve.reading.scene_said import pass_over, read_looks, read_scene, scene_hits
from catalog.resolve.reading.tokens import tokenise
from catalog.resolve.reading.vehicle_related import others_named
from catalog.resolve.reading.viewpoints import stood_at
from catalog.resolve.reading.vin_said import read_vins
from catalog.resolve.reading.words import LookUps, Word, exactly, resolve_words
from catalog.resolve.reading.years_said import read_years

# Roles that are understood by themselves although they make no cue.
_UNDERSTOOD = (MARKS - {"@trap", "@elsewhere"}) | {"@each", "@another"}


def read(text: str, lexicon: Lexicon, driving_side: str) -> Reading:
    """Read a description.

    lexicon: the names of the edition. driving_side: the side traffic keeps to, "left" or "right";
    it decides nearside, offside and kerb only. Cues come in the order of the text.
    """
    table = phrase_table()
    looks = LookUps()
    words = resolve_words(tokenise(text), table.spelling, lexicon, looks)
    scan = Scan(words, table.ends(words), text, writes_capitals(words), driving_side)
    mentions, hidden = _mentions(text, scan, lexicon, looks)
    small = _small_words(words, mentions)
    whole = Text(words, Clauses.of(words), small)
    mentions = stood_at(whole, mentions)
    for modifier in MODIFIERS:
        mentions = modifier(whole, mentions)
    cues = cues_of(text, words, read_places(whole, mentions, driving_side))
    covered = [False] * len(text)
    for spans in (hidden, *(cue.spans for cue in cues)):
        for span in spans:
            covered[span.start : span.end] = [True] * (span.end - span.start)
    unread = tuple(
        Span(word.token.start, word.token.end)
        for at, word in enumerate(words)
        if not small[at] and not covered[word.token.start]
    )
    return Reading(cues, unread, tuple(hidden))


def _mentions(text: str, scan: Scan, lexicon: Lexicon, looks: LookUps) -> tuple[list[Mention], list[Span]]:
    """Everything recognised, each word used once, and what is masked: patterns, names, phrases, other names."""
    words = scan.words
    taken = [False] * len(words)
    made: list[Mention] = []

    def keep(found: list[Mention]) -> None:
        for mention in found:
            if not any(taken[mention.start : mention.end]):
                made.append(mention)
                taken[mention.start : mention.end] = [True] * (mention.end - mention.start)

    keep(read_vins(words))
    keep(tanks(scan))
    made += read_tanks(scan, made)
    keep(clock_frame(scan))
    made += read_clock(scan, taken)
    keep(sides_again(scan))
    if scan.charged:
        made += roof_contacts(scan)
        keep(between_doors(scan))
        made += saddles(scan)
    spans = masked(text, words, taken, lexicon, phrase_table())
    keep(name_parts(scan, lexicon, taken))
    keep(exact_names(scan, lexicon, phrase_table(), taken))
    made += _said_by_badges(scan, made)
    hits = scene_hits(words, taken)
    pass_over(words, hits, taken)
    made += read_scene(words, hits, taken)
    keep(read_years(words))
    keep(read_doors(words))
    keep(read_rows(words))
    made += read_looks(words, taken)
    spoken_for = _with_viewpoints(scan, taken)
    own, shared = read_parts(scan, spoken_for)
    own += read_faces(scan, spoken_for)
    made += own + shared
    for mention in own:
        for start, end in mention.ranges:
            taken[start:end] = [True] * (end - start)
    keep(read_plates(scan, taken))
    keep(read_named(scan, taken))
    keep(read_own(scan, taken))
    keep(kind_badges(scan, taken))
    keep(read_sounds(scan, taken))
    made += _phrases(scan, taken)
    made += read_openings(scan, made)
    made += words_of_place(scan, taken, made)
    made = [m for m in made if m.attribute != "connector" or not carried(scan, m)]
    others = others_named(scan, made)
    theirs = {mention.start for mention in others}
    made = [m for m in made if m.attribute not in ("body", "marking") or m.start not in theirs] + others
    introductions = [mention for mention in made if mention.attribute == "@badge"]
    keep(called_names(scan, introductions, taken))
    keep(near_names(scan, lexicon, taken, looks, phrase_table()))
    keep(badge_texts(scan, lexicon, taken, made))
    return in_order(made), spans


def _with_viewpoints(scan: Scan, taken: list[bool]) -> list[bool]:
    """Taken words, and those that say from where: "standing at the nose" says nothing of a nose."""
    made = list(taken)
    for start, ends in enumerate(scan.ends):
        if ends and any(meaning.attribute == "@view" and not meaning.needs for meaning in ends[0][1]):
            made[start : ends[0][0]] = [True] * (ends[0][0] - start)
    return made


def _said_by_badges(scan: Scan, names: list[Mention]) -> list[Mention]:
    """What codes such as "H2" say besides being a badge."""
    coded = [m for m in names if m.attribute == "name" and scan.words[m.start].token.text in BADGE_TOO]
    return [
        Mention(meaning.attribute, meaning.values, name.start, name.end, meaning.doubt, weak=True)
        for name in coded
        for end, meanings in scan.ends[name.start]
        if end == name.end
        for meaning in meanings
        if not meaning.attribute.startswith("@")
    ]


def _phrases(scan: Scan, taken: list[bool]) -> list[Mention]:
    """The longest saying at each free word whose conditions hold, with all its meanings."""
    made: list[Mention] = []
    at = 0
    while at < len(scan.words):
        end = at + 1
        for stop, meanings in () if taken[at] else scan.ends[at]:
            if any(taken[at:stop]):
                continue
            agreed = [
                meaning
                for meaning in meanings
                if scan.next(stop) not in meaning.unless_next
                and scan.key(stop) not in meaning.unless_next
                and (not meaning.needs or NEEDS[meaning.needs](scan, at, stop))
            ]
            if agreed and not _says_more(scan, at, stop, agreed):
                made += [Mention(m.attribute, m.values, at, stop, m.doubt, weak=m.weak) for m in agreed]
                taken[at:stop] = [True] * (stop - at)
                end = stop
                break
        at = end
    return made


def _says_more(scan: Scan, at: int, stop: int, agreed: list[Meaning]) -> bool:
    """ "there is no | roof": a saying that begins inside a denial and goes on says more than the denial."""
    return (
        stop - at > 1
        and all(meaning.attribute == "@not" for meaning in agreed)
        and any(
            end > stop and not all(meaning.attribute.startswith("@") for meaning in meanings)
            for inner in range(at + 1, stop)
            for end, meanings in scan.ends[inner]
        )
    )


def _small_words(words: list[Word], mentions: list[Mention]) -> list[bool]:
    """Function words and understood modifiers: they need no reading of their own."""
    function = exactly("function")
    small = [word.token.text in function or (word.key in function and not word.corrected) for word in words]
    for mention in mentions:
        if mention.attribute in _UNDERSTOOD:
            small[mention.start : mention.end] = [True] * (mention.end - mention.start)
    return small
