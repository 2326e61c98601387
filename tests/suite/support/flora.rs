//! A small flora made in code, put on a home's shelf without reading any PDF.

use std::path::Path;

use ligule::model::{
    BookPage, Couplet, CoupletId, Doubt, DoubtAbout, DoubtKind, Entry, EntryId, Flora, Key, KeyId, Lead,
    Page, Rank, Section, SectionKind, Source, Target, Taxon, TaxonId, Text,
};
use ligule::search;
use ligule::store::{KeepSource, Shelf, SourceBytes};

use crate::support::Home;

/// Puts the small flora on the shelf of a home.
pub(crate) fn put(home: &Home, name: &str) {
    let shelf = Shelf::at(&home.path().join("kept")).on("2026-05-17");
    let pending = shelf.begin(name).expect("nobody else writes here");
    let source = SourceBytes { path: Path::new("skerry.pdf"), bytes: b"%PDF-1.4 stands for a book" };
    pending.write(&flora(), &[source], KeepSource::Copy).expect("the disk takes it");
    pending.write_profile("body 9 pt, two columns\n").expect("the disk takes it");
    search::build(&pending.index_dir(), &flora()).expect("the disk takes it");
    pending.finish().expect("the disk takes it");
}

/// Returns a family with one genus of two species on two pages, a key to it and a glossary of one term.
pub(crate) fn flora() -> Flora {
    Flora {
        title: "Plants of Skerry".to_owned(),
        license: Some("CC BY 4.0".to_owned()),
        sources: vec![Source { file: "skerry.pdf".to_owned(), sha256: "ab12".to_owned(), pages: 2 }],
        taxa: vec![
            taxon(0, (Rank::Family, "Caryophyllaceae"), None, "Leaves opposite."),
            Taxon {
                vernacular: vec!["campion".to_owned()],
                ..taxon(1, (Rank::Genus, "Silene"), Some(0), "Calyx tubular, with ten veins.")
            },
            Taxon {
                authorship: Some("Mor.".to_owned()),
                number: Some("1".to_owned()),
                vernacular: vec!["tall campion".to_owned()],
                synonyms: vec!["Lychnis alta".to_owned()],
                pages: (Page(1), Page(2)),
                ..taxon(2, (Rank::Species, "Silene alta"), Some(1), "Calyx inflated. Seeds warty, 2 mm.")
            },
            Taxon {
                vernacular: vec!["skerry campion".to_owned(), "campion".to_owned()],
                ..taxon(3, (Rank::Species, "Silene skerrica"), Some(1), "Calyx narrow. Seeds smooth.")
            },
        ],
        keys: vec![key()],
        glossary: vec![Entry {
            id: EntryId(0),
            term: "calyx".to_owned(),
            variants: vec!["calyces".to_owned()],
            definition: Text::plain("the whole of a flower's sepals", Page(2)),
            see: None,
        }],
        pages: vec![page(1, "8"), page(2, "9")],
        doubts: vec![
            doubt(DoubtKind::NoTreatment, "Silene absens", "it may be treated in another volume"),
            doubt(DoubtKind::UnresolvedTarget, "7", "look at the page; the number may be misprinted"),
        ],
        ..Flora::default()
    }
}

fn taxon(id: u32, (rank, name): (Rank, &str), parent: Option<u32>, description: &str) -> Taxon {
    Taxon {
        id: TaxonId(id),
        rank,
        name: name.to_owned(),
        authorship: None,
        number: None,
        vernacular: Vec::new(),
        synonyms: Vec::new(),
        parent: parent.map(TaxonId),
        heading: Text::plain(name, Page(1)),
        pages: (Page(1), Page(1)),
        sections: vec![Section {
            kind: SectionKind::Description,
            heading: None,
            text: Text::plain(description, Page(1)),
        }],
        cautions: Vec::new(),
    }
}

fn key() -> Key {
    let to = |name: &str, id: Option<u32>| Target::Taxon { name: name.to_owned(), id: id.map(TaxonId) };
    let couplet = |label: &str, leads: Vec<Lead>| Couplet { label: label.to_owned(), leads };
    Key {
        id: KeyId(0),
        title: Some("Key to the species of Silene".to_owned()),
        scope: Some("Silene".to_owned()),
        scope_id: Some(TaxonId(1)),
        page: Page(1),
        couplets: vec![
            couplet(
                "1",
                vec![
                    lead("1a", "Calyx inflated", "S. alta", to("Silene alta", Some(2))),
                    lead("1b", "Calyx narrow", "2", Target::Couplet(CoupletId(1))),
                ],
            ),
            couplet(
                "2",
                vec![
                    lead("2a", "Seeds smooth", "S. skerrica", to("Silene skerrica", Some(3))),
                    lead("2b", "Seeds winged", "S. absens", to("Silene absens", None)),
                    lead("2c", "Seeds none", "7", Target::Unresolved("7".to_owned())),
                ],
            ),
        ],
    }
}

fn lead(label: &str, text: &str, printed: &str, to: Target) -> Lead {
    Lead {
        label: Some(label.to_owned()),
        text: Text::plain(text, Page(1)),
        printed: printed.to_owned(),
        to,
        also: Vec::new(),
        cites: None,
        reaches: 1,
    }
}

fn page(page: u32, folio: &str) -> BookPage {
    BookPage {
        page: Page(page),
        folio: Some(folio.to_owned()),
        paragraphs: Vec::new(),
        set: Vec::new(),
        columns: Vec::new(),
        recognised: Vec::new(),
    }
}

fn doubt(kind: DoubtKind, text: &str, advice: &str) -> Doubt {
    let about = DoubtAbout::Key(KeyId(0));
    Doubt { kind, page: Page(1), text: text.to_owned(), advice: advice.to_owned(), about }
}
