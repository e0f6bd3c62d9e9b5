"""Holds an HTML file against what a reader who cannot see it, or who is off the network, needs. Python's own parser.

check_html.py FILE     prints each fault in a line; exit 1 when there is one.

Sources: HTML Living Standard (elements closed in order, ids unique, lang), WCAG 2.1 (1.1.1 names of pictures, 1.3.1
headings and table heads, 2.4.1, 3.1.1, 4.1.2 names of what is written in).
"""
import re
import sys
from html.parser import HTMLParser

VOID = {"meta", "input", "br", "hr", "img", "link", "base", "col", "wbr", "area", "source", "track", "embed"}
DRAWN = {"path", "circle", "rect", "line"}


class Reader(HTMLParser):
    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.faults = []
        self.open = []
        self.ids = {}
        self.words = {}
        self.wanted = []
        self.labels = set()
        self.named_by_label = []
        self.headings = []
        self.links = []
        self.counts = {}

    def fault(self, words):
        self.faults.append(f"line {self.getpos()[0]}: {words}")

    def handle_startendtag(self, tag, attrs):
        if tag not in DRAWN:
            self.fault(f"<{tag}/> closes itself")
        self.look_at(tag, dict(attrs))

    def handle_starttag(self, tag, attrs):
        named = dict(attrs)
        self.look_at(tag, named)
        if tag not in VOID:
            self.open.append((tag, named.get("id")))

    def look_at(self, tag, named):
        self.counts[tag] = self.counts.get(tag, 0) + 1
        if len(named) and "id" in named:
            if named["id"] in self.ids:
                self.fault(f"the id {named['id']} stands twice")
            self.ids[named["id"]] = tag
        for key in ("aria-labelledby", "aria-describedby", "for"):
            for wanted in named.get(key, "").split():
                self.wanted.append((wanted, self.getpos()[0]))
        if tag == "html" and not named.get("lang"):
            self.fault("no language")
        if tag in ("script", "iframe", "object", "embed", "link"):
            self.fault(f"<{tag}> in a file that needs none")
        if tag == "th" and named.get("scope") not in ("row", "col"):
            self.fault("a head of a table without scope")
        if tag == "table":
            self.open_table = True
        if tag == "img" and not named.get("alt"):
            self.fault("a picture without words")
        if tag == "svg" and (named.get("role") != "img" or not named.get("aria-labelledby")):
            self.fault("a drawing without a name")
        if tag == "label" and "for" in named:
            self.labels.add(named["for"])
        if tag == "input" and not (named.get("aria-label") or named.get("aria-labelledby")):
            self.named_by_label.append((named.get("id"), self.getpos()[0]))
        if tag == "section" and not named.get("aria-labelledby"):
            self.fault("a section without a name")
        if re.fullmatch("h[1-6]", tag):
            level = int(tag[1])
            if level > (self.headings[-1] if self.headings else 0) + 1:
                self.fault(f"a heading of level {level} after one of {self.headings[-1] if self.headings else 0}")
            self.headings.append(level)
        for key, value in named.items():
            if key.startswith("on"):
                self.fault(f"a script in {key}")
            if key in ("src", "href", "xlink:href", "action") and re.match("[a-z]+:|//", value or ""):
                self.fault(f"{key} leads outside: {value}")
            if key == "href" and (value or "").startswith("#"):
                self.wanted.append((value[1:], self.getpos()[0]))

    def handle_endtag(self, tag):
        if not self.open or self.open[-1][0] != tag:
            self.fault(f"</{tag}> closes {self.open[-1][0] if self.open else 'nothing'}")
            return
        self.open.pop()

    def handle_data(self, data):
        for tag, name in self.open:
            if name and data.strip():
                self.words[name] = self.words.get(name, "") + data
        if self.open and self.open[-1][0] == "style":
            for url in re.findall(r"url\(([^)]{0,24})|@import", data):
                if not url.startswith("data:"):
                    self.fault(f"the style leads outside: {url}")

    def finish(self):
        for tag, _ in self.open:
            self.faults.append(f"<{tag}> is never closed")
        for wanted, line in self.wanted:
            if wanted not in self.ids:
                self.faults.append(f"line {line}: there is no id {wanted}")
            elif wanted.endswith("-title") and not self.words.get(wanted, "").strip():
                self.faults.append(f"line {line}: {wanted} says nothing")
        for name, line in self.named_by_label:
            if name not in self.labels:
                self.faults.append(f"line {line}: a place to write without a name")
        if self.headings.count(1) != 1:
            self.faults.append(f"{self.headings.count(1)} headings of the first level")
        if self.counts.get("table", 0) != self.counts.get("caption", 0):
            self.faults.append("a table without a caption")
        if self.counts.get("main", 0) != 1:
            self.faults.append("no main part, or several")


def faults_of(text):
    reader = Reader()
    reader.feed(text)
    reader.close()
    reader.finish()
    if not text.startswith("<!DOCTYPE html>"):
        reader.faults.append("no doctype")
    if not re.search('<meta name="viewport" content="width=device-width', text):
        reader.faults.append("no viewport: a phone would shrink it")
    return reader.faults


with open(sys.argv[1], encoding="utf-8") as file:
    found = faults_of(file.read())
print("\n".join(found))
sys.exit(1 if found else 0)
