"""Names of people without a title: "Kev is in it", "uncle terry wakefield", "rider down is Gary Pell".

A first name of the list in data/masking.json, or a strange word in capitals that somebody is called or that does what
only people do. What is a name of the edition, or near one, is none.
"""

from catalog.resolve.reading.mention import Range
from catalog.resolve.reading.people_said import PREFIXES, People
from catalog.resolve.reading.spelled import PHONETIC
from catalog.resolve.reading.tokens import PAUSE, STOP
from catalog.resolve.reading.words import exactly, keys, masks

# After these a word is what a badge says, or a make.
_NO_NAME_AFTER = frozenset(
    ("a", "an", "badge", "badged", "reads", "make", "model", "letters", "lettering", "type", "written", "writing",
     "says", "spells", "like", "starts", "begins", "logo", "word")
)  # fmt: skip
_WHERE_PEOPLE_ARE = frozenset(("in", "with", "inside", "trapped", "hurt", "driving", "here", "unconscious", "bleeding"))
_MOST_BETWEEN = 4


def named(people: People, at: int) -> Range | None:
    """The name that begins at a word, or None."""
    text = people.words[at].token.text
    base = _base(people, at)
    if base in masks()["first_names"]:
        return _by_first_name(people, at)
    if people.is_capital(at) and base in masks()["first_names_words"]:
        told = _surname(people, at + 1) or _told(people, at) or _somebody_before(people, at)
        return _by_first_name(people, at) if told or _stands(people, at) else None
    if text == "pc" or text in masks()["titles"]:
        return _numbered(people, at)
    if text in masks()["kin"] or text in masks()["before_person"]:
        return _of_somebody(people, at)
    if text in PREFIXES and people.is_unknown(at + 1):
        end = people.full_name_end(at + 1)
        said = [word.token.text for word in people.words[end : end + 3]]
        return (at, end) if said in (["is", "my", "surname"], ["is", "my", "name"]) else None
    if people.stranger(at):
        return _doing(people, at)
    return None


def _base(people: People, at: int) -> str:
    """A word without the "s" of "Gary's"."""
    text = people.words[at].token.text
    first = text in masks()["first_names"] or text in masks()["first_names_words"]
    return text if first or not text.endswith("s") else text[:-1]


def _by_first_name(people: People, at: int) -> Range | None:
    words = people.words
    text = words[at].token.text
    if text in PHONETIC or people.lexicon.exact(_base(people, at)) or _after_badge(people, at):
        return None
    if people.cased and not words[at].token.capital:
        return None
    told = _told(people, at)
    sure = told or _surname(people, at + 1) or _somebody_before(people, at) or _stands(people, at)
    if words[at].key in people.alone and not sure:
        return None
    return at, at + 2 if told else people.full_name_end(at)


def _told(people: People, at: int) -> bool:
    """ "Sue Parrot rang it in": two words in capitals, and then what only people do."""
    words = people.words
    if at + 2 >= len(words) or not people.is_capital(at + 1) or not people.may_be_name(words[at + 1]):
        return False
    joined = words[at + 1].token.parted < PAUSE and words[at + 2].token.parted < PAUSE
    does = words[at + 2].token.text
    return joined and (does in masks()["does"] or does in masks()["after_says"])


def _stands(people: People, at: int) -> bool:
    """ "Jack's in the boot", "Rose is trapped", "Ruby says"."""
    words = people.words
    after = words[at + 1].token.text if at + 1 < len(words) and words[at + 1].token.parted < PAUSE else ""
    if after in ("says", "said", "reckons", "thinks", "told", "rang"):
        return True
    text = words[at].token.text
    verb = at + 1 if text.endswith("s") and text not in masks()["first_names_words"] else at + 2
    if verb >= len(words) or (verb == at + 2 and words[at + 1].token.text not in ("is", "was")):
        return False
    return words[verb].token.parted < PAUSE and words[verb].token.text in _WHERE_PEOPLE_ARE


def _somebody_before(people: People, at: int) -> bool:
    """ "driver Mark", in a text that writes names with capitals."""
    before = people.words[at - 1].token.text if at and people.words[at].token.parted < PAUSE else ""
    return people.cased and (before in masks()["before_person"] or before in masks()["kin"])


def _after_badge(people: People, at: int) -> bool:
    return at > 0 and people.words[at].token.parted < PAUSE and people.words[at - 1].token.text in _NO_NAME_AFTER


def _surname(people: People, at: int) -> bool:
    """Whether a strange word in capitals follows directly."""
    if at >= len(people.words) or people.words[at].token.parted >= PAUSE:
        return False
    prefix = people.words[at].token.text in PREFIXES and people.stranger(at + 1)
    return prefix or people.stranger(at)


def _of_somebody(people: People, at: int) -> Range | None:
    """ "rider down is Gary Pell", "driver out, one Dana Whitlock", "my uncle terry wakefield drives it"."""
    words = people.words
    name = at + 1
    while name < len(words) and name - at <= _MOST_BETWEEN and words[name].token.text in masks()["person_is"]:
        name += 1
    if name >= len(words) or words[name].token.parted >= STOP or _after_badge(people, name):
        return None
    if name > at + 1 and words[name - 1].token.text not in ("is", "was", "are", "called", "named", "one", "s"):
        return None
    if people.stranger(name):
        after = words[name + 1].token.text if name + 1 < len(words) else ""
        return (name, people.full_name_end(name)) if after not in ("driver", "owner") else None
    # Without capitals a strange word is a name where somebody's it is and something is done.
    end = name
    while end < len(words) and end - name < 2 and people.is_strange(end) and words[end].token.parted < PAUSE:
        end += 1
    mine = at > 0 and words[at - 1].token.text in ("my", "our", "his", "her", "their")
    does = end < len(words) and words[end].token.text in masks()["kin_does"]
    return (name, end) if mine and does and name == at + 1 and end > name and not people.cased else None


def _numbered(people: People, at: int) -> Range | None:
    """ "PC 4412 Hallam": the number of an officer stands before the name."""
    number = at + 1 < len(people.words) and people.words[at + 1].token.number is not None
    return (at, people.full_name_end(at + 2)) if number and people.stranger(at + 2) else None


def _doing(people: People, at: int) -> Range | None:
    """ "Pell is trapped", "Ottoline Brask drives it": what only people do."""
    words = people.words
    end = people.full_name_end(at)
    after = end
    while (
        after < len(words) and after - end < 2 and words[after].token.text in ("is", "was", "s", "has", "keeps", "just")
    ):
        after += 1
    if after >= len(words) or words[after].token.parted >= PAUSE or _after_badge(people, at):
        return None
    does = words[after].token.text
    person = does in masks()["does"] or (after > end and (does in exactly("people") or does in keys("bystanders")))
    return (at, end) if person else None
