"""The leaf for the flying field: one card, read in the sun, printed on one page."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from foamwright.jobs.field_card import field_card
from foamwright.page.answers import figure_told
from foamwright.page.asking import desk_of, planned, variant_of
from foamwright.page.bands import mark
from foamwright.page.dress import dressed


@planned
def page(request: Request) -> Response:
    """Return the card."""
    desk, variant = desk_of(request), variant_of(request)
    with desk.lock:
        sight = desk.sight(variant)
        case = sight.asked({})
        card = field_card(case)
    units, currency = case.plane.units, case.plane.currency
    return dressed(
        request,
        "field.html",
        {
            "plane": case.plane.name,
            "variant": variant,
            "headings": [
                (heading.title, [figure_told(one, units, currency) for one in heading.figures])
                for heading in card.headings
            ],
            "doubts": [(doubt, mark(doubt.verdict)) for doubt in card.doubts],
            "card": card,
        },
    )


ROUTES = [Route("/field", page)]
"""Where this leaf listens."""
