"""A small catalogue that is reviewed and published, and shorthands for the tests of it."""

from collections.abc import Mapping
from typing import Any

import seed_demo
from catalog.domain.chain import ZERO
from catalog.domain.roles import Role
from catalog.services.acting import actor_of
from catalog.services.compiling import compile_latest
from catalog.services.house import House
from catalog.services.proposing import Proposed, ProposedRecord, file_hash, propose
from catalog.store import read as store
from catalog.store.engine import read, write
from catalog.store.publish import Publication, publish
from tests.integration.store_samples import ALPHA, BRAVO, CHARLIE, DAY
from tests.sample import sample

STEWARD = actor_of("tamsin.orrell", Role.STEWARD, "test")
APPROVER = actor_of("jorn.askely", Role.APPROVER, "test")
OTHER_APPROVER = actor_of("mirel.dunt", Role.APPROVER, "test")
ADMINISTRATOR = actor_of("edda.rimmel", Role.ADMINISTRATOR, "test")
READER = actor_of("ilse.varn", Role.READER, "test")

SOURCE = "KEL-7/1"
DEMO_CODE, DEMO_TIME = "QPW-TF3", 1_000_000  # microseconds
MODELS = {ALPHA: "Kella", BRAVO: "Morrow", CHARLIE: "Skarn"}


def document(code: str = ALPHA, changes: Mapping[str, Any] | None = None) -> dict[str, Any]:
    """The record of a code, as the first edition has it where nothing is changed."""
    return sample({"identity.model": MODELS[code], **(changes or {})})


def source() -> dict[str, Any]:
    return {
        "format": 1,
        "kind": "guide",
        "number": "KEL-7",
        "issue": 1,
        "title": "Kella rescue guide",
        "publisher": "Ondru Vehicles",
        "issued": "2025-03-01",
        "retrieved": "2025-04-01",
    }


def three_records(house: House) -> None:
    """Three records published as edition 1 and compiled."""
    with write(house.engine) as conn:
        first = Publication(
            "ada.quill", "First.", {code: document(code) for code in MODELS}, sources={SOURCE: source()}
        )
        publish(conn, first, DAY)
    compile_latest(house)


def two_of_the_demo(house: House) -> None:
    """DEMO_CODE and one more of the demo's records, and all of its guides, published as edition 1 and compiled."""
    first = seed_demo.load().editions[0]
    few = {code: first.records[code] for code in (DEMO_CODE, min(first.records))}
    with write(house.engine) as conn:
        publish(conn, Publication(first.author, first.reason, few, sources=first.sources), DEMO_TIME)
    compile_latest(house)


def listed(house: House, code: str = ALPHA) -> Any:
    """What is listed of a record now: a StoredRevision, or None."""
    with read(house.engine) as conn:
        newest = store.latest(conn)
        assert newest is not None
        return store.record_at(conn, code, newest.number)


Changes = Mapping[str, Mapping[str, Any] | None]


def proposed(house: House, changes: Changes, name: str = "kella_issue2.xlsx") -> Proposed:
    """An update that changes records as `document` does; None: do not use."""
    records = []
    for code, given in changes.items():
        now = listed(house, code)
        made = None if given is None else document(code, given)
        cells = {"cutoff.methods[b].wait": "cutting off!14:E"} if made else {}
        records.append(ProposedRecord(code, now.hash if now else ZERO, made, "Guide reissued.", cells))
    content = repr(sorted(changes.items())).encode()
    return Proposed(name, file_hash(content), "import", tuple(records), file=content)


def brought(house: House, changes: Changes, actor: Any = STEWARD) -> str:
    """The id of such an update."""
    return propose(house, actor, proposed(house, changes))
