"""Facts and groups as the services word them: never surer than they are, silence never none."""

import re
from datetime import UTC, datetime

import numpy as np
import pytest

from catalog.cli.pages.lookalikes import lookalike_lines
from catalog.cli.pages.shared import fact_lines, group_lines
from catalog.cli.paper import Paper
from catalog.domain.facts import stated
from catalog.domain.record import Record
from catalog.resolve.answering.alike import LookalikeView
from catalog.resolve.answering.groups import groups_of
from catalog.resolve.brief_facts import BY_KEY
from catalog.resolve.field import Field
from catalog.resolve.posterior import Posterior
from catalog.services.doubts import DoubtView
from catalog.services.fact_views import Lookalikes, SharedFact
from catalog.services.facts import concerns, shared_facts
from schemas.fact_answers import GroupsAnswer, LookalikesAnswer, SharedFactAnswer
from tests.unit.cli_views import EDITION
from tests.unit.fact_cases import drawn_record
from tests.unit.resolve_cases import LEFT_REAR, RIGHT_FRONT, SRC, body, field, record

WAIT, REFUSES = "restraints.wait", "motion.coupled.refuses_drive"


def of(*records: Record, shares: tuple[float, ...]) -> dict[str, SharedFact]:
    return {fact.key: fact for fact in shared_facts(result_of(shares), field(*records))}


def result_of(shares: tuple[float, ...]) -> Posterior:
    return Posterior(np.array(shares), 1 - sum(shares), ())


def waiting(seconds: int) -> Record:
    return record(facts={WAIT: stated(seconds, SRC)})


@pytest.mark.parametrize(
    ("path", "key", "told"),
    [
        ("ports[a].place", "ports.place", True),
        ("ports[a].place", "ports.standard", False),
        ("ports[a].door.mechanism", "ports.door.mechanism", True),
        ("ports[a]", "ports.place", True),
        ("complete.cutoff.methods", "cutoff.methods.wait", True),
        ("cutoff.methods[b].kind", "cutoff.methods.place", True),  # a place goes with its kind of way
        ("motion.coupled.refuses_drive", REFUSES, True),
        ("motion.coupled.selects_park", REFUSES, False),
        ("notes.a", "ports.place", False),
    ],
)
def test_which_doubt_concerns_which_fact(path: str, key: str, told: bool) -> None:
    doubt = DoubtView("QK7-M3M", path, 2, "0" * 64, datetime(2026, 3, 2, tzinfo=UTC), "t.orrell", "A crew saw.")
    assert concerns(doubt, BY_KEY[key]) is told


def test_same_on_all_says_how_sure() -> None:
    found = of(waiting(60), shares=(0.97,))[WAIT]
    assert found.verdict == "same_on_all"
    assert found.said == "Same on all: 60 s (over 19 in 20)"


def test_agreement_names_silence_and_the_unlisted_in_the_same_breath() -> None:
    found = of(waiting(60), record(), shares=(0.7, 0.18))[WAIT]
    assert found.said == (
        "The possible vehicles agree: 60 s. Not stated for about 2 in 10, not in this catalogue about 1 in 10: "
        "treat as armed"
    )


def test_what_differs_lists_chances_and_what_to_assume() -> None:
    found = of(waiting(60), waiting(300), shares=(0.6, 0.3))[WAIT]
    assert found.said == (
        "Differs: 60 s (about 6 in 10), 5 min (about 3 in 10). Not in this catalogue about 1 in 10: treat as armed"
    )
    assert [value.protective for value in found.values] == [False, True]


def test_silence_is_said_and_read_and_is_never_none() -> None:
    found = of(record(), shares=(0.9,))[WAIT]
    assert found.verdict_label == "not stated"
    assert found.words == "not stated"
    assert found.said == "Not stated for about 9 in 10, not in this catalogue about 1 in 10: treat as armed"
    assert "none" not in found.said.lower()


def test_what_nobody_states_is_said_to_be_assumed() -> None:
    found = of(record(facts={REFUSES: stated(True, SRC)}), record(), shares=(0.6, 0.3))[REFUSES]
    assert (
        "no (not stated, to be assumed)"
        in of(record(facts={REFUSES: stated(True, SRC)}), record(), shares=(0.3, 0.6))[REFUSES].said
    )
    assert found.said.startswith("The possible vehicles agree: yes. Not stated for about 3 in 10")


def test_of_a_list_there_may_be_more() -> None:
    found = of(record(ports=[LEFT_REAR]), shares=(0.97,))["ports.place"]
    assert found.several
    assert found.said == "Same on all: left rear quarter, mid height; there may be more (over 19 in 20)"


@pytest.mark.parametrize("number", range(6))
def test_no_sentence_is_without_what_counts_against_it(number: int) -> None:
    drawn = field(*(drawn_record(10 * number + place) for place in range(4)))
    for fact in shared_facts(result_of((0.5, 0.3, 0.1, 0.05)), drawn):
        assert "%" not in fact.said
        assert "10 in 10" not in fact.said
        if fact.verdict == "same_on_all":
            assert "over 19 in 20" in fact.said
        else:
            assert "not in this catalogue" in fact.said.lower()
            assert fact.reading.removeprefix("not stated: ").lower() in fact.said.lower()


def fleet() -> Field:
    return field(
        record("Ostrel", "Packhorse", facts={**body("pickup"), WAIT: stated(60, SRC)}, ports=[LEFT_REAR]),
        record("Ostrel", "Skerry", facts={**body("pickup"), WAIT: stated(300, SRC)}, ports=[RIGHT_FRONT]),
        record("Kelvik", "Tiller", facts=body("bus")),
    )


def test_groups_add_up_and_their_headline_is_what_a_crew_must_do_otherwise() -> None:
    found = groups_of(result_of((0.5, 0.3, 0.1)), fleet())
    first, second = found.groups
    assert first.chance.probability == pytest.approx(0.8)
    assert first.headline == (
        "Looks alike, but charge port: where: left rear quarter, mid height (Ostrel Packhorse) or right front quarter, "
        "mid height (Ostrel Skerry)"
    )
    assert [sight.attribute for sight in first.sights] == ["name"]
    assert first.advice == ""
    assert (second.headline, second.differs, second.sights) == ("", (), ())
    total = sum(group.chance.probability for group in found.groups) + found.rest
    assert total == pytest.approx(0.9)


def test_where_no_safe_sight_tells_apart_nobody_is_sent_nearer() -> None:
    alike = field(
        record(facts={**body("pickup"), WAIT: stated(60, SRC)}),
        record(facts={**body("pickup"), WAIT: stated(300, SRC)}),
    )
    (group,) = groups_of(result_of((0.5, 0.4)), alike).groups
    assert group.sights == ()
    assert "Do not send them nearer" in group.advice


def test_pages_and_documents_show_all_of_it() -> None:
    found = groups_of(result_of((0.5, 0.3, 0.1)), fleet())
    text = re.sub(r"\s+", " ", "\n".join(group_lines(found, Paper())))
    assert "These look alike, together likely, about 8 in 10" in text
    assert "Looks alike, but charge port: where" in text
    assert "wait for the restraints 1. 60 s 2. 5 min" in text
    assert "Ask (from where you stand) What make is it" in text
    assert GroupsAnswer().dump(found)["groups"][0]["sights"][0]["values"] == ["Packhorse", "Skerry"]
    facts = shared_facts(result_of((0.5, 0.3, 0.1)), fleet())
    page = re.sub(r"\s+", " ", "\n".join(fact_lines(facts, Paper())))
    assert "wait for the restraints 60 s: about 5 in 10 * 5 min: about 3 in 10" in page
    assert "Not stated by the possible vehicles: this is not none" in page
    assert "%" not in page
    dumped = SharedFactAnswer().dump(next(fact for fact in facts if fact.key == WAIT))
    assert dumped["verdict"] == "differs"
    assert dumped["values"][1]["chance"]["frequency"] == "about 3 in 10"


def test_a_lookalike_that_needs_the_same_action_says_so_and_none_is_no_proof() -> None:
    same = LookalikeView("QK7-M2T", "Ostrel Skerry", "pickup", 0.0, "", (), (), "Nothing tells them apart.")
    view = Lookalikes(EDITION, "QK7-M2T", "Ostrel Packhorse", "pickup", "caller", (same,), "")
    text = re.sub(r"\s+", " ", "\n".join(lookalike_lines(view, Paper())))
    assert "looks the same" in text
    assert "what is not stated included" in text
    assert LookalikesAnswer(exclude=("cautions",)).dump(view)["lookalikes"][0]["advice"] == "Nothing tells them apart."
