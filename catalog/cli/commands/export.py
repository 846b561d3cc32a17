"""chockbook export: every record of an edition as a file."""

import os
import shutil
import sys
import tempfile
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

import click

from catalog.cli.acting import acting, as_option
from catalog.cli.progress import step, told
from catalog.cli.terminal import Terminal
from catalog.errors import BadInput, Unavailable


@click.command(short_help="Every record of an edition, as a file.")
@click.option("--format", "form", type=click.Choice(["jsonl", "xlsx", "csv"]), default="jsonl", show_default=True)
@click.option(
    "--output",
    required=True,
    metavar="FILE",
    help="Where to write; - is standard output. CSV: a name that ends in .zip, or else a folder that is not there yet.",
)
@click.option("--edition", type=click.IntRange(min=1), help="Left out, the newest.")
@as_option
@click.pass_obj
def export(terminal: Terminal, form: str, output: str, edition: int | None, as_name: str | None) -> None:
    """Every source and record of an edition: one JSON document a line as stored, a workbook, or CSV.

    Workbook and CSV say every state in words and can be edited and imported again. FILE is replaced only when the
    whole export has been written.
    """
    from catalog.services.exporting import Form, export_records, write_export

    folder = form == "csv" and output != "-" and not output.lower().endswith(".zip")
    if folder and Path(output).exists():
        raise BadInput(f"{output} is there already.", cure="Name a folder that is not, or a file that ends in .zip.")
    actor = acting(terminal, as_name)
    documents = told(export_records(terminal.house, actor, Form(form), edition=edition), "documents written")
    try:
        with _opened_folder(output) if folder else _opened(output) as sink:
            count = write_export(documents, Form(form), sink)
    except BrokenPipeError:
        raise
    except OSError as error:
        raise Unavailable(f"{output} cannot be written: {error.strerror}.", cure="Choose another --output.") from error
    if output != "-":
        step(f"{count:,} documents in {output}")


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


@contextmanager
def _opened_folder(output: str) -> Iterator[BinaryIO]:
    """A sink for a zip whose members become the folder when all went well."""
    target = Path(output).resolve()
    part = target.with_name(f".{target.name}.{os.getpid()}.part")
    try:
        with tempfile.TemporaryFile() as sink:
            yield sink
            with zipfile.ZipFile(sink) as packed:
                packed.extractall(part)  # of our own making
        part.rename(target)
    finally:
        shutil.rmtree(part, ignore_errors=True)
