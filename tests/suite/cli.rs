//! The command line through the binary: what each verb prints, where, and with which exit code.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Stdio;

use expect_test::{Expect, expect};
use ligule::store::stand::Seat;
use serde_json::Value;

use crate::support::{Done, Home, done, flora, pdf, shared, skip};

/// A home with one flora on its shelf.
pub(crate) fn home() -> Home {
    let home = Home::new();
    flora::put(&home, "skerry");
    home
}

/// Checks that a call succeeds and prints this, without any terminal code.
#[track_caller]
fn check_prints(args: &[&str], expected: &Expect) {
    let Done { code, out, err } = home().run(args);
    assert_eq!((code, err.as_str()), (0, ""), "{args:?}");
    assert!(!out.contains('\x1b'), "{out:?}");
    expected.assert_eq(&out);
}

/// Checks that a call ends with a code and one sentence that holds all of `parts`, and prints no result.
#[track_caller]
pub(crate) fn check_fails(home: &Home, args: &[&str], code: i32, parts: &[&str]) {
    let done = home.run(args);
    assert_eq!((done.code, done.out.as_str()), (code, ""), "{args:?}: {done:?}");
    let sentence = done.err.lines().find_map(|line| line.strip_prefix("ligule: ")).unwrap_or_default();
    assert!(parts.iter().all(|part| sentence.contains(part)), "{args:?}: {}", done.err);
    assert!(!done.err.contains("panicked"), "{}", done.err);
}

/// Returns what a call prints as JSON.
#[track_caller]
pub(crate) fn json(args: &[&str]) -> Value {
    let done = home().run(args);
    assert_eq!((done.code, done.err.as_str()), (0, ""), "{args:?}");
    serde_json::from_str(&done.out).expect("it is JSON")
}

/// Returns the file of the flora `skerry`.
fn flora_file(home: &Home) -> PathBuf {
    home.path().join("kept/floras/skerry/1/flora.ligule")
}

#[test]
fn every_verb_has_help_with_an_example() {
    let all = Home::new().run(&["--help"]).out;
    let (_, list) = all.split_once("Commands:\n").expect("the verbs are listed");
    let verbs =
        list.lines().take_while(|line| !line.is_empty()).filter_map(|line| line.split_whitespace().next());
    let verbs: Vec<&str> = verbs.filter(|verb| *verb != "help").collect();
    assert!(["demo", "ingest", "read", "route", "drill"].iter().all(|verb| verbs.contains(verb)), "{all}");
    for verb in verbs {
        let done = Home::new().run(&[verb, "--help"]);
        assert_eq!((done.code, done.err.as_str()), (0, ""));
        assert!(done.out.contains("Example") && done.out.contains(&format!("ligule {verb}")), "{}", done.out);
    }
    assert!(all.contains("Exit codes: 0 done"), "{all}");
}

#[test]
fn a_call_that_is_no_call_ends_with_2() {
    for args in
        [&["wander"][..], &["show"], &["ingest"], &["text", "a.pdf", "--page", "0"], &["shelf", "drop"]]
    {
        let done = Home::new().run(args);
        assert_eq!((done.code, done.out.as_str()), (2, ""), "{args:?}");
    }
}

#[test]
fn show_prints_the_treatment_with_what_is_above_and_around_it() {
    check_prints(
        &["show", "silene", "alta"],
        &expect![[r#"
            family Caryophyllaceae, p. 8 (PDF page 1)
            genus Silene, p. 8 (PDF page 1)
            1. Silene alta Mor. (species), p. 8–9 (PDF pages 1–2)
            called: tall campion
            synonyms: Lychnis alta

            description
            Calyx inflated. Seeds warty, 2 mm.

            keyed in: Key to the species of Silene, p. 8 (PDF page 1)
            From: Plants of Skerry, p. 8–9 (PDF page 1–2). Licence: CC BY 4.0.
            A name from a key is no leave to eat, touch or pick.
        "#]],
    );
}

#[test]
fn show_takes_synonyms_vernacular_names_and_beginnings() {
    let expected = home().run(&["show", "Silene alta"]).out;
    for asked in ["Lychnis alta", "TALL CAMPION", "S. alta", "sil al"] {
        assert_eq!(home().run(&["show", asked]).out, expected, "{asked}");
    }
}

#[test]
fn show_as_json_is_the_taxon_of_the_dump_and_more() {
    let shown = json(&["show", "Silene alta", "--json"]);
    let dumped = json(&["dump", "skerry"]);
    for (member, value) in dumped["taxa"][2].as_object().expect("a taxon is an object") {
        assert_eq!(shown[0][member], *value, "{member}");
    }
    assert_eq!(shown[0]["higher"][0]["scientificName"], "Caryophyllaceae");
}

#[test]
fn key_prints_each_lead_with_where_it_leads() {
    check_prints(
        &["key", "Silene"],
        &expect![[r#"
            Key to the species of Silene, p. 8 (PDF page 1)

            couplet 1
              1a  Calyx inflated → Silene alta, p. 8 (PDF page 1)
              1b  Calyx narrow → couplet 2

            couplet 2
              2a  Seeds smooth → Silene skerrica, p. 8 (PDF page 1)
              2b  Seeds winged → Silene absens, not treated here
              2c  Seeds none → not found: 7

            From: Plants of Skerry, p. 8 (PDF page 1). Licence: CC BY 4.0.
            A name from a key is no leave to eat, touch or pick.
        "#]],
    );
    let expected = home().run(&["key", "Silene"]).out;
    assert_eq!(home().run(&["key", "key to the species of silene"]).out, expected);
    assert_eq!(home().run(&["key", "species of silene"]).out, expected);
}

#[test]
fn key_as_json_is_the_key_of_the_dump() {
    assert_eq!(json(&["key", "Silene", "--json"])[0], json(&["dump"])["keys"][0]);
}

#[test]
fn find_prints_the_sentence_with_its_page() {
    check_prints(
        &["find", "seed", "warty"],
        &expect![[r#"
            warty = seed: verrucose
            1 taxon of 2 contradicted by nothing: Caryophyllaceae 1

            Silene alta, p. 8 (PDF page 1)
              warty agrees: Seeds warty, 2 mm
              keys out at couplet 1 of Key to the species of Silene
        "#]],
    );
    let found = json(&["find", "seeds", "--json"]);
    let kinds: Vec<&str> =
        found["hits"].as_array().into_iter().flatten().filter_map(|hit| hit["kind"].as_str()).collect();
    assert!(kinds.contains(&"couplet") && !kinds.contains(&"taxon"), "{found}");
    assert_eq!(found["taxa"][0]["verdicts"][0]["says"], "agrees", "{found}");
}

#[test]
fn find_makes_a_missing_index_anew() {
    let home = home();
    let expected = home.run(&["find", "warty"]).out;
    fs::remove_dir_all(flora_file(&home).with_file_name("index")).unwrap();
    assert_eq!(home.run(&["find", "warty"]).out, expected);
}

#[test]
fn check_prints_doubts_by_kind_with_page_and_advice() {
    check_prints(
        &["check", "skerry"],
        &expect![[r#"
            “Plants of Skerry”
            source    skerry.pdf (2 pages, SHA-256 ab12)
            licence   stated open: CC BY 4.0

            How the book is set
            body 9 pt, two columns

            What was found
            taxa      1 family, 1 genus, 2 species
            keys      1 (2 couplets, 5 leads)
            glossary  1 term
            matter    0 pieces
            doubts    2

            Leads whose target was not found (1)
              p. 8 (PDF page 1): “7” — look at the page; the number may be misprinted
                ligule read skerry --at page:1

            Keyed names without a treatment (1)
              p. 8 (PDF page 1): “Silene absens” — it may be treated in another volume
                ligule read skerry --at page:1
        "#]],
    );
    let report = json(&["check", "--json"]);
    assert_eq!(report["doubts"][0]["kind"], "unresolved-target");
    assert_eq!(report["counts"]["taxa"][2], serde_json::json!({"taxonRank": "species", "count": 2}));
}

#[test]
fn shelf_lists_the_floras() {
    check_prints(
        &["shelf"],
        &expect![[r#"
        skerry  “Plants of Skerry”: 2 pages, 4 taxa, 1 key, licence stated open: CC BY 4.0 (2026-05-17)
    "#]],
    );
    let list = json(&["shelf", "--json"]);
    assert_eq!((list[0]["name"].as_str(), list[0]["counts"]["leads"].as_u64()), (Some("skerry"), Some(5)));
}

#[test]
fn shelf_drop_takes_a_flora_away() {
    let home = home();
    assert_eq!(home.run(&["shelf", "drop", "skerry"]).code, 0);
    check_fails(&home, &["shelf", "drop", "skerry"], 3, &["no flora named `skerry`"]);
    let list = home.run(&["shelf"]);
    assert_eq!((list.code, list.out.as_str()), (0, ""));
    check_fails(&home, &["dump"], 3, &["the shelf is empty"]);
}

#[test]
fn what_is_not_there_ends_with_3_and_names_what_is_near() {
    let home = home();
    check_fails(
        &home,
        &["show", "Silene", "altta"],
        3,
        &["“Plants of Skerry” treats no taxon named “Silene altta”"],
    );
    assert!(home.run(&["show", "Silene skerica"]).err.contains("Near it: Silene skerrica."));
    check_fails(&home, &["key", "Silene alta"], 3, &["no key to the members of Silene alta"]);
    check_fails(&home, &["key", "Carex"], 3, &["“Carex”"]);
    check_fails(&home, &["find", "zeppelin"], 3, &["zeppelin"]);
    check_fails(&home, &["define", "zeppelin"], 3, &["no glossary has “zeppelin”"]);
    check_fails(&home, &["dump", "north"], 3, &["no flora named `north`"]);
    check_fails(&home, &["dump", "../skerry"], 3, &["no flora named"]);
}

#[test]
fn a_name_that_fits_several_ends_with_2_and_names_them() {
    check_fails(&home(), &["show", "campion"], 2, &["“campion” fits Silene, Silene skerrica"]);
}

#[test]
fn among_several_floras_the_one_read_last_is_meant() {
    let home = home();
    flora::put(&home, "north");
    check_fails(&home, &["show", "Silene alta"], 2, &["several floras", "north, skerry"]);
    assert_eq!(home.run(&["show", "Silene alta", "--flora", "north"]).code, 0);
    let seat = Seat::take(&home.path().join("kept")).unwrap();
    seat.keep(r#"{"last": "north", "floras": {}}"#).unwrap();
    assert!(home.run(&["check", "--json"]).out.contains("\"name\": \"north\""));
    seat.keep(r#"{"last": "dropped"}"#).unwrap();
    check_fails(&home, &["check"], 2, &["several floras"]);
}

#[test]
fn a_damaged_flora_ends_with_5_and_another_version_names_the_book() {
    let home = home();
    let path = flora_file(&home);
    let whole = fs::read(&path).unwrap();
    fs::write(&path, &whole[..whole.len() / 2]).unwrap();
    check_fails(&home, &["show", "Silene"], 5, &["flora.ligule is damaged", "ingest the book again"]);
    let mut newer = whole.clone();
    newer[8] += 1;
    fs::write(&path, &newer).unwrap();
    check_fails(&home, &["dump", "skerry"], 5, &["made by another version", "sources/1/skerry.pdf"]);
    // The first item, behind magic and format, is the family's.
    let mut changed = whole.clone();
    changed[14] ^= 0x55;
    fs::write(&path, &changed).unwrap();
    check_fails(&home, &["show", "Caryophyllaceae"], 5, &["is damaged"]);
    assert_eq!(home.run(&["show", "Silene alta"]).code, 0);
}

#[test]
fn a_pipe_that_closes_early_is_no_failure() {
    let home = home();
    let mut child = home.command(&["dump"]).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!((output.status.code(), output.stderr.as_slice()), (Some(0), &b""[..]));
}

#[test]
fn the_reader_needs_a_terminal() {
    for args in [&[][..], &["read"], &["demo"]] {
        check_fails(&home(), args, 2, &["needs a terminal"]);
    }
}

#[test]
fn without_ligule_home_the_xdg_folders_hold_the_shelf() {
    let home = home();
    let xdg = home.path().join("data");
    fs::create_dir(&xdg).unwrap();
    fs::rename(home.path().join("kept"), xdg.join("ligule")).unwrap();
    let mut call = home.command(&["shelf"]);
    let found = done(call.env_remove("LIGULE_HOME").env("XDG_DATA_HOME", &xdg));
    assert!(found.out.starts_with("skerry  "), "{found:?}");
    let nowhere = done(home.command(&["shelf"]).env_remove("LIGULE_HOME"));
    assert_eq!((nowhere.code, nowhere.out.as_str()), (5, ""));
}

/// Checks that a file is refused by `ingest` and `text` with a sentence, and that the flora of its name stays.
#[track_caller]
fn check_refused(file: &Path, code: i32, parts: &[&str]) {
    let home = home();
    let file = file.to_str().expect("paths of tests are Unicode");
    let before = home.run(&["dump", "skerry"]).out;
    check_fails(&home, &["ingest", file, "--as", "skerry"], code, parts);
    check_fails(&home, &["text", file], code, parts);
    assert_eq!(home.run(&["dump", "skerry"]).out, before);
    assert_eq!(fs::read_dir(home.path().join("kept/floras")).expect("it was made above").count(), 1);
}

#[test]
fn a_file_that_is_no_book_is_refused_and_the_old_flora_stays() {
    let home = Home::new();
    check_refused(&home.path().join("none.pdf"), 4, &["none.pdf", "no such file"]);
    check_refused(home.path(), 4, &["it is a folder"]);
    check_refused(&home.file("empty.pdf", b""), 4, &["empty.pdf", "is empty"]);
    check_refused(&home.file("letter.pdf", b"Dear botanist,\n"), 4, &["letter.pdf", "no PDF"]);
    check_refused(&home.file("zero.pdf", &pdf::pdf(&[])), 4, &["zero.pdf", "no pages"]);
    check_refused(&home.file("scan.pdf", &pdf::pdf(&[pdf::picture_page()])), 4, &["scan.pdf", "OCR"]);
}

#[test]
fn a_locked_or_damaged_file_of_the_wild_is_refused() {
    let Some(hostile) = shared("reference/hostile") else {
        return skip(
            "a_locked_or_damaged_file_of_the_wild_is_refused",
            "../shared/reference/hostile is not there",
        );
    };
    let file = |name: &str| hostile.join(name);
    check_refused(
        &file("encrypted-needs-user-password__sample-files__libreoffice-writer-password.pdf"),
        4,
        &["password"],
    );
    check_refused(&file("not-pdf-bytes__pdfplumber__empty.pdf"), 4, &["is empty"]);
    check_refused(&file("not-pdf-bytes__qpdf__bad1.pdf"), 4, &["no PDF"]);
    check_refused(&file("zero-pages__qpdf__empty.pdf"), 4, &["no pages"]);
}

#[test]
fn an_ingested_book_is_on_the_shelf_with_its_text_and_its_copy() {
    let home = Home::new();
    let pages =
        [pdf::text_page(&["Boats land at low water."]), pdf::text_page(&["Bring a lens and a rope."])];
    home.file("Isles (2nd ed.).pdf", &pdf::pdf(&pages));
    let ingested = home.run(&["ingest", "Isles (2nd ed.).pdf"]);
    assert_eq!(ingested.code, 0, "{ingested:?}");
    assert!(ingested.out.contains("on the shelf as `isles-2nd-ed`"), "{ingested:?}");
    assert!(ingested.err.contains("page 2 of 2"), "{ingested:?}");
    assert!(home.run(&["find", "rope"]).out.contains("Bring a lens and a rope."));
    let list: Value = serde_json::from_str(&home.run(&["shelf", "--json"]).out).unwrap();
    let copy = list[0]["sources"][0]["path"].as_str().unwrap();
    assert_eq!(fs::read(copy).unwrap(), pdf::pdf(&pages));
    let again = home.run(&["ingest", "Isles (2nd ed.).pdf", "--as", "isles-2nd-ed", "--no-copy"]);
    assert_eq!(again.code, 0, "{again:?}");
    assert!(!Path::new(copy).exists());
}

#[test]
fn two_volumes_count_their_pages_through() {
    let home = Home::new();
    home.file("one.pdf", &pdf::pdf(&[pdf::text_page(&["The first volume."])]));
    home.file("two.pdf", &pdf::pdf(&[pdf::text_page(&["The second volume."])]));
    let ingested = home.run(&["ingest", "one.pdf", "two.pdf", "--as", "both"]);
    assert_eq!(ingested.code, 0, "{ingested:?}");
    assert!(home.run(&["find", "second"]).out.contains("PDF page 2"));
    let dump: Value = serde_json::from_str(&home.run(&["dump"]).out).unwrap();
    assert_eq!(dump["flora"]["sources"][1]["file"], "two.pdf");
}

#[test]
fn a_book_never_takes_the_place_of_another_unasked() {
    let home = Home::new();
    let [isles, hills] = ["Isles.", "Hills."].map(|line| pdf::pdf(&[pdf::text_page(&[line])]));
    for (bytes, expected) in
        [(&isles, "flora"), (&isles, "flora"), (&hills, "flora flora-2"), (&hills, "flora flora-2")]
    {
        home.file("flora.pdf", bytes);
        assert_eq!(home.run(&["ingest", "flora.pdf"]).code, 0);
        let list: Value = serde_json::from_str(&home.run(&["shelf", "--json"]).out).unwrap();
        let names: Vec<&str> =
            list.as_array().into_iter().flatten().filter_map(|row| row["name"].as_str()).collect();
        assert_eq!(names.join(" "), expected);
    }
    home.file("demo.pdf", &isles);
    assert!(home.run(&["ingest", "demo.pdf"]).out.contains("as `demo-2`"));
    check_fails(&home, &["ingest", "demo.pdf", "--as", "demo"], 2, &["built-in flora"]);
}

#[test]
fn a_name_that_is_no_name_is_a_wrong_call() {
    let home = Home::new();
    home.file("one.pdf", &pdf::pdf(&[pdf::text_page(&["The first volume."])]));
    check_fails(&home, &["ingest", "one.pdf", "--as", "../one"], 2, &["small letters, digits and hyphens"]);
}

#[test]
fn text_prints_a_paragraph_a_line_or_the_page_as_set() {
    let home = Home::new();
    let first =
        pdf::text_page(&["Boats land on the western shore at low water and in", "calm weather only."]);
    let second = pdf::text_page(&["Bring a lens, a rope and dry socks, for all paths are", "wet."]);
    home.file("isles.pdf", &pdf::pdf(&[first, second]));
    let paragraphs = [
        "Boats land on the western shore at low water and in calm weather only.\n",
        "Bring a lens, a rope and dry socks, for all paths are wet.\n",
    ];
    assert_eq!(home.run(&["text", "isles.pdf"]).out, paragraphs.concat());
    assert_eq!(home.run(&["text", "isles.pdf", "--page", "2"]).out, paragraphs[1]);
    let set = home.run(&["text", "isles.pdf", "--page", "2", "--layout"]).out;
    assert_eq!(set, "Bring a lens, a rope and dry socks, for all paths are\nwet.\n\x0c\n");
    check_fails(&home, &["text", "isles.pdf", "--page", "3"], 2, &["2 pages", "no page 3"]);
}
