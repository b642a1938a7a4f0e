"""Every operation the application describes, with whatever that description allows: never a failure."""

import re

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from own_book import name_the_book
from schemathesis.core.errors import SchemathesisError
from test_guard import visitor

from tintop.web.app import make_app
from tintop.web.security import HEADERS

EXAMPLES = 10
ENDLESS = {"/live"}  # a stream that ends with the device
LONG = {"/answers/predict", "/answers/{name}/repeat"}  # start a prediction, which takes long
SENTENCE = re.compile(r"[A-Z\[“'\w].*[.?!)]", re.DOTALL)


def operations(app) -> list:
    schema = schemathesis.openapi.from_dict(app.openapi())
    found = []
    for each in schema.get_all_operations():
        operation = each.ok()
        if operation.path not in ENDLESS | LONG and not _is_typeset(operation):
            found.append(operation)
    assert len(found) > 35
    return found


def _is_typeset(operation) -> bool:
    """Whether a paper is made anew each time it is asked for, which takes long."""
    return (
        operation.method == "get"
        and operation.path.startswith("/papers/")
        and not operation.path.startswith("/papers/originals/")
    )


def words_of(found) -> str:
    """What an answer says to whoever reads it: the page's own part, without its markup."""
    text = found.text
    if "<main" in text:
        text = text.split("<main", 1)[1].split("</main>")[0]
        text = re.sub(r"<(script|style|svg).*?</\1>", "", text, flags=re.DOTALL)
    return re.sub(r"<[^>]*>", " ", text).strip()


def judge(found, where: str) -> None:
    assert found.status_code < 500, where
    for name, value in HEADERS.items():
        assert found.headers[name] == value, where
    if found.status_code >= 400:
        if "application/json" in found.headers["content-type"]:
            assert any(key in found.json() for key in ("sentence", "problems")), where
            return
        words = words_of(found)
        assert SENTENCE.search(words), where
        for strange in ("Traceback", "Exception", "Error:", "None", "loc", "pydantic", "sqlite"):
            assert not re.search(rf"\b{strange}\b", words), f"{strange}: {where}"


def send(client, case):
    """Send a case as a browser would send a form of ours."""
    form = case.body if isinstance(case.body, dict) else {}
    files = {name: ("a.jpg", value, "image/jpeg") for name, value in form.items() if isinstance(value, bytes)}
    data = {name: value for name, value in form.items() if isinstance(value, str)}
    path = case.formatted_path
    query = {name: value for name, value in (case.query or {}).items() if isinstance(value, str)}
    if case.method.upper() == "GET":
        return client.get(path, params=query)
    return client.post(path, params=query, data=data, files=files or None)


def test_no_operation_fails_whatever_its_description_allows(garage, page):
    documents = garage.store.digests()

    def fuzz(operation) -> None:
        @settings(
            max_examples=EXAMPLES,
            deadline=None,
            derandomize=True,
            database=None,
            phases=[Phase.generate],
            suppress_health_check=list(HealthCheck),
        )
        @given(case=operation.as_strategy())
        def one(case):
            before = garage.book.last_number, garage.store.digests()
            found = send(page, case)
            judge(found, f"{case.method} {case.formatted_path} {case.query} {case.body}")
            if case.method.upper() == "GET":
                assert (garage.book.last_number, garage.store.digests()) == before

        one()

    tried = 0
    for operation in operations(page.app):
        try:
            fuzz(operation)
            tried += 1
        except SchemathesisError as error:
            pytest.fail(f"{operation.label}: {error}")
    assert tried > 35
    assert garage.store.digests() == documents  # no document came to be out of noise
    assert not garage.workshop.works()


_TEXTS = st.text(max_size=60) | st.sampled_from(
    ["", "0", "-1", "9" * 40, "\x00", "midsummer", "front-pads-1", "?"]
)


@settings(max_examples=200, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_no_form_fails_whatever_stands_in_the_fields_a_page_shows(fields_of_pages, data):
    client, forms = fields_of_pages
    form = data.draw(st.sampled_from(forms))
    typed = {
        name: data.draw(_TEXTS | st.just(value), label=name) if data.draw(st.booleans()) else value
        for name, value in form.fields.items()
    }
    judge(client.post(form.action, data=typed), f"{form.action} {typed}")


@pytest.fixture
def fields_of_pages(garage, page):
    from test_markup import addresses, look

    name_the_book(garage)
    forms = {}
    for address in addresses(garage):
        for form in look(page, address).found:
            if form.action not in LONG and not form.action.endswith("/originals"):
                forms.setdefault((form.action, tuple(form.fields)), form)
    assert {"/legal/proofs", "/legal/accident", "/cage/new", "/rule-books"} <= {action for action, _ in forms}
    return page, list(forms.values())


def test_a_stranger_fuzzing_the_same_operations_gets_nothing(garage):
    client = visitor(garage)
    app = make_app(garage)
    for path, methods in app.openapi()["paths"].items():
        for method in methods:
            found = client.request(method, re.sub(r"{[^}]*}", "1", path), headers={"Accept": "*/*"})
            if not path.startswith(("/pair", "/icon", "/manifest")):
                assert (found.status_code, found.text) == (401, "This device is not paired with the laptop.")
            judge(found, path)
