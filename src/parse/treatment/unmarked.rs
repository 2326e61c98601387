//! Paragraphs of a treatment in, the same without the raised marks that send to notes at the foot out, and joined where
//! they were torn. Exponents stay.

use crate::model::{Style, StyleRun, Text};

/// Characters of the longest mark.
const LONGEST_MARK: usize = 2;

/// Returns the text without the marks of notes.
pub(super) fn unmarked(text: &Text) -> Text {
    let marks = marks(text);
    if marks.is_empty() {
        return text.clone();
    }
    let mut plain = String::with_capacity(text.plain.len());
    let mut from = 0;
    for (start, end) in &marks {
        plain.push_str(&text.plain[from..*start]);
        from = *end;
    }
    plain.push_str(&text.plain[from..]);
    let moved = |byte: u32| {
        let byte = byte as usize;
        let lost: usize = marks.iter().map(|(start, end)| byte.clamp(*start, *end) - start).sum();
        (byte - lost) as u32
    };
    let mut styles: Vec<StyleRun> = Vec::new();
    for run in &text.styles {
        let run = StyleRun { start: moved(run.start), style: run.style };
        if styles.last().is_some_and(|last| last.start == run.start) {
            styles.pop();
        }
        if styles.last().is_none_or(|last| last.style != run.style) {
            styles.push(run);
        }
    }
    Text { plain, styles, pages: text.pages.iter().map(|(at, page)| (moved(*at), *page)).collect() }
}

/// Returns the text behind a byte, without the mark that may stand right there.
pub(super) fn behind(text: &Text, byte: usize) -> Text {
    let mark = text.plain[byte..].char_indices().find(|(at, _)| !text.style_at(byte + at).raised);
    let start = mark.map_or(text.plain.len(), |(at, _)| byte + at);
    unmarked(&text.slice(start..text.plain.len()))
}

/// Returns where marks stand: raised, short, after a stop or a whole word, at the start of no text.
fn marks(text: &Text) -> Vec<(usize, usize)> {
    let raised = text.styles.iter().enumerate().filter(|(_, run)| run.style.raised);
    let spans = raised.map(|(at, run)| {
        let end = text.styles.get(at + 1).map_or(text.plain.len(), |next| next.start as usize);
        let mark = &text.plain[run.start as usize..end];
        (run.start as usize, run.start as usize + mark.trim_end().len())
    });
    spans
        .filter(|(start, end)| *start > 0 && is_mark(&text.plain[..*start], &text.plain[*start..*end]))
        .collect()
}

fn is_mark(before: &str, mark: &str) -> bool {
    let word = before.trim_end().rsplit(' ').next().unwrap_or_default();
    let stopped = word.ends_with(['.', ',', ';', ':', ')', ']', '”', '’']);
    let worded = word.chars().count() > 3 && word.chars().all(|c| c.is_alphabetic() || c == '-');
    let short = (1..=LONGEST_MARK).contains(&mark.trim().chars().count());
    short && (stopped || worded) && !mark.contains(['−', '-', '–', '°', 'º'])
}

/// Joins paragraphs where one ends in the midst of a sentence and the next goes on with it.
pub(super) fn joined(paragraphs: Vec<Text>) -> Vec<Text> {
    let mut done: Vec<Text> = Vec::new();
    for text in paragraphs {
        match done.last_mut() {
            Some(last) if goes_on(&last.plain, &text.plain) => append(last, &text),
            _ => done.push(text),
        }
    }
    done
}

fn goes_on(before: &str, after: &str) -> bool {
    let open = !before.ends_with(['.', ':', '!', '?', ']', '—', '–']) && before.contains(' ');
    let stands_alone = before.chars().count() < LEAST_TORN;
    let first = after.chars().next();
    let digits = after.len() - after.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    let measure = digits > 0 && !after[digits..].starts_with(". ") && !after[digits..].starts_with(')');
    open && !stands_alone && (measure || first.is_some_and(|c| c.is_lowercase() || c == '×' || c == '('))
        || before.ends_with([',', ';']) && first.is_some_and(|c| !c.is_uppercase())
}

/// Characters from which a paragraph may be the first part of one torn apart.
const LEAST_TORN: usize = 60;

fn append(text: &mut Text, next: &Text) {
    text.plain.push(' ');
    let start = text.plain.len() as u32;
    if text.styles.is_empty() && !next.styles.is_empty() {
        text.styles.push(StyleRun { start: 0, style: Style::default() });
    }
    if next.styles.is_empty() && !text.styles.is_empty() {
        text.styles.push(StyleRun { start, style: Style::default() });
    }
    text.styles.extend(next.styles.iter().map(|run| StyleRun { start: run.start + start, style: run.style }));
    text.pages.extend(next.pages.iter().map(|(at, page)| (at + start, *page)));
    text.pages.dedup_by_key(|(_, page)| *page);
    text.plain.push_str(&next.plain);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::parse::compose::compose;
    use crate::parse::fixture;

    #[track_caller]
    fn check_unmarked(drawn: &str, expected: &str) {
        assert_eq!(unmarked(&compose(&fixture::lines(drawn)).text).plain, expected);
    }

    #[test]
    fn marks_of_notes_go_and_exponents_stay() {
        check_unmarked("seeds brown, 3 mm long.^1^ Fl. May.", "seeds brown, 3 mm long. Fl. May.");
        check_unmarked("*Larch.*^C^ *Tamarack*", "Larch. Tamarack");
        check_unmarked("leaves 3 cm^2^ and more", "leaves 3 cm2 and more");
        check_unmarked("^C^ Once placed elsewhere.", "C Once placed elsewhere.");
    }
}
