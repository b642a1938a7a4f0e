"""The formulae behind each answer in one line, and the page of theory that derives them."""

from collections.abc import Mapping
from types import MappingProxyType

FORMULAE: Mapping[str, tuple[tuple[str, str], ...]] = MappingProxyType(
    {
        "legal": (),
        "ready": (
            (
                "left = limit − (counted before + used while fitted); due when left < use of the next event",
                "lives.md",
            ),
            (
                "wear rate = slope of thickness against running hours by least squares, with its error",
                "lives.md",
            ),
            (
                "at the end = thickness now − rate × running planned; the worse of own and forecast",
                "lives.md",
            ),
        ),
        "quick": (
            (
                "corner speed: the highest v at which the tyres still give m·v²·κ",
                "four_wheels.md",
            ),
            (
                "forward: v² grows by 2·a·Δs, a = (drive − drag − rolling) / mass, within the grip left",
                "lap.md",
            ),
            (
                "backward: the same from each corner with the brakes; the lower of the two speeds holds",
                "lap.md",
            ),
            (
                "range: ±1.96 × root of the sum of (∂time/∂number × uncertainty)² over every number",
                "sensitivity.md",
            ),
        ),
        "lasting": (
            (
                "fuel per lap = ∫ power × specific consumption dt; what is left goes down lap by lap",
                "fuel.md",
            ),
            (
                "disc: m·c·dT/dt = brake power − (air cooling + radiation) × (T − air)",
                "heat.md",
            ),
            ("wear of pad = rate(T) × friction energy / pad area; of tread = rate × slip energy", "wear.md"),
            ("odds: the share of drawn races in which nothing runs out, with its standard error", "odds.md"),
        ),
        "affordable": (
            ("season = paid so far + planned + (parts due × last price of the like part)", "costs.md"),
            ("per race hour = running costs without the car itself / race hours driven", "costs.md"),
        ),
    }
)
