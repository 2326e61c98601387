//! What a book's licence statement comes to: the printed sentence in, whether it is open out. No advice on law is given.

/// What a book says of its licence.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Licence {
    /// A licence that lets anybody use and pass on the text, or none is needed.
    Open,
    /// Another statement: a reservation of rights, a licence with more conditions.
    Otherwise,
    /// No statement was found.
    NotFound,
}

/// Words of open licences.
const OPEN: &[&str] = &[
    "cc by",
    "cc0",
    "cc 0",
    "creative commons attribution",
    "creative commons zero",
    "public domain",
    "open government licen",
    "free documentation licen",
];
/// Words that close them again.
const CLOSED: &[&str] = &[
    " nc",
    "noncommercial",
    "non commercial",
    " nd",
    "noderiv",
    "no deriv",
    "not in the public domain",
    "all rights reserved",
];

impl Licence {
    /// Judges the printed statement.
    pub fn of(statement: Option<&str>) -> Self {
        let Some(statement) = statement else { return Self::NotFound };
        let words: String = statement
            .to_lowercase()
            .chars()
            .map(|c| if matches!(c, '-' | '‑' | '–') { ' ' } else { c })
            .collect();
        let has = |table: &[&str]| table.iter().any(|part| words.contains(part));
        if has(OPEN) && !has(CLOSED) { Self::Open } else { Self::Otherwise }
    }

    /// Returns the words for it.
    pub fn words(self) -> &'static str {
        match self {
            Self::Open => "stated open",
            Self::Otherwise => "stated otherwise",
            Self::NotFound => "not found",
        }
    }

    /// Returns the words for it with the statement.
    pub fn told(statement: Option<&str>) -> String {
        let words = Self::of(statement).words();
        statement.map_or_else(|| words.to_owned(), |statement| format!("{words}: {statement}"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(statement: Option<&str>, expected: &str) {
        assert_eq!(Licence::told(statement), expected);
    }

    #[test]
    fn a_licence_is_stated_open_or_otherwise_or_not_found() {
        check(None, "not found");
        check(Some("Licensed under CC BY 4.0."), "stated open: Licensed under CC BY 4.0.");
        check(Some("CC0"), "stated open: CC0");
        check(Some("This text is in the public domain."), "stated open: This text is in the public domain.");
        check(Some("© 2019 The Press."), "stated otherwise: © 2019 The Press.");
        check(Some("CC BY-NC-ND 4.0"), "stated otherwise: CC BY-NC-ND 4.0");
        check(
            Some("Creative Commons Attribution-NonCommercial"),
            "stated otherwise: Creative Commons Attribution-NonCommercial",
        );
    }
}
