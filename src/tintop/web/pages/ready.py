"""Ready: lives, wear and jobs before the next event, worst first, and what is to order."""

from dataclasses import replace

from fastapi import APIRouter
from fastapi.responses import Response

from tintop.errors import BadInput, Conflict
from tintop.garage import answers
from tintop.logbook.entries import Draft, JobDone, JobOpened, Matter, PartInspected
from tintop.logbook.findings import forecast_words
from tintop.logbook.jobs import jobs_on
from tintop.logbook.lives import Life, LifeState
from tintop.logbook.meetings import MeetingState, meetings
from tintop.logbook.readiness import Readiness
from tintop.logbook.stands import look_words, stands_of
from tintop.logbook.wear import Wear
from tintop.questions.is_it_ready import answer_of
from tintop.web.kept import kept
from tintop.web.page import Typed, Visit, Visitor, Writer, go_to, new_key, show
from tintop.web.typed_form import TypedForm, build_today, hand_of, short_name
from tintop.web.writing import write, written_before

router = APIRouter()
_DONE_SHOWN = 20
_GOOD_SHOWN = 60


@router.get("/ready")
def ready_page(visit: Visitor, lives: str = "") -> Response:
    """Everything that is worn, out of life or undone before the next event is over."""
    return _shown(visit, TypedForm(hand=hand_of(visit.garage), typed={}), all_lives=lives == "all")


@router.post("/ready/jobs")
def open_job(visit: Writer, given: Typed) -> Response:
    """Write down a job to do."""
    garage = visit.garage
    form = TypedForm(hand=hand_of(garage), typed=given)
    title = form.words("title", needed=True)
    part = form.choice("part", ("", *build_today(garage).by_name))
    events = kept(garage, "meetings", meetings)
    meeting = form.choice("meeting", ("", *(each.planned.meeting for each in events)))
    cost = form.cents("job_cost")
    seconds = form.value("job_minutes", "minutes")
    if not form.is_good:
        return _shown(visit, form, status=422)
    jobs = kept(garage, "jobs", jobs_on)
    job = JobOpened(
        job=short_name(title, (each.job.job for each in (*jobs.open, *jobs.done))),
        title=title,
        part=part,
        meeting=meeting,
        stops_running=form.ticked("stops_running"),
        cost_cents=cost,
        minutes=seconds / 60.0 if seconds is not None else None,
    )
    return _record(visit, form, job)


@router.post("/ready/done")
def job_done(visit: Writer, given: Typed) -> Response:
    """Write down that a job is done."""
    form = TypedForm(hand=hand_of(visit.garage), typed=given)
    open_jobs = {each.job.job for each in kept(visit.garage, "jobs", jobs_on).open}
    written = written_before(visit.garage, form.text("key"))
    job = form.text("job") if written else form.choice("job", open_jobs)
    found = form.words("found")
    if not form.is_good:
        form.refuse("", "This job is not open: another may have done it meanwhile.")
        return _shown(visit, form, status=422)
    return _record(visit, form, JobDone(job=job, found=found))


@router.post("/ready/inspected")
def inspected(visit: Writer, given: Typed) -> Response:
    """Write down that a part was looked at and found good."""
    form = TypedForm(hand=hand_of(visit.garage), typed=given)
    part = form.choice("part", build_today(visit.garage).by_name)
    found = form.words("found")
    if not form.is_good:
        form.refuse("", "There is no such part on the car.")
        return _shown(visit, form, status=422)
    today = build_today(visit.garage).by_name[part]
    if today.failed and not found and not written_before(visit.garage, form.text("key")):
        form.refuse(
            "",
            f"{today.title} failed: {today.failed[-1].what}. Write down what was done and found before it "
            "counts as good again, or replace it.",
        )
        return _shown(visit, form, status=422)
    return _record(visit, form, PartInspected(part=part, found=found))


def _record(visit: Visit, form: TypedForm, matter: Matter) -> Response:
    key = form.text("key") or new_key()
    written = written_before(visit.garage, key, type(matter))
    if written and isinstance(matter, JobOpened):  # named anew each time
        return go_to("/ready", saved=written.number)
    draft = Draft(key=key, day=visit.garage.today(), who=visit.who, matter=matter)
    try:
        return go_to("/ready", saved=write(visit.garage, [draft], key).number)
    except (BadInput, Conflict) as error:
        form.refuse_all(error)
        return _shown(visit, form, status=422)


def readiness_of(visit: Visit) -> Readiness:
    """What readiness stands on today, race forecast included; a reader sees no prices."""
    found = answers.readiness_of(visit.garage)
    if visit.may_write:
        return found
    return replace(found, orders=tuple(replace(order, price_cents=None) for order in found.orders))


def _shown(visit: Visit, form: TypedForm, status: int = 200, *, all_lives: bool = False) -> Response:
    ready = readiness_of(visit)
    upcoming = [
        (each.planned.meeting, each.planned.name)
        for each in kept(visit.garage, "meetings", meetings)
        if each.state is not MeetingState.PAST
    ]
    good = [life for life in ready.lives if life.state is LifeState.GOOD]
    hidden = {id(life) for life in ([] if all_lives else good[_GOOD_SHOWN:])}
    return show(
        visit,
        "ready.html",
        status=status,
        lives=_by_part([life for life in ready.lives if id(life) not in hidden]),
        hidden=len(hidden),
        ready=ready,
        answer=answer_of(ready, visit.garage.settings.currency) if ready.meeting else None,
        bars=[(wear, bar_of(wear)) for wear in ready.wears],
        stands_of=stands_of,
        look_words=look_words,
        forecast_words=forecast_words,
        failed=[part for part in ready.build.fitted if part.failed],
        done=ready.jobs.done[:_DONE_SHOWN],
        done_before=max(len(ready.jobs.done) - _DONE_SHOWN, 0),
        form=form,
        upcoming=upcoming,
        event_names=dict(upcoming),
        parts=[(each.part.part, each.title) for each in ready.build.fitted],
    )


def _by_part(lives: list[Life]) -> list[tuple[str, list[Life]]]:
    """Lives with all limits of a part together, where its worst stands."""
    found: dict[str, list[Life]] = {}
    for life in lives:
        found.setdefault(life.part, []).append(life)
    return [(limits[0].title, limits) for limits in found.values()]


def bar_of(wear: Wear) -> dict[str, float] | None:
    """Widths of the bar of a thickness, in hundredths of its whole length; None when nothing is known."""
    known = [each for each in (wear.new, wear.thickness, wear.least) if each is not None]
    if wear.thickness is None or not known or max(known) <= 0.0:
        return None
    scale = 100.0 / max(known)
    found = {"now": max(scale * wear.thickness, 0.0)}
    if wear.least is not None:
        found["least"] = scale * wear.least
    if wear.at_end is not None and wear.at_end_low is not None and wear.at_end_high is not None:
        found |= {
            "end": min(max(scale * wear.at_end, 0.0), 100.0),
            "low": min(max(scale * wear.at_end_low, 0.0), 100.0),
            "high": min(max(scale * wear.at_end_high, 0.0), 100.0),
        }
    return found
