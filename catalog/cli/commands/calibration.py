"""chockbook calibration: what the confidence rests on, and fitting it to confirmed outcomes."""

import click

from catalog.cli.terminal import Terminal


@click.group(invoke_without_command=True, short_help="What the confidence rests on; fit it to outcomes.")
@click.option("--json", "as_json", is_flag=True, help="One JSON document instead of a page.")
@click.pass_context
def calibration(context: click.Context, as_json: bool) -> None:
    """What the confidence rests on: state, key, how often each word was right, what a fit to outcomes still needs."""
    if context.invoked_subcommand is not None:
        return
    terminal: Terminal = context.obj
    from catalog.services.fitting_outcomes import calibration_view

    view = calibration_view(terminal.house)
    if as_json:
        from schemas.calibrations import CalibrationAnswer

        terminal.show_json(CalibrationAnswer().dump(view))
        return
    from catalog.cli.pages.calibration import calibration_lines

    terminal.show([*terminal.masthead(view.edition), *calibration_lines(view, terminal.paper)])


@calibration.command()
@click.pass_obj
def fit(terminal: Terminal) -> None:
    """Fit temperature and bias to confirmed outcomes (at least 100), store the fit and use it at once.

    Only outcomes read by this version of the reader count. A fit that is worse than what counts now, on outcomes it
    was not fitted to, is refused.
    """
    from catalog.cli.pages.calibration import fit_lines
    from catalog.services.fitting_outcomes import fit_outcomes

    terminal.show([*terminal.mark(), *fit_lines(fit_outcomes(terminal.house), terminal.paper)])
