"""Photos of crew reports: kept once, without what came along with them, for the steward alone."""

import pytest
from flask import Flask
from flask.testing import FlaskClient

from catalog.domain.roles import Role
from catalog.errors import BadInput, Conflict, Forbidden, NotFound, Unavailable
from catalog.services import report_photos
from catalog.services.crew_reports import report
from catalog.services.house import House
from catalog.services.report_photos import PhotoGiven, keep_photo, remove_photo, report_photo
from catalog.services.work_list import WorkAsked, list_work
from catalog.web.errors import STATUS
from tests.integration.api_demo import demo_app
from tests.integration.test_work import CODE, DISPATCHER, STEWARD, house, reported
from tests.people import signed_in, somebody, token_of
from tests.unit import hostile_photos as made

pytestmark = pytest.mark.usefixtures("served_demo")

__all__ = ["house"]  # a fixture
ID, DEVICE = "r" * 24, "d" * 24


def test_a_photo_is_kept_once_with_its_report_and_without_its_place(house: House) -> None:
    data = made.with_place()
    given = PhotoGiven(ID, DEVICE, data)
    with pytest.raises(NotFound, match="No such report"):
        keep_photo(house, given)
    report(house, reported(house))
    assert [one.photo for one in list_work(house, STEWARD, WorkAsked("report"))] == [""]
    assert keep_photo(house, given)
    assert not keep_photo(house, given)
    with pytest.raises(Conflict):
        keep_photo(house, PhotoGiven(ID, DEVICE, made.photo()))
    with pytest.raises(NotFound):
        keep_photo(house, PhotoGiven(ID, "e" * 24, data))
    [entry] = list_work(house, STEWARD, WorkAsked("report"))
    assert entry.photo == "there"
    content = report_photo(house, STEWARD, ID)
    assert content.startswith(b"\xff\xd8\xff")
    assert made.PLACE not in content
    assert b"Exif" not in content
    with pytest.raises(Forbidden):
        report_photo(house, DISPATCHER, ID)


def test_a_photo_is_taken_away_and_that_there_was_one_stays(house: House) -> None:
    report(house, reported(house))
    keep_photo(house, PhotoGiven(ID, DEVICE, made.photo()))
    with pytest.raises(Forbidden):
        remove_photo(house, DISPATCHER, ID, "a face")
    with pytest.raises(BadInput):
        remove_photo(house, STEWARD, ID, " ")
    remove_photo(house, STEWARD, ID, "A bystander's face.")
    with pytest.raises(NotFound):
        report_photo(house, STEWARD, ID)
    with pytest.raises(NotFound):
        remove_photo(house, STEWARD, ID, "again")
    assert [one.photo for one in list_work(house, STEWARD, WorkAsked("report"))] == ["taken away"]
    assert not keep_photo(house, PhotoGiven(ID, DEVICE, made.photo())), "sent again it must not come back"


def test_what_is_no_photo_is_refused_and_the_words_stay(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    report(house, reported(house))
    for data in (b"", b"<svg onload='alert(1)'/>", made.png_of_size(30_000, 30_000), made.photo()[:90]):
        with pytest.raises(BadInput):
            keep_photo(house, PhotoGiven(ID, DEVICE, data))
    monkeypatch.setattr(report_photos, "MOST_A_DAY", 0)
    with pytest.raises(Unavailable, match="in a day"):
        keep_photo(house, PhotoGiven(ID, DEVICE, made.photo()))
    assert [one.photo for one in list_work(house, STEWARD, WorkAsked("report"))] == [""]


@pytest.fixture(scope="module")
def app() -> Flask:
    return demo_app()


def sent(client: FlaskClient, data: bytes, kind: str = "image/jpeg", id_: str = ID) -> tuple[int, object]:
    made = client.post(f"/api/v1/reports/{id_}/photo?device={DEVICE}", data=data, content_type=kind)
    return made.status_code, made.get_json()


def test_over_the_api_and_on_the_stewards_page(app: Flask) -> None:
    client, inside = app.test_client(), app.extensions["chockbook"]
    seen = client.get(f"/api/v1/records/{CODE}").get_json()["revision"]["hash"]
    told = {"id": ID, "device": DEVICE, "code": CODE, "revision": seen, "words": "The port is on the left."}
    assert client.post("/api/v1/reports", json=told).status_code == 200
    assert sent(client, made.photo(), "text/html")[0] == 415
    assert sent(client, b"\xff\xd8\xff" + b"\0" * report_photos.LARGEST)[0] == 413
    assert sent(client, b"<!doctype html><script>alert(1)</script>")[0] == STATUS[BadInput]
    assert sent(client, made.with_place()) == (200, {"id": ID, "again": False})
    assert sent(client, made.with_place()) == (200, {"id": ID, "again": True})
    assert sent(client, made.photo("PNG"), "image/png")[0] == STATUS[Conflict]
    for path in (f"/api/v1/work/report/{ID}/photo", f"/steward/reports/{ID}/photo"):
        assert client.get(path).status_code in (401, 303), path
    somebody(inside, "photo.steward", Role.STEWARD)
    steward = signed_in(app, "photo.steward")
    shown = steward.get(f"/steward/reports/{ID}/photo")
    assert (shown.status_code, shown.mimetype) == (200, "image/jpeg")
    assert shown.headers["Cache-Control"] == "no-store"
    assert shown.headers["X-Content-Type-Options"] == "nosniff"
    assert "default-src 'none'" in shown.headers["Content-Security-Policy"]
    page = steward.get(f"/steward/work/report/{ID}").get_data(as_text=True)
    assert f'src="/steward/reports/{ID}/photo"' in page
    assert seen[:12] in page
    assert "with a photo" in steward.get("/steward/work?kind=report").get_data(as_text=True)
    token = token_of(inside, "photo.steward", Role.STEWARD)
    over = client.get(f"/api/v1/work/report/{ID}/photo", headers={"Authorization": f"Bearer {token}"})
    assert over.get_data() == shown.get_data()
    assert over.headers["Cache-Control"] == "no-store"
