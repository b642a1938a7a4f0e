"""In what the set-up on the car differs from the one a lap is predicted with."""

from dataclasses import replace

from benches import demo_bench
from tintop.garage.car_setup import OtherSetup, differs_in

BENCH = demo_bench()


def test_the_wet_set_up_has_other_tyres_camber_and_bias():
    found = differs_in(BENCH, BENCH.setup("wet"))
    assert {"tyres", "camber", "brake bias"} <= set(found)


def test_the_dry_set_up_is_what_the_cars_document_says():
    assert differs_in(BENCH, BENCH.setup("dry")) == ()
    turned = replace(BENCH.setup("dry"), brake_bias_turns=-4.0)
    assert differs_in(BENCH, turned) == ("brake bias",)


def test_the_sentence_names_what_differs():
    other = OtherSetup(stem="wet", name="Wet circuit", differs_in=("tyres", "camber", "brake bias"))
    assert other.sentence == (
        "Predicted with the tyres, camber and brake bias of the car's document; Wet circuit, on the car, "
        "has others."
    )
