"""chockbook source: the guides, what is old, and their files."""

from pathlib import Path

import click

from catalog.cli.acting import acting, as_option
from catalog.cli.terminal import Terminal


@click.group(short_help="The guides: which there are, how old, their files.")
def source() -> None:
    """The guides that facts rest on. A guide is named NUMBER/ISSUE, as a fact cites it."""


@source.command("list", short_help="The guides of the newest edition.")
@click.option("--words", default="", help="Only with these words in number, title or publisher.")
@click.option("--kind", default="", help="Only of this kind.")
@click.option("--sort", default="key", show_default=True, help="key, title, issued or facts.")
@click.option("--older", default="", metavar="DAY", help="Instead: records with facts of before DAY (2021-01-31).")
@click.pass_obj
def list_(terminal: Terminal, words: str, kind: str, sort: str, older: str) -> None:
    """Every guide with its issue, day, kind, how many facts rest on it, and whether its file is stored."""
    from catalog.cli.pages.work import old_lines, source_lines
    from catalog.services.sources import SourcesAsked, list_sources, old_records

    if older:
        terminal.show([*terminal.mark(), *old_lines(old_records(terminal.house, older), terminal.paper)])
        return
    found = list_sources(terminal.house, SourcesAsked(words, kind, sort))
    terminal.show([*terminal.mark(), *source_lines(found, terminal.paper)])


@source.command(short_help="One guide.")
@click.argument("key")
@click.pass_obj
def show(terminal: Terminal, key: str) -> None:
    """One guide: title, publisher, days, pages, the hash it states."""
    from catalog.services.records import read_source

    found = read_source(terminal.house, key.upper())
    paper = terminal.paper
    lines = [paper.across(f"{found.short}: {found.title}", found.key, bold=True)]
    pages = f", {found.pages} pages" if found.pages else ""
    lines += paper.wrap(f"{found.publisher}, issued {found.issued}, retrieved {found.retrieved}{pages}", 2)
    lines += paper.wrap(f"SHA-256 stated: {found.sha256 or 'none'}", 2)
    terminal.show([*terminal.mark(), *lines])


@source.command("file", short_help="Store a guide's file, or fetch it.")
@click.argument("key")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--fetch", is_flag=True, help="Write the stored file to FILE instead.")
@click.option("--is-its-file", is_flag=True, help="Say that it is this guide's file, where the guide states no hash.")
@as_option
@click.pass_obj
def file_(terminal: Terminal, key: str, file: Path, fetch: bool, is_its_file: bool, as_name: str | None) -> None:
    """Store FILE as what a guide was read from; its hash must be the one the guide states."""
    from catalog.services.sources import FileGiven, keep_file, source_file

    if fetch:
        found = source_file(terminal.house, key.upper())
        with file.open("xb") as out:
            out.write(found.content)
        terminal.show([*terminal.mark(), f"{found.name}, {len(found.content)} bytes, SHA-256 {found.hash}"])
        return
    given = FileGiven(key.upper(), file.name, file.read_bytes(), is_its_file)
    digest = keep_file(terminal.house, acting(terminal, as_name), given)
    terminal.show([*terminal.mark(), f"Stored: {file.name}, SHA-256 {digest}"])
