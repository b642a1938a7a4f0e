"""The plain calculators: forms sent by GET, so that an address holds what was typed; nothing is saved."""

from fastapi import APIRouter
from fastapi.responses import Response
from starlette.exceptions import HTTPException

from tintop.errors import BadInput
from tintop.web.bolt_calculators import ANCHOR, BALLAST, GROUP
from tintop.web.calculating import Calculator, Worked
from tintop.web.page import Visitor, problems_of, show
from tintop.web.section_calculators import PLATE, TUBE
from tintop.web.strap_calculator import STRAP

router = APIRouter()
CALCULATORS: tuple[Calculator, ...] = (STRAP, ANCHOR, GROUP, BALLAST, PLATE, TUBE)


@router.get("/calculators")
def calculators(visit: Visitor) -> Response:
    """The list of calculators."""
    return show(visit, "calculators.html", calculators=CALCULATORS)


@router.get("/calculators/{address}")
def calculator(visit: Visitor, address: str) -> Response:
    """One calculator with what was typed, or with its example; 404 for one there is not."""
    found = next((each for each in CALCULATORS if each.address == address), None)
    if found is None:
        raise HTTPException(404)
    asked = visit.request.query_params
    texts = found.texts(asked)
    problems: dict[str, str] = {}
    worked: Worked | None = None
    try:
        worked = found.worked(texts)
    except BadInput as error:
        problems = problems_of(error)
    return show(
        visit,
        "calculator.html",
        status=422 if problems else 200,
        calculator=found,
        texts=texts,
        problems=problems,
        worked=worked,
        is_example=not any(blank.name in asked for blank in found.blanks),
        examples=[blank.label for blank in found.blanks if blank.name not in asked],
    )
