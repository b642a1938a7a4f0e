"""The run sheet: from what a cold thumb types to entries in SI, asked where it reads two ways, never lost."""

import re

import pytest

from tintop.logbook.entries import Measure, Reading, SessionRun

SHEET = "/events/midsummer/run-sheet/midsummer-practice"


def hidden(html: str, name: str) -> str:
    found = re.search(rf'<input type="hidden" name="{name}" value="([^"]*)"', html)
    assert found, name
    return found[1]


def opened(page, address=SHEET) -> dict[str, str]:
    """The sheet as a browser would send it back untouched."""
    html = page.get(address).text
    fields = {name: hidden(html, name) for name in ("key", "seen")}
    sheet = html[html.index('<form method="post" class="sheet"') :]
    for name, value in re.findall(r'<input id="([^"]+)" name="[^"]+" type="text" value="([^"]*)"', sheet):
        fields[name] = value
    for name, value in re.findall(r'<textarea id="([^"]+)"[^>]*>([^<]*)</textarea>', sheet):
        fields[name] = value
    for name, options in re.findall(r'<select id="([^"]+)"[^>]*>(.*?)</select>', sheet, re.S):
        chosen = re.search(r'<option value="([^"]*)" selected', options)
        fields[name] = chosen[1] if chosen else ""
    for name in re.findall(r'<input type="checkbox" id="([^"]+)" name="[^"]+" value="yes" checked', sheet):
        fields[name] = "yes"
    return fields


def runs(garage, session="midsummer-practice") -> list[SessionRun]:
    return [run for _entry, run in garage.book.of(SessionRun) if run.session == session]


def readings(garage, session="midsummer-practice") -> dict[tuple[Measure, str], Reading]:
    return {
        (reading.measure, reading.corner): reading
        for _entry, reading in garage.book.of(Reading)
        if reading.session == session
    }


def test_the_next_sheet_is_that_of_the_first_session_to_come(page):
    answer = page.get("/events/midsummer/run-sheet")
    assert answer.status_code == 303
    assert answer.headers["location"] == SHEET


def test_typed_text_becomes_si_entries(page, garage):
    sheet = opened(page)
    sheet.update(
        driver="Robin",
        start_clock="9.05",
        fuel_before="30",
        tyres="tyres-a",
        pressure_cold_FL="24",
        pressure_cold_RR="1.7 bar",
        laps="11",
        minutes="20",
        best_lap="1.43.2",
        lap_times="1:45,0 1.43.2\n104.1s",
        fuel_after="22,5 L",
        pressure_hot_FL="32 psi",
        tread_inner_FL="85",
        tread_outer_FL="180 F",
        pad_inner_FL="9",
        coolant_peak="205",
        oil_peak="110 °C",
        air_temp="24",
        is_wet="yes",
        remark_mid_understeer="yes",
        remark_exit_oversteer="yes",
        remark_words="Pedal long\r\nafter lap eight",
        who="Kim",
        gauge="Dial gauge, 0 to 60 psi",
    )
    answer = page.post(SHEET, data=sheet)
    assert answer.status_code == 303, answer.text
    assert "saved=" in answer.headers["location"]
    (run,) = runs(garage)
    assert run.fuel_before == pytest.approx(0.030)
    assert run.fuel_after == pytest.approx(0.0225)
    assert run.laps == 11
    assert run.duration == 1200.0
    assert run.best_lap == pytest.approx(103.2)
    assert run.lap_times == pytest.approx((105.0, 103.2, 104.1))
    assert run.distance == pytest.approx(11 * garage.circuit("circuits/larkmoor.csv").length)
    assert run.coolant_peak == pytest.approx((205 - 32) / 1.8)
    assert run.oil_peak == 110.0
    assert run.is_wet
    assert run.start_clock == "09:05"
    assert run.remarks == "understeer mid-corner, oversteer on exit\nPedal long\nafter lap eight"
    found = readings(garage)
    assert found[Measure.PRESSURE_COLD, "FL"].value == pytest.approx(24 * 6894.757, rel=1e-6)
    assert found[Measure.PRESSURE_COLD, "FL"].written == "24"
    assert found[Measure.PRESSURE_COLD, "FL"].is_guessed_unit
    assert found[Measure.PRESSURE_COLD, "RR"].value == pytest.approx(170000.0)
    assert not found[Measure.PRESSURE_HOT, "FL"].is_guessed_unit
    assert found[Measure.TREAD_TEMP_INNER, "FL"].value == 85.0
    assert found[Measure.TREAD_TEMP_OUTER, "FL"].value == pytest.approx((180 - 32) / 1.8)
    assert found[Measure.PAD_THICKNESS, "FL"].value == pytest.approx(0.009)
    assert found[Measure.PAD_THICKNESS, "FL"].part == "front-pads-1"
    entry = next(entry for entry, reading in garage.book.of(Reading) if reading.written == "24")
    assert (entry.who, entry.instrument) == ("Kim", "Dial gauge, 0 to 60 psi")
    assert "205" in next(entry for entry, run in garage.book.of(SessionRun) if run.laps == 11).note


def test_who_and_instrument_are_remembered(page):
    sheet = opened(page)
    sheet.update(who="Kim O'Dell", gauge="Dial gauge", pressure_cold_FL="24")
    assert page.post(SHEET, data=sheet).status_code == 303
    again = opened(page, "/events/midsummer/run-sheet/midsummer-race")
    assert again["who"] == "Kim O&#39;Dell"
    assert again["gauge"] == "Dial gauge"


def saved_again(page, answer, sheet, **mended):
    """Send the sheet a refusal gave back, with what was mended."""
    sheet.update(key=hidden(answer.text, "key"), seen=hidden(answer.text, "seen"), **mended)
    return page.post(SHEET, data=sheet)


def test_what_reads_two_ways_is_asked_and_the_rest_is_saved(page, garage):
    sheet = opened(page)
    sheet.update(fuel_before="5 gal", driver="Robin", pressure_cold_FL="24")
    answer = page.post(SHEET, data=sheet)
    assert answer.status_code == 422
    assert "2 saved, 1 to choose or mend" in answer.text
    assert (runs(garage)[0].driver, runs(garage)[0].fuel_before) == ("Robin", None)
    assert readings(garage)[Measure.PRESSURE_COLD, "FL"].written == "24"
    assert 'data-write="5 imperial gal" data-for="fuel_before"' in answer.text
    assert '<a href="#fuel_before">' in answer.text
    assert 'value="5 gal"' in answer.text
    assert 'value="Robin"' in answer.text
    assert "24 psi" in answer.text
    assert hidden(answer.text, "key") != sheet["key"]
    assert saved_again(page, answer, sheet, fuel_before="5 imperial gal").status_code == 303
    assert (runs(garage)[0].driver, runs(garage)[0].fuel_before) == ("Robin", pytest.approx(5 * 4.54609e-3))
    assert len([e for e in garage.book.entries if isinstance(e.matter, Reading) and e.matter.session]) == 2


def test_nonsense_gets_a_sentence_at_its_field_and_the_rest_is_saved(page, garage):
    sheet = opened(page)
    sheet.update(laps="eleven", pressure_hot_RL="9000 psi", pressure_cold_FL="24", remark_words="kept")
    answer = page.post(SHEET, data=sheet)
    assert answer.status_code == 422
    assert "2 saved, 2 to choose or mend" in answer.text
    (run,) = runs(garage)
    assert (run.laps, run.remarks) == (0, "kept")
    assert set(readings(garage)) == {(Measure.PRESSURE_COLD, "FL")}
    for name in ("laps", "pressure_hot_RL"):
        marked = re.search(rf'<input id="{name}"[^>]*aria-invalid="true"', answer.text)
        assert marked, name
    assert ">kept</textarea>" in answer.text
    assert saved_again(page, answer, sheet, laps="11", pressure_hot_RL="30").status_code == 303
    assert (runs(garage)[0].laps, runs(garage)[0].remarks) == (11, "kept")
    assert readings(garage)[Measure.PRESSURE_HOT, "RL"].written == "30"


def test_nothing_understood_writes_nothing(page, garage):
    before = garage.book.last_number
    answer = page.post(SHEET, data={**opened(page), "laps": "eleven"})
    assert answer.status_code == 422
    assert "Nothing is saved yet" in answer.text
    assert garage.book.last_number == before


def test_a_partly_saved_sheet_sent_twice_writes_once_and_still_asks(page, garage):
    sheet = opened(page)
    sheet.update(fuel_before="5 gal", driver="Robin", pressure_cold_FL="24")
    page.post(SHEET, data=sheet)
    last = garage.book.last_number
    answer = page.post(SHEET, data=sheet)  # the first answer never arrived
    assert answer.status_code == 422
    assert garage.book.last_number == last
    assert "2 saved, 1 to choose or mend" in answer.text
    assert 'value="5 gal"' in answer.text
    assert saved_again(page, answer, sheet, fuel_before="5 imperial gal").status_code == 303
    assert runs(garage)[0].fuel_before == pytest.approx(5 * 4.54609e-3)


def test_a_partly_saved_sheet_sent_again_as_it_came_back_saves_nothing_more(page, garage):
    sheet = opened(page)
    sheet.update(fuel_before="5 gal", fuel_added="20", minutes="2h05", laps="70", pressure_cold_FL="24")
    first = page.post(SHEET, data=sheet)
    assert "4 saved, 1 to choose or mend" in first.text
    last = garage.book.last_number
    again = saved_again(page, first, sheet)
    assert again.status_code == 422
    assert "Nothing more is saved yet" in again.text
    assert garage.book.last_number == last
    assert 'value="5 gal"' in again.text


def test_a_doubtful_change_leaves_what_stands_in_the_book(page, garage):
    sheet = opened(page)
    sheet.update(laps="11", minutes="20", lap_times="1:43.2 1:44.0", pressure_cold_FL="24", remark_words="a")
    assert page.post(SHEET, data=sheet).status_code == 303
    sheet = opened(page)
    sheet.update(laps="x", minutes="y", lap_times="z", pressure_cold_FL="q", start_clock="99", oil_peak="110")
    answer = page.post(SHEET, data=sheet)
    assert "1 saved, 5 to choose or mend" in answer.text
    (run,) = runs(garage)
    assert (run.laps, run.duration, run.lap_times) == (11, 1200.0, pytest.approx((103.2, 104.0)))
    assert (run.oil_peak, run.remarks) == (110.0, "a")
    assert readings(garage)[Measure.PRESSURE_COLD, "FL"].written == "24"


def test_a_conflict_still_shows_after_a_part_was_saved(page, crew, garage):
    sheet = opened(page)
    sheet.update(fuel_before="5 gal", driver="Robin")
    answer = page.post(SHEET, data=sheet)
    theirs = opened(crew)
    theirs.update(fuel_before="30")
    assert crew.post(SHEET, data=theirs).status_code == 303
    before = garage.book.last_number
    clash = saved_again(page, answer, sheet, fuel_before="5 imperial gal")
    assert clash.status_code == 409
    assert garage.book.last_number == before
    assert 'data-write="30 L" data-for="fuel_before"' in clash.text
    assert 'value="5 imperial gal"' in clash.text


def test_a_new_session_partly_saved_goes_on_at_its_own_address(page, garage):
    address = "/events/midsummer/run-sheet/new"
    sheet = opened(page, address)
    sheet.update(session_title="Extra practice", session_kind="practice", laps="5", minutes="soon")
    answer = page.post(address, data=sheet)
    own = "/events/midsummer/run-sheet/midsummer-extra-practice"
    assert answer.status_code == 422
    assert answer.headers["content-location"] == own
    assert f'action="{own}"' in answer.text
    again = page.post(address, data=sheet)
    assert (again.status_code, again.headers["content-location"]) == (422, own)
    sheet.update(key=hidden(answer.text, "key"), seen=hidden(answer.text, "seen"), minutes="9")
    assert page.post(own, data=sheet).status_code == 303
    (run,) = runs(garage, "midsummer-extra-practice")
    assert (run.laps, run.duration) == (5, 540.0)


def test_more_fuel_left_than_there_was_is_refused(page, garage):
    sheet = opened(page)
    sheet.update(fuel_before="20", fuel_after="25")
    answer = page.post(SHEET, data=sheet)
    assert answer.status_code == 422
    assert "Was some added?" in answer.text
    assert "Nothing is saved yet" in answer.text
    sheet.update(fuel_added="20")
    assert page.post(SHEET, data=sheet).status_code == 303
    assert runs(garage)[0].fuel_added == pytest.approx(0.020)


def test_a_sheet_is_sent_in_parts(page, garage):
    sheet = opened(page)
    sheet.update(driver="Robin", fuel_before="30", pressure_cold_FL="24")
    assert page.post(SHEET, data=sheet).status_code == 303
    sheet = opened(page)
    assert sheet["fuel_before"] == "30 L"
    sheet.update(laps="11", minutes="20:30", fuel_after="22", pressure_cold_FL="25", pressure_hot_FL="31")
    sheet["minutes"] = "20"
    assert page.post(SHEET, data=sheet).status_code == 303
    (run,) = runs(garage)
    assert (run.laps, run.driver, run.fuel_before) == (11, "Robin", pytest.approx(0.030))
    found = readings(garage)
    assert found[Measure.PRESSURE_COLD, "FL"].written == "25"
    assert found[Measure.PRESSURE_HOT, "FL"].written == "31"
    corrections = [entry for entry in garage.book.entries if entry.corrects is not None]
    assert {type(entry.matter) for entry in corrections} == {SessionRun, Reading}
    sheet = opened(page)
    sheet.update(laps="12", pressure_cold_FL="26", oil_peak="108")
    answer = page.post(SHEET, data=sheet)
    assert answer.status_code == 303
    (run,) = runs(garage)
    assert (run.laps, run.oil_peak) == (12, 108.0)
    cold = [r.written for _e, r in garage.book.of(Reading) if r.measure is Measure.PRESSURE_COLD]
    assert cold == ["26"]
    number = int(answer.headers["location"].rpartition("=")[2])
    for laps in (11, 12, 11):  # undone, the undoing undone, and undone again
        undo = page.post(f"/history/{number}/withdraw", data={"key": f"undo {number}", "back": "/"})
        assert undo.status_code == 303
        assert [run.laps for run in runs(garage)] == [laps]
        number = int(undo.headers["location"].rpartition("=")[2])
    sheet = opened(page)
    sheet.update(pressure_cold_FL="")
    assert page.post(SHEET, data=sheet).status_code == 303
    assert (Measure.PRESSURE_COLD, "FL") not in readings(garage)


def test_a_sheet_opened_and_sent_back_untouched_writes_nothing(page, garage):
    sheet = opened(page)
    sheet.update(
        driver="Robin", fuel_before="7,3 US gal", laps="11", minutes="20", lap_times="1:43.27 1:44.0",
        air_temp="75 F", coolant_peak="200 F", pressure_cold_FL="24", pad_inner_FR="9",
        remark_entry_understeer="yes",
    )  # fmt: skip
    assert page.post(SHEET, data=sheet).status_code == 303
    before = garage.book.last_number
    assert page.post(SHEET, data=opened(page)).status_code == 303
    assert garage.book.last_number == before


def test_a_field_rubbed_out_is_taken_back(page, garage):
    sheet = opened(page)
    sheet.update(pressure_cold_FL="24", pressure_cold_FR="24")
    page.post(SHEET, data=sheet)
    sheet = opened(page)
    sheet.update(pressure_cold_FR="")
    assert page.post(SHEET, data=sheet).status_code == 303
    assert set(readings(garage)) == {(Measure.PRESSURE_COLD, "FL")}


def test_the_same_key_writes_once(page, garage):
    sheet = opened(page)
    sheet.update(driver="Robin", pressure_cold_FL="24")
    first = page.post(SHEET, data=sheet)
    number = garage.book.last_number
    second = page.post(SHEET, data=sheet)
    assert (first.status_code, second.status_code) == (303, 303)
    assert first.headers["location"] == second.headers["location"]
    assert garage.book.last_number == number


def test_two_at_once_the_second_sees_both_and_loses_nothing(page, crew, garage):
    mine, theirs = opened(page), opened(crew)
    theirs.update(driver="Kim", pressure_cold_FL="24")
    assert crew.post(SHEET, data=theirs).status_code == 303
    before = garage.book.last_number
    mine.update(driver="Robin", fuel_before="30")
    answer = page.post(SHEET, data=mine)
    assert answer.status_code == 409
    assert garage.book.last_number == before
    clash = answer.text[
        answer.text.index('class="clash no-print"') : answer.text.index(
            "</section>", answer.text.index('class="clash no-print"')
        )
    ]
    assert "Kim" in clash
    assert "Robin" in clash
    assert 'data-write="Kim" data-for="driver"' in clash
    assert 'value="Robin"' in answer.text  # mine stays in the field
    assert '"pressure_cold_FL" type="text" value="24"' in answer.text  # what only they wrote is taken over
    mine.update(seen=hidden(answer.text, "seen"), key=hidden(answer.text, "key"), pressure_cold_FL="24")
    assert page.post(SHEET, data=mine).status_code == 303
    (run,) = runs(garage)
    assert (run.driver, run.fuel_before) == ("Robin", pytest.approx(0.030))
    assert readings(garage)[Measure.PRESSURE_COLD, "FL"].written == "24"
    assert [e.matter.driver for e in garage.book.entries if isinstance(e.matter, SessionRun)][-2:] == [
        "Kim",
        "Robin",
    ]


def test_a_clash_over_one_reading_alone_is_shown(page, crew, garage):
    sheet = opened(page)
    sheet.update(pressure_hot_FL="31")
    page.post(SHEET, data=sheet)
    mine, theirs = opened(page), opened(crew)
    theirs.update(pressure_hot_FL="32")
    assert crew.post(SHEET, data=theirs).status_code == 303
    mine.update(pressure_hot_FL="33")
    answer = page.post(SHEET, data=mine)
    assert answer.status_code == 409
    assert 'data-write="32" data-for="pressure_hot_FL"' in answer.text
    assert readings(garage)[Measure.PRESSURE_HOT, "FL"].written == "32"


def test_another_session_gets_its_own_sheet(page, garage):
    address = "/events/midsummer/run-sheet/new"
    sheet = opened(page, address)
    sheet.update(session_title="Extra practice", session_kind="practice", laps="5", minutes="9")
    answer = page.post(address, data=sheet)
    assert answer.headers["location"].startswith("/events/midsummer/run-sheet/midsummer-extra-practice?")
    assert runs(garage, "midsummer-extra-practice")[0].laps == 5
    again = page.post(address, data={**sheet, "key": "another"})
    assert again.status_code == 422


def test_a_reader_may_look_and_not_write(reader, garage):
    before = garage.book.last_number
    assert "Save" not in reader.get(SHEET).text
    sheet = opened(reader)
    sheet.update(driver="Robin")
    assert reader.post(SHEET, data=sheet).status_code == 403
    assert garage.book.last_number == before


MARKUP = '<script>alert(1)</script>"><img src=x>'


def test_markup_in_every_text_field_is_shown_as_text(page):
    sheet = opened(page)
    sheet.update(driver=MARKUP, remark_words=MARKUP, who=MARKUP, gauge=MARKUP, pressure_cold_FL="24")
    assert page.post(SHEET, data=sheet).status_code == 303
    for address in (SHEET, "/events/midsummer/run-sheet/midsummer-race"):
        html = page.get(address).text
        assert "<script>alert" not in html
        assert "<img" not in html
    every = {name: MARKUP for name in opened(page) if name not in ("key", "seen")}
    answer = page.post(SHEET, data={**opened(page), **every})
    assert answer.status_code == 422
    assert "<script>alert" not in answer.text
    assert "<img" not in answer.text


@pytest.mark.parametrize("seen", ["", "-1", "abc", "99999999999"])
def test_a_forged_number_does_no_harm(page, garage, seen):
    sheet = {**opened(page), "seen": seen, "driver": "Robin"}
    assert page.post(SHEET, data=sheet).status_code == 303


@pytest.mark.parametrize("address", ["/events/none/run-sheet", "/events/midsummer/run-sheet/none"])
def test_what_is_not_there_is_said(page, address):
    assert page.get(address).status_code == 404


@pytest.mark.parametrize(
    "name", ["pressure_cold_FL", "tread_inner_RR", "pad_inner_FL", "fuel_before", "best_lap"]
)
def test_the_keypad_has_letters_a_space_and_a_stroke_where_a_unit_may_be_written(page, name):
    field = re.search(rf'<input id="{name}"[^>]*>', page.get(SHEET).text)
    assert field
    assert "inputmode" not in field[0]


MIXED = {
    "pressure_cold_FL": "32",
    "pressure_cold_FR": "2.2",
    "pressure_cold_RL": "30",
    "pressure_cold_RR": "24",
}


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        (MIXED, "are read by guess in different units"),
        ({"pressure_cold_FL": "3.65 bar", "pressure_cold_FR": "2.2 bar"}, "differ by more than 30 %"),
        ({"tread_inner_FL": "85", "tread_outer_FL": "180"}, "are read by guess in different units"),
        ({"pressure_cold_FL": "2.21 bar", "pressure_hot_FL": "1.2 bar"}, "is below the cold one"),
    ],
)
def test_pressures_that_do_not_go_together_wait_until_they_are_said_to_be_right(page, garage, typed, words):
    sheet = opened(page)
    sheet.update(typed, driver="Robin")
    answer = page.post(SHEET, data=sheet)
    assert answer.status_code == 422
    question = re.search(r'name="looked_over" value="([^"]*)"', answer.text)
    assert question
    assert words in question[1]
    assert readings(garage) == {}
    assert runs(garage)[0].driver == "Robin"
    wrong = saved_again(page, answer, sheet, looked_over="yes")
    assert wrong.status_code == 422
    assert readings(garage) == {}
    assert saved_again(page, answer, sheet, looked_over=question[1]).status_code == 303
    assert {reading.written for reading in readings(garage).values()} == set(typed.values())
    assert page.post(SHEET, data={**opened(page), "oil_peak": "110"}).status_code == 303  # asked once


def test_pressures_put_right_are_saved_without_a_question(page, garage):
    sheet = opened(page)
    sheet.update(MIXED)
    answer = page.post(SHEET, data=sheet)
    assert saved_again(page, answer, sheet, pressure_cold_FR="31", pressure_cold_RR="28").status_code == 303
    assert readings(garage)[Measure.PRESSURE_COLD, "FR"].written == "31"


def test_a_hot_pressure_below_the_cold_one_in_the_book_is_asked(page, garage):
    sheet = opened(page)
    sheet.update(pressure_cold_FL="2.21 bar")
    assert page.post(SHEET, data=sheet).status_code == 303
    answer = page.post(SHEET, data={**opened(page), "pressure_hot_FL": "1.2 bar"})
    assert answer.status_code == 422
    assert "is below the cold one" in answer.text


def test_what_was_saved_is_said_and_only_laps_or_minutes_tick_a_session(page):
    sheet = opened(page)
    sheet.update(driver="Robin", pressure_cold_FL="24", pressure_cold_FR="24")
    html = page.get(page.post(SHEET, data=sheet).headers["location"]).text
    assert "Saved: Practice: going out, cold pressures</p>" in html
    assert "under way" in html
    for address in (SHEET, "/events/midsummer"):
        assert "✓" not in page.get(address).text
    sheet = opened(page)
    sheet.update(laps="11", minutes="20", pressure_hot_FL="31")
    html = page.get(page.post(SHEET, data=sheet).headers["location"]).text
    assert "Saved: Practice: 11 laps, 20 min, hot pressures</p>" in html
    for address in (SHEET, "/events/midsummer"):
        assert "✓" in page.get(address).text


def undo(page, html: str):
    """Tap Undo beside what was saved."""
    form = html[html.index('class="saved"') : html.index("</form>", html.index('class="saved"'))]
    address = re.search(r'action="([^"]+)"', form)
    assert address
    fields = dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)">', form))
    answer = page.post(address[1], data=fields)
    assert answer.status_code == 303
    assert page.post(address[1], data=fields).headers["location"] == answer.headers["location"]
    return page.get(answer.headers["location"]).text


def test_undo_takes_back_all_the_sheet_saved_and_can_itself_be_undone(page, garage):
    sheet = opened(page)
    sheet.update(driver="Robin", pressure_cold_FL="24", pressure_cold_FR="24", pad_inner_FL="9")
    page.post(SHEET, data=sheet)
    kept = opened(page)
    kept.update(laps="11", minutes="20", pressure_hot_FL="31", pressure_cold_FL="25", pad_inner_FL="")
    html = page.get(page.post(SHEET, data=kept).headers["location"]).text
    html = undo(page, html)
    (run,) = runs(garage)
    assert (run.laps, run.driver) == (0, "Robin")
    found = {spot: reading.written for spot, reading in readings(garage).items()}
    assert found == {
        (Measure.PRESSURE_COLD, "FL"): "24",
        (Measure.PRESSURE_COLD, "FR"): "24",
        (Measure.PAD_THICKNESS, "FL"): "9",
    }
    undo(page, html)
    assert runs(garage)[0].laps == 11
    found = {spot: reading.written for spot, reading in readings(garage).items()}
    assert found == {
        (Measure.PRESSURE_COLD, "FL"): "25",
        (Measure.PRESSURE_COLD, "FR"): "24",
        (Measure.PRESSURE_HOT, "FL"): "31",
    }


def test_undo_takes_nothing_back_that_another_form_wrote(page, garage):
    before = garage.book.last_number
    assert (
        page.post("/history/3/withdraw", data={"key": "u", "back": "/", "together": "yes"}).status_code == 303
    )
    assert garage.book.last_number == before + 1


def test_several_values_in_one_field_are_asked_when_the_sheet_is_saved(page, garage):
    answer = page.post(SHEET, data={**opened(page), "pressure_hot_FL": "32/30", "driver": "Robin"})
    assert answer.status_code == 422
    assert 'data-write="32 psi|32 psi|30 psi|30 psi"' in answer.text
    assert 'value="32/30"' in answer.text
    assert readings(garage) == {}
