"""Private names of other packages: one module uses them, and each is there in what is installed."""

import ast
import asyncio
import contextlib
import inspect
import subprocess
import sys
from pathlib import Path

import pytest
from ipykernel.iostream import OutStream
from ipykernel.kernelbase import Kernel
from jupyter_server.services.kernels.kernelmanager import AsyncMappingKernelManager
from tornado.iostream import BaseIOStream
from voila.request_info_handler import RequestInfoSocketHandler
from voila.voila_kernel_manager import voila_kernel_manager_factory

from rsdesign.pages.server import compat

PACKAGE = Path(compat.__file__).parents[2]
PUBLIC = {"_exit", "_replace", "_asdict", "_fields", "_make"}
"""Documented names of the standard library that begin with an underscore."""


def is_private(name: str) -> bool:
    return name.startswith("_") and not name.startswith("__") and name not in PUBLIC | {"_"}


def trees():
    for path in sorted(PACKAGE.rglob("*.py")):
        if path != Path(compat.__file__):
            yield path, ast.parse(path.read_text(encoding="utf-8"))


def defined(tree: ast.AST) -> set[str]:
    """Names that a module defines: functions, classes, fields, attributes of ``self``."""
    names = set()
    for node in ast.walk(tree):
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef)):
            names.add(node.name)
        elif isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
            names.add(node.id)
        elif isinstance(node, ast.Attribute) and isinstance(node.ctx, ast.Store):
            names |= {node.attr} if ast.unparse(node.value) in ("self", "cls") else set()
    return names


def private_uses(tree: ast.AST):
    """Private names that a module uses: attributes, ``getattr`` by text, imports."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute) and is_private(node.attr):
            yield node.lineno, node.attr
        elif isinstance(node, ast.Call) and getattr(node.func, "id", "") in (
            "getattr",
            "setattr",
            "hasattr",
        ):
            name = node.args[1]
            if isinstance(name, ast.Constant) and is_private(str(name.value)):
                yield node.lineno, name.value
        elif isinstance(node, ast.ImportFrom) and not node.level:
            parts = [*(node.module or "").split("."), *(alias.name for alias in node.names)]
            yield from ((node.lineno, part) for part in parts if is_private(part))
        elif isinstance(node, ast.Import):
            parts = [part for alias in node.names for part in alias.name.split(".")]
            yield from ((node.lineno, part) for part in parts if is_private(part))


def test_only_one_module_uses_private_names_of_other_packages():
    parsed = list(trees())
    ours = set().union(*(defined(tree) for _, tree in parsed))
    found = [f"{path.name}:{line}: {name}" for path, tree in parsed
             for line, name in private_uses(tree) if name not in ours]  # fmt: skip
    assert not found


@pytest.mark.parametrize(
    "text",
    ["x._cache.clear()", "getattr(x, '_pools', 0)", "from a._version import b", "import a._b"],
)
def test_a_private_name_would_be_found(text):
    assert list(private_uses(ast.parse(text)))


def test_the_request_info_of_voila_is_emptied():
    RequestInfoSocketHandler._cache["kernel"] = {}
    compat.clear_request_info()
    assert not RequestInfoSocketHandler._cache


def test_voilas_pool_is_where_it_was_seen():
    manager = voila_kernel_manager_factory(AsyncMappingKernelManager, True, 1)
    assert "_pools" in manager.__init__.__code__.co_names
    assert "get_pool_size" in vars(manager)

    class Pooled:
        _pools = {"a.ipynb": [1]}  # noqa: RUF012

    assert compat.kernel_pools(Pooled()) == {"a.ipynb": [1]}
    assert compat.kernel_pools(object()) == {}


def test_what_waits_to_be_sent_to_a_page_is_counted():
    class Stream(BaseIOStream):
        def _handle_write(self):
            """Sends nothing, as to a client that does not read."""

        def _add_io_state(self, state):
            pass

        def fileno(self):
            return 0

    async def write():
        stream = Stream()
        before = compat.unsent_bytes(stream)
        with contextlib.suppress(Exception):
            stream.write(b"12345")
        return before, compat.unsent_bytes(stream)

    assert asyncio.run(write()) == (0, 5)
    assert compat.unsent_bytes(None) == 0


def test_what_a_kernel_printed_is_seen_before_it_is_sent():
    assert "_buffers" in OutStream.__init__.__code__.co_names
    stream = OutStream.__new__(OutStream)
    stream._buffers = {}
    assert not compat.has_output(stream)
    stream._buffers["parent"] = "words"
    assert compat.has_output(stream)
    del stream._buffers
    stream.close = lambda: None  # it was never opened


def test_a_kernel_publishes_no_status_around_messages_of_one_type():
    published = []

    class Loud(Kernel):
        def _publish_status(self, status, channel, parent=None):
            published.append(status)

    quiet = compat.without_status("comm_msg")(Loud)
    for kind in ("comm_msg", "execute_request"):
        quiet._publish_status(object(), f"busy {kind}", "shell", {"msg_type": kind})
    assert published == ["busy execute_request"]
    assert list(inspect.signature(Kernel._publish_status).parameters) == [
        "self", "status", "channel", "parent",
    ]  # fmt: skip


def test_modules_that_are_not_needed_are_skipped_by_those_who_try_them():
    code = (
        "from rsdesign.pages.server.compat import skip_unused_modules; skip_unused_modules()\n"
        "import sys, jsonschema, ipykernel.debugger, voila.app\n"
        "print([name for name in sys.modules if name.startswith(('debugpy', 'pydevd', 'rfc3987_syntax'))"
        " and sys.modules[name] is not None])"
    )
    done = subprocess.run([sys.executable, "-W", "ignore", "-c", code], capture_output=True, encoding="utf-8", check=True)  # fmt: skip
    assert done.stdout.strip() == "[]"
