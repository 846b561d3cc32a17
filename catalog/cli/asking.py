"""Questions put on the terminal, one after the other, each chosen after the answers before it."""

import sys
from dataclasses import replace

import click

from catalog.cli.pages.asked import over_lines, question_lines
from catalog.cli.terminal import Terminal
from catalog.resolve.answering.question_views import QuestionView
from catalog.services.resolving import Description, resolve_description


def asked(terminal: Terminal, description: Description) -> Description:
    """The description with what was answered. An empty line, or the end of input, ends the asking."""
    asking = replace(description, include=frozenset({"questions"}))
    while True:
        answer = resolve_description(terminal.house, asking)
        view = answer.questions
        assert view is not None, "questions were asked for"
        if not view.questions:
            terminal.show([*over_lines(view, terminal.paper), ""])
            break
        terminal.show(question_lines(answer, view, terminal.paper))
        reply = _reply(terminal, view.questions[0])
        if reply is None:
            break
        given = {**asking.answers.given, view.questions[0].id: reply}
        asking = replace(asking, answers=replace(asking.answers, given=given))
        terminal.show([""])
    return replace(description, answers=asking.answers)


def _reply(terminal: Terminal, question: QuestionView) -> str | None:
    """The id of the option chosen by number, or a name; asked again until it is one. None to end."""
    while True:
        click.echo("> ", nl=False)
        said = sys.stdin.readline().strip()
        if not said:
            terminal.show([""])
            return None
        if said == "0":
            return question.cannot_tell
        if not question.options:
            return said
        if said.isascii() and said.isdigit() and 1 <= int(said) <= len(question.options):
            return question.options[int(said) - 1].id
        terminal.show(terminal.paper.wrap(f"Give a number from 0 to {len(question.options)}, or nothing to end."))
