"""What is answered of facts over all possible vehicles, of groups and of look-alikes."""

from marshmallow import Schema, fields

from schemas.answer_parts import CAUTIONS, ChanceAnswer, DoubtAnswer, EditionShort, many, share, texts, told

VERDICTS = ("same_on_all", "possible_vehicles_agree", "differs", "not_stated")


class FactValueAnswer(Schema):
    """One value of a fact over all possible vehicles."""

    words = told(fields.String, "The value in words.")
    chance = fields.Nested(ChanceAnswer, required=True, metadata={"description": "Share of vehicles that state it."})
    protective = told(fields.Boolean, "One of the most protective values: listed however unlikely it is.")
    assumed = told(fields.Boolean, "No record states it; it is how what is not stated must be read.")


class SharedFactAnswer(Schema):
    """A fact of a brief over all possible vehicles, the share not in this catalogue counted against it."""

    key = told(fields.String, "The fact: its path in a record, items left out.")
    label = told(fields.String, "Its name in words.")
    weight = told(fields.Integer, "What acting on a wrong value costs: 3 may kill, 1 costs time.", minimum=1, maximum=3)
    verdict = told(
        fields.String,
        "same_on_all: one value's lower bound is at least .95. possible_vehicles_agree, which is weaker: .95 of the "
        "listed vehicles that state it say the same. differs. not_stated: hardly any vehicle's record states it.",
        enum=list(VERDICTS),
    )
    verdict_label = told(fields.String, "The verdict as shown.")
    words = told(fields.String, 'The likeliest stated value; "not stated" where there is none.')
    said = told(fields.String, "The whole in one breath, what counts against it included: show this.")
    values = many(
        FactValueAnswer,
        "Values to show, likeliest first: every one of more than 1 in 100, and the most protective however unlikely.",
    )
    lower_bound = fields.Nested(
        ChanceAnswer, required=True, metadata={"description": "Least probability of the likeliest value."}
    )
    agreement = share("Share of the likeliest value among the listed vehicles that state any; may be 1.")
    not_stated = fields.Nested(
        ChanceAnswer, required=True, metadata={"description": "Share of vehicles whose record does not state it."}
    )
    unlisted = fields.Nested(
        ChanceAnswer, required=True, metadata={"description": "That the vehicle is not in this catalogue."}
    )
    several = told(
        fields.Boolean, "A vehicle may have several of the values: they do not add up, and there may be more."
    )
    reading = told(fields.String, "What to assume where nothing is stated.")
    doubts = many(DoubtAnswer, "What was taken back of it on records of possible vehicles, newest first: show it too.")


class DifferenceAnswer(Schema):
    """A fact that look-alikes differ in."""

    key = told(fields.String, "The fact: its path in a record, items left out.")
    label = told(fields.String, "Its name in words.")
    weight = told(fields.Integer, "What acting on a wrong value costs: 3 may kill, 1 costs time.", minimum=1, maximum=3)
    values = texts("One value per vehicle or action, in their order; what all have in common is left out.")


class SightAnswer(Schema):
    """A sight that tells two vehicles apart and is safe for the observer."""

    attribute = told(fields.String, "What it is about.")
    ask = told(fields.String, "The question to ask.")
    where = told(fields.String, "Where one must be to see it.")
    values = texts("What each of the two shows, in their order.")
    bits = told(fields.Float, "How well it tells them apart.", minimum=0, maximum=1)


class MemberAnswer(Schema):
    """A record of a group."""

    code = told(fields.String, "The record's code.")
    title = told(fields.String, "Make, model, variant.")
    subtitle = told(fields.String, "Years, body and propulsion in words.")
    chance = fields.Nested(ChanceAnswer, required=True)


class ActionAnswer(Schema):
    """Records on which a crew acts the same."""

    members = many(MemberAnswer, "The records, likeliest first.")
    chance = fields.Nested(ChanceAnswer, required=True, metadata={"description": "Their chances added."})


class GroupAnswer(Schema):
    """Records that look alike, merged."""

    actions = many(ActionAnswer, "The records by what a crew does: one where it is the same for all.")
    chance = fields.Nested(ChanceAnswer, required=True, metadata={"description": "Their chances added."})
    headline = told(fields.String, "What they differ in for a crew, weightiest first; empty where in nothing.")
    differs = many(DifferenceAnswer, "The heaviest facts they differ in, one value per action.")
    differ_in = told(fields.Integer, "How many facts they differ in.", minimum=0)
    sights = many(SightAnswer, "Safe sights that tell the first two actions apart, cheapest first.")
    advice = told(fields.String, "What to do when no safe sight tells them apart; else empty.")


class GroupsAnswer(Schema):
    """The likeliest possible vehicles, merged. groups + rest + unlisted add up to 1."""

    groups = many(GroupAnswer, "By their looks, likeliest first.")
    acting = many(ActionAnswer, "The same records by action alone, whatever they look like.")
    rest = share("Share of the catalogue's vehicles that are in none of the groups.")


class LookalikeAnswer(Schema):
    """A record that looks like the one asked about."""

    code = told(fields.String, "The record's code.")
    title = told(fields.String, "Make, model, variant.")
    subtitle = told(fields.String, "Years, body and propulsion in words.")
    bits = told(fields.Float, "How far apart their looks are; 0 is the same.", minimum=0)
    headline = told(fields.String, "What they differ in for a crew; empty where in nothing.")
    differs = many(DifferenceAnswer, "Every fact they differ in: the record's own value, then the other's.")
    sights = many(SightAnswer, "Safe sights that tell them apart, cheapest first.")
    advice = told(fields.String, "What to do when no safe sight tells them apart; else empty.")


class LookalikesAnswer(Schema):
    """The records that look like one."""

    edition = fields.Nested(EditionShort, required=True)
    code = told(fields.String, "The record's code.")
    title = told(fields.String, "Make, model, variant.")
    subtitle = told(fields.String, "Years, body and propulsion in words.")
    observer = told(fields.String, "Who looks.", enum=["caller", "crew"])
    lookalikes = many(LookalikeAnswer, "Nearest first; of equally near ones those that need other action.")
    message = told(fields.String, "What to say when there are none; else empty.")
    cautions = texts(CAUTIONS)
