"""Ten ways in which crews have been failed, from the dispatcher's request to what the crew is told.

Each is common practice told as a story, no source; what must never be said stands beside what must.
"""

import secrets
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from flask import Flask

from catalog.app import create_app
from catalog.domain.roles import Role
from catalog.services.compiling import compile_latest, is_behind
from catalog.services.house import House
from tests.integration.brief_samples import house_on
from tests.people import somebody, token_of

DISPATCHER, STEWARD = "jonah.tellwright", "tamsin.orrell"


@dataclass(frozen=True)
class Service:
    """The whole application, asked over its API by a dispatcher and a steward."""

    house: House
    app: Flask
    tokens: Mapping[str, str]

    def post(self, path: str, body: Mapping[str, Any], who: str = DISPATCHER) -> dict[str, Any]:
        headers = {"Authorization": f"Bearer {self.tokens[who]}"}
        if path.startswith("/briefs"):
            headers["Idempotency-Key"] = secrets.token_urlsafe(18)
        answer = self.app.test_client().post(f"/api/v1{path}", json=body, headers=headers)
        assert answer.status_code == 200, answer.get_json()
        told: dict[str, Any] = answer.get_json()
        return told

    def get(self, path: str) -> dict[str, Any]:
        headers = {"Authorization": f"Bearer {self.tokens[DISPATCHER]}"}
        told: dict[str, Any] = self.app.test_client().get(f"/api/v1{path}", headers=headers).get_json()
        return told

    def brief(self, code: str, scene: Mapping[str, str], **more: Any) -> dict[str, Any]:
        return self.post("/briefs", {"codes": [code], "scene": scene, **more})

    def steps(self, code: str, scene: Mapping[str, str], **more: Any) -> list[dict[str, Any]]:
        found: list[dict[str, Any]] = self.post("/steps", {"codes": [code], "scene": scene, **more})["steps"]
        return found


@pytest.fixture(scope="module", params=["sqlite", pytest.param("postgres", marks=pytest.mark.postgres)])
def service(
    request: pytest.FixtureRequest, demo_data: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Service]:
    with house_on(request, demo_data, tmp_path_factory.mktemp("stories") / "data") as house:
        people = {DISPATCHER: Role.DISPATCHER, STEWARD: Role.STEWARD}
        for name, role in people.items():
            somebody(house, name, role)
        app = create_app(house.settings)
        yield Service(house, app, {name: token_of(house, name, role) for name, role in people.items()})
        app.extensions["chockbook"].engine.dispose()


def keys(steps: list[dict[str, Any]]) -> list[str]:
    return [step["key"].split(":")[0] for step in steps]


def step(steps: list[dict[str, Any]], key: str) -> dict[str, Any]:
    return next(each for each in steps if each["key"].split(":")[0] == key)


def texts(one: dict[str, Any]) -> str:
    return " ".join([one["do"], *one["only_if"], *(line["text"] for line in one["lines"])])


def radio(brief: dict[str, Any]) -> str:
    said: str = brief["radio"]["text"]
    assert len(said) <= 320
    assert brief["radio"]["seconds"] <= 20
    return said


def test_1_a_nose_port_on_a_slope_with_no_chock(service: Service) -> None:
    """Somebody ran to the nose to plug in, and the car rolled."""
    code, scene = "76R-MJZ", {"slope": "yes"}
    steps = service.steps(code, scene, carried=["type2"])
    order = keys(steps)
    assert order.index("chock") < order.index("park") < order.index("power_off") < order.index("plug")
    assert "Only after chocks" in texts(step(steps, "plug"))
    said = radio(service.brief(code, scene))
    assert said.index("Chock downhill first") < said.index("Charge port")


def test_2_a_coupler_pulled_for_loading(service: Service) -> None:
    """The recovery crew took the plug out, and it could drive again."""
    code, scene = "7B6-7TJ", {"coupler_removed": "yes"}
    steps = service.steps(code, scene)
    assert "able to drive again" in step(steps, "coupler_out")["do"]
    assert keys(steps).index("chock") < keys(steps).index("coupler_out") < keys(steps).index("park")
    assert radio(service.brief(code, scene)).splitlines()[0].endswith("Coupler out: it can drive again.")


def test_3_the_pyro_fuse_is_not_stated(service: Service) -> None:
    """The plug was refused: nobody may conclude that high voltage is off, or that it cannot move."""
    code, scene = "J4G-VNN", {"airbags": "yes", "plug_refused": "yes"}
    steps = service.steps(code, scene)
    refused = step(steps, "plug_refused")
    assert "can still move" in refused["do"]
    assert "proves nothing about high voltage" in texts(refused)
    assert "can still move" in radio(service.brief(code, scene))
    assert "pyro-fuse fired" not in radio(service.brief(code, scene)).lower()


def test_4_a_burning_car_and_the_port(service: Service) -> None:
    """Told of a port first, a crew went to it through the smoke."""
    code = "R7Q-NM4"
    for scene in ({"fire": "yes"}, {"vapour": "yes"}):
        steps = service.steps(code, scene, carried=["ccs2", "type2"])
        assert "port_alone" in keys(steps)
        assert not {"plug", "port_open"} & set(keys(steps))
        said = radio(service.brief(code, scene))
        assert "Leave the charge port alone." in said
        assert "breathing apparatus" in said.splitlines()[0]


def test_5_twelve_volts_first_with_power_only_doors(service: Service) -> None:
    """The 12 V was cut, and the doors stayed shut."""
    steps = service.steps("NPG-QB4", {"power_alive": "yes", "trapped": "yes", "cutting_planned": "yes"})
    order = keys(steps)
    assert order.index("power_doors") < min(order.index(key) for key in order if key.startswith("cut_low"))
    assert "before any 12 V is cut" in step(steps, "power_doors")["do"]


def test_6_a_brief_for_a_read_out_for_b(service: Service) -> None:
    """Two vehicles, one channel: each brief names its own, in every form, and a recalled one says so."""
    both = {letter: service.brief(code, {}, letter=letter, incident="S-6") for letter, code in
            (("A", "76R-MJZ"), ("B", "KWR-WK6"))}  # fmt: skip
    for letter, brief in both.items():
        other = "B" if letter == "A" else "A"
        assert f"Vehicle {letter}." in radio(brief).splitlines()[0]
        assert f"Vehicle {other}" not in radio(brief)
        assert brief["full"][0]["title"] == f"Vehicle {letter}"
    wrong = service.post(f"/briefs/{both['A']['id']}/recall", {"why": "It was for B.", "instead": "Use brief B."})
    assert wrong["recalled"]["why"] == "It was for B."
    assert radio(service.get(f"/briefs/{both['B']['id']}")) == radio(both["B"])


def test_7_on_its_left_side_with_a_left_front_loop(service: Service) -> None:
    """The loop lay under the car; the crew looked for it on top."""
    code, scene = "9JT-WV2", {"left_down": "yes"}
    steps = service.steps(code, scene)
    loops = [each for each in steps if each["key"].startswith("cut_") and "eft front" in texts(each)]
    assert loops
    for each in loops:
        assert "out of reach" in texts(each).lower(), texts(each)
    said = radio(service.brief(code, scene))
    for line in said.splitlines():
        assert "left front" not in line.lower() or "reach" in line.lower(), said


def test_8_a_ten_minute_wait_with_a_dying_casualty(service: Service) -> None:
    """They waited for the capacitors while somebody died."""
    code, scene = "BN7-2DN", {"danger_to_life": "yes", "trapped": "yes"}
    steps = service.steps(code, scene)
    waits = [line["text"] for each in steps for line in each["lines"] if line["part"] == "meanwhile"]
    assert waits
    assert all("never wait" in text for text in waits), waits
    said = radio(service.brief(code, scene))
    assert said.index("remove before any wait") < said.index("After cutting wait")


def test_9_a_wrong_cut_point_at_two_in_the_morning(service: Service) -> None:
    """The approver is asleep; one steward takes the fact back, and whoever holds the brief is told."""
    code = "7B6-7TJ"
    sent = service.brief(code, {}, incident="S-9")
    path = "cutoff.methods[front].place"
    assert any("right front" in line.lower() for line in radio(sent).splitlines())
    service.post("/doubts", {"code": code, "path": path, "reason": "A crew found another loop there."}, STEWARD)
    if is_behind(service.house):
        compile_latest(service.house)
    again = service.get(f"/briefs/{sent['id']}")
    assert radio(again) == radio(sent), "what was sent never changes"
    [changed] = [fact for fact in again["newer"]["facts"] if fact["path"] == path]
    assert changed["doubted"]
    follow = service.post(f"/briefs/{sent['id']}/follow-up", {})
    assert radio(follow).startswith("CORRECTION")
    assert "ead back" in radio(follow)
    service.post(f"/briefs/{follow['id']}/read-back", {"who": "Engine 4", "words": "no cut point from data"})
    assert service.get(f"/briefs/{follow['id']}")["read_back"][0]["who"] == "Engine 4"
    fresh = service.brief(code, {}, incident="S-9")
    assert "right front, under bonnet" not in radio(fresh)


def test_10_a_flood_car_to_the_yard(service: Service) -> None:
    """It stood between others in the yard, and burned the next day."""
    code, scene = "9KW-V8C", {"recovered": "yes", "water_salt": "yes", "nobody_inside": "yes"}
    said = radio(service.brief(code, scene))
    assert "even days later" in said.splitlines()[0]
    assert "Leave the charge port alone." in said
    brief = service.brief(code, scene, incident="S-10")
    ticks = [{"key": "chock", "state": "done", "at": "02:55"}]
    slip = service.post(f"/briefs/{brief['id']}/hand-over", {"ticks": ticks, "typed": {}})
    told = " ".join(line["text"] for section in slip["full"] for line in section["lines"])
    assert "15 m" in told
    assert "not said" in told.lower(), "what nobody typed never looks like nothing"
    assert "restart" in told.lower()
    assert "stays live" in told.lower()
