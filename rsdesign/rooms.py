"""Modules are opened when they are first asked for, so that importing the package is light."""

import importlib


def opener(package: str, names: dict[str, str] | None = None):
    """A module ``__getattr__`` that imports a submodule, or a name from one, when first used.

    ``names`` says in which module a name of the package itself is written.
    """
    where = names or {}

    def __getattr__(name: str):  # noqa: N807  (PEP 562)
        if name.startswith("__"):
            raise AttributeError(f"module {package!r} has no attribute {name!r}")
        if name in where:
            return getattr(importlib.import_module(f".{where[name]}", package), name)
        try:
            return importlib.import_module(f".{name}", package)
        except ModuleNotFoundError as missing:
            if missing.name != f"{package}.{name}":
                raise
            raise AttributeError(f"module {package!r} has no attribute {name!r}") from None

    return __getattr__
