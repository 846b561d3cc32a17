"""What the terminal prints on: width, encoding, style."""

import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.cli.pages import boxes
from catalog.cli.paper import Paper
from catalog.domain.numbers import counted
from catalog.resolve.chance import Boxes
from catalog.resolve.chance import boxes as rows

WIDE = Paper()
PLAIN = Paper(encoding="ascii")


class Screen(io.StringIO):
    """A stream that says it is a terminal."""

    encoding = "utf-8"

    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize(
    ("environ", "styled"),
    [
        ({"TERM": "xterm"}, True),
        ({"TERM": "xterm", "NO_COLOR": "1"}, False),
        ({"TERM": "dumb"}, False),
        ({}, False),
    ],
)
def test_headings_are_bold_only_where_wanted(environ: dict[str, str], styled: bool) -> None:
    assert Paper.of(Screen(), environ).styled is styled
    assert Paper.of(io.StringIO(), environ).styled is False


def test_a_pipe_gets_80_columns() -> None:
    assert Paper.of(io.StringIO(), {}).width == 80


def test_control_and_reordering_characters_never_reach_the_terminal() -> None:
    dirty = "a\x1b[31mred\x07\r\nnext\u202eleft\u2028end"
    assert WIDE.clean(dirty) == "a [31mred   nextleft end"


def test_an_encoding_that_cannot_gets_something_it_can() -> None:
    assert PLAIN.clean("2019–2024, driver’s “lid” … Škvor 車") == '2019-2024, driver\'s "lid" ... Skvor ?'
    assert Paper(encoding="latin-1").clean("Čelby é") == "Celby é"


@given(st.text(max_size=300), st.integers(40, 80), st.sampled_from(["utf-8", "ascii", "cp437"]))
def test_no_line_is_wider_than_the_paper_and_every_line_can_be_written(text: str, width: int, encoding: str) -> None:
    paper = Paper(width, encoding)
    for line in [*paper.wrap(text, 4), *paper.entry(text[:60], text), *paper.across(text, "right").splitlines()]:
        assert len(line) <= width
        line.encode(encoding)


def test_a_long_label_wraps_in_its_own_column() -> None:
    lines = WIDE.entry("power cycles before it restarts", "2 " * 40, column=20)
    assert len(lines) == 3
    assert [line[:20].rstrip() for line in lines] == ["  power cycles", "   before it", "   restarts"]
    assert all(line[20] == "2" for line in lines[:2])


def test_a_row_of_boxes_goes_on_where_the_last_ended_and_never_closes_the_tenth() -> None:
    first, second, last = rows([0.68, 0.12, 0.08])
    assert boxes.draw(first, WIDE) == "██ ██ ██ ██ ██ ██ ██ __ __ __"
    assert boxes.draw(second, WIDE) == "__ __ __ __ __ __ __ ██ __ __"
    assert boxes.draw(last, WIDE, dotted=True) == "__ __ __ __ __ __ __ __ ▒▒ __"
    assert boxes.draw(last, PLAIN, dotted=True) == "__ __ __ __ __ __ __ __ :: __"
    assert boxes.draw(Boxes(0, 19), PLAIN) == "## ## ## ## ## ## ## ## ## #_"
    assert len(boxes.draw(first, WIDE)) == boxes.WIDTH


def test_counts_read_as_words() -> None:
    assert counted(1, "edition") == "1 edition"
    assert counted(1200, "place holds", "places hold") == "1,200 places hold"
