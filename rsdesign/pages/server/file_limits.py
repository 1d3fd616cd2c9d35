"""How many files and sockets the server may have open; the usual limits are too low for a class."""

import contextlib

MAX_FILES = 16_384
"""Open files and sockets; a page takes about 14, and a common limit is 1,024 (or 256)."""
MAX_ZMQ_SOCKETS = 16_384
"""ZeroMQ sockets towards kernels; the library's own limit is 1,023."""


def raise_file_limit(most: int = MAX_FILES) -> int:
    """Raise this process's limit of open files as far as the system allows.

    Returns the limit now in force; 0 where the system does not tell.
    """
    try:
        import resource  # noqa: PLC0415  (not on every system)
    except ImportError:
        return 0
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    if soft == resource.RLIM_INFINITY:
        return most
    wanted = most if hard == resource.RLIM_INFINITY else min(most, hard)
    if wanted > soft:
        with contextlib.suppress(ValueError, OSError):  # macOS allows less than its hard limit
            resource.setrlimit(resource.RLIMIT_NOFILE, (wanted, hard))
    return resource.getrlimit(resource.RLIMIT_NOFILE)[0]


def raise_zmq_socket_limit(kernel_manager) -> None:
    """Raise a kernel manager's limit of ZeroMQ sockets; call it before its first kernel starts."""
    kernel_manager.context.max_sockets = MAX_ZMQ_SOCKETS
