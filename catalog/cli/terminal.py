"""What every command is handed: the paper, the settings read once, the house opened when needed."""

import json
import os
import sys
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Any

import click

from catalog.cli.paper import Paper
from catalog.config import Settings
from catalog.domain.cautions import DEMO_MARK, edition_words, full

if TYPE_CHECKING:
    from catalog.services.house import House
    from catalog.services.views import EditionView


@dataclass(eq=False)
class Terminal:
    """One command's view of the outside. environ: read once, for settings and style."""

    environ: Mapping[str, str] = field(default_factory=lambda: dict(os.environ))

    @cached_property
    def paper(self) -> Paper:
        return Paper.of(sys.stdout, self.environ)

    @cached_property
    def settings(self) -> Settings:
        return Settings.from_environment(self.environ)

    @cached_property
    def house(self) -> "House":
        from catalog.services.house import open_house

        return open_house(self.settings)

    def close(self) -> None:
        """Let go of the database, at the end of a command: one may be run inside a process that lives on."""
        if "house" in self.__dict__:
            self.house.engine.dispose()

    def show(self, lines: Iterable[str]) -> None:
        """Print lines made for this paper."""
        for line in lines:
            click.echo(line)

    def show_json(self, document: Any) -> None:
        """Print one JSON document; ASCII where the terminal cannot take more."""
        plain = self.paper.encoding.lower().replace("-", "") != "utf8"
        click.echo(json.dumps(document, ensure_ascii=plain, indent=2))

    def mark(self) -> list[str]:
        """The DEMO mark, for demo data."""
        return [self.paper.heading(DEMO_MARK)] if self.settings.demo else []

    def masthead(self, edition: "EditionView") -> list[str]:
        """What opens every page: the DEMO mark and the edition with its date."""
        return [*self.mark(), *self.paper.wrap(edition_words(edition.number, edition.published_at)), ""]

    def cautions(self, edition: "EditionView") -> tuple[str, ...]:
        """What goes with every document taken from an edition."""
        return full(edition.number, edition.published_at, demo=self.settings.demo)
