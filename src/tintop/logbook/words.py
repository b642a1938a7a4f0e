"""An entry in one line of words."""

from collections.abc import Mapping

from tintop.logbook.amounts import day_in_words
from tintop.logbook.book import Logbook
from tintop.logbook.entries import (
    AnswerGiven,
    CostPaid,
    Entry,
    JobDone,
    JobOpened,
    MeetingClosed,
    MeetingPlanned,
    PaperAdded,
    PartAdded,
    PartFailed,
    PartFitted,
    PartInspected,
    PartRemoved,
    Reading,
    Remark,
    RoadDriven,
    SessionRun,
    SetupChanged,
    SupportReceived,
    SupportReturned,
    Withdrawn,
)
from tintop.logbook.proof_entries import AccidentHappened, ProofRecorded
from tintop.logbook.proof_values import proof_in_words
from tintop.rules.facts import Fact

Names = Mapping[tuple[str, str], str]  # ("part", its short name) → its name; so for event, job, support, fact


def names_in(book: Logbook) -> dict[tuple[str, str], str]:
    """The names of all parts, events, jobs and supports the book knows by a short name."""
    return {
        **{("part", part.part): part.name for _, part in book.of(PartAdded)},
        **{("event", meeting.meeting): meeting.name for _, meeting in book.of(MeetingPlanned)},
        **{("job", job.job): job.title for _, job in book.of(JobOpened)},
        **{("support", support.support): support.what for _, support in book.of(SupportReceived)},
    }


def words_of(entry: Entry, names: Names | None = None) -> str:
    """Say what an entry holds, without day and writer; values as they were written where they were.

    `names` are said instead of short names (`names_in`); one not among them is said as it is.
    """
    known = names or {}

    def named(kind: str, short: str) -> str:
        return known.get((kind, short), short)

    match entry.matter:
        case PartAdded(name=name, came_with_car=True):
            return f"{name}, came with the car"
        case PartAdded(name=name):
            return f"part: {name}"
        case PartFitted(part=part, corner=corner):
            return f"fitted {named('part', part)}{_at(corner)}"
        case PartRemoved(part=part, fate=fate, reason=reason):
            return f"taken off {named('part', part)}, {fate.value}{_because(reason)}"
        case PartInspected(part=part, found=found):
            return f"inspected {named('part', part)}{_because(found)}"
        case PartFailed(part=part, what=what):
            return f"{named('part', part)} failed: {what}"
        case SetupChanged(item=item, corner=corner, written=written, reason=reason):
            return f"{item}{_at(corner)} to {written}{_because(reason)}"
        case MeetingPlanned(name=name, first_day=first_day):
            return f"event: {name}, {day_in_words(first_day)} {first_day.year}"
        case MeetingClosed(meeting=meeting, result=result):
            return f"{named('event', meeting)} ended: {result}"
        case SessionRun(name=name, meeting=meeting, laps=0, duration=0.0):
            return f"{name} at {named('event', meeting)}: not driven yet"
        case SessionRun(name=name, meeting=meeting, laps=laps, duration=duration):
            return f"{name} at {named('event', meeting)}: {laps} laps, {duration / 60.0:.0f} min"
        case RoadDriven(distance=distance, purpose=purpose):
            return f"{distance / 1000.0:.0f} km on the road{_because(purpose)}"
        case Reading(measure=measure, corner=corner, written=written, place=place):
            return f"{measure.value}{_at(corner)} {place} {written}".replace("  ", " ").strip()
        case JobOpened(title=title):
            return f"job: {title}"
        case JobDone(job=job, found=found):
            return f"done: {named('job', job)}{_because(found)}"
        case CostPaid(what=what, cents=cents, is_planned=is_planned):
            return f"{'planned' if is_planned else 'paid'} {cents / 100.0:.2f} for {what}"
        case SupportReceived(supporter=supporter, what=what):
            return f"{supporter} gave {what}"
        case SupportReturned(support=support, what=what):
            return f"in return for {named('support', support)}: {what}"
        case AnswerGiven(question=question, meeting=meeting):
            return f"answer given: {question} for {named('event', meeting)}"
        case PaperAdded(name=name, about=about):
            return f"paper {name}{_because(named('part', about))}"
        case Remark(text=text):
            return text
        case ProofRecorded(fact=fact, each=each, form=form, part=part) as proof:
            of_part = f", {named('part', part)}" if part else ""
            return f"{named('fact', fact)}{_for(each)}: {proof_in_words(proof)} ({form}{of_part})"
        case AccidentHappened(what=what, is_hard=is_hard):
            return f"{'hard hit' if is_hard else 'knock'}: {what}"
        case Withdrawn(reason=reason):
            return f"entry {entry.corrects} taken back{_because(reason)}"


def fact_names(facts: Mapping[str, Fact]) -> dict[tuple[str, str], str]:
    """The names of facts, as they are asked for."""
    return {("fact", fact.name): fact.ask for fact in facts.values()}


def _for(each: str) -> str:
    return f", {each}" if each else ""


def _at(corner: str) -> str:
    return f" {corner}" if corner else ""


def _because(words: str) -> str:
    return f" ({words})" if words else ""
