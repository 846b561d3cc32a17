"""From the Python of the pure rooms to JavaScript.

Written for that code and no other: what it does not know it refuses, naming file and line. No module of the engine
is listed by hand; they are found from what the entry points import.
"""

from catalog.device.translate.bundle import Instead, Unit, bundle

__all__ = ["Instead", "Unit", "bundle"]
