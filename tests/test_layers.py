"""The order of layers that DEVELOPERS.md prints: a module imports only from its own layer and from those above it."""

import ast
from pathlib import Path

import decodecheck

PACKAGE = Path(decodecheck.__file__).parent
LAYERS = [
    "resources", "garbage", "printing", "errors", "tables", "bounds", "formats", "source", "phonics", "lexicon", "progression", "documents", "judging", "checking",
    "wordlists", "insight", "lists", "project", "run", "baselined", "orders", "governing", "session", "governed", "changed", "over_texts", "catalogue", "reports", "api", "pipeline", "web", "cli",
    "__main__",
]  # fmt: skip


def layer_of(module: str) -> str:
    parts = module.split(".")
    return parts[1] if len(parts) > 1 else ""


def imports(path: Path) -> set[str]:
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module:
            found |= {f"{node.module}.{a.name}" for a in node.names} if node.module == "decodecheck" else {node.module}
        elif isinstance(node, ast.Import):
            found |= {a.name for a in node.names}
    return {name for name in found if name.startswith("decodecheck.")}


def test_imports_point_one_way() -> None:
    wrong = []
    for path in sorted(PACKAGE.rglob("*.py")):
        own = path.relative_to(PACKAGE).parts[0].removesuffix(".py")
        if own == "__init__":
            continue
        for name in imports(path):
            other = layer_of(name)
            if other.startswith("__version"):
                continue
            if LAYERS.index(other) > LAYERS.index(own):
                wrong.append(f"{path.relative_to(PACKAGE)} imports {name}")
    assert not wrong


def test_every_layer_is_listed() -> None:
    present = {
        p.name.removesuffix(".py") for p in PACKAGE.iterdir() if p.suffix == ".py" or (p / "__init__.py").is_file()
    }
    assert present - {"__init__"} == set(LAYERS)


def test_layers_are_those_of_the_guide() -> None:
    guide = (PACKAGE.parent / "DEVELOPERS.md").read_text(encoding="utf-8")
    places = [guide.index(f"\n  {layer}{'/' if (PACKAGE / layer).is_dir() else '.py'}") for layer in LAYERS[:-1]]
    assert places == sorted(places)


def test_runtime_start_needs_neither_spacy_nor_wordfreq() -> None:
    import subprocess
    import sys

    code = (
        "import sys; from decodecheck.cli.main import run; "
        "run(['explain', 'cat']); run(['--help']); "
        "assert not {'spacy', 'wordfreq', 'numpy'} & set(sys.modules), sorted(sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
