"""The house keeps its own rules: short files, docstrings, a light start, links that lead somewhere."""

import ast
import importlib.util
import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tintop.cli import COMMANDS

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src" / "tintop"
FILES = sorted(SOURCE.rglob("*.py"))
LONGEST = 400
LONGER_WITH_REASON = {
    "logbook/entries.py": "twenty kinds of entry declared side by side, no logic",
    "race/march.py": "the race told from start to flag in one place",
}
SLOW_TO_IMPORT = ("numpy", "numba", "scipy", "pydantic", "matplotlib")
TEXTS = sorted([ROOT / "README.md", ROOT / "CONTRIBUTING.md", *(ROOT / "docs").rglob("*.md")])


def _name(file: Path) -> str:
    return file.relative_to(SOURCE).as_posix()


def test_no_file_is_too_long():
    long = {_name(file) for file in FILES if len(file.read_text("utf-8").splitlines()) > LONGEST}
    assert long == set(LONGER_WITH_REASON), "split the file, or name it here with the reason"


def _public_functions(body: list[ast.stmt]) -> list[ast.FunctionDef]:
    found = []
    for node in body:
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
            found.append(node)
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
            found += _public_functions(node.body)
    return found


@pytest.mark.parametrize("file", FILES, ids=_name)
def test_every_public_function_says_what_it_gives(file):
    for function in _public_functions(ast.parse(file.read_text("utf-8")).body):
        assert ast.get_docstring(function), f"{_name(file)}: {function.name} has no docstring"


def test_help_starts_light():
    script = (
        "import sys, json\n"
        "from click.testing import CliRunner\n"
        "from tintop.cli import main\n"
        "answer = CliRunner().invoke(main, ['--help'])\n"
        "print(json.dumps([answer.exit_code, answer.output, sorted(sys.modules)]))\n"
    )
    run = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    code, output, modules = json.loads(run.stdout)
    assert code == 0
    assert "sensitivity" in output
    assert not [name for name in SLOW_TO_IMPORT if name in modules]


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_a_file(name):
    assert importlib.util.find_spec(f"tintop.commands.{name}_command") is not None


@pytest.mark.parametrize("text", TEXTS, ids=lambda text: text.relative_to(ROOT).as_posix())
def test_every_link_leads_somewhere(text):
    written = re.sub(r"```.*?```", "", text.read_text("utf-8"), flags=re.S)
    for target in re.findall(r"\]\(([^)\s]+)\)", written):
        if re.match(r"[a-z]+:", target) or target.startswith("#"):
            continue
        assert (text.parent / target.split("#")[0]).exists(), f"{text.name} links to {target}"
