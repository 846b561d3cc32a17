"""What the desk's steps and brief add to an answer: `python -m tests.bench.desk [--rounds N] [--json FILE]`.

The demo catalogue. Lines grow word by word, as somebody types them; each prefix is asked as the page asks it. Processor
time of the thread, the best of the rounds: the answer alone, then with steps and draft of the brief, then the whole
page as the browser gets it. Cold: nothing of an earlier line is remembered; warm: as in the middle of a call.
"""

import argparse
import tempfile
from collections.abc import Sequence
from pathlib import Path

from catalog.app import create_app
from catalog.config import Settings
from catalog.services import planning, weighing
from catalog.services.desk import SceneSaid, desk_answer
from catalog.services.house import House
from catalog.services.resolving import Description, resolve_description
from catalog.services.seeding import prepare_demo
from seed_demo import load
from tests.bench.timing import Times, timed
from tests.eval.gates import Gate, report

LINES = (
    "white pickup, port left rear, smoke, on its side",
    "quellorne brantock, black, on a slope, somebody trapped",
    "small blue van with a flap at the front, in water",
    "motorcycle, leaking, plugged in to a charger",
    "big lorry, cab over engine, no exhaust, hissing",
)
BUDGET = 0.150  # seconds after a pause, of which a page is one part
INCLUDE = frozenset({"facts", "groups", "questions"})


def prefixes(lines: Sequence[str]) -> list[str]:
    """Each line as it grows by words."""
    return [" ".join(line.split()[: end + 1]) for line in lines for end in range(len(line.split()))]


def measured(house: House, rounds: int) -> dict[str, Times]:
    """Seconds by what is asked, for every prefix."""
    asked = [Description(text, limit=3, include=INCLUDE) for text in prefixes(LINES)]

    def answer(description: Description) -> None:
        resolve_description(house, description)

    def desk(description: Description) -> None:
        desk_answer(house, description, SceneSaid())

    def cold(description: Description) -> None:
        planning.forget()
        weighing.forget()
        desk(description)

    for description in asked:
        desk(description)
    return {
        "answer": timed(answer, asked, rounds),
        "answer, steps, draft": timed(desk, asked, rounds),
        "the same, cold": timed(cold, asked, rounds),
    }


def main() -> None:
    """Print the table; exit 1 where a gate is missed."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=3)
    parser.add_argument("--json", type=Path)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        app = create_app(Settings.from_environment({"CHOCKBOOK_DATA": folder}))
        house: House = app.extensions["chockbook"]
        prepare_demo(house, load(), lambda text: None)
        times = measured(house, given.rounds)
        client = app.test_client()
        texts = prefixes(LINES)
        times["whole page part"] = timed(
            lambda text: client.post("/desk/live", data={"said": text}), texts, given.rounds
        )
        house.engine.dispose()
    base = times["answer"].median
    for name, one in times.items():
        ratio = one.median / base
        print(f"{name:24} {one.median * 1e3:7.1f} ms median {one.p95 * 1e3:7.1f} ms for 95 in 100 {ratio:5.1f} x")
    whole = times["whole page part"].p95
    raise SystemExit(report("desk", [Gate("desk_page_p95_seconds", whole, BUDGET, most=True)], given.json))


if __name__ == "__main__":
    main()
