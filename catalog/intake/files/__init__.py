"""Files nobody has checked yet, read in a process of their own: workbooks, CSV, JSON, and folders or zips of them."""

from catalog.intake.files.limits import LIMITS, Limits
from catalog.intake.files.reading import read_file, read_folder

__all__ = ["LIMITS", "Limits", "read_file", "read_folder"]
