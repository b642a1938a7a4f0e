"""An entry in one line of words."""

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


def words_of(entry: Entry) -> str:
    """Say what an entry holds, without day and writer; values as they were written where they were."""
    match entry.matter:
        case PartAdded(name=name, came_with_car=True):
            return f"{name}, came with the car"
        case PartAdded(name=name):
            return f"part: {name}"
        case PartFitted(part=part, corner=corner):
            return f"fitted {part}{_at(corner)}"
        case PartRemoved(part=part, fate=fate, reason=reason):
            return f"taken off {part}, {fate.value}{_because(reason)}"
        case PartInspected(part=part, found=found):
            return f"inspected {part}{_because(found)}"
        case PartFailed(part=part, what=what):
            return f"{part} failed: {what}"
        case SetupChanged(item=item, corner=corner, written=written, reason=reason):
            return f"{item}{_at(corner)} to {written}{_because(reason)}"
        case MeetingPlanned(name=name, first_day=first_day):
            return f"event: {name}, {first_day.isoformat()}"
        case MeetingClosed(meeting=meeting, result=result):
            return f"{meeting} ended: {result}"
        case SessionRun(name=name, meeting=meeting, laps=0, duration=0.0):
            return f"{name} at {meeting}: not driven yet"
        case SessionRun(name=name, meeting=meeting, laps=laps, duration=duration):
            return f"{name} at {meeting}: {laps} laps, {duration / 60.0:.0f} min"
        case RoadDriven(distance=distance, purpose=purpose):
            return f"{distance / 1000.0:.0f} km on the road{_because(purpose)}"
        case Reading(measure=measure, corner=corner, written=written, place=place):
            return f"{measure.value}{_at(corner)} {place} {written}".replace("  ", " ").strip()
        case JobOpened(title=title):
            return f"job: {title}"
        case JobDone(job=job, found=found):
            return f"job {job} done{_because(found)}"
        case CostPaid(what=what, cents=cents, is_planned=is_planned):
            return f"{'planned' if is_planned else 'paid'} {cents / 100.0:.2f} for {what}"
        case SupportReceived(supporter=supporter, what=what):
            return f"{supporter} gave {what}"
        case SupportReturned(support=support, what=what):
            return f"in return for {support}: {what}"
        case AnswerGiven(question=question, meeting=meeting):
            return f"answer given: {question} for {meeting}"
        case PaperAdded(name=name, about=about):
            return f"paper {name}{_because(about)}"
        case Remark(text=text):
            return text
        case Withdrawn(reason=reason):
            return f"entry {entry.corrects} taken back{_because(reason)}"


def _at(corner: str) -> str:
    return f" {corner}" if corner else ""


def _because(words: str) -> str:
    return f" ({words})" if words else ""
