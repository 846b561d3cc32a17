"""The closed vocabularies, and what people say for their words: what an edition lists as "vocabulary"."""

from collections.abc import Mapping
from typing import Any

from catalog.domain import connectors, markets, places, sources, vocabulary
from catalog.domain.terms import Vocabulary
from catalog.resolve.reading.sayings import documents as sayings

Document = dict[str, Any]


def vocabulary_documents() -> dict[str, Document]:
    """Every vocabulary this version knows, by key. Couplers and markets carry what is known of them."""
    plain = (*vocabulary.BY_KEY.values(), *places.BY_KEY.values(), sources.KIND)
    made = {entry.key: _document(entry, {}) for entry in plain}
    made["connector"] = _document(connectors.CONNECTOR, {c.key: _of_connector(c) for c in connectors.CONNECTORS})
    made["market"] = _document(markets.MARKET, {m.key: {"traffic": m.traffic} for m in markets.MARKETS})
    return {**made, **sayings()}


def _document(entry: Vocabulary, more: Mapping[str, Document]) -> Document:
    terms = []
    for term in entry.terms:
        made: Document = {"key": term.key, "label": term.label}
        if term.note:
            made["note"] = term.note
        terms.append(made | more.get(term.key, {}))
    return {"key": entry.key, "label": entry.label, "terms": terms}


def _of_connector(connector: connectors.Connector) -> Document:
    made: Document = {
        "currents": sorted(connector.currents),
        "markets": sorted(connector.markets),
        "ratings": [{"volts": r.volts, "amperes": r.amperes, "standard": r.standard} for r in connector.ratings],
    }
    if connector.contacts is not None:
        made["contacts"] = connector.contacts
    return made
