"""What must hold of any radio text in any scene. Each check names what it stands for; words are written out here."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from catalog.domain.places import Place
from catalog.plan.brief import Brief, BriefInput
from catalog.plan.brief.spoken import spoken_words
from catalog.plan.claims import claims
from catalog.plan.subject import subject_of

# Fields of a scene -> words one of which must stand in the first breath when they are so. Worst first.
WORST: tuple[tuple[tuple[str, ...], tuple[str, ...]], ...] = (
    (("overhead_line",), ("Power line",)),
    (("fire", "jet", "vapour", "hiss", "pop", "odour"), ("Pack fire", "pack fire", "Fire")),
    (("leak",), ("leaking",)),
)
MOTION = ("hock", "Hold it", "hold", "lock it", "block", "Block and strap", "Block as it lies")
PORT = ("harge port", "Plug stays in", "Plug accepted stops drive", "Plug refused", "Plug not accepted")
CUTS = (
    "cut_loop",
    "cut_disconnect",
    "cut_fuse",
    "cut_switch",
    "cut_low_voltage",
    "cut_way",
    "cut_any",
    "cut_power_off",
)
BRACKETS = ("inlet", "mated", "handshake", "isolat", "discharg", "unlisted", "pinned", "withdrawn", "candidate", "cue")
JARGON = ("contactor", "rms", "pyro", "inverter", "deploy", "traction", "interlock", "egress", "inertia", "SCBA", "PPE")
SURE = ("Nearly sure", "Very likely", "Likely", "Even chance", "Possibly", "Unlikely", "Remote chance", "Named as",
        "Vehicle not known")  # fmt: skip


@dataclass(frozen=True, slots=True)
class Composed:
    asked: BriefInput
    brief: Brief

    def is_(self, field: str, *values: str) -> bool:
        return self.asked.scene.said(field) in values

    def line(self, key: str) -> str:
        return " ".join(breath.text for breath in self.brief.breaths if breath.key == key)

    @property
    def text(self) -> str:
        return self.brief.radio_text


Check = Callable[[Composed], Iterator[str]]


def within_its_limits(made: Composed) -> Iterator[str]:
    """At most 320 characters and 20 seconds; seconds add up; every breath short enough for one."""
    if len(made.text) > 320 or spoken_words(made.text) > 50 or made.brief.seconds > 20.0:
        yield f"{len(made.text)} characters, {spoken_words(made.text)} words"
    if sum(breath.words for breath in made.brief.breaths) != spoken_words(made.text):
        yield "the breaths do not add up to the text"


def danger_first(made: Composed) -> Iterator[str]:
    first = made.brief.breaths[0].text
    for fields, words in WORST:
        if any(made.is_(field, "yes") for field in fields):
            if not any(word in first for word in words):
                yield f"{fields[0]} and the first breath says {first!r}"
            return


def nothing_dropped_that_must_not_be(made: Composed) -> Iterator[str]:
    """Danger, how to stop it, the port, the wait, how sure."""
    text = made.text
    for what, words in (("motion", MOTION), ("port", PORT), ("confidence", SURE)):
        if not any(word in text for word in words):
            yield f"no {what}: {text!r}"
    if "wait" not in made.line("cut").lower() and "Medical only" not in text:
        yield "no wait"
    for word in ("DEMO", f"Vehicle {made.asked.letter}.", f"Data {made.asked.data.number}.", "onfirm badge"):
        if word not in text:
            yield f"no {word}"
    if made.brief.left_out and not text.endswith("Rest in full text."):
        yield "something is left out and it does not say so"


def port_never_without_its_condition(made: Composed) -> Iterator[str]:
    """Fire, water or damage not denied: never offered without naming it; any of them so: left alone."""
    said = made.line("port")
    told = {"fire": "fire", "water": "water", "port_damaged": "damage"}
    stays = said.startswith("Plug")
    left = "alone" in said or "leave" in said or "Do not count" in said
    for field, word in told.items():
        if made.is_(field, "yes") and not (stays or left):
            yield f"{field}: {said}"
        if made.is_(field, "unknown") and not (stays or left) and word not in said:
            yield f"{field} not denied: {said}"
    if "last" in said and any(made.is_(field, "yes", "unknown") for field in ("converted", "orange_cable", "leak")):
        yield f"offered without a condition: {said}"
    if "refused" in said and any(made.is_(field, "yes") for field in told):
        yield f"{said} in place of leaving it alone"


def not_stated_waits_are_live(made: Composed) -> Iterator[str]:
    steps = [step for step in made.asked.plan.plan.steps if step.id in CUTS]
    if (
        any("not stated" in line.lower() for step in steps for line in step.part("wait"))
        and "treat as live" not in made.text
    ):
        yield "a wait is not stated and nothing says: treat as live"


def the_wait_is_the_longest(made: Composed) -> Iterator[str]:
    """No vehicle that counts asks for a longer wait at a way of cutting off than is said."""
    if "Medical only" in made.text:
        return
    longest = 0
    for group in made.asked.plan.groups:
        ways = [step for step in group.plan.steps if step.id in CUTS and step.item]
        ways = [step for step in ways if step.id != "cut_power_off"] or ways
        for step in ways:
            for member in group.members:
                values = subject_of(member.record, made.asked.scene).said(f"{step.item}.wait")
                longest = max([longest, *(value for value in values if isinstance(value, int))])
    if longest and not any(words in made.text for words in _durations(longest)):
        yield f"{longest} s is not said: {made.line('cut') or made.text}"


def _durations(seconds: int) -> Sequence[str]:
    whole, rest = divmod(seconds, 60)
    if seconds < 120:
        return (f"wait {seconds} s",)
    return (f"wait {whole} min {rest} s",) if rest else (f"wait {whole} min",)


def sides_are_the_vehicles(made: Composed) -> Iterator[str]:
    words = made.text.replace("\n", " ").split()
    for at, word in enumerate(words):
        bare = word.strip(".,:")
        side = bare in ("left", "right", "Left", "Right") and words[at - 1 : at + 2] != ["be", "left", "out."]
        if side and "vehicle's" not in words[max(0, at - 6) : at + 4]:
            yield f"{bare} without whose: {made.text!r}"


def a_cut_place_is_every_vehicles(made: Composed) -> Iterator[str]:
    """A side and end named for cutting holds for each vehicle that counts, or "differs" is said."""
    said = next(
        (line for line in made.brief.radio if line.startswith(("Cut loop", "Pull", "12 V negative", "Emergency"))), ""
    )
    if not said or "differs" in said:
        return
    for group in made.asked.plan.groups:
        for member in group.members:
            subject = subject_of(member.record, made.asked.scene)
            places = [
                place
                for step in group.plan.steps
                if step.id.startswith("cut_") and step.item
                for place in subject.said(f"{step.item}.place")
                if isinstance(place, Place)
            ]
            if not any(_fits(place, said) for place in places):
                yield f"{member.code}: {said}"


def _fits(place: Place, said: str) -> bool:
    end = {"front_face": "front face", "front_quarter": "front", "middle": "middle", "rear_quarter": "rear",
           "rear_face": "rear face"}[place.end]  # fmt: skip
    return end in said and (place.side == "centre" or place.side in said)


def no_word_that_must_not_be(made: Composed) -> Iterator[str]:
    text = made.text
    if "%" in text or "percent" in text.lower() or " in 10" in text:
        yield "a percentage or a frequency"
    yield from (f"states {claim!r} as a fact" for claim in claims(text))
    yield from (f"says {word!r}" for word in (*BRACKETS, *JARGON) if word.lower() in text.lower().split())
    if "none" in text.lower().split():
        yield "says none"


CHECKS: Mapping[str, Check] = {
    check.__name__: check
    for check in (
        within_its_limits, danger_first, nothing_dropped_that_must_not_be, port_never_without_its_condition,
        not_stated_waits_are_live, the_wait_is_the_longest, sides_are_the_vehicles, a_cut_place_is_every_vehicles,
        no_word_that_must_not_be,
    )
}  # fmt: skip
