"""Print scene cards: `python -m seed_demo.cards CODE... | --all [--seed S] [--output FILE]`."""

import argparse
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path

import seed_demo
from catalog.domain.documents import record_from_document
from catalog.domain.record import Record
from seed_demo.cards import scene_card


def newest_records() -> Mapping[str, Record]:
    """The records of the demo's newest edition by code, in the order of the codes."""
    newest: dict[str, seed_demo.Document] = {}
    for edition in seed_demo.load().editions:
        newest |= edition.records
        newest = {code: document for code, document in newest.items() if code not in edition.withdrawn}
    return {code: record_from_document(newest[code]) for code in sorted(newest)}


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m seed_demo.cards", description=__doc__)
    parser.add_argument("codes", nargs="*", metavar="CODE", help="a record's code")
    parser.add_argument("--all", action="store_true", help="a card of every record")
    parser.add_argument("--seed", type=int, default=0, help="which of several wordings and paints")
    parser.add_argument("--output", type=Path, help="write here instead of printing")
    options = parser.parse_args(argv)
    records = newest_records()
    unknown = [code for code in options.codes if code not in records]
    if unknown or options.all == bool(options.codes):
        parser.error(f"no such record: {', '.join(unknown)}" if unknown else "say either codes or --all")
    chosen = records if options.all else dict.fromkeys(options.codes)
    text = "\n\n".join(str(scene_card(code, records[code], options.seed)) for code in chosen) + "\n"
    if options.output:
        options.output.write_text(text, encoding="utf-8")
    else:
        sys.stdout.write(text)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
