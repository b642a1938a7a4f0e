"""A circuit as a sheet and as plain content."""

from dataclasses import asdict
from typing import Any

from tintop.circuit.circuit import Circuit
from tintop.reports.sheet import Sheet, Table


def circuit_sheet(circuit: Circuit) -> Sheet:
    """Length, corners and what smoothing did, for reading."""
    done = circuit.smoothing
    heights = (
        f"heights from {circuit.z.min():.1f} to {circuit.z.max():.1f} m"
        if circuit.has_heights
        else "no heights"
    )
    widths = "" if circuit.has_widths else " assumed"
    total_width = circuit.width_left + circuit.width_right
    return Sheet(
        title=circuit.name,
        sentences=(
            f"{circuit.name}: {circuit.length:.1f} m, {len(circuit.corners)} corners, {heights}, "
            f"{total_width.min():.1f} to {total_width.max():.1f} m wide{widths}.",
            f"Read {done.points_read} points over {done.length_read:.1f} m, closed {done.gap_closed:.2f} m; "
            f"smoothing moved them by {done.moved_mean:.3f} m on average, {done.moved_max:.3f} m at most.",
            *(f"Note: {note}." for note in done.notes),
        ),
        tables=(
            Table(
                title="Corners from the start line",
                columns=("corner", "turns", "from m", "apex m", "to m", "radius m"),
                rows=[
                    (
                        str(corner.number),
                        "left" if corner.is_left else "right",
                        f"{corner.start:.0f}",
                        f"{corner.apex:.0f}",
                        f"{corner.end:.0f}",
                        f"{corner.radius:.1f}",
                    )
                    for corner in circuit.corners
                ],
            ),
        ),
        cautions=("Radii are of the centre line as drawn; a driven line is wider.",),
    )


def circuit_content(circuit: Circuit) -> dict[str, Any]:
    """The circuit as plain content; SI."""
    return {
        "name": circuit.name,
        "length_m": circuit.length,
        "step_m": circuit.step,
        "has_widths": circuit.has_widths,
        "has_heights": circuit.has_heights,
        "corners": [asdict(corner) for corner in circuit.corners],
        "sectors_m": list(circuit.sectors),
        "pit_lane": asdict(circuit.pit_lane) if circuit.pit_lane else None,
        "smoothing": asdict(circuit.smoothing),
        "source": circuit.source,
    }
