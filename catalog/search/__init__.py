"""The text index: free text over every record and guide note, with highlights; per-term scores
("impacts") as plain arrays.

May import: catalog.domain, catalog.errors, numpy, and alone in the house the text library
(whoosh 2.7.4). An index holds pickles: open only what was just checked against its manifest.
"""
