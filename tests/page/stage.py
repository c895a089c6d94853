"""Someone who asks the page, without a browser and without a network."""

import asyncio
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

import httpx
from starlette.applications import Starlette

from foamwright.page.desk import Desk

EXAMPLES = Path(__file__).parent.parent.parent / "examples"
HOST = "127.0.0.1:8000"
SAMPLES = 64


@dataclass(frozen=True, kw_only=True)
class Visitor:
    """Someone who asks the page, from some address."""

    app: Starlette
    address: str = "127.0.0.1"

    def ask(
        self,
        method: str,
        path: str,
        *,
        headers: dict[str, str] | None = None,
        json: object = None,
        content: object = None,
    ) -> httpx.Response:
        """Send one request and return the answer; the page's own headers unless told otherwise."""

        async def sent() -> httpx.Response:
            transport = httpx.ASGITransport(app=self.app, client=(self.address, 5000))
            async with httpx.AsyncClient(transport=transport, base_url=f"http://{HOST}") as client:
                return await client.request(
                    method,
                    path,
                    json=json,
                    content=content,  # type: ignore[arg-type]  # tests send odd things too
                    headers={"origin": f"http://{HOST}"} | (headers or {}),
                )

        # In a thread of its own: where a browser is open, this one has a loop running already.
        with ThreadPoolExecutor(1) as apart:
            return apart.submit(lambda: asyncio.run(sent())).result()

    def post(self, path: str, json: object) -> httpx.Response:
        """Send JSON."""
        return self.ask("POST", path, json=json)

    @property
    def desk(self) -> Desk:
        """The desk behind the page."""
        desk: Desk = self.app.state.desk
        return desk


Visit = Callable[..., Visitor]
"""What opens the page."""
