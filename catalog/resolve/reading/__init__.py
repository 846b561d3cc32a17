"""What somebody said -> cues with their places in the text, and what was not understood.

Imports catalog.domain, and of catalog.resolve what is not about records: `cue`, `lexicon`, `deletions`.
`reader.read` is the one way in and tells the way of a text. What people say is data (data/README.md);
what needs more than a table is a small module named after what it reads.
"""
