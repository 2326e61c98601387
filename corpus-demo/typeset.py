"""Typesets the flora: TOML files in, flora.pdf and gold.json out, in this folder. `--routes` prints every species with its leads instead.

Needs Python 3.11 and `pip install typst`. Two runs give the same bytes.
"""
import json
import shutil
import sys
import tempfile
from pathlib import Path

import typst

sys.dont_write_bytecode = True  # leaves no cache in the folder

from book import Taxon, load, plain
from gold import gold
from page import typeset

HERE = Path(__file__).resolve().parent
PDF = "flora.pdf"


def main():
    book = load(HERE)
    if "--routes" in sys.argv[1:]:
        print(routes(book))
        return
    with tempfile.TemporaryDirectory() as folder:
        source = Path(folder) / "flora.typ"
        source.write_text(typeset(book), "utf-8")
        shutil.copy(HERE / "book.typ", folder)
        data = typst.compile(str(source), ignore_system_fonts=True, pdf_tags=False)
        marks = json.loads(typst.query(str(source), "<at>", field="value", ignore_system_fonts=True))
    pages = {mark["id"]: mark["page"] for mark in marks}
    made = gold(book, pages, pages["last"], (PDF, data))
    (HERE / PDF).write_bytes(data)
    (HERE / "gold.json").write_text(json.dumps(made, ensure_ascii=False, indent=1) + "\n", "utf-8")
    print(summary(book, pages["last"], len(data)))


def summary(book, last_page, size):
    ranks = [t.rank for t in book.taxa]
    counts = ", ".join(f"{ranks.count(r)} {r}" for r in dict.fromkeys(ranks))
    leads = sum(len(key.leads) for key in book.keys)
    return f"{last_page} pages, {size} bytes; {counts}; {len(book.keys)} keys, {leads} leads; {len(book.glossary)} terms"


def routes(book):
    """Returns, for every species, the leads that end in it and all that the book says of its characters, to be read by eye."""
    out = []
    for taxon in book.taxa:
        if taxon.rank in ("species", "hybrid", "subspecies"):
            out += ["", f"== {taxon.name}"]
            out += [f"  {line}" for line in way_to(book, taxon)]
            chain = [taxon]
            while chain[0].parent:
                chain.insert(0, chain[0].parent)
            out += [f"  [{t.rank}] {plain(t.source['desc'])}" for t in chain]
    return "\n".join(out)


def way_to(book, target):
    """Returns the leads on every way to a taxon, the first lead first."""
    lines = []
    for key in book.keys:
        for lead in key.leads:
            if lead.to[0] != "couplet" and lead.to[1] is target:
                above = way_to(book, key.scope or key) if key is not book.keys[0] else []
                lines += above + within(key, lead)
    if not lines and isinstance(target, Taxon):  # the only one in its group
        return way_to(book, target.parent)
    return lines


def within(key, lead):
    up = next((x for x in key.leads if x.to == ("couplet", lead.label[:-1])), None)
    return (within(key, up) if up else []) + [f"{key.short or (key.scope.name if key.scope else 'families')} {lead.label}. {lead.text}"]


if __name__ == "__main__":
    main()
