"""The workbooks in a browser, for one person or a class, and their files in a folder."""

import sys
from pathlib import Path

from ..core.choices import DesignError
from .parser import whole_number


def add(commands) -> None:
    """Add ``serve`` and ``workbooks``."""
    serve = commands.add_parser("serve", help="open the workbooks in your browser")
    port = whole_number(1, 65535)
    serve.add_argument("--port", type=port, default=8866, help="the port to use (8866)")
    serve.add_argument("--no-browser", action="store_true", help="do not open a browser")
    pool = "kernels that stand ready for the next visitor (1)"
    serve.add_argument("--pool", type=whole_number(0, 40), default=1, metavar="N", help=pool)
    name = "a further name of this server, such as that of a proxy before it"
    serve.add_argument("--name", action="append", default=[], metavar="HOST", help=name)
    most = "the most pages that may be open at once (60)"
    serve.add_argument("--most", type=whole_number(1, 1000), default=60, metavar="N", help=most)
    _add_network(serve)
    learners = "the file of a class: learners then need their code only"
    serve.add_argument("--class", dest="class_file", metavar="FILE", help=learners)
    serve.set_defaults(run=_serve)
    books = commands.add_parser("workbooks", help="copy the workbooks into a folder of yours")
    books.add_argument("folder", metavar="DIR", help="a new folder")
    books.set_defaults(run=_workbooks)


def _add_network(serve) -> None:
    """What is asked when others are to reach the workbooks."""
    room = serve.add_argument_group("a room", "phones on the same network, no internet needed")
    lan = "open the workbooks to the local network, behind a code"
    room.add_argument("--lan", action="store_true", help=lan)
    check = "say whether a phone can reach this machine, and what to do if not"
    room.add_argument("--check", action="store_true", help=check)
    wifi = "the network's name, for the poster"
    room.add_argument("--wifi", default="", metavar="NAME", help=wifi)
    room.add_argument("--wifi-password", default="", metavar="PW", help="its password")
    room.add_argument("--address", default="", metavar="A", help="listen on this address only")
    token = "a code of your own instead of one made at random"
    room.add_argument("--token", default="", metavar="CODE", help=token)


def _serve(args) -> str:
    wants = [w for w in ("check", "wifi", "wifi_password", "address", "token") if getattr(args, w)]
    if wants and not args.lan:
        raise DesignError(
            f"--{wants[0].replace('_', '-')} belongs to a room: add --lan. Without it"
            " only this machine can reach the workbooks."
        )
    try:
        if args.check:
            from ..pages.room.check import check

            return check(args.port, only=args.address, color=sys.stdout.isatty())
        from ..pages.room.lan import LanAccess
        from ..pages.server.app import serve
    except ImportError as missing:
        raise DesignError(
            f"The workbooks need the package {missing.name}; install rsdesign again."
        ) from None
    lan = None
    if args.lan:
        lan = LanAccess(args.port, "/", args.wifi, args.wifi_password, args.address, args.token)
    if args.class_file:
        from ..pages.classroom.class_session import use_class

        warning = use_class(args.class_file)
        if warning:
            print(warning, file=sys.stderr)
    serve(args.port, not args.no_browser, args.pool, lan, tuple(args.name), args.most)
    return "The workbooks are closed."


def _workbooks(args) -> str:
    import shutil

    from ..core.folders import workbooks_folder

    target = Path(args.folder)
    if target.exists():
        raise DesignError(f"{args.folder} is there already; name a new folder.")
    try:
        shutil.copytree(workbooks_folder(), target, ignore=shutil.ignore_patterns("*.toml"))
    except OSError as wrong:
        raise DesignError(f"{args.folder} cannot be written: {wrong.strerror}.") from None
    return f"The workbooks are in {args.folder}. Open them with: jupyter lab {args.folder}"
