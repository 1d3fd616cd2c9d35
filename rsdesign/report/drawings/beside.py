"""What stands beside a drawing so that its size is felt: a person, a five-gallon bucket."""

from .sheet import Sheet

PERSON = 1.7
"""Height of a person for scale [m]; a mean of grown people, from memory."""
BUCKET = (0.30, 0.37)
"""A five-gallon bucket: across and high [m]; tape measure, from memory."""
BUCKET_HOLDS = 0.0189
"""Five gallons [m³]."""
FOOT = 0.76
"""Width of a bucket at its foot over that at its rim."""


def person(sheet: Sheet, x: float, floor: float, scale: float) -> None:
    """A standing person whose middle is at x, on the floor; ``scale`` in px/m."""
    sheet.path(_standing(x, floor, PERSON * scale), "soft", None)


def bucket(sheet: Sheet, left: float, floor: float, scale: float, full: float = 1.0) -> None:
    """A bucket, filled as far as it is full; ``scale`` in px/m."""
    wide, high = BUCKET[0] * scale, BUCKET[1] * scale
    if full > 0:
        sheet.poly(_sides(left, floor, wide, high, min(full, 1.0)), "sand", None)
    sheet.poly(_sides(left, floor, wide, high, 1.0), None, "ink", 1)


def _sides(left: float, floor: float, wide: float, high: float, full: float):
    narrow = wide * (1 - FOOT) / 2
    out = narrow * (1 - full)
    top = floor - high * full
    return [
        (left + out, top),
        (left + wide - out, top),
        (left + wide - narrow, floor),
        (left + narrow, floor),
    ]


def _standing(x: float, floor: float, tall: float) -> str:
    """A standing person as one path: head, trunk with arms, legs; parts of the height, from memory."""
    r = 0.065 * tall
    half = ((0.115, 0.82), (0.135, 0.78), (0.15, 0.48), (0.115, 0.48), (0.1, 0.72), (0.09, 0.48),
            (0.085, 0.0), (0.02, 0.0), (0.0, 0.44))  # fmt: skip
    right = [(x + a * tall, floor - b * tall) for a, b in half]
    left = [(x - a * tall, floor - b * tall) for a, b in half[::-1]]
    body = "L".join(f"{a:.1f} {b:.1f}" for a, b in [*right, *left])
    top = floor - tall + r
    return f"M{body}ZM{x - r:.1f} {top:.1f}a{r:.1f} {r:.1f} 0 1 0 {2 * r:.1f} 0a{r:.1f} {r:.1f} 0 1 0 {-2 * r:.1f} 0Z"
