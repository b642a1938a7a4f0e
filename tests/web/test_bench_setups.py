"""Set-ups on the page: listed, drawn, typed back, compared, printed."""

import html
import io
import math
import re

import pytest
from pypdf import PdfReader

from tintop.car.chassis import End
from tintop.garage.bench import bench_of
from tintop.garage.setups import compare_setups
from tintop.lap.setup_gain import confirmed
from tintop.logbook.entries import SetupChanged
from tintop.papers.run_paper import COMING_IN, GOING_OUT, HANDLING, PEAKS, WHERE
from tintop.physics.toe import toe_over_rim
from tintop.store.demo import demo_path
from tintop.web import sheet_fields
from tintop.web.setup_sheet_form import typed_setup


@pytest.fixture
def benched(garage):
    """The small garage with the demo's chassis and three of its set-ups."""
    (garage.folder / "setups").mkdir(exist_ok=True)
    demo = demo_path("chassis.toml").parent
    for name in ("chassis.toml", "setups/road.toml", "setups/dry.toml", "setups/wet.toml"):
        (garage.folder / name).write_bytes((demo / name).read_bytes())
    garage.look_outside()
    return garage


def _form(garage, stem: str, /, **changed: str) -> dict[str, str]:
    """The sheet as it stands, with some fields typed over."""
    bench = bench_of(garage)
    found = typed_setup(bench.setups[stem], bench.chassis, bench.settings.units)
    seen = garage.document(f"setups/{stem}.toml").digest
    return {**found, "seen": seen, "key": "one-form", **changed}


def _text(found) -> str:
    return html.unescape(re.sub(r"<[^>]+>", " ", found.text))


def test_the_list_says_what_each_is_for_and_what_is_on_the_car(benched, page):
    found = page.get("/bench/setups")
    assert found.status_code == 200
    assert "Nothing says which set-up is on the car" in found.text
    for words in ("Road drive", "wet circuit", "semi-slicks", "fast-road pads"):
        assert words in found.text
    saved = page.post("/bench/setups/road", data=_form(benched, "road", is_on_car="yes"))
    assert saved.status_code == 303
    assert bench_of(benched).fitted == "road"
    assert "/bench/setups/compare?from=road&amp;to=dry" in page.get("/bench/setups").text


def test_a_sheet_is_drawn_with_its_values_at_the_corners_and_typed_as_it_stands(benched, page, reader):
    found = page.get("/bench/setups/dry")
    assert found.status_code == 200
    assert "camber −2.90°" in found.text and 'value="-2.9 deg"' in found.text
    assert 'value="1 mm out each"' in found.text
    seen = reader.get("/bench/setups/dry")
    assert seen.status_code == 200 and "Save the sheet" not in seen.text
    assert reader.post("/bench/setups/dry", data=_form(benched, "dry")).status_code == 403
    assert page.get("/bench/setups/none").status_code == 404


def test_what_is_typed_back_is_kept_in_the_document(benched, page):
    given = _form(
        benched,
        "dry",
        camber_FL="-3.0",
        toe_FL="1.5 mm out per wheel",
        rebound_FL="4 clicks from full hard",
        pressure_cold_FL="23.5 psi",
        bar_hole_rear="2",
        bias_turns="1.5",
        bias_way="to the rear",
        reason="set down after practice",
    )
    assert page.post("/bench/setups/dry", data=given).status_code == 303
    setup = bench_of(benched).setups["dry"]
    left, right = setup.corners[:2]
    assert left.camber == pytest.approx(-0.0523599, abs=1e-6)
    assert right.camber == pytest.approx(-0.0506145, abs=1e-6)
    assert left.toe == pytest.approx(-1.5e-3 / 0.42, rel=0.1)
    assert (left.rebound, right.rebound) == (12, 10)  # 4 from full hard of 16
    assert left.pressure_cold == pytest.approx(23.5 * 6894.757, rel=1e-6)
    assert (setup.rear.bar_hole, setup.brake_bias_turns) == (2, -1.5)
    revision = benched.document("setups/dry.toml")
    assert (revision.why, revision.who) == ("set down after practice", "Robin")


def test_a_sheet_is_typed_as_it_is_printed(benched, page):
    given = _form(
        benched,
        "dry",
        bump_FL="7",
        rebound_FL="4 from hard",
        toe_FL="2 out",
        toe_RL="1/16 in out",
        toe_RR="",
        camber_FR="",
        camber_RL="+0.5 deg sure",
    )
    assert page.post("/bench/setups/dry", data=given).status_code == 303
    fl, fr, rl, rr = bench_of(benched).setups["dry"].corners
    assert (fl.bump, fl.rebound) == (7, 12)  # 4 from full hard of 16
    rims = [bench_of(benched).chassis.at(end).rim_diameter for end in End]
    assert 1e3 * toe_over_rim(fl.toe, rims[0]) == pytest.approx(-2.0)
    assert 1e3 * toe_over_rim(rl.toe, rims[1]) == pytest.approx(-25.4 / 16)
    assert rr.toe == pytest.approx(rl.toe) and fr.camber == pytest.approx(fl.camber)
    assert math.degrees(rl.camber) == pytest.approx(0.5)


def test_an_untouched_sheet_keeps_its_document_and_marks_what_is_on_the_car(benched, page):
    before = benched.document("setups/dry.toml").digest
    given = _form(benched, "dry", is_on_car="yes", reason="Friday night")
    first = page.post("/bench/setups/dry", data=given)
    again = page.post("/bench/setups/dry", data=given)  # sent twice, it writes once
    assert first.status_code == again.status_code == 303
    assert benched.document("setups/dry.toml").digest == before
    put_on = [change for _, change in benched.book.of(SetupChanged)]
    assert [(each.item, each.written) for each in put_on] == [("set-up", "dry")]


def test_doubts_are_asked_and_nothing_typed_is_lost(benched, page):
    given = _form(
        benched,
        "dry",
        toe_FR="2",
        camber_FL="+2.5",
        camber_FR="2.5",
        camber_RR="steep",
        ride_height_RL="12 in",
        pressure_cold_RL="0.6",
        note="loose on entry",
    )
    found = page.post("/bench/setups/dry", data=given)
    assert found.status_code == 422
    said = _text(found)
    assert "leaves open: in or out" in said and "does the top lean in or out?" in said
    assert "2.5 deg, top leaning out? It stands at -2.9 deg." in said
    assert "12 in? It stands at 142 mm." in said and "0.6 bar (8.7 psi) cold? It stands at" in said
    for choice in ("+2.5 deg sure", "-2.5 deg", "12 in sure", "142 mm", "0.6 bar sure"):
        assert f'data-write="{choice}"' in found.text
    for kept in ('value="2"', 'value="+2.5"', 'value="steep"', "loose on entry"):
        assert kept in found.text
    assert bench_of(benched).setups["dry"].note != "loose on entry"


@pytest.mark.parametrize(
    ("field", "text", "said"),
    [
        ("tyres", "hovercraft", "not in the list"),
        ("rebound_FL", "20 from full soft", "0 to 16 clicks"),
        ("rebound_FL", "20", "0 to 16 clicks"),
        ("bias_turns", "a lot", "number of turns"),
        ("bias_turns", "50", "turns of the rear valve"),
        ("ballast", "90 kg", "one of: passenger's footwell"),
        ("ride_height_RL", "-1", "ride height"),
        ("name", "", "needed"),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(benched, page, field, text, said):
    found = page.post("/bench/setups/dry", data=_form(benched, "dry", **{field: text}))
    assert found.status_code == 422
    assert said in _text(found)


def test_two_who_type_at_once_see_both_sheets(benched, page, crew):
    mine = _form(benched, "dry", camber_FL="-3.0 deg")
    assert page.post("/bench/setups/dry", data=_form(benched, "dry", camber_FL="-2.7 deg")).status_code == 303
    found = crew.post("/bench/setups/dry", data=mine)
    assert found.status_code == 409
    assert (
        "-2.7 deg" in found.text and 'value="-3 deg"' not in found.text and 'value="-3.0 deg"' in found.text
    )
    seen = re.search(r'name="seen" value="([0-9a-f]+)"', found.text)
    assert seen is not None
    assert crew.post("/bench/setups/dry", data={**mine, "seen": seen[1]}).status_code == 303
    assert bench_of(benched).setups["dry"].corners[0].camber == pytest.approx(-0.0523599, abs=1e-6)


def test_a_new_name_makes_a_new_set_up(benched, page):
    found = page.post("/bench/setups/dry", data=_form(benched, "dry", save_as="Dry, cold day"))
    assert found.headers["location"].startswith("/bench/setups/dry-cold-day")
    assert {"dry", "dry-cold-day"} <= set(bench_of(benched).setups)
    assert bench_of(benched).setups["dry-cold-day"].name == "Dry, cold day"
    taken = page.post("/bench/setups/dry", data=_form(benched, "dry", save_as="Wet"))
    assert taken.status_code == 422 and "of this name already" in taken.text


def _oval() -> str:
    """A short circuit of its middle line alone: two straights of 120 m, two half circles of 40 m."""
    points = [(float(x), 0.0) for x in range(0, 120, 5)]
    points += [(120.0 + 40.0 * math.sin(a / 25), 40.0 - 40.0 * math.cos(a / 25)) for a in range(0, 78, 3)]
    points += [(120.0 - x, 80.0) for x in range(0, 120, 5)]
    points += [(-40.0 * math.sin(a / 25), 40.0 + 40.0 * math.cos(a / 25)) for a in range(0, 78, 3)]
    return "x_m,y_m\n" + "".join(f"{x:.3f},{y:.3f}\n" for x, y in points)


def without_doubts(*given, known, chassis_known, **more):
    """The gain with the range of the surface alone, which takes no seconds."""
    return confirmed(*given, **more)


def test_from_one_to_another_job_by_job(benched, page, reader, monkeypatch):
    monkeypatch.setattr("tintop.garage.setups.confirmed", without_doubts)
    found = reader.get("/bench/setups/compare?from=road&to=dry")
    assert found.status_code == 200
    said = _text(found)
    for words in ("strut top", "track rod", "clicks stiffer", "torque 105 N·m", "1,000 km of road"):
        assert words in said
    assert found.text.count('type="checkbox"') > 10
    part = page.get("/bench/setups/compare?from=dry&to=road&part=answer")
    assert "Before it leaves" in part.text and "<html" not in part.text
    assert page.get("/bench/setups/compare?from=road&to=moon").status_code == 422
    (benched.folder / "circuits" / "oval.csv").write_text(_oval(), encoding="utf-8")
    driven = page.get("/bench/setups/compare?from=dry&to=wet&circuit=oval")
    assert driven.status_code == 200
    assert "s a lap" in driven.text and "95 % range" in driven.text


def test_papers_are_one_page_each(benched, page):
    sheet = page.get("/bench/setups/dry.pdf?before=road")
    assert sheet.headers["content-type"] == "application/pdf"
    (one,) = PdfReader(io.BytesIO(sheet.content)).pages
    assert "changed from" in one.extract_text() and "set down" in one.extract_text()
    run = page.get("/bench/run-sheet.pdf?setup=dry&event=Midsummer&session=Practice")
    (one,) = PdfReader(io.BytesIO(run.content)).pages
    assert "Midsummer" in one.extract_text() and "to set" in one.extract_text()
    assert page.get("/bench/setups/none.pdf").status_code == 404


def test_the_run_sheet_on_paper_has_the_fields_of_the_page(garage, page):
    """Every field of the page that is typed back stands on the paper; also where no chassis is described."""
    paper = PdfReader(io.BytesIO(page.get("/bench/run-sheet.pdf").content)).pages[0].extract_text()
    on_page = _text(page.get("/events/midsummer/run-sheet/midsummer-practice"))
    for words in (*GOING_OUT, *COMING_IN, *PEAKS, *sheet_fields.TOOLS.values()):
        assert words in paper and words in on_page
    assert (WHERE, HANDLING) == (sheet_fields.WHERE, sheet_fields.HANDLING)
    for heading in ("Cold pressures", "Hot pressures", "Tread temperatures", "Pads", "Lap list", "Wet road"):
        assert heading in paper and heading in on_page


@pytest.mark.parametrize("address", ["/bench/setups", "/bench/setups/compare"])
def test_without_a_chassis_it_is_said(page, address):
    found = page.get(address)
    assert found.status_code == 200 and "chassis.toml" in found.text


def test_a_set_up_that_does_not_read_hides_no_other(benched, page):
    (benched.folder / "setups" / "wet.toml").write_text('name = "Wet"\n', encoding="utf-8")
    found = page.get("/bench/setups")
    assert found.status_code == 200
    assert "Road drive" in found.text and "cannot be used" in found.text


def test_pairs_looked_at_before_are_not_compared_again(benched, page, monkeypatch):
    compared = []

    def counted(bench, a, b, *rest, **more):
        compared.append((a, b))
        return compare_setups(bench, a, b, *rest, **more)

    monkeypatch.setattr("tintop.web.pages.bench_setups.compare_setups", counted)
    for _ in range(2):
        for to in ("dry", "wet"):
            assert page.get(f"/bench/setups/compare?from=road&to={to}&circuit=none").status_code == 200
    assert compared == [("road", "dry"), ("road", "wet")]


def test_what_is_compared_from_is_said_where_nothing_says_what_is_on_the_car(benched, page):
    found = page.get("/bench/setups/compare?circuit=none")
    assert "Nothing says which set-up is on the car; this is for dry." in found.text
