from html.parser import HTMLParser
from pathlib import Path

import pytest
from drawn import STEP, chances, envelope, event, judged, lap, race

from demo_cars import demo_car, demo_circuit, demo_lane
from tintop.answer import Answer, Verdict
from tintop.charts import html, ink
from tintop.charts.folders import write_lap_charts, write_race_charts
from tintop.errors import BadInput

_ANSWER = Answer(
    question="How quick?",
    verdict=Verdict.FOUND,
    sentence="A lap & a half.",
    figures=(),
    next_thing="Measure <the> tyres.",
    cautions=("Trust the gauge.",),
)


class _Outside(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self.tags: list[str] = []
        self.ids: list[str] = []

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        for name, value in attributes:
            if name in {"src", "href", "xlink:href"} and not (value or "").startswith("#"):
                self.found.append(f"{tag} {value}")
            if name == "id":
                self.ids.append(value or "")


def _lap_folder(folder: Path) -> list[Path]:
    return write_lap_charts(
        _ANSWER, demo_car(), demo_circuit(STEP), demo_lane(STEP), lap(), envelope(), folder
    )


def test_a_lap_folder_holds_pictures_and_one_page_that_fetches_nothing(tmp_path: Path) -> None:
    written = _lap_folder(tmp_path / "new" / "charts")
    assert [path.name for path in written] == [
        "map.svg",
        "traces.svg",
        "envelope.svg",
        "road.svg",
        "index.html",
    ]
    assert sorted(path.name for path in (tmp_path / "new" / "charts").iterdir()) == sorted(
        path.name for path in written
    )
    page = written[-1].read_text(encoding="utf-8")
    outside = _Outside()
    outside.feed(page)
    assert outside.found == []
    assert "script" not in outside.tags
    assert outside.tags.count("svg") == 4
    assert len(outside.ids) == len(set(outside.ids))
    assert "A lap &amp; a half. Measure &lt;the&gt; tyres." in page
    assert "Caution: Trust the gauge." in page
    assert "@media print" in page
    assert "prefers-color-scheme: dark" in page


def test_a_race_folder_holds_pictures_and_a_page(tmp_path: Path) -> None:
    written = write_race_charts(_ANSWER, demo_car(), event(), race(), judged(), chances(), tmp_path)
    assert [path.name for path in written] == [
        "lasting.svg",
        "temperatures.svg",
        "fuel.svg",
        "wear.svg",
        "laps.svg",
        "index.html",
    ]
    outside = _Outside()
    outside.feed(written[-1].read_text(encoding="utf-8"))
    assert len(outside.ids) == len(set(outside.ids))


def test_writing_again_replaces_and_gives_the_same_bytes(tmp_path: Path) -> None:
    first = [path.read_bytes() for path in _lap_folder(tmp_path)]
    assert [path.read_bytes() for path in _lap_folder(tmp_path)] == first


def test_a_folder_that_is_a_file_is_refused_in_one_sentence(tmp_path: Path) -> None:
    taken = tmp_path / "charts"
    taken.write_text("mine", encoding="utf-8")
    for folder in (taken, taken / "below"):
        with pytest.raises(BadInput) as refused:
            html.write_folder({"map.svg": "<svg/>"}, folder)
        said = str(refused.value)
        assert str(folder) in said
        assert "Name another folder" in said
        assert "\n" not in said
    assert taken.read_text(encoding="utf-8") == "mine"


def test_a_file_that_cannot_be_replaced_leaves_nothing_half_written(tmp_path: Path) -> None:
    (tmp_path / "map.svg").mkdir()
    with pytest.raises(BadInput, match="cannot be written"):
        html.write_folder({"map.svg": "<svg/>"}, tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["map.svg"]


def test_the_page_is_readable_light_and_dark() -> None:
    assert ink.contrast("#f1eee6", "#1b1a18") >= 7.0
    assert ink.contrast("#bdb7a9", "#1b1a18") >= 4.5
