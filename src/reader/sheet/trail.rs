//! The trail of the plant at hand, and the list of plants: what was decided, what waits, which branches there are.

use crate::keying::{Branch, Decision, Spot, Sureness};
use crate::reader::library::{Library, count};
use crate::reader::place::Item;
use crate::reader::plants::{Plants, branch_name};
use crate::reader::sheet::{Composer, Desk, Go, Sheet};

/// What branches are.
const BRANCHES: &str = "Another answer at a couplet begins a branch beside the one before; both are kept.";

/// Puts together the trail.
pub(super) fn trail(library: &Library, desk: &Desk<'_>) -> Sheet {
    let plants = desk.plants;
    let plant = plants.here();
    let branch = plant.branch();
    let mut sheet = Sheet::titled(format!("Trail of {}", plant.name));
    let ends = branch.possible(library.graph());
    let possible = ends.len() as u32;
    let of_several = match plant.branches.len() {
        1 => String::new(),
        all => format!("{} of {all} · ", branch_name(plant.at)),
    };
    sheet.about = format!(
        "{of_several}{} · {} possible",
        count(branch.decisions.len() as u32, "decision", "decisions"),
        count(possible, "taxon", "taxa")
    );
    if let Some(reason) = &branch.dropped {
        sheet.faint(&given_up(reason));
    }
    if branch.decisions.is_empty() {
        sheet.faint(&desk.keys.fill(
            "Nothing is decided yet: take a lead of any couplet by its number, or keep all open with {cannot-tell}.",
        ));
    }
    let mut key = "";
    for (at, decision) in branch.decisions.iter().enumerate() {
        if decision.printed.key != key {
            key = &decision.printed.key;
            sheet.heading(key);
        }
        row_of(&mut sheet, library, (at, decision));
    }
    waiting(&mut sheet, library, branch);
    sheet.heading("Still possible");
    let words = match ends.first() {
        Some(end) if possible == 1 => format!("1 taxon: {}", library.end_name(*end)),
        Some(_) => format!("{possible} taxa, all of them by family"),
        None => "no taxon: no lead is left open".to_owned(),
    };
    sheet.push_row(Composer::new().add(&words).text(), 0, Go::To(Item::Possible(None)));
    if plant.branches.len() > 1 {
        sheet.heading("Branches");
        sheet.faint(BRANCHES);
        for (at, branch) in plant.branches.iter().enumerate() {
            branch_row(&mut sheet, library, (at, branch), at == plant.at);
        }
    }
    sheet
}

/// Puts together the list of plants.
pub(super) fn plants(library: &Library, plants: &Plants) -> Sheet {
    let mut sheet = Sheet::titled("Plants");
    sheet.about = count(plants.all().len() as u32, "plant", "plants");
    for (at, plant) in plants.all().iter().enumerate() {
        let decisions: usize = plant.branches.iter().map(|branch| branch.decisions.len()).max().unwrap_or(0);
        let possible = plant.possible(library.graph()).len() as u32;
        let facts = format!(
            " · {} · {} possible{}",
            count(decisions as u32, "decision", "decisions"),
            count(possible, "taxon", "taxa"),
            if at == plants.at() { " · at hand" } else { "" }
        );
        sheet.push_row(Composer::new().bold(&plant.name).add(&facts).text(), 0, Go::Plant(at));
    }
    sheet
}

/// Returns the words by which a branch was given up.
fn given_up(reason: &str) -> String {
    if reason.is_empty() { "given up".to_owned() } else { format!("given up: {reason}") }
}

fn row_of(sheet: &mut Sheet, library: &Library, (at, decision): (usize, &Decision)) {
    let sureness = match decision.sureness {
        Sureness::Sure => "",
        Sureness::Doubtful => " · doubtful",
        Sureness::CannotTell => "could not be told; every lead is kept open",
    };
    let words: Vec<&str> = match decision.sureness {
        Sureness::CannotTell => Vec::new(),
        Sureness::Sure | Sureness::Doubtful => decision
            .kept
            .iter()
            .filter_map(|lead| decision.printed.leads.get(*lead))
            .map(String::as_str)
            .collect(),
    };
    let words = words.join(" / ");
    let note = if decision.note.is_empty() { String::new() } else { format!(" · note: {}", decision.note) };
    let lost = if decision.lost { " · no longer in this book" } else { "" };
    let text = Composer::new()
        .bold(&format!("{} ", label_of(library, decision)))
        .add(&words)
        .bold(sureness)
        .add(&note)
        .add(lost)
        .text();
    sheet.push_row(text, 0, Go::Decision(at, decision.spot));
}

/// Returns the printed label of the lead that was taken; the couplet's where there is none, or where more are open.
fn label_of(library: &Library, decision: &Decision) -> String {
    let couplet = &decision.printed.couplet;
    let [lead] = decision.kept.iter().copied().collect::<Vec<_>>()[..] else { return couplet.clone() };
    let key = library.book.key(decision.spot.key).filter(|_| !decision.lost);
    let found = key.and_then(|key| key.couplet(decision.spot.couplet)?.leads.get(lead)?.label.clone());
    match found.map(|label| label.trim_end_matches(['.', ')']).to_owned()) {
        Some(label) if label.starts_with(couplet.as_str()) => label,
        Some(label) if !label.chars().any(char::is_numeric) => format!("{couplet}{label}"),
        Some(_) | None => format!("{couplet}, lead {}", lead + 1),
    }
}

fn waiting(sheet: &mut Sheet, library: &Library, branch: &Branch) {
    for (at, spot) in branch.waiting(library.graph()).into_iter().enumerate() {
        if at == 0 {
            sheet.heading("Waiting for a decision");
        }
        sheet.push_row(couplet_words(library, spot), 0, Go::To(Item::Couplet(spot.key, spot.couplet)));
    }
}

fn couplet_words(library: &Library, spot: Spot) -> crate::model::Text {
    let taxa = library.possible(spot.key, spot.couplet);
    let taxa = taxa.map(|taxa| format!(" · {}", count(taxa, "taxon", "taxa"))).unwrap_or_default();
    let label = library.couplet_label(spot.key, spot.couplet);
    Composer::new()
        .add("couplet ")
        .bold(&label)
        .add(&format!(" · {}{taxa}", library.key_title(spot.key)))
        .text()
}

fn branch_row(sheet: &mut Sheet, library: &Library, (at, branch): (usize, &Branch), at_hand: bool) {
    let possible = branch.possible(library.graph());
    let names: Vec<String> = possible.iter().take(3).map(|end| library.end_name(*end)).collect();
    let more = if possible.len() > names.len() { " …" } else { "" };
    let facts = format!(
        " · {} · {}: {}{more}",
        count(branch.decisions.len() as u32, "decision", "decisions"),
        count(possible.len() as u32, "taxon", "taxa"),
        names.join(", ")
    );
    let dropped =
        branch.dropped.as_deref().map(|reason| format!(" · {}", given_up(reason))).unwrap_or_default();
    let hand = if at_hand { " · at hand" } else { "" };
    let text = Composer::new().bold(&branch_name(at)).add(&facts).add(&dropped).add(hand).text();
    sheet.push_row(text, 0, Go::Branch(at));
}
