//! What a question finds: how it was understood, the taxa with what their descriptions say to it, other places.

use std::collections::BTreeSet;

use crate::keying::End;
use crate::model::TaxonId;
use crate::reader::command::Command;
use crate::reader::library::{Library, count};
use crate::reader::place::Item;
use crate::reader::plants::Plants;
use crate::reader::sheet::{Composer, Desk, Go, Sheet};
use crate::search::{self, Answer, Found, Hit, Narrow, Narrowed, Ranked, Says, Share, Verdict};

/// Most taxa that are listed; more than a reader goes through.
const MOST_TAXA: usize = 60;

/// Taxa whose reasons are told in sentences; those further down in words only.
const WITH_SENTENCES: usize = 12;

/// Groups that a line of counts names at most.
const MOST_GROUPS: usize = 4;

/// Letters of a clause that are shown at most.
const LONGEST_CLAUSE: usize = 160;

/// Columns by which reasons and ways on are set in.
const STEP: u16 = 2;

/// Puts together what a question finds in the whole flora.
pub(super) fn sheet(library: &Library, words: &str, desk: &Desk<'_>) -> Sheet {
    let mut sheet = Sheet::titled("Search");
    if desk.plants.is_keyed() {
        let key = desk.keys.first(Command::Among);
        let plant = &desk.plants.here().name;
        sheet.faint(&format!(
            "The whole flora is searched; {key} searches what is still possible for {plant}."
        ));
    }
    found(sheet, library, words, &Narrow::default())
}

/// Puts together what a question finds among the taxa still possible for the plant at hand.
pub(super) fn among_possible(library: &Library, words: &str, desk: &Desk<'_>) -> Sheet {
    let narrow = possible(library, desk.plants);
    let (plant, key) = (desk.plants.here(), desk.keys.first(Command::Among));
    let mut sheet = Sheet::titled(format!("Search what is possible for {}", plant.name));
    let taxa = count(narrow.among.as_ref().map_or(0, BTreeSet::len) as u32, "taxon is", "taxa are");
    let next = if desk.shelf.len() > 1 { "all floras" } else { "the whole flora" };
    sheet.faint(&format!("{taxa} still possible for {}; {key} searches {next}.", plant.name));
    found(sheet, library, words, &narrow)
}

/// Narrows to the taxa still possible for the plant at hand.
pub(super) fn possible(library: &Library, plants: &Plants) -> Narrow {
    let graph = library.graph();
    let treated = |end| match graph.end(end) {
        Some(End::Treated(id)) => Some(*id),
        Some(End::Named(_)) | None => None,
    };
    let ends = plants.here().branch().possible(graph).into_iter();
    let among: BTreeSet<TaxonId> = ends.filter_map(treated).collect();
    Narrow { among: Some(among), ..Narrow::default() }
}

/// Goes on with what a question finds.
fn found(mut sheet: Sheet, library: &Library, words: &str, narrow: &Narrow) -> Sheet {
    if words.trim().is_empty() {
        sheet.faint("Type words: what you see, as a flora would say it or in plain words, or a name.");
        sheet.faint("So: leaves opposite, hairless; petals 5, yellow, 8 mm; not spiny; July. \"Words in quotes\" stand together.");
        return sheet;
    }
    let answer = match library.ask(words, narrow, MOST_TAXA) {
        Ok(answer) => answer,
        Err(sorry) => {
            sheet.faint(&sorry);
            return sheet;
        }
    };
    echo(&mut sheet, &answer);
    counts(&mut sheet, &answer);
    for (at, taxon) in answer.taxa.iter().enumerate() {
        push_taxon(&mut sheet, library, &answer, (at, taxon));
    }
    if !answer.elsewhere.is_empty() {
        sheet.heading("Elsewhere in the book");
        answer.elsewhere.iter().for_each(|hit| push_hit(&mut sheet, library, hit));
    }
    if sheet.stops.is_empty() {
        sheet.faint("Nothing found: no treatment, couplet, page or word answers to this.");
    }
    sheet.about = about(&answer);
    sheet
}

/// Says in short what was found.
pub(super) fn about(answer: &Answer) -> String {
    if answer.taxa.is_empty() {
        return count(answer.elsewhere.len() as u32, "hit", "hits");
    }
    format!("{} of {} contradicted by nothing", answer.fitting, count(answer.candidates, "taxon", "taxa"))
}

/// Says what was understood, part by part, and what was not.
pub(super) fn echo(sheet: &mut Sheet, answer: &Answer) {
    let understood = understood(answer);
    if !understood.is_empty() {
        sheet.faint(&format!("Asked: {understood}"));
    }
    for part in answer.parts.iter().filter(|part| !search::is_understood(part)) {
        sheet.faint(&format!("“{}”: {}", part.words, search::echo(part)));
    }
    let known = |part: &Narrowed| part.means.as_ref().map(|means| format!("only {means}"));
    let narrowed: Vec<String> = answer.narrowed.iter().filter_map(known).collect();
    if !narrowed.is_empty() {
        sheet.faint(&format!("Narrowed: {}", narrowed.join(" · ")));
    }
    for part in answer.narrowed.iter().filter(|part| part.means.is_none()) {
        sheet.faint(&format!("“{}”: nothing known is named, so nothing is narrowed", part.words));
    }
}

/// Returns what was understood, part by part.
pub(super) fn understood(answer: &Answer) -> String {
    let parts = answer.parts.iter().filter(|part| search::is_understood(part)).map(search::echo);
    parts.collect::<Vec<String>>().join(" · ")
}

/// Says how the taxa that fit are shared out.
fn counts(sheet: &mut Sheet, answer: &Answer) {
    let line = |shares: &[Share]| {
        let named: Vec<String> =
            shares.iter().take(MOST_GROUPS).map(|share| format!("{} {}", share.name, share.taxa)).collect();
        let more = if shares.len() > MOST_GROUPS { " …" } else { "" };
        format!("{}{more}", named.join(", "))
    };
    if answer.families.len() > 1 {
        sheet.faint(&format!("Families: {}", line(&answer.families)));
    } else if answer.genera.len() > 1 {
        sheet.faint(&format!("Genera: {}", line(&answer.genera)));
    }
}

/// Adds a taxon: its name, then what its description says to each part.
fn push_taxon(sheet: &mut Sheet, library: &Library, answer: &Answer, (at, taxon): (usize, &Ranked)) {
    let place = format!(" · {}", library.page_words(taxon.page));
    let through = match &taxon.through {
        Some((name, true)) => format!(" · found as its synonym {name}"),
        Some((name, false)) => format!(" · {name}"),
        None => String::new(),
    };
    let mut row = Composer::new().bold(&taxon.name).add(&place).add(&through);
    for (words, verdict) in said(answer, taxon, Says::Contradicts) {
        row = row.add(&format!(" · against “{words}”{}", whence(library, taxon, verdict)));
        row = clause(row, library, verdict, at);
    }
    for says in [Says::Agrees, Says::Rarely] {
        let agreeing = said(answer, taxon, says);
        if at >= WITH_SENTENCES && !agreeing.is_empty() {
            let words: Vec<&str> = agreeing.iter().map(|(words, _)| *words).collect();
            row = row.add(&format!(" · {}: {}", says.word(), words.join(", ")));
            continue;
        }
        let mut before = String::new();
        for (words, verdict) in agreeing {
            let sentence =
                verdict.source.as_ref().and_then(|source| library.said(source)).unwrap_or_default();
            let again = sentence == before && !sentence.is_empty();
            let rarely = if says == Says::Rarely { "rarely " } else { "" };
            row = row.add(&format!(" · {rarely}{words}{}", whence(library, taxon, verdict)));
            if !again {
                row = clause(row, library, verdict, at);
            }
            before = sentence;
        }
    }
    let silent: Vec<&str> = said(answer, taxon, Says::Unstated).into_iter().map(|(words, _)| words).collect();
    if !silent.is_empty() {
        row = row.add(&format!(" · unstated: {}", silent.join(", ")));
    }
    for (part, _, source) in taxon.compared.iter().filter(|_| at < WITH_SENTENCES) {
        let (Some(part), Some(words)) = (answer.parts.get(*part), library.said(source)) else { continue };
        row = row.add(&format!(" · in a note, perhaps of another taxon: {}: ", part.words)).italic(&words);
    }
    sheet.push_row(row.text(), 0, Go::To(Item::Treatment(taxon.id)));
    if let Some(stop) = sheet.stops.last_mut() {
        stop.taxon = Some(taxon.id);
    }
    if let Some((key, couplet)) = taxon.keyed.filter(|_| at < WITH_SENTENCES) {
        let words = format!(
            "keys out at couplet {}, {}",
            library.couplet_label(key, couplet),
            library.key_title(key)
        );
        sheet.push_row(Composer::new().add(&words).text(), STEP, Go::To(Item::Couplet(key, couplet)));
    }
}

/// Returns the parts to which a taxon says this, with the verdicts.
pub(super) fn said<'a>(answer: &'a Answer, taxon: &'a Ranked, says: Says) -> Vec<(&'a str, &'a Verdict)> {
    let parts = answer.parts.iter().zip(&taxon.verdicts);
    let fitting = parts.filter(|(part, verdict)| verdict.says == says && search::is_understood(part));
    fitting.map(|(part, verdict)| (part.words.as_str(), verdict)).collect()
}

/// Says whose words a verdict rests on, where they are not the taxon's own.
fn whence(library: &Library, taxon: &Ranked, verdict: &Verdict) -> String {
    if let Some((agree, said)) = verdict.members {
        return format!(" in {agree} of {said} members");
    }
    let other = verdict.source.as_ref().filter(|source| source.taxon != taxon.id);
    let row = other.and_then(|source| library.taxon_row(source.taxon));
    row.map_or_else(String::new, |row| format!(" (inherited from {})", row.name))
}

/// Adds the clause that says it, cut where it is long.
fn clause(row: Composer, library: &Library, verdict: &Verdict, at: usize) -> Composer {
    let Some(words) =
        verdict.source.as_ref().filter(|_| at < WITH_SENTENCES).and_then(|source| library.said(source))
    else {
        return row;
    };
    let short: String = words.chars().take(LONGEST_CLAUSE).collect();
    let more = if short.len() < words.len() { "…" } else { "" };
    row.add(": ").italic(&format!("{short}{more}"))
}

/// Adds a hit of the text.
fn push_hit(sheet: &mut Sheet, library: &Library, hit: &Hit) {
    let (what, go) = match &hit.what {
        Found::Taxon(id) => ("", Go::To(Item::Treatment(*id))),
        Found::Couplet(key, couplet) => ("", Go::To(Item::Couplet(*key, *couplet))),
        Found::Matter(id, paragraph) => ("", Go::Paragraph(Item::Matter(*id), *paragraph as usize)),
        Found::Entry(_) => ("word ", Go::To(Item::Term(vec![hit.title.clone()]))),
    };
    let place = format!(" · {}", library.page_words(hit.page));
    let row = Composer::new().add(what).bold(&hit.title).add(&place).add(": ").add(&hit.snippet);
    sheet.push_row(row.text(), 0, go);
}
