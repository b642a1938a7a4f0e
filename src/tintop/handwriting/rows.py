"""Several values written in one go: four corners, or three temperatures across a tread."""

import re
from collections.abc import Callable, Sequence
from dataclasses import replace

from tintop.errors import BadInput, refuse
from tintop.handwriting.meaning import Ask, Row, Understood, settle
from tintop.handwriting.notes import shown, tidy

CORNERS = ("FL", "FR", "RL", "RR")
ACROSS = ("inner", "middle", "outer")
INNER_FIRST, OUTER_FIRST = "inner first", "outer first"
_LABELS = {"lf": "FL", "rf": "FR", "lr": "RL", "rr": "RR", "fl": "FL", "fr": "FR", "rl": "RL"}
_LABEL = re.compile(r"(?<![a-z])(fl|fr|rl|rr|lf|rf|lr|fronts?|rears?|f|r)(?![a-z]) ?[:=]? ?", re.IGNORECASE)
_ALL = re.compile(r"all(?: four| round| 4)? ?:? ?", re.IGNORECASE)
_NUMBER_AHEAD = r"(?=[+-]?[.,]?[0-9])"
_BETWEEN = re.compile(rf" ?[;|] ?| / {_NUMBER_AHEAD}|, {_NUMBER_AHEAD}|(?<!/) (?!/){_NUMBER_AHEAD}")
_STROKE = re.compile(rf" ?/ ?{_NUMBER_AHEAD}")
_INCHES = re.compile(r"[0-9] ?/ ?(?:8|16|32|64)(?![0-9])")
_TAIL = re.compile(r"[+-]?[0-9.,]+(?: ?/ ?(?:8|16|32|64)(?![0-9]))? ?(.*)", re.DOTALL)

_EDGE = re.compile(
    r"(?<![a-z])(i|in|inner|inside|m|mid|middle|o|out|outer|outside|to)(?![a-z]) ?[:=]?", re.IGNORECASE
)

Reader = Callable[[str, str | None], Understood | Ask[Understood]]


def read_corners(
    text: object, field_name: str, read: Reader, usual_unit: str | None = None
) -> Row | Ask[Row]:
    """Read one, two (front, rear) or four values, in the order FL FR RL RR or named.

    `read` reads one of them. Raises BadInput when the text can be no such row.
    """
    expected = f'a {field_name} for each corner, such as "FL FR RL RR" or "front/rear"'
    tidied = tidy(text, field_name, expected)
    plain = _ALL.sub("", tidied) if _ALL.match(tidied) else tidied
    labelled = _labelled(plain)
    parts = labelled or _spread(_parts(plain, field_name, (1, 2, 4)))
    if parts is None or len(parts) not in (1, 2, 4):
        raise refuse(field_name, shown(tidied), expected)
    count = len(parts)
    by_corner = [parts[0 if count == 1 else index // 2 if count == 2 else index] for index in range(4)]
    is_assumed = count < 4 and labelled is None and plain == tidied
    return _settle_row(by_corner, CORNERS, tidied, read, usual_unit, is_assumed=is_assumed)


def read_temperatures_across(
    text: object, read: Reader, usual_unit: str | None = None, usual_order: str | None = None
) -> Row | Ask[Row]:
    """Read three tread temperatures; asks which end is the inner one, unless written or told.

    `read` reads one of them. Raises BadInput when the text can be no such row.
    """
    expected = 'three temperatures such as "in 85 82 78 out"'
    tidied = tidy(text, "tyre temperature", expected)
    plain, order = _said_order(tidied)
    parts = _spread(_parts(plain, "tyre temperature", (3,)))
    if parts is None or len(parts) != 3:
        raise refuse("tyre temperature", shown(tidied), expected)
    both = (INNER_FIRST, OUTER_FIRST)
    orders = [order] if order else [one for one in both if one == usual_order] or both
    rows: list[Row] = []
    for one in orders:
        arranged = parts if one == INNER_FIRST else parts[::-1]
        found = _settle_row(arranged, ACROSS, tidied, read, usual_unit, is_assumed=order is None)
        rows += [found] if isinstance(found, Row) else found.choices
    question = f"Is {shown(parts[0])} the inner or the outer edge?"
    return settle(tidied, question if len(orders) > 1 else f"In which unit is {shown(tidied)}?", rows)


def _said_order(text: str) -> tuple[str, str | None]:
    """Take off "in … out", "i85 m82 o78" and the like, and give the order they say."""
    words = re.findall(r"[a-z]+", text.casefold())
    ends = [word[0] for word in words if re.fullmatch(r"i|in|inner|inside|o|out|outer|outside", word)]
    plain = _EDGE.sub(" ", text)
    order = {"io": INNER_FIRST, "oi": OUTER_FIRST}.get("".join(ends))
    return " ".join(plain.replace("()", "").split()), order


def _labelled(text: str) -> list[str] | None:
    """Give the four parts of a text that names its corners or ends, or None when it names none."""
    marks = list(_LABEL.finditer(text))
    if len(marks) < 2 or marks[0].start() != 0:
        return None
    ends = [mark.start() for mark in marks[1:]] + [len(text)]
    parts = _spread([text[mark.end() : end].strip(" ,;/|") for mark, end in zip(marks, ends, strict=True)])
    names = [mark[1].casefold() for mark in marks]
    if parts is None:
        return None
    if len(names) == 2 and {name[0] for name in names} == {"f", "r"} and names[0] not in _LABELS:
        by_end = {name[0]: part for name, part in zip(names, parts, strict=True)}
        return [by_end["f"], by_end["r"]]
    corners = {_LABELS[name]: part for name, part in zip(names, parts, strict=True) if name in _LABELS}
    return [corners[corner] for corner in CORNERS] if len(names) == 4 and len(corners) == 4 else None


def _parts(text: str, field_name: str, counts: tuple[int, ...]) -> list[str]:
    has_inches = field_name in ("toe", "tread depth") and _INCHES.search(text)
    ways = [_BETWEEN.split(text)]
    if not has_inches:
        ways.append([part for piece in ways[0] for part in _STROKE.split(piece)])
    parts = [part.strip() for part in max(ways, key=len)]
    if len(parts) == 1 and text.count(",") >= 2:
        parts = [part.strip() for part in text.split(",")]
    return parts if len(parts) in counts and all(parts) else []


def _spread(parts: list[str]) -> list[str] | None:
    """Give every part the words after the last one, where the others have none."""
    tails = [_TAIL.fullmatch(part) for part in parts]
    if not parts or any(tail is None for tail in tails):
        return None
    words = [tail[1] for tail in tails if tail is not None]
    if words[-1] and not any(words[:-1]):
        return [f"{part} {words[-1]}" for part in parts[:-1]] + [parts[-1]]
    return parts


def _settle_row(
    parts: Sequence[str],
    places: tuple[str, ...],
    written: str,
    read: Reader,
    usual_unit: str | None,
    *,
    is_assumed: bool,
) -> Row | Ask[Row]:
    """Give the row all in one unit; where more units fit, or the parts point to different ones, ask."""
    found = [_or_refusal(part, read, usual_unit) for part in parts]
    understood = [one for one in found if isinstance(one, Understood)]
    rows = [tuple(understood)] if len(understood) == len(parts) else []
    is_mixed = len({one.unit for one in understood}) > 1 and any(one.is_guessed for one in understood)
    if not rows or is_mixed:
        units = [unit for one in found for unit in _units(one)]
        for unit in dict.fromkeys(units):
            row = [_in_unit(part, read, unit) for part in parts]
            if all(one is not None for one in row):
                rows.append(tuple(one for one in row if one is not None))
    if not rows:
        refusals = [one for one in found if isinstance(one, BadInput)]
        raise refusals[0] if refusals else refuse("row", shown(written), "values of one kind")
    meanings = [_row(row, places, written, is_assumed=is_assumed) for row in rows]
    return settle(written, f"{shown(written)} reads more than one way. Which is meant?", meanings)


def _or_refusal(part: str, read: Reader, unit: str | None) -> Understood | Ask[Understood] | BadInput:
    try:
        return read(part, unit)
    except BadInput as refusal:
        return refusal


def _units(found: Understood | Ask[Understood] | BadInput) -> list[str]:
    if isinstance(found, BadInput):
        return []
    return [found.unit] if isinstance(found, Understood) else [choice.unit for choice in found.choices]


def _in_unit(part: str, read: Reader, unit: str) -> Understood | None:
    found = _or_refusal(part, read, unit)
    if isinstance(found, Ask):
        of_unit = (choice for choice in found.choices if choice.unit == unit)
        return next((replace(choice, is_guessed=True) for choice in of_unit), None)
    if isinstance(found, Understood) and (found.unit == unit or not found.is_guessed or found.value == 0.0):
        return found
    return None


def _row(values: tuple[Understood, ...], places: tuple[str, ...], written: str, *, is_assumed: bool) -> Row:
    pairs = list(zip(places, values, strict=True))
    if len({value.says for value in values}) == 1:
        says = f"{values[0].says}, {' '.join(places)}"
    elif places == CORNERS and values[0].says == values[1].says and values[2].says == values[3].says:
        says = f"{values[0].says}, FL FR; {values[2].says}, RL RR"
    else:
        says = "; ".join(f"{place} {value.says}" for place, value in pairs)
    if places == ACROSS:
        full = " ".join(["in", *(value.in_full for value in values), "out"])
    else:
        full = " ".join(f"{place} {value.in_full}" for place, value in pairs)
    return Row(
        places=places,
        values=values,
        written=written,
        is_guessed=is_assumed or any(value.is_guessed for value in values),
        says=says,
        in_full=full,
    )
