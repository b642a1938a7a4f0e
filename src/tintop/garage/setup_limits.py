"""What the rule books of an event say about a set-up, as bounds on what is turned."""

from collections.abc import Iterable

from tintop.car.chassis import Chassis, End, Item
from tintop.car.setup import Setup
from tintop.car.setup_ranges import Bounds
from tintop.errors import TintopError
from tintop.garage.inspection import inspection_of
from tintop.garage.keeper import Garage
from tintop.logbook.entries import MeetingPlanned
from tintop.questions.best_setup import NOT_CHECKED, Legality
from tintop.rules.book import Limits
from tintop.rules.expression import Named
from tintop.rules.findings import Finding, Ruling

CLEARANCE = "body.ground_clearance"


def limits_of(
    garage: Garage, meeting: MeetingPlanned | None, chassis: Chassis, fitted: Setup | None
) -> Legality:
    """Bounds from the inspection for an event; not checked without an event, a book, or a book that reads."""
    if meeting is None or not meeting.rule_books:
        return NOT_CHECKED
    try:
        inspection = inspection_of(garage, meeting)
    except TintopError as error:
        return Legality(sentences=(f"Legality not checked: {error}",))
    return legality(inspection.findings, meeting.name, chassis, fitted)


def legality(findings: Iterable[Finding], event: str, chassis: Chassis, fitted: Setup | None) -> Legality:
    """Bounds from what was found on ground clearance, the one fact of the books that a set-up moves.

    The clearance is taken as measured at the heights of `fitted` (None = those of the chassis). Where its
    lowest part lies along the car is not recorded: both ends are held, each as if it lay under that end.
    """
    of_clearance = [one for one in findings if _is_about(one, CLEARANCE)]
    if not of_clearance:
        return Legality(
            sentences=(f"{event}: its books ask nothing that these adjusters move.",), is_checked=True
        )
    bounds: dict[tuple[Item, End | None], Bounds] = {}
    sentences = []
    for finding in of_clearance:
        if finding.margin is None:
            sentences.append(
                f"{event}, {finding.clause.reference}: ground clearance not proven; heights are not checked."
            )
            continue
        error = max((proof.error for proof in finding.evidence), default=0.0)
        short = (
            error - finding.margin.amount
        )  # how far the car has to come up to be sure; negative = to spare
        for end in End:
            low, _ = bounds.get((Item.RIDE_HEIGHT, end), (None, None))
            least = _height(chassis, fitted, end) + short
            bounds[Item.RIDE_HEIGHT, end] = (least if low is None else max(low, least), None)
        sentences.append(_sentence(event, finding, short))
    return Legality(bounds=bounds, sentences=tuple(sentences), is_checked=True)


def _is_about(finding: Finding, fact: str) -> bool:
    check = finding.clause.check
    return isinstance(check, Limits) and isinstance(check.value, Named) and check.value.fact == fact


def _height(chassis: Chassis, fitted: Setup | None, end: End) -> float:
    """The lower wheel's height at an end [m]: that counts, for it may be the one with the lowest part."""
    if fitted is None:
        return chassis.at(end).ride_height
    return min(corner.ride_height for corner in fitted.pair(end))


def _sentence(event: str, finding: Finding, short: float) -> str:
    said = f"{event}, {finding.clause.reference}: {finding.reason}"
    if short > 0.0:
        word = "not legal" if finding.ruling is Ruling.FAIL else "not proven legal"
        return (
            f"{said}. As it stands it is {word}: both ends come up by {short * 1e3:.0f} mm, then measure the "
            "clearance again."
        )
    return f"{said}. It may go down by {-short * 1e3:.0f} mm at most; measure the clearance again after that."
