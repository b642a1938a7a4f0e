"""garage.toml reads back, and a wrong one never locks the owner out."""

from pathlib import Path

import pytest

from stores import LANTERN, new_store
from tintop.errors import BadInput
from tintop.settings import Settings
from tintop.store.settings_document import settings_from, settings_text


def test_settings_read_back() -> None:
    own = Settings(
        title='The "Lantern"', owner="Ann\\B", currency="kr", units={**LANTERN.units, "mass": "lb"}
    )
    assert settings_from(settings_text(own)) == own
    assert settings_from('title = "Lantern"\n') == Settings(title="Lantern")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("title = ", "not TOML"),
        ("", "garage.toml, title"),
        ("title = 3", "garage.toml, title: found 3"),
        ('title = "a"\ncolour = "red"', "colour: found an unknown field"),
        ('title = "a"\nunits = 3', "units: found 3; expected a table"),
        ('title = "a"\n[units]\npressure = "atm"', "units.pressure: found 'atm'; expected one of bar, psi"),
        ('title = "a"\n[units]\nsmell = "kg"', "units.smell: found 'kg'; expected one of pressure"),
        ('title = "a"\n[units]\nmass = 3', "units.mass: found 3; expected one of kg"),
    ],
)
def test_a_wrong_field_is_named(text: str, words: str) -> None:
    with pytest.raises(BadInput) as refused:
        settings_from(text)
    assert words in str(refused.value)


def test_settings_change_by_a_revision_and_a_broken_file_leaves_the_last_good_ones(tmp_path: Path) -> None:
    with new_store(tmp_path) as store:
        first = store.document("garage.toml")
        own = Settings(title="Lantern II", currency="kr")
        store.save_settings(own, based_on=first.digest, who="Ann", why="a new car")
        assert store.settings == own
        with pytest.raises(BadInput, match="not TOML"):
            store.save_document("garage.toml", "title =", based_on=None, who="Ann", why="")
        (tmp_path / "garage.toml").write_text("title = \n")
        (taken,) = store.take_in_outside_edits()
        assert taken.origin == "edited outside"
        assert store.settings == own
        assert any("last garage.toml that could be read" in words for words in store.notices)
