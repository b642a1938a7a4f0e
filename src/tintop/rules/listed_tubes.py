"""A tube against the pairs of diameter and wall a book lists."""

from tintop.rules.book import ListedTubes, TubeRow
from tintop.rules.evaluate import Given, NotKnownError, figure, needed, number, spread
from tintop.rules.exact import are_equal, excess
from tintop.rules.facts import Tube
from tintop.rules.figures import shown_in, write_difference, write_figure
from tintop.rules.findings import Margin, Ruling
from tintop.rules.ruled import MORE_EXACTLY, TOO_NEAR, Ruled, not_known

_BEST_FIRST = (Ruling.PASS, Ruling.NOT_PROVEN, Ruling.FAIL)


def rule_tube(check: ListedTubes, given: Given) -> Ruled:
    """Rule a tube: outside diameter and wall both have to reach those of one listed pair."""
    used = tuple(
        key
        for expression in (check.tube, check.by)
        if expression is not None
        for key in needed(expression, given)
        if key in given.values
    )
    try:
        tube = figure(check.tube, given)
        rows = _rows(check, given)
    except NotKnownError as unknown:
        return not_known(unknown, given, used)
    if not isinstance(tube, Tube):
        return Ruled(ruling=Ruling.NOT_PROVEN, reason="this is no tube", used=used)
    if not rows:
        return Ruled(
            ruling=Ruling.NOT_PROVEN, reason=f"the book lists no tube for {_by(check, given)}", used=used
        )
    error = max((given.errors.get(key, 0.0) for key in needed(check.tube, given)), default=0.0)
    outcomes = [_against(row, tube, error) for row in rows]
    ruled = max(outcomes, key=lambda one: _BEST_FIRST.index(one.ruling))
    if len({one.ruling for one in outcomes}) > 1 and ruled.ruling is Ruling.FAIL:
        ruled = ruled.worse(
            Ruling.NOT_PROVEN, f"{_by(check, given)} is too near where the list changes", MORE_EXACTLY
        )
    by = (f"{_by(check, given)}: {ruled.limit}",) if check.by is not None else (f"listed: {ruled.limit}",)
    return Ruled(
        ruling=ruled.ruling,
        reason=ruled.reason,
        value=ruled.value,
        limit=ruled.limit,
        margin=ruled.margin,
        used=used,
        to_do=ruled.to_do,
        working=(*by, *ruled.working),
    )


def _by(check: ListedTubes, given: Given) -> str:
    if check.by is None:
        return "this car"
    quantity, unit = shown_in(check.by, [row.up_to for row in check.rows if row.up_to], given.facts)
    return write_figure(number(check.by, given), quantity, unit, spread(check.by, given))


def _rows(check: ListedTubes, given: Given) -> list[TubeRow]:
    """The row that applies; two where the quantity lies within its ± of where the list changes."""
    if check.by is None:
        return list(check.rows[:1])
    by, error = number(check.by, given), spread(check.by, given)
    found: list[TubeRow] = []
    for value in dict.fromkeys((by - error, by, by + error)):
        for row in check.rows:
            if row.up_to is None or excess(value, number(row.up_to, given)) <= 0.0:
                if row not in found:
                    found.append(row)
                break
        else:
            return []
    return found


def _is_in_inches(written: str) -> bool:
    return written.rstrip().endswith(("in", '"', "inch"))


def _against(row: TubeRow, tube: Tube, error: float) -> Ruled:
    """A tube against one row: the pair it meets by most, or misses by least."""
    limit = " or ".join(row.written)
    shares = [
        min(excess(tube.diameter, pair.diameter) / pair.diameter, excess(tube.wall, pair.wall) / pair.wall)
        for pair in row.tubes
    ]
    best = max(range(len(shares)), key=shares.__getitem__)
    pair, written = row.tubes[best], row.written[best]
    gaps = (excess(tube.diameter, pair.diameter), excess(tube.wall, pair.wall))
    unit = "in" if all(map(_is_in_inches, row.written)) else "mm"
    shown = " x ".join(
        write_figure(one, "length", unit, 0.0, (other,)).removesuffix(f" {unit}")
        for one, other in ((tube.diameter, pair.diameter), (tube.wall, pair.wall))
    )
    if unit == "mm" and _is_in_inches(written):
        sides = (write_figure(side, "length", "mm") for side in (pair.diameter, pair.wall))
        written = f"{written} ({' x '.join(sides).replace(' mm x', ' x')})"
    spread_said = f" ± {write_difference(error, 'length', unit)}" if error > 0.0 else ""
    value = f"{shown} {unit}{spread_said}"
    gap = min(gaps)
    side = "diameter" if gap == gaps[0] else "wall"
    ruled = Ruled(
        ruling=Ruling.PASS,
        reason=f"{value}, listed {written}",
        value=value,
        limit=limit,
        margin=Margin(
            amount=gap,
            quantity="length",
            written=f"{side} {write_difference(abs(gap), 'length', unit)} "
            f"{'short of' if gap < 0.0 else 'over'} {written}",
            share=shares[best],
        ),
        working=(f"{value} against {written}",),
    )
    if gap < 0.0:
        short = [
            f"{write_difference(-one, 'length', unit)} of {name}"
            for one, name in zip(gaps, ("diameter", "wall"), strict=True)
            if one < 0.0
        ]
        return Ruled(
            ruling=Ruling.FAIL,
            reason=f"{value}, listed {limit}: {' and '.join(short)} short of {written}",
            value=value,
            limit=limit,
            margin=ruled.margin,
            working=ruled.working,
        )
    if error > 0.0 and (gap <= error or are_equal(gap, error)):
        return ruled.worse(
            Ruling.NOT_PROVEN,
            TOO_NEAR.replace("near to", "near a listed size to"),
            "Measure again more exactly, or show the maker's certificate.",
        )
    return ruled
