"""Documents that passed the gate are remembered by their hash, those that do not are refused each time."""

from typing import Any

import pytest

from catalog.domain.canonical import content_hash
from catalog.services import passed as module
from catalog.services.passed import Passed, hash_of
from schemas.findings import Invalid
from schemas.record import check_record
from tests.sample import sample

NOTED = sample({"notes": [{"id": "a", "lang": "en", "text": "Ås.", "src": ["KEL-7/1:4"]}]})


@pytest.fixture
def checked(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The hashes of documents that went through the gate."""
    made: list[str] = []

    def counted(document: Any) -> Any:
        made.append(hash_of(document))
        return check_record(document)

    monkeypatch.setattr(module, "check_record", counted)
    return made


def test_the_same_bytes_go_through_the_gate_once(checked: list[str]) -> None:
    passed, document = Passed(), sample()
    digest = hash_of(document)
    first = passed.needs_look(document, digest)
    again = dict(reversed(document.items()))
    assert hash_of(again) == digest
    assert passed.needs_look(again, digest) is first
    assert checked == [digest]
    passed.check(document, digest)  # who needs the record has it made
    assert checked == [digest, digest]


def test_what_was_checked_before_is_known(checked: list[str]) -> None:
    passed, document = Passed(), NOTED
    _, doubts = passed.check(document, hash_of(document))
    assert passed.needs_look(document, hash_of(document)) is bool(doubts)
    assert len(checked) == 1


def test_what_does_not_pass_is_refused_each_time() -> None:
    passed = Passed()
    for document in (
        {**sample(), "portz": 1},
        {**sample(), "format": None},
        {**sample(), "x": {1: 2}},
        {"x": "\ud800"},
    ):
        for _ in range(2):
            with pytest.raises(Invalid):
                passed.needs_look(document, hash_of(document))


def test_only_so_many_are_kept(checked: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "_MOST", 1)
    passed, one, other = (
        Passed(),
        sample(),
        NOTED,
    )
    for document in (one, other, one):
        passed.needs_look(document, hash_of(document))
    assert checked == [hash_of(one), hash_of(other), hash_of(one)]


def test_the_hash_is_the_content_hash() -> None:
    assert hash_of(NOTED) == content_hash(NOTED)
    assert hash_of({"x": object()}) == ""
