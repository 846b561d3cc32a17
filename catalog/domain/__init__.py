"""The trade's words and things: vocabulary, places, the vehicle record, facts with states,
sources, VINs, deltas between revisions.

May import: the standard library only. Everything else may import this room.
"""
