"""Ordered steps for a scene: from one record, from possible vehicles, or for any vehicle.

Rules, wording and the fields of a scene are data; what needs more than all, any, not and is, is a
derived fact, a function applied after protective readings. Pure: nothing here reads or writes.

May import: catalog.domain and the standard library.
"""
