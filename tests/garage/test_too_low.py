"""A garage whose next event asks for more clearance: said with the comparison, the sheet and its paper."""

import io
import json
import re
from datetime import datetime

import pytest
from click.testing import CliRunner
from fastapi.testclient import TestClient
from pypdf import PdfReader

from tintop.commands.setup_command import command
from tintop.garage.bench import bench_of
from tintop.garage.keeper import Garage
from tintop.garage.setup_limits import legality_at, next_circuit, not_legal_of
from tintop.store.demo_garage import write_demo_garage
from tintop.web.app import make_app

HEAD = "Not proven legal: Dry circuit stands too low."
SAID = f"{HEAD} Both ends come up as one job"


@pytest.fixture(scope="module")
def garage(tmp_path_factory: pytest.TempPathFactory):
    folder = tmp_path_factory.mktemp("low") / "demo"
    write_demo_garage(folder, datetime.now().astimezone().date()).close()  # the command knows no other day
    found = Garage.open(folder)
    yield found
    found.close()


def test_what_the_event_asks_is_one_figure_whichever_set_up_is_asked_about(garage):
    bench = bench_of(garage)
    dry, wet = (legality_at(garage, bench, name, "larkmoor") for name in ("dry", "wet"))
    assert dry.bounds and dry.bounds == wet.bounds
    assert not_legal_of(garage, bench, "dry").startswith(SAID)
    assert "56.0 mm" in not_legal_of(garage, bench, "dry")
    assert not not_legal_of(garage, bench, "road"), "no book of the road asks for clearance"
    assert next_circuit(garage, bench) == "larkmoor"


def test_page_and_paper_say_it_on_top(garage):
    page = TestClient(
        make_app(garage),
        base_url="http://127.0.0.1:8080",
        client=("127.0.0.1", 50000),
        headers={"Accept": "text/html", "Origin": "http://127.0.0.1:8080"},
    )
    for address in ("/bench/setups/compare?from=road&to=dry&circuit=none", "/bench/setups/dry"):
        text = page.get(address).text
        assert re.search(r'<p class="problem">(<span[^>]*>✗</span> )?' + HEAD, text)
    assert HEAD not in page.get("/bench/setups/road").text
    paper = PdfReader(io.BytesIO(page.get("/bench/setups/dry.pdf").content))
    assert len(paper.pages) == 1
    assert "Not proven legal" in " ".join(paper.pages[0].extract_text().split())


def test_the_command_says_it_first(garage):
    folder = str(garage.folder)
    told = CliRunner().invoke(command, ["compare", folder, "road", "dry", "--circuit", "none"])
    assert told.exit_code == 0, told.output
    assert "Not proven legal" in told.output.split("From Road drive")[0]
    content = CliRunner().invoke(command, ["compare", folder, "road", "dry", "--circuit", "none", "--json"])
    assert json.loads(content.output)["not_legal"].startswith(SAID)
