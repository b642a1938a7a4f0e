"""Run the demo and write its pictures and the page docs/demo.md; every number of the page comes from the run.

python docs/make_pictures.py
"""

from pathlib import Path

from tintop import garage
from tintop.charts.circuit_map import map_svg
from tintop.charts.envelope_chart import envelope_svg
from tintop.charts.html import write_folder
from tintop.charts.lap_charts import traces_svg
from tintop.charts.lasting_chart import lasting_svg
from tintop.charts.race_charts import fuel_svg, lap_words, laps_svg, temperatures_svg, wear_svg
from tintop.questions.will_it_last import written_amount

HERE = Path(__file__).parent
CARS = ("car.toml", "second_car.toml")
LAP = "tintop lap my_race/{car} my_race/circuit.csv --event my_race/event.toml --charts my_race/charts"
RACE = "tintop race my_race/{car} my_race/circuit.csv my_race/event.toml --charts my_race/charts"


def main() -> None:
    """Write docs/pictures/*.svg and docs/demo.md."""
    circuit = garage.load_circuit(garage.demo_path("circuit.csv"))
    event = garage.load_event(garage.demo_path("event.toml"))
    pictures: dict[str, str] = {}
    parts = []
    for name in CARS:
        described = garage.load_car(garage.demo_path(name))
        quick = garage.ask_how_quick(described, circuit, event.event.weather)
        lasting = garage.ask_will_it_last(described, circuit, event, path=quick.path)
        prefix = name.removesuffix(".toml")
        drawn = _pictures(quick, lasting)
        pictures |= {f"{prefix}_{picture}.svg": svg for picture, svg in drawn.items()}
        parts.append(_car_page(name, prefix, quick, lasting))
    page = _opening(circuit.name, circuit.length, event.event.name) + "\n".join(parts) + _ending()
    write_folder(pictures, HERE / "pictures")
    write_folder({"demo.md": page}, HERE)


def _pictures(quick: garage.Quickness, lasting: garage.Lasting) -> dict[str, str]:
    car, plan, trace = lasting.described.car, lasting.event.event, lasting.trace
    return {
        "map": map_svg(quick.circuit, quick.path, quick.lap),
        "traces": traces_svg(quick.lap, quick.circuit),
        "envelope": envelope_svg(garage.envelope_of(quick.described, quick.weather)),
        "temperatures": temperatures_svg(car, plan, trace),
        "fuel": fuel_svg(car, plan, trace),
        "wear": wear_svg(car, plan, trace),
        "laps": laps_svg(car, plan, trace),
        "lasting": lasting_svg(lasting.judged, lasting.odds, plan),
    }


def _opening(circuit: str, length: float, event: str) -> str:
    return f"""# The demo's answer, with pictures

Two invented cars on an invented circuit, {circuit}, {length:.0f} m round, in an invented race:
{event}. This page and its pictures are written by `python docs/make_pictures.py`; every number
on it comes from that run. To have the documents to change and try:

```sh
tintop demo --write my_race
```

The same folder holds what carries the first car (`chassis.toml`), six of its set-ups and three circuits:
[how they are written](setups_documents.md).
"""


def _car_page(name: str, prefix: str, quick: garage.Quickness, lasting: garage.Lasting) -> str:
    car, lap, trace, odds = quick.described.car, quick.lap, lasting.trace, lasting.odds
    time = next(figure for figure in quick.answer.figures if figure.name == "lap time")
    limits = sorted(lap.limit_share().items(), key=lambda item: -item[1])
    shares = ", ".join(
        f"{limit.replace('_', ' ')} {100 * share:.0f} %" for limit, share in limits if share > 0.0
    )
    discs, fluid = float(trace.disc_temp_peak.max()), float(trace.fluid_temp_peak.max())
    engine = f"coolant {trace.coolant_temp_peak.max():.0f} °C, oil {trace.oil_temp_peak.max():.0f} °C"
    limit_of = {each.item: each.limit for each in lasting.judged}
    burned = 1e3 * float(trace.fuel_burned.sum()) / car.fuel.density
    rate = burned / (float(trace.clock[-1]) / 3600.0)
    racing = trace.lap_time[trace.kind == 0]
    envelope = garage.envelope_of(quick.described, quick.weather)
    sections = (
        (
            "Where the time goes",
            "map",
            f"The driven line by what holds the car back at each place: {shares} of the lap time. A thin "
            "line is power, a thick one the front tyres, a double one the rear tyres; the letters say so "
            "too.",
            LAP,
        ),
        (
            "Along the lap",
            "traces",
            f"Speed from {lap.speed.min() * 3.6:.0f} to {lap.speed.max() * 3.6:.0f} km/h, with the limit in "
            "force as a band below it; then pedals, gear, acceleration and the grip used.",
            LAP,
        ),
        (
            "What the car can do",
            "envelope",
            f"On a flat road it corners at up to {envelope.lateral_limit.max() / 9.80665:.2f} g.",
            LAP,
        ),
        (
            "What lasts",
            "lasting",
            f"In {100 * odds.all_last:.0f} of 100 races everything lasts: {odds.races} were drawn from "
            "what is not known for sure about car and day. A bar is what is left as planned, the line "
            "under it the range.",
            RACE,
        ),
        (
            "Temperatures over the race",
            "temperatures",
            f"The hottest of each lap with the limits. Hottest of all: disc {discs:.0f} °C, brake fluid "
            f"{fluid:.0f} °C (boils at {limit_of['brake fluid']:.0f} °C), {engine} "
            f"(limits {limit_of['coolant']:.0f} and {limit_of['oil']:.0f} °C).",
            RACE,
        ),
        ("Fuel and mass", "fuel", f"{burned:.1f} L burned, {rate:.1f} L an hour.", RACE),
        (
            "Pads, discs and treads",
            "wear",
            "What is left above the minimum, the worse wheel of each axle.",
            RACE,
        ),
        (
            "Lap times in the race",
            "laps",
            f"{trace.laps} laps; a clear lap takes {lap_words(float(racing.min()))} to "
            f"{lap_words(float(racing.max()))}.",
            RACE,
        ),
    )
    rows = "\n".join(
        f"| {each.item} | {written_amount(each.margin, each.unit)} | "
        f"{written_amount(odds.of(each.item).margin[0], each.unit)} to "
        f"{written_amount(odds.of(each.item).margin[2], each.unit)} | "
        f"{_of_hundred(odds.of(each.item).probability)} |"
        for each in lasting.judged
    )
    text = [
        f"\n## {car.name}\n",
        f"**{quick.answer.sentence}** Range {time.low:.2f} to {time.high:.2f} s. {quick.answer.next_thing}\n",
        f"**{lasting.answer.sentence}** {lasting.answer.next_thing}\n",
    ]
    for heading, picture, caption, command in sections:
        text.append(
            f"### {heading}\n\n{caption}\n\n"
            f"![{car.name}: {heading.lower()}](pictures/{prefix}_{picture}.svg)\n\n"
            f"```sh\n{command.format(car=name)}\n```\n"
        )
        if picture == "lasting":
            text.append(
                "| | left as planned | 5 to 95 % of races | lasts in, of 100 |\n|---|---:|---:|---:|\n"
                + rows
                + "\n"
            )
    cautions = dict.fromkeys((*quick.answer.cautions, *lasting.answer.cautions))
    text += [f"> Caution: {caution}\n" for caution in cautions]
    return "\n".join(text)


def _of_hundred(probability: float) -> str:
    return "100" if probability >= 1.0 else f"{min(100.0 * probability, 99.9):.1f}"


def _ending() -> str:
    return "\nWhat the words and formulae mean stands in [docs/theory](theory/README.md).\n"


if __name__ == "__main__":
    main()
