"""What a site adds: rules of its own and its own wording. It never takes a caution away.

A local document: {"rules": [rows as in data/rules.json], "steps": {...}, "lines": {...},
"cautions": {...}, "holds": {...}, "sources": {...}, "caller": {id: line}}, each part optional. Rules are new ones;
there is no way to change or drop a rule of the program. Wording may replace sentences of a step; the parts that warn
(`WARNING`), the cautions and the lines to the caller that warn keep the program's sentences, the site's come after.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from catalog.plan.caller import with_site_lines
from catalog.plan.claims import claims
from catalog.plan.table import PARTS, Rule, Table, Words, rule_of, table_faults

# What keeps a crew from harm if everything else is reworded.
WARNING = ("fails", "wait", "meanwhile", "not")
_PARTS_OF_A_SITE = ("rules", "steps", "lines", "cautions", "holds", "sources", "caller")


def with_site(table: Table, document: Mapping[str, Any]) -> Table:
    """The table with a site's additions. Raises ValueError that names everything wrong with them."""
    found = list(_document_faults(table, document))
    if found:
        raise ValueError("; ".join(found))
    made = replace(
        table,
        rules=(*table.rules, *(rule_of(row, site=True) for row in document.get("rules", ()))),
        sources={**document.get("sources", {}), **table.sources},
        words=_worded(table.words, document, {r.id: table.caution(r.caution) for r in table.rules if r.caution}),
        caller=with_site_lines(table.caller, document.get("caller", {})),
    )
    found = list(table_faults(made))
    if found:
        raise ValueError("; ".join(found))
    return made


def _document_faults(table: Table, document: Mapping[str, Any]) -> Iterator[str]:
    yield from (
        f"{key} is not one of {', '.join(_PARTS_OF_A_SITE)}" for key in sorted(set(document) - set(_PARTS_OF_A_SITE))
    )
    known = {rule.id for rule in table.rules}
    fields = set(Rule.__slots__) - {"site"}
    for row in document.get("rules", ()):
        yield from (f"{row.get('id')}: a rule has no {key}" for key in sorted(set(row) - fields))
        if "id" not in row or "order" not in row:
            yield f"a rule needs an id and an order: {row}"
        elif row["id"] in known:
            yield f"{row['id']} is a rule of the program, which a site cannot change: give it another id"
    for id_, words in document.get("steps", {}).items():
        yield from (f"steps.{id_}: {key} is no part of a step" for key in sorted(set(words) - {"do", *PARTS}))
    for where, text in _sentences(document):
        if not text.strip():
            yield f"{where} is blank: a sentence cannot be taken away"
        yield from (f"{where} states {claim!r} as a fact" for claim in claims(text))


def _sentences(document: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    for id_, words in document.get("steps", {}).items():
        for part, entries in words.items():
            for entry in [entries] if isinstance(entries, str) else entries:
                if isinstance(entry, str):
                    yield f"steps.{id_}.{part}", entry
    for id_, line in document.get("lines", {}).items():
        yield f"lines.{id_}", str(line.get("say", ""))
    for group in ("cautions", "holds"):
        yield from ((f"{group}.{id_}", text) for id_, text in document.get(group, {}).items())


def _worded(words: Words, document: Mapping[str, Any], warnings: Mapping[str, str]) -> Words:
    steps = dict(words["steps"])
    for id_, local in document.get("steps", {}).items():
        steps[id_] = _step(steps.get(id_, {}), local, warnings.get(id_, ""))
    lines = dict(words["lines"])
    for id_, local in document.get("lines", {}).items():
        before = lines.get(id_)
        lines[id_] = local if before is None else {**before, "say": f"{before['say']} {local['say']}"}
    both = {group: _after(words[group], document.get(group, {})) for group in ("cautions", "holds")}
    return {**words, "steps": steps, "lines": lines, **both}


def _step(before: Words, local: Words, warning: str) -> Words:
    """The site's words for a step. What the program warns of with it is said again, whatever the new words are."""
    made = {**before, **local}
    if before and warning:
        made["why"] = [*made.get("why", ()), warning]
    for part in WARNING:
        if part in before and part in local:
            made[part] = [*before[part], *local[part]]
    return made


def _after(before: Mapping[str, str], local: Mapping[str, str]) -> Mapping[str, str]:
    """The program's sentence first, the site's after it."""
    return {**before, **{id_: f"{before[id_]} {text}" if id_ in before else text for id_, text in local.items()}}
