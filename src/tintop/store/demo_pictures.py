"""The demo's papers: plain drawings that say they are drawings, made when the garage is written."""

import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from tintop.logbook.entries import Draft, PartAdded, PartFailed
from tintop.logbook.proof_entries import ProofRecorded
from tintop.store.demo_sketches import SKETCHES, Stroke

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


def demo_pictures(drafts: Sequence[Draft]) -> tuple[Picture, ...]:
    """Draw labels of seat and extinguisher, a receipt, the bearing that broke, and what the proofs show."""
    added: dict[str, tuple[date, PartAdded]] = {}
    failed: dict[str, tuple[date, PartFailed]] = {}
    for draft in drafts:
        if isinstance(draft.matter, PartAdded):
            added[draft.matter.part] = draft.day, draft.matter
        elif isinstance(draft.matter, PartFailed):
            failed[draft.matter.part] = draft.day, draft.matter
    first = (
        _label("seat", *added["seat"]),
        _label("extinguisher", *added["extinguisher"]),
        _receipt(added["disc-front-left"], added.values()),
        _bearing(*failed["bearing-front-right"]),
    )
    shown = _shown(drafts)
    drawn = {picture.name.removesuffix(".png") for picture in first}
    return (*first, *(_proof(name, shown[name]) for name in sorted(shown) if name not in drawn))


def _shown(drafts: Iterable[Draft]) -> dict[str, list[tuple[date, ProofRecorded]]]:
    """What each paper named by the proofs shows."""
    found: dict[str, list[tuple[date, ProofRecorded]]] = {}
    for draft in drafts:
        if isinstance(draft.matter, ProofRecorded):
            for name in draft.matter.papers:
                found.setdefault(name, []).append((draft.day, draft.matter))
    return found


def _proof(name: str, shown: list[tuple[date, ProofRecorded]]) -> Picture:
    """A sketch where there is one of that name; else a sheet that bears what was read from it."""
    day, about = min(day for day, _ in shown), next((proof.part for _, proof in shown if proof.part), "car")
    pen = _Pen()
    pen.say(40, 24, name.capitalize(), 30)
    if name in SKETCHES:
        pen.stroke(SKETCHES[name])
        return pen.picture(f"{name}.png", about, day)
    pen.draw.rounded_rectangle((40, 76, _WIDE - 40, _HIGH - 60), 18, outline=_INK, width=3)
    lines = [f"No. {serial}" for serial in dict.fromkeys(proof.serial for _, proof in shown) if serial]
    lines += [_read(proof) for _, proof in shown]
    apart = min(_LINE, (_HIGH - 160) / len(lines))
    for place, line in enumerate(lines):
        pen.say(70, round(92 + apart * place), line, 20)
    return pen.picture(f"{name}.png", about, day)


def _read(proof: ProofRecorded) -> str:
    what = proof.fact.rpartition(".")[2].replace("_", " ")
    where = f", {proof.each}" if proof.each else ""
    value = proof.written
    if proof.marked is not None:
        value = proof.marked.strftime({"year": "%Y", "month": "%m/%Y"}.get(proof.marked_to, "%d/%m/%Y"))
    return f"{what}{where}: {value}"


def _label(kind: str, day: date, part: PartAdded) -> Picture:
    made = part.made or day
    pen = _Pen()
    pen.draw.rounded_rectangle((40, 40, _WIDE - 40, _HIGH - 70), 18, outline=_INK, width=4)
    pen.say(70, 64, kind.upper(), 40)
    pen.draw.line((70, 118, _WIDE - 70, 118), fill=_INK, width=2)
    lines = [part.name, part.supplier, *([f"No. {part.maker_number}"] if part.maker_number else [])]
    lines += [f"Made {made:%m/%Y}", *(line for limit in part.limits for line in _wrapped(limit.source, 46))]
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

    def stroke(self, strokes: Iterable[Stroke]) -> None:
        """Draw strokes: a line through points, a ring in a box, a filled box, or words at a point."""
        for kind, places, ink in strokes:
            colour = {"mark": _MARK, "faint": _FAINT}.get(ink, _INK)
            match kind:
                case "line":
                    self.draw.line(places, fill=colour, width=4)
                case "ring":
                    self.draw.ellipse(places, outline=colour, width=4)
                case "box":
                    self.draw.rectangle(places, outline=colour, width=4)
                case words:
                    self.say(int(places[0]), int(places[1]), words, 22, colour)

    def picture(self, name: str, about: str, day: date) -> Picture:
        from PIL.Image import Quantize

        self.say(40, self._high - 44, "Drawn for the demo; nothing on it is real.", 18, _FAINT)
        content = io.BytesIO()
        self._image.quantize(16, Quantize.FASTOCTREE).save(content, "PNG", compress_level=6)
        return Picture(name=name, about=about, day=day, content=content.getvalue())
