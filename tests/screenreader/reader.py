"""A screen reader (Orca) reading a page in Chromium, its speech taken from its own log: nothing is heard, all is written down."""
import json
import os
import re
import subprocess
import time


class Reader:
    def __init__(self, folder, browser):
        self.log = os.path.join(folder, "orca.log")
        self.folder, self.browser, self.page = folder, browser, None
        settings = {"sayAllOnLoad": False, "enableKeyEcho": False, "enableBraille": False, "enableSpeech": True}
        where = os.path.join(os.environ["HOME"], ".local/share/orca")
        os.makedirs(where, exist_ok=True)
        with open(os.path.join(where, "user-settings.conf"), "w") as file:
            json.dump({"general": settings, "profiles": {"default": {"profile": ["Default", "default"], **settings}}, "pronunciations": {}, "keybindings": {}}, file)
        self.start(["openbox"])
        self.start(["/usr/libexec/at-spi-bus-launcher", "--launch-immediately"])
        time.sleep(1)
        subprocess.run(["gsettings", "set", "org.gnome.desktop.interface", "toolkit-accessibility", "true"], check=True)
        self.start(["orca", "--debug", "--debug-file=" + self.log])
        self.wait("Screen reader on.", 60)

    def start(self, command):
        return subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)

    def size(self):
        return os.path.getsize(self.log) if os.path.exists(self.log) else 0

    def said_since(self, start):
        with open(self.log, "rb") as file:
            file.seek(start)
            text = file.read().decode("utf-8", "replace")
        return [one.replace("\u00a0", " ").strip() for one in re.findall(r"SPEECH OUTPUT: '(.*?)'(?: ?\{[^\n]*)?$", text, re.M)]

    def wait(self, sentence, seconds, start=0):
        end = time.time() + seconds
        while time.time() < end:
            if self.size() and any(sentence in one for one in self.said_since(start)):
                return
            time.sleep(0.3)
        raise SystemExit(f"not run: the screen reader never said “{sentence}”")

    def quiet(self, start, still=0.8, limit=90):
        """What is said until nothing more is written for a while."""
        last, since, end = start, time.time(), time.time() + limit
        while time.time() < end:
            time.sleep(0.1)
            now = self.size()
            if now != last:
                last, since = now, time.time()
            elif time.time() - since >= still:
                break
        return self.said_since(start)

    def open(self, path):
        if self.page:
            self.page.terminate()
            self.page.wait()
        start = self.size()
        self.page = self.start([self.browser, "--no-sandbox", "--force-renderer-accessibility", "--no-first-run", "--disable-gpu", "--window-size=1280,900",
                                "--user-data-dir=" + os.path.join(self.folder, "profile"), "--app=file://" + path])
        self.wait("Finished loading", 120, start)
        return self.quiet(start, 2)

    def press(self, key, still=0.8):
        start = self.size()
        subprocess.run(["xdotool", "key", key], check=True)
        return self.quiet(start, still)

    def write(self, text):
        start = self.size()
        subprocess.run(["xdotool", "type", "--delay", "60", text], check=True)
        return self.quiet(start)
