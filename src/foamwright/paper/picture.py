"""A drawing as a picture of dots, by a library of its own."""

from foamwright.problems import CallProblem

DOTS = 2000
"""Dots across the longer side of a picture."""

DOTS_PER_MM = 96 / 25.4
"""Dots the library gives a millimetre at scale one."""


def picture(svg: str, longest: float) -> bytes:
    """Return a drawing whose longer side measures `longest` [mm] as PNG.

    Raises CallProblem where the library is not installed.
    """
    try:
        import vl_convert  # noqa: PLC0415 - large, and only pictures need it
    except ImportError as error:
        raise CallProblem(
            "a PNG needs the library vl-convert-python, which is not installed here",
            expected="install it, or name a file that ends in .svg",
        ) from error
    return bytes(vl_convert.svg_to_png(svg, scale=DOTS / (longest * DOTS_PER_MM)))
