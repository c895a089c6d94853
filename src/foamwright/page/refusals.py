"""Problems told on the page: the same sentences as on the command line, beside their field."""

from collections.abc import Awaitable, Callable

from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from foamwright.page.dress import dressed
from foamwright.page.page_words import on_page
from foamwright.problems import CallProblem, InputProblem, Problem, WriteProblem

Told = dict[str, object]


class Overtaken(Problem):
    """An edit of something that was changed meanwhile, elsewhere."""

    def __init__(self, changes: tuple[str, ...], revision: str) -> None:
        """Keep what changed, one sentence each, and the revision that holds now."""
        told = "; ".join(changes) or "the plane file was changed"
        super().__init__(f"changed meanwhile, elsewhere: {told}")
        self.changes = changes
        self.revision = revision


class Gone(Problem):
    """Something that was only held in memory or among temporary files, and is not any more."""


def status_of(problem: Problem) -> int:
    """Return the status that a problem is answered with."""
    if isinstance(problem, Overtaken | WriteProblem):
        return 409
    if isinstance(problem, Gone):
        return 410
    return 422 if isinstance(problem, InputProblem) else 400


def as_told(problem: Problem) -> Told:
    """Return a problem as the page's scripts read it."""
    told: Told = {"problem": on_page(str(problem)), "findings": []}
    if isinstance(problem, InputProblem):
        told["findings"] = [
            {
                "key": f.key,
                "what": on_page(f.what),
                "expected": on_page(f.expected),
                "line": f.line,
            }
            for f in problem.findings
        ]
    if isinstance(problem, CallProblem | WriteProblem):
        told["findings"] = [
            {
                "key": getattr(problem, "key", ""),
                "what": on_page(problem.what),
                "expected": on_page(problem.expected),
                "line": None,
            }
        ]
    if isinstance(problem, Overtaken):
        told["overtaken"] = list(problem.changes)
        told["revision"] = problem.revision
    return told


async def refused(request: Request, problem: Exception) -> Response:
    """Answer with a problem: as a page where a page was asked for, else as JSON."""
    found = problem if isinstance(problem, Problem) else CallProblem(str(problem))
    if request.method == "GET" and "text/html" in request.headers.get("accept", ""):
        told = as_told(found)
        return dressed(request, "refused.html", told, status=status_of(found))
    return JSONResponse(as_told(found), status_code=status_of(found))


HANDLERS: dict[type[Exception], Callable[[Request, Exception], Awaitable[Response]]] = {
    Problem: refused
}
"""What Starlette asks when an endpoint meets a problem."""


async def body_of(request: Request) -> dict[str, object]:
    """Return the JSON object of a request; raises CallProblem for anything else."""
    try:
        found = await request.json()
    except ValueError:
        found = None
    if not isinstance(found, dict):
        raise CallProblem("what was sent is no JSON object", expected="send { ... }")
    return found
