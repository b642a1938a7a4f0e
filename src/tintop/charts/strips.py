"""Strip charts one above another along a lap or a race, as SVG that stretches with the page.

Words keep their size while the drawing takes the width there is: places along the strip are shares of its
width, and only the curves are stretched. Colours are attributes, so that a style sheet may change them.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from html import escape

import numpy as np

from tintop.charts.ink import FONT, INK, PAPER, PENCIL, ROAD, RULE, RUST, Stroke
from tintop.charts.svg import FloatArray, sheet

MOST_POINTS = 1200  # of one curve: more than a page is wide
ACROSS = 1000.0  # width of the stretched drawing in its own units
HEAD, ROW = 26.0, 20.0  # [px] for the heading, and for each further row of the key
FOOT = 24.0  # [px] for the axis beneath
_TIP = 17.0  # [px] above the drawing for corner numbers and stops
_NARROW_GAP, _WIDE_GAP = 0.055, 0.022  # share of the width that words need on a phone and on a desk
_LETTER = 7.2  # [px] of one letter at the size of a key
_LEFT, _RIGHT = 56.0, 16.0  # [px] beside a strip on paper
_SUNK = 0.02  # depth [px] that a point may lie off its neighbours' line and be left out


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """One line of a strip by name; `is_stepped` holds a value to the next point."""

    name: str
    stroke: Stroke
    values: FloatArray
    is_stepped: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """A limit drawn as a dotted line across the strip, with its words."""

    words: str
    value: float
    colour: str = RUST


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """What one strip shows: curves over the places of its axis, from `low` to `high`, in `unit`."""

    name: str
    heading: str
    unit: str
    curves: tuple[Curve, ...]
    low: float
    high: float
    ticks: tuple[float, ...]
    bounds: tuple[Bound, ...] = ()
    height: float = 96.0  # [px]
    written: Callable[[float], str] | None = None  # how a tick is written, None = as a number

    def up(self, value: FloatArray | float) -> FloatArray:
        """Depth below the top of the drawing [px] at which a value stands."""
        return np.asarray(self.height - (value - self.low) / (self.high - self.low) * self.height)


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """What strips share: places of the points, ticks, shaded stretches, numbers at the top and stops.

    Shades are (first, last), numbers (place, words), stops (place, words); places in the axis's own unit.
    """

    words: str
    places: FloatArray
    first: float
    last: float
    ticks: tuple[tuple[float, str], ...]
    shades: tuple[tuple[float, float], ...] = ()
    numbers: tuple[tuple[float, str], ...] = ()
    stops: tuple[tuple[float, str], ...] = ()

    def share(self, place: FloatArray | float) -> FloatArray:
        """Place as a share of the width."""
        return np.asarray((place - self.first) / (self.last - self.first))


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnStrip:
    """A strip as SVG that stretches, by name, with its height [px]."""

    name: str
    body: str
    height: float


def draw_strip(
    strip: Strip, axis: Axis, *, band: Sequence[str] = (), key_rows: Sequence[str] = ()
) -> DrawnStrip:
    """Draw one strip; `band` lies under its curves, `key_rows` under its heading, 20 px each."""
    top = HEAD + ROW * len(key_rows) + _TIP
    bottom = top + strip.height
    said = "; ".join(
        f"{curve.stroke.word} from {np.min(curve.values):.4g} to {np.max(curve.values):.4g}"
        for curve in strip.curves
    ) + "".join(f"; {bound.words}" for bound in strip.bounds)
    inside = f'y="{top:.0f}" width="100%" height="{strip.height:.0f}" overflow="visible"'
    body = [
        f'<title id="{strip.name}-title">{escape(_title(strip))}</title>',
        f'<desc id="{strip.name}-description">{escape(said)}.</desc>',
        *_key(strip),
        *(
            f'<g transform="translate(0,{HEAD + ROW * place:.0f})">{row}</g>'
            for place, row in enumerate(key_rows)
        ),
        *_grounds(axis, top, bottom),
        *_scale(strip, top),
        *((f"<svg {inside}>", *band, "</svg>") if band else ()),
        f'<svg {inside} viewBox="0 0 {ACROSS:.0f} {strip.height:.0f}" preserveAspectRatio="none">',
        *(_curve(strip, axis, curve) for curve in strip.curves),
        "</svg>",
        *_bound_words(strip, top),
        *_axis_words(axis, top, bottom),
    ]
    return DrawnStrip(name=strip.name, body="\n".join(body) + "\n", height=bottom + FOOT)


def on_page(drawn: DrawnStrip) -> str:
    """Give the strip as SVG as wide as its place on the page, its height fixed."""
    return _opened(drawn, 'width="100%"')


def on_paper(drawn: Sequence[DrawnStrip], title: str, description: str, width: float = 760.0) -> str:
    """Put strips one under another on a sheet `width` px wide, for a file that does not stretch."""
    depth, body = 12.0, []
    for each in drawn:
        place = f'x="{_LEFT:.0f}" y="{depth:.0f}" width="{width - _LEFT - _RIGHT:.0f}"'
        body.append(_opened(each, place))
        depth += each.height + 10.0
    return sheet("strips", title, description, width, depth, body)


def _opened(drawn: DrawnStrip, place: str) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" {place} height="{drawn.height:.0f}" overflow="visible" '
        f'role="img" aria-labelledby="{drawn.name}-title {drawn.name}-description" class="strip" '
        f'font-family="{FONT}" font-size="12" data-strip="{drawn.name}">\n{drawn.body}</svg>\n'
    )


def curve_path(strip: Strip, axis: Axis, values: FloatArray, *, is_stepped: bool = False) -> str:
    """Give the path data of a curve in the stretched drawing, `ACROSS` wide and the strip's height deep.

    No more than `MOST_POINTS` points; the highest and lowest value are always among them.
    """
    places = axis.places
    if is_stepped:
        places, values = _steps(places, values, axis.last)
    x, y = peaks_kept(ACROSS * axis.share(places), np.asarray(strip.up(values)), MOST_POINTS)
    x, y = _without_needless(x, y)
    return "M" + " ".join(map("%.1f,%.1f".__mod__, zip(x.tolist(), y.tolist(), strict=True)))


def peaks_kept(x: FloatArray, y: FloatArray, most: int) -> tuple[FloatArray, FloatArray]:
    """Thin a curve to `most` points at most: the lowest and highest of each stretch, and both ends."""
    n = y.shape[0]
    if n <= most:
        return x, y
    wide = -(-n // ((most - 2) // 2))
    starts = np.arange(0, n, wide)
    padded = np.append(y, np.full(starts.size * wide - n, y[-1])).reshape(-1, wide)
    lowest, highest = padded.argmin(axis=1), padded.argmax(axis=1)
    chosen = np.unique(np.concatenate(([0, n - 1], starts + lowest, starts + highest)))
    return x[chosen], y[chosen]


def even_ticks(low: float, high: float, most: int) -> tuple[float, ...]:
    """Round numbers from low to high, no more than `most` of them."""
    rough = (high - low) / max(most - 1, 1)
    power = 10.0 ** np.floor(np.log10(rough)) if rough > 0.0 else 1.0
    step = next(
        size * power for size in (1.0, 2.0, 5.0, 10.0, 20.0) if _count(low, high, size * power) <= most
    )
    first = int(np.ceil(low / step - 1e-9))
    return tuple(float(step * place) for place in range(first, first + _count(low, high, step)))


def with_room(values: Sequence[FloatArray | float], share: float = 0.08) -> tuple[float, float]:
    """Lowest and highest of several arrays with a share of room on either side; never one and the same."""
    low = min(float(np.min(each)) for each in values)
    high = max(float(np.max(each)) for each in values)
    room = share * (high - low) if high > low else max(abs(high) * share, 1.0)
    return low - room, high + room


def dashes(stroke: Stroke, width: float) -> str:
    """Give the stroke's dashes as an SVG attribute, empty where it is unbroken."""
    if isinstance(stroke.line, str):
        return ""
    return f' stroke-dasharray="{" ".join(f"{max(size * width, 1.0):.1f}" for size in stroke.line[1])}"'


def words_at(
    x: str,
    y: float,
    words: str,
    *,
    colour: str = INK,
    anchor: str = "start",
    bold: bool = False,
    extra: str = "",
) -> str:
    """Give words whose place across is written as SVG wants it, a share or pixels."""
    heavy = ' font-weight="bold"' if bold else ""
    aligned = f' text-anchor="{anchor}"' if anchor != "start" else ""
    return f'<text x="{x}" y="{y:.1f}" fill="{colour}"{heavy}{aligned}{extra}>{escape(words)}</text>'


def percent(share: FloatArray | float) -> str:
    """Write a share of the width as SVG wants it."""
    return f"{100.0 * float(share):.2f}%"


def _title(strip: Strip) -> str:
    return f"{strip.heading} [{strip.unit}]" if strip.unit else strip.heading


def _key(strip: Strip) -> list[str]:
    drawn = [words_at("0", 14.0, strip.heading, bold=True, extra=' class="heading"')]
    x = _LETTER * 1.12 * len(strip.heading) + 10.0
    if strip.unit:
        drawn.append(words_at("-8", 14.0, strip.unit, colour=PENCIL, anchor="end"))
    if len(strip.curves) > 1:
        for curve in strip.curves:
            drawn.append(
                f'<line x1="{x:.0f}" x2="{x + 26:.0f}" y1="10" y2="10" stroke="{curve.stroke.colour}" '
                f'stroke-width="1.8"{dashes(curve.stroke, 1.8)}/>'
            )
            drawn.append(words_at(f"{x + 31:.0f}", 14.0, curve.stroke.word))
            x += 41.0 + _LETTER * len(curve.stroke.word)
    return drawn


def _grounds(axis: Axis, top: float, bottom: float) -> list[str]:
    drawn = []
    for first, last in axis.shades:
        start, end = (float(axis.share(place)) for place in (first, last))
        drawn.append(
            f'<rect x="{percent(start)}" y="{top - _TIP:.0f}" width="{percent(end - start)}" '
            f'height="{bottom - top + _TIP:.0f}" fill="{ROAD}"/>'
        )
    for place, words in axis.stops:
        at = percent(axis.share(place))
        drawn.append(
            f'<line x1="{at}" x2="{at}" y1="{top:.0f}" y2="{bottom:.0f}" stroke="{PENCIL}" '
            f'stroke-width="1.2" stroke-dasharray="7 3"><title>{escape(words)}</title></line>'
        )
    return drawn


def _scale(strip: Strip, top: float) -> list[str]:
    drawn = []
    digits = max((_digits(tick) for tick in strip.ticks), default=0)
    for tick in strip.ticks:
        y = top + float(strip.up(tick))
        colour = PENCIL if tick == 0.0 and strip.low < 0.0 else RULE
        drawn.append(f'<line x1="0" x2="100%" y1="{y:.1f}" y2="{y:.1f}" stroke="{colour}" stroke-width="1"/>')
        words = strip.written(tick) if strip.written else f"{tick:.{digits}f}".replace("-", "−")
        drawn.append(words_at("-8", y + 4.0, words, colour=PENCIL, anchor="end"))
    for bound in strip.bounds:
        y = top + float(strip.up(bound.value))
        drawn.append(
            f'<line x1="0" x2="100%" y1="{y:.1f}" y2="{y:.1f}" stroke="{bound.colour}" stroke-width="1.4" '
            'stroke-dasharray="1.6 2.4"/>'
        )
    return drawn


def _bound_words(strip: Strip, top: float) -> list[str]:
    """Words above each limit's line at the right; of two close lines, the second's at the left."""
    drawn: list[str] = []
    last = -np.inf
    for bound in sorted(strip.bounds, key=lambda each: each.value):
        y = top + float(strip.up(bound.value)) - 4.0
        is_crowded = abs(y - last) < 15.0
        last = y
        drawn.append(
            words_at(
                "4" if is_crowded else "100%",
                y,
                bound.words,
                colour=bound.colour,
                anchor="start" if is_crowded else "end",
                extra=f' paint-order="stroke" stroke="{PAPER}" stroke-width="3"',
            )
        )
    return drawn


def _curve(strip: Strip, axis: Axis, curve: Curve) -> str:
    drawn = curve_path(strip, axis, curve.values, is_stepped=curve.is_stepped)
    line = 'fill="none" stroke-linejoin="round" vector-effect="non-scaling-stroke"'
    return (
        f'<path d="{drawn}" {line} stroke="{curve.stroke.colour}" stroke-width="1.8"'
        f'{dashes(curve.stroke, 1.8)} data-curve="{escape(curve.name)}"/>'
        f'<path d="" {line} stroke="{curve.stroke.colour}" stroke-width="4" stroke-opacity="0.45" '
        f'data-changed="{escape(curve.name)}"/>'
    )


def _axis_words(axis: Axis, top: float, bottom: float) -> list[str]:
    drawn = [
        f'<line x1="0" x2="100%" y1="{bottom:.1f}" y2="{bottom:.1f}" stroke="{PENCIL}" stroke-width="1"/>'
    ]
    drawn += _spread(axis, axis.numbers, top - 5.0, ' font-weight="bold"')
    drawn += _spread(axis, axis.stops, top - 5.0, "")
    for place, _ in axis.ticks:
        at = percent(axis.share(place))
        drawn.append(
            f'<line x1="{at}" x2="{at}" y1="{bottom:.1f}" y2="{bottom + 4:.1f}" '
            f'stroke="{PENCIL}" stroke-width="1"/>'
        )
    return drawn + _spread(axis, axis.ticks, bottom + 17.0, "")


def _spread(axis: Axis, places: Sequence[tuple[float, str]], y: float, extra: str) -> list[str]:
    """Words along the strip, those too close for a phone marked so that a narrow page can leave them out."""
    drawn: list[str] = []
    last_wide = last_narrow = -np.inf
    for place, words in places:
        share, half = float(axis.share(place)), 0.5 * len(words) / 2.0
        if share - last_wide < _WIDE_GAP * max(half, 1.0):
            continue
        last_wide = share
        is_crowded = share - last_narrow < _NARROW_GAP * max(half, 1.0)
        if not is_crowded:
            last_narrow = share
        anchor = "start" if share < 0.01 else "end" if share > 0.985 else "middle"
        kind = ' class="wide-only"' if is_crowded else ""
        drawn.append(words_at(percent(share), y, words, colour=PENCIL, anchor=anchor, extra=extra + kind))
    return drawn


def _steps(places: FloatArray, values: FloatArray, last: float) -> tuple[FloatArray, FloatArray]:
    """A staircase: two points at each change and both ends."""
    changes = np.flatnonzero(np.diff(values)) + 1
    x = np.concatenate((places[:1], np.repeat(places[changes], 2), [last]))
    before_and_after = np.stack((values[changes - 1], values[changes]), axis=1).ravel()
    return x, np.concatenate((values[:1], before_and_after, values[-1:]))


def _without_needless(x: FloatArray, y: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Leave out points on their neighbours' line to within what can be seen; ends and extremes stay."""
    for _ in range(3):
        if y.shape[0] < 8:
            break
        reach = x[2:] - x[:-2]
        share = np.divide(x[1:-1] - x[:-2], reach, out=np.full_like(reach, 0.5), where=reach > 0.0)
        off = np.abs(y[1:-1] - (y[:-2] + share * (y[2:] - y[:-2])))
        kept = np.ones(y.shape[0], dtype=bool)
        kept[1:-1] = (off > _SUNK) | (reach <= 1e-9)
        kept[::2] = True
        kept[[int(np.argmin(y)), int(np.argmax(y)), -1]] = True
        x, y = x[kept], y[kept]
    return x, y


def _count(low: float, high: float, step: float) -> int:
    return max(int(np.floor(high / step + 1e-9)) - int(np.ceil(low / step - 1e-9)) + 1, 0)


def _digits(tick: float) -> int:
    return next(digits for digits in (0, 1, 2, 3) if abs(round(tick, digits) - tick) < 1e-6 or digits == 3)
