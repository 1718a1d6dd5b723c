"""A screen reader (Orca) reading pages in Chromium. Nothing is heard: what it says is taken from its own log."""
import os
import pty
import re
import subprocess
import threading
import time
import tty

SAID = re.compile(r"SPEECH OUTPUT: '(.*?)'(?: ?\{[^\n]*)?\r?$", re.M)


class Reader:
    def __init__(self, folder, browser):
        self.folder, self.browser, self.page, self.text = folder, browser, None, ""
        # A terminal, so that the log comes line by line and not when a buffer is full.
        self.master, slave = pty.openpty()
        tty.setraw(slave)
        threading.Thread(target=self._read, daemon=True).start()
        self._start(["openbox"])
        self._start(["/usr/libexec/at-spi-bus-launcher", "--launch-immediately"])
        time.sleep(2)
        subprocess.run(["gsettings", "set", "org.gnome.desktop.interface", "toolkit-accessibility", "true"], check=True)
        self._start(["orca", "--debug", "--debug-file=" + os.ttyname(slave)])
        self._wait("Screen reader on.", 120, 0)

    def _read(self):
        while True:
            try:
                self.text += os.read(self.master, 65536).decode("utf-8", "replace")
            except OSError:
                return

    def _start(self, command):
        return subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)

    def _said(self, start):
        # Keys are echoed by their names: no words of the page.
        return [one for one in (found.replace("\u00a0", " ").strip() for found in SAID.findall(self.text[start:])) if one not in ("tab", "shift", "h", "t", "g", "")]

    def _wait(self, sentence, seconds, start):
        end = time.time() + seconds
        while time.time() < end:
            if any(sentence in one for one in self._said(start)):
                return
            time.sleep(0.3)
        raise SystemExit(f"not run: the screen reader never said “{sentence}”")

    def _quiet(self, start, still, limit=240):
        """What is said until nothing more is written for a while."""
        last, since, end = len(self.text), time.time(), time.time() + limit
        while time.time() < end and time.time() - since < still:
            time.sleep(0.1)
            if len(self.text) != last:
                last, since = len(self.text), time.time()
        return self._said(start)

    def open(self, path):
        """Opens a page alone in a window; what is said until all of it is read out."""
        if self.page:
            self.page.terminate()
            self.page.wait()
        start = len(self.text)
        self.page = self._start([self.browser, "--no-sandbox", "--force-renderer-accessibility", "--no-first-run", "--disable-gpu", "--window-size=1280,900",
                                 "--user-data-dir=" + os.path.join(self.folder, "profile"), "--app=file://" + path])
        self._wait("Finished loading", 180, start)
        return self._quiet(start, 4)

    def press(self, key, still=1.0):
        start = len(self.text)
        subprocess.run(["xdotool", "key", key], check=True)
        return self._quiet(start, still)

    def write(self, text):
        start = len(self.text)
        subprocess.run(["xdotool", "type", "--delay", "80", text], check=True)
        return self._quiet(start, 1.0)
