"""What was said first and then put right: "left, no wait, right".

The earlier value goes, the later one stands in its place. A place keeps what was not corrected:
"port left rear, no, right" is right rear.
"""

from collections.abc import Sequence
from dataclasses import replace

from catalog.resolve.reading.mention import Mention, Mentions, Open, Range, Text, is_place
from catalog.resolve.reading.tokens import PAUSE

# Attributes whose words follow a correcting "no" without an article: "left, no right".
_SAID_BARE = frozenset(("@side", "@end", "@landmark", "@level", "colour", "years", "doors", "size"))
_INTRODUCES = frozenset(("a", "an", "its", "the", "it"))
# What may stand before the thing put right: "a coupe, correction, a four-door | saloon".
_LOOKS = frozenset(("doors", "size", "colour", "years", "propulsion", "fuel", "@small"))
# One correction puts right what follows it directly, at most so many things.
_MOST = 8
_NAMES_BACK = 3
_PLACE_WITHIN = 9
_PAIR = 2
_DENIALS = frozenset(("not", "isnt", "never", "neither", "nor", "wasnt", "arent", "aint"))
_Key = tuple[str, str]


def corrections(text: Text, mentions: Mentions) -> Mentions:
    """The mentions with every correction made."""
    made: list[Mention | None] = list(mentions)
    opened = Open(mentions)
    standing: dict[_Key, list[int]] = {}
    fed = 0
    for place, fix in enumerate(mentions):
        if fix.attribute != "@fix" and not _bare_no(text, fix, made, opened):
            continue
        while fed < len(opened.at) and mentions[opened.at[fed]].end <= fix.start:
            earlier = opened.at[fed]
            if made[earlier] is not None:
                standing.setdefault(_key(mentions[earlier]), []).append(earlier)
            fed += 1
        if _put_right(text, fix, _run_after(text, fix, made, opened), made, standing) and fix.attribute == "@not":
            # It has put something right and denies nothing.
            made[place] = None
    return [mention for mention in made if mention is not None]


def _key(mention: Mention) -> _Key:
    attribute = "@end" if mention.attribute == "@landmark" else mention.attribute
    return attribute, mention.vehicle


def _put_right(
    text: Text, fix: Mention, run: list[int], made: list[Mention | None], standing: dict[_Key, list[int]]
) -> bool:
    """Whether anything was put right."""
    righted: set[int] = set()
    said = {mention.values for place in run if (mention := made[place]) is not None}
    for number, place in enumerate(run):
        later = made[place]
        if later is None:
            continue
        before = _replaced(later, said, made, standing.get(_key(later), []))
        if before is not None and is_place(later) and (before in righted or not _of_same(text, made[before], fix)):
            before = None
        if before is None:
            if number == 0 and later.attribute not in _LOOKS:
                return bool(righted)
            continue
        earlier = made[before]
        assert earlier is not None
        gone = _drop_alternatives(text, before, made, standing[_key(later)])
        also = (*earlier.also, *gone, (fix.start, fix.end), *later.ranges)
        made[before] = replace(
            earlier, attribute=later.attribute, values=later.values, doubt=later.doubt, weak=later.weak, also=also
        )
        made[place] = None
        righted.add(before)
    return bool(righted)


def _of_same(text: Text, earlier: Mention | None, fix: Mention) -> bool:
    """A place is put right in its own sentence, or at the start of the next."""
    if earlier is None:
        return False
    if fix.start - earlier.end > _PLACE_WITHIN:
        return False
    apart = text.clauses.sentence[fix.start] - text.clauses.sentence[earlier.start]
    return apart == 0 or (apart == 1 and text.clause_start(fix.start) == fix.start)


def _drop_alternatives(text: Text, place: int, made: list[Mention | None], standing: list[int]) -> list[Range]:
    """ "red or orange, no wait, yellow": what was joined to the corrected value by "or" goes with it; its words."""
    gone: list[Range] = []
    while len(standing) > 1 and standing[-1] == place:
        one, other = made[standing[-2]], made[place]
        if one is None or other is None or other.start <= one.end or not text.only_small(one.end, other.start):
            break
        if not any(word.key == "or" for word in text.words[one.end : other.start]):
            break
        gone += one.ranges
        made[standing[-2]] = None
        standing[-2:] = [place]
    return gone


def _replaced(
    later: Mention, said: set[tuple[str, ...]], made: list[Mention | None], standing: list[int]
) -> int | None:
    """The last earlier mention of the same attribute; of names, the same one again or one not said again."""
    if later.attribute != "name":
        return standing[-1] if standing else None
    earlier = [(place, mention) for place in standing[-_NAMES_BACK:] if (mention := made[place]) is not None]
    same = [place for place, mention in earlier if mention.values == later.values]
    others = [place for place, mention in earlier if mention.values not in said]
    fitting = same or others
    return fitting[-1] if fitting else None


def _run_after(text: Text, fix: Mention, made: list[Mention | None], opened: Open) -> list[int]:
    """Positions of the mentions that follow directly, in one clause."""
    run: list[int] = []
    at, clause = fix.end, -1
    first = opened.from_(fix.end)
    for place in opened.at[first : first + _MOST]:
        mention = made[place]
        if mention is None or (is_place(mention) and _denies_again(text, at - 1, mention.start)):
            break
        if not text.only_small(at, mention.start):
            break
        if run and text.clauses.clause[mention.start] != clause:
            break
        clause = text.clauses.clause[mention.start]
        run.append(place)
        at = max(at, mention.end)
    return run


def _bare_no(text: Text, said: Mention, made: Sequence[Mention | None], opened: Open) -> bool:
    """A bare "no" between two values of one attribute: "left, no, right"."""
    if said.attribute != "@not" or said.end - said.start > 1 or text.words[said.start].token.text != "no":
        return False
    split = opened.from_(said.end)
    before = _last_group(text, made, opened, opened.from_(said.start))
    after = made[opened.at[split]] if split < len(opened.at) else None
    if not before or after is None or not text.same_sentence(before[0].start, after.start):
        return False
    if not text.only_small(before[0].end, said.start) or not text.only_small(said.end, after.start):
        return False
    if _denies_again(text, said.end, after.start):
        return False
    following_ones = [m for place in opened.at[split : split + _PAIR] if (m := made[place]) is not None and is_place(m)]
    later = following_ones if is_place(after) else [after]
    if not any(_key(one) == _key(other) and one.values != other.values for one in before for other in later):
        return False
    # "no grille" denies; "no, right" and "no it's a van" correct.
    following = text.words[said.end]
    introduced = following.token.parted >= PAUSE or following.token.text in _INTRODUCES
    return introduced or after.attribute in _SAID_BARE


def _denies_again(text: Text, start: int, end: int) -> bool:
    """ "left, no not the right": what follows is denied, it puts nothing right."""
    return any(text.words[at].token.text in _DENIALS for at in range(start, end))


def _last_group(text: Text, made: Sequence[Mention | None], opened: Open, split: int) -> list[Mention]:
    """The last mention before a position of `opened` and those right before it with only small words between."""
    group: list[Mention] = []
    for number in range(split - 1, max(-1, split - 1 - _MOST), -1):
        mention = made[opened.at[number]]
        if mention is None:
            continue
        if group and not (
            text.same_clause(mention.start, group[-1].start) and text.only_small(mention.end, group[-1].start)
        ):
            break
        group.append(mention)
    return group
