"""Every code place quoted in docs/theory exists, and every room of formulae is explained somewhere."""

import ast
import re
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src" / "tintop"
PAGES = sorted((ROOT / "docs" / "theory").glob("*.md"))
PLACE = re.compile(r"`([\w/]+\.py):\s([\w.,\s]+)`")
FILE = re.compile(r"`([\w/]+\.py)[:`]")


@cache
def names_in(file: str) -> frozenset[str]:
    """Names at the top of a file, and `Class.name` for what its classes hold."""
    found: set[str] = set()
    for node in ast.parse((SOURCE / file).read_text("utf-8")).body:
        found |= _names(node)
        if isinstance(node, ast.ClassDef):
            found |= {f"{node.name}.{name}" for inner in node.body for name in _names(inner)}
    return frozenset(found)


def _names(node: ast.stmt) -> set[str]:
    if isinstance(node, ast.FunctionDef | ast.ClassDef):
        return {node.name}
    targets = node.targets if isinstance(node, ast.Assign) else [getattr(node, "target", None)]
    parts = [part for target in targets if target for part in ast.walk(target)]
    return {part.id for part in parts if isinstance(part, ast.Name)}


def test_there_are_pages():
    assert {page.name for page in PAGES} >= {
        "README.md", "axes.md", "four_wheels.md", "lap.md", "envelope.md", "sensitivity.md", "circuit.md",
        "fuel.md", "heat.md", "wear.md", "race.md", "odds.md", "documents.md", "cage.md",
    }  # fmt: skip


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_every_code_place_quoted_exists(page):
    text = page.read_text("utf-8")
    for file in FILE.findall(text):
        assert (SOURCE / file).is_file(), f"{page.name} quotes {file}, which does not exist"
    for file, names in PLACE.findall(text):
        for name in names.split(","):
            assert name.strip() in names_in(file), f"{page.name} quotes {file}: {name.strip()}"


@pytest.mark.parametrize("page", [p for p in PAGES if p.name != "README.md"], ids=lambda page: page.name)
def test_every_page_leads_to_code_and_source(page):
    text = page.read_text("utf-8")
    assert PLACE.search(text), f"{page.name} quotes no code"
    assert re.search(r"Source|source", text), f"{page.name} names no source"


def test_equations_are_numbered_once_and_in_order():
    for page in PAGES:
        numbers = [int(number) for number in re.findall(r"\\tag\{(\d+)\}", page.read_text("utf-8"))]
        assert numbers == list(range(1, len(numbers) + 1)), page.name


def test_every_physics_module_with_public_functions_is_explained():
    said = "\n".join(page.read_text("utf-8") for page in PAGES)
    for module in sorted((SOURCE / "physics").glob("*.py")):
        functions = [
            node.name
            for node in ast.parse(module.read_text("utf-8")).body
            if isinstance(node, ast.FunctionDef) and not node.name.startswith("_")
        ]
        if functions:
            assert f"`physics/{module.name}" in said, f"no page mentions physics/{module.name}"
