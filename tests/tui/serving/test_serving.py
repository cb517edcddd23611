"""The interface in a browser tab."""

import re
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from store.demo.shipped import shipped_demo
from store.errors import BadValue
from store.logbook.opening import working_copy
from tui.serving.server import TEMPLATES, is_loopback, open_to_others, serve_logbook

CHROMIUM = Path("/usr/bin/chromium")
PATIENCE_S = 60.0


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextmanager
def served(path: Path) -> Iterator[str]:
    """The address of the served logbook, once it answers."""
    port = free_port()
    command = [sys.executable, "-m", "tui", "serve", str(path), "--port", str(port)]
    process = subprocess.Popen(
        [*command, "--today", "2025-10-12"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    address = f"http://127.0.0.1:{port}/"
    try:
        for _ in range(600):
            try:
                urllib.request.urlopen(address, timeout=1.0).close()
                break
            except OSError:
                time.sleep(0.1)
        yield address
    finally:
        process.terminate()
        process.wait(timeout=20.0)


@pytest.fixture
def demo() -> Iterator[Path]:
    with working_copy(shipped_demo()) as copy:
        yield copy


def test_the_page_is_our_own_and_asks_for_nothing_from_elsewhere(demo: Path) -> None:
    with served(demo) as address:
        page = urllib.request.urlopen(address, timeout=10.0).read().decode()
        parts = re.findall(r'(?:src|href)="([^"]+)"', page)
        assert parts
        assert all(part.startswith(address) for part in parts)
        assert "<title>Brimbook</title>" in page
        for part in parts:
            assert urllib.request.urlopen(part, timeout=10.0).status == 200


@pytest.mark.skipif(not CHROMIUM.exists(), reason=f"there is no {CHROMIUM}")
def test_a_key_pressed_in_a_browser_reaches_the_screen(demo: Path, tmp_path: Path) -> None:
    sync_api = pytest.importorskip("playwright.sync_api", reason="the extra 'browser' is missing")
    with served(demo) as address, sync_api.sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=str(CHROMIUM),
            args=["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
        )
        page = browser.new_page(viewport={"width": 1000, "height": 640})
        asked: list[str] = []
        page.on("request", lambda request: asked.append(request.url))
        page.goto(address)
        page.wait_for_selector("body.-first-byte", timeout=PATIENCE_S * 1000)
        page.wait_for_timeout(4000)
        before = page.screenshot()
        page.keyboard.press("d")
        page.wait_for_timeout(2000)
        after = page.screenshot(path=str(tmp_path / "tab.png"))
        browser.close()
    assert before != after
    assert all(url.startswith((address, address.replace("http", "ws"), "data:")) for url in asked)


@pytest.mark.parametrize(
    ("host", "only_here"),
    [("127.0.0.1", True), ("localhost", True), ("::1", True), ("0.0.0.0", False), ("a b", False)],
)
def test_other_addresses_are_warned_about(host: str, only_here: bool) -> None:
    assert is_loopback(host) is only_here
    assert "no password" in open_to_others(host)


def test_an_address_that_cannot_be_used_is_a_sentence(demo: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        with pytest.raises(BadValue, match="cannot be used"):
            serve_logbook(demo, "127.0.0.1", taken.getsockname()[1], None)
    with pytest.raises(BadValue, match="cannot be used"):
        serve_logbook(demo, "no such host", 8000, None)


def test_the_template_is_shipped_beside_the_code() -> None:
    assert (TEMPLATES / "app_index.html").is_file()
