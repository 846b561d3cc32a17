"""How common vehicles are, as a site tells it."""

from pathlib import Path

import numpy as np
import pytest

from catalog.config import Settings
from catalog.errors import BadInput
from catalog.resolve.tables import with_popularity
from catalog.services.popularity import UNKNOWN, read_popularity
from tests.unit.resolve_cases import FLEET, tables


def test_half_of_the_prior_is_the_sites_and_half_is_even() -> None:
    plain = tables(*FLEET)
    met = with_popularity(plain, {"A00": 30.0, "A02": 10.0, "gone": 60.0})
    assert list(met.arrays["prior"]) == pytest.approx([0.375 + 1 / 12, 1 / 12, 0.125 + 1 / 12, *[1 / 12] * 3])
    assert np.array_equal(plain.arrays["prior"], np.full(6, 1 / 6))
    assert met.arrays["sig_body"] is plain.arrays["sig_body"]


def test_of_no_listed_vehicle_any_is_as_common_as_another() -> None:
    met = with_popularity(tables(*FLEET), {"gone": 60.0, "A01": 0.0})
    assert np.array_equal(met.arrays["prior"], np.full(6, 1 / 6))


def test_a_file_is_read_with_and_without_a_header(tmp_path: Path) -> None:
    file = tmp_path / "popularity.csv"
    file.write_text("code,share\nQPW-TF3,140\n\n KDF-F3R , 12.5\n", encoding="utf-8")
    assert read_popularity(file).shares == {"QPW-TF3": 140.0, "KDF-F3R": 12.5}
    file.write_text("QPW-TF3,140\n", encoding="utf-8")
    assert read_popularity(file).shares == {"QPW-TF3": 140.0}
    assert read_popularity(None) is UNKNOWN


@pytest.mark.parametrize("text", ["QPW-TF3", "QPW-TF3,many", "QPW-TF3,-1", "QPW-TF3,nan", "A,1\nA,2", ",1", "A,1,2"])
def test_a_fault_is_told_with_its_line(text: str, tmp_path: Path) -> None:
    file = tmp_path / "popularity.csv"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(BadInput, match=r"popularity\.csv, line \d:"):
        read_popularity(file)


def test_a_missing_file_is_told_at_the_start(tmp_path: Path) -> None:
    settings = Settings.from_environment({"CHOCKBOOK_POPULARITY": str(tmp_path / "none.csv")})
    with pytest.raises(BadInput, match="cannot be read"):
        read_popularity(settings.popularity)
