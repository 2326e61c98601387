//! The first words of a line come in; the label that they may start with goes out: `1a.`, `5(1).`, `bb.`, `–`.
//!
//! Only what helps to part lines into blocks is told; keys are read elsewhere.

use std::sync::LazyLock;

use regex::Regex;

/// A label that a lead or entry may start with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Label {
    /// A number, with or without letter and primes.
    Number(u32),
    /// A letter, doubled or not.
    Letter(char),
    /// A dash, plus or bullet.
    Sign,
}

static LABEL: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(
        r#"(?x)^(?:
            \(?(?<number>\d{1,4})(?:[a-z]?['′’"”*]*(?:\s?\(\d{1,4}[a-z]?['′’]*\))?[.:)] | [a-z] | ['′’"”*]+)
          | (?<letter>[A-Za-z]{1,3})['′’*]*[.)]
          | [–—+•*-]
        )(?:\s|$)"#,
    )
    .expect("the pattern is fixed and valid")
});

/// Returns the label at the start of a text, if there is one.
pub(super) fn of(text: &str) -> Option<Label> {
    if !may_start(text) {
        return None;
    }
    let found = LABEL.captures(text)?;
    if let Some(number) = found.name("number") {
        return number.as_str().parse().ok().map(Label::Number);
    }
    let Some(letters) = found.name("letter") else { return Some(Label::Sign) };
    let mut letters = letters.as_str().chars();
    let first = letters.next()?;
    letters.all(|letter| letter == first).then_some(Label::Letter(first))
}

/// Tells whether it is worth asking the pattern: most texts begin with a word.
fn may_start(text: &str) -> bool {
    let letters = text.bytes().take_while(u8::is_ascii_alphabetic).count();
    match text.as_bytes().get(letters) {
        Some(next) if letters > 0 => letters <= 3 && !next.is_ascii_alphanumeric() && *next != b' ',
        Some(_) => true,
        None => false,
    }
}

/// Tells whether the second label is that of the couplet below the first one.
pub(super) fn follows(first: Option<Label>, second: Option<Label>) -> bool {
    match (first, second) {
        (Some(Label::Number(first)), Some(Label::Number(second))) => second == first + 1,
        (Some(Label::Letter(first)), Some(Label::Letter(second))) => second as u32 == first as u32 + 1,
        (Some(Label::Number(_) | Label::Letter(_) | Label::Sign) | None, _) => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_label(text: &str, expected: Option<Label>) {
        assert_eq!(of(text), expected, "{text}");
    }

    #[test]
    fn numbers_letters_and_signs_label_leads() {
        check_label("1. Leaves opposite", Some(Label::Number(1)));
        check_label("12a Leaves opposite", Some(Label::Number(12)));
        check_label("3'. Leaves opposite", Some(Label::Number(3)));
        check_label("5(1). Leaves opposite", Some(Label::Number(5)));
        check_label("(7) Leaves opposite", Some(Label::Number(7)));
        check_label("bb. Leaves opposite", Some(Label::Letter('b')));
        check_label("– Leaves opposite", Some(Label::Sign));
    }

    #[test]
    fn measures_and_words_are_no_labels() {
        check_label("(4.5–)5–75 cm tall", None);
        check_label("3.5–8.5 mm wide", None);
        check_label("2–4 flowers", None);
        check_label("cm. wide", None);
        check_label("12 stamens", None);
    }

    #[test]
    fn the_next_number_or_letter_is_of_the_couplet_below() {
        assert!(follows(of("5. Leaves"), of("6. Leaves")));
        assert!(follows(of("bb. Leaves"), of("c. Leaves")));
        assert!(!follows(of("5. Leaves"), of("3. S. alta")));
    }
}
