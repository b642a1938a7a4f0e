"""The bench in a browser: worked out while it is typed or slid, the address holds it, Back brings it back."""

from browser.conftest import PHONE, Served, Watching

LOADS = {"load_FL": "361", "load_FR": "335.5", "load_RL": "203", "load_RR": "246.5", "fuel": "32"}


def test_weighing_answers_while_it_is_typed(looked_at: Served, watch: Watching) -> None:
    page = watch(viewport=PHONE).page()
    page.goto(looked_at.address + "/bench/weigh")
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url) if "part=answer" in request.url else None)
    page.get_by_role("link", name="What it stands on").click()
    page.select_option("#driver", "aboard")
    for name, load in LOADS.items():
        page.fill(f"#{name}", load)
    page.locator("[data-says]", has_text="1146.0 kg").wait_for()
    assert page.evaluate("document.activeElement.id") == "fuel"
    assert "load_FL=361" in page.url and "part=" not in page.url
    assert page.locator("svg:visible").count() == 1

    before = len(asked)
    page.fill("#fuel", "32")
    page.wait_for_timeout(250)
    assert len(asked) == before  # nothing changed, nothing asked

    page.locator("#target").fill("51")
    page.locator(".next", has_text="51.0 %").wait_for()
    assert page.locator("[data-for=target]").input_value() == "51"
    page.locator("[data-for=target]").evaluate(
        "slide => { slide.value = 49; slide.dispatchEvent(new Event('input', {bubbles: true})); }"
    )
    page.locator(".next", has_text="49.").wait_for()
    assert page.locator("#target").input_value() == "49.0"

    page.fill("#load_FL", "-3")
    page.locator("#load_FL-problem", has_text="20 to 1500 kg").wait_for()
    assert page.locator("#load_FL").get_attribute("aria-invalid") == "true"
    assert "is-before" in (page.locator("#bench-answer").get_attribute("class") or "")
    page.fill("#load_FL", "361")
    page.locator("#load_FL-problem").wait_for(state="hidden")

    page.get_by_role("link", name="All of the bench").click()
    page.wait_for_url("**/bench")
    page.go_back()
    page.locator("[data-says]", has_text="1146.0 kg").wait_for()
    assert page.locator("#load_FL").input_value() == "361"
    assert page.locator("#target").input_value() == "49.0"


def test_without_script_the_button_works_it_out_and_saves(served: Served, watch: Watching) -> None:
    page = watch(viewport=PHONE, java_script_enabled=False).page()
    page.goto(served.address + "/bench/weigh")
    page.select_option("#driver", "aboard")
    for name, load in LOADS.items():
        page.fill(f"#{name}", load)
    page.get_by_role("button", name="Work it out").click()
    assert "1146.0 kg" in page.locator("[data-says]").inner_text()
    page.get_by_label("I looked again").check()
    page.get_by_role("button", name="Save as readings").click()
    assert "saved=" in page.url
    assert page.locator("#load_FL").input_value() == "361.0"


def test_on_the_phone_the_answer_stands_in_the_first_screen_and_paper_has_no_folds(
    looked_at: Served, watch: Watching
) -> None:
    page = watch(viewport=PHONE).page()
    for subject in (
        "setups/compare",
        "weigh",
        "springs",
        "ride",
        "camber",
        "treads",
        "pressures",
        "brakes",
        "gearing",
    ):
        page.goto(f"{looked_at.address}/bench/{subject}")
        page.locator("[data-inputs]:not([open])").wait_for()
        for words in ("[data-says]", ".answer .next"):
            box = page.locator(words).first.bounding_box()
            assert box is not None and box["y"] + box["height"] <= PHONE["height"], (subject, words)
    folded = page.locator("details.fold:not([open])")
    assert folded.count() > 2
    page.locator("details.fold summary", has_text="Gears").last.click()
    page.locator(".scroll.is-wider:visible").first.wait_for()
    page.evaluate("window.dispatchEvent(new Event('beforeprint'))")
    assert folded.count() == 0
    page.evaluate("window.dispatchEvent(new Event('afterprint'))")
    assert folded.count() > 1
