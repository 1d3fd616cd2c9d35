"""The series behind a JupyterHub: ``python -m rsdesign.pages.server.hub``, started by the hub, not by hand.

The hub authenticates users, its proxy forwards their requests, and the environment holds the settings.
The server is for one person (started by the hub's spawner, under ``/user/NAME/``) or for a class (a
service of the hub, under ``/services/NAME/``).  An anonymous request gets the hub's sign-in and nothing
else; nobody runs code of their own, because the socket accepts a page's messages only.
"""

import os
import sys
from urllib.parse import urlsplit

from .app import serve  # first: it skips imports that cost a second of every start

from ...core.choices import DesignError  # isort: skip
from .config import voila_config  # isort: skip

POOL = "RSDESIGN_POOL"
"""Environment variable: how many kernels to start ahead of visitors (0)."""
KEY = "RSDESIGN_ROOM_KEY"
"""Environment variable: the key that makes a user the instructor; without it, only the hub's
administrators are instructors."""
MIN_KEY = 8


def hub_config(environment: dict[str, str]):
    """The server's configuration, from the environment variables that the hub set.

    Raises ``DesignError`` where no hub started this process.

    >>> config = hub_config({"JUPYTERHUB_API_TOKEN": "x", "JUPYTERHUB_SERVICE_PREFIX": "/user/a/",
    ...                        "JUPYTERHUB_SERVICE_URL": "http://127.0.0.1:4711/user/a/"})
    >>> config.Voila.port, config.Voila.base_url
    (4711, '/user/a/')
    """
    for name in ("JUPYTERHUB_API_TOKEN", "JUPYTERHUB_SERVICE_PREFIX", "JUPYTERHUB_SERVICE_URL"):
        if not environment.get(name):
            raise DesignError(
                f"{name} is not set: a JupyterHub starts this program, not a person."
                " Use 'rsdesign serve', or read docs/deployment.md."
            )
    url = urlsplit(environment["JUPYTERHUB_SERVICE_URL"])
    key = environment.get(KEY, "").strip()
    if key and len(key) < MIN_KEY:
        raise DesignError(f"{KEY} needs at least {MIN_KEY} letters or digits; it is guessed else.")
    pool = environment.get(POOL, "0")
    if not pool.isdecimal() or int(pool) > 40:
        raise DesignError(f"{POOL} is {pool}; give a whole number from 0 to 40.")
    config = voila_config(url.port or 8888, int(pool), environment["JUPYTERHUB_SERVICE_PREFIX"])
    config.Voila.ip = url.hostname or ""
    config.Voila.auto_token = True  # no token of its own: the hub's identity provider authenticates
    config.Voila.identity_provider_class = (
        "jupyterhub.singleuser.extension.JupyterHubIdentityProvider"
    )
    return config


def main() -> int:
    """Serve until the hub ends this process; returns the exit code."""
    try:
        config = hub_config(dict(os.environ))
        try:
            from .hub_app import HubSeriesApp  # noqa: PLC0415
        except ImportError as missing:
            raise DesignError(
                f"A hub needs the package {missing.name}: pip install 'rsdesign[hub]'."
            ) from None
        serve(browser=False, application=HubSeriesApp, config=config)
    except DesignError as wrong:
        print(wrong, file=sys.stderr)
        return 2
    return 0


if __name__ == "__main__":
    sys.exit(main())
