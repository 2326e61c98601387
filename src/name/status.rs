//! What may stand behind a name and its author and belongs to neither: its standing under the Code, namesakes, how others used
//! it, how widely it is meant (N12, N13).

use super::author;

/// What stands behind a name.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Status {
    /// As printed, without the comma before it.
    pub words: String,
    /// Whether the name is told as others used it (`auct. non Vahl`, `sensu Smith`): no synonym, and by no author.
    pub misapplied: bool,
    /// Bytes from the start of the text given, commas and blanks included.
    pub len: usize,
}

/// Standings under the Code and widths of a concept.
const STANDINGS: &[&str] = &[
    "nom. cons.",
    "nom. nud.",
    "nom. illeg.",
    "nom. inval.",
    "nom. nov.",
    "nom. rej.",
    "nom. superfl.",
    "nom. dub.",
    "nom. ambig.",
    "orth. var.",
    "sp. nov.",
    "gen. nov.",
    "comb. nov.",
    "stat. nov.",
    "hyb. nov.",
    "subsp. nov.",
    "var. nov.",
    "ined.",
    "p.p.",
    "p. p.",
    "pro parte",
    "s.l.",
    "s. l.",
    "s.lat.",
    "sens. lat.",
    "s.str.",
    "s. str.",
    "sens. str.",
    "agg.",
    "pro sp.",
    "pro hyb.",
];

/// Words that tell a use and no author.
const USES: &[&str] = &["auct. mult.", "auctt.", "auct.", "sensu", "hort.", "sens."];

/// Words that name the author of an older namesake.
const NAMESAKES: &[&str] = &["non", "nec", "not"];

/// Reads what stands behind a name and its authorship; empty where nothing of the sort does.
pub fn status(rest: &str) -> Status {
    let mut found = Status::default();
    loop {
        let tail = &rest[found.len..];
        let skipped = tail.len() - tail.trim_start_matches([',', ' ', ';']).len();
        let here = &tail[skipped..];
        let Some(len) = one(here, found.misapplied || found.len > 0 || tail.starts_with(',')) else { break };
        found.misapplied |= begins(here, USES).is_some();
        if !found.words.is_empty() {
            found.words.push_str(&tail[..skipped]);
        }
        found.words.push_str(&here[..len]);
        found.len += skipped + len;
    }
    found
}

/// Returns the bytes of one standing, use or namesake at the start of a text.
fn one(here: &str, may_be_namesake: bool) -> Option<usize> {
    if let Some(len) = begins(here, STANDINGS) {
        return Some(len);
    }
    if let Some(len) = begins(here, USES) {
        return Some(len + author::length(&here[len..]));
    }
    let len = begins(here, NAMESAKES).filter(|_| may_be_namesake)?;
    let author = author::length(&here[len..]);
    if author == 0 {
        return begins(here[len..].trim_start(), USES).map(|use_len| {
            let skipped = here[len..].len() - here[len..].trim_start().len();
            len + skipped + use_len
        });
    }
    let end = len + author;
    // The year of the namesake: `non L. 1753`.
    let year = here[end..].trim_start().chars().take_while(char::is_ascii_digit).count();
    let blanks = here[end..].len() - here[end..].trim_start().len();
    Some(if year == 4 { end + blanks + year } else { end })
}

fn begins(here: &str, words: &[&str]) -> Option<usize> {
    let whole = |word: &&&str| {
        here.strip_prefix(**word)
            .is_some_and(|rest| word.ends_with('.') || !rest.starts_with(char::is_alphanumeric))
    };
    words.iter().filter(whole).map(|word| word.len()).max()
}
