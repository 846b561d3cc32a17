"""Chockbook: a versioned catalogue of vehicle emergency data.

Rooms and who may import whom are described in DEVELOPERS.md and enforced by
tests/unit/test_imports.py.
"""

__version__ = "0.1.0"
