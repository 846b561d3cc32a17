"""Mentions -> cues: the same thing said twice is one cue, and weaker sayings give way.

Nothing here depends on the order of the mentions except the order of the spans.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from catalog.resolve.cue import Cue, Span
from catalog.resolve.reading.mention import Mention, firmest, most_doubtful
from catalog.resolve.reading.words import Word

# Several of these may be true of one vehicle at once; each stands for itself.
_EACH_FOR_ITSELF = frozenset(
    ("name", "scene", "other_place", "vin", "port_cover", "marking", "wheels", "start", "screen")
)

# What tells more of the same thing, whichever is said first: a slot low in a blank nose, a rod that is a lever.
_NARROWER: Mapping[tuple[str, ...], str] = {
    ("front_face", "closed_panel"): "lower_intake",
    ("selector", "lever"): "wand",
}


def cues_of(text: str, words: Sequence[Word], mentions: Sequence[Mention]) -> tuple[Cue, ...]:
    """The cues in the order of the text."""
    kept: dict[tuple[str, str], list[Mention]] = {}
    for mention in mentions:
        kept.setdefault((mention.vehicle, mention.attribute), []).append(mention)
    made: list[Cue] = []
    for (_, attribute), said in kept.items():
        alone: list[Mention] = []
        together: list[Mention] = []
        for mention in _with_weak_given_way(said):
            by_itself = mention.apart or mention.denied or attribute in _EACH_FOR_ITSELF
            (alone if by_itself else together).append(mention)
        made += [_cue(text, words, same) for same in _same(alone)]
        if together:
            made.append(_merged(text, words, together))
    return tuple(sorted(made, key=lambda cue: (cue.spans[0].start, cue.attribute, cue.values, cue.denied)))


def _with_weak_given_way(mentions: Sequence[Mention]) -> Sequence[Mention]:
    """Weak mentions dropped where the attribute is said outright; their words stay with what was said."""
    weak = [m for m in mentions if m.weak]
    at = next((i for i, m in enumerate(mentions) if not (m.weak or m.denied or m.apart)), -1)
    if not weak or at < 0:
        return mentions
    said = mentions[at].with_ranges(span for m in weak for span in m.ranges)
    return [said if i == at else m for i, m in enumerate(mentions) if i == at or not m.weak]


def _same(mentions: Sequence[Mention]) -> list[list[Mention]]:
    """Mentions that say the same, put together."""
    groups: dict[tuple[tuple[str, ...], bool], list[Mention]] = {}
    for mention in mentions:
        groups.setdefault((tuple(sorted(set(mention.values))), mention.denied), []).append(mention)
    return list(groups.values())


def _merged(text: str, words: Sequence[Word], mentions: Sequence[Mention]) -> Cue:
    """One cue of all positive mentions: what they agree on, else every value said."""
    sets = _without_wider(mentions[0].attribute, list(dict.fromkeys(frozenset(m.values) for m in mentions)))
    common = _common_years(sets) if mentions[0].attribute == "years" else frozenset.intersection(*sets)
    if common:
        return _cue(text, words, mentions, common)
    least = [values for values in sets if not any(other < values for other in sets)]
    everything = frozenset().union(*least)
    if mentions[0].attribute == "size" and "very_large" in everything:
        everything -= {"large"}  # "a big van, huge"
    cue = _cue(text, words, mentions, everything)
    return replace(cue, doubt=most_doubtful(m.doubt for m in mentions))


def _without_wider(attribute: str, sets: list[frozenset[str]]) -> list[frozenset[str]]:
    return [
        values
        for values in sets
        if len(values) > 1 or frozenset((_NARROWER.get((attribute, *values), ""),)) not in sets
    ]


def _common_years(sets: Sequence[frozenset[str]]) -> frozenset[str]:
    """The years every mention allows, as single years and spans: "2019 to 2021, about 2020" is 2020."""
    if len(sets) == 1:
        return sets[0]
    spans = [{year for value in values for year in _span_years(value)} for values in sets]
    common = sorted(set.intersection(*spans))
    if not common:
        return frozenset()
    runs: list[list[int]] = []
    for year in common:
        if runs and runs[-1][-1] == year - 1:
            runs[-1].append(year)
        else:
            runs.append([year])
    return frozenset(str(run[0]) if len(run) == 1 else f"{run[0]}-{run[-1]}" for run in runs)


def _span_years(value: str) -> range:
    first, _, last = value.partition("-")
    return range(int(first), int(last or first) + 1)


def _cue(text: str, words: Sequence[Word], mentions: Sequence[Mention], values: frozenset[str] | None = None) -> Cue:
    first = mentions[0]
    spans = _spans(words, mentions)
    heard = " … ".join([text[span.start : span.end] for span in spans])
    chosen = tuple(sorted(set(first.values) if values is None else values))
    doubt = first.doubt if len(mentions) == 1 else firmest(m.doubt for m in mentions)
    viewpoint = next((m.viewpoint for m in mentions if m.viewpoint), "")
    return Cue(first.attribute, chosen, spans, heard, first.denied, doubt, viewpoint, first.vehicle)


def _spans(words: Sequence[Word], mentions: Sequence[Mention]) -> tuple[Span, ...]:
    """Code-point spans of the word ranges; neighbouring ranges run together."""
    ranges = sorted({span for mention in mentions for span in mention.ranges})
    made: list[tuple[int, int]] = []
    for start, end in ranges:
        if made and start <= made[-1][1]:
            made[-1] = (made[-1][0], max(made[-1][1], end))
        else:
            made.append((start, end))
    return tuple([Span(words[start].token.start, words[end - 1].token.end) for start, end in made])
