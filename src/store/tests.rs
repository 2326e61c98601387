//! The shelf on a real folder: round trips, replaced floras, interrupted writes, damage, other versions.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};
use tempfile::TempDir;

use crate::model::{
    Alternatives, BookPage, Couplet, CoupletId, Doubt, DoubtAbout, DoubtKind, Entry, EntryId, Flora, Key,
    KeyId, Lead, Matter, MatterId, MatterKind, Needs, Page, Rank, ReadAs, Recognised, Section, SectionKind,
    SetRow, Sign, Source, Style, StyleRun, Target, Taxon, TaxonId, Text,
};
use crate::store::{Book, Contents, Error, KeepSource, RowState, Shelf, SourceBytes, file, slug};

const BYTES: &[u8] = b"%PDF-1.7 for the test";

fn text(words: &str, page: u32) -> Text {
    let italic = Style { italic: true, ..Style::default() };
    Text { styles: vec![StyleRun { start: 0, style: italic }], ..Text::plain(words, Page(page)) }
}

fn taxon(id: u32, rank: Rank, name: &str, parent: Option<u32>) -> Taxon {
    Taxon {
        id: TaxonId(id),
        rank,
        name: name.to_owned(),
        authorship: Some("Mor.".to_owned()),
        number: Some(id.to_string()),
        vernacular: vec!["campion".to_owned()],
        synonyms: vec!["Lychnis prima".to_owned()],
        misapplied: Vec::new(),
        parent: parent.map(TaxonId),
        heading: text(name, 2),
        pages: (Page(2), Page(3)),
        sections: vec![Section {
            kind: SectionKind::Description,
            heading: Some("Habit".to_owned()),
            text: text("Herbs.", 2),
        }],
        amended: false,
        cautions: Vec::new(),
    }
}

fn key(id: u32, scope: Option<u32>, couplets: Vec<Vec<Target>>) -> Key {
    let lead = |to| Lead {
        label: Some("1".to_owned()),
        text: text("Petals red", 2),
        printed: "there".to_owned(),
        to,
        also: Vec::new(),
        cites: None,
        reaches: 1,
        amended: false,
    };
    let couplet = |targets: Vec<Target>| Couplet {
        label: "1".to_owned(),
        leads: targets.into_iter().map(lead).collect(),
    };
    Key {
        id: KeyId(id),
        title: Some(format!("Key {id}")),
        scope: scope.map(|_| "Silene".to_owned()),
        scope_id: scope.map(TaxonId),
        page: Page(2),
        couplets: couplets.into_iter().map(couplet).collect(),
    }
}

fn to(id: u32) -> Target {
    Target::Taxon { name: format!("taxon {id}"), id: Some(TaxonId(id)) }
}

/// A flora of a genus with two species, keyed from a key to the genera; the species' key has a wrong turn back.
fn flora(title: &str) -> Flora {
    let away = Target::Taxon { name: "Erica alta".to_owned(), id: None };
    let page = |at: u32| BookPage {
        page: Page(at),
        folio: Some((at + 4).to_string()),
        paragraphs: vec![text("Herbs.", at)],
        set: vec![SetRow { plain: "Herbs.  Trees.".to_owned(), styles: text("Herbs.", at).styles }],
        columns: vec![0, 8],
        recognised: vec![Recognised {
            row: 0,
            start: 0,
            end: 6,
            read_as: ReadAs::Lead(KeyId(0), CoupletId(1), 0),
        }],
    };
    Flora {
        title: title.to_owned(),
        license: Some("CC BY 4.0".to_owned()),
        sources: vec![Source { file: "book.pdf".to_owned(), sha256: "ab".to_owned(), pages: 3 }],
        taxa: vec![
            taxon(0, Rank::Genus, "Silene", None),
            taxon(1, Rank::Species, "Silene prima", Some(0)),
            taxon(2, Rank::Species, "Silene alta", Some(0)),
        ],
        keys: vec![
            key(0, None, vec![vec![to(0), Target::Couplet(CoupletId(1))], vec![away, Target::Key(KeyId(1))]]),
            key(
                1,
                Some(0),
                vec![vec![to(1), to(2), Target::Couplet(CoupletId(0)), Target::Unresolved("9".to_owned())]],
            ),
        ],
        glossary: vec![Entry {
            id: EntryId(0),
            term: "calyx".to_owned(),
            variants: vec!["calyces".to_owned()],
            definition: text("all sepals", 3),
            see: None,
        }],
        matter: vec![Matter {
            id: MatterId(0),
            kind: MatterKind::Introduction,
            title: "To the reader".to_owned(),
            pages: (Page(1), Page(1)),
            paragraphs: vec![text("Boats land at low water.", 1)],
        }],
        legend: vec![Sign { sign: "*".to_owned(), meaning: "endemic".to_owned(), page: Page(1) }],
        alternatives: vec![Alternatives { keys: vec![(KeyId(0), Some(Needs::Flowers)), (KeyId(1), None)] }],
        pages: vec![page(1), page(2), page(3)],
        doubts: vec![Doubt {
            kind: DoubtKind::UnresolvedTarget,
            page: Page(2),
            text: "9".to_owned(),
            advice: "Look at the page.".to_owned(),
            about: DoubtAbout::Key(KeyId(1)),
        }],
    }
}

fn shelf() -> (TempDir, Shelf) {
    let folder = tempfile::tempdir().unwrap();
    let shelf = Shelf::at(folder.path()).on("2026-05-17");
    (folder, shelf)
}

fn put(shelf: &Shelf, name: &str, title: &str) {
    let source = SourceBytes { path: Path::new("/books/book.pdf"), bytes: BYTES };
    shelf.put(name, &flora(title), &[source], KeepSource::Copy).unwrap();
}

/// Returns all files and folders below a flora's folder that hold a flora.
fn folders(root: &Path, name: &str) -> Vec<PathBuf> {
    let entries = fs::read_dir(root.join("floras").join(name)).unwrap();
    entries.map(|entry| entry.unwrap().path()).filter(|path| path.is_dir()).collect()
}

#[test]
fn a_flora_comes_back_as_it_was_put() {
    let (_folder, shelf) = shelf();
    put(&shelf, "isles", "Isles");
    let (book, flora) = (shelf.open("isles").unwrap(), flora("Isles"));
    assert_eq!(book.whole().unwrap(), flora);
    assert_eq!(*book.contents(), Contents::of(&flora));
    assert_eq!(book.taxon(TaxonId(2)), flora.taxa.get(2));
    assert_eq!(book.key(KeyId(1)), flora.keys.get(1));
    assert_eq!(book.matter(MatterId(0)), flora.matter.first());
    assert_eq!(
        (book.page(Page(3)), book.page(Page(0)), book.page(Page(4))),
        (flora.pages.get(2), None, None)
    );
    assert_eq!(
        (book.glossary(), book.doubts(), book.sources()),
        (&*flora.glossary, &*flora.doubts, &*flora.sources)
    );
    assert!(book.damage().is_none());
}

#[test]
fn a_book_in_memory_lends_the_same_as_one_from_the_shelf() {
    let (_folder, shelf) = shelf();
    put(&shelf, "isles", "Isles");
    let (stored, memory) = (shelf.open("isles").unwrap(), Book::of("isles", flora("Isles")));
    assert_eq!((stored.name(), stored.contents()), (memory.name(), memory.contents()));
    assert_eq!(
        (stored.taxon(TaxonId(1)), stored.key(KeyId(0))),
        (memory.taxon(TaxonId(1)), memory.key(KeyId(0)))
    );
    assert_eq!((stored.page(Page(1)), stored.glossary()), (memory.page(Page(1)), memory.glossary()));
    assert_eq!(stored.whole().unwrap(), memory.whole().unwrap());
}

#[test]
fn contents_tell_keys_of_taxa_and_couplets_that_lead_there() {
    let contents = Contents::of(&flora("Isles"));
    assert_eq!(contents.taxa[0].key, Some(KeyId(1)));
    assert_eq!(contents.taxa[0].keyed, [(KeyId(0), CoupletId(0))]);
    assert_eq!(contents.taxa[2].keyed, [(KeyId(1), CoupletId(0))]);
    assert_eq!(contents.keys[1].arrivals, [(KeyId(0), CoupletId(1))]);
    assert_eq!(contents.folios[1].as_deref(), Some("6"));
}

#[test]
fn a_key_reaches_the_taxa_of_further_keys_and_goes_round_no_circle() {
    let contents = Contents::of(&flora("Isles"));
    let reaches: Vec<u32> = contents.keys.iter().map(|key| key.reaches).collect();
    assert_eq!(reaches, [3, 2], "two species and a name without a treatment, the genus itself not counted");
}

#[test]
fn a_flora_put_again_takes_the_place_of_the_old_one() {
    let (folder, shelf) = shelf();
    put(&shelf, "isles", "Old");
    let old = shelf.open("isles").unwrap();
    put(&shelf, "isles", "New");
    assert_eq!(shelf.open("isles").unwrap().contents().title, "New");
    assert_eq!(folders(folder.path(), "isles").len(), 1);
    assert_eq!(old.whole().unwrap().title, "Old", "a book that is open stays as it was opened");
}

#[test]
fn what_is_not_finished_leaves_the_old_flora() {
    let (folder, shelf) = shelf();
    put(&shelf, "isles", "Old");
    let pending = shelf.begin("isles").unwrap();
    pending.write(&flora("New"), &[], KeepSource::PathOnly).unwrap();
    assert_eq!(shelf.open("isles").unwrap().contents().title, "Old");
    drop(pending);
    assert_eq!(shelf.open("isles").unwrap().contents().title, "Old");
    assert_eq!(folders(folder.path(), "isles").len(), 1);
}

#[test]
fn what_is_not_finished_leaves_nothing_where_there_was_no_flora() {
    let (folder, shelf) = shelf();
    shelf.begin("isles").unwrap().write(&flora("New"), &[], KeepSource::PathOnly).unwrap();
    assert_eq!(fs::read_dir(folder.path().join("floras")).unwrap().count(), 0);
}

#[test]
fn what_a_killed_ingest_left_is_no_flora_and_is_cleared_away() {
    let (folder, shelf) = shelf();
    let left = folder.path().join("floras/isles/7");
    fs::create_dir_all(&left).unwrap();
    fs::write(left.join("flora.ligule"), "half").unwrap();
    assert!(matches!(shelf.open("isles"), Err(Error::Missing { .. })));
    assert_eq!(shelf.rows().unwrap(), []);
    put(&shelf, "isles", "Whole");
    assert_eq!(shelf.open("isles").unwrap().contents().title, "Whole");
    assert!(!left.exists());
}

/// Takes some bytes, then fails as a full disk does.
struct FullDisk(usize);

impl Write for FullDisk {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0 = self.0.checked_sub(bytes.len()).ok_or(io::ErrorKind::StorageFull)?;
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

#[test]
fn a_full_disk_is_an_error_wherever_it_comes() {
    let mut whole = Vec::new();
    file::write(&flora("Isles"), &mut whole).unwrap();
    for size in 0..whole.len() {
        let error = file::write(&flora("Isles"), &mut FullDisk(size)).unwrap_err();
        assert_eq!(error.kind(), io::ErrorKind::StorageFull);
    }
    file::write(&flora("Isles"), &mut FullDisk(whole.len())).unwrap();
}

#[test]
fn two_writers_of_one_flora_do_not_meet() {
    let (_folder, shelf) = shelf();
    let first = shelf.begin("isles").unwrap();
    assert!(matches!(shelf.begin("isles"), Err(Error::Busy { .. })));
    shelf.begin("other").unwrap();
    drop(first);
    shelf.begin("isles").unwrap();
}

#[test]
fn bytes_changed_or_cut_are_noticed() {
    let (folder, shelf) = shelf();
    put(&shelf, "isles", "Isles");
    let path = folders(folder.path(), "isles")[0].join("flora.ligule");
    let whole = fs::read(&path).unwrap();
    let check = |bytes: &[u8], what: &str| {
        fs::write(&path, bytes).unwrap();
        let read = shelf.open("isles").and_then(|book| book.whole());
        assert!(matches!(read, Err(Error::Damaged { .. } | Error::OtherVersion { .. })), "{what}: {read:?}");
    };
    // All of the header and trailer, and of the items enough to meet each of them.
    let edges = (0..16).chain(whole.len() - 32..whole.len());
    for at in edges.chain((16..whole.len() - 32).step_by(11)) {
        let mut changed = whole.clone();
        changed[at] ^= 0x55;
        check(&changed, &format!("byte {at} changed"));
        check(&whole[..at], &format!("cut at byte {at}"));
    }
}

#[test]
fn a_damaged_item_is_missing_and_remembered_and_the_rest_is_read() {
    let (folder, shelf) = shelf();
    put(&shelf, "isles", "Isles");
    let path = folders(folder.path(), "isles")[0].join("flora.ligule");
    let mut bytes = fs::read(&path).unwrap();
    // The first item is the first taxon; it begins behind magic and format.
    bytes[14] ^= 0x55;
    fs::write(&path, bytes).unwrap();
    let book = shelf.open("isles").unwrap();
    assert!(book.taxon(TaxonId(1)).is_some() && book.damage().is_none());
    assert!(book.taxon(TaxonId(0)).is_none());
    assert!(matches!(book.damage(), Some(Error::Damaged { .. })));
}

#[test]
fn a_flora_of_another_version_names_its_source() {
    let (folder, shelf) = shelf();
    put(&shelf, "isles", "Isles");
    let home = folders(folder.path(), "isles").remove(0);
    let path = home.join("flora.ligule");
    let mut bytes = fs::read(&path).unwrap();
    bytes[8] += 1;
    fs::write(&path, bytes).unwrap();
    let error = shelf.open("isles").unwrap_err();
    let copy = home.join("sources/1/book.pdf");
    let expected =
        format!("flora `isles` was made by another version of ligule; ingest {} again", copy.display());
    assert_eq!(error.to_string(), expected);
    let row = fs::read_to_string(home.join("row.json")).unwrap();
    fs::write(home.join("row.json"), row.replace("\"format\": 4", "\"format\": 5")).unwrap();
    assert_eq!(shelf.rows().unwrap()[0].state, RowState::OtherVersion);
}

#[test]
fn the_format_is_raised_when_what_is_stored_changes() {
    let mut bytes = Vec::new();
    file::write(&flora("Isles"), &mut bytes).unwrap();
    let hash = Sha256::digest(&bytes).first_chunk().map(|eight| u64::from_be_bytes(*eight));
    let known = (4, Some(6_194_193_915_058_272_013));
    assert_eq!((file::FORMAT, hash), known, "raise FORMAT in store/file.rs and note the new hash here");
}

#[test]
fn rows_tell_counts_date_and_source() {
    let (_folder, shelf) = shelf();
    put(&shelf, "north", "North");
    put(&shelf, "isles", "Isles");
    let rows = shelf.rows().unwrap();
    assert_eq!(rows.iter().map(|row| row.name.as_str()).collect::<Vec<_>>(), ["isles", "north"]);
    let row = &rows[0];
    assert_eq!(
        (row.title.as_str(), row.pages, row.date.as_str(), row.state),
        ("Isles", 3, "2026-05-17", RowState::Ready)
    );
    assert_eq!(row.counts.taxa, [(Rank::Genus, 1), (Rank::Species, 2)]);
    let counts = &row.counts;
    assert_eq!((counts.keys, counts.couplets, counts.leads, counts.entries, counts.doubts), (2, 3, 8, 1, 1));
    assert_eq!(fs::read(&row.sources[0].path).unwrap(), BYTES);
}

#[test]
fn a_damaged_row_does_not_hide_the_other_floras() {
    let (folder, shelf) = shelf();
    put(&shelf, "isles", "Isles");
    put(&shelf, "north", "North");
    fs::write(folders(folder.path(), "isles")[0].join("row.json"), "{").unwrap();
    let states: Vec<RowState> = shelf.rows().unwrap().into_iter().map(|row| row.state).collect();
    assert_eq!(states, [RowState::Damaged, RowState::Ready]);
}

#[test]
fn without_a_copy_the_path_is_kept() {
    let (folder, shelf) = shelf();
    let source = SourceBytes { path: Path::new("/books/book.pdf"), bytes: BYTES };
    shelf.put("isles", &flora("Isles"), &[source], KeepSource::PathOnly).unwrap();
    let row = shelf.row("isles").unwrap();
    assert_eq!((row.sources[0].path.as_path(), row.sources[0].sha256.as_str()), (source.path, "ab"));
    assert!(!folders(folder.path(), "isles")[0].join("sources").exists());
}

#[test]
fn a_dropped_flora_is_gone_with_its_files() {
    let (folder, shelf) = shelf();
    put(&shelf, "isles", "Isles");
    shelf.remove("isles").unwrap();
    assert!(matches!(shelf.open("isles"), Err(Error::Missing { .. })));
    assert_eq!(fs::read_dir(folder.path().join("floras")).unwrap().count(), 0);
    assert!(matches!(shelf.remove("isles"), Err(Error::Missing { .. })));
}

#[test]
fn a_name_never_leads_out_of_the_shelf() {
    let (folder, shelf) = shelf();
    fs::create_dir_all(folder.path().join("floras")).unwrap();
    fs::write(folder.path().join("now"), "1").unwrap();
    for name in ["..", "", ".", "a/b", "/", "-a", "Isles", "a b"] {
        assert!(matches!(shelf.remove(name), Err(Error::Missing { .. })), "{name}");
        assert!(matches!(shelf.begin(name), Err(Error::BadName { .. })), "{name}");
    }
}

#[test]
fn the_profile_is_kept_with_the_flora() {
    let (_folder, shelf) = shelf();
    let pending = shelf.begin("isles").unwrap();
    pending.write(&flora("Isles"), &[], KeepSource::PathOnly).unwrap();
    pending.write_profile("body 9 pt").unwrap();
    fs::create_dir(pending.index_dir()).unwrap();
    pending.finish().unwrap();
    assert_eq!(shelf.profile("isles").unwrap(), "body 9 pt");
    assert!(shelf.index_dir("isles").is_dir());
}

#[track_caller]
fn check_slug(stem: &str, expected: &str) {
    assert_eq!(slug(stem), expected);
    let (_folder, shelf) = shelf();
    shelf.begin(expected).unwrap();
}

#[test]
fn a_file_name_becomes_a_name_for_the_shelf() {
    check_slug("Flora of Skerry (2nd ed.)", "flora-of-skerry-2nd-ed");
    check_slug("Flore_d'Écume", "flore-d-ecume");
    check_slug("植物", "flora");
    check_slug(&"a-".repeat(80), "a-".repeat(25).trim_end_matches('-'));
}
