"""Is the car legal for the event? Not proven, as long as no rule book has been inspected."""

from tintop.answer import Answer, Verdict
from tintop.logbook.entries import MeetingPlanned

CAUTIONS = (
    "The scrutineer decides, by the regulations in force on the day; this answer takes the place of neither.",
)


def is_it_legal(meeting: MeetingPlanned | None = None) -> Answer:
    """Answer that nothing is proven: no rule book was inspected, so nothing can be said to comply."""
    where = f" for {meeting.name}" if meeting is not None else ""
    return Answer(
        question="Is it legal?",
        verdict=Verdict.NOT_PROVEN,
        sentence="Not proven: no rule book has been inspected.",
        figures=(),
        why=(f"no rule, of any edition, has been held against this car{where}",),
        next_thing="Read the regulations in force and the event's own, and go through the car by them, "
        "with the dates of belts, seat, extinguisher and helmet in hand.",
        cautions=CAUTIONS,
    )
