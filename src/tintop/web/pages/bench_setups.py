"""Set-ups: the list, one drawn from above and typed back, two compared job by job, and their papers."""

from collections import OrderedDict
from collections.abc import Iterator
from dataclasses import dataclass, replace
from urllib.parse import quote

from fastapi import APIRouter
from fastapi.responses import Response
from starlette.exceptions import HTTPException

from tintop.car.changeover_job import Job, Stage
from tintop.car.chassis import CORNERS, End
from tintop.car.setup import Purpose, Setup
from tintop.car.setup_differences import bar_words
from tintop.car.setup_words import check_words, job_words, minutes_words
from tintop.charts.four_corners import WheelStance, four_corners_svg
from tintop.errors import Conflict, TintopError, refuse
from tintop.garage.bench import Bench, bench_of
from tintop.garage.car_setup import front_share_of
from tintop.garage.keeper import CHASSIS, SETUPS
from tintop.garage.pressures import PressuresAsked, pressures_in
from tintop.garage.setup_limits import next_circuit, not_legal_of
from tintop.garage.setup_papers import run_sheet_pdf, setup_sheet_pdf
from tintop.garage.setups import compare_setups
from tintop.logbook.entries import Draft, SetupChanged
from tintop.logbook.setup_today import PUT_ON
from tintop.questions.cold_pressures import against_the_sheet
from tintop.questions.from_one_setup_to_another import Changeover
from tintop.reports.setup_sheet import (
    difference_row,
    effect_rows,
    end_rows,
    gain_words,
    wheel_rows,
    whole_rows,
)
from tintop.store.documents.writing_setups import write_setup
from tintop.store.revisions import DocumentConflict
from tintop.web.bench_page import (
    Asked,
    DrawnTwice,
    is_chassis_described,
    show_bench,
    show_undescribed,
    subject_at,
)
from tintop.web.page import Typed, Visit, Visitor, Writer, go_to, new_key, show
from tintop.web.setup_sheet_form import (
    CORNER_FIELDS,
    PARTS,
    changed_fields,
    choices_of,
    corner_kinds,
    read_setup_sheet,
    typed_setup,
)
from tintop.web.typed_form import TypedForm, hand_of, short_name

router = APIRouter()
NO_CIRCUIT = "none"
_PDF = "application/pdf"
_MOST_COMPARED = 6  # pairs of set-ups whose comparison is kept
_DRAWN = {
    "ride height": "height",
    "bump clicks": "bump",
    "rebound clicks": "rebound",
    "cold pressure": "cold",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """Who changed the sheet meanwhile, and the fields that differ: label, theirs, mine."""

    who: str
    fields: tuple[tuple[str, str, str], ...]


@router.get("/bench/setups")
def setups(visit: Visitor) -> Response:
    """The set-ups there are: what each is for, and what is fitted."""
    if not is_chassis_described(visit.garage):
        return show_undescribed(visit)
    bench = bench_of(visit.garage)
    return show(visit, "bench_setups.html", subject=subject_at(visit), bench=bench, today=bench.today)


@router.get("/bench/setups/compare")
def compare(visit: Visitor) -> Response:
    """From one set-up to another: the jobs, what differs, and with a circuit what it does."""
    if not is_chassis_described(visit.garage):
        return show_undescribed(visit)
    bench = bench_of(visit.garage)
    if len(bench.setups) < 2:
        return show(visit, "bench_setups.html", subject=subject_at(visit), bench=bench, today=bench.today)
    first = bench.fitted or next(iter(bench.setups))
    second = next(stem for stem in bench.setups if stem != first)
    usual = next_circuit(visit.garage, bench) or NO_CIRCUIT
    asked = Asked(visit.request.query_params, {"from": first, "to": second, "circuit": usual})
    a, b = (asked.choice(name, tuple(bench.setups)) for name in ("from", "to"))
    named = asked.choice("circuit", (NO_CIRCUIT, *bench.circuits))
    circuit = "" if named == NO_CIRCUIT else named
    found: Changeover | None = None
    if not asked.problems:
        try:
            found = _compared(visit, bench, a, b, circuit)
        except TintopError as error:
            asked.refuse(error, "")
    units = bench.settings.units
    return show_bench(
        visit,
        "bench_setups_compare.html",
        asked,
        said=bench.said_of(a),
        answer=found.answer if found else None,
        found=found,
        setups=[(stem, one.name) for stem, one in bench.setups.items()],
        circuits=[(NO_CIRCUIT, "none"), *((name, name) for name in bench.circuits)],
        stages=list(_stages(found)) if found else [],
        job_words=lambda job: job_words(job, bench.chassis, units),
        check_words=lambda check: check_words(check, units),
        minutes_words=minutes_words,
        gain=gain_words(found) if found else "",
        differing=[difference_row(each, bench.chassis, units) for each in found.differences] if found else (),
        effects=list(effect_rows(found, units)) if found else (),
        paper=f"/bench/setups/{quote(b)}.pdf?before={quote(a)}",
    )


def _stages(found: Changeover) -> Iterator[tuple[str, list[Job], int]]:
    """The stages there are, each with its jobs and the number of its first."""
    done = 0
    for stage in Stage:
        jobs = [job for job in found.jobs if job.stage is stage]
        if jobs:
            yield stage.value, jobs, done + 1
        done += len(jobs)


def _compared(visit: Visit, bench: Bench, a: str, b: str, circuit: str) -> Changeover:
    """Both compared; the pairs looked at last are kept until something changes."""
    garage = visit.garage
    stands_on = (bench, garage.book.last_number, garage.today())
    kept = garage.remember("set-ups compared", stands_on, OrderedDict[tuple[str, str, str], Changeover])
    found = kept.get((a, b, circuit))
    if found is None:
        found = kept[a, b, circuit] = compare_setups(bench, a, b, circuit, garage=garage)
        while len(kept) > _MOST_COMPARED:
            kept.popitem(last=False)
    return found


@router.get("/bench/run-sheet.pdf")
def run_sheet(visit: Visitor, event: str = "", session: str = "", setup: str = "") -> Response:
    """An empty run sheet to fill in by hand; with the set-up's pressures where one is named or fitted."""
    garage = visit.garage
    bench = bench_of(garage) if is_chassis_described(garage) else None
    if bench and setup and setup not in bench.setups:
        raise HTTPException(404)
    content = run_sheet_pdf(bench, setup, day=garage.today(), event=event[:80], session=session[:60])
    return _file(content, "run-sheet.pdf")


@router.get("/bench/setups/{name}.pdf")
def sheet_paper(visit: Visitor, name: str, before: str = "") -> Response:
    """The set-up sheet on paper; `before` marks what is changed from another set-up."""
    bench = _bench(visit)
    if name not in bench.setups or (before and before not in bench.setups):
        raise HTTPException(404)
    not_legal = not_legal_of(visit.garage, bench, name)
    content = setup_sheet_pdf(bench, name, before, day=visit.garage.today(), not_legal=not_legal)
    return _file(content, f"set-up-{name}.pdf")


@router.get("/bench/setups/{name}")
def setup_sheet(visit: Visitor, name: str, kept: str = "") -> Response:
    """One set-up: drawn from above, and as a form that holds it."""
    bench = _bench(visit)
    setup = _setup(bench, name)
    form = TypedForm(
        hand=hand_of(visit.garage), typed=typed_setup(setup, bench.chassis, bench.settings.units)
    )
    seen = visit.garage.document(_document(name)).digest
    return _shown(visit, bench, name, form, seen=seen, key=new_key(), is_kept=bool(kept))


@router.post("/bench/setups/{name}")
def save_setup(visit: Writer, name: str, given: Typed) -> Response:
    """Save the sheet as typed back; 422 where something is asked or wrong, 409 where another was quicker."""
    garage, bench = visit.garage, _bench(visit)
    standing = _setup(bench, name)
    form = TypedForm(hand=hand_of(garage), typed=given)
    seen, key = form.text("seen"), form.text("key")[:100] or new_key()
    found = read_setup_sheet(form, standing, bench.chassis, bench.settings.units, tuple(bench.circuits))
    stem = _stem(form, bench, name)
    reason = form.words("reason")
    if found is None or not form.is_good:
        return _shown(visit, bench, name, form, seen=seen, key=key, status=422)
    if stem != name and found.name == standing.name:
        found = replace(found, name=form.text("save_as"))
    try:
        _save(visit, bench, found, stem, based_on=seen if stem == name else None, why=reason)
        saved = _put_on(visit, stem, key, reason) if form.ticked("is_on_car") else None
        return go_to(f"/bench/setups/{quote(stem)}", saved=saved, kept="yes")
    except DocumentConflict as conflict:
        if stem != name:
            form.refuse("save_as", "There is a set-up of this name already; expected a new name.")
            return _shown(visit, bench, name, form, seen=seen, key=key, status=422)
        fresh = bench_of(garage)
        stands = typed_setup(_setup(fresh, name), fresh.chassis, fresh.settings.units)
        fields = changed_fields(form.typed, stands)
        clash = Clash(who=conflict.stands.who or "somebody", fields=fields)
        return _shown(visit, fresh, name, form, seen=conflict.stands.digest, key=key, clash=clash, status=409)
    except (TintopError, Conflict) as error:
        form.refuse_all(error)
    return _shown(visit, bench, name, form, seen=seen, key=key, status=422)


def _save(visit: Visit, bench: Bench, found: Setup, stem: str, *, based_on: str | None, why: str) -> None:
    """Save the document unless it says so already, also where the same was sent twice."""
    garage = visit.garage
    text = write_setup(found, bench.chassis, bench.settings.units)
    if bench.as_written.get(stem) == found:
        return
    garage.save_document(
        _document(stem), text, based_on=based_on, who=visit.who, why=why or "typed back from the sheet"
    )


def _put_on(visit: Visit, stem: str, key: str, reason: str) -> int:
    garage = visit.garage
    draft = Draft(
        key=f"{key} set-up",
        day=garage.today(),
        who=visit.who,
        matter=SetupChanged(item=PUT_ON, written=stem, reason=reason),
    )
    return garage.record([draft])[0].number


def _stem(form: TypedForm, bench: Bench, name: str) -> str:
    """The document's stem: the same, or a new one where a new name was given."""
    wanted = form.words("save_as")
    if not wanted:
        return name
    stem = short_name(wanted)
    if stem in bench.setups or stem in bench.unreadable or stem == "compare":
        form.refuse("save_as", "There is a set-up of this name already; expected a new name.")
    return stem


def _bench(visit: Visit) -> Bench:
    if not is_chassis_described(visit.garage):
        raise refuse(CHASSIS, "no such document", "what carries the car, described in chassis.toml")
    return bench_of(visit.garage)


def _setup(bench: Bench, name: str) -> Setup:
    if name not in bench.setups:
        raise HTTPException(404)
    return bench.setups[name]


def _document(stem: str) -> str:
    return f"{SETUPS}/{stem}.toml"


def _shown(
    visit: Visit,
    bench: Bench,
    name: str,
    form: TypedForm,
    *,
    seen: str,
    key: str,
    status: int = 200,
    clash: Clash | None = None,
    is_kept: bool = False,
) -> Response:
    setup, units = bench.setups[name], bench.settings.units
    today = bench.today
    return show(
        visit,
        "bench_setup.html",
        status=status,
        subject=subject_at(visit),
        bench=bench,
        name=name,
        setup=setup,
        form=form,
        seen=seen,
        key=key,
        clash=clash,
        is_kept=is_kept,
        is_fitted=name == bench.fitted,
        since=today if today and today.stem == name else None,
        drawn=_drawn(bench, setup),
        wheels=list(wheel_rows(setup, bench.chassis, units)),
        ends=list(end_rows(setup, bench.chassis, units)),
        whole=list(whole_rows(setup, units, front_share_of(bench, setup))),
        not_legal=not_legal_of(visit.garage, bench, name),
        pressures=_pressures_today(visit, bench, name),
        corners=CORNERS,
        corner_fields=CORNER_FIELDS,
        kinds=corner_kinds(setup, bench.chassis, {end: setup.at(end).damper for end in End}),
        parts=PARTS,
        choices=choices_of(bench.chassis),
        circuits=list(bench.circuits),
        others=[(stem, one.name) for stem, one in bench.setups.items() if stem != name],
        one_knob={end.value: bench.chassis.at(end).damper(setup.at(end).damper).is_linked for end in End},
    )


def _pressures_today(visit: Visit, bench: Bench, name: str) -> str:
    """What the pressures' page says of this sheet today; empty for the road, and where it cannot tell."""
    garage = visit.garage
    if bench.setups[name].purpose is Purpose.ROAD:
        return ""

    def made() -> str:
        try:
            found = pressures_in(garage, bench, PressuresAsked(setup=name))
        except TintopError:
            return ""
        return " ".join(against_the_sheet(found.day, found.corners))

    stands_on = (bench, garage.book.last_number, garage.today())
    return garage.remember(f"pressures against the sheet {name}", stands_on, made)


def _drawn(bench: Bench, setup: Setup) -> DrawnTwice:
    rows = list(wheel_rows(setup, bench.chassis, bench.settings.units))
    stances = {
        corner: WheelStance(camber=one.camber, toe=one.toe)
        for corner, one in zip(CORNERS, setup.corners, strict=True)
    }

    def drawn(name: str, *, is_narrow: bool) -> str:
        corners = {
            corner: [_short(row[0], row[place], is_narrow=is_narrow) for row in rows]
            for place, corner in enumerate(CORNERS, 1)
        }
        axles = {end: [_end_words(setup, end, is_narrow=is_narrow)] for end in End}
        return four_corners_svg(
            corners,
            axles=axles,
            middle=[setup.purpose.value],
            stances=stances,
            title=f"Set-up {setup.name}, seen from above",
            description="; ".join(f"{row[0]} {', '.join(row[1:])}" for row in rows),
            car=bench.described.car,
            is_narrow=is_narrow,
            name=name,
        )

    return DrawnTwice(wide=drawn("wide", is_narrow=False), narrow=drawn("narrow", is_narrow=True))


def _end_words(setup: Setup, end: End, *, is_narrow: bool) -> str:
    spring = setup.at(end).spring
    return spring if is_narrow else f"springs {spring}; bar {bar_words(setup, end)}"


def _short(item: str, words: str, *, is_narrow: bool) -> str:
    """A value with its item, as little as a drawing has room for."""
    plain = words.removesuffix(" from full soft").split(" (")[0]
    name = _DRAWN.get(item, item)
    return plain if is_narrow and name in ("camber", "height", "cold") else f"{name} {plain}"


def _file(content: bytes, name: str) -> Response:
    return Response(
        content,
        media_type=_PDF,
        headers={"Content-Disposition": f'attachment; filename="{name}"', "Cache-Control": "no-store"},
    )
