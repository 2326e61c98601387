//! Amendments of small floras that are drawn, not built: each case is read as a book is.

use super::*;
use crate::model::{Flora, Target};

/// A key to three species of which one heading is missed, and a remark between the treatments.
const BOOK: &str = "*Silene* L.

*Key to the species of Silene*

1. Leaves hairy ......... S. alta
1. Leaves smooth ......... 2

2. Petals red ......... S. rubra
2. Petals white ......... S. nivea

*1. Silene alta* Mor.

Herb with hairy leaves. Habitat: dunes.

*2. Silene rubra* Mor.

Herb with red petals.

Silene nivea Mor. Herb with white petals.

Habitat: screes.";

fn book(drawn: &str) -> Flora {
    parse::drawn(drawn)
}

fn amend(drawn: &str, file: &str) -> (Flora, Vec<Outcome>) {
    apply(book(drawn), &read(file).expect("a file of amendments"))
}

fn target(flora: &Flora, words: &str) -> String {
    let leads = flora.keys.iter().flat_map(find::leads);
    let (_, lead, _) =
        leads.into_iter().find(|(_, lead, _)| lead.text.plain.starts_with(words)).expect("a lead");
    let amended = if lead.amended { " (amended)" } else { "" };
    match &lead.to {
        Target::Couplet(id) => format!("couplet {}{amended}", id.0),
        Target::Taxon { name, id } => format!("{name} {}{amended}", id.map_or(-1, |id| i64::from(id.0))),
        Target::Key(id) => format!("key {}{amended}", id.0),
        Target::Unresolved(words) => format!("? {words}{amended}"),
    }
}

/// Checks where a lead goes after amendments, and that all of them hold.
#[track_caller]
fn check_target(file: &str, words: &str, expected: &str) {
    let (flora, outcomes) = amend(BOOK, file);
    assert!(outcomes.iter().all(|outcome| *outcome == Outcome::Held), "{outcomes:?}");
    assert_eq!(target(&flora, words), expected);
}

/// Checks the taxa after amendments: number, rank, name, parent, first section.
#[track_caller]
fn check_taxa(drawn: &str, file: &str, expected: &[&str]) {
    let (flora, outcomes) = amend(drawn, file);
    assert!(outcomes.iter().all(|outcome| *outcome == Outcome::Held), "{outcomes:?}");
    let taxa: Vec<String> = flora
        .taxa
        .iter()
        .map(|taxon| {
            let parent = taxon.parent.map_or("-".to_owned(), |id| id.to_string());
            let sections: Vec<&str> = taxon.sections.iter().map(|one| one.text.plain.as_str()).collect();
            let amended = if taxon.amended { " (amended)" } else { "" };
            format!(
                "{} {} {} <{parent}{amended}: {}",
                taxon.id,
                taxon.rank.word(),
                taxon.name,
                sections.join(" / ")
            )
        })
        .collect();
    assert_eq!(taxa, expected);
}

#[test]
fn a_lead_goes_where_its_reader_says() {
    let lead = "[[lead]]\nwords = \"Petals red\"\n";
    check_target(
        &format!("{lead}goes-to = {{ taxon = \"Silene alta\" }}"),
        "Petals red",
        "Silene alta 1 (amended)",
    );
    check_target(
        &format!("{lead}goes-to = {{ taxon = \"Silene nova\" }}"),
        "Petals red",
        "Silene nova -1 (amended)",
    );
    check_target(
        "[[lead]]\nwords = \"Leaves hairy\"\nlabel = \"1\"\ngoes-to = { couplet = \"2\" }",
        "Leaves hairy",
        "couplet 1 (amended)",
    );
}

#[test]
fn a_later_amendment_of_a_lead_counts_and_as_read_takes_back() {
    let lead = "[[lead]]\nwords = \"Petals red\"\n";
    let elsewhere = format!("{lead}goes-to = {{ taxon = \"Silene alta\" }}\n");
    check_target(
        &format!("{elsewhere}{lead}goes-to = {{ taxon = \"Silene nova\" }}"),
        "Petals red",
        "Silene nova -1 (amended)",
    );
    check_target(&format!("{elsewhere}{lead}as-read = true"), "Petals red", "Silene rubra 2");
}

#[test]
fn words_that_are_no_lead_go_back_to_the_lead_before() {
    let drawn = "*Key to the species of Silene*

1. Leaves hairy, stamens
2. Exserted from the tube ......... S. alta
1. Leaves smooth ......... S. rubra
2. Petals white ......... S. nivea";
    let (flora, outcomes) =
        amend(drawn, "[[lead]]\nwords = \"Exserted from the tube\"\nlabel = \"2\"\nno-lead = true");
    assert_eq!(outcomes, [Outcome::Held]);
    let lead = &flora.keys[0].couplets[0].leads[0];
    assert_eq!(lead.text.plain, "Leaves hairy, stamens 2 Exserted from the tube");
    assert!(lead.amended && lead.printed == "S. alta", "{lead:?}");
}

#[test]
fn a_missed_heading_becomes_a_treatment_that_its_key_leads_to() {
    check_taxa(
        BOOK,
        "[[heading]]\nwords = \"Silene nivea Mor.\"\nrank = \"species\"",
        &[
            "t0000 genus Silene <-: ",
            "t0001 species Silene alta <t0000: Herb with hairy leaves. / dunes.",
            "t0002 species Silene rubra <t0000: Herb with red petals.",
            "t0003 species Silene nivea <t0000 (amended): Herb with white petals. / screes.",
        ],
    );
    check_target(
        "[[heading]]\nwords = \"Silene nivea\"\nrank = \"species\"",
        "Petals white",
        "Silene nivea 3",
    );
}

#[test]
fn a_heading_in_the_midst_of_a_section_leaves_what_stands_before_it() {
    let (flora, _) = amend(BOOK, "[[heading]]\nwords = \"dunes\"\nrank = \"form\"");
    let sections: Vec<_> = flora.taxa[1].sections.iter().map(|one| one.text.plain.as_str()).collect();
    assert_eq!(sections, ["Herb with hairy leaves.", "Habitat"]);
}

#[test]
fn a_heading_that_is_none_goes_back_to_the_treatment_before() {
    check_taxa(
        BOOK,
        "[[heading]]\nwords = \"2. Silene rubra\"\nno-heading = true",
        &[
            "t0000 genus Silene <-: ",
            "t0001 species Silene alta <t0000 (amended): Herb with hairy leaves. / dunes. / 2. Silene rubra Mor. \
             Herb with red petals. / Silene nivea Mor. Herb with white petals. / screes.",
        ],
    );
    check_target(
        "[[heading]]\nwords = \"2. Silene rubra\"\nno-heading = true",
        "Petals red",
        "Silene rubra -1",
    );
}

#[test]
fn a_heading_of_another_rank_takes_its_place_in_the_tree() {
    check_taxa(
        BOOK,
        "[[heading]]\nwords = \"1. Silene alta\"\nrank = \"subspecies\"",
        &[
            "t0000 genus Silene <-: ",
            "t0001 subspecies Silene alta <t0000 (amended): Herb with hairy leaves. / dunes.",
            "t0002 species Silene rubra <t0000: Herb with red petals. / Silene nivea Mor. Herb with white petals. / screes.",
        ],
    );
}

#[test]
fn an_amendment_that_fits_nowhere_is_a_doubt() {
    let (flora, outcomes) = amend(BOOK, "[[lead]]\nwords = \"Fruit blue\"\npage = 1\nno-lead = true");
    assert!(matches!(&outcomes[..], [Outcome::Unfit(_)]));
    let doubts: Vec<&str> = flora
        .doubts
        .iter()
        .filter(|doubt| doubt.kind == DoubtKind::Amendment)
        .map(|doubt| doubt.advice.as_str())
        .collect();
    let told = "the amendment that this is no lead no longer fits: no lead of the book begins so; set it right or take it out";
    assert_eq!(doubts, [told]);
}

#[test]
fn doubts_that_an_amendment_settles_are_gone() {
    let drawn = BOOK.replace("......... S. rubra", "......... ???");
    let unresolved =
        |flora: &Flora| flora.doubts.iter().filter(|doubt| doubt.kind == DoubtKind::UnresolvedTarget).count();
    assert_eq!(unresolved(&book(&drawn)), 1);
    let (flora, _) =
        amend(&drawn, "[[lead]]\nwords = \"Petals red\"\ngoes-to = { taxon = \"Silene rubra\" }");
    assert_eq!(unresolved(&flora), 0);
}

#[test]
fn an_entry_that_is_written_is_read_as_it_was() {
    let at = LeadAt {
        words: "Leaves “hairy” \\ below".to_owned(),
        label: Some("4b".to_owned()),
        key: Some("Key to the species".to_owned()),
        page: Some(12),
    };
    let heading = HeadingAt { words: "SILENE L.".to_owned(), page: None };
    let all = [
        Amendment::Lead(
            at.clone(),
            LeadChange::GoesTo(To::Couplet("7".to_owned(), Some("Petals".to_owned()))),
        ),
        Amendment::Lead(at.clone(), LeadChange::GoesTo(To::Key("Group C".to_owned()))),
        Amendment::Lead(at, LeadChange::NoLead),
        Amendment::Heading(heading.clone(), HeadingChange::Rank(Rank::Genus)),
        Amendment::Heading(heading, HeadingChange::NoHeading),
    ];
    let file: String = std::iter::once(PREAMBLE.to_owned()).chain(all.iter().map(entry)).collect();
    assert_eq!(read(&file).expect("it was written here"), all);
}

/// Checks that a file is refused in these words.
#[track_caller]
fn check_refused(file: &str, words: &str) {
    let error = read(file).expect_err("a fault in it").to_string();
    assert!(error.contains(words), "{error}");
}

#[test]
fn a_file_with_a_fault_is_refused_with_its_line_or_its_words() {
    check_refused("[[lead]]\nwords = \"a\"\nleads-to = 3", "line 3: unknown field `leads-to`");
    check_refused("[[lead]]\nwords = \"Leaves\"", "the lead “Leaves” must have exactly one of");
    check_refused("[[heading]]\nwords = \"X\"\nrank = \"order\"", "ranks are family, subfamily");
}
