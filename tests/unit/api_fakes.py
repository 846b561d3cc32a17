"""A house for the API's tests: hand-made views behind the services' own functions."""

from dataclasses import dataclass, field
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient

from catalog.api import doubt_views, register, review_views, work_views
from catalog.config import Settings
from catalog.domain.delta import FactChange, PlainChange, RecordDelta
from catalog.domain.facts import NOT_STATED, Fact, State, stated
from catalog.domain.places import Place
from catalog.domain.record import Identity, Record, Years
from catalog.domain.sources import GuideSection, Source
from catalog.errors import NotFound
from catalog.plan.brief import BriefInput, Data, Sure, brief_plan, compose
from catalog.plan.scene import Scene
from catalog.plan.several import Field
from catalog.plan.steps import plan_for
from catalog.resolve.answering.alike import LookalikeView
from catalog.resolve.answering.candidates import Bar, Candidate
from catalog.resolve.answering.chances import Chance
from catalog.resolve.answering.cue_view import CueView
from catalog.resolve.answering.group_views import DifferenceView, SightView
from catalog.resolve.cue import Cue, Doubt, Span
from catalog.resolve.reading.sayings import Saying
from catalog.services import (
    briefs,
    editions,
    finding,
    lookalikes,
    outcomes,
    reading,
    records,
    resolving,
    sayings,
    sources,
    steps,
)
from catalog.services import fact_views as fv
from catalog.services import step_views as sv
from catalog.services import views as v
from catalog.services.brief_kept import BriefEdition, Composed
from catalog.services.brief_views import UNSTORED, BriefView
from catalog.services.fact_history import FactHistory, FactStep
from catalog.services.sources import SourceRow

CODE, OTHER = "QK7-M3M", "RTV-4BP"
KEY = "AB-1/2"

EDITIONS = tuple(
    v.EditionView(n, f"{n}" * 64, datetime(2026, n, 2, 9, 30, tzinfo=UTC), "A. Steward", f"edition {n}", 2)
    for n in (1, 2, 3)
)
SOURCE = Source(
    "guide", "AB-1", 2, "Guide", "Maker", "2026-01-02", "2026-01-05", 30, "ab" * 32, "en",
    (GuideSection(3, "Cutting off", "Open the flap, cut twice."),),
)  # fmt: skip
RECORD = Record(
    Identity(
        "Ondal", "Tarrow", Years(2021), "battery_electric", "N1", ("left",), ("eu",), ("AB-1/2:1",), "Crew",
    ),
    {
        "ports[a].place": stated(Place("left", "rear_quarter", "mid"), "AB-1/2:9"),
        "energy.pyro_fuse.fitted": Fact(State.NOT_FITTED, src=("AB-1/2:4",)),
    },
    {"ports": ("a",)},
)  # fmt: skip
DELTA = RecordDelta(
    (FactChange("ports[a].place", NOT_STATED, stated(Place("left", "rear_quarter", "mid"), "AB-1/2:9")),),
    (PlainChange("identity.years", "2020 on", "2021 on"),),
)


@dataclass
class Called:
    """What the services were asked, and what they are to answer with. Set raises to fail every call."""

    raises: Exception | None = None
    descriptions: list[Any] = field(default_factory=list)
    asked: list[Any] = field(default_factory=list)


def answer(edition: v.EditionView, text: str, *, bars: bool) -> v.Answer:
    """An answer whose shares add up to 1."""
    cue = Cue("body", ("pickup",), (Span(6, 12),), "pickup", doubt=Doubt.HEDGED)
    likely, unlikely = Chance(0.7, "likely", "about 7 in 10"), Chance(0.1, "unlikely", "about 1 in 10")
    explained = (Bar("how common", 0.25), Bar("body pickup", 1.5)) if bars else ()
    return v.Answer(
        edition=edition,
        text=text,
        cues=(CueView(cue, "body pickup", True, "", "maybe pickup"),),
        unread=(Span(0, 5),),
        candidates=(
            Candidate(CODE, "Ondal Tarrow", "2021 on, pickup", likely, "w", explained),
            Candidate(OTHER, "Ondal Kes", "2019 on, van", unlikely, "w", explained),
        ),
        others=0.05,
        others_count=12,
        unlisted=Chance(0.15, "possible", "about 2 in 10"),
        calibration="expert",
        message="",
        driving_side="left",
    )  # fmt: skip


def record_view(edition: v.EditionView, withdrawn: str = "") -> v.RecordView:
    return v.RecordView(CODE, edition, 3, 2, "c" * 64, RECORD, {}, {KEY: SOURCE}, withdrawn)


def steps_view() -> sv.StepsView:
    """The steps for any vehicle, nothing known."""
    plan = plan_for(None, Scene())
    warnings = tuple(sv.WarningView(key, text) for key, text in plan.cautions.items())
    unlisted = Chance(0.15, "possible", "about 2 in 10")
    shown = (sv.phase_views(plan), sv.step_views(plan), warnings)
    return sv.StepsView(EDITIONS[2], "any_vehicle", *shown, (), (), unlisted, (), "unknown")


def brief_view() -> BriefView:
    """A brief for any vehicle, kept nowhere."""
    plan = brief_plan(Field(()), Scene())
    edition = EDITIONS[2]
    brief = compose(BriefInput("A", Data(3, "edition 3, 2026-03-02", demo=True), plan))
    fixed = BriefEdition(3, edition.hash, edition.published_at)
    made = Composed(fixed, brief, (), Sure(), Scene(), (), (), (), "ab" * 32)
    return BriefView(made, "brief", edition.published_at, "", "A", mark=UNSTORED)


def make_app() -> Flask:
    """An application with nothing but the API."""
    app = Flask("tests")
    register(app)
    return app


_shared = cache(make_app)


def fake_services(monkeypatch: pytest.MonkeyPatch) -> Called:
    """Put hand-made views behind the services; what they are asked is noted in Called."""
    called = Called()

    def noted(result: Any) -> Any:
        if called.raises is not None:
            raise called.raises
        return result

    def resolve_description(house: Any, description: Any) -> Any:
        called.descriptions.append(description)
        return noted(answer(EDITIONS[2], description.text, bars="why" in description.include))

    def read_description(house: Any, text: str, side: str | None, amendments: Any) -> Any:
        called.asked.append((text, side, amendments))
        full = answer(EDITIONS[2], text, bars=False)
        return noted(v.ReadView(full.edition, text, full.cues, (), full.unread, (), {"smoke": "no"}, "left"))

    def read_record(house: Any, code: str, *, edition: int | None = None, at: datetime | None = None) -> Any:
        called.asked.append((code, edition, at))
        if code != CODE:
            raise NotFound(f"There is no record {code}.", cure="Search by description, or list the records.")
        return noted(record_view(EDITIONS[(edition or 3) - 1]))

    listed = (
        v.RecordSummary(CODE, "Ondal Tarrow", "2021 on", ""),
        v.RecordSummary(OTHER, "Ondal Kes", "2019 on", "wrong cut point"),
    )
    revision = v.RevisionView(
        CODE, 2, "c" * 64, "b" * 64, "A. Steward", datetime(2026, 2, 2, 9, 30, 0, 5, UTC), "moved", ((2, None),), DELTA
    )
    changes = (
        v.MemberChange("record", CODE, "Ondal Tarrow", "changed", "moved", DELTA),
        v.MemberChange("source", KEY, "Guide", "added", ""),
    )
    hit = v.Hit("source", KEY, "Guide", "AB-1/2, page 3", 3, (("cut ", False), ("twice", True)), 4.25)
    monkeypatch.setattr(resolving, "resolve_description", resolve_description)
    monkeypatch.setattr(reading, "read_description", read_description)
    monkeypatch.setattr(records, "read_record", read_record)
    monkeypatch.setattr(records, "list_records", lambda house, edition=None: noted(listed))
    monkeypatch.setattr(records, "history_part", lambda house, code, offset, limit: noted(((revision,), 1)))
    monkeypatch.setattr(records, "read_source", lambda house, key: noted(SOURCE))
    monkeypatch.setattr(editions, "list_editions", lambda house: noted(EDITIONS))
    monkeypatch.setattr(editions, "changes_listed", lambda house, a, b, offset, limit: noted((changes, len(changes))))
    sight = SightView("roof", "What is the roof like?", "from where you stand", ("glass roof", "soft top"), 0.4)
    differs = (DifferenceView("energy.pyro_fuse.fitted", "pyro-fuse", 3, ("not fitted", "fitted")),)
    alike = LookalikeView(OTHER, "Ondal Kes", "2019 on, van", 0.2, "Looks alike, but", differs, (sight,), "")

    def find_lookalikes(house: Any, code: str, *, observer: str, limit: int) -> Any:
        called.asked.append((code, observer, limit))
        return noted(fv.Lookalikes(EDITIONS[2], code, "Ondal Tarrow", "2021 on, pickup", observer, (alike,), ""))

    def steps_of(house: Any, asked: Any) -> Any:
        called.asked.append(asked)
        return noted(steps_view())

    monkeypatch.setattr(steps, "steps_of", steps_of)
    step = FactStep(2, "c" * 64, "A. Steward", EDITIONS[2].published_at, "Seen.", "", "pickup", (), ((1, None),))
    fact = FactHistory(CODE, "looks.body", "body", "Ondal Tarrow", (step,))
    row = SourceRow(KEY, "AB-1", 2, "Rescue guide", "guide", "2026-01-02", 12, "", 7, 1, "")
    monkeypatch.setattr(sources, "list_sources", lambda house, asked: noted((row,)))
    monkeypatch.setattr(work_views, "keep_report", lambda house, given: True)
    monkeypatch.setattr(work_views, "keep_photo", lambda house, given: True)
    monkeypatch.setattr(doubt_views, "fact_history", lambda house, code, path: noted(fact))
    monkeypatch.setattr(review_views, "change_lines", lambda house, a, b: noted(({"line": "header"}, {"line": "end"})))
    monkeypatch.setattr(briefs, "compose_unstored", lambda house, asked: noted(brief_view()))
    monkeypatch.setattr(lookalikes, "find_lookalikes", find_lookalikes)
    found = sayings.Sayings(3, (Saying("tailpipe", "none", ("no exhaust",), {}),), (), ("tailpipe",), 900)
    monkeypatch.setattr(sayings, "list_sayings", lambda house, about, words: noted(found))

    def note_outcome(house: Any, told: outcomes.Outcome) -> outcomes.Noted:
        kept = len(told.cues)
        made = outcomes.Noted(told.id, told.edition, told.outcome, told.code or None, told.proof, kept, (), again=False)
        return noted(made)  # type: ignore[no-any-return]

    monkeypatch.setattr(outcomes, "note_outcome", note_outcome)
    monkeypatch.setattr(finding, "find_text", lambda house, query, limit: noted(v.Found(EDITIONS[2], query, 7, (hit,))))
    return called


def house(*, demo: bool = True) -> Any:
    """A house whose shelf holds edition 3."""
    newest = SimpleNamespace(
        number=3, hash="3" * 64, published_at=EDITIONS[2].published_at, author="A. Steward", reason="", codes=(CODE,),
        titles={CODE: "Ondal Tarrow"}, tables=SimpleNamespace(meta={"codes": [CODE], "doubted": []}),
    )  # fmt: skip
    settings = Settings(Path("/nowhere/chockbook"), "sqlite://", demo=demo)
    return SimpleNamespace(settings=settings, shelf=SimpleNamespace(current=lambda: newest))


def make_client(
    monkeypatch: pytest.MonkeyPatch, *, demo: bool = True, app: Flask | None = None
) -> tuple[FlaskClient, Called]:
    """A client of the API over fake services."""
    called = fake_services(monkeypatch)
    used = app or _shared()
    used.extensions["chockbook"] = house(demo=demo)
    return used.test_client(), called
