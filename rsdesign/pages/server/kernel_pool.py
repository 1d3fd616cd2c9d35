"""The pool: programs that stand ready for the first page, and nobody waits for one that does not."""


def ready_only(programs) -> None:
    """Let a kernel manager count as its pool what is ready, the rest behind it.

    A program that is still to be started counts with Voila as much as a ready one: whoever comes
    while the pool is filled again would wait for all of its delay, instead of starting their own.
    """
    pools = getattr(programs, "_pools", None)
    if pools is None:  # a kernel manager without a pool
        return

    def size(notebook: str) -> int:
        pool = pools.get(notebook, [])
        pool.sort(key=lambda made: not ready(made))
        return sum(map(ready, pool))

    programs.get_pool_size = size


def ready(made) -> bool:
    """Whether a program of a pool was started."""
    return made.done() and not made.cancelled() and made.exception() is None


def waiting(programs) -> set[str]:
    """The names of the programs that stand ready for a visitor."""
    pools = getattr(programs, "_pools", {}).values()
    return {made.result()["kernel_id"] for pool in pools for made in pool if ready(made)}
