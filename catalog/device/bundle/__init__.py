"""An edition as a phone gets it: parts named by what they hold, so that a newer edition costs only what changed.

A part is bytes under the name of their SHA-256, packed by gzip. A listing names the parts of one edition and what
each is for; it is a part itself. The phone reads the same numbers as the server, in the same kinds of number.
May import: catalog.domain, catalog.resolve, catalog.compiled, catalog.errors, numpy.
"""

from catalog.device.bundle.engine_files import EngineFiles, engine_files, engine_sum
from catalog.device.bundle.making import FORMAT, Bundle, Given, make
from catalog.device.bundle.shelf import BundleShelf

__all__ = ["FORMAT", "Bundle", "BundleShelf", "EngineFiles", "Given", "engine_files", "engine_sum", "make"]
