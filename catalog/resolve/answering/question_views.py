"""Questions as shown: plain, frozen, without HTTP or terminal words."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class OptionView:
    """An answer: id to send back, words to show, and the cue it adds.

    points_to: the likeliest vehicle once it is given, with its word; of the first question
    only, and where something said can rank.
    """

    id: str
    words: str
    attribute: str
    values: tuple[str, ...]
    points_to: str = ""


@dataclass(frozen=True, slots=True)
class QuestionView:
    """A question. ask: to be put as it stands. frame: how sides are meant, to be said with it; often empty.

    options: none where the answer is a name in the caller's own words. cannot_tell: id of that answer, always
    offered. why: what it is asked for. voi: share of all that may be lost by acting on a wrong fact that it is
    expected to save, cost taken off. bits: information it is expected to give.
    """

    id: str
    ask: str
    frame: str
    options: tuple[OptionView, ...]
    cannot_tell: str
    why: str
    voi: float
    bits: float


@dataclass(frozen=True, slots=True)
class QuestionsView:
    """What to ask next, best first. caller: where who answers is. advice: to be minded while asking.

    stopped, said: why nothing is asked, as an id and in words; empty while something is. offer_unlisted: what to
    do instead of asking on; often empty.
    """

    questions: tuple[QuestionView, ...]
    caller: str
    advice: str
    stopped: str
    said: str
    offer_unlisted: str
