//! What is said of a book's conventions steers its reading: one drawn page for each entry, read without and with it.

use super::*;
use crate::model::{Flora, Target};
use crate::parse::{fixture, flora, flora_set_so};

/// Tells a flora in short: keys with their targets, taxa with their sections, words, signs.
fn told(flora: &Flora) -> Vec<String> {
    let mut told = Vec::new();
    for key in &flora.keys {
        let leads = key.couplets.iter().flat_map(|couplet| &couplet.leads).map(|lead| {
            let to = match &lead.to {
                Target::Couplet(id) => id.0.to_string(),
                Target::Taxon { name, .. } => name.clone(),
                Target::Key(id) => id.to_string(),
                Target::Unresolved(words) => format!("?{words}"),
            };
            format!("{} > {to}", lead.text.plain)
        });
        told.push(format!("key: {}", leads.collect::<Vec<_>>().join(" | ")));
    }
    for taxon in flora.taxa.iter().filter(|taxon| !taxon.heading.is_empty()) {
        let sections = taxon.sections.iter().map(|one| {
            let heading = one.heading.as_ref().map(|heading| format!("{heading}/")).unwrap_or_default();
            format!("{heading}{} {}", one.kind.word(), one.text.plain)
        });
        told.push(format!("{}: {}", taxon.heading.plain, sections.collect::<Vec<_>>().join(" | ")));
    }
    told.extend(flora.glossary.iter().map(|entry| format!("{} = {}", entry.term, entry.definition.plain)));
    told.extend(flora.legend.iter().map(|sign| format!("{} is {}", sign.sign, sign.meaning)));
    told
}

/// Checks what is read of a drawn book as it is learned, and with something said of it.
#[track_caller]
fn check_steers(drawn: &str, learned: &[&str], said: &str, steered: &[&str]) {
    let setting = fixture::setting(drawn);
    assert_eq!(told(&flora(&setting).0), learned, "as learned");
    let said = Overrides::read(said).expect("a profile");
    assert_eq!(told(&flora_set_so(&setting, &said).0), steered, "as said");
}

/// A key that names *Silene alta* and *Silene rubra*, before whatever is drawn below it.
fn below_key(drawn: &str) -> String {
    format!(
        "*Key to the species of Silene*\n\n1. Petals white ......... Silene alta\n1. Petals red ......... Silene rubra\n\n{drawn}"
    )
}

const KEY: &str = "key: Petals white > Silene alta | Petals red > Silene rubra";

#[test]
fn the_body_size_tells_which_type_is_larger() {
    check_steers(
        "Silene alta Mor.\n\nHerb with hairy leaves.\n\nSilene rubra Mor.\n\nHerb with red petals.\n\n\
         Silene nivea Mor.\n\nHerb with white petals.",
        &[],
        "body-size = 9.0",
        &[
            "Silene alta Mor.: description Herb with hairy leaves.",
            "Silene rubra Mor.: description Herb with red petals.",
            "Silene nivea Mor.: description Herb with white petals.",
        ],
    );
}

#[test]
fn lines_begin_at_the_steps_that_are_said() {
    let drawn = "*Key to the species of Silene*

1. Leaves hairy
    2. Petals white ......... Silene alta
    2. Petals red ......... Silene rubra
@  – Leaves smooth ......... Silene nivea";
    check_steers(
        drawn,
        &[],
        "indent-steps = [0.0, 20.0]",
        &[
            "key: Leaves hairy > 1 | Leaves smooth > Silene nivea | Petals white > Silene alta | Petals red > Silene rubra",
        ],
    );
}

#[test]
fn headings_of_a_rank_are_those_that_look_as_is_said() {
    check_steers(
        &below_key("*Silene alta* Mor.\n\nHerb.\n\n_Silene rubra_ Mor.\n\nShrub."),
        &[KEY, "Silene alta Mor.: description Herb.", "Silene rubra Mor.: description Shrub."],
        "[headings]\nspecies = [\"bold\"]",
        &[KEY, "Silene alta Mor.: description Herb. | notes Silene rubra Mor. | notes Shrub."],
    );
}

#[test]
fn labels_of_another_scheme_open_no_lead() {
    let drawn = "*Key to the species of Silene*

1. Leaves hairy ......... Silene alta
1. Leaves smooth ......... Silene rubra

*Group B*

a. Petals white ......... Silene nivea
aa. Petals red ......... Silene fulva";
    check_steers(
        drawn,
        &[
            "key: Leaves hairy > Silene alta | Leaves smooth > Silene rubra",
            "key: Petals white > Silene nivea | Petals red > Silene fulva",
        ],
        "[[key]]\ntitle = \"Group B\"\nscheme = \"number\"",
        &["key: Leaves hairy > Silene alta | Leaves smooth > Silene rubra"],
    );
}

#[test]
fn in_a_bracketed_key_a_number_at_the_end_leads_on() {
    check_steers(
        "*Key to the species of Silene*

1. Leaves hairy 3
1. Leaves smooth ......... Silene alta

3. Petals white ......... Silene rubra
3. Petals red ......... Silene nivea",
        &["key: Leaves hairy 3 > ? | Leaves smooth > Silene alta"],
        "[keys]\nlayout = \"bracketed\"",
        &[
            "key: Leaves hairy > 1 | Leaves smooth > Silene alta | Petals white > Silene rubra | Petals red > Silene nivea",
        ],
    );
}

#[test]
fn in_an_indented_key_a_number_at_the_end_is_a_character() {
    check_steers(
        "*Key to the species of Silene*

1. Leaves hairy, stamens 2
   2. Petals white ......... Silene alta
   2. Petals red ......... Silene rubra
1. Leaves smooth ......... Silene nivea",
        &[
            "key: Leaves hairy, stamens > 1 | Leaves smooth > Silene nivea | Petals white > Silene alta | Petals red > Silene rubra",
        ],
        "[keys]\nlayout = \"indented\"",
        &[
            "key: Leaves hairy, stamens 2 > 1 | Leaves smooth > Silene nivea | Petals white > Silene alta | Petals red > Silene rubra",
        ],
    );
}

#[test]
fn targets_are_set_as_is_said() {
    check_steers(
        "*Key to the species of Silene*

1. Leaves hairy; very like Silene rubra — ......... Silene alta
1. Leaves smooth; like — Silene nivea",
        &["key: Leaves hairy; very like Silene rubra > Silene alta | Leaves smooth; like > Silene nivea"],
        "[keys]\ntargets = [\"leader\"]",
        &["key: Leaves hairy; very like Silene rubra > Silene alta | Leaves smooth; like — Silene nivea > ?"],
    );
}

#[test]
fn run_in_headings_are_those_that_are_said() {
    check_steers(
        &below_key("*Silene alta* Mor.\n\nHerb. Soil: wet sand. Habitat: dunes. Range: Skerry."),
        &[
            KEY,
            "Silene alta Mor.: description Herb. Soil: wet sand. | Habitat/habitat dunes. | Range/distribution Skerry.",
        ],
        "[run-in]\nSoil = \"habitat\"\nHabitat = \"none\"\nRange = \"notes\"",
        &[
            KEY,
            "Silene alta Mor.: description Herb. | Soil/habitat wet sand. Habitat: dunes. | Range/notes Skerry.",
        ],
    );
}

#[test]
fn headwords_of_a_glossary_end_as_is_said() {
    check_steers(
        "*Glossary*\n\nApex: the tip, or end.\n\nAwn, as of a grass: a bristle.\n\nAril: a cover.",
        &["Apex = the tip, or end.", "Awn = a bristle.", "Aril = a cover."]
            .map(|words| if words.starts_with("Awn") { "Awn = a bristle." } else { words }),
        "[glossary]\nmark = \", \"",
        &["Apex: the tip = or end.", "Awn = as of a grass: a bristle."],
    );
    check_steers(
        "*Glossary*\n\n*Apex*, the tip.\n\nAwn, a bristle.\n\n*Aril*, a cover.",
        &["Apex = the tip.", "Aril = a cover."],
        "[glossary]\nown-type = false",
        &["Apex = the tip.", "Awn = a bristle.", "Aril = a cover."],
    );
    check_steers(
        "*Glossary*\n\nApex – the tip.\nAwn – a bristle.\n  of a grass.\nAril – a cover.",
        &["Apex = the tip.", "Awn = a bristle. of a grass.", "Aril = a cover."],
        "[glossary]\nhanging = false",
        &["Apex = the tip. Awn – a bristle. of a grass. Aril – a cover."],
    );
}

#[test]
fn a_sign_stands_before_names_and_means_what_is_said() {
    check_steers(
        &below_key("¤ *Silene alta* Mor.\n\nHerb."),
        &[KEY],
        "[signs]\n\"¤\" = \"endemic\"",
        &[KEY, "¤ Silene alta Mor.: description Herb.", "¤ is endemic"],
    );
}

#[test]
fn the_signs_of_the_books_own_legend_are_learned() {
    let (flora, profile) =
        flora(&fixture::setting("*Signs*\n\n* endemic; † extinct.".replacen("* e", "‡ e", 1).as_str()));
    assert_eq!(told(&flora), ["‡ is endemic", "† is extinct"]);
    assert_eq!(profile.signs.get("†").map(String::as_str), Some("extinct"));
}

#[test]
fn a_profile_handed_back_as_it_was_printed_changes_nothing() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/keys");
    let mut open = vec![folder];
    let mut read = 0;
    while let Some(path) = open.pop() {
        if path.is_dir() {
            open.extend(
                std::fs::read_dir(&path).expect("a folder").map(|entry| entry.expect("an entry").path()),
            );
        } else if path.extension().is_some_and(|end| end == "txt") {
            let setting = fixture::setting(&std::fs::read_to_string(&path).expect("a fixture is text"));
            let (_, profile) = flora(&setting);
            let printed = profile.to_string();
            let said = Overrides::read(&printed).unwrap_or_else(|error| panic!("{error}\n{printed}"));
            assert_eq!(said.beside(&profile), Steer::default(), "{}\n{printed}", path.display());
            assert_eq!(said.over(profile).to_string(), printed);
            read += 1;
        }
    }
    assert!(read > 5, "{read} fixtures");
}

/// Checks that a profile is refused in these words.
#[track_caller]
fn check_refused(said: &str, words: &str) {
    let error = Overrides::read(said).expect_err("a fault").to_string();
    assert!(error.contains(words) && !error.contains('\n'), "{error}");
}

#[test]
fn an_unknown_entry_is_told_with_the_known_ones() {
    check_refused("body = 9", "line 1: unknown field `body`, expected one of `body-size`, `indent-steps`");
    check_refused("[headings]\norder = [\"bold\"]", "there is no “order”; known are family, subfamily");
    check_refused("[headings]\ngenus = [\"red\"]", "there is no “red”; known are numbered, bold");
    check_refused("[keys]\nscheme = \"roman\"", "there is no “roman”; known are number-letter, number");
    check_refused("[[key]]\ntitle = \"A\"\nlayout = \"round\"", "the key “A”: layout: there is no “round”");
    check_refused("[run-in]\nSoil = \"ground\"", "there is no “ground”; known are description, habitat");
    check_refused("[glossary]\nmark = \"/\"", "no mark is “/”");
    check_refused("body-size = 0", "above 0");
}
