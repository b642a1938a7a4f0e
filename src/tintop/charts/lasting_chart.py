"""What lasts the race: one bar per item, its margin at the flag, the range of many races, the worst first."""

from dataclasses import dataclass

from tintop.charts.ink import INK, MOSS, OCHRE, PENCIL, ROAD, RUST
from tintop.charts.svg import line, sheet, text
from tintop.event import Event
from tintop.race.lasting import Lasts
from tintop.race.odds import ItemOdds, Odds

_WIDTH = 760.0
_TOP = 168.0
_ROW = 54.0
_ZERO, _FULL = 424.0, 626.0  # nothing left, all left
_LEFT_END = 326.0
_SURE = 0.95
_UNITS = {"m3": (1e3, "L", 1), "m": (1e3, "mm", 1), "K": (1.0, "°C", 0)}


@dataclass(frozen=True, slots=True)
class _Standing:
    word: str
    colour: str
    pattern: str


_LASTS = _Standing("lasts", MOSS, "solid")
_DOUBTFUL = _Standing("doubtful", OCHRE, "slanted")
_FAILS = _Standing("does not last", RUST, "crossed")


def lasting_svg(judged: tuple[Lasts, ...], odds: Odds, event: Event) -> str:
    """Draw what lasts as SVG text: margin as planned, its 5 to 95 % range over the races drawn, the odds.

    Bars are the share left of what there is, for temperatures of what lies between the air and the limit. An
    item is called lasting only if its margin is not close and it lasts in 95 of 100 races.
    """
    rows = sorted(judged, key=lambda each: (_odds(each, odds).probability, _share(each, each.margin, event)))
    body = [
        text(24, 40, "What lasts", size=24, is_bold=True),
        text(24, 68, event.name, size=15, colour=PENCIL),
        text(_WIDTH - 24, 46, f"{_of_hundred(odds.all_last)} of 100", size=38, is_bold=True, anchor="end"),
        text(_WIDTH - 24, 70, "races in which everything lasts", size=14, colour=PENCIL, anchor="end"),
        *_key(odds),
        text(_ZERO, _TOP - 14, "nothing left", size=13, colour=PENCIL, anchor="middle"),
        text(_FULL, _TOP - 14, "all left", size=13, colour=PENCIL, anchor="end"),
        text(_WIDTH - 24, _TOP - 14, "races of 100", size=13, colour=PENCIL, anchor="end"),
        *_patterns(),
    ]
    bottom = _TOP + _ROW * len(rows)
    body.append(line([(_FULL, _TOP - 6), (_FULL, bottom - 6)], ROAD, 1.5))
    said = []
    for place, each in enumerate(rows):
        body += _row(each, _odds(each, odds), event, _TOP + _ROW * place)
        said.append(
            f"{each.item} {_standing(each, _odds(each, odds)).word}, {_margin_words(each, _odds(each, odds))}"
        )
    body.append(line([(_ZERO, _TOP - 6), (_ZERO, bottom - 6)], INK, 2.0))
    notes = (
        "Share left of what there is; of a temperature, of what lies between the air and the limit.",
        f"Range: 5 to 95 of 100, from {odds.races} races drawn from what is not known for sure.",
        "Doubtful: close to its limit, or lasting in fewer than 95 of 100.",
    )
    for place, note in enumerate(notes):
        body.append(text(24, bottom + 22 + 21 * place, note, size=13.5, colour=PENCIL))
    return sheet(
        "lasting",
        f"{event.name}: what lasts",
        f"Everything lasts in {_of_hundred(odds.all_last)} of 100 races. " + "; ".join(said) + ".",
        _WIDTH,
        bottom + 82,
        body,
    )


def standing_word(each: Lasts, chance: ItemOdds) -> str:
    """Say whether an item lasts, does not, or is doubtful: close to its limit or not lasting often enough."""
    return _standing(each, chance).word


def _row(each: Lasts, chance: ItemOdds, event: Event, top: float) -> list[str]:
    standing = _standing(each, chance)
    middle = top + 16.0
    margin, low, high = (
        _x(_share(each, amount, event)) for amount in (each.margin, chance.margin[0], chance.margin[2])
    )
    start, end = sorted((_ZERO, margin))
    fill = standing.colour if standing.pattern == "solid" else f"url(#lasting-{standing.pattern})"
    drawn = [
        _marker(standing, 34.0, top + 11.0),
        text(52, top + 16, each.item[0].upper() + each.item[1:], size=17, is_bold=True),
        text(52, top + 36, _margin_words(each, chance), size=14, colour=PENCIL),
        f'<rect x="{start:.1f}" y="{middle - 9:.1f}" width="{max(end - start, 1.0):.1f}" '
        f'height="18" fill="{fill}" '
        f'stroke="{standing.colour}" stroke-width="1.2"/>',
        line([(low, middle + 18), (high, middle + 18)], INK, 2.0),
    ]
    for place, amount in ((low, chance.margin[0]), (high, chance.margin[2])):
        is_beyond = abs(_x(_share(each, amount, event), is_clipped=False) - place) > 0.5
        ends = (
            [(place + 6, middle + 13), (place, middle + 18), (place + 6, middle + 23)]
            if is_beyond and place < _ZERO
            else [(place, middle + 13), (place, middle + 23)]
        )
        drawn.append(line(ends, INK, 2.0))
    drawn.append(
        text(_WIDTH - 24, top + 24, _of_hundred(chance.probability, 1), size=24, is_bold=True, anchor="end")
    )
    return drawn


def _key(odds: Odds) -> list[str]:
    drawn, x = [], 34.0
    for standing, wide in ((_LASTS, 92.0), (_DOUBTFUL, 120.0), (_FAILS, 160.0)):
        drawn += [
            _marker(standing, x, 101.0),
            text(x + 16, 106, standing.word, size=15, colour=standing.colour),
        ]
        x += wide
    drawn += [
        line([(x, 101), (x + 44, 101)], INK, 2.0),
        line([(x, 96), (x, 106)], INK, 2.0),
        line([(x + 44, 96), (x + 44, 106)], INK, 2.0),
        text(x + 56, 106, "range over many races", size=15),
    ]
    return drawn


def _patterns() -> list[str]:
    return [
        '<defs><pattern id="lasting-slanted" width="6" height="6" patternUnits="userSpaceOnUse" '
        f'patternTransform="rotate(45)"><rect width="2.4" height="6" fill="{OCHRE}"/></pattern>'
        '<pattern id="lasting-crossed" width="6" height="6" patternUnits="userSpaceOnUse" '
        f'patternTransform="rotate(45)"><path d="M0,0H6M0,0V6" stroke="{RUST}" stroke-width="3"/>'
        "</pattern></defs>"
    ]


def _marker(standing: _Standing, x: float, y: float) -> str:
    """A disc, a triangle or a cross, so that the standing shows without colour."""
    if standing is _LASTS:
        return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="7" fill="{standing.colour}"/>'
    if standing is _DOUBTFUL:
        return (
            f'<path d="M{x - 8:.1f},{y + 7:.1f}H{x + 8:.1f}L{x:.1f},{y - 8:.1f}Z" fill="{standing.colour}"/>'
        )
    return (
        f'<path d="M{x - 7:.1f},{y - 7:.1f}L{x + 7:.1f},{y + 7:.1f}'
        f'M{x - 7:.1f},{y + 7:.1f}L{x + 7:.1f},{y - 7:.1f}" '
        f'stroke="{standing.colour}" stroke-width="4"/>'
    )


def _standing(each: Lasts, chance: ItemOdds) -> _Standing:
    if not each.does_last:
        return _FAILS
    return _DOUBTFUL if each.is_close or chance.probability < _SURE else _LASTS


def _odds(each: Lasts, odds: Odds) -> ItemOdds:
    return odds.of(each.item)


def _share(each: Lasts, amount: float, event: Event) -> float:
    whole = each.limit - (event.weather.air_temp if each.unit == "K" else 0.0)
    return amount / whole if whole > 0.0 else 0.0


def _x(share: float, *, is_clipped: bool = True) -> float:
    place = _ZERO + share * (_FULL - _ZERO)
    return min(max(place, _LEFT_END), _FULL + 10.0) if is_clipped else place


def _margin_words(each: Lasts, chance: ItemOdds) -> str:
    scale, unit, digits = _UNITS.get(each.unit, (1.0, each.unit, 2))
    if abs(each.limit * scale) < 3.0:
        digits = 2
    is_heat, is_short = each.unit == "K", each.margin < 0.0
    low, high = (
        "gone" if amount < 0.0 and not is_heat else f"{amount * scale:.{digits}f}".replace("-", "−")
        for amount in (chance.margin[0], chance.margin[2])
    )
    if is_heat:
        word = f"{'over' if is_short else 'under'} its {each.limit:.0f}"
    else:
        word = "short" if is_short else "left"
    return f"{abs(each.margin) * scale:.{digits}f} {unit} {word} ({low} to {high})"


def _of_hundred(probability: float, digits: int = 0) -> str:
    """Races of a hundred; all only if it was all."""
    if probability >= 1.0:
        return "100"
    return f"{min(100.0 * probability, 100.0 - 10.0**-digits):.{digits}f}"
