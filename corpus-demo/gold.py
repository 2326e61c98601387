"""What the book says as structured data, for gold.json (the form of ligule's dump).

In: a `Book`, the pages on which its marks stand, the PDF's name and bytes. Out: one dictionary. It reads nothing back from the PDF's text.
"""
import hashlib

from book import SECTIONS, numbers_in, plain


def gold(book, pages, last_page, pdf):
    """Returns the whole flora in the form of the dump; `pages` gives the page of every mark, `pdf` is (file name, bytes)."""
    name, data = pdf
    source = {"file": name, "sha256": hashlib.sha256(data).hexdigest(), "pages": last_page}
    return {
        "format": 1,
        "flora": {"title": book.front["title"], "license": book.front["license"], "source": source},
        "taxa": [taxon_of(t, pages) for t in book.taxa],
        "keys": [key_of(k, pages) for k in book.keys],
        "glossary": [term_of(entry, pages[f"g{n}"]) for n, entry in enumerate(book.glossary)],
        "matter": matter_of(book, pages, last_page),
        "legend": [{"sign": sign, "meaning": meaning, "page": pages["part-signs"]} for sign, meaning in book.front["signs"]["legend"]],
    }


def matter_of(book, pages, last_page):
    """Returns what is neither key, treatment nor glossary; texts of contents and index are left out."""
    front = book.front
    tables = [front["signs"]["legend"], front["signs"]["abbreviations"], [[front["districts"]["title"], front["districts"]["intro"]]],
              front["districts"]["table"], [[front["authors"]["title"], front["authors"]["intro"]]], front["authors"]["table"]]
    signs = "\n".join(" ".join(row) for table in tables for row in table)
    parts = [("contents", "Contents", None)]
    parts += [(p["kind"], p["title"], "\n".join(numbers_in(t, book) for t in p["paras"])) for p in front["part"]]
    parts += [("signs", front["signs"]["title"], signs), ("other", front["cautions"]["title"], "\n".join(map(plain, front["cautions"]["paras"])))]
    starts = [pages["part-" + title.split()[0].lower()] for _, title, _ in parts] + [pages["part-keys"]]
    licence = "\n".join(map(plain, (front["title"], front["subtitle"], front["edition"], *front["licence"].values())))
    made = [{"kind": "other", "title": front["title"], "pages": [1, 1], "text": licence}]
    for n, (kind, title, text) in enumerate(parts):
        item = {"kind": kind, "title": title, "pages": [starts[n], starts[n + 1] - 1]}
        made.append(item | {"text": text} if text else item)
    made.append({"kind": "index", "title": "Index of names", "pages": [pages["part-index"], last_page]})
    return made


def taxon_of(taxon, pages):
    first, last = pages[taxon.id], pages[taxon.id + ".end"]
    return {
        "id": taxon.id,
        "taxonRank": taxon.rank,
        "scientificName": taxon.name,
        "scientificNameAuthorship": taxon.author,
        "vernacularNames": taxon.vernacular,
        "synonyms": [name for name, _ in taxon.synonyms],
        "parent": taxon.parent.id if taxon.parent else None,
        "pages": list(range(first, last + 1)),
        "sections": sections_of(taxon, pages),
    }


def sections_of(taxon, pages):
    src = taxon.source
    text = src["desc"]
    if "formula" in src:
        text = f"{src['formula']} {text}"
    found = [("description", None, text, "description")]
    found += [(kind, title, src[member], kind) for member, kind, title in SECTIONS if member in src]
    if "note" in src:
        found.append(("notes", "Note", src["note"], "note"))
    if "count" in src:
        found.append(("notes", None, src["count"], "count"))
    return [{"kind": kind, "heading": heading, "text": plain(text), "page": pages[f"{taxon.id}.{mark}"]}
            for kind, heading, text, mark in found]


def key_of(key, pages):
    position = {number: n for n, number in enumerate(key.numbers)}
    couplets = []
    for number in key.numbers:
        leads = [{"label": lead.label, "text": plain(lead.text), "page": pages[lead.id], "to": target_of(lead, position)}
                 for lead in key.couplet(number)]
        couplets.append({"id": position[number], "label": number, "leads": leads})
    return {
        "id": key.id,
        "title": plain(key.title),
        "scope": key.scope.name if key.scope else None,
        "page": pages[key.id],
        "couplets": couplets,
    }


def target_of(lead, position):
    kind, to = lead.to
    if kind == "couplet":
        return {"couplet": position[to]}
    if kind == "key":
        return {"key": to.id}
    return {"taxon": to.name, "id": to.id}


def term_of(entry, page):
    term, plural, definition = entry
    made = {"term": term, "definition": definition, "page": page}
    if plural:
        made["variants"] = [f"{term} (pl. {plural})", *plural.split(" or ")]
    return made
