"""chockbook export: every record of an edition as a file."""

import json
import os
import sys
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any, BinaryIO

import click

from catalog.cli.progress import step, told
from catalog.cli.terminal import Terminal
from catalog.errors import Unavailable


@click.command(short_help="Every record of an edition, as a file.")
@click.option("--format", "form", type=click.Choice(["jsonl"]), default="jsonl", show_default=True)
@click.option("--output", required=True, metavar="FILE", help="Where to write; - is standard output.")
@click.option("--edition", type=click.IntRange(min=1), help="Left out, the newest.")
@click.pass_obj
def export(terminal: Terminal, form: str, output: str, edition: int | None) -> None:
    """Every source and record of an edition, one JSON document a line.

    Documents are as stored: what nobody states is not in them. FILE is replaced only when the
    whole export has been written.
    """
    from catalog.services.exporting import export_records

    documents = told(export_records(terminal.house, edition=edition), "documents written")
    try:
        with _opened(output) as sink:
            count = _write(documents, sink)
    except BrokenPipeError:
        raise
    except OSError as error:
        raise Unavailable(f"{output} cannot be written: {error.strerror}.", cure="Choose another --output.") from error
    if output != "-":
        step(f"{count:,} documents in {output}")


def _write(documents: Iterable[Mapping[str, Any]], sink: BinaryIO) -> int:
    count = 0
    for document in documents:
        sink.write(json.dumps(document, ensure_ascii=False, separators=(",", ":")).encode() + b"\n")
        count += 1
    return count


@contextmanager
def _opened(output: str) -> Iterator[BinaryIO]:
    """A sink that becomes FILE when all went well. Devices and pipes are written straight into."""
    if output == "-":
        yield sys.stdout.buffer
        return
    target = Path(output).resolve()
    if target.exists() and not target.is_file():
        with target.open("wb") as sink:
            yield sink
        return
    part = target.with_name(f".{target.name}.{os.getpid()}.part")
    try:
        with part.open("xb") as sink:
            yield sink
            sink.flush()
            os.fsync(sink.fileno())
        part.replace(target)
    finally:
        part.unlink(missing_ok=True)
