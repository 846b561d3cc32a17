"""Every page over the demo catalogue: what it carries, how it fails, what it never says."""

import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass, replace
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from catalog.app import create_app
from catalog.config import Settings
from catalog.domain.cautions import DEMO_MARK, FULL
from catalog.resolve.answering.danger import FIRE as DANGER_FIRE
from catalog.resolve.answering.notes import PRIOR_DECIDES
from catalog.resolve.answering.scale import UNLISTED
from catalog.services.editions import edition_changes, list_editions
from catalog.services.records import list_records
from catalog.services.resolving import resolve_description
from catalog.services.views import Answer
from catalog.web import assets, wording

SAID = "white pickup, port left rear"
FORBIDDEN = re.compile(r"\b(safe|safely|dead|de-?energi[sz]ed|no risk)\b", re.IGNORECASE)


@pytest.fixture(scope="module")
def app(demo_data: Path) -> Iterator[Flask]:
    made = create_app(Settings.from_environment({"CHOCKBOOK_DATA": str(demo_data)}))
    yield made
    made.extensions["chockbook"].engine.dispose()


@pytest.fixture
def client(app: Flask) -> FlaskClient:
    return app.test_client()


@pytest.fixture(scope="module")
def codes(app: Flask) -> dict[str, list[str]]:
    """Codes of records in use, and of those that must not be used."""
    listed = list_records(app.extensions["chockbook"])
    return {
        "used": [entry.code for entry in listed if not entry.withdrawn],
        "not": [entry.code for entry in listed if entry.withdrawn],
    }


class Visible(HTMLParser):
    """The text of a page, without scripts and styles."""

    def __init__(self) -> None:
        super().__init__()
        self.parts: list[str] = []

    def handle_data(self, data: str) -> None:
        self.parts.append(data)


def text(html: str) -> str:
    parser = Visible()
    parser.feed(html)
    return " ".join(" ".join(parser.parts).split())


def every_page(codes: dict[str, list[str]]) -> list[str]:
    first = codes["used"][0]
    return [
        "/", "/desk", "/crew", "/steps", "/steward", "/steward/confidence", "/editions",
        "/editions/1/changes?to=3", "/editions/0/changes?to=1",
        "/find", "/find?q=cut+loop", "/find?q=qqqqq", "/nothing/here", f"/records/{first}/history",
        *(f"/records/{code}" for code in (*codes["used"], *codes["not"])),
    ]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Fetched:
    """What came of a path: the answer, and the text of its page."""

    answer: TestResponse
    page: str


@pytest.fixture(scope="module")
def fetched(app: Flask, codes: dict[str, list[str]]) -> dict[str, Fetched]:
    """Every page by its path, fetched once for all that is looked for in them."""
    client = app.test_client()
    answers = {path: client.get(path) for path in every_page(codes)}
    return {path: Fetched(answer, text(answer.text)) for path, answer in answers.items()}


def test_every_page_carries_the_demo_mark_and_the_cautions(fetched: dict[str, Fetched]) -> None:
    assert len([path for path in fetched if path.startswith("/records/")]) > 100
    for path, one in fetched.items():
        answer, page = one.answer, one.page
        assert answer.status_code == (404 if path == "/nothing/here" else 200), path
        assert DEMO_MARK in page, path
        for caution in FULL:
            assert caution in page, path


def test_no_page_says_safe_or_dead(fetched: dict[str, Fetched]) -> None:
    for path, one in fetched.items():
        page = one.page
        for allowed in ("bear on safety", "Safety-critical", "safety-critical"):
            page = page.replace(allowed, "")
        assert not FORBIDDEN.search(page), (path, FORBIDDEN.findall(page))


def test_pages_of_a_live_catalogue_carry_no_demo_mark(demo_data: Path) -> None:
    app = create_app(Settings.from_environment({"CHOCKBOOK_DATA": str(demo_data), "CHOCKBOOK_DEMO": "no"}))
    assert DEMO_MARK not in app.test_client().get("/").text
    app.extensions["chockbook"].engine.dispose()


def test_every_answer_has_the_security_headers_and_nothing_inline(fetched: dict[str, Fetched]) -> None:
    for path, one in fetched.items():
        answer = one.answer
        assert answer.headers["Content-Security-Policy"].startswith("default-src 'self'; ")
        assert "frame-ancestors 'none'" in answer.headers["Content-Security-Policy"]
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        assert answer.headers["Referrer-Policy"] == "no-referrer"
        assert not re.search(r"<script(?![^>]* src=)|<style|\sstyle=|\son[a-z]+=", answer.text), path
        assert "http://" not in answer.text.replace("http://www.w3.org/", ""), path
        assert "https://" not in answer.text, path


def test_a_description_is_posted_and_shown_without_a_script(client: FlaskClient) -> None:
    answer = client.post("/desk", data={"said": SAID})
    assert answer.status_code == 200
    assert answer.headers["Cache-Control"] == "no-store"
    page = text(answer.text)
    assert UNLISTED in page
    assert re.search(r"about \d in 10", page)
    assert f">\n{SAID}</textarea>" in answer.text
    assert "said=" not in answer.text
    assert page.index("Quellorne Brantock") < page.index(UNLISTED)


def test_the_live_part_is_the_same_answer_in_pieces(client: FlaskClient) -> None:
    answer = client.post("/crew/live", data={"said": SAID})
    assert answer.status_code == 200
    assert re.findall(r'data-part="(\w+)"', answer.text) == [
        "mirror",
        "understood",
        "danger",
        "proposed",
        "possible",
        "ask",
        "counted",
        "outcome",
        "status",
    ]
    assert "<html" not in answer.text
    assert client.get("/crew/live").status_code == 405


def test_boxes_on_the_page_add_up_to_less_than_ten(client: FlaskClient) -> None:
    html = client.post("/desk/live", data={"said": SAID, "all": "1"}).text
    filled: list[int] = []
    for row in re.findall(r'<svg class="boxes".*?</svg>', html, re.DOTALL):
        filled += [int(x) for x in re.findall(r'<rect (?:fill="url\(#fill-dots\)"|class="(?:on|rest)") x="(\d+)"', row)]
    assert 0 < len(filled) <= 19
    assert filled == sorted(set(filled))


def test_danger_stands_on_the_page_before_any_vehicle_is_known(client: FlaskClient) -> None:
    page = text(client.post("/desk/live", data={"said": "it's on fire"}).text)
    assert DANGER_FIRE in page
    assert "Possible vehicles" in page
    assert not re.search(r"about \d+ in|1 in 20", page.split("Possible vehicles")[1])


@pytest.mark.parametrize("said", [SAID, "pickup, brantock, smoke", "in the river", "hydrogen bus on its roof"])
def test_no_state_of_the_search_says_safe_or_dead(client: FlaskClient, said: str) -> None:
    form = {"said": said, "all": "1", "why": "1", "facts": "1", "answer": "roof=cannot_tell", "not": "QPW-TF3"}
    # What a caller may be taken to have said ("its power is dead") is offered in lists, and is no fact.
    page = text(re.sub(r"<select.*?</select>", "", client.post("/desk", data=form).text, flags=re.DOTALL))
    assert wording.COUNTED_TITLE in page
    assert not FORBIDDEN.search(page), FORBIDDEN.findall(page)


def test_a_question_or_vehicle_that_is_not_known_is_refused_on_the_page(client: FlaskClient) -> None:
    for field, value in (("answer", "nothing=yes"), ("answer", "roof=nothing"), ("not", "QQQ"), ("caller", "moon")):
        answer = client.post("/desk", data={"said": SAID, field: value})
        assert answer.status_code == 400, value
        assert "Steps for any vehicle" in text(answer.text)


def test_what_to_mind_in_an_answer_stands_above_its_vehicles(
    client: FlaskClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    def warned(*given: Any) -> Answer:
        return replace(resolve_description(*given), warnings=(PRIOR_DECIDES, "Sides may be swapped."))

    monkeypatch.setattr("catalog.web.pages.search.resolve_description", warned)
    page = text(client.post("/crew", data={"said": SAID}).text)
    for warning in (PRIOR_DECIDES, "Sides may be swapped."):
        assert page.index("Possible vehicles") < page.index(warning) < page.index(UNLISTED)
    assert "rates: simulated" in page or "rates: expert" in page


def test_a_record_shows_what_looks_like_it_and_what_tells_them_apart(client: FlaskClient) -> None:
    page = text(client.get("/records/QPW-TF3").text)
    part = page.split(wording.ALIKE_TITLE)[-1].split(wording.ALIKE_FOOT)[0]
    assert "Garvandine Muldrake Electric" in part
    assert part.index("Ways to cut high voltage off") < part.index(wording.TELL_APART)
    # An older edition is not compared with the newest.
    assert wording.ALIKE_FOOT not in client.get("/records/QPW-TF3?edition=2").text


def test_a_record_in_the_order_of_the_guide_template(client: FlaskClient) -> None:
    page = client.get("/records/QPW-TF3").text
    assert "/records/QPW-TF3?order=iso17840-3" in page
    other = text(client.get("/records/QPW-TF3?order=iso17840-3&edition=2").text)
    assert other.index("1 Identification, recognition") < other.index("8 Towing, transport, storage")
    assert client.get("/records/QPW-TF3?order=mine").status_code == 400


def test_what_was_not_read_is_said(client: FlaskClient) -> None:
    page = text(client.post("/desk/live", data={"said": "white pickup xyzzyplugh"}).text)
    assert "Not read: “xyzzyplugh”" in page


def test_a_text_that_is_too_long_is_refused_on_its_own_page(client: FlaskClient) -> None:
    answer = client.post("/desk", data={"said": "x" * 2001})
    assert answer.status_code == 400
    page = text(answer.text)
    assert "2001 characters" in page
    assert "Steps for any vehicle" in page


def test_markup_in_a_description_stays_text(client: FlaskClient) -> None:
    html = client.post("/desk", data={"said": "<b>pickup</b> </textarea><script>1</script>"}).text
    assert "<b>pickup" not in html
    assert "<script>1" not in html


def test_a_record_opens_with_its_emergency_data_in_order(
    fetched: dict[str, Fetched], codes: dict[str, list[str]]
) -> None:
    for code in codes["used"]:
        page = fetched[f"/records/{code}"].page
        order = [
            "Stop it moving",
            "Doors without power",
            "Cut high voltage off",
            "Do not cut here",
            "What tells it apart",
        ]
        places = [page.index(heading) for heading in order]
        assert places == sorted(places), code
        cautious = [page.find(line) for line in (wording.PORT_ONLY_IF, wording.PORT_NONE)]
        assert any(0 <= place < places[0] for place in cautious), code


def test_a_record_code_may_be_typed_in_any_spelling(client: FlaskClient, codes: dict[str, list[str]]) -> None:
    code = codes["used"][0]
    answer = client.get(f"/records/{code.lower().replace('-', '')}?edition=3")
    assert answer.status_code == 302
    assert answer.headers["Location"] == f"/records/{code}?edition=3"


def test_an_older_edition_says_so_and_links_to_the_newer(client: FlaskClient, codes: dict[str, list[str]]) -> None:
    code = codes["used"][1]
    page = client.get(f"/records/{code}?edition=2").text
    assert "Edition 2 of 3; a newer one exists." in page
    assert f'href="/records/{code}">Open edition 3' in page
    assert "a newer one exists" not in client.get(f"/records/{code}").text


def test_a_record_as_it_stood_at_a_time(client: FlaskClient, app: Flask, codes: dict[str, list[str]]) -> None:
    first = list_editions(app.extensions["chockbook"])[0]
    code = codes["used"][1]
    answer = client.get(f"/records/{code}?at={first.published_at:%Y-%m-%dT%H:%M:%S}Z")
    assert "Edition 1 of 3" in answer.text
    assert client.get(f"/records/{code}?at=2026-03-01T09:00:00").status_code == 400
    assert client.get(f"/records/{code}?at=yesterday").status_code == 400
    assert client.get(f"/records/{code}?edition=two").status_code == 400
    assert client.get(f"/records/{code}?edition=99").status_code == 404


def test_a_withdrawn_record_shows_its_reason_and_no_data(client: FlaskClient, codes: dict[str, list[str]]) -> None:
    assert codes["not"]
    for code in codes["not"]:
        page = text(client.get(f"/records/{code}").text)
        assert "DO NOT USE" in page
        assert "Cut high voltage off" not in page
        assert "Stop it moving" not in page
        assert "Steps for any vehicle" in page
        before = text(client.get(f"/records/{code}?edition=1").text)
        assert "a newer one exists" in before


def test_changes_stand_side_by_side_with_the_critical_first(client: FlaskClient, app: Flask) -> None:
    page = text(client.get("/editions/1/changes?to=2").text)
    assert page.index("Safety-critical: 3") < page.index("Identity, order and notes")
    assert "left front quarter" in page
    assert client.get("/editions/1/changes").status_code == 400
    assert client.get("/editions/1/changes?to=99").status_code == 404
    assert edition_changes(app.extensions["chockbook"], 1, 2)


def test_the_sayings_are_paged_and_narrowed(client: FlaskClient) -> None:
    first = client.get("/steward/sayings")
    assert first.status_code == 200
    onward = re.search(r'<a href="([^"]*)">next</a>', first.text)
    assert onward is not None
    second = client.get("/steward/sayings" + onward[1].replace("&amp;", "&"))
    assert second.status_code == 200
    assert "page 2 of" in second.text
    assert "previous</a>" in second.text
    narrowed = client.get("/steward/sayings?words=muffler&about=tailpipe")
    assert "muffler" in narrowed.text
    assert "page 1 of" not in narrowed.text
    assert "Nothing is read from these words" in client.get("/steward/sayings?words=zorble").text
    assert client.get("/steward/sayings?page=x").status_code == 400


def test_the_steward_sees_how_much_is_not_stated(client: FlaskClient, codes: dict[str, list[str]]) -> None:
    first = client.get("/steward").text
    page = first + "".join(client.get(f"/steward?page={number}").text for number in (2, 3))
    for code in (*codes["used"], *codes["not"]):
        assert f'href="/records/{code}"' in page
    assert "Do not use:" in page
    assert "chockbook verify --expect" in first
    assert client.get("/steward?page=x").status_code == 400


def test_finding_highlights_and_links_to_the_page_of_the_guide(client: FlaskClient) -> None:
    html = client.get("/find?q=cut+loop").text
    link = re.search(r'href="(/sources/[A-Z0-9-]+/\d+)#(p\d+)"', html)
    assert "<mark>" in html
    assert link
    assert f'id="{link[2]}"' in client.get(link[1]).text
    assert client.get("/sources/NOT-1/1").status_code == 404


def test_errors_say_what_and_what_next(client: FlaskClient) -> None:
    missing = client.get("/records/QQQ-QQQ")
    assert missing.status_code == 404
    assert "is not a record code" in text(missing.text)
    assert client.post("/find").status_code == 405
    assert client.post("/desk", data={"said": "x" * 70000}).status_code == 413
    for answer in (missing, client.get("/nothing/here"), client.post("/find")):
        assert "Steps for any vehicle" in text(answer.text)
        assert answer.headers["Cache-Control"] == "no-store"


def test_without_a_catalogue_the_general_steps_still_stand(tmp_path: Path) -> None:
    app = create_app(Settings(data=tmp_path, database_url=f"sqlite:///{tmp_path / 'none.db'}"))
    client = app.test_client()
    for path in ("/desk", "/crew"):
        answer = client.get(path)
        assert answer.status_code == 503
        assert "Steps for any vehicle" in text(answer.text)
    assert client.get("/steps").status_code == 200
    record = client.get("/records/2MP-XP4")
    assert record.status_code == 503
    assert record.headers["Retry-After"]
    app.extensions["chockbook"].engine.dispose()


def test_a_fault_of_ours_is_a_page_without_details(app: Flask, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object, **__: object) -> None:
        raise RuntimeError("secret detail")

    monkeypatch.setattr("catalog.web.pages.desk.desk_answer", broken)
    answer = app.test_client().post("/desk", data={"said": "pickup"})
    assert answer.status_code == 500
    assert "secret detail" not in answer.text
    assert "Steps for any vehicle" in answer.text


def test_static_files_keep_for_good_under_their_hash_only(client: FlaskClient, app: Flask) -> None:
    link = re.search(r'href="(/assets/(\w{12})/tokens\.css)"', client.get("/").text)
    assert link
    with client.get(link[1]) as fixed:
        assert fixed.status_code == 200
        assert "immutable" in fixed.headers["Cache-Control"]
    with client.get("/assets/000000000000/tokens.css") as other:
        assert other.headers["Cache-Control"] == "no-cache"
    with client.get(f"/assets/{link[2]}/fonts/b612-latin-400-normal.woff2") as font:
        assert font.mimetype == "font/woff2"
    assert client.get(f"/assets/{link[2]}/../web/wording.py").status_code == 404


def test_the_hash_follows_the_content(tmp_path: Path) -> None:
    shutil.copytree(assets.FOLDER, tmp_path / "static")
    before = assets.read_assets(tmp_path / "static").version
    assert before == assets.read_assets().version
    (tmp_path / "static" / "base.css").write_text("body{}", "utf-8")
    assert assets.read_assets(tmp_path / "static").version != before
