"""What a page shows: headings, tables, pictures and controls in their order, without what is folded away or hidden. From the HTML text, not from a browser."""
from html.parser import HTMLParser

VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}
HEADINGS = {"h1", "h2", "h3", "h4", "h5", "h6"}


def squeezed(text):
    return " ".join(text.split())


class Page(HTMLParser):
    def __init__(self, path):
        super().__init__()
        self.headings, self.tables, self.pictures, self.controls = [], [], [], []
        self._stack, self._open, self._ids, self._labels, self._pictures = [], [], {}, {}, []
        with open(path, encoding="utf-8") as file:
            self.feed(file.read())
        self.pictures = [squeezed(" ".join(self._ids.get(each, "") for each in ids)) for ids in self._pictures]
        self.controls = [(kind, squeezed(self._labels.get(of, name))) for kind, of, name in self.controls]

    def _folded(self):
        """Inside a closed box and not in its summary, or inside something hidden."""
        tags = [tag for tag, _ in self._stack]
        for at, (tag, attributes) in enumerate(self._stack):
            if "hidden" in attributes or tag in ("template", "script", "style"):
                return True
            if tag == "details" and "open" not in attributes and tags[at + 1:at + 2] != ["summary"]:
                return True
        return False

    def handle_starttag(self, tag, attributes):
        attributes = dict(attributes)
        if tag not in VOID:
            self._stack.append((tag, attributes))
        if "id" in attributes:
            self._ids.setdefault(attributes["id"], "")
            self._open.append((len(self._stack), attributes["id"]))
        if self._folded() and tag != "label":
            return
        if tag in HEADINGS:
            self.headings.append((int(tag[1]), ""))
        elif tag == "caption":
            self.tables.append("")
        elif tag == "svg" and attributes.get("role") == "img":
            self._pictures.append(attributes.get("aria-labelledby", "").split())
        elif tag in ("input", "select") and attributes.get("type") not in ("checkbox", "hidden") and "disabled" not in attributes:
            self.controls.append((tag, attributes.get("id"), ""))
        elif tag in ("button", "summary") and "disabled" not in attributes:
            self.controls.append((tag, None, ""))

    def handle_startendtag(self, tag, attributes):
        self.handle_starttag(tag, attributes)
        if tag not in VOID:
            self.handle_endtag(tag)

    def handle_endtag(self, tag):
        while self._stack and self._stack.pop()[0] != tag:
            pass
        self._open = [each for each in self._open if each[0] <= len(self._stack)]

    def handle_data(self, data):
        tags = {tag for tag, _ in self._stack}
        for _, name in self._open:
            self._ids[name] += data
        for tag, attributes in self._stack:
            if tag == "label" and "for" in attributes:
                self._labels[attributes["for"]] = self._labels.get(attributes["for"], "") + data
        if self._folded():
            return
        if tags & HEADINGS:
            level, text = self.headings[-1]
            self.headings[-1] = (level, text + data)
        if "caption" in tags:
            self.tables[-1] += data
        if any(tag in ("button", "summary") and "disabled" not in attributes for tag, attributes in self._stack):
            kind, of, name = self.controls[-1]
            if kind in ("button", "summary"):
                self.controls[-1] = (kind, of, name + data)
