"""The book as Typst source: calls of the functions of book.typ, one a line, in the order of print.

In: a `Book`. Out: one string. Words go in as Typst string literals, so that no sign in them is taken for markup. It does not compile.
"""
import re

from book import SECTIONS, plain, with_counts

NUMBER = r"\(?\d(?:[\d.–()]*[\d)])?(?:-[a-z]+)*(?: (?:cm|mm|m)\b)?"
# "2–4(–6) cm × 15–35 mm", "3–5-lobed"; "Stigmas 2." at an end, so that no line holds the digit alone
MEASURE = re.compile(rf"([A-Za-z]+ \d(?=\.$)|{NUMBER}(?: × {NUMBER})?)")


def quote(text):
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def rich(text):
    """Returns a Typst expression; `_…_` is set in italics, and a measure is never broken at a line end."""
    parts = re.split(r"_([^_]*)_", " ".join(text.split()))
    made = []
    for n, part in enumerate(parts):
        if n % 2:
            made.append(f"emph({quote(part)})")
        else:
            pieces = MEASURE.split(part)
            made += [f"box({quote(p)})" if m % 2 else quote(p) for m, p in enumerate(pieces) if p]
    return "(" + " + ".join(made or ['""']) + ")"


def name(taxon):
    """Returns the name in italics, with its connecting term and hybrid sign upright."""
    return rich(italics(taxon.name))


def italics(text):
    return "_" + re.sub(r" (subsp\.|var\.|×) ", r"_ \1 _", text) + "_"


def at(mark):
    return f"at({quote(mark)})"


def author(taxon):
    return quote(taxon.author) if taxon.author else "none"


def typeset(book):
    """Returns the Typst source of the whole book."""
    out = ['#import "book.typ": *', f"#show: setup.with({quote(book.front['title'])})"]
    front(book, out)
    out.append('#counter(page).update(0)\n#set page(columns: 2, numbering: "1")')
    out.append('#part("Key to the families", show-title: false)<part-keys>#at("part-keys")')
    for key in book.keys:
        if not key.scope:
            set_key(key, out)
    out.append('#[#metadata("treatments") <part>]')
    for taxon in book.taxa:
        if taxon.rank == "family":
            treat(book, taxon, out)
    back(book, out)
    return "\n".join(out) + "\n"


def treat(book, taxon, out):
    """Writes a treatment, its key and what stands below it."""
    heading(taxon, out)
    paragraphs(taxon, out)
    key = book.key_of(taxon)
    if key:
        set_key(key, out)
    for below in book.children(taxon):
        treat(book, below, out)


def heading(taxon, out):
    target = f"[#metadata(none)<{taxon.id}>#at({quote(taxon.id)})]"
    number = quote(taxon.number)
    if taxon.rank == "family":
        out.append(f"#family-head({number}, {quote(taxon.name)}, {target})")
    elif taxon.rank == "genus":
        out.append(f"#genus-head({number}, {quote(taxon.name)}, {author(taxon)}, {quote(taxon.parent.name)}, {target})")
    elif taxon.rank == "subspecies":
        out.append(f"#infra-head({number}, {name(taxon)}, {author(taxon)}, {target})")
    else:
        sign = quote(taxon.source.get("sign", ""))
        out.append(f"#species-head({number}, {sign}, {name(taxon)}, {author(taxon)}, {target})")
    if taxon.synonyms:
        listed = ' + "; " + '.join(f"{rich(italics(n))} + {quote(' ' + a)}" for n, a in taxon.synonyms)
        out.append(f"#synonyms({listed})")
    if taxon.vernacular:
        centred = "true" if taxon.rank == "family" else "false"
        out.append(f"#vernacular({quote(', '.join(taxon.vernacular))}, centred: {centred})")


def paragraphs(taxon, out):
    """Writes description, run-in sections, notes and count, each with the mark that tells its page."""
    src, mark = taxon.source, taxon.id
    formula = rich(src["formula"]) + ' + " " + ' if "formula" in src else ""
    made = [f'{at(mark + ".description")} + {formula}{rich(src["desc"])}']
    run = [section(mark, src, item) for item in SECTIONS if item[0] in src]
    if run:
        made.append(' + " " + '.join(run))
    if "note" in src:
        made.append(f'{at(mark + ".note")} + run-in("Note") + " " + {rich(src["note"])}')
    if "count" in src:
        made.append(f'{at(mark + ".count")} + {rich(src["count"])}')
    made[-1] += f' + {at(mark + ".end")}'
    out.extend(f"#para({part})" for part in made)


def section(mark, src, item):
    member, kind, title = item
    return f'{at(f"{mark}.{kind}")} + run-in({quote(title)}) + " " + {rich(src[member])}'


def set_key(key, out):
    out.append(f'#key-head({at(key.id)} + {rich(key.title)})')
    for lead in key.leads:
        indent = lead.depth if key.indented else 0
        first = "true" if lead.label[-1] == "a" and not key.indented else "false"
        text = f"{at(lead.id)} + {lead_text(lead.text)}"
        out.append(f"#lead({quote(lead.label)}, {text}, {target_of(key, lead)}, depth: {indent}, first: {first})")


def lead_text(text):
    """Returns the text with its last word whole, since that word always stands on the line of the target."""
    head, last = " ".join(text.split()).rsplit(" ", 1)
    if MEASURE.search(text[-12:]):
        return rich(text)
    return f'{rich(head)} + " " + text(hyphenate: false, {quote(last)})'


def target_of(key, lead):
    kind, to = lead.to
    if kind == "couplet":
        return "none" if key.indented else quote(to)
    if kind == "key":
        return quote(to.short)
    return rich(printed_target(to))


def printed_target(taxon):
    """Returns what a lead prints: the number and the name, abbreviated below the rank of genus."""
    initial = taxon.genus[0] + "."
    if taxon.rank == "family":
        return f"{taxon.number}. {taxon.name.upper()}"
    if taxon.rank == "genus":
        return f"{taxon.number}. _{taxon.name}_"
    if taxon.rank == "subspecies":
        return f"{taxon.number}. subsp. _{taxon.name.split()[-1]}_"
    return f"{taxon.number}. " + italics(f"{initial} {taxon.name.split(' ', 1)[1]}")


def front(book, out):
    source = book.front
    out.append(f"""#page(header: none, numbering: none, {{
  v(28mm)
  align(center, {{
    text(size: 22pt, weight: "bold", hyphenate: false, {quote(source["title"])})
    v(4mm)
    text(size: 11pt, style: "italic", hyphenate: false, {quote(source["subtitle"])})
    v(10mm)
    text(size: 10pt, {quote(source["edition"])})
  }})
  v(1fr)
  set text(size: 8.5pt)
  para({rich(source["licence"]["text"])})
  v(2mm)
  para({rich(source["licence"]["invented"])})
}})""")
    out.append('#set page(numbering: "i")')
    contents(book, out)
    for item in source["part"]:
        open_part(item["title"], out)
        out.extend(f"#prose({rich(with_counts(text, book))})" for text in item["paras"])
    open_part(source["signs"]["title"], out)
    signs(source, out)
    open_part(source["cautions"]["title"], out)
    for text in source["cautions"]["paras"]:
        lead, rest = " ".join(text.split()).split(". ", 1)
        out.append(f'#prose(strong({quote(lead + ".")}) + " " + {rich(rest)})')


def open_part(title, out):
    label = title.split()[0].lower()
    out.append(f"#pagebreak(weak: true)\n#part({quote(title)})<part-{label}>#{at('part-' + label)}")


def contents(book, out):
    out.append('#part("Contents")#at("part-contents")')
    parts = [item["title"] for item in book.front["part"]] + [book.front["signs"]["title"], book.front["cautions"]["title"]]
    for title in parts:
        out.append(f"#toc-line({quote(title)}, <part-{title.split()[0].lower()}>)")
    out.append('#toc-line("Key to the families", <part-keys>)')
    for taxon in book.taxa:
        if taxon.rank == "family":
            out.append(f"#toc-line({quote(f'{taxon.number}. {taxon.name}')}, <{taxon.id}>)")
        elif taxon.rank == "genus":
            out.append(f"#toc-line({name(taxon)}, <{taxon.id}>, depth: 1)")
    out.append('#toc-line("Glossary", <part-glossary>)\n#toc-line("Index of names", <part-index>)')


def signs(source, out):
    def cells(rows):
        return ", ".join(f"[#{rich(cell)}]" for row in rows for cell in row)
    out.append(f'#table-of((1.6cm, 1fr), {cells(source["signs"]["legend"])})')
    out.append(f'#table-of((1.6cm, 1fr), {cells(source["signs"]["abbreviations"])})')
    out.append(f'#subhead({quote(source["districts"]["title"])})\n#prose({rich(source["districts"]["intro"])})')
    out.append(f'#table-of((1.6cm, 3cm, 1fr), {cells(source["districts"]["table"])})')
    out.append(f'#subhead({quote(source["authors"]["title"])})\n#prose({rich(source["authors"]["intro"])})')
    out.append(f'#table-of((1.6cm, 1fr), {cells(source["authors"]["table"])})')


def back(book, out):
    out.append('#pagebreak()\n#part("Glossary")<part-glossary>#at("part-glossary")')
    for n, (term, plural, text) in enumerate(book.glossary):
        shown = f' + {quote(f" (pl. {plural})")}' if plural else ""
        see = text.startswith("see ")
        definition = f'emph("see") + {quote(text[3:] + ".")}' if see else rich(text + ".")
        out.append(f'#entry({at(f"g{n}")} + strong({quote(term)}){shown} + ", " + {definition})')
    out.append('#set page(columns: 3)\n#part("Index of names")<part-index>#at("part-index")')
    for shown, target in index_entries(book):
        out.append(f'#index-line({shown} + ", " + folio(<{target}>))')
    out.append(f"#{at('last')}")


def index_entries(book):
    """Returns (what is printed, id of the treatment), in the order of the alphabet."""
    entries = []
    for taxon in book.taxa:
        entries.append((taxon.name, quote(taxon.name), taxon.id))
        entries += [(n, rich(italics(n)), taxon.id) for n, _ in taxon.synonyms]
        entries += [(v, f"smallcaps({quote(v)})", taxon.id) for v in taxon.vernacular]
    entries.sort(key=lambda e: (plain(e[0]).replace("× ", "").casefold(), e[2]))
    return [(shown, target) for _, shown, target in entries]
