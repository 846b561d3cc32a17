"""A part of a step as lines: fixed sentences, and facts of the record in words.

In the wording table an entry is a sentence; [path, lead, how] for one fact; or [list[], key, ...] for
the items of a list. how: "stated" leaves out what nobody states, "always" says it without a record
too, "quiet" leaves out the lead of what is plainly stated, "else" has a sentence after it for where nobody states
it. A fact that is not plainly stated always says so and how it is read.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from catalog.domain.facts import Fact, State
from catalog.domain.spec.nodes import Attr, Role
from catalog.domain.wording import claim_words, sentence
from catalog.plan.listed import listed_lines
from catalog.plan.subject import Subject, attribute

Entry = str | Sequence[str]


@dataclass(frozen=True, slots=True)
class Line:
    """One sentence of a step. state: of the fact behind it, stated for a fixed sentence. src: its sources."""

    text: str
    state: State = State.STATED
    src: tuple[str, ...] = ()


def lines_of(entries: Sequence[Entry], subject: Subject, item: str) -> Iterator[Line]:
    """The lines of one part. item: the path of the port or way the step is about."""
    for entry in entries:
        if isinstance(entry, str):
            yield Line(entry)
        elif entry[0].endswith("[]"):
            if subject.record is not None:
                yield from (Line(*made) for made in listed_lines(entry[0][:-2], entry[1:], subject))
        elif subject.record is not None or "always" in entry[2:]:
            yield from _facts(entry, subject, item)
        elif "else" in entry[2:]:
            yield Line(entry[-1])


def _facts(entry: Sequence[str], subject: Subject, item: str) -> Iterator[Line]:
    path, lead, *how = entry
    for place in _places(path, subject, item):
        attr, fact = attribute(place), subject.fact(place)
        # A mere note that nobody writes says nothing about the vehicle.
        idle = "stated" in how or attr.role in (Role.NOTE, Role.LOOK)
        if fact.state is not State.NOT_STATED or not idle:
            quiet = "quiet" in how and fact.state is State.STATED
            yield _fact(attr, fact, "" if quiet else lead)
        if fact.state is State.NOT_STATED and "else" in how:
            yield Line(how[-1])


def _places(path: str, subject: Subject, item: str) -> Iterator[str]:
    """The path with its list's item put in: the step's own, otherwise every one."""
    head, mark, tail = path.partition("[]")
    if not mark:
        yield path
    elif item.startswith(f"{head}["):
        yield item + tail
    else:
        yield from (each + tail for each in subject.items(head))


def _fact(attr: Attr, fact: Fact, lead: str) -> Line:
    words = claim_words(attr, fact)
    return Line(sentence(f"{lead}: {words}" if lead else words), fact.state, fact.sources())
