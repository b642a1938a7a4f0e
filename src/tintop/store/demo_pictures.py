"""The demo's papers: plain drawings that say they are drawings, made when the garage is written."""

import io
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from tintop.logbook.entries import Draft, PartAdded, PartFailed

_PAPER, _INK, _FAINT, _MARK = "#fbf8ef", "#22272e", "#8a8f98", "#b3401f"
_WIDE, _HIGH = 720, 480
_LINE = 34


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """One drawing: PNG content, the day it was put in, and the part it is about."""

    name: str
    about: str
    day: date
    content: bytes
    media_type: str = "image/png"


def demo_pictures(drafts: Iterable[Draft]) -> tuple[Picture, ...]:
    """Draw the labels of seat and extinguisher, the receipt for the brakes, and the bearing that broke."""
    added: dict[str, tuple[date, PartAdded]] = {}
    failed: dict[str, tuple[date, PartFailed]] = {}
    for draft in drafts:
        if isinstance(draft.matter, PartAdded):
            added[draft.matter.part] = draft.day, draft.matter
        elif isinstance(draft.matter, PartFailed):
            failed[draft.matter.part] = draft.day, draft.matter
    return (
        _label("seat", *added["seat"]),
        _label("extinguisher", *added["extinguisher"]),
        _receipt(added["disc-front-left"], added.values()),
        _bearing(*failed["bearing-front-right"]),
    )


def _label(kind: str, day: date, part: PartAdded) -> Picture:
    made = part.made or day
    pen = _Pen()
    pen.draw.rounded_rectangle((40, 40, _WIDE - 40, _HIGH - 70), 18, outline=_INK, width=4)
    pen.say(70, 64, kind.upper(), 40)
    pen.draw.line((70, 118, _WIDE - 70, 118), fill=_INK, width=2)
    lines = [part.name, part.supplier, *([f"No. {part.maker_number}"] if part.maker_number else [])]
    lines += [f"Made {made:%m/%Y}", *[limit.source for limit in part.limits if limit.source]]
    for place, line in enumerate(lines):
        pen.say(70, 138 + 46 * place, line, 26)
    return pen.picture(f"label of the {kind}.png", part.part, day)


def _receipt(bought: tuple[date, PartAdded], parts: Iterable[tuple[date, PartAdded]]) -> Picture:
    day, first = bought
    lines = [
        (part.name, part.price_cents)
        for when, part in parts
        if part.supplier == first.supplier
        and (when.year, when.month) == (day.year, day.month)
        and part.price_cents
    ]
    high = 260 + _LINE * len(lines)
    pen = _Pen(high)
    pen.say(60, 40, first.supplier, 34)
    pen.say(60, 88, f"Receipt, {day:%d/%m/%Y}, paid by card", 22)
    pen.draw.line((60, 126, _WIDE - 60, 126), fill=_INK, width=2)
    for place, (name, cents) in enumerate(lines):
        pen.say(60, 140 + _LINE * place, name, 20)
        pen.say(_WIDE - 60, 140 + _LINE * place, f"{cents / 100:.2f}", 20, ends_here=True)
    at = 148 + _LINE * len(lines)
    pen.draw.line((60, at, _WIDE - 60, at), fill=_INK, width=2)
    pen.say(60, at + 8, "Sum", 24)
    pen.say(_WIDE - 60, at + 8, f"{sum(cents for _, cents in lines) / 100:.2f}", 24, ends_here=True)
    return pen.picture("receipt for the brakes.png", first.part, day)


def _bearing(day: date, failed: PartFailed) -> Picture:
    pen = _Pen()
    for radius in (170, 128, 96, 56):
        pen.draw.ellipse((220 - radius, 220 - radius, 220 + radius, 220 + radius), outline=_INK, width=4)
    places = ((332, 220), (299, 299), (220, 332), (141, 299), (108, 220), (141, 141), (220, 108), (299, 141))
    for place, (x, y) in enumerate(places):
        ink = _MARK if place in (1, 2) else _INK
        pen.draw.ellipse((x - 13, y - 13, x + 13, y + 13), outline=ink, width=3)
    pen.draw.line((262, 262, 276, 300, 258, 312, 274, 348), fill=_MARK, width=4)
    pen.draw.line((284, 312, 430, 250), fill=_FAINT, width=2)
    for place, line in enumerate(_wrapped(failed.what, 26)):
        pen.say(436, 120 + _LINE * place, line, 20)
    return pen.picture("sketch of the broken bearing.png", failed.part, day)


def _wrapped(text: str, longest: int) -> list[str]:
    lines = [""]
    for word in text.split():
        if len(lines[-1]) + len(word) >= longest:
            lines.append("")
        lines[-1] = f"{lines[-1]} {word}".strip()
    return lines


class _Pen:
    """A sheet of paper to draw on."""

    def __init__(self, high: int = _HIGH) -> None:
        from PIL import Image
        from PIL.ImageDraw import Draw

        self._image = Image.new("RGB", (_WIDE, high), _PAPER)
        self._high = high
        self.draw = Draw(self._image)

    def say(self, x: int, y: int, words: str, size: int, ink: str = _INK, *, ends_here: bool = False) -> None:
        from PIL import ImageFont

        anchor = "ra" if ends_here else "la"
        self.draw.text((x, y), words, fill=ink, font=ImageFont.load_default(size), anchor=anchor)

    def picture(self, name: str, about: str, day: date) -> Picture:
        self.say(40, self._high - 44, "Drawn for the demo; nothing on it is real.", 18, _FAINT)
        content = io.BytesIO()
        self._image.quantize(16).save(content, "PNG", optimize=True)
        return Picture(name=name, about=about, day=day, content=content.getvalue())
