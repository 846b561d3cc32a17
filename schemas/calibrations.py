"""The calibration as `chockbook calibration --json` tells it."""

from marshmallow import Schema, fields

from schemas.answer_parts import EditionShort, told


class KeyAnswer(Schema):
    """SHA-256 of what a calibration holds for."""

    reader = told(fields.String, "The reader.")
    parameters = told(fields.String, "The numbers it is fitted beside.")
    labels = told(fields.String, "The descriptions it was made with.")


class WordAnswer(Schema):
    """How often a word was right."""

    word = told(fields.String, "The word.")
    shown = told(fields.Integer, "How often it stood beside a vehicle.")
    right = told(fields.Integer, "How often that was the one.")
    low = told(fields.Float, "Exact lower 95 % bound of its hit rate.")
    high = told(fields.Float, "Exact upper 95 % bound.")


class FitAnswer(Schema):
    """A fit."""

    key = fields.Nested(KeyAnswer, required=True)
    state = told(fields.String, "simulated or field.")
    temperature = told(fields.Float, "T.")
    bias = told(fields.Float, "Bias of vehicles not listed, nats.")
    n = told(fields.Integer, "Descriptions it was fitted to.")
    nll = told(fields.Float, "Held-out mean surprise at the truth, nats.")
    nll_se = told(fields.Float, "Its standard error.")
    words = fields.List(fields.Nested(WordAnswer), required=True)
    made_on = told(fields.String, "UTC date.")


class CheckAnswer(Schema):
    """A check on one edition."""

    edition = told(fields.Integer, "The edition.")
    key = fields.Nested(KeyAnswer, required=True)
    state = told(fields.String, "Of the calibration checked.")
    n = told(fields.Integer, "Descriptions.")
    nll = told(fields.Float, "Mean surprise of the calibration, nats.")
    nll_se = told(fields.Float, "Its standard error.")
    nll_instead = told(fields.Float, "Mean surprise of the expert's numbers.")
    worse = told(fields.Float, "Mean paired difference; above 0 the calibration is worse.")
    worse_se = told(fields.Float, "Its standard error.")
    carried = told(fields.Boolean, "Whether the calibration holds on.")
    words = fields.List(fields.Nested(WordAnswer), required=True)
    made_on = told(fields.String, "UTC date.")


class CollectedAnswer(Schema):
    """Confirmed outcomes."""

    confirmed = told(fields.Integer, "Vehicles confirmed.")
    not_this = told(fields.Integer, "Vehicles said not to be one record.")
    not_listed = told(fields.Integer, "Vehicles found to be in no record.")
    fitting = told(fields.Integer, "Settled ones read by this version, which a fit may use.")
    missing = told(fields.Integer, "Settled ones that a fit still needs.")


class CalibrationAnswer(Schema):
    """What the confidence rests on."""

    edition = fields.Nested(EditionShort, required=True)
    state = fields.String(attribute="known.standing.state", required=True)
    said = fields.String(attribute="known.parameters.calibration", required=True)
    now = fields.Nested(KeyAnswer, required=True)
    fit = fields.Nested(FitAnswer, attribute="known.standing.calibration", allow_none=True, required=True)
    check = fields.Nested(CheckAnswer, attribute="known.check", allow_none=True, required=True)
    outcomes = fields.Nested(CollectedAnswer, allow_none=True, required=True)
