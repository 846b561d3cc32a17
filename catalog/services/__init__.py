"""One function per use case: the only callers of the store's and the text index's writes.

May import: every room below it (domain, schemas, resolve, search, store, compiled). The edges
(api, web, cli) import this room and show what it returns; nothing here knows HTTP or a terminal.
"""
