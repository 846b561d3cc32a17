"""What the API and `--json` answer with: schemas that dump the services' views by attribute.

Probabilities stay full floats, so candidates + others + unlisted = 1 within 1e-9. Times are
RFC 3339 in UTC, spans half-open code-point ranges of the text as sent.
"""

from collections.abc import Collection
from typing import Any

from marshmallow import Schema, fields

from schemas.answer_parts import CAUTIONS, DoubtAnswer, EditionShort, instant, many, share, texts, told
from schemas.cue_answers import MASKED, CueAnswer, SpanAnswer, scene_field
from schemas.fact_answers import GroupsAnswer, SharedFactAnswer
from schemas.question_answers import ExcludedAnswer, questions_field
from schemas.written import written_record


class EditionAnswer(EditionShort):
    """One published edition."""

    author = told(fields.String, "Who published it.")
    reason = told(fields.String, "Why it was published.")
    records = told(fields.Integer, "How many records it lists.", minimum=0)


class BitsAnswer(Schema):
    """One term of the explanation."""

    label = told(fields.String, "What the term is.")
    bits = told(fields.Float, "Bits for (positive) or against this vehicle, against the average one.")


class CandidateAnswer(Schema):
    """A possible vehicle."""

    code = told(fields.String, "The record's code.")
    title = told(fields.String, "Make, model, variant.")
    subtitle = told(fields.String, "Years, body and propulsion in words.")
    probability = fields.Float(
        attribute="chance.probability",
        required=True,
        metadata={"description": "Between 0 and 1, never 1.", "minimum": 0, "maximum": 1},
    )
    word = fields.String(attribute="chance.word", required=True, metadata={"description": "The word to show."})
    frequency = fields.String(
        attribute="chance.frequency", required=True, metadata={"description": 'Such as "about 7 in 10".'}
    )
    why = told(fields.String, "One line: what speaks for it.")
    doubts = many(DoubtAnswer, "Facts taken back on its record, newest first: show them beside it.")
    bits = fields.List(
        fields.Nested(BitsAnswer),
        attribute="bars",
        metadata={"description": 'Every term in bits; only with "why" in include.'},
    )


class UnlistedAnswer(Schema):
    """The share of the vehicle not being in this catalogue."""

    probability = share("That the vehicle is not in this catalogue.")
    band = fields.String(attribute="word", required=True, metadata={"description": "The word to show."})
    frequency = told(fields.String, 'Such as "about 1 in 10".')


class ResolveAnswer(Schema):
    """Possible vehicles for a description. candidates + others + unlisted add up to 1."""

    edition = fields.Nested(EditionShort, required=True)
    cues = many(CueAnswer, "What counts: understood, put right or said outright.")
    struck = many(CueAnswer, "What was understood and is left out because `struck` named it.")
    unread = many(SpanAnswer, "What was not understood.")
    masked = many(SpanAnswer, MASKED)
    scene = scene_field()
    candidates = many(CandidateAnswer, "Possible vehicles, likeliest first. Empty when nothing was understood.")
    others = share("Share of the catalogue's vehicles that are not listed in candidates.")
    others_count = told(fields.Integer, "How many records that share covers.", minimum=0)
    unlisted = fields.Nested(UnlistedAnswer, required=True)
    calibration = told(fields.String, "What the probabilities rest on, with why: show it with them.")
    calibration_state = told(
        fields.String,
        "expert: guesses, or a fit that does not hold any more. simulated: fitted to simulated descriptions. field: "
        "fitted to at least 100 confirmed outcomes.",
        enum=["expert", "simulated", "field"],
    )
    message = told(fields.String, "What to say next when nothing could be understood; else empty.")
    driving_side = told(fields.String, "The side of the road traffic keeps to, as used.", enum=["left", "right"])
    warnings = texts("What to mind in this answer.")
    facts = fields.List(
        fields.Nested(SharedFactAnswer),
        metadata={"description": 'Brief facts over all possible vehicles; only with "facts" in include.'},
    )
    groups = fields.Nested(
        GroupsAnswer,
        allow_none=True,
        metadata={
            "description": 'Possible vehicles merged by looks and by action; only with "groups" in include, and '
            "null where nothing said can rank."
        },
    )
    questions = questions_field()
    excluded = many(ExcludedAnswer, "Records said not to be it, as sent: they stay possible, but far less so.")
    cautions = texts(CAUTIONS)


def resolve_document(answer: Any, cautions: tuple[str, ...], include: Collection[str] = ()) -> dict[str, Any]:
    """The answer to a description as JSON holds it. answer: services' Answer. include: as in the request."""
    parts = {"why": "candidates.bits", "facts": "facts", "groups": "groups", "questions": "questions"}
    leave_out = [path for name, path in parts.items() if name not in include]
    made: dict[str, Any] = ResolveAnswer(exclude=(*leave_out, "cautions")).dump(answer)
    return {**made, "cautions": list(cautions)}


class RecordSummaryAnswer(Schema):
    """A record in a list."""

    code = told(fields.String, "The record's code.")
    title = told(fields.String, "Make, model, variant.")
    subtitle = told(fields.String, "Years, body and propulsion in words.")
    withdrawn = told(fields.String, "Why it must not be used; empty when it may.")


class RecordsAnswer(Schema):
    """Part of the list of records, by code."""

    edition = fields.Nested(EditionShort, required=True)
    records = many(RecordSummaryAnswer, "Records by code.")
    total = told(fields.Integer, "How many there are, those not to be used included.", minimum=0)
    next = fields.String(
        required=True,
        allow_none=True,
        metadata={"description": "Give this as after to go on; null on the last part."},
    )
    cautions = texts(CAUTIONS)


class PieceAnswer(Schema):
    """A piece of a text hit."""

    text = told(fields.String, "The text.")
    match = told(fields.Boolean, "Whether this piece is what was looked for.")

    def get_attribute(self, obj: Any, attr: str, default: Any) -> Any:
        return obj[("text", "match").index(attr)]


class HitAnswer(Schema):
    """One text hit."""

    kind = told(fields.String, "record or guide.")
    key = told(fields.String, "Record code, or the source's number/issue.")
    title = told(fields.String, "What it is.")
    where = told(fields.String, "Where in it, in words.")
    page = fields.Integer(required=True, allow_none=True, metadata={"description": "Page, null where there are none."})
    snippet = fields.List(
        fields.Nested(PieceAnswer), required=True, metadata={"description": "The text in pieces; join them."}
    )
    score = told(fields.Float, "Only to order the hits by; not a probability.")


class FindAnswer(Schema):
    """Text hits, best first."""

    edition = fields.Nested(EditionShort, required=True)
    total = told(fields.Integer, "How many there are; more than listed, perhaps.", minimum=0)
    hits = many(HitAnswer, "Hits, best first.")
    cautions = texts(CAUTIONS)


class EditionsAnswer(Schema):
    """Published editions."""

    total = told(fields.Integer, "How many there are.", minimum=0)
    editions = many(EditionAnswer, "Those asked for, newest first.")
    cautions = texts(CAUTIONS)


class GuideSectionAnswer(Schema):
    """One section of a guide's text."""

    page = told(fields.Integer, "Its page.", minimum=1)
    heading = told(fields.String, "Its heading.")
    text = told(fields.String, "Its text.")


class SourceAnswer(Schema):
    """A source document: what facts rest on. It never changes once published."""

    key = told(fields.String, "number/issue.")
    kind = told(fields.String, "guide, sheet, sister, seen or bulletin.")
    number = told(fields.String, "Document number.")
    issue = told(fields.Integer, "Issue.", minimum=0)
    title = told(fields.String, "Its title.")
    publisher = told(fields.String, "Who published it.")
    issued = told(fields.String, "Date of issue.", format="date")
    retrieved = told(fields.String, "When it was taken in.", format="date")
    pages = fields.Integer(
        required=True, allow_none=True, metadata={"description": "Pages, null where there are none."}
    )
    sha256 = fields.String(
        required=True, allow_none=True, metadata={"description": "Of the file it was read from, null when no file."}
    )
    lang = told(fields.String, "Language, BCP 47.")
    sections = many(GuideSectionAnswer, "Its text by section.")
    cautions = texts(CAUTIONS)


def record_document(view: Any, cautions: tuple[str, ...]) -> dict[str, Any]:
    """A record as JSON holds it, every fact with its state. view: services' RecordView."""
    return {
        "code": view.code,
        "edition": EditionShort().dump(view.edition),
        "latest": view.latest,
        "revision": {"seq": view.seq, "hash": view.hash},
        "withdrawn": view.withdrawn,
        "doubts": [DoubtAnswer().dump(doubt) for doubt in view.doubts],
        **written_record(view.record, view.sources, {doubt.path: doubt_mark(doubt) for doubt in view.doubts}),
        "cautions": list(cautions),
    }


def doubt_mark(doubt: Any) -> dict[str, Any]:
    """What stands in a record beside what is doubted. doubt: services' DoubtView."""
    return {"since": instant(doubt.since), "read_as": doubt.reading, "reason": doubt.reason}


def with_cautions(schema: type[Schema], view: Any, cautions: tuple[str, ...]) -> dict[str, Any]:
    """Dump a view (attributes or keys) and add the cautions."""
    made: dict[str, Any] = schema(exclude=("cautions",)).dump(view)
    return {**made, "cautions": list(cautions)}
