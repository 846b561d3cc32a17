"""chockbook import: a guide update from a file."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from catalog.cli.acting import VARIABLE, acting, as_option
from catalog.cli.progress import step, told
from catalog.cli.terminal import Terminal
from catalog.errors import BadInput, Unavailable

if TYPE_CHECKING:
    from catalog.services.importing import BroughtFile


@click.command("import", short_help="A guide update from a file: check it, send it to review.")
@click.argument("file", required=False, metavar="FILE", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="One JSON document instead of a page.")
@as_option
@click.option("--encoding", default="", metavar="NAME", help="How text is written that is not UTF-8, such as cp1252.")
@click.option("--marked", metavar="FILE", type=click.Path(path_type=Path), help="Write a copy with the cells marked.")
@click.option("--template", metavar="FILE", type=click.Path(path_type=Path), help="Write an empty workbook to fill in.")
@click.option(
    "--dispute",
    multiple=True,
    metavar="CODE:PATH",
    help="Keep both sides of this fact where the file contradicts what is listed; all for every one.",
)
@click.option("--reason", default="", metavar="TEXT", help="Why, for the history; left out, the file's name.")
@click.pass_obj
def import_(
    terminal: Terminal,
    file: Path | None,
    as_json: bool,
    as_name: str | None,
    encoding: str,
    marked: Path | None,
    template: Path | None,
    dispute: tuple[str, ...],
    reason: str,
) -> None:
    """Hold FILE against what is listed: a workbook (.xlsx), CSV, JSON, JSON Lines, a zip or a folder of them.

    Without --as (or a token in CHOCKBOOK_TOKEN) it only checks, and nothing is stored. With it what nothing blocks
    is sent to review, all of it at once: stopped on the way nothing is stored, and the same command starts over; where
    it was stored already it says so. Exit status 1 says that something blocks.
    """
    from catalog.cli.pages.imported import checked_lines
    from catalog.services.importing import answered, check_update, marked_file, propose_checked, template_file

    if template is not None:
        _write(template, template_file())
        step(f"A workbook to fill in: {template}")
    if file is None:
        if template is None:
            raise BadInput("No file is given.", cure="Give a FILE, or --template FILE for an empty workbook.")
        return
    brought = _read(file, encoding, frozenset(dispute), reason)
    named = as_name is not None or terminal.environ.get(VARIABLE)
    actor = acting(terminal, as_name) if named else None
    if actor is not None:
        step("Nothing is stored before all of it was checked: stopped on the way, give the same command again.")
    checked = check_update(terminal.house, brought, lambda records: told(records, "records checked"))
    if actor is not None:
        checked = propose_checked(terminal.house, actor, checked, brought)
    if marked is not None:
        _write(marked, marked_file(brought, checked.findings))
    if as_json:
        terminal.show_json(answered(checked))
    else:
        terminal.show([*terminal.mark(), "", *checked_lines(checked, terminal.paper)])
    if checked.severities()["blocks"]:
        click.get_current_context().exit(1)


def _read(file: Path, encoding: str, disputed: frozenset[str], reason: str) -> "BroughtFile":
    from catalog.intake.files import LIMITS
    from catalog.intake.files.reading import folder_bytes
    from catalog.services.importing import BroughtFile

    try:
        if file.is_dir():
            return BroughtFile(f"{file.resolve().name}.zip", folder_bytes(file), encoding, disputed, reason)
        if file.stat().st_size > LIMITS.size:
            raise BadInput(f"{file} is larger than {LIMITS.size // 1024**2} MB.", cure="Split it into several files.")
        return BroughtFile(file.name, file.read_bytes(), encoding, disputed, reason)
    except OSError as error:
        raise BadInput(f"{file} cannot be read: {error.strerror}.", cure="Check its name and place.") from error


def _write(path: Path, content: bytes) -> None:
    try:
        path.write_bytes(content)
    except OSError as error:
        raise Unavailable(f"{path} cannot be written: {error.strerror}.", cure="Choose another place.") from error
