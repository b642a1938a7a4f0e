"""Matplotlib figures as SVG text: text stays text, titled for screen readers, the same bytes every time."""

import io
import re
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from html import escape
from typing import TYPE_CHECKING, Any

from tintop.charts.ink import FONT, INK, PAPER, PENCIL, RULE, Stroke

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

WIDTH = 7.0  # [inch]
_STYLE: dict[str, Any] = {
    "svg.fonttype": "none",
    "svg.hashsalt": "tintop",
    "font.family": "DejaVu Sans",
    "font.size": 10.5,
    "text.color": INK,
    "axes.edgecolor": PENCIL,
    "axes.labelcolor": INK,
    "axes.facecolor": PAPER,
    "axes.linewidth": 0.8,
    "axes.grid": True,
    "axes.axisbelow": True,
    "axes.unicode_minus": True,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "figure.dpi": 72,  # so that lengths of the figure are points
    "figure.facecolor": PAPER,
    "grid.color": RULE,
    "grid.linewidth": 0.7,
    "hatch.linewidth": 1.0,
    "lines.linewidth": 1.6,
    "lines.solid_capstyle": "butt",
    "legend.frameon": False,
    "legend.fontsize": 9.5,
    "legend.handlelength": 2.8,
    "legend.borderpad": 0.0,
    "legend.borderaxespad": 0.0,
    "legend.columnspacing": 1.4,
    "xtick.color": PENCIL,
    "ytick.color": PENCIL,
    "xtick.labelcolor": INK,
    "ytick.labelcolor": INK,
    "xtick.labelsize": 10,
    "ytick.labelsize": 10,
    "path.simplify": True,
}


@contextmanager
def plate(
    heights: Sequence[float], title: str, subtitle: str, *, large: str = "", width: float = WIDTH
) -> Iterator[tuple["Figure", list["Axes"]]]:
    """Open a figure of panels one above another, sharing x, heights in inches; draw inside the block.

    `large` is the one number that stands big on the right.
    """
    import matplotlib as mpl
    from matplotlib.figure import Figure

    gap, head, foot = 0.52, 1.12, 0.55
    total = sum(heights) + gap * (len(heights) - 1) + head + foot
    known: dict[Any, Any] = {name: value for name, value in mpl.rcParamsDefault.items() if name != "backend"}
    with mpl.rc_context(known | _STYLE):
        figure = Figure(figsize=(width, total))
        panels: list[Axes] = []
        top = total - head
        for height in heights:
            place = (0.72 / width, (top - height) / total, (width - 0.72 - 0.3) / width, height / total)
            panels.append(figure.add_axes(place, sharex=panels[0] if panels else None))
            top -= height + gap
        for panel in panels[:-1]:
            panel.tick_params(labelbottom=False)
        for panel in panels:
            panel.tick_params(length=0)
            panel.grid(visible=False, axis="x")
        room = width - 0.54 - (0.25 * len(large) + 0.15 if large else 0.0)
        figure.text(
            0.24 / width,
            1 - 0.38 / total,
            title,
            fontsize=_fitting(title, 15.5, 0.69, room),
            fontweight="bold",
        )
        figure.text(
            0.24 / width,
            1 - 0.66 / total,
            subtitle,
            fontsize=_fitting(subtitle, 10.5, 0.58, width - 0.54),
            color=PENCIL,
        )
        if large:
            figure.text(1 - 0.3 / width, 1 - 0.42 / total, large, fontsize=25, fontweight="bold", ha="right")
        yield figure, panels


def _fitting(words: str, size: float, letter: float, room: float) -> float:
    """Size [point] at which words fit in the room [inch], a letter being so wide a share of the size."""
    return min(size, 72.0 * room / (letter * max(len(words), 1)))


def head(panel: "Axes", words: str, unit: str = "") -> None:
    """Write what a panel shows above it, with its unit."""
    panel.annotate(
        words,
        (0, 1),
        xytext=(0, 7),
        xycoords="axes fraction",
        textcoords="offset points",
        fontweight="bold",
        annotation_clip=False,
    )
    if unit:
        panel.annotate(
            unit,
            (0, 1),
            xytext=(-7, 7),
            xycoords="axes fraction",
            textcoords="offset points",
            ha="right",
            color=PENCIL,
            annotation_clip=False,
        )


def key(panel: "Axes", columns: int = 4) -> None:
    """Write the lines' words above the panel, at the right."""
    panel.legend(loc="lower right", bbox_to_anchor=(1.0, 1.035), ncols=columns)


def drawn(stroke: Stroke) -> dict[str, Any]:
    """Give matplotlib's words for a stroke."""
    return {"label": stroke.word, "color": stroke.colour, "linestyle": stroke.line}


def svg_text(figure: "Figure", name: str, title: str, description: str) -> str:
    """Write the figure as SVG text with title and description read aloud by a screen reader."""
    from matplotlib.backends.backend_svg import FigureCanvasSVG

    FigureCanvasSVG(figure)
    written = io.StringIO()
    figure.savefig(
        written, format="svg", metadata={"Date": None, "Creator": None, "Type": None, "Format": None}
    )
    text = written.getvalue()
    text = text[text.index("<svg") :]
    text = re.sub(r"<metadata>.*?</metadata>", "", text, flags=re.DOTALL)
    box = re.search(r'viewBox="([^"]*)"', text)
    view = box.group(1) if box else "0 0 504 360"
    opening = (
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
        f'viewBox="{view}" role="img" aria-labelledby="{name}-title {name}-description" '
        f'font-family="{FONT}">\n'
        f'<title id="{name}-title">{escape(title)}</title>\n'
        f'<desc id="{name}-description">{escape(description)}</desc>'
    )
    text = opening + text[text.index(">") + 1 :]
    text = text.replace("'DejaVu Sans'", FONT)
    text = re.sub(r' d="[^"]*"', lambda path: re.sub(r"(\.\d\d)\d+", r"\1", path.group()), text)
    return _named_apart(text, name)


def _named_apart(text: str, name: str) -> str:
    """Give ids and classes the chart's name, so that several charts can stand in one page."""
    for given in set(re.findall(r'(?<= id=")[^"]+(?=")', text)):
        if given.startswith(f"{name}-"):
            continue
        text = text.replace(f' id="{given}"', f' id="{name}-{given}"')
        text = text.replace(f'"#{given}"', f'"#{name}-{given}"').replace(
            f"url(#{given})", f"url(#{name}-{given})"
        )
    return text.replace('<style type="text/css">*{stroke-linejoin: round; stroke-linecap: butt}</style>', "")
