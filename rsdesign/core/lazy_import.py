"""Modules are opened when they are first asked for, so that importing the package is light.

Each function here gives the two functions by which a package answers for names that it has not
imported (PEP 562): ``__getattr__`` opens one, ``__dir__`` lists them for completion and ``help``.
"""

import functools
import importlib
import pkgutil
import sys
from collections.abc import Callable
from typing import Any

Pair = tuple[Callable[[str], Any], Callable[[], list[str]]]


def opener(package: str, names: dict[str, str] | None = None) -> Pair:
    """``__getattr__`` and ``__dir__`` of a package that opens its modules when they are used.

    ``names`` says in which module a name of the package itself is written; ``":x"`` after the
    module says that it is called ``x`` there, and a module that ends in the name is the module.
    """
    where = names or {}

    def __getattr__(name: str):  # noqa: N807  (PEP 562)
        if name not in where and name.startswith("__"):
            raise AttributeError(f"module {package!r} has no attribute {name!r}")
        if name in where:
            path, _, written = where[name].partition(":")
            module = importlib.import_module(f".{path}", package)
            whole = not written and f".{path}".endswith(f".{name}")
            return module if whole else getattr(module, written or name)
        try:
            return importlib.import_module(f".{name}", package)
        except ModuleNotFoundError as missing:
            if missing.name != f"{package}.{name}":
                raise
            raise AttributeError(f"module {package!r} has no attribute {name!r}") from None

    def __dir__() -> list[str]:  # noqa: N807
        return sorted({*where, *_modules(package)})

    return __getattr__, __dir__


def subject(package: str, also: dict[str, str] | None = None) -> Pair:
    """``__getattr__`` and ``__dir__`` of a subject: its modules, and every name written in them.

    ``also``: names under which relations of other subjects are known here, each with its place
    among the subjects, such as ``"tank.vessel:turnover_time"``.  What was found once is kept, so
    that the next look is an ordinary one.
    """
    others = also or {}
    opened, _ = opener(package)

    def __getattr__(name: str):  # noqa: N807
        if name.startswith("_"):
            raise AttributeError(f"module {package!r} has no attribute {name!r}")
        if name in _modules(package):
            return opened(name)
        if name in others:
            path, _, written = others[name].partition(":")
            return getattr(importlib.import_module(f"..{path}", package), written)
        for inner in _modules(package):
            module = importlib.import_module(f".{inner}", package)
            if _written_in(module, name):
                setattr(sys.modules[package], name, getattr(module, name))
                return getattr(module, name)
        raise AttributeError(f"module {package!r} has no attribute {name!r}")

    @functools.cache
    def listed() -> list[str]:
        found = {*_modules(package), *others}
        for inner in _modules(package):
            module = importlib.import_module(f".{inner}", package)
            found |= {n for n in vars(module) if n[0] != "_" and _written_in(module, n)}
        return sorted(found)

    def __dir__() -> list[str]:  # noqa: N807
        return list(listed())

    return __getattr__, __dir__


@functools.cache
def _modules(package: str) -> tuple[str, ...]:
    """The modules and folders of a package, apart from private ones."""
    path = sys.modules[package].__path__
    return tuple(i.name for i in pkgutil.iter_modules(path) if not i.name.startswith("_"))


def _written_in(module, name: str) -> bool:
    """Whether a name is written in a module, rather than imported into it."""
    return getattr(getattr(module, name, None), "__module__", None) == module.__name__
