//! A small flora of the Morvane Isles, which do not exist: three keys, a compound, a plural, three leads, one very long.

use crate::model::{
    Alternatives, BookPage, Couplet, CoupletId, Entry, EntryId, Flora, Key, KeyId, Lead, Matter, MatterId,
    MatterKind, Needs, Page, Rank, ReadAs, Recognised, Section, SectionKind, SetRow, Target, Taxon, TaxonId,
    Text,
};

/// What the one species of a lead is called.
fn to_taxon(name: &str, id: u32) -> Target {
    Target::Taxon { name: name.to_owned(), id: Some(TaxonId(id)) }
}

fn lead(label: &str, words: &str, to: Target, reaches: u32) -> Lead {
    let text = Text::plain(words, Page(3));
    Lead {
        label: Some(label.to_owned()),
        text,
        printed: String::new(),
        to,
        also: Vec::new(),
        cites: None,
        reaches,
        amended: false,
    }
}

fn couplet(label: &str, leads: Vec<Lead>) -> Couplet {
    Couplet { label: label.to_owned(), leads }
}

/// A lead longer than a small window.
pub(super) fn long_words() -> String {
    let part =
        "stem erect, with opposite lanceolate leaves and a calyx of five sepals, the stigmata two or more; ";
    format!("Plant of salt marshes; {}corolla white, ending here", part.repeat(16))
}

fn genera() -> Key {
    let far = Target::Unresolved("Halimora p. 90".to_owned());
    let first = vec![
        lead("1", "Leaves oblong-lanceolate, opposite; stigmata two", Target::Couplet(CoupletId(1)), 5),
        lead("1", "Leaves ovate, all from the base; calyx none", far, 0),
    ];
    let second = vec![
        lead("2", "Calyx inflated, with a corona", Target::Key(KeyId(1)), 3),
        lead("2", "Calyx narrow; stems with a ligule at each node", to_taxon("Morvania", 4), 1),
        lead("–", &long_words(), to_taxon("Morvania litoralis", 5), 1),
    ];
    Key {
        id: KeyId(0),
        title: Some("Key to the genera".to_owned()),
        scope: Some("Bractaceae".to_owned()),
        scope_id: Some(TaxonId(0)),
        page: Page(3),
        couplets: vec![couplet("1", first), couplet("2", second)],
    }
}

fn species() -> Key {
    let nowhere = Target::Taxon { name: "Skerria fugax".to_owned(), id: None };
    let mut both = lead("2", "Petals white, or none", to_taxon("Skerria alba", 2), 2);
    both.also.push(to_taxon("Skerria minor", 3));
    let leads = vec![
        lead("1", "Petals entire; calyx hairy", to_taxon("Skerria alba", 2), 1),
        lead("1", "Petals cleft; calyces smooth, as in Skerria alba", Target::Couplet(CoupletId(1)), 3),
    ];
    Key {
        id: KeyId(1),
        title: Some("Key to the species".to_owned()),
        scope: Some("Skerria".to_owned()),
        scope_id: Some(TaxonId(1)),
        page: Page(4),
        couplets: vec![couplet("1", leads), couplet("2", vec![both, lead("2", "Petals red", nowhere, 1)])],
    }
}

/// Another key to the species, for plants in fruit; it does not tell two of them apart.
fn in_fruit() -> Key {
    let nowhere = Target::Taxon { name: "Skerria fugax".to_owned(), id: None };
    let mut both = lead("1", "Capsule longer than its stalk", to_taxon("Skerria alba", 2), 2);
    both.also.push(to_taxon("Skerria minor", 3));
    let leads = vec![both, lead("1", "Capsule shorter than its stalk", nowhere, 1)];
    Key {
        id: KeyId(2),
        title: Some("Key to fruiting plants".to_owned()),
        scope: Some("Skerria".to_owned()),
        scope_id: Some(TaxonId(1)),
        page: Page(4),
        couplets: vec![couplet("1", leads)],
    }
}

fn taxon(id: u32, (rank, name): (Rank, &str), parent: Option<u32>) -> Taxon {
    let page = Page(4 + id / 2);
    let section = |kind, heading: Option<&str>, words: &str| Section {
        kind,
        heading: heading.map(str::to_owned),
        text: Text::plain(words, page),
    };
    let words = format!(
        "Herb with {} leaves and an ovate ligule; stigma one.",
        if id.is_multiple_of(2) { "entire" } else { "ovate" }
    );
    Taxon {
        id: TaxonId(id),
        rank,
        name: name.to_owned(),
        authorship: Some("Tarn".to_owned()),
        number: Some(id.to_string()),
        vernacular: vec![format!("morvane herb {id}")],
        synonyms: vec![format!("Olda {id}")],
        misapplied: Vec::new(),
        parent: parent.map(TaxonId),
        heading: Text::plain(name, page),
        pages: (page, page),
        sections: vec![
            section(SectionKind::Description, None, &words),
            section(SectionKind::Habitat, Some("Habitat"), "Wet rock above the sea, with Skerria minor."),
            section(
                SectionKind::Notes,
                Some("Notes"),
                &"The calyx tells it from its neighbours. ".repeat(20),
            ),
        ],
        amended: false,
        cautions: Vec::new(),
    }
}

pub(super) fn entry(id: u32, term: &str, definition: &str) -> Entry {
    let see = definition.strip_prefix("see ").map(str::to_owned);
    let definition = Text::plain(definition, Page(2));
    Entry { id: EntryId(id), term: term.to_owned(), variants: Vec::new(), definition, see }
}

fn glossary() -> Vec<Entry> {
    [
        ("calyx", "the outer, mostly green whorl of a flower"),
        ("corona", "a ring of scales between petals and stamens"),
        ("crown", "see corona"),
        ("ligule", "a flap where the leaf leaves its sheath"),
        ("stigma", "the tip of the pistil that takes the pollen"),
    ]
    .iter()
    .zip(0..)
    .map(|((term, definition), id)| entry(id, term, definition))
    .collect()
}

/// The cell at which the right column of every page begins.
const RIGHT: usize = 60;

/// Returns what stands on a page before its filling: the words of both columns, each with what it was read as.
fn printed(number: u32) -> Vec<[(&'static str, Option<ReadAs>); 2]> {
    let lead = |couplet, lead| Some(ReadAs::Lead(KeyId(0), CoupletId(couplet), lead));
    let heading = |taxon| Some(ReadAs::Heading(TaxonId(taxon)));
    match number {
        2 => vec![[("GLOSSARY", Some(ReadAs::Glossary)), ("stigma", Some(ReadAs::Entry(EntryId(4))))]],
        3 => vec![
            [("Key to the genera", Some(ReadAs::KeyTitle(KeyId(0)))), ("2. Calyx inflated", lead(1, 0))],
            [("1. Leaves oblong-lanceolate;", lead(0, 0)), ("with a corona", lead(1, 0))],
            [("stigmata two", lead(0, 0)), ("2. Calyx narrow", lead(1, 1))],
            [("1. Leaves ovate", lead(0, 1)), ("– Plant of salt marshes", lead(1, 2))],
        ],
        4 => vec![[("0. Bractaceae Tarn", heading(0)), ("1. Skerria Tarn", heading(1))]],
        5 => vec![[("2. Skerria alba Tarn", heading(2)), ("3. Skerria minor Tarn", heading(3))]],
        6 => vec![[("4. Morvania Tarn", heading(4)), ("5. Morvania litoralis Tarn", heading(5))]],
        _ => Vec::new(),
    }
}

/// Rows of each page that nothing was recognised in, more than the highest window has.
const FILLING: usize = 45;

fn page(number: u32) -> BookPage {
    let filling = [
        ("The isles lie far north; a calyx is seen in June.", None),
        ("Boats land on the shore where the corona of foam ends.", None),
    ];
    let (mut set, mut recognised) = (Vec::new(), Vec::new());
    for (row, columns) in printed(number).into_iter().chain(vec![filling; FILLING]).enumerate() {
        let mut plain = String::new();
        for (column, (words, read_as)) in columns.into_iter().enumerate() {
            plain.push_str(&" ".repeat(column * RIGHT - plain.chars().count().min(column * RIGHT)));
            let start = plain.len() as u32;
            plain.push_str(words);
            let end = plain.len() as u32;
            let row = row as u32;
            recognised.extend(read_as.map(|read_as| (column, Recognised { row, start, end, read_as })));
        }
        set.push(SetRow { plain, styles: Vec::new() });
    }
    recognised.sort_by_key(|(column, _)| *column);
    let running = "The isles lie far north; a calyx is seen in June. ".repeat(30);
    BookPage {
        page: Page(number),
        folio: Some(format!("{}", number + 10)),
        paragraphs: vec![Text::plain(&running, Page(number))],
        set,
        columns: vec![0, RIGHT as u32],
        recognised: recognised.into_iter().map(|(_, mark)| mark).collect(),
    }
}

/// Returns the whole flora.
pub(super) fn flora() -> Flora {
    let taxa = vec![
        taxon(0, (Rank::Family, "Bractaceae"), None),
        taxon(1, (Rank::Genus, "Skerria"), Some(0)),
        taxon(2, (Rank::Species, "Skerria alba"), Some(1)),
        taxon(3, (Rank::Species, "Skerria minor"), Some(1)),
        taxon(4, (Rank::Genus, "Morvania"), Some(0)),
        taxon(5, (Rank::Species, "Morvania litoralis"), Some(4)),
    ];
    let matter = Matter {
        id: MatterId(0),
        kind: MatterKind::Introduction,
        title: "To the reader".to_owned(),
        pages: (Page(1), Page(1)),
        paragraphs: vec![Text::plain("Look at the ligule first.", Page(1))],
    };
    Flora {
        title: "Flora of the Morvane Isles".to_owned(),
        license: Some("CC BY 4.0".to_owned()),
        taxa,
        keys: vec![genera(), species(), in_fruit()],
        alternatives: vec![Alternatives { keys: vec![(KeyId(1), None), (KeyId(2), Some(Needs::Fruits))] }],
        glossary: glossary(),
        matter: vec![matter],
        pages: (1..=8).map(page).collect(),
        ..Flora::default()
    }
}
