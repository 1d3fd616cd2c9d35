"""Modules are opened when they are first asked for, so that importing the package is light."""

import importlib
import pkgutil
import sys


def opener(package: str, names: dict[str, str] | None = None):
    """A module ``__getattr__`` that imports a submodule, or a name from one, when first used.

    ``names`` says in which module a name of the package itself is written.
    """
    where = names or {}

    def __getattr__(name: str):  # noqa: N807  (PEP 562)
        if name.startswith("__"):
            raise AttributeError(f"module {package!r} has no attribute {name!r}")
        if name in where:
            module = importlib.import_module(f".{where[name]}", package)
            return module if where[name].endswith(f".{name}") else getattr(module, name)
        try:
            return importlib.import_module(f".{name}", package)
        except ModuleNotFoundError as missing:
            if missing.name != f"{package}.{name}":
                raise
            raise AttributeError(f"module {package!r} has no attribute {name!r}") from None

    return __getattr__


def subject(package: str):
    """A module ``__getattr__`` for a subject: its modules, and every public name written in them.

    What was found once is kept, so that the next look is an ordinary one.
    """
    opened = opener(package)

    def __getattr__(name: str):  # noqa: N807  (PEP 562)
        here = sys.modules[package]
        if name.startswith("_"):
            raise AttributeError(f"module {package!r} has no attribute {name!r}")
        modules = [info.name for info in pkgutil.iter_modules(here.__path__)]
        if name in modules:
            return opened(name)
        for inner in modules:
            module = importlib.import_module(f".{inner}", package)
            if getattr(getattr(module, name, None), "__module__", None) == module.__name__:
                setattr(here, name, getattr(module, name))
                return getattr(module, name)
        raise AttributeError(f"module {package!r} has no attribute {name!r}")

    return __getattr__
