"""What every table is made with: names of constraints, and the types of columns.

Names and codes sort by code point on every database, because hashes cover members in that order.
"""

from sqlalchemy import MetaData, String
from sqlalchemy.types import TypeEngine

metadata = MetaData(
    naming_convention={
        "pk": "pk_%(table_name)s",
        "fk": "fk_%(table_name)s_%(column_0_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "ck": "ck_%(table_name)s_%(constraint_name)s",
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    }
)


def key_of(length: int) -> TypeEngine[str]:
    return String(length).with_variant(String(length, collation="C"), "postgresql")


HASH = key_of(64)
KEY = key_of(64)
KIND = key_of(16)
