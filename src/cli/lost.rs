//! Pages that could not be read, or only in part, come in with why; lines that name every one of them go out.

/// Reasons that are told in full; the pages of all others are named in one line.
const REASONS: usize = 8;

/// Returns what to say: a line for each reason, in the order of the first page that has it.
pub(crate) fn told(pages: impl Iterator<Item = (u32, String)>) -> Vec<String> {
    let mut reasons: Vec<(String, Vec<u32>)> = Vec::new();
    for (page, why) in pages {
        match reasons.iter_mut().find(|reason| reason.0 == why) {
            Some((_, pages)) => pages.push(page),
            None => reasons.push((why, vec![page])),
        }
    }
    let others = reasons.split_off(reasons.len().min(REASONS));
    let mut lines: Vec<String> =
        reasons.iter().map(|(why, pages)| format!("{}: {why}", named(pages))).collect();
    let mut left: Vec<u32> = others.into_iter().flat_map(|(_, pages)| pages).collect();
    left.sort_unstable();
    if !left.is_empty() {
        lines.push(format!("{}: likewise, for other reasons", named(&left)));
    }
    lines
}

/// Names pages in rising order, those that follow each other by the first and the last.
fn named(pages: &[u32]) -> String {
    let runs: Vec<String> = pages
        .chunk_by(|one, next| one + 1 == *next)
        .map(|run| match run {
            [first, .., last] => format!("{first}–{last}"),
            [only] => only.to_string(),
            [] => String::new(),
        })
        .collect();
    let word = if pages.len() == 1 { "page" } else { "pages" };
    format!("{word} {}", runs.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_told(pages: &[(u32, &str)], expected: &[&str]) {
        let pages = pages.iter().map(|(page, why)| (*page, (*why).to_owned()));
        assert_eq!(told(pages), expected);
    }

    #[test]
    fn pages_are_named_by_reason() {
        check_told(&[], &[]);
        check_told(&[(7, "torn")], &["page 7: torn"]);
        let pages = [(2, "torn"), (3, "wet"), (4, "torn"), (5, "torn"), (6, "torn")];
        check_told(&pages, &["pages 2, 4–6: torn", "page 3: wet"]);
    }

    #[test]
    fn every_page_is_named_however_many_reasons_there_are() {
        let whys: Vec<String> = (1..=10).map(|page| format!("reason {page}")).collect();
        let pages: Vec<(u32, &str)> = (1..).zip(whys.iter().map(String::as_str)).collect();
        let told = told(pages.iter().map(|(page, why)| (*page, (*why).to_owned())));
        assert_eq!(told.len(), REASONS + 1);
        assert_eq!(told[REASONS], "pages 9–10: likewise, for other reasons");
    }
}
