"""Private names of other packages: this module alone uses them (a test holds that).

Each function names the versions in which its private name was seen, the lowest and the newest tried;
``pyproject.toml`` bounds those packages above.  After raising a bound, try every function here.
"""

import sys


def skip_unused_modules() -> None:
    """Mark modules that others import and nothing here needs as not installed.

    Call it before Voila or ipykernel is imported.  ``rfc3987_syntax`` (tried by ``jsonschema._format``,
    seen in jsonschema 4.26.0) takes a second to build its grammar.  ``debugpy`` (tried by
    ``ipykernel.debugger``, seen in ipykernel 6.29.0 and 7.4.0) takes 11 MB in each kernel.
    """
    for name in ("rfc3987_syntax", "debugpy"):
        sys.modules.setdefault(name, None)


def clear_request_info() -> None:
    """Empty Voila's cache of request details: it keeps one entry for each page ever opened.

    ``RequestInfoSocketHandler._cache``, seen in Voila 0.5.8 and 0.5.13.
    """
    from voila.request_info_handler import RequestInfoSocketHandler  # noqa: PLC0415

    RequestInfoSocketHandler._cache.clear()


def kernel_pools(kernel_manager) -> dict[str, list]:
    """Futures of Voila's pooled kernels by notebook; empty for a kernel manager without a pool.

    ``_pools`` of Voila's kernel manager, seen in Voila 0.5.8 and 0.5.13.
    """
    return getattr(kernel_manager, "_pools", {})


def unsent_bytes(stream) -> int:
    """Bytes that wait in the write buffer of a Tornado stream; 0 without a stream.

    ``IOStream._write_buffer``, seen in Tornado 6.4 and 6.6.1.
    """
    return len(getattr(stream, "_write_buffer", None) or ())


def has_output(stream) -> bool:
    """Whether a kernel's output stream holds text that was not sent yet.

    ``OutStream._buffers``, seen in ipykernel 6.29.0 and 7.4.0.
    """
    return bool(stream._buffers)


def without_status(message_type: str):
    """A class decorator: the kernel publishes no busy and idle around messages of this type.

    Overrides ``Kernel._publish_status(status, channel, parent)``, seen in ipykernel 6.29.0 and 7.4.0.
    """

    def decorate(kernel_class: type) -> type:
        publish = kernel_class._publish_status

        def _publish_status(self, status, channel, parent=None) -> None:
            request = parent or self.get_parent(channel)
            if request.get("msg_type") != message_type:
                publish(self, status, channel, parent)

        kernel_class._publish_status = _publish_status
        return kernel_class

    return decorate
