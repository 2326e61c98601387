//! Coded synopses (K9): an outline by depth gives codes (`A`, `A C`), and a list below it goes from code by characters
//! to taxa. Rows of one code are one couplet; the only row of a code is said on with the outline's lead.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use regex::Regex;

use crate::model::Text;
use crate::name;
use crate::parse::look;

use super::depth::{self, Standing};
use super::label::{Label, Scheme, Series};
use super::outline::{parted, role, row_label};
use super::read::{RawCouplet, RawKey, RawLead};
use super::statement::{Role, Seen, Source, Statement, gather, raw_key};
use super::target::{Named, Printed};
use super::title;

static CODE: LazyLock<Regex> =
    LazyLock::new(|| Regex::new(r"^[A-Z](?: ?[A-Z0-9]){0,4}$").expect("a fixed pattern"));
static ROW: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"^([A-Z](?: [A-Z0-9]){0,4})[.)]?\s+(?:\p{Lu}\p{Ll}|\()").expect("a fixed pattern")
});

/// Codes that an outline gives at least.
const FEWEST_CODES: usize = 3;

/// Reads the synopsis that begins at a block below a title.
pub(super) fn read(source: &Source<'_>, start: usize) -> Option<RawKey> {
    title::above(source.blocks, start, source.body_size)?;
    let (statements, end) = gather(source, start, &mut |seen| coded_role(seen, source));
    let statements = parted(statements, &label);
    let targets: Vec<(usize, Printed)> = statements.iter().map(|one| one.target(source)).collect();
    let gives: Vec<Option<&str>> = targets
        .iter()
        .map(|(_, printed)| Some(printed.words.trim()).filter(|words| CODE.is_match(words)))
        .collect();
    let outline = gives.iter().rposition(Option::is_some)? + 1;
    let mut rows = Rows::new();
    for (at, row) in statements.iter().enumerate().skip(outline) {
        rows.entry(row.label.printed.as_str()).or_default().push(at);
    }
    let codes: Vec<&str> = gives.iter().flatten().copied().collect();
    let fits = codes.len() >= FEWEST_CODES
        && rows.keys().all(|code| codes.contains(code))
        && rows.len() * 2 > codes.len()
        && statements.iter().take(outline).all(|one| one.label.printed.is_empty());
    fits.then(|| put_together(source, &statements, (&targets, outline, &rows), start..end))
}

/// The statements of each code.
type Rows<'a> = BTreeMap<&'a str, Vec<usize>>;

fn put_together(
    source: &Source<'_>,
    statements: &[Statement],
    (targets, outline, rows): (&[(usize, Printed)], usize, &Rows<'_>),
    blocks: std::ops::Range<usize>,
) -> RawKey {
    let standing: Vec<Standing> = statements[..outline]
        .iter()
        .zip(targets)
        .map(|(one, (_, printed))| Standing {
            indent: one.indent(),
            has_target: !printed.words.is_empty(),
            label: None,
        })
        .collect();
    let found = depth::couplets(&standing);
    let mut couplets: Vec<RawCouplet> =
        found.couplets.into_iter().map(|leads| RawCouplet { series: Series::Bullet, leads }).collect();
    let mut leads: Vec<RawLead> = Vec::new();
    for at in 0..outline {
        let mut lead = statements[at].lead(targets[at].clone());
        lead.odd = found.odd.contains(&at);
        // An outline's lead may end in a colon, which is no character.
        let bare = lead.text.plain.trim_end_matches([':', ' ']).len();
        lead.text = lead.text.slice(0..bare);
        if let Some([only]) = rows.get(targets[at].1.words.trim()).map(Vec::as_slice) {
            let row = statements[*only].lead(targets[*only].clone());
            lead.text = said_on(&lead.text, &row.text);
            lead.target = row.target;
        }
        leads.push(lead);
    }
    for at in 0..outline {
        let Some(row) = rows.get(targets[at].1.words.trim()).filter(|row| row.len() > 1) else { continue };
        leads[at].target.named = vec![Named::Couplet(couplets.len())];
        let first = leads.len();
        leads.extend(row.iter().map(|row| statements[*row].lead(targets[*row].clone())));
        couplets.push(RawCouplet { series: Series::Bullet, leads: (first..leads.len()).collect() });
    }
    raw_key(source, leads, couplets, blocks)
}

/// Two texts as two sentences of one.
fn said_on(one: &Text, other: &Text) -> Text {
    let stop = if one.plain.ends_with(['.', ';']) { " " } else { ". " };
    let plain = format!("{}{stop}{}", one.plain, other.plain);
    let shift = (plain.len() - other.plain.len()) as u32;
    let pages = one.pages.iter().copied().chain(other.pages.iter().map(|(at, page)| (at + shift, *page)));
    Text { plain, styles: Vec::new(), pages: pages.collect() }
}

fn coded_role(seen: &Seen<'_>, source: &Source<'_>) -> Role {
    if seen.first && is_side_heading(seen, source) {
        return Role::Between;
    }
    role(seen, source, &label)
}

/// A line in italics or small capitals between outline and list, which names no taxon.
fn is_side_heading(seen: &Seen<'_>, source: &Source<'_>) -> bool {
    let look = look::look(seen.block, source.body_size);
    let one_line = seen.block.lines.len() == 1 && seen.line.runs.len() == 1;
    let words = seen.words.str();
    let names = source.known.contains(&name::fold(words)) || words.contains(|c: char| c.is_ascii_digit());
    one_line && look.stands_out() && !look.bold && !names
}

fn label(words: &str) -> Label {
    let Some(found) = ROW.captures(words) else { return row_label("", 0, Scheme::Coded) };
    let code = found.get(1).map_or("", |code| code.as_str());
    let after = words[code.len()..].trim_start_matches(['.', ')']).trim_start();
    row_label(code, words.len() - after.len(), Scheme::Coded)
}
