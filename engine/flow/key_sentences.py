"""The sentence under each key of the models in `engine.flow.schema`, read from its source."""

from __future__ import annotations

import ast
import inspect
from collections.abc import Iterator
from itertools import pairwise

from engine.flow import schema


def describe_keys() -> None:
    """Puts each sentence where pydantic looks for it when it makes a JSON Schema."""
    told = {node.name: dict(_sentences(node)) for node in _classes()}
    for name in told:  # in the order of the source: inner models before those that hold them
        model = getattr(schema, name)
        for key, field in model.model_fields.items():
            field.description = next(
                (told[c.__name__][key] for c in model.__mro__ if key in told.get(c.__name__, ())), None
            )
        model.model_rebuild(force=True)


def _classes() -> Iterator[ast.ClassDef]:
    tree = ast.parse(inspect.getsource(schema))
    return (node for node in tree.body if isinstance(node, ast.ClassDef))


def _sentences(model: ast.ClassDef) -> Iterator[tuple[str, str]]:
    for key, after in pairwise(model.body):
        if (
            isinstance(key, ast.AnnAssign)
            and isinstance(key.target, ast.Name)
            and isinstance(after, ast.Expr)
        ):
            sentence = after.value
            if isinstance(sentence, ast.Constant) and isinstance(sentence.value, str):
                yield key.target.id, inspect.cleandoc(sentence.value)
