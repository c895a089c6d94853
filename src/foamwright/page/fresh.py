"""The interview: a new plane from what ruler, scale and labels tell."""

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from foamwright.jobs import create
from foamwright.jobs.interview import GROUPS, QUESTIONS, Question, group_of
from foamwright.page.dress import dressed
from foamwright.page.refusals import body_of
from foamwright.problems import CallProblem


def grouped() -> list[tuple[str, list[Question]]]:
    """Return what is asked, under its headings."""
    found: dict[str, list[Question]] = {}
    for question in QUESTIONS:
        if question.asks:
            found.setdefault(group_of(question), []).append(question)
    return [(GROUPS[group], questions) for group, questions in found.items()]


def page(request: Request) -> Response:
    """Return the interview, or the way to the plane that is there already."""
    desk = request.app.state.desk
    folder = desk.path.resolve().name
    told = {"exists": desk.exists, "folder": folder, "groups": grouped()}
    return dressed(request, "new.html", told)


async def write(request: Request) -> Response:
    """Write the plane file from the answers, whole or not at all."""
    body = await body_of(request)
    told = {key: text.strip() for key, text in body.items() if isinstance(text, str)}
    told = {key: text for key, text in told.items() if text}
    if len(told) > len(QUESTIONS):
        raise CallProblem("more was told than is asked", expected="the answers of the interview")
    made = await run_in_threadpool(create.create, request.app.state.desk.path, told)
    return JSONResponse({"remarks": made.remarks})


ROUTES = [Route("/new", page), Route("/new", write, methods=["POST"])]
"""Where the interview listens."""
