"""Description -> cues -> evidence -> posterior -> candidates, not-in-this-catalogue, why.

May import: catalog.domain, catalog.errors, numpy. No I/O, no database, no text library;
tables and parameters are handed in. Everything in a description's way is flat tables plus
plain code that can be written twice (the phone runs it in JavaScript).
"""
