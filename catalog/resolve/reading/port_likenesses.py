"""What only looks like a port: a slot under the plate, the lid of a boot, PLUG in letters on the bodywork."""

from collections.abc import Sequence

from catalog.resolve.reading.mention import Mention, Text

_UNDER = frozenset(("under", "beneath", "below", "underneath"))
_BODY_LIDS = frozenset(("trunk", "boot", "frunk", "own", "engine", "bonnet", "hood", "trunks", "boots", "tank"))


def without_likenesses(text: Text, mentions: Sequence[Mention]) -> list[Mention]:
    """Without what only looks like a port: a slot under the plate, a boot's lid, PLUG in letters."""
    sentence = text.clauses.sentence
    spoken = {sentence[m.start] for m in mentions if m.attribute in ("@port", "connector", "door_mechanism")}
    kept: list[Mention] = []
    gone: set[int] = set()
    for mention in mentions:
        first = text.words[mention.start].token
        before = text.words[mention.start - 1].token.text if mention.start else ""
        if mention.attribute == "port_cover" and mention.values == ("plate",):
            if sentence[mention.start] not in spoken and _UNDER & {first.text, before}:
                gone.add(mention.start)
                continue
        elif mention.attribute == "@port" and mention.end - mention.start == 1:
            lid = first.text == "lid" and before in _BODY_LIDS
            if lid or (first.text == "plug" and _in_letters(text, mention)):
                continue
        kept.append(mention)
    return [m for m in kept if not (m.attribute == "@end" and m.values == ("face",) and m.start in gone)]


def _in_letters(text: Text, mention: Mention) -> bool:
    """In capitals among small letters."""
    if not text.words[mention.start].token.upper:
        return False
    beside = [text.words[at].token for at in (mention.start - 1, mention.end) if 0 <= at < len(text.words)]
    return any(not token.upper and len(token.text) > 1 for token in beside)
