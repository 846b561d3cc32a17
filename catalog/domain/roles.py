"""Who may do what. Roles are given to accounts; services ask for rights."""

from collections.abc import Mapping
from enum import StrEnum


class Right(StrEnum):
    """What a service may ask of whoever calls it."""

    READ = "read"  # records, editions, searches; open to all where the site says so
    BRIEF = "brief"  # compose, send, recall and follow up briefs
    UPDATE = "update"  # guide updates, drafts, sources, work list, exports
    DOUBT = "doubt"  # turn a published fact to not stated, alone and at once
    APPROVE = "approve"  # the second person's decision; publishing; going back
    ADMINISTER = "administer"  # accounts, tokens of others, the audit trail


class Role(StrEnum):
    """A person's part in the service."""

    READER = "reader"
    DISPATCHER = "dispatcher"
    STEWARD = "steward"
    APPROVER = "approver"
    ADMINISTRATOR = "administrator"


# An administrator gives out roles and may therefore publish nothing: whoever could do both would be two persons in one.
RIGHTS: Mapping[Role, frozenset[Right]] = {
    Role.READER: frozenset({Right.READ}),
    Role.DISPATCHER: frozenset({Right.READ, Right.BRIEF}),
    Role.STEWARD: frozenset({Right.READ, Right.BRIEF, Right.UPDATE, Right.DOUBT}),
    Role.APPROVER: frozenset({Right.READ, Right.BRIEF, Right.UPDATE, Right.DOUBT, Right.APPROVE}),
    Role.ADMINISTRATOR: frozenset({Right.READ, Right.ADMINISTER}),
}
