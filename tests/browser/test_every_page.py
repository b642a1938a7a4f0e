"""Every page in both sizes, light and dark: nothing leaves the machine, nothing overflows, all can use it."""

import json

import pytest

from browser.conftest import PHONE, WIDE, Served, Watching, axe_source

PAGES = (
    "/",
    "/answers/legal",
    "/answers/ready",
    "/answers/quick",
    "/answers/lasting",
    "/answers/affordable",
    "/legal",
    "/legal?unfold=yes&group=harness",
    "/legal/begin",
    "/legal/walk",
    "/legal/walk?station=outside",
    "/legal/dates",
    "/legal/accident",
    "/legal/fact/harness.shoulder_anchor",
    "/legal/fact/harness.label",
    "/rule-books",
    "/rule-books/united_kingdom_club",
    "/rule-books/united_kingdom_club/verify?clause=rain-light",
    "/car",
    "/lap",
    "/race",
    "/bench",
    "/bench/ride?setup=dry&kerb=60",
    "/bench/search",
    "/bench/gearing?more=3.8",
    "/bench/springs?map=springs",
    "/bench/setups",
    "/bench/setups/dry",
    "/bench/setups/compare?from=road&to=dry",
    "/bench/weigh?driver=aboard&fuel=20&target=51",
    "/events",
    "/ready",
    "/costs",
    "/circuits",
    "/papers",
    "/history",
    "/calculators",
    "/calculators/strap",
    "/calculators/anchor",
    "/calculators/bolt-group",
    "/calculators/ballast",
    "/calculators/plate",
    "/calculators/tube",
    "/cage",
    "/cage/new",
    "/devices",
    "/documents",
    "/events/larkmoor",
    "/events/larkmoor/run-sheet/larkmoor-practice",
)


@pytest.mark.parametrize(("size", "scheme"), [(WIDE, "dark"), (PHONE, "light")], ids=["wide", "phone"])
def test_pages_ask_nothing_outside_and_fit_and_all_can_use_them(
    looked_at: Served, watch: Watching, size: dict[str, int], scheme: str
) -> None:
    source = axe_source()
    watched = watch(viewport=size, color_scheme=scheme)
    page = watched.page()
    found = []
    for path in PAGES:
        answer = page.goto(looked_at.address + path, wait_until="load")
        assert answer is not None and answer.status == 200, path
        assert page.locator("h1").count() == 1, path
        width = page.evaluate("document.documentElement.scrollWidth")
        assert width <= size["width"], f"{path} is {width} wide"
        assert watched.complaints == [], path
        page.evaluate(source)
        result = page.evaluate("axe.run(document, {resultTypes: ['violations']})")
        for fault in result["violations"]:
            if fault["impact"] in ("serious", "critical"):
                where = [node["target"] for node in fault["nodes"][:3]]
                found.append(f"{path}: {fault['id']} at {json.dumps(where)}")
    assert watched.strangers == []
    assert found == []


@pytest.mark.parametrize(("path", "button"), [("/ready", "Found good"), ("/costs", "Paid")])
def test_buttons_in_tables_are_in_reach_on_a_phone(
    looked_at: Served, watch: Watching, path: str, button: str
) -> None:
    page = watch(viewport=PHONE).page()
    page.goto(looked_at.address + path, wait_until="load")
    boxes = [each.bounding_box() for each in page.locator("table button", has_text=button).all()]
    assert boxes
    for box in boxes:
        assert box is not None and box["x"] >= 0.0 and box["x"] + box["width"] <= PHONE["width"]
