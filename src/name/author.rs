//! Authorship after a name: abbreviations, brackets, `ex`, `in`, `&`, particles (ICN Art. 46; N10–N13).

/// Words that stand inside an author's own name.
const PARTICLES: &[&str] = &[
    "de", "du", "da", "des", "la", "le", "van", "von", "der", "den", "ten", "zu", "Du", "De", "Van", "Von",
    "La", "Le",
];

/// What may come next.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Next {
    /// An author, since none came yet or a joining word did.
    Name,
    /// The rest of a name after initials.
    Surname,
    /// A joining word, or the end.
    Joiner,
}

/// Returns how many bytes of `rest` are authorship; 0 when none is there.
///
/// `L.` is the one author of a single letter (common practice); other single letters are initials. Two names stand
/// side by side only when the first is initials or a particle, so that a sentence after the authors is not taken.
pub(super) fn length(rest: &str) -> usize {
    let mut next = Next::Name;
    let (mut good, mut depth, mut at) = (0, 0_i32, 0);
    for word in rest.split_inclusive(char::is_whitespace) {
        let start = at + (word.len() - word.trim_start().len());
        at += word.len();
        let mut bare = word.trim();
        if bare.is_empty() {
            continue;
        }
        if let Some(inner) = bare.strip_prefix('(') {
            if next != Next::Name {
                break;
            }
            depth += 1;
            bare = inner;
        }
        let closes = bare.trim_end_matches([',', ';', ':']).ends_with(')');
        let stops = bare.ends_with([',', ';', ':']);
        let core = bare.trim_end_matches([',', ';', ':', ')']);
        let Some(after) = step(core, next) else { break };
        next = after;
        depth -= i32::from(closes);
        if depth < 0 {
            break;
        }
        if closes {
            next = Next::Name;
        }
        if depth == 0 && (closes || next == Next::Joiner) {
            good = start + word.trim().trim_end_matches([',', ';', ':']).len();
        }
        if stops {
            break;
        }
    }
    good
}

/// Returns authors without the book that they published in: `X in Y` is by X alone (ICN Art. 46.2; N11).
pub(super) fn without_book(authors: &str) -> &str {
    let mut depth = 0_i32;
    for (at, letter) in authors.char_indices() {
        depth += i32::from(letter == '(') - i32::from(letter == ')');
        if depth == 0 && authors[at..].starts_with(" in ") {
            return &authors[..at];
        }
    }
    authors
}

fn step(core: &str, next: Next) -> Option<Next> {
    let capital = core.chars().next().is_some_and(char::is_uppercase);
    match next {
        Next::Name | Next::Surname if PARTICLES.contains(&core) => Some(Next::Surname),
        Next::Name | Next::Surname if capital && is_author(core) => {
            let initials = core != "L."
                && !core.ends_with(".f.")
                && core.split_inclusive('.').all(|part| part.chars().count() == 2 && part.ends_with('.'));
            Some(if initials { Next::Surname } else { Next::Joiner })
        }
        Next::Joiner => match core {
            // Who narrows or widens another's taxon is named behind it (N12).
            "ex" | "et" | "in" | "&" | "emend." => Some(Next::Name),
            "f." | "fil." | "fils" | "bis" | "al." => Some(Next::Joiner),
            other if PARTICLES.contains(&other) => Some(Next::Surname),
            _ => None,
        },
        Next::Name if core == "al." => Some(Next::Joiner),
        Next::Name | Next::Surname => None,
    }
}

fn is_author(core: &str) -> bool {
    core.chars().all(|c| c.is_alphabetic() || matches!(c, '.' | '-' | '‐' | '’' | '\''))
        && core.chars().filter(|c| c.is_alphabetic()).count() <= 20
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_authors(rest: &str, authors: &str) {
        assert_eq!(rest[..length(rest)].trim(), authors);
    }

    #[test]
    fn authors_end_where_other_words_begin() {
        check_authors(" L. Perennial", "L.");
        check_authors(" (L.) Hook. f. ex Benth. & Sm.", "(L.) Hook. f. ex Benth. & Sm.");
        check_authors(" DC. ex Vahl", "DC. ex Vahl");
        check_authors(" (DC.) Tul. & C. Tul.", "(DC.) Tul. & C. Tul.");
        check_authors(" de Lange & Toelken", "de Lange & Toelken");
        check_authors(" with hairs", "");
        check_authors(" Buch.-Ham. ex D.Don", "Buch.-Ham. ex D.Don");
        check_authors(" (Pall.) Lomand [Silene x]", "(Pall.) Lomand");
        check_authors(" (Ait.) Du Mont de Cours.", "(Ait.) Du Mont de Cours.");
        check_authors(" R. A. Graham", "R. A. Graham");
        check_authors(", p. 4.", "");
    }
}
