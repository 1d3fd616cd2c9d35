"""Count only started kernels as pooled, so that a visitor never waits for Voila's ``fill_delay``."""

from .compat import kernel_pools


def count_only_started(kernel_manager) -> None:
    """Make a kernel manager report only started kernels as its pool, and hand those out first.

    Voila counts a kernel that is still to be started too: a visitor who comes while the pool is
    being refilled would wait for its whole delay instead of starting a kernel of their own.
    """
    pools = kernel_pools(kernel_manager)

    def pool_size(notebook: str) -> int:
        pool = pools.get(notebook, [])
        pool.sort(key=lambda future: not is_started(future))
        return sum(map(is_started, pool))

    kernel_manager.get_pool_size = pool_size


def is_started(future) -> bool:
    """Whether a pooled kernel has started."""
    return future.done() and not future.cancelled() and future.exception() is None


def pooled_kernel_ids(kernel_manager) -> set[str]:
    """The ids of the started kernels that wait for a visitor."""
    pools = kernel_pools(kernel_manager).values()
    return {future.result()["kernel_id"] for pool in pools for future in pool if is_started(future)}
