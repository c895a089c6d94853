"""What the page sends about the photo of a camera of numbers."""

from foamwright.model.photo_clicks import Clicks

GROUPS = ("reference", "middle", "first", "second")


def body_of(clicks: Clicks, **more: object) -> dict[str, object]:
    """Return the request a browser would make of some clicks."""
    blur = iter(clicks.blur.tolist())
    points = {
        group: [{"x": x, "y": y, "off": next(blur)} for x, y in getattr(clicks, group).tolist()]
        for group in GROUPS
    }
    by = "sheet" if len(clicks.reference) == 4 else "length"
    return {
        "view": clicks.view,
        "picture": {"width": clicks.picture[0], "height": clicks.picture[1]},
        "by": by,
        "paper": "A4",
        "length": "690 mm" if by == "length" else "",
        "points": points,
        **more,
    }
