"""Where the documents lie in the package, and reading them."""

from collections.abc import Iterator
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import Any

from catalog.domain.canonical import NotCanonical, parse_canonical
from seed_demo.merge import member

Document = dict[str, Any]

FOLDERS = ("families", "guides", "editions")


def documents(folder: str) -> Iterator[tuple[Traversable, Document]]:
    """Every document of a folder by file name. Raises ValueError naming a file that is not one."""
    entries = [entry for entry in (files("seed_demo") / folder).iterdir() if entry.name.endswith(".json")]
    for entry in sorted(entries, key=lambda entry: entry.name):
        try:
            yield entry, parse_canonical(entry.read_text(encoding="utf-8"))
        except NotCanonical as error:
            raise ValueError(f"seed_demo/{folder}/{entry.name}: {error}") from error


def read_families() -> dict[str, Document]:
    """Every record's first document, by code."""
    made: dict[str, Document] = {}
    for entry, family in documents("families"):
        for record in family["records"]:
            if record["code"] in made:
                raise ValueError(f"seed_demo/families/{entry.name}: {record['code']} is used twice")
            made[record["code"]] = member(family["shared"], record)
    return made


def read_sources() -> dict[str, Document]:
    """Every source document, by key "NUMBER/ISSUE"."""
    return {f"{source['number']}/{source['issue']}": source for _, source in documents("guides")}


def read_editions() -> list[Document]:
    """The editions, by number."""
    return sorted((edition for _, edition in documents("editions")), key=lambda edition: int(edition["number"]))
