"""A headless Chromium, driven by WebDriver's own HTTP messages: standard library only.

    with Browser(1280, 800) as browser:
        browser.open(path)
        browser.run("return document.title")

What the page writes to its console and every request that it makes are kept, so that a
test can say that there were none.
"""

import base64
import json
import os
import pathlib
import re
import shutil
import subprocess
import tempfile
import time
import urllib.error
import urllib.request

ELEMENT = "element-6066-11e4-a52e-4f735466cecf"


def missing():
    """The programs that a browser needs and that aren't here."""
    return [name for name in ("chromium", "chromedriver") if not shutil.which(name)]


class Browser:
    def __init__(self, width, height):
        self.size = (width, height)

    def __enter__(self):
        self.home = tempfile.TemporaryDirectory(prefix="browser-")
        self.driver = subprocess.Popen(
            ["chromedriver", "--port=0"], stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL, text=True,
            env={**os.environ, "TMPDIR": self.home.name})
        try:
            self._start()
        except BaseException:
            self.__exit__()
            raise
        return self

    def _start(self):
        for line in self.driver.stdout:
            if "started successfully on port" in line:
                port = int("".join(c for c in line.split("port")[-1] if c.isdigit()))
                break
        else:
            raise RuntimeError("chromedriver didn't start")
        self.url = f"http://127.0.0.1:{port}/session"
        args = ["--headless=new", "--no-sandbox", "--disable-gpu",
                "--disable-dev-shm-usage", "--force-color-profile=srgb",
                f"--user-data-dir={self.home.name}",
                f"--window-size={self.size[0]},{self.size[1]}"]
        answer = self._send("POST", "", {"capabilities": {"alwaysMatch": {
            "browserName": "chrome", "goog:chromeOptions": {"args": args},
            "goog:loggingPrefs": {"browser": "ALL", "performance": "ALL"}}}})
        self.url += "/" + answer["sessionId"]
        self.tools = answer["capabilities"]["goog:chromeOptions"]["debuggerAddress"]
        self.command("Emulation.setDeviceMetricsOverride", width=self.size[0],
                     height=self.size[1], deviceScaleFactor=1,
                     mobile=self.size[0] < 600)

    def __exit__(self, *error):
        try:
            if hasattr(self, "url") and self.url.count("/") > 3:
                self._send("DELETE", "", None)
        finally:
            self.driver.terminate()
            self.driver.wait()
            self.driver.stdout.close()
            self.home.cleanup()

    def _send(self, method, path, body):
        request = urllib.request.Request(
            self.url + path, method=method,
            data=None if body is None else json.dumps(body).encode(),
            headers={"Content-Type": "application/json"})
        try:
            with urllib.request.urlopen(request, timeout=120) as answer:
                return json.load(answer)["value"]
        except urllib.error.HTTPError as error:
            raise RuntimeError(json.load(error)["value"]["message"]) from error

    def command(self, name, **params):
        """A message of the browser's own protocol for developers."""
        return self._send("POST", "/goog/cdp/execute", {"cmd": name, "params": params})

    def open(self, path):
        """Opens a file; returns the seconds until it has been drawn."""
        begun = time.monotonic()
        self._send("POST", "/url", {"url": pathlib.Path(path).resolve().as_uri()})
        self.run("const done = arguments[0]; requestAnimationFrame(() =>"
                 " requestAnimationFrame(() => done()))", wait=True)
        return time.monotonic() - begun

    def run(self, script, *arguments, wait=False):
        """Runs a script in the page; wait: until it calls its last argument."""
        return self._send("POST", "/execute/async" if wait else "/execute/sync",
                          {"script": script, "args": list(arguments)})

    def find(self, css):
        return self._send("POST", "/element", {"using": "css selector", "value": css})

    def click(self, css):
        self._send("POST", f"/element/{self.find(css)[ELEMENT]}/click", {})

    def type(self, css, text):
        self._send("POST", f"/element/{self.find(css)[ELEMENT]}/value", {"text": text})

    def keys(self, *keys):
        """Presses keys one by one in what has the focus."""
        actions = [{"type": kind, "value": key} for key in keys
                   for kind in ("keyDown", "keyUp")]
        self._send("POST", "/actions", {"actions": [
            {"type": "key", "id": "keyboard", "actions": actions}]})

    def pointer(self, x, y, *moves, press=True):
        """Moves the mouse to a place in the window; press: clicks, or drags by moves."""
        steps = [{"type": "pointerMove", "duration": 0, "x": round(x), "y": round(y)}]
        if press:
            steps += [{"type": "pointerDown", "button": 0}]
            for dx, dy in moves:
                steps += [{"type": "pointerMove", "duration": 20, "origin": "pointer",
                           "x": dx, "y": dy}]
            steps += [{"type": "pointerUp", "button": 0}]
        self._send("POST", "/actions", {"actions": [
            {"type": "pointer", "id": "mouse", "parameters": {"pointerType": "mouse"},
             "actions": steps}]})

    def logs(self):
        """What was written to the console since the last call, level and text."""
        return [(entry["level"], entry["message"]) for entry in
                self._send("POST", "/se/log", {"type": "browser"})]

    def requests(self):
        """Addresses that were asked for since the last call."""
        found = []
        for entry in self._send("POST", "/se/log", {"type": "performance"}):
            message = json.loads(entry["message"])["message"]
            if message["method"] == "Network.requestWillBeSent":
                found.append(message["params"]["request"]["url"])
        return found

    def complaints(self):
        """What axe-core finds in the page as it stands: (rule, impact, an element).

        The browser's own tools for developers carry axe-core, as a literal of their
        script; no copy of it is kept here."""
        with urllib.request.urlopen(
                f"http://{self.tools}/devtools/third_party/lighthouse/"
                "lighthouse-dt-bundle.js", timeout=60) as answer:
            bundle = answer.read().decode()
        literal = re.search(r"`/\*! axe v(?:[^`\\]|\\.)*`", bundle, re.DOTALL).group()
        source = self._evaluate(literal)
        self._evaluate(f"{source}\n;0")
        found = self._evaluate(
            "axe.run().then((all) => JSON.stringify(all.violations.flatMap((each) =>"
            " each.nodes.map((node) => [each.id, each.impact, node.html]))))")
        return [tuple(each) for each in json.loads(found)]

    def _evaluate(self, expression):
        """Runs an expression of any length outside of the page's own rules."""
        answer = self.command("Runtime.evaluate", expression=expression,
                              returnByValue=True, awaitPromise=True)
        if "exceptionDetails" in answer:
            raise RuntimeError(answer["exceptionDetails"]["exception"]["description"])
        return answer["result"]["value"]

    def picture(self, path):
        pathlib.Path(path).write_bytes(base64.b64decode(
            self.command("Page.captureScreenshot", format="png")["data"]))

    def paper(self, **options):
        """The page as it is printed: a PDF's bytes."""
        return base64.b64decode(self.command(
            "Page.printToPDF", printBackground=True, preferCSSPageSize=True,
            **options)["data"])
