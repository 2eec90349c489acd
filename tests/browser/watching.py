"""What a browser sees besides the page: messages, requests that fail, headers, bytes."""

from __future__ import annotations

from dataclasses import dataclass, field

from playwright.sync_api import BrowserContext, ConsoleMessage, Page, Request, Response

POLICY = "default-src 'self'; base-uri 'self'; form-action 'self'; frame-ancestors 'none'; object-src 'none'"
LEFT = "net::ERR_ABORTED"  # the page that asked was left before the answer came


def _parts(policy: str) -> set[str]:
    return {part.strip() for part in policy.split(";") if part.strip()}


@dataclass
class Watch:
    """Everything that a browser context said or asked for; ``refusals`` are statuses that the test itself provokes."""

    site: str
    refusals: set[int] = field(default_factory=set)
    left: set[str] = field(default_factory=lambda: {"/progress/"})  # ends of addresses whose answers may be left behind
    faults: list[str] = field(default_factory=list)
    finished: list[Request] = field(default_factory=list)

    def over(self, context: BrowserContext) -> None:
        """Watch every page of a context."""
        context.on("console", self._says)
        context.on("weberror", lambda error: self.faults.append(f"script: {error.error}"))
        context.on("requestfailed", self._fails)
        context.on("requestfinished", lambda request: self.finished.append(request))
        context.on("response", self._answered)

    def _says(self, message: ConsoleMessage) -> None:
        text = message.text
        provoked = any(f"the server responded with a status of {one}" in text for one in self.refusals)
        if not provoked:
            self.faults.append(f"console {message.type}: {text}")

    def _fails(self, request: Request) -> None:
        left_behind = request.failure == LEFT and request.url.endswith(tuple(self.left))
        if not left_behind:
            self.faults.append(f"failed: {request.url}: {request.failure}")

    def _answered(self, response: Response) -> None:
        if not response.url.startswith(self.site):
            self.faults.append(f"asked of others: {response.url}")
        if _parts(response.headers.get("content-security-policy", "")) != _parts(POLICY):
            self.faults.append(f"policy of {response.url}: {response.headers.get('content-security-policy')}")
        if response.status >= 400 and response.status not in self.refusals:
            self.faults.append(f"status {response.status}: {response.url}")

    def bytes_so_far(self) -> int:
        """Return what was sent over the wire for all requests that ended, headers too."""
        sizes = [request.sizes() for request in self.finished]
        return sum(one["responseBodySize"] + one["responseHeadersSize"] for one in sizes)


def goes_sideways(page: Page) -> int:
    """Return by how many pixels the page is wider than the window."""
    return page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
