//! Readings set against the leads of a couplet or a treatment: the printed words, and how each reading lies to them.

use crate::describe::{self, Concepts, Fact, Lies, Span, lineage};
use crate::keying::{Readings, Spot, Verdict, Widest, outline};
use crate::model::{SectionKind, TaxonId, Text};
use crate::reader::library::Library;
use crate::reader::sheet::{Composer, Sheet};

/// Puts readings beside the leads of a couplet.
pub(super) fn leads(library: &Library, spot: Spot, typed: &str) -> Sheet {
    let label = library.couplet_label(spot.key, spot.couplet);
    let mut sheet = Sheet::titled(format!("Measured for couplet {label}"));
    let Some(readings) = head(&mut sheet, typed) else { return sheet };
    let couplet = library.book.key(spot.key).and_then(|key| key.couplet(spot.couplet));
    let leads = couplet.map_or(&[][..], |couplet| &couplet.leads);
    sheet.page = leads.first().map(|lead| lead.text.page());
    let concepts = Concepts::new(&library.lexicon);
    let key = library.book.key(spot.key);
    let grounds = key.map(|key| library.grounds_of_leads(key, spot.couplet)).unwrap_or_default();
    let mut grounds = grounds.into_iter();
    for (number, lead) in leads.iter().enumerate() {
        sheet.grounds = grounds.next().unwrap_or_default();
        let label = lead.label.clone().unwrap_or_else(|| (number + 1).to_string());
        sheet.heading(&format!("lead {label}"));
        let facts = describe::facts(&lead.text.plain, &concepts);
        verdicts(&mut sheet, library, &readings, (&lead.text, &facts, ""));
    }
    shape(&mut sheet, &readings);
    sheet
}

/// Puts readings beside a treatment and those of the taxa above it.
pub(super) fn treatment(library: &Library, taxon: TaxonId, typed: &str) -> Sheet {
    let name = library.taxon_row(taxon).map(|row| row.name.clone()).unwrap_or_default();
    let mut sheet = Sheet::titled(format!("Measured for {name}"));
    let Some(readings) = head(&mut sheet, typed) else { return sheet };
    let concepts = Concepts::new(&library.lexicon);
    let parent = |id: TaxonId| library.taxon_row(id).and_then(|row| row.parent);
    for id in lineage(taxon, parent) {
        let (Some(row), Some(treated)) = (library.taxon_row(id), library.book.taxon(id)) else { continue };
        let whose = if id == taxon { String::new() } else { format!("({}) ", row.rank.word()) };
        sheet.heading(&row.name);
        sheet.grounds = library.grounds_of(id);
        let mut any = false;
        for section in treated.sections.iter().filter(|section| section.kind == SectionKind::Description) {
            let facts = describe::facts(&section.text.plain, &concepts);
            any |= !readings.against(&facts).is_empty();
            if !readings.against(&facts).is_empty() {
                verdicts(&mut sheet, library, &readings, (&section.text, &facts, &whose));
            }
        }
        if !any {
            sheet.faint(NOTHING);
        }
    }
    shape(&mut sheet, &readings);
    sheet
}

/// Sets readings against one character: whether none lies outside of what it states, and how they lie in words; else why
/// they can't be set against it.
pub(crate) fn against(library: &Library, typed: &str, text: &str) -> Result<(bool, String), String> {
    let readings = Readings::parse(typed).map_err(|unread| format!("{typed:?} can't be read: {unread}"))?;
    let facts = describe::facts(text, &Concepts::new(&library.lexicon));
    let verdicts = readings.against(&facts);
    if verdicts.is_empty() {
        return Err(NOTHING.to_owned());
    }
    let inside = |lies: &Lies| matches!(lies, Lies::Usual | Lies::Exceptional);
    let fits = verdicts.iter().all(|verdict| verdict.lies.iter().all(inside));
    Ok((fits, verdicts.iter().map(words).collect::<Vec<_>>().join("; ")))
}

/// What is said where a text has no measure that the readings could be set against.
const NOTHING: &str = "not comparable: it states no such measure";

/// Reads what was typed and says what was understood.
fn head(sheet: &mut Sheet, typed: &str) -> Option<Readings> {
    match Readings::parse(typed) {
        Ok(readings) => {
            sheet.about = understood(&readings);
            if readings.is_single() {
                sheet.faint("One reading is little: measure several parts of the plant.");
            }
            Some(readings)
        }
        Err(unread) => {
            sheet.faint(&format!("{typed:?} can't be read: {unread}."));
            None
        }
    }
}

fn understood(readings: &Readings) -> String {
    let list = |values: &[f32]| values.iter().map(|value| plain(*value)).collect::<Vec<_>>().join(", ");
    let organ = readings.organ.map(|organ| format!("{organ} ")).unwrap_or_default();
    if !readings.counts.is_empty() {
        return format!("{organ}counted: {}", list(&readings.counts));
    }
    let widths =
        if readings.widths.is_empty() { String::new() } else { format!(" × {}", list(&readings.widths)) };
    format!("{organ}{}{widths} mm", list(&readings.lengths))
}

fn verdicts(
    sheet: &mut Sheet,
    library: &Library,
    readings: &Readings,
    (text, facts, whose): (&Text, &[Fact], &str),
) {
    let verdicts = readings.against(facts);
    if verdicts.is_empty() {
        sheet.faint(NOTHING);
    }
    for verdict in verdicts {
        let fact = &facts[verdict.fact];
        let organ = fact.organ.map(|organ| format!("{organ}: ")).unwrap_or_default();
        let said = text.slice(fact.range.clone());
        let composer = Composer::new().bold(&words(&verdict)).add(&format!(" · {whose}{organ}"));
        let from = composer.len();
        sheet.push_linked(library, composer.text_of(&said).text(), from);
    }
}

/// Returns in words how the readings lie to one stated measure.
fn words(verdict: &Verdict) -> String {
    let of = |lies: Lies| verdict.lies.iter().filter(|other| **other == lies).count();
    let parts = [
        (of(Lies::Usual), usual(&verdict.span)),
        (of(Lies::Exceptional), "in the exceptional range only"),
        (of(Lies::JustOutside), "just outside"),
        (of(Lies::Outside), "outside"),
    ];
    let parts = parts.iter().filter(|(count, _)| *count > 0);
    let all = verdict.lies.len();
    let parts: Vec<String> = parts
        .map(
            |(count, words)| if all == 1 { (*words).to_owned() } else { format!("{count} of {all} {words}") },
        )
        .collect();
    let about = if verdict.span.about { " (approximate)" } else { "" };
    format!("{}{about}", parts.join(", "))
}

fn usual(span: &Span) -> &'static str {
    if span.is_upper_only() {
        "below the upper limit, the only one stated"
    } else if span.is_lower_only() {
        "above the lower limit, the only one stated"
    } else {
        "in the usual range"
    }
}

/// Adds the words for the outline, with their source.
fn shape(sheet: &mut Sheet, readings: &Readings) {
    let Some(ratio) = readings.ratio() else { return };
    sheet.heading(&format!("{} times as long as wide", plain(ratio)));
    for widest in Widest::ALL {
        if let Some(word) = outline(ratio, widest) {
            sheet.faint(&format!("{}: {word}", widest.words()));
        }
    }
    sheet.faint(
        "Classes of the Systematics Association, 1962; what this flora's own glossary says goes first.",
    );
}

/// Returns a number with at most two decimals.
fn plain(value: f32) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
