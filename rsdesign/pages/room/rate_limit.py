"""Rate limiting by a token bucket."""

import time
from collections.abc import Callable


class TokenBucket:
    """Allows ``most`` actions at once, then ``each_second`` more a second.

    After one refusal it stays closed until ``quiet`` tokens are free, so that a flood of requests
    does not open it again.

    >>> now = [0.0]
    >>> few = TokenBucket(2, 1.0, clock=lambda: now[0])
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
        self._tokens, self._closed, self._at = float(most), False, clock()

    def take(self, count: int = 1) -> bool:
        """Take so many tokens; False where there are not enough."""
        now = self._clock()
        self._tokens = min(self.most, self._tokens + (now - self._at) * self.rate)
        self._at = now
        if self._closed and self._tokens < self.quiet:
            # Each refused action costs too, so it stays closed until the flood has ended.
            self._tokens = max(-self.quiet, self._tokens - count)
            return False
        self._closed = self._tokens < count
        if not self._closed:
            self._tokens -= count
        return not self._closed
