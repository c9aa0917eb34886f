"""Pages share parts, never each other's modules: what two pages need belongs in ``ui/parts``."""

import ast
from pathlib import Path

import pytest

import tubeshelf.ui.pages

FOLDER = Path(tubeshelf.ui.pages.__file__).parent
PACKAGE = "tubeshelf.ui.pages"
MODULES = sorted(path.stem for path in FOLDER.glob("*.py") if path.stem != "__init__")


def page_of(module: str) -> str:
    """The page that a module belongs to: ``shelf`` of ``shelf_list``."""
    return module.partition("_")[0]


def pages_imported(source: str) -> set[str]:
    """The modules of pages that a module names in its imports."""
    found = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.ImportFrom) and node.module == PACKAGE:
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and (node.module or "").startswith(f"{PACKAGE}."):
            found.add(str(node.module).removeprefix(f"{PACKAGE}."))
    return found


@pytest.mark.parametrize("module", MODULES)
def test_a_page_imports_no_module_of_another_page(module: str) -> None:
    others = pages_imported((FOLDER / f"{module}.py").read_text(encoding="utf-8"))
    assert {other for other in others if page_of(other) != page_of(module)} == set()


@pytest.mark.parametrize("module", sorted((FOLDER.parent / "parts").glob("*.py")), ids=lambda path: path.stem)
def test_a_part_knows_no_page(module: Path) -> None:
    assert pages_imported(module.read_text(encoding="utf-8")) == set()
