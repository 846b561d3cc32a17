"""Simulated descriptions of records, for calibration and evaluation.

`World` holds the listed vehicles, `Simulator` draws a witness and what they say as cues
(`describing`), by the law of `law` and `mishearing`; `text_of` puts it into raw words of its own.
Nothing here is used to answer anybody, and nothing measured with it is field performance.
"""

from catalog.resolve.simulate.describing import Simulated, Simulator
from catalog.resolve.simulate.law import Law
from catalog.resolve.simulate.setting import CORRELATED, SHIFTED, USUAL, WORST, Setting, Witness, witnesses
from catalog.resolve.simulate.subject import Subject, World, subject_of, unlisted
from catalog.resolve.simulate.wording import text_of

__all__ = [
    "CORRELATED", "SHIFTED", "USUAL", "WORST", "Law", "Setting", "Simulated", "Simulator", "Subject", "Witness",
    "World", "subject_of", "text_of", "unlisted", "witnesses",
]  # fmt: skip
