//! The licence statement that a book prints, if it does: looked for on its first and last pages.

use std::sync::LazyLock;

use regex::Regex;

use crate::layout::Setting;

use super::compose::compose;

/// Pages at either end of a book where a licence is printed (common practice).
const PAGES: usize = 8;
/// A sentence longer than this, in bytes, is cut.
const LONGEST: usize = 300;

static STATEMENT: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"(?i)\bCC[ -]?(?:BY|0)\b|creative commons|public domain|all rights reserved|\blicen[cs]ed? under\b|open government licence|copyright|©").expect("a fixed pattern")
});

static OPEN: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"(?i)\bCC[ -]?(?:BY|0)\b|creative commons|public domain|open government licence")
        .expect("a fixed pattern")
});

/// Returns the sentence that states the licence.
pub fn license(setting: &Setting) -> Option<String> {
    let last = setting.pages.len().saturating_sub(PAGES) as u32;
    let near = setting.blocks.iter().filter(|block| {
        block.lines.first().is_some_and(|line| line.page <= PAGES as u32 || line.page > last)
    });
    let statements: Vec<String> = near
        .map(|block| compose(&block.lines).text.plain)
        .filter_map(|plain| {
            let found = OPEN.find(&plain).or_else(|| STATEMENT.find(&plain))?;
            let start = plain[..found.start()].rfind(". ").map_or(0, |at| at + 2);
            let end = plain[found.end()..].find(". ").map_or(plain.len(), |at| found.end() + at + 1);
            let end = (start..=end.min(start + LONGEST))
                .rev()
                .find(|at| plain.is_char_boundary(*at))
                .unwrap_or(plain.len());
            Some(plain[start..end].trim().to_owned())
        })
        .collect();
    // An open licence says more than a bare claim of copyright.
    let open = statements.iter().find(|statement| OPEN.is_match(statement));
    open.or_else(|| statements.first()).cloned()
}
