"""The invented people of the demo, one for each role. Their passwords are made at random where the demo is set up."""

from dataclasses import dataclass

from catalog.domain.roles import Role


@dataclass(frozen=True, slots=True)
class DemoPerson:
    """name: the account's. shown: as pages show it."""

    name: str
    shown: str
    role: Role


PEOPLE = (
    DemoPerson("o.tarnwick", "O. Tarnwick", Role.READER),
    DemoPerson("w.quillow", "W. Quillow", Role.DISPATCHER),
    DemoPerson("p.lovage", "P. Lovage", Role.STEWARD),
    DemoPerson("i.marrable", "I. Marrable", Role.APPROVER),
    DemoPerson("a.dornick", "A. Dornick", Role.ADMINISTRATOR),
)
