//! The dump format: a flora in, one JSON object out, with everything that was recognised and where it stands.
//!
//! The types here mirror the format and not the model, so that the model can change without it; nothing is decided here.

use std::io::{self, Write};

use serde::Serialize;

use crate::model;

/// The version of the format; members may be added without raising it.
const FORMAT: u32 = 1;

/// Writes a flora; the same flora gives the same bytes.
pub fn write(flora: &model::Flora, out: &mut dyn Write) -> io::Result<()> {
    let dump = Dump {
        format: FORMAT,
        flora: header(flora),
        taxa: flora.taxa.iter().map(taxon).collect(),
        keys: flora.keys.iter().map(key).collect(),
        glossary: flora.glossary.iter().map(entry).collect(),
        matter: flora.matter.iter().map(matter).collect(),
        legend: flora.legend.iter().map(sign).collect(),
        doubts: flora.doubts.iter().map(doubt).collect(),
    };
    serde_json::to_writer_pretty(&mut *out, &dump)?;
    out.write_all(b"\n")
}

/// Returns one taxon as it stands in the dump.
pub fn taxon_json(taxon: &model::Taxon) -> serde_json::Value {
    serde_json::json!(self::taxon(taxon))
}

/// Returns one key as it stands in the dump.
pub fn key_json(key: &model::Key) -> serde_json::Value {
    serde_json::json!(self::key(key))
}

/// Returns one doubt as it stands in the dump.
pub fn doubt_json(doubt: &model::Doubt) -> serde_json::Value {
    serde_json::json!(self::doubt(doubt))
}

#[derive(Serialize)]
struct Dump<'a> {
    format: u32,
    flora: Header<'a>,
    taxa: Vec<Taxon<'a>>,
    keys: Vec<Key<'a>>,
    glossary: Vec<Entry<'a>>,
    matter: Vec<Matter<'a>>,
    legend: Vec<Sign<'a>>,
    doubts: Vec<Doubt<'a>>,
}

#[derive(Serialize)]
struct Header<'a> {
    title: &'a str,
    license: Option<&'a str>,
    source: Option<Source<'a>>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    sources: Vec<Source<'a>>,
}

#[derive(Clone, Serialize)]
struct Source<'a> {
    file: &'a str,
    sha256: &'a str,
    pages: u32,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Taxon<'a> {
    id: String,
    #[serde(rename = "taxonRank")]
    rank: &'a str,
    scientific_name: &'a str,
    scientific_name_authorship: Option<&'a str>,
    number: Option<&'a str>,
    vernacular_names: &'a [String],
    synonyms: &'a [String],
    parent: Option<String>,
    heading: &'a str,
    pages: [u32; 2],
    sections: Vec<Section<'a>>,
}

#[derive(Serialize)]
struct Section<'a> {
    kind: &'a str,
    heading: Option<&'a str>,
    text: &'a str,
    page: u32,
}

#[derive(Serialize)]
struct Key<'a> {
    id: String,
    title: Option<&'a str>,
    scope: Option<&'a str>,
    page: u32,
    couplets: Vec<Couplet<'a>>,
}

#[derive(Serialize)]
struct Couplet<'a> {
    id: usize,
    label: &'a str,
    leads: Vec<Lead<'a>>,
}

#[derive(Serialize)]
struct Lead<'a> {
    label: Option<&'a str>,
    text: &'a str,
    page: u32,
    #[serde(skip_serializing_if = "str::is_empty")]
    printed: &'a str,
    to: Target<'a>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    also: Vec<Target<'a>>,
}

#[derive(Serialize)]
struct Target<'a> {
    #[serde(flatten)]
    end: End<'a>,
    #[serde(skip_serializing_if = "Option::is_none")]
    page: Option<&'a str>,
}

#[derive(Serialize)]
#[serde(untagged)]
enum End<'a> {
    Couplet { couplet: u32 },
    Taxon { taxon: &'a str, id: Option<String> },
    Key { key: String },
    Unresolved { unresolved: &'a str },
}

#[derive(Serialize)]
struct Entry<'a> {
    term: &'a str,
    #[serde(skip_serializing_if = "<[String]>::is_empty")]
    variants: &'a [String],
    definition: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    see: Option<&'a str>,
    page: u32,
}

#[derive(Serialize)]
struct Matter<'a> {
    kind: &'a str,
    title: &'a str,
    pages: [u32; 2],
    text: String,
}

#[derive(Serialize)]
struct Sign<'a> {
    #[serde(rename = "sign")]
    printed: &'a str,
    meaning: &'a str,
    page: u32,
}

#[derive(Serialize)]
struct Doubt<'a> {
    kind: &'a str,
    page: u32,
    text: &'a str,
    advice: &'a str,
    about: Option<String>,
}

fn header(flora: &model::Flora) -> Header<'_> {
    let sources: Vec<Source> = flora.sources.iter().map(source).collect();
    Header {
        title: &flora.title,
        license: flora.license.as_deref(),
        source: sources.first().cloned(),
        sources: if sources.len() > 1 { sources } else { Vec::new() },
    }
}

fn source(source: &model::Source) -> Source<'_> {
    Source { file: &source.file, sha256: &source.sha256, pages: source.pages }
}

fn taxon(taxon: &model::Taxon) -> Taxon<'_> {
    Taxon {
        id: taxon.id.to_string(),
        rank: taxon.rank.word(),
        scientific_name: &taxon.name,
        scientific_name_authorship: taxon.authorship.as_deref(),
        number: taxon.number.as_deref(),
        vernacular_names: &taxon.vernacular,
        synonyms: &taxon.synonyms,
        parent: taxon.parent.map(|id| id.to_string()),
        heading: &taxon.heading.plain,
        pages: pages(taxon.pages),
        sections: taxon.sections.iter().map(section).collect(),
    }
}

fn section(section: &model::Section) -> Section<'_> {
    Section {
        kind: section.kind.word(),
        heading: section.heading.as_deref(),
        text: &section.text.plain,
        page: section.text.page().0,
    }
}

fn key(key: &model::Key) -> Key<'_> {
    Key {
        id: key.id.to_string(),
        title: key.title.as_deref(),
        scope: key.scope.as_deref(),
        page: key.page.0,
        couplets: key.couplets.iter().enumerate().map(couplet).collect(),
    }
}

fn couplet((id, couplet): (usize, &model::Couplet)) -> Couplet<'_> {
    Couplet { id, label: &couplet.label, leads: couplet.leads.iter().map(lead).collect() }
}

fn lead(lead: &model::Lead) -> Lead<'_> {
    Lead {
        label: lead.label.as_deref(),
        text: &lead.text.plain,
        page: lead.text.page().0,
        printed: &lead.printed,
        to: Target { end: end(&lead.to), page: lead.cites.as_deref() },
        also: lead.also.iter().map(|target| Target { end: end(target), page: None }).collect(),
    }
}

fn end(target: &model::Target) -> End<'_> {
    match target {
        model::Target::Couplet(id) => End::Couplet { couplet: id.0 },
        model::Target::Taxon { name, id } => End::Taxon { taxon: name, id: id.map(|id| id.to_string()) },
        model::Target::Key(id) => End::Key { key: id.to_string() },
        model::Target::Unresolved(text) => End::Unresolved { unresolved: text },
    }
}

fn entry(entry: &model::Entry) -> Entry<'_> {
    Entry {
        term: &entry.term,
        variants: &entry.variants,
        definition: &entry.definition.plain,
        see: entry.see.as_deref(),
        page: entry.definition.page().0,
    }
}

fn matter(matter: &model::Matter) -> Matter<'_> {
    let paragraphs: Vec<&str> = matter.paragraphs.iter().map(|text| text.plain.as_str()).collect();
    Matter {
        kind: matter.kind.word(),
        title: &matter.title,
        pages: pages(matter.pages),
        text: paragraphs.join("\n"),
    }
}

fn sign(sign: &model::Sign) -> Sign<'_> {
    Sign { printed: &sign.sign, meaning: &sign.meaning, page: sign.page.0 }
}

fn doubt(doubt: &model::Doubt) -> Doubt<'_> {
    let about = match doubt.about {
        model::DoubtAbout::Book => None,
        model::DoubtAbout::Taxon(id) => Some(id.to_string()),
        model::DoubtAbout::Key(id) => Some(id.to_string()),
    };
    Doubt { kind: doubt.kind.word(), page: doubt.page.0, text: &doubt.text, advice: &doubt.advice, about }
}

fn pages((first, last): (model::Page, model::Page)) -> [u32; 2] {
    [first.0, last.0]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{CoupletId, Flora, KeyId, Page, Rank, TaxonId, Text};

    fn lead(label: &str, printed: &str, to: model::Target, also: Vec<model::Target>) -> model::Lead {
        let label = Some(label.to_owned());
        let text = Text::plain("Petals red", Page(2));
        model::Lead { label, text, printed: printed.to_owned(), to, also, cites: None, reaches: 1 }
    }

    /// Checks the JSON of a key with these leads in one couplet.
    #[track_caller]
    fn check_leads(leads: Vec<model::Lead>, expected: &serde_json::Value) {
        let couplets = vec![model::Couplet { label: "1".to_owned(), leads }];
        let key =
            model::Key { id: KeyId(7), title: None, scope: None, scope_id: None, page: Page(2), couplets };
        let mut bytes = Vec::new();
        write(&Flora { keys: vec![key], ..Flora::default() }, &mut bytes).unwrap();
        let dump: serde_json::Value = serde_json::from_slice(&bytes).unwrap();
        assert_eq!(dump["keys"][0]["couplets"][0]["leads"], *expected);
    }

    #[test]
    fn a_target_has_exactly_one_member_of_its_kind() {
        let name = || "Silene alta".to_owned();
        check_leads(
            vec![
                lead("1", "", model::Target::Couplet(CoupletId(3)), Vec::new()),
                lead("1", "Group B", model::Target::Key(KeyId(2)), Vec::new()),
                lead("1", "??", model::Target::Unresolved("??".to_owned()), Vec::new()),
                lead("1", "S. alta", model::Target::Taxon { name: name(), id: None }, Vec::new()),
            ],
            &serde_json::json!([
                {"label": "1", "text": "Petals red", "page": 2, "to": {"couplet": 3}},
                {"label": "1", "text": "Petals red", "page": 2, "printed": "Group B", "to": {"key": "k0002"}},
                {"label": "1", "text": "Petals red", "page": 2, "printed": "??", "to": {"unresolved": "??"}},
                {"label": "1", "text": "Petals red", "page": 2, "printed": "S. alta",
                 "to": {"taxon": "Silene alta", "id": null}},
            ]),
        );
    }

    #[test]
    fn a_cited_page_and_further_targets_are_kept() {
        let to = model::Target::Taxon { name: "Silene alta".to_owned(), id: Some(TaxonId(5)) };
        let mut lead = lead("a", "S. alta, p. 12", to, vec![model::Target::Key(KeyId(1))]);
        lead.cites = Some("12".to_owned());
        check_leads(
            vec![lead],
            &serde_json::json!([{"label": "a", "text": "Petals red", "page": 2, "printed": "S. alta, p. 12",
                "to": {"taxon": "Silene alta", "id": "t0005", "page": "12"}, "also": [{"key": "k0001"}]}]),
        );
    }

    #[test]
    fn a_taxon_has_the_members_of_darwin_core() {
        let taxon = model::Taxon {
            id: TaxonId(0),
            rank: Rank::Species,
            name: "Silene alta".to_owned(),
            authorship: Some("Mor.".to_owned()),
            number: Some("3".to_owned()),
            vernacular: vec!["tall campion".to_owned()],
            synonyms: Vec::new(),
            parent: None,
            heading: Text::plain("3. Silene alta Mor.", Page(4)),
            pages: (Page(4), Page(5)),
            sections: Vec::new(),
            cautions: Vec::new(),
        };
        let mut bytes = Vec::new();
        write(&Flora { taxa: vec![taxon], ..Flora::default() }, &mut bytes).unwrap();
        let dump: serde_json::Value = serde_json::from_slice(&bytes).unwrap();
        let expected = serde_json::json!({"id": "t0000", "taxonRank": "species", "scientificName": "Silene alta",
            "scientificNameAuthorship": "Mor.", "number": "3", "vernacularNames": ["tall campion"], "synonyms": [],
            "parent": null, "heading": "3. Silene alta Mor.", "pages": [4, 5], "sections": []});
        assert_eq!(dump["taxa"][0], expected);
    }

    #[test]
    fn several_files_are_all_listed_and_one_is_not_listed_twice() {
        let source = |file: &str| model::Source { file: file.to_owned(), sha256: "00".to_owned(), pages: 1 };
        for (files, listed) in [(vec!["a.pdf"], 0), (vec!["a.pdf", "b.pdf"], 2)] {
            let mut bytes = Vec::new();
            let sources = files.into_iter().map(source).collect();
            write(&Flora { sources, ..Flora::default() }, &mut bytes).unwrap();
            let dump: serde_json::Value = serde_json::from_slice(&bytes).unwrap();
            assert_eq!(dump["flora"]["source"]["file"], "a.pdf");
            assert_eq!(dump["flora"]["sources"].as_array().map_or(0, Vec::len), listed);
        }
    }
}
