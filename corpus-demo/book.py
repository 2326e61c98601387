"""The source of the flora: reads the TOML files and gives them numbers, ids and targets; checks that the keys hold together.

In: the folder with flora.toml, keys.toml, glossary.toml, front.toml. Out: one `Book`. It does not know how a page looks.
"""
import re
import tomllib
from dataclasses import dataclass, field
from pathlib import Path

WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
SECTIONS = (  # source member, kind in the dump, printed heading
    ("habitat", "habitat", "Habitat"),
    ("elev", "elevation", "Elevation"),
    ("dist", "distribution", "Distribution"),
    ("fl", "phenology", "Flowering"),
    ("chrom", "chromosomes", "Chromosomes"),
    ("status", "conservation", "Status"),
)


@dataclass
class Taxon:
    """One treatment."""
    id: str
    rank: str
    name: str
    number: str
    source: dict
    parent: "Taxon | None"

    @property
    def author(self):
        return self.source.get("author")

    @property
    def vernacular(self):
        names = self.source.get("vernacular", [])
        return [names] if isinstance(names, str) else names

    @property
    def synonyms(self):
        return self.source.get("syn", [])

    @property
    def genus(self):
        return self.name.split()[0]


@dataclass
class Lead:
    """One lead; `to` is ("couplet", id), ("key", Key) or ("taxon", Taxon)."""
    id: str
    label: str
    text: str
    depth: int
    to: tuple = ()


@dataclass
class Key:
    """One key, its leads in printed order and its couplets in the order of their first leads."""
    id: str
    title: str
    scope: Taxon | None
    short: str | None
    indented: bool
    leads: list = field(default_factory=list)
    numbers: list = field(default_factory=list)

    def couplet(self, number):
        return [lead for lead in self.leads if lead.label[:-1] == number]


@dataclass
class Book:
    """The whole flora."""
    front: dict
    taxa: list
    keys: list
    glossary: list

    def key_of(self, taxon):
        return next((key for key in self.keys if key.scope is taxon), None)

    def children(self, taxon):
        return [t for t in self.taxa if t.parent is taxon]


def load(folder: Path) -> Book:
    """Returns the book, with every target resolved."""
    def read(name):
        return tomllib.loads((folder / name).read_text("utf-8"))
    taxa = read_taxa(read("flora.toml"))
    keys = read_keys(read("keys.toml"), taxa)
    terms = sorted(read("glossary.toml")["terms"], key=lambda term: term[0].casefold())
    book = Book(read("front.toml"), taxa, keys, terms)
    check(book)
    check_texts(book)
    return book


def read_taxa(source):
    taxa = []

    def add(rank, number, src, parent):
        taxon = Taxon(f"t{len(taxa) + 1:04}", rank, src["name"], number, src, parent)
        for name in ("desc", "note"):
            if name in src:
                src[name] = " ".join(src[name].split())
        taxa.append(taxon)
        return taxon
    for f, fam in enumerate(source["family"], 1):
        family = add("family", str(f), fam, None)
        for g, gen in enumerate(fam["genus"], 1):
            genus = add("genus", str(g), gen, family)
            for s, spec in enumerate(gen["species"], 1):
                rank = "hybrid" if "×" in spec["name"] else "species"
                species = add(rank, str(s), spec, genus)
                for i, infra in enumerate(spec.get("infra", [])):
                    add("subspecies", f"{s}{'abc'[i]}", infra, species)
    count_members(taxa)
    return taxa


def count_members(taxa):
    """Gives families and genera the sentence that counts what they hold."""
    for taxon in taxa:
        below = [t for t in taxa if t.parent is taxon]
        if taxon.rank == "genus":
            species, hybrids = (sum(t.rank == rank for t in below) for rank in ("species", "hybrid"))
            text = "A single species" if species == 1 else f"{WORDS[species].capitalize()} species"
            taxon.source["count"] = text + (f" and {WORDS[hybrids]} hybrid" if hybrids else "") + " in the isles."
        elif taxon.rank == "family":
            species = sum(t.rank == "species" and t.parent.parent is taxon for t in taxa)
            noun = "genus" if len(below) == 1 else "genera"
            taxon.source["count"] = f"{WORDS[len(below)].capitalize()} {noun} with {species} species in the isles."


def read_keys(source, taxa):
    by_name = {t.name: t for t in taxa}
    below = {"family": "genera", "genus": "species", "species": "subspecies"}
    keys = []
    for n, src in enumerate(source["key"], 1):
        scope = by_name[src["scope"]] if "scope" in src else None
        title = src.get("title") or f"Key to the {below[scope.rank]} of {italic(scope)}"
        keys.append(Key(f"k{n:03}", title, scope, src.get("short"), src.get("style") == "indented"))
    groups = {key.short: key for key in keys if key.short}
    for key, src in zip(keys, source["key"]):
        fill_key(key, src["leads"], groups | by_name)
    return keys


def italic(taxon):
    return taxon.name if taxon.rank == "family" else f"_{taxon.name}_"


def fill_key(key, leads, targets):
    depth = {}
    for label, text, target in leads:
        number = label[:-1]
        if number not in key.numbers:
            key.numbers.append(number)
        lead = Lead(f"{key.id}.{label}", label, text, depth.get(number, 0))
        if target.isdigit():
            lead.to = ("couplet", target)
            depth[target] = lead.depth + 1
        else:
            found = targets[target]
            lead.to = ("key" if isinstance(found, Key) else "taxon", found)
        key.leads.append(lead)


def check(book):
    """Raises on the first key that does not hold together, and on a taxon that no key or two keys reach."""
    reached = {}
    for key in book.keys:
        check_key(key)
        for lead in key.leads:
            if lead.to[0] != "couplet":
                reached.setdefault(lead.to[1].id, []).append(lead.id)
                check_scope(key, lead)
    for taxon in book.taxa:
        siblings = [t for t in book.taxa if t.parent is taxon.parent]
        alone = taxon.rank != "family" and len(siblings) == 1
        ways = len(reached.get(taxon.id, []))
        if alone != (ways == 0):
            raise ValueError(f"{taxon.name}: {ways} leads reach it, {len(siblings)} in its group")
        if ways > 1 and taxon.rank != "family":
            raise ValueError(f"{taxon.name} is keyed twice: {reached[taxon.id]}")
    for key in book.keys[1:]:
        if not key.scope and len(reached.get(key.id, [])) != 1:
            raise ValueError(f"{key.title} is not reached once")


def check_texts(book):
    """Raises on a district out of order or unknown, a range that falls, and a sign that the legend does not explain."""
    codes = [row[0] for row in book.front["districts"]["table"]]
    signs = {row[0] for row in book.front["signs"]["legend"]}
    authors = {row[0] for row in book.front["authors"]["table"]}
    texts = [(t.name, value) for t in book.taxa for value in t.source.values() if isinstance(value, str)]
    texts += [(lead.id, lead.text) for key in book.keys for lead in key.leads]
    for name, text in texts:
        for low, high in re.findall(r"(\d+(?:\.\d+)?)–(\d+(?:\.\d+)?)", text):
            if float(low) >= float(high):
                raise ValueError(f"{name}: {low}–{high}")
    for taxon in book.taxa:
        places = [codes.index(code) for code in re.findall(r"\b[A-Z]{2}\b", taxon.source.get("dist", ""))]
        if places != sorted(places):
            raise ValueError(f"{taxon.name}: districts out of order")
        names = [taxon.author or "", *(author for _, author in taxon.synonyms)]
        unknown = {word for a in names for word in re.split(r"[() ]+", a) if word} - authors
        if unknown or not set(taxon.source.get("sign", "")) <= signs:
            raise ValueError(f"{taxon.name}: sign or author not explained {unknown}")


def check_scope(key, lead):
    """A key of a taxon ends in the taxa right below it, a key without scope in groups and families."""
    kind, target = lead.to
    wrong = (target.parent is not key.scope) if kind == "taxon" else key.scope is not None
    if wrong:
        raise ValueError(f"{key.title}, {lead.label}: ends in {target}")


def check_key(key):
    """Couplets are numbered without gaps, have two leads or more lettered from a, are reached once, from above."""
    if sorted(map(int, key.numbers)) != list(range(1, len(key.numbers) + 1)):
        raise ValueError(f"{key.title}: numbers {key.numbers}")
    arrivals = [lead.to[1] for lead in key.leads if lead.to[0] == "couplet"]
    if sorted(arrivals, key=int) != [str(n) for n in range(2, len(key.numbers) + 1)]:
        raise ValueError(f"{key.title}: couplets reached {arrivals}")
    for number in key.numbers:
        letters = "".join(lead.label[-1] for lead in key.couplet(number))
        if len(letters) < 2 or letters != "abcdefgh"[:len(letters)]:
            raise ValueError(f"{key.title}, {number}: leads {letters}")
        for lead in key.couplet(number):
            if lead.to[0] == "couplet" and int(lead.to[1]) <= int(number):
                raise ValueError(f"{key.title}, {lead.label}: goes back to {lead.to[1]}")


def numbers_in(text, book):
    """Returns the text with `{families}`, `{genera}` and `{species}` counted, without marks for italics."""
    return plain(with_counts(text, book))


def with_counts(text, book):
    ranks = [t.rank for t in book.taxa]
    return text.format(families=ranks.count("family"), genera=ranks.count("genus"), species=ranks.count("species"))


def plain(text):
    """Returns the text without the marks for italics."""
    return re.sub(r"_([^_]*)_", r"\1", " ".join(text.split()))
