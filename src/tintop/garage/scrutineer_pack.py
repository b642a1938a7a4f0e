"""The pack for the scrutineer as PDF, from the inspection of a garage's car and the originals it keeps."""

import base64
import io
from collections.abc import Iterator

from tintop.car.cage import Cage
from tintop.car.described import DescribedCar
from tintop.charts.cage_drawing import cage_drawing_svg
from tintop.errors import BadInput, TintopError, refuse
from tintop.garage.inspection import circuit_name, inspected, season_of
from tintop.garage.keeper import CAGE, Garage
from tintop.logbook.build import parts_on
from tintop.logbook.entries import MeetingPlanned
from tintop.logbook.jobs import jobs_on
from tintop.papers.pack_content import Exhibit, ScrutineerPack
from tintop.papers.pack_groups import papers_of
from tintop.papers.pack_lines import is_hidden
from tintop.papers.scrutineer_pack import scrutineer_pack_of
from tintop.papers.typeset import set_scrutineer_pack
from tintop.rules.evidence import Paper
from tintop.rules.findings import Inspection
from tintop.store.documents.cage_reader import read_cage
from tintop.store.pictures import smaller_picture

_LONGEST, _LONGEST_OF_MANY, _MANY = 840, 600, 40  # points of the longer side; so many pictures are many
_QUALITY = 78
_RECEIPT = "a receipt, kept by the owner"


def scrutineer_pack(garage: Garage, meeting: MeetingPlanned, *, has_prices: bool = False) -> bytes:
    """The pack for an event as PDF; without prices to hand over, with them for the owner alone.

    Raises BadInput where no rule book is named for the event, or one does not read.
    """
    return set_scrutineer_pack(scrutineer_pack_content(garage, meeting, has_prices=has_prices))


def scrutineer_pack_content(
    garage: Garage, meeting: MeetingPlanned, *, has_prices: bool = False
) -> ScrutineerPack:
    """What stands in the pack; a picture that is gone or damaged is said in it."""
    if not meeting.rule_books:
        raise refuse(
            meeting.name, "no rule book named", "the rule books that apply", "Name them on the event's page."
        )
    found, today = inspected(garage, meeting), garage.today()
    cage, parts = _cage(garage), parts_on(garage.book, today)
    return scrutineer_pack_of(
        found.inspection,
        found.facts,
        meeting,
        season_of(garage),
        title=garage.settings.title,
        owner=garage.settings.owner,
        car=_car(garage),
        place=circuit_name(garage, meeting) or meeting.circuit or "not named",
        day=today,
        exhibits=dict(_exhibits(garage, found.inspection, has_prices=has_prices)),
        parts={name: part.title for name, part in parts.items()},
        made={name: part.part.made for name, part in parts.items() if part.part.made},
        evidence=found.evidence,
        jobs=jobs_on(garage.book, today).open,
        cage=cage,
        cage_drawing=cage_drawing_svg(cage) if cage else "",
        currency=garage.settings.currency,
        has_prices=has_prices,
    )


def _exhibits(garage: Garage, inspection: Inspection, *, has_prices: bool) -> Iterator[tuple[str, Exhibit]]:
    papers = papers_of(inspection)
    longest = _LONGEST if len(papers) <= _MANY else _LONGEST_OF_MANY
    for paper in papers:
        if not has_prices and is_hidden(inspection, paper.digest):
            yield paper.digest, Exhibit(why_not=_RECEIPT)
        else:
            yield paper.digest, _exhibit(garage, paper, longest)


def _exhibit(garage: Garage, paper: Paper, longest: int) -> Exhibit:
    if not paper.media_type.startswith("image/"):
        kind = "a PDF" if paper.media_type == "application/pdf" else f"a file ({paper.media_type})"
        return Exhibit(why_not=f"{kind}, kept with the logbook")
    try:
        content = garage.store.original_content(paper.digest)
    except BadInput:
        return Exhibit(why_not="its original is gone or was changed")
    try:
        return Exhibit(svg=_as_svg(smaller_picture(content, longest, _QUALITY)))
    except Exception:  # a damaged picture fails in any of many ways
        return Exhibit(why_not="the picture is damaged and cannot be read")


def _as_svg(jpeg: bytes) -> str:
    """A picture as the drawing that typst takes in: its bytes as they are."""
    from PIL import Image

    with Image.open(io.BytesIO(jpeg)) as picture:
        width, height = picture.size
    data = base64.b64encode(jpeg).decode("ascii")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" '
        f'viewBox="0 0 {width} {height}">'
        f'<image width="{width}" height="{height}" href="data:image/jpeg;base64,{data}"/></svg>'
    )


def _cage(garage: Garage) -> Cage | None:
    if CAGE not in garage.document_names():
        return None
    try:
        return read_cage(garage.folder / CAGE).cage
    except TintopError:
        return None


def _car(garage: Garage) -> DescribedCar | None:
    try:
        return garage.car()
    except TintopError:
        return None
