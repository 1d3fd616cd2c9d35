"""The series behind a JupyterHub: ``python -m rsdesign.pages.server.hub``, started by the hub, not by hand.

The hub says who somebody is, its proxy brings their requests, and what this program must know
stands in the environment.  It serves one person (started by the hub's spawner, under
``/user/NAME/``) or a whole room (a service of the hub, under ``/services/NAME/``).  Nothing but the
hub's own sign-in answers a stranger; nobody runs code of their own, for the socket lets through
what a page says and no more.
"""

import os
import sys
from urllib.parse import urlsplit

from .app import serve, settings  # first: it leaves out what costs a second of every start

from ...core.choices import DesignError  # isort: skip

POOL = "RSDESIGN_POOL"
"""The variable that says how many programs stand ready for the next visitor (0)."""
KEY = "RSDESIGN_ROOM_KEY"
"""The variable with what makes somebody the instructor of a room; without it, only the hub's
administrators are."""
SHORTEST_KEY = 8


def hub_settings(place: dict[str, str]):
    """What is set on the server, from the environment that the hub made.

    Raises ``DesignError`` where no hub started this.

    >>> config = hub_settings({"JUPYTERHUB_API_TOKEN": "x", "JUPYTERHUB_SERVICE_PREFIX": "/user/a/",
    ...                        "JUPYTERHUB_SERVICE_URL": "http://127.0.0.1:4711/user/a/"})
    >>> config.Voila.port, config.Voila.base_url
    (4711, '/user/a/')
    """
    for name in ("JUPYTERHUB_API_TOKEN", "JUPYTERHUB_SERVICE_PREFIX", "JUPYTERHUB_SERVICE_URL"):
        if not place.get(name):
            raise DesignError(
                f"{name} is not set: a JupyterHub starts this program, not a person."
                " Use 'rsdesign serve', or read docs/deployment.md."
            )
    url = urlsplit(place["JUPYTERHUB_SERVICE_URL"])
    key = place.get(KEY, "").strip()
    if key and len(key) < SHORTEST_KEY:
        raise DesignError(
            f"{KEY} needs at least {SHORTEST_KEY} letters or digits; it is guessed else."
        )
    pool = place.get(POOL, "0")
    if not pool.isdecimal() or int(pool) > 40:
        raise DesignError(f"{POOL} is {pool}; give a whole number from 0 to 40.")
    config = settings(url.port or 8888, int(pool), place["JUPYTERHUB_SERVICE_PREFIX"])
    config.Voila.ip = url.hostname or ""
    config.Voila.auto_token = True  # none of its own: the hub's identity provider brings one
    config.Voila.identity_provider_class = (
        "jupyterhub.singleuser.extension.JupyterHubIdentityProvider"
    )
    return config


def main() -> int:
    """Serve until the hub ends this program."""
    try:
        config = hub_settings(dict(os.environ))
        try:
            from .hub_app import HubSeries  # noqa: PLC0415
        except ImportError as missing:
            raise DesignError(
                f"A hub needs the package {missing.name}: pip install 'rsdesign[hub]'."
            ) from None
        serve(browser=False, application=HubSeries, config=config)
    except DesignError as wrong:
        print(wrong, file=sys.stderr)
        return 2
    return 0


if __name__ == "__main__":
    sys.exit(main())
