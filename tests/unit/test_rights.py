"""Who may do what: every role against every right, written out by hand, not taken from the table it checks."""

import pytest

from catalog.domain.roles import Right, Role
from catalog.errors import Forbidden, NotSignedIn
from catalog.services.acting import Actor, actor_of, require

# One line a role, one column a right: read brief update doubt approve administer.
MAY = {
    "reader": "+-----",
    "dispatcher": "++----",
    "steward": "++++--",
    "approver": "+++++-",
    "administrator": "+----+",
}
RIGHTS = ("read", "brief", "update", "doubt", "approve", "administer")


def test_the_table_names_every_role_and_right() -> None:
    assert set(MAY) == {str(role) for role in Role}
    assert set(RIGHTS) == {str(right) for right in Right}


@pytest.mark.parametrize("role", list(MAY))
@pytest.mark.parametrize("right", RIGHTS)
def test_each_role_has_its_rights_and_no_other(role: str, right: str) -> None:
    actor = actor_of("some.body", Role(role), "test")
    if MAY[role][RIGHTS.index(right)] == "+":
        assert require(actor, Right(right)) is actor
        return
    with pytest.raises(Forbidden, match=r"some\.body"):
        require(actor, Right(right))


@pytest.mark.parametrize("right", RIGHTS)
def test_nobody_may_do_nothing_by_name(right: str) -> None:
    with pytest.raises(NotSignedIn):
        require(None, Right(right))


def test_a_token_counts_by_what_it_is_for_and_not_by_its_role() -> None:
    program = Actor("some.body", Role.APPROVER, "token", frozenset({Right.READ}))
    with pytest.raises(Forbidden):
        require(program, Right.APPROVE)


def test_no_role_gives_out_roles_and_approves() -> None:
    """Two persons decide on what bears on safety; whoever could make accounts and approve could be both."""
    for role in Role:
        rights = actor_of("some.body", role, "test").rights
        assert not {Right.ADMINISTER, Right.APPROVE} <= rights
        assert not {Right.ADMINISTER, Right.UPDATE} <= rights
