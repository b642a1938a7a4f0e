"""Facts as a person writes them, read into values in SI."""

import calendar
import re
from collections.abc import Iterator
from datetime import date

from tintop.checks import require
from tintop.errors import BadInput, did_you_mean, refuse
from tintop.physics.threads import GRADES, THREADS
from tintop.rules.facts import (
    Bolts,
    Fact,
    FactKind,
    FactValue,
    Marked,
    Outline,
    Tube,
    Unreadable,
)
from tintop.rules.placeholders import is_not_known, is_nothing, is_visible
from tintop.rules.shorthand import spelled_out
from tintop.units import parse_quantity

_MOST_LETTERS = 400
_SPREAD = re.compile(r"\s*(?:±|\+/-|\+-)\s*")
_BARE = re.compile(r"[+-]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)(?:[eE][+-]?[0-9]{1,3})?")
_BOLTS = re.compile(r"([0-9]{1,3})\s*(?:[x×*]|\s)\s*(.+)", re.IGNORECASE)
_METRIC = re.compile(
    r"M\s*([0-9]{1,2}(?:[.,][0-9]{1,17})?)(?:\s*[x×]\s*([0-9.,]{1,5}))?(?:\s+(.*))?", re.IGNORECASE
)
_INCH = re.compile(
    r'([0-9]{1,2})/([0-9]{1,2})\s*(?:in\b|inch\b|")?\s*(?:-\s*([0-9]{1,2})\b)?\s*(UN[A-Z]*\b)?\s*(.*)',
    re.IGNORECASE,
)
_SERIES = {("7/16", "20"): "UNF", ("7/16", "14"): "UNC"}  # ASME B1.1
_OTHER_CLASS = re.compile(
    r"(?:grade\s*[0-9](?:\.[0-9])?|[AC][1-5]-[0-9]{2,3}|[0-9]{1,2}\.[0-9])", re.IGNORECASE
)
_UNMARKED = {"", "unmarked", "no mark", "none", "no class"}
_TRUE = {"yes", "y", "true", "ok", "1"}
_FALSE = {"no", "n", "false", "0"}
_UNREADABLE = {"unreadable", "illegible", "missing", "no label", "cut off", "faded"}
_MONTHS = {name.casefold(): number for number, name in enumerate(calendar.month_abbr) if name}


def read_fact(fact: Fact, text: str, where: str = "") -> tuple[FactValue, float | None]:
    """Read what a person wrote for a fact: the value in SI, and the ± in SI if one is written.

    Raises BadInput naming `where` (the fact itself if left out) when it cannot be read in one way.
    """
    where = where or fact.ask
    written = text.strip().replace("−", "-")
    require(bool(written), where, "nothing", _EXAMPLES[fact.kind])
    require(len(written) <= _MOST_LETTERS, where, f"{len(written)} letters", f"{_MOST_LETTERS} at most")
    error: float | None = None
    if fact.kind in _MEASURED:
        figures, *spreads = _SPREAD.split(written)
        if len(spreads) > 1:
            raise refuse(where, repr(written), "one ± at most")
        if spreads:
            written, error = _with_spread(figures, spreads[0], fact, where)
    match fact.kind:
        case FactKind.NUMBER:
            return parse_quantity(written, fact.quantity or "number", where), error
        case FactKind.NUMBERS:
            return tuple(_figures(written, fact.quantity or "number", where)), error
        case FactKind.POINT:
            return _point(written, where), error
        case FactKind.OUTLINE:
            return _outline(written, where), error
        case FactKind.TUBE:
            return _tube(written, where), error
        case FactKind.BOLTS:
            return _bolts(written, where), None
        case FactKind.TEXT:
            return _text(written, fact, where), None
        case FactKind.CHOICE:
            return _choice(written, fact, where), None
        case FactKind.NAMES:
            return _names(written, where), None
        case FactKind.YES_NO:
            return _yes_no(written, where), None
        case FactKind.MARKED:
            return _marked(written, where), None


_MEASURED = (FactKind.NUMBER, FactKind.NUMBERS, FactKind.POINT, FactKind.OUTLINE, FactKind.TUBE)
_EXAMPLES = {
    FactKind.NUMBER: 'a number with its unit, such as "44.9 ± 0.1 mm"',
    FactKind.NUMBERS: 'several numbers and their unit, such as "5.1 4.9 5.0 mm"',
    FactKind.POINT: 'x forward, y left, z up with the unit, such as "-1200 350 900 mm"',
    FactKind.OUTLINE: 'corners in order, such as "0 0, 120 0, 120 100, 0 100 mm", or "120 x 100 mm"',
    FactKind.TUBE: 'outside diameter and wall, such as "45 x 2.5 mm" or "1.75 x 0.095 in"',
    FactKind.BOLTS: 'number, thread and class, such as "3 x M8 8.8"',
    FactKind.TEXT: "what it says",
    FactKind.CHOICE: "one of its words",
    FactKind.NAMES: 'names with commas between, such as "Robin, Sam"',
    FactKind.YES_NO: "yes or no",
    FactKind.MARKED: 'a date as marked, "2024", "2024-03" or "2024-03-15", or "unreadable"',
}


def _with_spread(figures: str, spread: str, fact: Fact, where: str) -> tuple[str, float]:
    """Split "44.9 ± 0.1 mm": the figures with the unit, which may stand at either or both."""
    quantity = "length" if fact.kind not in (FactKind.NUMBER, FactKind.NUMBERS) else fact.quantity or "number"
    bare = _BARE.match(spread)
    if bare is None:
        raise refuse(where, repr(spread[:30]), "a number after ±")
    unit = spread[bare.end() :].strip()
    if not unit:
        unit = _last_unit(figures)
    elif not _last_unit(figures):
        figures = f"{figures} {unit}"
    if quantity == "temperature":
        quantity = "temperature difference"
    error = parse_quantity(f"{bare[0]} {unit}".strip(), quantity, where)
    require(error >= 0.0, where, f"± {bare[0]}", "a ± of 0 or more")
    return figures, error


def _last_unit(figures: str) -> str:
    match = re.search(r"[^0-9.,\s;+-][^0-9,;\s]*[0-9]?$", figures.strip())
    return match[0] if match else ""


def _figures(text: str, quantity: str, where: str) -> Iterator[float]:
    """Numbers parted by blanks, semicolons, or commas with a blank; the unit last, or at each."""
    pieces = [piece for piece in re.split(r"[;\s]+|,\s+", text) if piece]
    unit = ""
    if pieces and not _BARE.match(pieces[-1]):
        unit = pieces.pop()
    elif pieces:
        unit = pieces[-1][_BARE.match(pieces[-1]).end() :]  # type: ignore[union-attr]
    pieces = [piece for piece in pieces if piece != unit or not unit]
    require(bool(pieces), where, repr(text[:60]), "numbers")
    for piece in pieces:
        bare = _BARE.fullmatch(piece)
        yield parse_quantity(f"{piece} {unit}".strip() if bare else piece, quantity, where)


def _point(text: str, where: str) -> FactValue:
    plain = re.sub(r"\b[xyz]\s*=?\s*(?=[-+.0-9])", " ", text, flags=re.IGNORECASE)
    figures = tuple(_figures(plain, "length", where))
    require(len(figures) == 3, where, f"{len(figures)} figures in {text[:60]!r}", _EXAMPLES[FactKind.POINT])
    return figures


def _outline(text: str, where: str) -> Outline:
    sides = re.fullmatch(r"\s*([^x×]+?)\s*[x×]\s*([^x×]+?)\s*", text)
    if sides:
        length, width = _two(sides[1], sides[2], where, _EXAMPLES[FactKind.OUTLINE])
        return ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))
    pieces = re.split(r";|,\s+", text)
    unit = _last_unit(pieces[-1])
    corners = []
    for piece in pieces:
        figures = tuple(_figures(piece if _last_unit(piece) else f"{piece} {unit}", "length", where))
        require(len(figures) == 2, where, f"the corner {piece.strip()!r}", _EXAMPLES[FactKind.OUTLINE])
        corners.append((figures[0], figures[1]))
    require(len(corners) >= 3, where, f"{len(corners)} corners", "three corners or more")
    return tuple(corners)


def _two(one: str, other: str, where: str, expected: str) -> tuple[float, float]:
    unit = _last_unit(other)
    if not unit and other.rstrip().endswith('"'):
        unit = '"'
    require(bool(unit), where, repr(f"{one} x {other}"), expected, "Write the unit, such as mm.")
    first = one if _last_unit(one) else f"{one} {unit}"
    return parse_quantity(first, "length", where), parse_quantity(other, "length", where)


def _tube(text: str, where: str) -> Tube:
    text = spelled_out(FactKind.TUBE, text)
    sides = re.split(r"\s*[x×*]\s*", text, flags=re.IGNORECASE)
    require(len(sides) == 2, where, repr(text[:60]), _EXAMPLES[FactKind.TUBE])
    diameter, wall = _two(sides[0], sides[1], where, _EXAMPLES[FactKind.TUBE])
    try:
        return Tube(diameter=diameter, wall=wall)
    except BadInput as refusal:
        raise refuse(
            where, repr(text[:60]), f"{refusal.problems[0].where} {refusal.problems[0].expected}"
        ) from None


def _bolts(text: str, where: str) -> Bolts:
    match = _BOLTS.fullmatch(text)
    size = match and (_METRIC.fullmatch(match[2].strip()) or _INCH.fullmatch(match[2].strip()))
    if not match or not size or int(match[1]) < 1:
        raise refuse(where, repr(text[:60]), _EXAMPLES[FactKind.BOLTS])
    if size.re is _METRIC:
        diameter = float(f"{size[1].replace(',', '.')}e-3")
        thread, mark = _metric_thread(size[1], size[2] or ""), size[3] or ""
    else:
        require(int(size[2]) > 0, where, repr(text[:60]), _EXAMPLES[FactKind.BOLTS])
        diameter, mark = inches(int(size[1]), int(size[2])), size[5] or ""
        thread = _unified_thread(f"{int(size[1])}/{int(size[2])}", size[3] or "", size[4] or "", where)
    require(diameter > 0.0, where, repr(text[:60]), _EXAMPLES[FactKind.BOLTS])
    return Bolts(
        count=int(match[1]), diameter=diameter, strength_class=_class(mark.strip(), where), thread=thread
    )


def _metric_thread(size: str, pitch: str) -> str:
    """The name of a thread that is not the coarse one of its size."""
    if not pitch:
        return ""
    name = f"M{size.replace(',', '.')}"
    pitch = pitch.replace(",", ".").rstrip("0").rstrip(".") if re.search("[.,]", pitch) else pitch
    coarse = THREADS.get(name)
    is_coarse = coarse is not None and f"{1e3 * coarse.pitch:g}" == pitch
    return "" if is_coarse else f"{name}x{pitch}"


def _unified_thread(size: str, pitch: str, series: str, where: str) -> str:
    """The name of a thread in inches by pitch or series; empty where neither is said."""
    series = series.upper()
    pitches = {said: known for (of, known), said in _SERIES.items() if of == size}
    pitch, known = pitch or pitches.get(series, ""), _SERIES.get((size, pitch), "")
    found = f"{size}-{pitch} {series}"
    require(not (known and series) or series == known, where, repr(found), f"{size}-{pitch} {known}")
    is_other = bool(pitch) and series in pitches and pitches[series] != pitch
    require(not is_other, where, repr(found), f"{size}-{pitches.get(series)} {series}")
    return f"{size}{f'-{pitch}' if pitch else ''} {series or known}".strip() if pitch or series else ""


def inches(part: int, of: int) -> float:
    """Give a fraction of an inch [m], such as 7/16, without floating-point dust."""
    return round(part / of * 0.0254, 9)


def _class(mark: str, where: str) -> str:
    plain = (
        re.sub(r"\s", "", re.sub(r"^class\s*", "", mark, flags=re.IGNORECASE)).replace(",", ".").casefold()
    )
    if mark.casefold() in _UNMARKED:
        return ""
    numbered = re.sub(r"^grade(?=[0-9]+\.[0-9])", "", plain)  # "grade 8.8" is class 8.8; "Grade 8" another's
    for name in GRADES:
        if re.sub(r"\s", "", name).casefold() in (plain, numbered):
            return name
    require(
        bool(_OTHER_CLASS.fullmatch(plain)),
        where,
        f"the class {mark[:30]!r}",
        f"what is marked on the head, such as {', '.join(GRADES)}, or unmarked",
    )
    return plain.replace("grade", "Grade ").upper() if plain[0] in "ac" else plain.replace("grade", "Grade ")


def _text(text: str, fact: Fact, where: str) -> str:
    cure = "Leave it unrecorded until it is there to be read."
    require(not is_not_known(text), where, repr(text[:60]), "what it says", cure)
    is_number = "number" in re.findall(r"[a-z]+", fact.ask.casefold())
    require(not (is_number and is_nothing(text)), where, repr(text[:60]), "the number", cure)
    return text


def _choice(text: str, fact: Fact, where: str) -> str:
    for choice in fact.choices:
        if choice.casefold() == text.casefold():
            return choice
    raise refuse(
        where,
        repr(text[:60]),
        f"one of {', '.join(fact.choices)}",
        did_you_mean(text, fact.choices),
    )


def _names(text: str, where: str) -> tuple[str, ...]:
    names = tuple(name.strip() for name in re.split(r",|;|\n", text) if name.strip())
    require(bool(names) and all(map(is_visible, names)), where, repr(text[:60]), _EXAMPLES[FactKind.NAMES])
    require(len(set(names)) == len(names), where, repr(text[:60]), "each name once")
    return names


def _yes_no(text: str, where: str) -> bool:
    plain = text.casefold()
    require(plain in _TRUE | _FALSE, where, repr(text[:60]), "yes or no")
    return plain in _TRUE


def _marked(text: str, where: str) -> Marked | Unreadable:
    plain = " ".join(spelled_out(FactKind.MARKED, text).casefold().split())
    if plain in _UNREADABLE:
        return Unreadable()
    wanted = refuse(where, repr(text[:60]), _EXAMPLES[FactKind.MARKED])
    if match := re.fullmatch(r"([12][0-9]{3})(?:[-/.]([0-9]{1,2})(?:[-/.]([0-9]{1,2}))?)?", plain):
        year, month, day = (int(part) if part else 0 for part in match.groups())
    elif match := re.fullmatch(r"([0-9]{1,2})[-/. ]([12][0-9]{3})", plain):
        year, month, day = int(match[2]), int(match[1]), 0
    elif (match := re.fullmatch(r"(?:([0-9]{1,2})[. -]*)?([a-z]{3,9})\.?[ -]*([12][0-9]{3})", plain)) and (
        number := _MONTHS.get(match[2][:3])
    ):
        year, month, day = int(match[3]), number, int(match[1] or 0)
    else:
        raise wanted
    if year < 1950 or year > 2199 or month > 12 or ((match.lastindex or 0) > 1 and month == 0):
        raise wanted
    if month == 0:
        return Marked(day=date(year, 12, 31), precision="year")
    last = calendar.monthrange(year, month)[1]
    if day > last:
        raise wanted
    return Marked(day=date(year, month, day or last), precision="day" if day else "month")
