"""The gate: what a record or source document from outside must look like, and the record as
written out for readers. Messages name the field, what was found, what is allowed, the cure.
The published JSON Schema is made from the same fields.

May import: catalog.domain, catalog.errors, marshmallow. Never the store, services or edges.
"""
