"""A drawing as what changed of it: most of its markup stays as a slider moves, and need not be sent again."""

DRAWN = ("svg", "plan")
"""The fields of a block that hold a drawing."""
SHARE = 0.7
"""Edits that are longer than this share of a drawing save nothing: it is sent whole."""


def edited(before, now):
    """A block whose drawings are told by what changed of them since ``before``, where that is shorter.

    A drawing is cut at its quotation marks, so that each value of an attribute is a piece: ``of`` is how
    long the drawing was in the browser's count, ``edits`` are places of pieces and the pieces that stand there now.

    >>> edited({"svg": '<svg><path d="M0 0h900" style="fill:none;stroke:blue"/></svg>'},
    ...        {"svg": '<svg><path d="M0 0h901" style="fill:none;stroke:blue"/></svg>'})
    {'svg': {'of': 61, 'edits': [[1, 'M0 0h901']]}}
    """
    if not isinstance(before, dict) or not isinstance(now, dict):
        return now
    found = {}
    for name in DRAWN:
        was, drawing = before.get(name), now.get(name)
        if isinstance(was, str) and isinstance(drawing, str):
            found[name] = _edits(was, drawing)
    return {**now, **{name: edits for name, edits in found.items() if edits is not None}}


def _edits(was: str, now: str) -> dict | None:
    """What changes one drawing into another; None where it is as short to send it whole."""
    before, after = was.split('"'), now.split('"')
    if len(before) != len(after) or not was:
        return None
    edits = [[k, b] for k, (a, b) in enumerate(zip(before, after, strict=True)) if a != b]
    if sum(len(piece) for _, piece in edits) > SHARE * len(now):
        return None
    return {"of": len(was.encode("utf-16-le")) // 2, "edits": edits}
