"""The terminal's pages, from views made by hand."""

import re
from dataclasses import replace
from datetime import UTC, datetime

import pytest

from catalog.cli.pages.answer import answer_lines, folded
from catalog.cli.pages.editions import change_lines, edition_lines, verified_lines
from catalog.cli.pages.found import found_lines
from catalog.cli.pages.record import GROUPS, PORT_LINE, chosen, record_lines
from catalog.cli.paper import Paper
from catalog.domain.cautions import FULL
from catalog.domain.delta import FactChange, PlainChange, RecordDelta
from catalog.domain.facts import NOT_STATED, stated
from catalog.domain.places import Place
from catalog.domain.spec import TREE, ListOf
from catalog.services.doubts import DoubtView
from catalog.services.views import Fault, Found, Hit, MemberChange, Verified
from tests.unit.cli_views import EDITION, RECORD_VIEW, answer, candidate

PAPER = Paper()


def page(lines: list[str]) -> str:
    return "\n".join(lines)


def flat(lines: list[str]) -> str:
    """The page as one run of words, so that wrapping does not matter."""
    return re.sub(r"\s+", " ", page(lines))


def test_an_answer_says_what_was_understood_and_what_was_not() -> None:
    text = flat(answer_lines(answer(candidate("Corrabeck Trundlock", 0.7)), PAPER))
    assert "“white” colour white (0 bits: any paint)" in text
    assert "“pickup” body pickup" in text
    assert "not read “zorble”" in text


def test_an_answer_shows_rows_on_one_scale_and_not_in_this_catalogue_as_its_own() -> None:
    lines = answer_lines(answer(candidate("Corrabeck Trundlock", 0.7), candidate("Hobberlow", 0.1)), PAPER)
    assert [line for line in lines if "_" in line] == [
        "    battery electric pickup, 2023 on [QK7-M2T]     ██ ██ ██ ██ ██ ██ ██ __ __ __",
        "    battery electric pickup, 2023 on [QK7-M2T]     __ __ __ __ __ __ __ ██ __ __",
        "    go by the steps for any vehicle                __ __ __ __ __ __ __ __ ▒▒ __",
    ]
    assert " 0  Not in this catalogue                          unlikely        about 1 in 10" in lines
    assert any(line.startswith(" 1  Corrabeck Trundlock") and line.endswith("about 7 in 10") for line in lines)


def test_no_answer_holds_a_percentage_or_a_certainty() -> None:
    text = page(answer_lines(answer(candidate("Corrabeck Trundlock", 0.99), unlisted=0.005), PAPER))
    assert "%" not in text
    assert "over 19 in 20" in text
    assert "10 in 10" not in text


def test_an_answer_without_meaning_lists_nothing_and_says_what_to_say() -> None:
    lines = answer_lines(answer(message="Nothing in this was understood as a vehicle. Say the shape."), PAPER)
    assert "Say the shape." in flat(lines)
    assert "Possible vehicles" not in page(lines)
    assert "_" not in page(lines)


def test_every_answer_carries_the_cautions() -> None:
    for made in (answer(candidate("Hobberlow", 0.5)), answer(message="Nothing said yet.")):
        text = flat(answer_lines(made, PAPER))
        assert all(caution in text for caution in FULL)
        assert "may not be in this catalogue" in text


def test_folding_keeps_three_and_moves_the_rest_into_the_others() -> None:
    shares = (0.5, 0.02, 0.01, 0.009, 0.008)
    made = answer(*(candidate(f"Name{n}", share) for n, share in enumerate(shares)), unlisted=0.4, others=0.053)
    short = folded(made)
    assert [entry.title for entry in short.candidates] == ["Name0", "Name1", "Name2"]
    assert short.others_count == made.others_count + 2
    assert short.others == pytest.approx(0.053 + 0.017)
    listed = sum(entry.chance.probability for entry in short.candidates)
    assert listed + short.others + short.unlisted.probability == pytest.approx(1.0)


def test_a_record_comes_in_the_order_a_crew_needs_it() -> None:
    lines = record_lines(RECORD_VIEW, PAPER)
    starts = ["Stop it moving", PORT_LINE, "Doors without power", "Cut high voltage off", "Do not cut here", "Looks"]
    places = [next(place for place, line in enumerate(lines) if line.startswith(start)) for start in starts]
    assert places == sorted(places)


def test_every_part_of_the_specification_is_on_the_page_once() -> None:
    sections = {section.key: section for section in TREE}
    shown = [(key, node.key) for group in GROUPS for key in group.sections for node in chosen(sections[key], group)[1]]
    everything = [
        (section.key, node.key)
        for section in TREE
        for node in ((section,) if isinstance(section, ListOf) else section.children)
    ]
    assert sorted(shown) == sorted(everything)


def test_each_state_of_a_fact_reads_as_itself() -> None:
    text = flat(record_lines(RECORD_VIEW, PAPER))
    assert "switch off Hold OFF for 5 seconds" in text
    assert "not fitted [CMJ-52/1:6]" in text
    assert "may be fitted, depends on option pack. Until seen:" in text
    assert "treat as fitted: do not lean on the bonnet" in text
    assert "disputed: no [stated CRW-19/1] or yes [stated CMJ-52/1:5]. Until settled: treat as not parking" in text
    assert "park when 12 V is lost not stated: park may release or not engage: chock before cutting 12 V" in text


def test_a_doubt_stands_beside_what_it_took() -> None:
    since = datetime(2026, 3, 2, 2, 14, tzinfo=UTC)
    paths = ("motion.park_without_12v", "energy.packs[gone]")
    doubts = tuple(DoubtView(RECORD_VIEW.code, path, 2, "0" * 64, since, "t.orrell", "A crew saw.") for path in paths)
    text = flat(record_lines(replace(RECORD_VIEW, doubts=doubts), PAPER))
    when = "doubted since 2026-03-02 02:14"
    assert re.search(rf"not stated: {when}[^,]*, read as: park may release or not engage", text)
    assert re.search(rf"{when}[^:]*: pack \(gone\), read as: ", text)
    found = flat(answer_lines(answer(replace(candidate("Corrabeck Trundlock", 0.7), doubts=doubts)), PAPER))
    assert "Park when 12 V is lost: doubted 2026-03-02 02:14 UTC, read as: park may release or not engage" in found


def test_not_stated_never_reads_like_none() -> None:
    lines = record_lines(RECORD_VIEW, PAPER)
    tanks = next(line for line in lines if line.startswith("- fuel, gas"))
    assert "there are none [stated CMJ-52/1:11]" in tanks
    packs = next(line for line in lines if line.startswith("? packs"))
    assert "none stated: treat the whole floor as a pack" in packs
    airbag = next(line for line in lines if "driver: " in line)
    assert "not stated" in airbag


def test_the_port_line_holds_its_condition() -> None:
    assert PORT_LINE == "Charge port: only if no fire, smoke or water"
    assert "left rear quarter, mid height" in flat(record_lines(RECORD_VIEW, PAPER))


def test_a_record_that_must_not_be_used_shows_nothing_to_rely_on() -> None:
    lines = record_lines(replace(RECORD_VIEW, withdrawn="The guide was recalled."), PAPER)
    assert "DO NOT USE: The guide was recalled." in lines
    assert "Hold OFF" not in page(lines)


def test_a_record_of_an_older_edition_says_that_a_newer_one_is_out() -> None:
    assert "A newer edition is out: edition 3." in record_lines(RECORD_VIEW, PAPER)
    assert "newer edition" not in page(record_lines(replace(RECORD_VIEW, latest=2), PAPER))


def test_a_heavy_vehicle_is_never_folded() -> None:
    bus = replace(RECORD_VIEW.record.identity, category="M3")
    heavy = replace(RECORD_VIEW, record=replace(RECORD_VIEW.record, identity=bus))
    assert "air brakes not stated: brakes may release: chock" in flat(record_lines(heavy, PAPER))
    assert "Nothing stated. Seldom concerns category N1." in flat(record_lines(RECORD_VIEW, PAPER))


@pytest.mark.parametrize("paper", [PAPER, Paper(encoding="ascii"), Paper(width=50)])
def test_pages_fit_their_paper(paper: Paper) -> None:
    made = answer(candidate("A Very Long Name Of A Vehicle With A Trim Level", 0.7, "a subtitle " * 6))
    for line in page([*record_lines(RECORD_VIEW, paper), *answer_lines(made, paper)]).splitlines():
        assert len(line) <= paper.width, line
        line.encode(paper.encoding)


def test_hits_show_where_and_mark_the_words() -> None:
    hit = Hit("source", "CMJ-52/1", "Guide", "CMJ-52/1, page 7", 7, (("the ", False), ("lid", True)), 1.0)
    text = page(found_lines(Found(EDITION, "lid", 3, (hit,)), PAPER))
    assert "3 places hold “lid”; the best 1 are below." in text
    assert "the *lid*" in text
    assert "CMJ-52/1, page 7" in text
    assert "Nothing in notes or guides" in page(found_lines(Found(EDITION, "lid", 0, ()), PAPER))


def test_changes_say_before_and_after_with_sources() -> None:
    place = stated(Place("left", "front_face", "low"), "CMJ-52/1:9")
    moved = stated(Place("right", "front_face", "low"), "CMJ-52/2:9")
    delta = RecordDelta(
        (
            FactChange("cutoff.methods[a].place", place, moved),
            FactChange("motion.selector", NOT_STATED, stated("dial")),
        ),
        (PlainChange("identity.replaced_by", "", "KDF-F3R"),),
    )
    changes = (
        MemberChange("record", "QK7-M2T", "Corrabeck Trundlock", "changed", "Issue 2 of the guide.", delta),
        MemberChange("record", "QK7-M2V", "Corrabeck Trundlock", "withdrawn", "Recalled."),
    )
    text = flat(change_lines(changes, PAPER))
    assert "where (cutoff.methods[a].place) was left front face, low [stated CMJ-52/1:9]" in text
    assert "now right front face, low [stated CMJ-52/2:9]" in text
    assert "was not stated: a touch may select drive: keep hands off until it is off" in text
    assert "do not use, QK7-M2V" in text
    assert "replaced by was not said now KDF-F3R" in text
    assert change_lines((), PAPER) == ["Nothing changed between them."]


def test_editions_and_checks() -> None:
    assert "edition 2" in edition_lines([EDITION], PAPER)[0]
    assert "2026-03-02 09:30 UTC" in edition_lines([EDITION], PAPER)[0]
    assert "Every chain holds." in flat(verified_lines(Verified(5, 1, "ab" * 32, ()), PAPER))
    wrong = Verified(5, 1, "ab" * 32, (Fault("record", "QK7-M2T", 2, "its bytes do not match their hash"),))
    text = flat(verified_lines(wrong, PAPER))
    assert "record QK7-M2T, revision 2: its bytes do not match their hash" in text
    assert "holds" not in text
