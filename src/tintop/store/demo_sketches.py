"""The demo's sketches by the name of their paper: strokes on a sheet of 720 by 480 from its top left."""

from collections.abc import Mapping

Stroke = tuple[str, tuple[float, ...], str]  # "line", "ring", "box" or words; places; ink


def _line(*places: float, ink: str = "ink") -> Stroke:
    return "line", places, ink


def _ring(x: float, y: float, radius: float, ink: str = "ink") -> Stroke:
    return "ring", (x - radius, y - radius, x + radius, y + radius), ink


def _box(*places: float, ink: str = "ink") -> Stroke:
    return "box", places, ink


def _words(text: str, x: float, y: float, ink: str = "faint") -> Stroke:
    return text, (x, y), ink


def _towing_eye(side: str) -> tuple[Stroke, ...]:
    return (
        _line(60, 340, 660, 340),
        _line(60, 400, 660, 400),
        _ring(360, 270, 62, "mark"),
        _ring(360, 270, 44, "mark"),
        _box(338, 332, 382, 400, ink="mark"),
        _line(150, 180, 290, 240, 262, 212),
        _line(290, 240, 252, 242),
        _words("TOW", 96, 150, "ink"),
        _words(f"red, {side} chassis leg", 430, 250),
    )


_DOOR = (_box(120, 110, 600, 380), _line(120, 190, 600, 190))
_SHELL = (_line(70, 370, 110, 250, 230, 230, 310, 120, 520, 120, 610, 240, 660, 260, 660, 370, 70, 370),)
_HOOP = (_line(420, 380, 420, 150, 440, 128), _line(440, 128, 250, 128, 160, 250, 150, 380))

SKETCHES: Mapping[str, tuple[Stroke, ...]] = {
    "towing eye, front": _towing_eye("front left"),
    "towing eye, rear": _towing_eye("rear right"),
    "marks at the windscreen": (
        _line(60, 380, 260, 120, 660, 120),
        _line(60, 380, 660, 380),
        _line(170, 360, 230, 256, 290, 360, 170, 360),
        _line(236, 276, 222, 314, 240, 314, 224, 346, ink="mark"),
        _ring(380, 312, 48, "mark"),
        _words("E", 370, 296, "mark"),
        _words("125 mm along the base", 150, 388),
        _words("pulls below each mark", 430, 330),
    ),
    "numbers and decals": (
        *_DOOR,
        _box(200, 206, 430, 340),
        _words("47", 290, 250, "ink"),
        _box(230, 348, 400, 374, ink="faint"),
        _words("235 mm", 450, 250),
        _words("club's decal", 450, 346),
    ),
    "sidewall of the race tyres": (
        _ring(300, 260, 170),
        _ring(300, 260, 104),
        _ring(300, 260, 26),
        _words("Fellrigg Semi", 232, 110, "ink"),
        _words("195/50 R15 82 V", 216, 378, "ink"),
        _ring(440, 320, 16, "mark"),
        _words("E", 433, 308, "mark"),
    ),
    "engine bay": (
        _box(80, 100, 640, 400),
        _box(250, 170, 470, 320),
        _box(520, 130, 600, 230, ink="mark"),
        _line(520, 170, 420, 190, ink="mark"),
        _words("catch tank, sight tube", 386, 340),
        _line(110, 160, 250, 200),
        _line(110, 160, 270, 310),
        _words("nozzles: rail, manifold", 96, 108),
    ),
    "cage before paint": (
        *_HOOP,
        _line(420, 380, 160, 250, ink="faint"),
        _line(420, 260, 590, 330),
        _line(440, 128, 600, 330),
        _line(150, 300, 420, 300, ink="faint"),
        _box(128, 376, 172, 396),
        _box(398, 376, 442, 396),
        _box(572, 326, 616, 346),
        _words("one diagonal, two door bars a side, feet welded", 110, 404),
    ),
    "cage joints before paint": (
        *(_ring(140 + 150 * place, 210, 56) for place in range(4)),
        *(_line(100 + 150 * place, 250, 180 + 150 * place, 170, ink="mark") for place in range(4)),
        _words("hoop and stay", 84, 280),
        _words("door bars", 254, 280),
        _words("front leg", 404, 280),
        _words("foot", 570, 280),
    ),
    "seat bolts from below": (
        _box(160, 110, 560, 390),
        *(_box(x - 36, y - 32, x + 36, y + 32) for x in (210, 510) for y in (160, 340)),
        *(_ring(x, y, 12, "mark") for x in (210, 510) for y in (160, 340)),
        _words("4 x M8 8.8 on plates", 270, 236),
    ),
    "harness and its anchors": (
        _line(120, 130, 600, 130),
        _line(290, 130, 320, 300, ink="mark"),
        _line(430, 130, 400, 300, ink="mark"),
        _line(180, 390, 330, 310, ink="mark"),
        _line(540, 390, 390, 310, ink="mark"),
        _line(330, 400, 352, 320, ink="mark"),
        _line(390, 400, 368, 320, ink="mark"),
        _ring(360, 308, 22),
        _words("looped round the bar", 440, 92),
        _words("7/16 in eyes on plates", 40, 400),
    ),
    "hand-held extinguisher in its straps": (
        _box(160, 190, 520, 310, ink="mark"),
        _box(520, 220, 580, 280),
        _line(230, 180, 230, 320),
        _line(430, 180, 430, 320),
        _line(140, 320, 620, 320),
        _box(600, 200, 616, 300),
        _ring(600, 180, 22),
        _words("two straps, end stop, gauge", 190, 340),
    ),
    "cut-off, inside and outside": (
        _box(90, 120, 330, 360),
        _ring(210, 240, 60, "mark"),
        _line(210, 240, 250, 196, ink="mark"),
        _words("by the driver's right hand", 80, 372),
        _line(400, 360, 480, 160, 650, 160),
        _ring(500, 320, 24, "mark"),
        _line(500, 320, 560, 350, ink="mark"),
        _words("pull at the scuttle", 440, 372),
    ),
    "window net": (
        *_DOOR,
        *(_line(170 + 50 * place, 120, 170 + 50 * place, 340) for place in range(8)),
        *(_line(170, 130 + 50 * place, 520, 130 + 50 * place) for place in range(5)),
        _box(530, 112, 580, 140, ink="mark"),
        _words("release", 520, 150),
    ),
    "fuel line underneath": (
        *_SHELL,
        _line(180, 340, 360, 330, 560, 340, ink="mark"),
        _box(540, 300, 630, 360),
        *(_ring(230 + 100 * place, 336, 10) for place in range(4)),
        _words("braided, crimped ends, clipped", 190, 270),
    ),
}
