"""How often somebody may do something."""

import time
from collections.abc import Callable


class Bucket:
    """So many at once, then so many a second.

    Whoever took too many is refused until ``quiet`` are free again: a flood does not open it again.

    >>> now = [0.0]
    >>> few = Bucket(2, 1.0, clock=lambda: now[0])
    >>> few.take(), few.take(), few.take()
    (True, True, False)
    >>> now[0] = 1.0
    >>> few.take()
    True
    """

    def __init__(
        self, most: float, each_second: float, quiet: float = 0.0, clock: Callable = time.monotonic
    ):
        self.most, self.rate, self.quiet, self._clock = most, each_second, quiet, clock
        self._left, self._shut, self._at = float(most), False, clock()

    def take(self, count: int = 1) -> bool:
        """Whether there are so many left, which are then taken."""
        now = self._clock()
        self._left = min(self.most, self._left + (now - self._at) * self.rate)
        self._at = now
        if self._shut and self._left < self.quiet:
            self._left = max(
                -self.quiet, self._left - count
            )  # it stays shut until the flood has ended
            return False
        self._shut = self._left < count
        if not self._shut:
            self._left -= count
        return not self._shut
