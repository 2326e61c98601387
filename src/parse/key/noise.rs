//! What text recognition makes of leaders and stops before a target: taken away, so that the name can be read (K18).

use std::borrow::Cow;
use std::sync::LazyLock;

use regex::Regex;

use crate::name;

/// What a scan made of a leader before a genus cut short with its page: `Eee P. abies, p. 8`.
static NOISE: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"^[^,;()]*?\s(\p{Lu}[.,]\s\p{Ll}[\p{Ll}\-]{2,}(?:\s[\p{Ll}.\-]+)*,?\s*pp?\.\s?\d{1,4}\.?)$")
        .expect("a fixed pattern")
});
/// A genus cut short whose stop was read as a comma.
static COMMA: LazyLock<Regex> =
    LazyLock::new(|| Regex::new(r"^(\p{Lu}), (\p{Ll}{3})").expect("a fixed pattern"));
/// A page that is cited.
static PAGE: LazyLock<Regex> = LazyLock::new(|| Regex::new(r"\bpp?\.\s?\d{1,4}\b").expect("a fixed pattern"));

/// Returns the words of a target without what a scan made of a leader, its stops mended.
pub(super) fn without(words: &str) -> Cow<'_, str> {
    let words = words.trim();
    let latin = |found: &str| name::parse(found).is_some_and(|parsed| parsed.end == found.len());
    let name = NOISE.captures(words).and_then(|found| {
        let all = found.get(1)?;
        let before = &words[..all.start()];
        let named = before.split(" or ").any(|part| latin(part.trim()) && part.contains(' '));
        (!named && !PAGE.is_match(before)).then(|| all.as_str())
    });
    mended(name.unwrap_or(words))
}

/// Returns the words with the stop of a genus cut short.
pub(super) fn mended(words: &str) -> Cow<'_, str> {
    COMMA.replace(words, "$1. $2")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_that_a_scan_made_of_dots_are_taken_away() {
        assert_eq!(without("XII 4ooo S. mitis, p. 6."), "S. mitis, p. 6.");
        assert_eq!(without("S, rubra, p. 4."), "S. rubra, p. 4.");
        assert_eq!(without("S. alta or S. mitis, p. 6."), "S. alta or S. mitis, p. 6.");
    }
}
