"""What the text under each field of a table says, read from the source when somebody asks.

Only the published schema, messages and the bench page show it: reading it while the tables are made would take
a third of the time of a second `weigh`.
"""

from __future__ import annotations

import ast
import inspect
from functools import cache
from itertools import pairwise
from pathlib import Path


@cache
def described(table: type) -> dict[str, str]:
    """The text under each field of a class by the field's name, those of its base classes included.

    Empty where the source cannot be read.
    """
    result: dict[str, str] = {}
    for one in reversed(table.__mro__):
        try:
            file = inspect.getsourcefile(one)
        except (OSError, TypeError):
            continue  # a built-in class, or one that was typed in
        result |= _classes_of(file).get(one.__qualname__, {}) if file else {}
    return result


@cache
def _classes_of(file: str) -> dict[str, dict[str, str]]:
    """The texts of every class of a file, by its qualified name."""
    try:
        tree = ast.parse(Path(file).read_bytes())
    except (OSError, SyntaxError, ValueError):
        return {}
    result: dict[str, dict[str, str]] = {}
    _gather(tree, "", result)
    return result


def _gather(node: ast.AST, prefix: str, result: dict[str, dict[str, str]]) -> None:
    """Add the classes under a node; those within a function are named as Python names them."""
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.ClassDef):
            result[prefix + child.name] = _texts(child.body)
            _gather(child, f"{prefix}{child.name}.", result)
        elif isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef):
            _gather(child, f"{prefix}{child.name}.<locals>.", result)
        else:
            _gather(child, prefix, result)


def _texts(body: list[ast.stmt]) -> dict[str, str]:
    """The string that follows each annotated name, without its indentation."""
    result = {}
    for field, text in pairwise(body):
        if (
            isinstance(field, ast.AnnAssign)
            and isinstance(field.target, ast.Name)
            and isinstance(text, ast.Expr)
            and isinstance(text.value, ast.Constant)
            and isinstance(text.value.value, str)
        ):
            result[field.target.id] = inspect.cleandoc(text.value.value)
    return result
