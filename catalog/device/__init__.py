"""The phone's engine: the same reading, weighing and steps, in JavaScript, made from the same source.

The pure rooms are written in a small part of Python; `translate` writes them again as JavaScript, so that the two
cannot drift apart. May import: catalog.domain, catalog.resolve, catalog.plan, catalog.compiled, catalog.errors.
"""
