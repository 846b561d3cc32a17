"""chockbook steps: what to do, in which order, in this scene."""

from dataclasses import dataclass
from typing import Any

import click

from catalog.cli.terminal import Terminal
from catalog.errors import BadInput

_CALLERS = ("inside", "beside", "away", "passing", "unknown")


@dataclass(frozen=True, slots=True)
class _Chosen:
    """What was typed."""

    codes: tuple[str, ...]
    text: str
    scene: tuple[str, ...]
    carried: tuple[str, ...]
    caller: str | None
    short: bool
    as_json: bool


@click.command(short_help="What to do, in which order, in this scene.")
@click.argument("codes", nargs=-1)
@click.option("--text", default="", help="A description instead of a code; also what it says of the scene.")
@click.option("--scene", multiple=True, metavar="FIELD=yes|no|unknown", help="Such as fire=yes; may be given again.")
@click.option("--carried", multiple=True, metavar="STANDARD", help="A coupler on board; may be given again; or none.")
@click.option("--caller", type=click.Choice(_CALLERS), help="Where the caller is.")
@click.option("--short", is_flag=True, help="What to do, where, and the waits only.")
@click.option("--json", "as_json", is_flag=True, help="One JSON document instead of a page.")
@click.pass_obj
def steps(terminal: Terminal, /, **typed: Any) -> None:
    """What to do, in which order, in this scene.

    CODES are the records it may be: one for a vehicle that is known, several for look-alikes. With
    none and no --text these are the steps for any vehicle. What is not said of the scene is unknown,
    and that takes no caution away.
    """
    from catalog.services.steps import StepsAsked, steps_of

    chosen = _Chosen(**typed)
    carried = tuple(one for one in chosen.carried if one != "none") if chosen.carried else None
    asked = StepsAsked(chosen.codes, chosen.text, scene_of(chosen.scene), carried, chosen.caller)
    found = steps_of(terminal.house, asked)
    if chosen.as_json:
        from schemas.answers import with_cautions
        from schemas.steps import StepsAnswer

        told = terminal.cautions(found.edition)
        terminal.show_json(with_cautions(StepsAnswer, found, (*told, *filter(None, (found.notice,)))))
        return
    from catalog.cli.pages.steps import steps_lines

    terminal.show([*terminal.masthead(found.edition), *steps_lines(found, terminal.paper, short=chosen.short)])


def scene_of(pairs: tuple[str, ...]) -> dict[str, str]:
    """ "fire=yes" as a field and what is said of it. Raises BadInput."""
    made = {}
    for pair in pairs:
        key, mark, said = pair.partition("=")
        if not mark:
            raise BadInput(f"--scene {pair} says nothing.", cure="Write it as fire=yes, fire=no or fire=unknown.")
        made[key.strip()] = said.strip()
    return made
