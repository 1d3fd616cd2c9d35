"""What some tests need beside Python: without it they skip with a sentence, and fail where CI runs them."""

import os

import pytest

ON_NO_NETWORK = "This machine is on no network, so no room was opened to phones."


def missing(words: str, **more) -> None:
    """Skip what needs something that is not here; where CI runs, a skip would hide that nothing was tried."""
    if os.environ.get("CI"):
        pytest.fail(words, pytrace=False)
    pytest.skip(words, **more)
