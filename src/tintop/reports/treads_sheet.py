"""The answer to "What do the tyres say?" as a sheet and as plain content."""

from collections.abc import Mapping
from typing import Any

from tintop.car.chassis import CORNERS
from tintop.lap.tread_changes import TreadChange
from tintop.owner_units import in_owner_units
from tintop.questions.what_do_the_tyres_say import TyresSay, way_words
from tintop.references import work
from tintop.reports.sheet import Sheet, Table


def treads_sheet(found: TyresSay, units: Mapping[str, str] | None = None) -> Sheet:
    """The one change for reading, and the readings it stands on; `units` are the owner's."""
    answer = found.answer
    return Sheet(
        title=answer.question,
        sentences=(answer.sentence, *answer.why, answer.next_thing),
        tables=(
            Table(
                title="Treads °C, inner middle outer",
                columns=(
                    "wheel",
                    "inner",
                    "middle",
                    "outer",
                    "middle over edges K",
                    "inner over outer K",
                    "cold to hot",
                ),
                rows=[
                    (
                        corner,
                        f"{tread.inner:.0f}",
                        f"{tread.middle:.0f}",
                        f"{tread.outer:.0f}",
                        f"{tread.crown:+.1f}".replace("-", "−"),
                        f"{tread.lean:+.0f}".replace("-", "−"),
                        _from_to(found.reading.cold[place], found.reading.hot[place], units or {}),
                    )
                    for place, (corner, tread) in enumerate(zip(CORNERS, found.reading.treads, strict=True))
                ],
            ),
            *_asked_for(found),
        ),
        cautions=answer.cautions,
    )


def _asked_for(found: TyresSay) -> tuple[Table, ...]:
    """What rules ask for; no table where they ask for nothing."""
    if not found.asked:
        return ()
    return (
        Table(
            title="What was asked for, by weight",
            columns=("end", "item", "way", "weight", "seen", "against"),
            rows=[
                (
                    wish.end.value if wish.end else "car",
                    wish.item.value,
                    way_words(wish),
                    f"{wish.weight:.2f}",
                    "; ".join(wish.seen),
                    "; ".join(wish.against),
                )
                for wish in found.asked
            ],
        ),
    )


def treads_content(found: TyresSay) -> dict[str, Any]:
    """The same as plain content; SI, radians, °C."""
    answer, reading = found.answer, found.reading
    return {
        "question": answer.question,
        "verdict": answer.verdict.value,
        "sentence": answer.sentence,
        "why": list(answer.why),
        "next_thing": answer.next_thing,
        "change": _change(found.change),
        "second_best": _change(found.second),
        "measure_again": list(found.measure_again),
        "cannot": [{"why": one.why, "seen": list(one.wish.seen)} for one in found.cannot],
        "treads": {
            corner: {"inner": tread.inner, "middle": tread.middle, "outer": tread.outer}
            for corner, tread in zip(CORNERS, reading.treads, strict=True)
        },
        "pressure_cold": dict(zip(CORNERS, reading.cold, strict=True)),
        "pressure_hot": dict(zip(CORNERS, reading.hot, strict=True)),
        "said": [str(one) for one in reading.said],
        "cautions": list(answer.cautions),
        "working": dict(answer.working),
        "works": [work(key) for key in answer.works],
    }


def _change(change: TreadChange | None) -> dict[str, Any] | None:
    if change is None:
        return None
    return {
        "item": change.wish.item.value,
        "end": change.wish.end.value if change.wish.end else None,
        "from": list(change.before),
        "to": list(change.after),
        "seen": list(change.wish.seen),
        "weight": change.wish.weight,
        "lap_gained": change.gain,
        "balance_moved": change.balance,
        "top_inward": change.top.inward if change.top else None,
        "track_rod_turns": change.top.turns if change.top else None,
    }


def _from_to(cold: float | None, hot: float | None, units: Mapping[str, str]) -> str:
    words = [in_owner_units(one, "pressure", units) if one is not None else "–" for one in (cold, hot)]
    return " to ".join(words) if cold is not None or hot is not None else ""
